"""The measuring stick beside every cloth: blocks of walnut and maple in turn, brass at the ends, numbers beside."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import TYPE_CHECKING

from ellwand.lengths import Notation, unit_length
from ellwand_cli.views.palette import BRASS, INK, MAPLE, PAPER, WALNUT
from ellwand_cli.views.pen import Box, fill, frame, rule, write
from ellwand_cli.views.typeset import SMALLEST, text_width

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["THICK", "Stick", "draw_stick"]

THICK = 7.0
_TIP = 5.0
_STEPS = {"in": (1, 2, 3, 6, 12, 18, 36, 72, 144), "cm": (1, 2, 5, 10, 20, 50, 100, 200, 400)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A stick from `start` to `end` inches at `scale` points an inch; its zero end (or `start`) lies at `x`, `y`."""

    x: float
    y: float
    start: float
    end: float
    scale: float
    upright: bool

    def box(self, start: float, end: float) -> Box:
        """The part of it between two marks."""
        length = (end - start) * self.scale
        before = (start - self.start) * self.scale
        if self.upright:
            return Box(self.x, self.y + before, THICK, length)
        return Box(self.x + before, self.y, length, THICK)


def draw_stick(ax: Axes, stick: Stick, notation: Notation) -> None:
    """Draw a measuring stick with ticks, and numbers to its left or below it."""
    unit = float(unit_length(notation.unit))
    block = _step(notation, stick.scale, 8.0) * unit
    marks = _marks(stick, block)
    bounds = [stick.start, *marks, stick.end]
    parts = [(stick.box(low, high), floor(low / block + 1e-6) % 2) for low, high in pairwise(bounds)]
    fill(ax, [part for part, dark in parts if dark], MAPLE)
    fill(ax, [part for part, dark in parts if not dark], WALNUT)
    _draw_ticks(ax, stick, notation)
    frame(ax, [stick.box(stick.start, stick.end)], width=0.5)
    _draw_tips(ax, stick)
    _draw_numbers(ax, stick, notation)


def _step(notation: Notation, scale: float, least: float) -> int:
    """Units from mark to mark so that marks are `least` points apart."""
    unit = float(unit_length(notation.unit)) * scale
    return next((step for step in _STEPS[notation.unit] if step * unit >= least), _STEPS[notation.unit][-1])


def _marks(stick: Stick, step: float) -> list[float]:
    """Multiples of `step` strictly within the stick, inches."""
    first, last = floor(stick.start / step + 1e-6) + 1, ceil(stick.end / step - 1e-6)
    return [number * step for number in range(first, last)]


def _draw_ticks(ax: Axes, stick: Stick, notation: Notation) -> None:
    """Ticks outside the stick, towards the cloth."""
    unit = float(unit_length(notation.unit))
    lines = []
    for step, length in ((_step(notation, stick.scale, 2.2), 1.5), (_step(notation, stick.scale, 16.0), 3.0)):
        for mark in _marks(stick, step * unit):
            at = stick.box(mark, mark)
            if stick.upright:
                lines.append(((at.right, at.y), (at.right + length, at.y)))
            else:
                lines.append(((at.x, at.top), (at.x, at.top + length)))
    rule(ax, lines, width=0.4)


def _draw_tips(ax: Axes, stick: Stick) -> None:
    """Brass caps, each with a nail."""
    tip = _TIP / stick.scale
    caps = [stick.box(stick.start - tip, stick.start), stick.box(stick.end, stick.end + tip)]
    fill(ax, caps, BRASS)
    frame(ax, caps, width=0.5)
    rule(
        ax, [(cap.centre, (cap.centre[0] + 0.01, cap.centre[1])) for cap in caps], colour=PAPER, width=1.6, round_=True
    )


def _draw_numbers(ax: Axes, stick: Stick, notation: Notation) -> None:
    unit = float(unit_length(notation.unit))
    step = _step(notation, stick.scale, 21.0 if stick.upright else 26.0)
    for mark in _marks(stick, step * unit):
        at, text = stick.box(mark, mark), str(round(mark / unit))
        if stick.upright:
            write(ax, (at.x - 2.5, at.y - 0.36 * SMALLEST), text, SMALLEST, ha="right", colour=INK)
        else:
            write(ax, (at.x - text_width(text, SMALLEST) / 2, at.y - 8.0), text, SMALLEST, colour=INK)
