"""Dimensions beside a drawing: a chain of widths between ticks, and a whole length between arrows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from ellwand_cli.views.labels import Label, fitted
from ellwand_cli.views.palette import PAPER, SOFT
from ellwand_cli.views.pen import Box, Point, fill, polygon, rule, write
from ellwand_cli.views.typeset import text_width

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["CHAIN", "Line", "draw_chain", "draw_labels", "draw_whole"]

CHAIN = 24.0  # room that a chain's words take beside it
_SIZE = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A dimension line: upright at `at` from the left, or level at `at` from below; its words stand right or below."""

    at: float
    upright: bool

    def point(self, along: float, aside: float = 0.0) -> Point:
        """The point `along` the line and `aside` from it, on the words' side where positive."""
        return (self.at + aside, along) if self.upright else (along, self.at - aside)


def draw_chain(ax: Axes, line: Line, stops: Sequence[float], words: Sequence[str]) -> None:
    """Ticks at `stops` (rising), and what of `words` fits between them."""
    rule(ax, [(line.point(stops[0]), line.point(stops[-1]))], colour=SOFT, width=0.5)
    rule(ax, [(line.point(stop, -3), line.point(stop, 1.5)) for stop in stops], colour=SOFT, width=0.5)
    for (low, high), text in zip(pairwise(stops), words, strict=True):
        x, y = line.point(low, 1.5) if line.upright else line.point(low, CHAIN)
        room = Box(x, y, CHAIN - 1.5, high - low) if line.upright else Box(x, y, high - low, CHAIN - 1.5)
        label = fitted(room, [(text,)], pad=0.8)
        if label:
            draw_labels(ax, [label], PAPER, SOFT)


def draw_whole(ax: Axes, line: Line, start: float, end: float, words: Sequence[str], witness: float) -> None:
    """An arrow from `start` to `end` with the first of `words` that fits it; lines `witness` long lead to it."""
    rule(ax, [(line.point(stop, 3), line.point(stop, -witness)) for stop in (start, end)], colour=SOFT, width=0.35)
    rule(ax, [(line.point(start), line.point(end))], colour=SOFT, width=0.6)
    for tip, back in ((start, 5.0), (end, -5.0)):
        polygon(ax, [line.point(tip), line.point(tip + back, 1.7), line.point(tip + back, -1.7)], SOFT)
    text = next((text for text in words if text_width(text, _SIZE) <= end - start - 16), words[-1])
    x, y = line.point((start + end) / 2)
    w, h = text_width(text, _SIZE) + 6, 9.0
    fill(ax, [Box(x - h / 2, y - w / 2, h, w) if line.upright else Box(x - w / 2, y - h / 2, w, h)], PAPER, above=True)
    write(ax, (x + 2.9, y) if line.upright else (x, y - 2.9), text, _SIZE, ha="center", upright=line.upright)


def draw_labels(ax: Axes, labels: Sequence[Label], ground: str, colour: str) -> None:
    """Words on grounds that keep patterns and lines away."""
    fill(ax, [label.ground for label in labels], ground, above=True)
    for label in labels:
        x, y = label.ground.centre
        for number, line in enumerate(label.lines):
            drop = label.size * (0.36 + 1.25 * (number - (len(label.lines) - 1) / 2))
            at = (x + drop, y) if label.upright else (x, y - drop)
            write(ax, at, line, label.size, ha="center", upright=label.upright, colour=colour)
