"""How a long cloth is laid out on paper: equal strips drawn once, and the cloth broken in bands.

Inches of cloth, exact. A break is put where it cuts the fewest pieces.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, pairwise

from ellwand.model import Layout, Offcut, Placed

__all__ = ["Band", "Drawn", "Row", "condense", "rows", "split"]

_MOST_DRAWN = 300  # pieces; beyond that equal strips next to each other are drawn once


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """All that lies between two levels no piece crosses; drawn once, it stands for `times` equal ones.

    On the cloth itself, of which strips may be left out, the first of them begins at `first`.
    """

    start: Fraction
    end: Fraction
    first: Fraction
    times: int = 1

    @property
    def ends(self) -> tuple[Fraction, Fraction]:
        """Where the first of them begins and ends on the cloth."""
        return self.first, self.first + self.end - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What is drawn of a layout: `extent` is the length of cloth shown, `rows` its strips, from the squared end."""

    placed: tuple[Placed, ...]
    offcuts: tuple[Offcut, ...]
    extent: Fraction
    rows: tuple[Row, ...]

    @property
    def condensed(self) -> bool:
        """Whether some strips are left out."""
        return any(row.times > 1 for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """One stretch of a cloth between two breaks."""

    start: Fraction
    end: Fraction

    @property
    def along(self) -> Fraction:
        """Its length."""
        return self.end - self.start


def condense(layout: Layout, extent: Fraction) -> Drawn:
    """What to draw of `layout`'s first `extent` inches.

    Up to 300 pieces everything is drawn; beyond that, equal strips that follow each other are drawn once. Cloth with
    an outline or flaws, which lie where they lie, is always drawn in full.
    """
    if len(layout.placed) <= _MOST_DRAWN or layout.cloth.odd:
        return Drawn(placed=layout.placed, offcuts=layout.offcuts, extent=extent, rows=rows(layout.placed, extent))
    return _drawn_once(layout, extent)


def rows(boxes: Sequence[Placed | Offcut], extent: Fraction) -> tuple[Row, ...]:
    """The strips of a cloth: from level to level that no box crosses; bare cloth between them left out."""
    found: list[Row] = []
    start = end = Fraction(0)
    for box in sorted(boxes, key=lambda box: box.y):
        if box.y >= end:
            if end > start:
                found.append(Row(start=start, end=end, first=start))
            start = box.y
        end = max(end, box.y + box.along)
    if end > start:
        found.append(Row(start=start, end=min(end, extent), first=start))
    return tuple(found)


def _drawn_once(layout: Layout, extent: Fraction) -> Drawn:
    boxes: tuple[Placed | Offcut, ...] = (*layout.placed, *layout.offcuts)
    strips = rows(boxes, extent)
    ordered = sorted(boxes, key=lambda box: box.y)
    starts = [box.y for box in ordered]
    contents = [ordered[bisect_left(starts, row.start) : bisect_left(starts, row.end)] for row in strips]
    likes = [tuple(sorted((_moved(box, -row.start) for box in inside), key=repr))
             for row, inside in zip(strips, contents, strict=True)]  # fmt: skip
    placed: list[Placed] = []
    offcuts: list[Offcut] = []
    kept: list[Row] = []
    y = Fraction(0)
    for _, group in groupby(range(len(strips)), key=lambda number: (_height(strips[number]), likes[number])):
        numbers = list(group)
        height = _height(strips[numbers[0]])
        kept.append(Row(start=y, end=y + height, first=strips[numbers[0]].start, times=len(numbers)))
        for box in likes[numbers[0]]:
            moved = _moved(box, y)
            (placed if isinstance(moved, Placed) else offcuts).append(moved)  # type: ignore[arg-type]
        y += height
    return Drawn(placed=tuple(placed), offcuts=tuple(offcuts), extent=y, rows=tuple(kept))


def _height(row: Row) -> Fraction:
    return row.end - row.start


def _moved(box: Placed | Offcut, along: Fraction) -> Placed | Offcut:
    return replace(box, y=box.y + along)


def split(drawn: Drawn, count: int) -> tuple[Band, ...]:
    """`drawn` in `count` bands of about one length, each break moved to where fewest pieces are cut."""
    starts = sorted(box.y for box in drawn.placed)
    ends = sorted(box.y + box.along for box in drawn.placed)
    edges = sorted({*starts, *ends})
    reach = drawn.extent / count / 4

    def loss(y: Fraction, wanted: Fraction) -> tuple[int, Fraction]:
        crossing = bisect_left(starts, y) - bisect_right(ends, y)
        return crossing, abs(y - wanted)

    breaks = [Fraction(0)]
    for number in range(1, count):
        wanted = drawn.extent * number / count
        near = edges[bisect_left(edges, wanted - reach) : bisect_right(edges, wanted + reach)]
        breaks.append(min((wanted, *near), key=lambda y, wanted=wanted: loss(y, wanted)))  # type: ignore[misc]
    breaks.append(drawn.extent)
    return tuple(Band(start=start, end=end) for start, end in pairwise(breaks))
