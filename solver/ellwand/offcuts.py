"""Leftover rectangles of a free layout, found between its pieces."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from ellwand.model import Offcut, Placed

__all__ = ["free_offcuts"]


def free_offcuts(
    across: Fraction, along: Fraction, taken: Sequence[Placed | Offcut], keep: Fraction
) -> tuple[Offcut, ...]:
    """Disjoint rectangles clear of what is taken, both sides at least `keep`: always the largest that is left.

    All largest empty rectangles are kept while what is taken is taken away one by one (the maximal rectangles of
    Jylänki, "A thousand ways to pack the bin", 2010); then the largest of them is an offcut and taken away too.
    """
    cloth = Offcut(x=Fraction(0), y=Fraction(0), across=across, along=along)
    free = _large([cloth], keep)
    for item in taken:
        free = _without(free, item, keep)
    offcuts = []
    while free:
        best = max(free, key=lambda offcut: (offcut.across * offcut.along, -offcut.y, -offcut.x))
        offcuts.append(best)
        free = _without(free, best, keep)
    return tuple(offcuts)


def _without(free: Sequence[Offcut], taken: Placed | Offcut, keep: Fraction) -> list[Offcut]:
    """Largest empty rectangles once `taken` is taken away."""
    untouched = [offcut for offcut in free if not _overlap(offcut, taken)]
    cut = [part for offcut in free if _overlap(offcut, taken) for part in _around(offcut, taken)]
    parts = _large(cut, keep)
    kept = [
        part
        for number, part in enumerate(parts)
        if not any(_inside(part, other) for other in untouched)
        and not any(_inside(part, other) for other in parts[:number])
        and not any(_inside(part, other) and part != other for other in parts[number + 1 :])
    ]
    return untouched + kept


def _around(offcut: Offcut, taken: Placed | Offcut) -> Iterable[Offcut]:
    """The up to four largest parts of `offcut` that `taken` leaves."""
    left, right = taken.x, taken.x + taken.across
    low, high = taken.y, taken.y + taken.along
    end, top = offcut.x + offcut.across, offcut.y + offcut.along
    yield Offcut(x=offcut.x, y=offcut.y, across=left - offcut.x, along=offcut.along)
    yield Offcut(x=right, y=offcut.y, across=end - right, along=offcut.along)
    yield Offcut(x=offcut.x, y=offcut.y, across=offcut.across, along=low - offcut.y)
    yield Offcut(x=offcut.x, y=high, across=offcut.across, along=top - high)


def _large(offcuts: Iterable[Offcut], keep: Fraction) -> list[Offcut]:
    return [offcut for offcut in offcuts if min(offcut.across, offcut.along) >= keep > 0]


def _overlap(one: Offcut, other: Placed | Offcut) -> bool:
    return (
        one.x < other.x + other.across
        and other.x < one.x + one.across
        and one.y < other.y + other.along
        and other.y < one.y + one.along
    )


def _inside(inner: Offcut, outer: Offcut) -> bool:
    return (
        outer.x <= inner.x
        and outer.y <= inner.y
        and inner.x + inner.across <= outer.x + outer.across
        and inner.y + inner.along <= outer.y + outer.along
    )
