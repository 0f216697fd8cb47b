"""The most valuable straight-cut layout of one rectangle: of every size at once, or with limited copies.

*Every size.* A rectangle is an item, or is cut in two, along or across; its value is the best of these. Cuts may
stop at sums of sizes (normal patterns), and a rectangle is worth as much as the largest such one that it holds. All
widths, then all heights are improved by one further stage of cuts, in turns, until nothing changes. Copies are not
limited, so that values are at least those with limited copies.

*Limited copies.* Rectangles of items are joined beside and on each other, the most promising first. One promises its
own value and the most that the rest of the sheet could hold, were copies not limited. Once nothing promises more
than the best that is known, that is the best.

References
----------
Gilmore and Gomory (1966), The theory and computation of knapsack functions; Herz (1972) and Beasley (1985),
Algorithms for unconstrained two-dimensional guillotine cutting (normal patterns). Viswanathan and Bagchi (1993),
Best-first search methods for constrained two-dimensional cutting stock problems.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import count

import numpy as np
from numpy.typing import NDArray

from ellwand.packing.problem import Item, Place

__all__ = ["Values", "best_limited", "best_values"]

_Floats = NDArray[np.float64]
_Ints = NDArray[np.int64]
_Shape = tuple[int, int, int, bool]  # item, width, height, turned


@dataclass(frozen=True, slots=True, kw_only=True)
class Values:
    """The most value of every rectangle up to a size: `value[i, j]` is that of `widths[i]` by `heights[j]`."""

    widths: _Ints
    heights: _Ints
    value: _Floats
    shapes: tuple[_Shape, ...]
    worth: tuple[float, ...]  # of each item

    def best(self, w: int, h: int) -> float:
        """The most value that a rectangle of this size holds."""
        return float(self.value[_index(self.widths, w), _index(self.heights, h)])

    def places(self, w: int, h: int) -> tuple[Place, ...]:
        """A layout of that value, on stock number 0."""
        return tuple(self._lay(_index(self.widths, w), _index(self.heights, h), 0, 0))

    def _lay(self, i: int, j: int, x: int, y: int) -> Iterator[Place]:
        """Take the value apart again: a smaller rectangle of equal value, an item, or the cut that made it."""
        value = self.value[i, j]
        if not value:
            return
        while self.value[i - 1, j] == value:
            i -= 1
        while self.value[i, j - 1] == value:
            j -= 1
        for item, w, h, turned in self.shapes:
            if w <= self.widths[i] and h <= self.heights[j] and self.worth[item] == value:
                yield Place(item=item, stock=0, x=x, y=y, turned=turned)
                return
        k = _cut_at(self.value[:, j], self.widths, i)
        if k:
            yield from self._lay(k, j, x, y)
            yield from self._lay(_rest(self.widths, i, k), j, x + int(self.widths[k]), y)
            return
        k = _cut_at(self.value[i], self.heights, j)
        yield from self._lay(i, k, x, y)
        yield from self._lay(i, _rest(self.heights, j, k), x, y + int(self.heights[k]))


def _cut_at(value: _Floats, sizes: _Ints, i: int) -> int:
    """Number of the size at which a cut of size number `i` makes its value; 0 if none does."""
    return next((k for k in range(1, i) if value[k] + value[_rest(sizes, i, k)] == value[i]), 0)


def _rest(sizes: _Ints, i: int, k: int) -> int:
    """Number of what is left of size number `i` when number `k` is cut off."""
    return _index(sizes, int(sizes[i] - sizes[k]))


def best_values(items: Sequence[Item], worth: Sequence[float], w: int, h: int) -> Values:
    """Value every rectangle up to `w` by `h` by what straight cuts, in any number of stages, can free from it.

    Parameters
    ----------
    items
        Their `demand` does not limit how often they are used, unless it is 0.
    worth
        What a copy of each is worth; those not above 0 are left out.
    w, h
        The largest rectangle; time grows with the number of sums of sizes up to these, w² h + w h².

    Examples
    --------
    >>> items = [Item(w=2, h=3, demand=1, turnable=False), Item(w=4, h=1, demand=1, turnable=False)]
    >>> values = best_values(items, [5, 3], 5, 4)
    >>> values.best(5, 4), values.best(4, 3)
    (13.0, 10.0)
    """
    shapes = tuple(shape for shape in _shapes(items) if worth[shape[0]] > 0 and shape[1] <= w and shape[2] <= h)
    widths, heights = _sums([shape[1] for shape in shapes], w), _sums([shape[2] for shape in shapes], h)
    value = np.zeros((len(widths), len(heights)))
    for item, item_w, item_h, _ in shapes:
        corner = value[np.searchsorted(widths, item_w) :, np.searchsorted(heights, item_h) :]
        np.maximum(corner, worth[item], out=corner)
    changed = True
    while changed:
        changed = _cut(value, widths)
        changed = _cut(value.T, heights) or changed
    return Values(widths=widths, heights=heights, value=value, shapes=shapes, worth=tuple(map(float, worth)))


def _cut(value: _Floats, sizes: _Ints) -> bool:
    """Better the rows of `value`, for rectangles of these sizes, by cuts between them; whether any got better."""
    changed = False
    for i in range(2, len(sizes)):
        half = int(np.searchsorted(sizes, sizes[i] // 2, side="right"))
        rests = np.searchsorted(sizes, sizes[i] - sizes[1:half], side="right") - 1
        if half > 1:
            best = (value[1:half] + value[rests]).max(axis=0)
            if (best > value[i]).any():
                changed = True
                np.maximum(value[i], best, out=value[i])
        np.maximum(value[i], value[i - 1], out=value[i])
    return changed


def _sums(sizes: Iterable[int], top: int) -> _Ints:
    """Every sum of the sizes, each as often as one likes, up to `top`."""
    within = (2 << top) - 1
    reached = 1
    for size in set(sizes):
        step = size
        while step <= top:
            reached |= reached << step & within
            step *= 2
    return np.array([total for total in range(top + 1) if reached >> total & 1], dtype=np.int64)


def _index(sizes: _Ints, size: int) -> int:
    """Number of the largest of `sizes` up to `size`."""
    return int(np.searchsorted(sizes, size, side="right")) - 1


def _shapes(items: Sequence[Item]) -> Iterator[_Shape]:
    for number, item in enumerate(items):
        if item.demand:
            yield number, item.w, item.h, False
            if item.turnable and item.w != item.h:
                yield number, item.h, item.w, True


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """Items in a rectangle of this size: how many of each, and what they are worth."""

    w: int
    h: int
    counts: tuple[int, ...]
    value: float
    places: tuple[Place, ...]


def best_limited(items: Sequence[Item], worth: Sequence[float], w: int, h: int) -> tuple[float, tuple[Place, ...]]:
    """Find the most valuable straight-cut layout of one sheet, each item at most `demand` times.

    Any number of stages. It is exact, and so for sheets that hold some dozen items at most.

    Returns
    -------
    tuple of float and places
        The value, and a layout on stock number 0.

    Examples
    --------
    >>> items = [Item(w=2, h=3, demand=1, turnable=False), Item(w=4, h=1, demand=1, turnable=False)]
    >>> best_limited(items, [5, 3], 5, 4)[0]
    8.0
    """
    values = best_values(items, worth, w, h)
    further = _further(values)
    best = _Part(0, 0, (0,) * len(items), 0.0, ())
    tickets, queue, done = count(), list[tuple[float, int, _Part]](), list[_Part]()
    seen: set[tuple[int, int, tuple[int, ...]]] = set()

    def note(parts: Iterable[_Part]) -> None:
        for part in parts:
            key = (part.w, part.h, part.counts)
            if part.w <= w and part.h <= h and key not in seen and _is_within(part, items):
                seen.add(key)
                promise = part.value + further[_index(values.widths, part.w), _index(values.heights, part.h)]
                heappush(queue, (-promise, next(tickets), part))

    note(_single(items, worth, shape) for shape in values.shapes)
    while queue and -queue[0][0] > best.value:
        part = heappop(queue)[2]
        best = max(best, part, key=lambda part: part.value)
        done.append(part)
        for other in done:
            note((_joined(part, other, beside=True), _joined(part, other, beside=False)))
    return float(best.value), best.places


def _further(values: Values) -> _Floats:
    """The most that can be laid beside and on a rectangle of each size, without limit, in all that there is."""
    widths, heights, value = values.widths, values.heights, values.value
    most = np.zeros_like(value)
    for i in reversed(range(len(widths))):
        for j in reversed(range(len(heights))):
            beside = value[[_rest(widths, k, i) for k in range(i + 1, len(widths))], j] + most[i + 1 :, j]
            above = value[i, [_rest(heights, k, j) for k in range(j + 1, len(heights))]] + most[i, j + 1 :]
            most[i, j] = max(beside.max(initial=0), above.max(initial=0))
    return most


def _single(items: Sequence[Item], worth: Sequence[float], shape: _Shape) -> _Part:
    item, w, h, turned = shape
    counts = tuple(int(number == item) for number in range(len(items)))
    return _Part(w, h, counts, worth[item], (Place(item=item, stock=0, x=0, y=0, turned=turned),))


def _is_within(part: _Part, items: Sequence[Item]) -> bool:
    return all(used <= item.demand for used, item in zip(part.counts, items, strict=True))


def _joined(one: _Part, other: _Part, *, beside: bool) -> _Part:
    """`other` to the right of `one`, or on it."""
    x, y = (one.w, 0) if beside else (0, one.h)
    return _Part(
        w=max(one.w, x + other.w),
        h=max(one.h, y + other.h),
        counts=tuple(a + b for a, b in zip(one.counts, other.counts, strict=True)),
        value=one.value + other.value,
        places=one.places + tuple(replace(place, x=place.x + x, y=place.y + y) for place in other.places),
    )
