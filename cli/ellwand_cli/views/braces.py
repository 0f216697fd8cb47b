"""The strips a cloth is cut into first, braced beside it or below: the step that cuts each off, and its width."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from ellwand.lengths import Notation
from ellwand_cli.views.arrange import Arrangement, Sides
from ellwand_cli.views.bands import Band
from ellwand_cli.views.cutlist import StripMark
from ellwand_cli.views.labels import Label, fitted, write_label
from ellwand_cli.views.palette import SOFT
from ellwand_cli.views.pen import Box, Segment, rule

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["Marks", "draw_braces"]

Marks = Mapping[tuple[Fraction, Fraction], StripMark]
_BESIDE, _BELOW = 23.0, 33.0  # from the cloth's right edge, and from its lower edge
_ROOM = 30.0  # what the words beside a brace take
_DEEP = 22.0  # what the words below one take


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """A strip between two points of a brace, or `count` equal ones that follow each other and share their words."""

    low: float
    high: float
    tag: str
    size: str
    count: int = 1

    @property
    def words(self) -> list[tuple[str, ...]]:
        """What may be written of it."""
        size = f"{self.count} × {self.size}" if self.count > 1 else self.size
        if not self.tag:
            return [(size,)]
        # a number alone would be taken for a width, and how often a strip comes is told nowhere else
        short = self.tag if self.tag[-1].isalpha() and "×" not in size else size
        return [(self.tag, size), (f"{self.tag}: {size}",), (short,)]


def draw_braces(ax: Axes, arrangement: Arrangement, band: Band, sides: Sides, notation: Notation, marks: Marks) -> None:
    """Beside a band the strips across it; below the first band those along it, where these are cut first."""
    if not arrangement.edges.lengthwise:
        _draw_beside(ax, arrangement, band, sides, notation, marks)
    elif arrangement.first(band):
        _draw_below(ax, arrangement, sides, notation, marks)


def _draw_beside(
    ax: Axes, arrangement: Arrangement, band: Band, sides: Sides, notation: Notation, marks: Marks
) -> None:
    x, scale = sides.cloth_right + _BESIDE, arrangement.scale
    strips = []
    for row in arrangement.drawn.rows:
        low, high = max(row.start, band.start), min(row.end, band.end)
        if low < high:
            height = notation.bare(row.end - row.start)
            strip = _Strip(
                low=sides.start + float(low - band.start) * scale,
                high=sides.start + float(high - band.start) * scale,
                tag=marks[row.ends].tag if row.ends in marks else "",
                size=f"{row.times} × {height}" if row.times > 1 else height,
            )
            strips.append(strip)
    lines: list[Segment] = [((x - 3, y), (x + 1.5, y)) for strip in strips for y in (strip.low, strip.high)]
    rule(ax, [*lines, *(((x, strip.low), (x, strip.high)) for strip in strips)], colour=SOFT, width=0.5)
    for strip in _shared(strips, x + 1.5):
        _write(ax, strip, _box(strip, x + 1.5))


def _box(strip: _Strip, x: float) -> Box:
    return Box(x, strip.low, _ROOM, strip.high - strip.low)


def _shared(strips: Iterable[_Strip], x: float) -> list[_Strip]:
    """`strips` with the words of those gathered that are equal, follow each other, and are too low for all theirs."""
    found: list[_Strip] = []
    for strip in strips:
        last = found[-1] if found else None
        if last and _goes_with(last, strip) and not _tells_all(strip, x):
            found[-1] = replace(last, high=strip.high, count=last.count + 1)
        else:
            found.append(strip)
    return found


def _goes_with(last: _Strip, strip: _Strip) -> bool:
    return (last.tag, last.size) == (strip.tag, strip.size) and "×" not in strip.size and strip.low - last.high < 0.01


def _tells_all(strip: _Strip, x: float) -> bool:
    """Whether its step and its width have room beside it."""
    label = _label(strip, _box(strip, x))
    return label is not None and label.lines != strip.words[-1]


def _label(strip: _Strip, box: Box) -> Label | None:
    *full, short = strip.words
    return fitted(box, full, pad=0.8) or fitted(box, [short], pad=0.8)


def _draw_below(ax: Axes, arrangement: Arrangement, sides: Sides, notation: Notation, marks: Marks) -> None:
    y, scale = sides.low - _BELOW, arrangement.scale
    lines: list[Segment] = []
    for (left, right), mark in sorted(marks.items(), key=lambda item: item[0]):
        low, high = (sides.left + float(end) * scale for end in (left, right))
        lines += [((x, y + 3), (x, y - 1.5)) for x in (low, high)] + [((low, y), (high, y))]
        strip = _Strip(low=low, high=high, tag=mark.tag, size=notation.bare(right - left))
        _write(ax, strip, Box(low, y - 1.5 - _DEEP, high - low, _DEEP))
    rule(ax, lines, colour=SOFT, width=0.5)


def _write(ax: Axes, strip: _Strip, box: Box) -> None:
    label = _label(strip, box)
    if label:
        write_label(ax, label, SOFT)
