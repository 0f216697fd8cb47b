"""Free layouts: skyline best fit in many orders, and CP-SAT where the pieces are few.

The skyline is the upper edge of what is laid. Again and again its lowest, leftmost step is filled: by a rectangle
that fits it best (just as wide, then level with a wall beside it), among equals by the first in an order of priority.
A hill climb changes the order: two rectangles swap places, and the new order stays unless it is worse.

References
----------
Burke, Kendall and Whitwell (2004), A new placement heuristic for the orthogonal stock-cutting problem; Wei, Oon, Zhu
and Lim (2011), A skyline heuristic for the 2D rectangular packing and strip packing problems (scores, swaps).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from ellwand.packing.bits import UpTo, as_long, first
from ellwand.packing.blocks import search_blocks
from ellwand.packing.freeexact import improve_free
from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Effort, Packing, Place, Problem, Progress, Stock, Watch
from ellwand.packing.reduce import Grid, reduce

__all__ = ["pack_free"]

STEPS = {Effort.QUICK: 60_000, Effort.CAREFUL: 300_000, Effort.PROOF: 2_000_000}  # rectangles laid
SET_UP = 20  # an order costs as much before its first rectangle is laid as laying so many
MOST_LOTS = 400  # equal items are split in lots so that they need not follow each other
ENDLESS = 1 << 62  # height of the wall at a stock's edge
SOON = 16  # items up to which CP-SAT mostly ends its search, so that it comes before blocks
PATIENCE = 300  # orders without success before the climb starts again elsewhere


@dataclass(frozen=True, slots=True)
class _Lot:
    """Equal items lying one way; the same lot turned is another, with the same `number`."""

    number: int
    item: int
    count: int
    w: int
    h: int
    turned: bool


@dataclass(slots=True)
class _Skyline:
    """Steps from left to right: where each begins, how wide and how high it is."""

    x: list[int]
    w: list[int]
    y: list[int]

    def lay(self, at: int, w: int, h: int, right: bool) -> int:
        """Lay w x h on step `at`, at its right or left end; returns its x."""
        rest = self.w[at] - w
        x = self.x[at] + rest * right
        if rest:
            low = at if right else at + 1
            self.x.insert(low, self.x[at] if right else x + w)
            self.w.insert(low, rest)
            self.y.insert(low, self.y[at])
            at = at + 1 if right else at
        self.x[at], self.w[at], self.y[at] = x, w, self.y[at] + h
        self.join(at)
        return x

    def join(self, at: int) -> None:
        """Make one step of step `at` and its neighbours of the same height."""
        for left in (at, at - 1):
            if 0 <= left < len(self.y) - 1 and self.y[left] == self.y[left + 1]:
                self.w[left] += self.w[left + 1]
                del self.x[left + 1], self.w[left + 1], self.y[left + 1]

    def walls(self, at: int) -> tuple[int, int]:
        """How much higher the steps left and right of step `at` are; the stock's edges are endless."""
        y = self.y[at]
        left = self.y[at - 1] - y if at else ENDLESS
        right = self.y[at + 1] - y if at + 1 < len(self.y) else ENDLESS
        return left, right


class _Order:
    """Lots in an order of priority, with the sets of them that answer the skyline's questions."""

    def __init__(self, lots: Sequence[_Lot]) -> None:
        self.lots = lots
        w, h = np.array([lot.w for lot in lots]), np.array([lot.h for lot in lots])
        self.up_to_w, self.up_to_h, self.as_wide, self.as_high = UpTo(w), UpTo(h), as_long(w), as_long(h)
        self.same: dict[int, int] = {}
        for bit, lot in enumerate(lots):
            self.same[lot.number] = self.same.get(lot.number, 0) | 1 << bit

    def best(self, fits: int, gap: int, walls: tuple[int, int]) -> int:
        """The lot that fits a gap best: as wide as it, then level with a wall, then first in order."""
        pool = fits & self.as_wide.get(gap, 0) or fits
        left, right = walls
        return first(pool & self.as_high.get(left, 0) or pool & self.as_high.get(right, 0) or pool)


@dataclass(slots=True)
class _Rest:
    """What is still to lay: items in each lot, and the set of lots that are not empty."""

    counts: list[int]
    lots: int


def _fill(order: _Order, rest: _Rest, stock: int, size: Stock) -> tuple[list[Place], int]:
    """Fill one stock as far as it goes; the places, and the height reached."""
    line, places, height = _Skyline(x=[0], w=[size.w], y=[0]), [], 0
    while rest.lots:
        y = min(line.y)
        at = line.y.index(y)
        walls = line.walls(at)
        fits = rest.lots & order.up_to_w[line.w[at]]
        if size.h is not None:
            fits &= order.up_to_h[size.h - y]
        if not fits:
            if min(walls) == ENDLESS:
                break
            line.y[at] += min(walls)
            line.join(at)
            continue
        lot = order.lots[order.best(fits, line.w[at], walls)]
        to_right = lot.h != walls[0] and (lot.h == walls[1] or walls[1] > walls[0])
        places.append(Place(item=lot.item, stock=stock, x=line.lay(at, lot.w, lot.h, to_right), y=y, turned=lot.turned))
        height = max(height, y + lot.h)
        rest.counts[lot.number] -= 1
        if not rest.counts[lot.number]:
            rest.lots &= ~order.same[lot.number]
    return places, height


def _lay(problem: Problem, lots: Sequence[_Lot]) -> Packing:
    """Fill the sheets as they come, then the open stock, by one order of the lots."""
    order = _Order(lots)
    counts = [0] * len(order.same)
    for lot in lots:
        counts[lot.number] = lot.count
    rest, places, height = _Rest(counts=counts, lots=(1 << len(lots)) - 1), [], 0
    for stock, size in enumerate(problem.stocks):
        laid, height = _fill(order, rest, stock, size)
        places += laid
    return Packing(places=tuple(places), length=height)


def _lots(problem: Problem) -> list[_Lot]:
    """Split each item's demand so that there are at most about `MOST_LOTS` lots, each lying both ways if it may."""
    size = -(-sum(item.demand for item in problem.items) // MOST_LOTS)
    lots: list[_Lot] = []
    number = 0
    for place, item in enumerate(problem.items):
        for start in range(0, item.demand, size):
            count = min(size, item.demand - start)
            lots.append(_Lot(number, place, count, item.w, item.h, False))
            if item.turnable and item.w != item.h:
                lots.append(_Lot(number, place, count, item.h, item.w, True))
            number += 1
    return lots


def _orders(lots: Sequence[_Lot]) -> list[list[_Lot]]:
    """Falling by width, height, area, half the girth, longer side."""
    return [
        sorted(lots, key=lambda lot: (-lot.w, -lot.h)),
        sorted(lots, key=lambda lot: (-lot.h, -lot.w)),
        sorted(lots, key=lambda lot: (-lot.w * lot.h, -lot.w)),
        sorted(lots, key=lambda lot: (-lot.w - lot.h, -lot.w)),
        sorted(lots, key=lambda lot: (-max(lot.w, lot.h), -lot.w)),
    ]


def _skyline(problem: Problem, bound: int, steps: int, seed: int, halt: Halt) -> Packing:
    """Sort in several ways, then climb by swaps from the best of them."""
    pieces = sum(item.demand for item in problem.items)
    tried = [(_lay(problem, order), order) for order in _orders(_lots(problem))]
    best = min((packing for packing, _ in tried), key=lambda packing: packing.length)
    starts = sorted(tried, key=lambda pair: pair[0].length)
    random, calm, climbs = Random(seed), 0, 0
    now, order = starts[0]
    for _ in range(steps // (pieces + len(order) // 4 + SET_UP) - len(tried)):
        if best.length <= bound or halt.now:
            break
        i, j = random.randrange(len(order)), random.randrange(len(order))
        other = list(order)
        other[i], other[j] = other[j], other[i]
        packing = _lay(problem, other)
        calm = calm + 1 if packing.length >= now.length else 0
        if packing.length <= now.length:
            now, order = packing, other
            best = min(best, packing, key=lambda packing: packing.length)
        if calm == PATIENCE:
            climbs += 1
            calm, (now, order) = 0, starts[climbs % len(starts)]
    return best


def pack_free(
    problem: Problem,
    incumbent: Packing | None = None,
    *,
    bound: int,
    effort: Effort,
    seed: int = 0,
    watch: Watch | None = None,
    halt: Halt = NEVER,
) -> tuple[Packing, bool]:
    """Lay out a problem freely.

    Skyline first; then straight cuts, which are free layouts too and sometimes win, and CP-SAT if the items are few;
    if very few, in the other order.

    Parameters
    ----------
    problem
        Any; that it asks for a guillotine is not heeded.
    incumbent
        A packing to beat, returned where none is shorter.
    bound
        No packing is shorter; the search ends when it is met.
    effort
        How much work is done. Equal input, effort and seed give an equal packing.
    seed
        Of the changes of order, and of CP-SAT.
    watch
        Told of the length after each method.
    halt
        Ends the search early.

    Returns
    -------
    tuple of Packing and bool
        The best packing, and whether CP-SAT came to its end, or the bound was met: then no free layout is shorter.
    """
    small, grid = reduce(problem)
    least = -(-bound // grid.y)
    known = None if incumbent is None else _coarse(incumbent, grid)
    best = _skyline(small, least, STEPS[effort], seed, halt)
    if known is not None and known.length <= best.length:
        best = known

    settled = best.length <= least
    for name in ("skyline", "exact", "blocks") if problem.pieces <= SOON else ("skyline", "blocks", "exact"):
        if name == "blocks" and not settled:
            best = search_blocks(small, best, bound=least, effort=effort, seed=seed, halt=halt)
        if name == "exact":
            best, settled = improve_free(small, best, bound=least, effort=effort, seed=seed, halt=halt)
        if watch:
            watch(Progress(length=best.length * grid.y, bound=bound, method=name))
    settled = settled or best.length <= least
    return incumbent if incumbent is not None and best is known else grid.restore(best), settled


def _coarse(packing: Packing, grid: Grid) -> Packing:
    """A packing on the coarser grid, as a hint: where its places are between two lines, they move to the lower."""
    places = tuple(replace(place, x=place.x // grid.x, y=place.y // grid.y) for place in packing.places)
    return Packing(places=places, length=-(-packing.length // grid.y))
