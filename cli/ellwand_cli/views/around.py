"""The frame of a drawing of the whole quilt: heading, sticks, dimensions and key round something to scale."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING

from ellwand.lengths import Notation
from ellwand.model import Pair
from ellwand.quilt.faces import Face
from ellwand_cli.views.key import Entry, draw_key, key_height
from ellwand_cli.views.palette import BRASS, SOFT
from ellwand_cli.views.pen import Box, Point, blank_figure, fill, write
from ellwand_cli.views.spans import CHAIN, Line, draw_chain, draw_whole
from ellwand_cli.views.stick import THICK, Stick, draw_stick
from ellwand_cli.views.typeset import printable, shorten

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["Heading", "Sheet", "draw_round", "draw_sheet_key", "sheet_figure", "sheet_in"]

_WIDTH, _MARGIN, _TITLE = 600.0, 14.0, 46.0
_LEFT, _RIGHT, _LOW, _HIGH = 32.0, 88.0, 78.0, 17.0  # what stands round a sheet: sticks, numbers, dimensions
_TALLEST = 640.0
_BEFORE_KEY = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What stands above a drawing, and is told of it: the project's name, a title, facts."""

    project: str
    title: str
    facts: str


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """Something of `size` inches, across × down, drawn with its middle at `middle` at `scale` points an inch."""

    size: Pair
    scale: float
    middle: Point

    @cached_property
    def box(self) -> Box:
        """Where it lies on paper."""
        w, h = (float(side) * self.scale for side in self.size)
        return Box(self.middle[0] - w / 2, self.middle[1] - h / 2, w, h)

    def on_paper(self, x: Fraction, y: Fraction) -> Point:
        """A point counted from the middle."""
        return self.middle[0] + float(x) * self.scale, self.middle[1] + float(y) * self.scale

    def room(self, face: Face) -> Box:
        """The rectangle of `face` to write in."""
        x, y, w, h = face.room
        return Box(*self.on_paper(x, y), float(w) * self.scale, float(h) * self.scale)


def _scale(size: Pair, w: float, h: float) -> float:
    """Points an inch at which `size` and all that stands round it go into `w` × `h`."""
    return min((w - _LEFT - _RIGHT) / float(size[0]), (h - _LOW - _HIGH) / float(size[1]))


def sheet_figure(heading: Heading, size: Pair, entries: tuple[Entry, ...], draw: Callable[[Box, Axes], None]) -> Figure:
    """A figure for something of `size` with a key of `entries`, as high as it needs; `draw` is given the box below."""
    inner = _WIDTH - 2 * _MARGIN
    drawing = float(size[1]) * _scale(size, inner, _TALLEST) + _LOW + _HIGH
    height = drawing + key_height(entries, inner) + _BEFORE_KEY + _TITLE + 2 * _MARGIN
    label = f"{printable(heading.project)}: {printable(heading.title)}\n{printable(heading.facts)}"
    figure, ax = blank_figure(_WIDTH, height, label)
    box = Box(_MARGIN, _MARGIN, inner, height - 2 * _MARGIN)
    write(ax, (box.x, box.top - 13), shorten(printable(heading.title), box.w, 13.0, bold=True), 13.0, bold=True)
    facts = f"{printable(heading.facts)}  ·  {printable(heading.project)}"
    write(ax, (box.x, box.top - 28), shorten(facts, box.w, 8.5), 8.5, colour=SOFT)
    fill(ax, [Box(box.x, box.top - 36, 54, 1.6)], BRASS)
    draw(Box(box.x, box.y, box.w, box.h - _TITLE), ax)
    return figure


def sheet_in(box: Box, size: Pair, entries: tuple[Entry, ...]) -> Sheet:
    """Something of `size` as large as it goes at the top of `box`, with room round it and for the key below."""
    scale = _scale(size, box.w, box.h - key_height(entries, box.w) - _BEFORE_KEY)
    middle = box.x + _LEFT + (box.w - _LEFT - _RIGHT) / 2, box.top - _HIGH - float(size[1]) * scale / 2
    return Sheet(size=size, scale=scale, middle=middle)


def draw_sheet_key(ax: Axes, sheet: Sheet, entries: tuple[Entry, ...], box: Box) -> None:
    """The key below what stands round `sheet`, as wide as `box`."""
    height = key_height(entries, box.w)
    draw_key(ax, entries, Box(box.x, sheet.box.y - _LOW - height, box.w, height))


def draw_round(
    ax: Axes, sheet: Sheet, across: Sequence[Fraction], down: Sequence[Fraction], word: str, notation: Notation
) -> None:
    """Sticks at the left and below, the chains of widths `across` and `down`, and the whole with a `word` for it."""
    box = sheet.box
    level, upright = (float(side) for side in sheet.size)
    for stick in (
        Stick(x=box.x, y=box.y - 6 - THICK, start=0.0, end=level, scale=sheet.scale, upright=False),
        Stick(x=box.x - 6 - THICK, y=box.y, start=0.0, end=upright, scale=sheet.scale, upright=True),
    ):
        draw_stick(ax, stick, notation)
    for bits, line, whole, start in (
        (across, Line(at=box.y - 32, upright=False), Line(at=box.y - 64, upright=False), box.x),
        (down, Line(at=box.right + 34, upright=True), Line(at=box.right + 68, upright=True), box.y),
    ):
        stops = list(accumulate((float(bit) * sheet.scale for bit in bits), initial=start))
        draw_chain(ax, line, stops, [notation.bare(bit) for bit in bits])
        shown = notation.show(sum(bits, Fraction(0)))
        draw_whole(ax, whole, stops[0], stops[-1], [f"{word} {shown}", shown], CHAIN + 8)
