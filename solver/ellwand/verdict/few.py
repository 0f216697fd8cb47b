"""Looking through all layouts of a few pieces once more, by the document alone.

*Straight cuts.* Two sets of pieces lie beside or on each other; the smallest rectangles that hold both follow from
those that hold each. Of the rectangles of a set only those are kept that hold no other. With three stages the sets
grow level by level: a stack of one width, stacks beside each other, such rows on each other, which may be the one
zone of a row, and these on each other.

*Free.* Pieces are laid one after the other into corners: against the edge or pieces laid before, on the left and
below. Every layout that is pushed there comes about so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from itertools import combinations, product

__all__ = ["MOST_PIECES", "Sheet", "hold"]

MOST_PIECES = 5
_Set = frozenset[int]
_Sizes = frozenset[tuple[int, int]]  # across and along
_Box = tuple[int, int, int, int]  # left, low, right, high
Ways = Sequence[tuple[int, int]]  # in which a piece may lie
Sheet = tuple[int, int, bool]  # across, along, and whether its first cuts may run along it as well


def hold(pieces: Sequence[Ways], sheets: Iterable[Sheet], *, rotary: bool, stages: int | None) -> bool:
    """Whether all pieces, at most `MOST_PIECES`, can be laid on the sheets, each sheet used once."""
    straight = _unlimited if stages is None else _limited
    fits = straight(pieces) if rotary else _loose(pieces)
    left = {frozenset(range(len(pieces)))}
    for across, along, either in sheets:
        for some in list(left):
            for part in _parts(some):
                if some - part not in left and fits(part, across, along, either):
                    left.add(some - part)
    return frozenset() in left


_Fits = Callable[[_Set, int, int, bool], bool]


def _parts(some: _Set) -> Iterator[_Set]:
    """Every part of a set that is not empty; all of it as well."""
    for size in range(1, len(some) + 1):
        yield from map(frozenset, combinations(sorted(some), size))


def _smallest(sizes: Iterable[tuple[int, int]]) -> _Sizes:
    kept: list[tuple[int, int]] = []
    for across, along in sorted(sizes):
        if not kept or along < kept[-1][1]:
            kept.append((across, along))
    return frozenset(kept)


def _beside(one: _Sizes, other: _Sizes) -> Iterator[tuple[int, int]]:
    return ((a + c, max(b, d)) for (a, b), (c, d) in product(one, other))


def _turned(sizes: _Sizes) -> _Sizes:
    return frozenset((b, a) for a, b in sizes)


def _above(one: _Sizes, other: _Sizes) -> Iterator[tuple[int, int]]:
    return ((max(a, c), b + d) for (a, b), (c, d) in product(one, other))


def _unlimited(pieces: Sequence[Ways]) -> _Fits:
    """Straight cuts in any number of stages."""

    @cache
    def sizes(some: _Set) -> _Sizes:
        found = set(pieces[min(some)]) if len(some) == 1 else set()
        for part in _parts(some):
            if min(some) in part and part != some:
                found.update(_beside(sizes(part), sizes(some - part)))
                found.update(_above(sizes(part), sizes(some - part)))
        return _smallest(found)

    return lambda some, across, along, _: any(a <= across and b <= along for a, b in sizes(some))


def _limited(pieces: Sequence[Ways]) -> _Fits:
    """Straight cuts in three stages, one zone a strip."""
    upright = _strips(pieces)
    lying = _strips([[(b, a) for a, b in ways] for ways in pieces])

    def fits(some: _Set, across: int, along: int, either: bool) -> bool:
        sizes = upright(some) | (_turned(lying(some)) if either else frozenset())
        return any(a <= across and b <= along for a, b in sizes)

    return fits


def _strips(pieces: Sequence[Ways]) -> Callable[[_Set], _Sizes]:
    """The smallest rectangles of strips across that hold a set."""

    @cache
    def stacks(some: _Set) -> _Sizes:
        widths = {a for a, _ in pieces[min(some)]}
        for n in some:
            widths &= {a for a, _ in pieces[n]}
        return frozenset((width, sum(min(b for a, b in pieces[n] if a == width) for n in some)) for width in widths)

    def build(first: Callable[[_Set], _Sizes], further: Callable[[_Set], _Sizes], some: _Set, join: _Join) -> _Sizes:
        found = set(first(some))
        for part in _parts(some):
            if part != some:
                found.update(join(first(part), further(some - part)))
        return _smallest(found)

    rows = cache(lambda some: build(stacks, rows, some, _beside))
    zones = cache(lambda some: build(rows, zones, some, _above))
    zoned = cache(lambda some: _smallest(rows(some) | build(zones, rows, some, _beside)))
    strips = cache(lambda some: build(zoned, strips, some, _above))
    return strips


_Join = Callable[[_Sizes, _Sizes], Iterator[tuple[int, int]]]


def _loose(pieces: Sequence[Ways]) -> _Fits:
    """Any layout."""

    @cache
    def fits(some: _Set, across: int, along: int, _: bool) -> bool:
        area = sum(pieces[n][0][0] * pieces[n][0][1] for n in some)
        return area <= across * along and _lay(pieces, some, (across, along), frozenset(), set())

    return fits


def _lay(pieces: Sequence[Ways], left: _Set, end: tuple[int, int], laid: frozenset[_Box], tried: set[object]) -> bool:
    """Whether the pieces that are left have room beside the boxes that are laid."""
    if not left:
        return True
    if (left, laid) in tried:
        return False
    tried.add((left, laid))
    rights, tops = ({0, *(box[side] for box in laid)} for side in (2, 3))
    for n in left:
        for (w, h), x, y in product(pieces[n], rights, tops):
            box = (x, y, x + w, y + h)
            free = all(x >= c or a >= box[2] or y >= d or b >= box[3] for a, b, c, d in laid)
            inside = box[2] <= end[0] and box[3] <= end[1]
            if free and inside and _lay(pieces, left - {n}, end, laid | {box}, tried):
                return True
    return False
