"""Lower bounds on the open stock's length, valid for every layout, guillotine or not.

All of them refute lengths. Suppose that a layout takes at most L of the open stock; then everything fits into
finite stocks, the open one L long. Three theorems speak about those.

*Normal patterns.* Push every item down and to the left as far as it goes. Then each x is a sum of widths and each y
a sum of heights, of items in the same stock, as they lie. So a stock's sides may be shortened to the longest such
sums that they hold, and the least length is itself a sum of heights (a multiple of their common divisor, too).

*Bars.* A horizontal line through a stock of width w meets items whose widths together are at most w. Give each width
s a weight u(s) >= 0 and let V(w) be the most weight that fits side by side (a bounded knapsack). Summed over all lines
of all stocks: sum of u(width) * height over the items <= sum of V(w) * height over the stocks. Weights that break
this refute L. With u(s) = s it says that areas add up. The best weights are the duals of a linear programme, the
one-dimensional cutting-stock problem of the widths; they are found by column generation, in floats, rounded to
integers, and the inequality is then worked out exactly, so that no rounding can make a false proof. Vertical lines
likewise.

*Longest item.* An item that fits no finite stock lies in the open one.

*Blocked parts.* What lies round them lies in the whole rectangle too, so all of this holds without them. Besides, a
rectangle s long on a line weighs u(s)/s times its area, so items in a stock weigh at most the largest such share times
the area that is not blocked. The lesser of the two counts.

References
----------
Herz (1972), Recursive computational procedure for two-dimensional stock cutting; Christofides and Whitlock (1977), An
algorithm for two-dimensional cutting problems (normal patterns). Gilmore and Gomory (1961), A linear programming
approach to the cutting-stock problem (column generation). Scheithauer (1999), LP-based bounds for the container and
multi-container loading problem (bars).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import gcd

from ellwand.packing.bars import Bars, Pattern, Rack, best_weights, longest_sum, shortest_sum
from ellwand.packing.problem import Bound, Item, Problem, Weights

__all__ = ["lower_bound"]

ACROSS, ALONG = "across", "along"
_NOTHING = "no item needs the open stock for sure"
_LONGEST = "an item that fits no sheet is this long"
_AREA = "the items' area fills this length"
_BARS = {
    ACROSS: "side by side, the widths of the items fill no shorter stock",
    ALONG: "end to end, the lengths of the items fill no shorter stock",
}
_WORK = 200_000  # steps of one knapsack along, beyond which that bound is not tried


def lower_bound(problem: Problem) -> Bound:
    """Prove a length of the open stock below which no layout of `problem` exists.

    Parameters
    ----------
    problem
        Any problem; what `guillotine` and `stages` say does not matter.

    Returns
    -------
    Bound
        The best of longest item, area, bars across and bars along; its weights refute every shorter length.

    Examples
    --------
    >>> from ellwand.packing.problem import Stock
    >>> squares = Item(w=76, h=76, demand=63, turnable=True)
    >>> problem = Problem(items=(squares,), stocks=(Stock(w=336, h=None),), guillotine=False, stages=None)
    >>> lower_bound(problem).length
    1216
    """
    case = _Case(problem)
    bound = _longest(case)
    widths = {w: w for shapes in case.shapes for w, _ in shapes}
    bound = _raised(case, bound, widths, _AREA)
    bound = _bars_across(case, bound)
    return _bars_along(case, bound)


@dataclass(frozen=True, slots=True)
class _Kind:
    """`count` equal stocks, their sides shortened to sums of sizes; `shapes` (item, w, h) fit them.

    `free` is the area of each that is not blocked, None where nothing is.
    """

    w: int
    h: int
    count: int
    shapes: tuple[tuple[int, int, int], ...]
    free: int | None = None

    def flipped(self) -> _Kind:
        """The same with width and height swapped."""
        shapes = tuple((item, h, w) for item, w, h in self.shapes)
        return replace(self, w=self.h, h=self.w, shapes=shapes)


class _Case:
    """A problem made ready: the shapes in which each item may lie, and the sheets by kind."""

    def __init__(self, problem: Problem) -> None:
        *sheets, open_stock = problem.stocks
        self.items = tuple(item for item in problem.items if item.demand)
        self.width = open_stock.w
        self.shapes = tuple(_ways_to_lie(item) for item in self.items)
        kinds = Counter((sheet.w, sheet.h or 0, sheet.free) for sheet in sheets)
        self.sheets = tuple(self._kind(w, h, count, free) for (w, h, free), count in kinds.items())

    def _kind(self, w: int, h: int, count: int, free: int | None = None) -> _Kind:
        fitting = [
            (number, *shape)
            for number, shapes in enumerate(self.shapes)
            for shape in shapes
            if shape[0] <= w and shape[1] <= h
        ]
        return _Kind(
            w=longest_sum(self._copies((number, x) for number, x, _ in fitting), w),
            h=longest_sum(self._copies((number, y) for number, _, y in fitting), h),
            count=count,
            shapes=tuple(fitting),
            free=free,
        )

    def _copies(self, sizes: Iterable[tuple[int, int]]) -> dict[int, int]:
        """How often each size can occur, from pairs (item, size)."""
        copies: dict[int, int] = {}
        for number, size in sizes:
            copies[size] = copies.get(size, 0) + self.items[number].demand
        return copies

    @cached_property
    def heights(self) -> dict[int, int]:
        """Heights that can lie in the open stock, and how often."""
        shapes = ((number, shape) for number, shapes in enumerate(self.shapes) for shape in shapes)
        return self._copies((number, h) for number, (w, h) in shapes if w <= self.width)

    def normal(self, length: int) -> int:
        """The least sum of heights that is at least `length`."""
        return shortest_sum(self.heights, length)

    def bars(self, axis: str, length: int) -> Bars:
        """The bars, were the open stock `length` long."""
        kinds: tuple[_Kind, ...] = (*self.sheets, self._kind(self.width, length, 1))
        if axis == ALONG:
            kinds = tuple(kind.flipped() for kind in kinds)
        sizes = tuple(sorted({w for kind in kinds for _, w, _ in kind.shapes}))
        ways: list[set[tuple[int, int]]] = [set() for _ in self.items]
        for kind in kinds:
            for number, w, h in kind.shapes:
                ways[number].add((w, h * self.items[number].demand))
        return Bars(
            sizes=sizes,
            racks=tuple(self._rack(kind, sizes) for kind in kinds),
            claims=tuple(tuple(sorted(claims)) for claims in ways),
        )

    def _rack(self, kind: _Kind, sizes: tuple[int, ...]) -> Rack:
        copies = self._copies((number, w) for number, w, _ in kind.shapes)
        fitting = tuple(min(copies.get(size, 0), kind.w // size) for size in sizes)
        area = None if kind.free is None else kind.free * kind.count
        return Rack(capacity=kind.w, span=kind.h * kind.count, copies=fitting, area=area)


def _ways_to_lie(item: Item) -> tuple[tuple[int, int], ...]:
    upright = (item.w, item.h)
    return (upright, upright[::-1]) if item.turnable and item.w != item.h else (upright,)


def _longest(case: _Case) -> Bound:
    """The longest item that fits no sheet, laid as flat as the open stock's width allows."""
    held = {number for kind in case.sheets for number, _, _ in kind.shapes}
    least = [
        min(h for w, h in shapes if w <= case.width) for number, shapes in enumerate(case.shapes) if number not in held
    ]
    return Bound(length=max(least), theorem=_LONGEST) if least else Bound(length=0, theorem=_NOTHING)


def _raised(case: _Case, bound: Bound, weights: Mapping[int, int], theorem: str) -> Bound:
    """`bound`, or the least length that `weights` of sizes across leave possible, if that is longer.

    load <= sheets + V * L holds for the true L, as long as no item can stand in the open stock that cannot at
    the bound's length: so go on from where one can.
    """
    bars = case.bars(ACROSS, bound.length)
    load, room = bars.load(weights), bars.room(weights)
    if load <= room:
        return bound
    open_rack = bars.racks[-1]
    most = bars.most(open_rack, weights)
    sheets = room - most * open_rack.span
    reach = [-(-(load - sheets) // most)] if most else []
    taller = [h for h in case.heights if h > bound.length]
    longer = Bound(length=case.normal(min(reach + taller)), theorem=theorem, weights=_listed(ACROSS, weights))
    return _raised(case, longer, weights, theorem)


def _bars_across(case: _Case, bound: Bound) -> Bound:
    """The best bound of bars across: weights that are best at the length proved so far, again and again."""
    known: dict[Pattern, None] = {}
    while True:
        weights = best_weights(case.bars(ACROSS, bound.length), known)
        longer = _raised(case, bound, weights, _BARS[ACROSS])
        if longer.length == bound.length:
            return bound
        bound = longer


def _bars_along(case: _Case, bound: Bound) -> Bound:
    """The best bound of bars along: double the step while lengths are refuted, then bisect."""
    known: dict[Pattern, None] = {}
    top, step = bound.length, gcd(*case.heights)
    while longer := _refuted_along(case, top, known):
        bound = longer
        top, step = bound.length + step, step * 2
    while bound.length < top:
        middle = (bound.length + top) // 2
        longer = _refuted_along(case, middle, known)
        if longer:
            bound = longer
        else:
            top = middle
    return bound


def _refuted_along(case: _Case, length: int, known: dict[Pattern, None]) -> Bound | None:
    """A bound above `length`, where bars along refute it."""
    bars = case.bars(ALONG, length)
    if sum(rack.work(bars.sizes) for rack in bars.racks) > _WORK:
        return None
    weights = best_weights(bars, known)
    if bars.load(weights) <= bars.room(weights):
        return None
    return Bound(length=case.normal(length + 1), theorem=_BARS[ALONG], weights=_listed(ALONG, weights))


def _listed(axis: str, weights: Mapping[int, int]) -> Weights:
    return Weights(axis=axis, value=tuple(sorted((size, weight) for size, weight in weights.items() if weight)))
