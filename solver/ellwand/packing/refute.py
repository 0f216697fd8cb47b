"""The judge's own look through all layouts of a few items: whether some of them is shorter than said.

It shares no code with what finds layouts, and goes another way.

*Straight cuts.* The least height of a set of items within a width, by recursion over what the cuts part; a cut along
may stop at sums of widths (normal patterns).

*Free.* Items are laid one after the other, each against the edge or items laid before, to its left and below it.
Every layout pushed to the lower left comes about so: what an item rests on can be laid before it, as disjoint
rectangles can be taken away one by one along a slanted line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import product
from math import inf

from ellwand.packing.problem import Item, Problem, Scope

__all__ = ["MOST_REFUTED", "exists_shorter"]

MOST_REFUTED = 5  # items
_Set = tuple[int, ...]  # numbers of items, rising
_Ways = tuple[tuple[int, int], ...]  # in which an item may lie: width, height
_Fits = Callable[[_Set, int, int], bool]  # whether items fit a width and a height


def exists_shorter(problem: Problem, length: int) -> bool:
    """Whether a layout of the problem's scope, of at most `MOST_REFUTED` items, takes less than `length`.

    Examples
    --------
    >>> from ellwand.packing.problem import Stock
    >>> items = (Item(w=3, h=1, demand=2, turnable=True), Item(w=2, h=2, demand=1, turnable=False))
    >>> problem = Problem(items=items, stocks=(Stock(w=4, h=None),), guillotine=True, stages=3)
    >>> exists_shorter(problem, 4), exists_shorter(problem, 3)
    (True, False)
    """
    items = [_ways(item) for item in problem.items for _ in range(item.demand)]
    across = _FITS[problem.scope](items)
    along = _FITS[problem.scope]([tuple((h, w) for w, h in ways) for ways in items])
    wanted: set[_Set] = {tuple(range(len(items)))}  # what earlier stocks may leave
    for stock in problem.stocks:
        w, h = stock.w, length - 1 if stock.h is None else stock.h
        both = stock.h is not None and stock.either_way
        for left in list(wanted):
            for part, rest in _splits(left):
                if rest not in wanted and (across(part, w, h) or (both and along(part, h, w))):
                    wanted.add(rest)
    return () in wanted


def _ways(item: Item) -> _Ways:
    return tuple({(item.w, item.h), (item.h, item.w)}) if item.turnable else ((item.w, item.h),)


def _splits(items: _Set) -> Iterator[tuple[_Set, _Set]]:
    """Every part of a set, but for none of it, and the rest."""
    for chosen in product((True, False), repeat=len(items)):
        part = tuple(n for n, taken in zip(items, chosen, strict=True) if taken)
        if part:
            yield part, tuple(n for n in items if n not in part)


def _sums(items: Sequence[_Ways], part: _Set, below: int) -> set[int]:
    """Sums of widths of some of the items that are less than `below`."""
    sums = {0}
    for n in part:
        sums |= {total + w for total in sums for w, _ in items[n]}
    return {total for total in sums if 0 < total < below}


def _any_stages(items: Sequence[_Ways]) -> _Fits:
    """Straight cuts, however deep: the first one parts the items in two."""

    @cache
    def least(some: _Set, width: int) -> float:
        if len(some) == 1:
            return min((h for w, h in items[some[0]] if w <= width), default=inf)
        best = inf
        for part, rest in _splits(some):
            if rest and some[0] in part:
                best = min(best, least(part, width) + least(rest, width))
                for x in _sums(items, part, width):
                    best = min(best, max(least(part, x), least(rest, width - x)))
        return best

    return lambda some, width, height: least(some, width) <= height


def _three_stages(items: Sequence[_Ways]) -> _Fits:
    """Bands, columns and stacks; one column of a band may be a zone, in which there is none."""

    @cache
    def bands(some: _Set, width: int, zone: bool) -> float:
        band = zoned if zone else row
        rests = [(part, rest) for part, rest in _splits(some) if some[0] in part]
        return min(band(part, width) + (bands(rest, width, zone) if rest else 0) for part, rest in rests)

    @cache
    def zoned(some: _Set, width: int) -> float:
        best = min(row(some, width), bands(some, width, False))
        for part, rest in _splits(some):
            for x in _sums(items, part, width) if rest else ():
                best = min(best, max(bands(part, x, False), row(rest, width - x)))
        return best

    @cache
    def row(some: _Set, width: int) -> float:
        best = inf
        for part, rest in _splits(some):
            if some[0] in part:
                for x, height in stacks(part):
                    beside = row(rest, width - x) if rest and x < width else 0 if not rest and x <= width else inf
                    best = min(best, max(height, beside))
        return best

    @cache
    def stacks(some: _Set) -> list[tuple[int, int]]:
        common = set.intersection(*({w for w, _ in items[n]} for n in some))
        return [(x, sum(min(h for w, h in items[n] if w == x) for n in some)) for x in common]

    return lambda some, width, height: bands(some, width, True) <= height


def _free(items: Sequence[_Ways]) -> _Fits:
    """Any layout."""

    @cache
    def fits(some: _Set, width: int, height: int) -> bool:
        area = sum(items[n][0][0] * items[n][0][1] for n in some)
        return area <= width * height and _Corners(width, height).lay(frozenset(), tuple(items[n] for n in some))

    return fits


_Rectangle = tuple[int, int, int, int]  # left, low, right, high


@dataclass(slots=True)
class _Corners:
    """Rectangles laid into corners of those that lie; what was tried is not tried again."""

    width: int
    height: int
    tried: set[tuple[frozenset[_Rectangle], tuple[_Ways, ...]]] = field(default_factory=set)

    def lay(self, laid: frozenset[_Rectangle], left: tuple[_Ways, ...]) -> bool:
        """Whether the items that are left have room beside what is laid."""
        if not left:
            return True
        if (laid, left) in self.tried:
            return False
        self.tried.add((laid, left))
        for number, ways in enumerate(left):
            rest = left[:number] + left[number + 1 :]
            if any(self.lay(laid | {box}, rest) for box in self._spots(laid, ways)):
                return True
        return False

    def _spots(self, laid: frozenset[_Rectangle], ways: _Ways) -> Iterator[_Rectangle]:
        rights = {0, *(right for _, _, right, _ in laid)}
        tops = {0, *(high for *_, high in laid)}
        for (w, h), x, y in product(ways, rights, tops):
            inside = x + w <= self.width and y + h <= self.height
            if inside and all(
                x >= right or left >= x + w or y >= high or low >= y + h for left, low, right, high in laid
            ):
                yield x, y, x + w, y + h


_FITS: dict[Scope, Callable[[Sequence[_Ways]], _Fits]] = {
    Scope.FREE: _free,
    Scope.GUILLOTINE: _any_stages,
    Scope.THREE_STAGES: _three_stages,
}
