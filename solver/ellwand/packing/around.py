"""Free layouts round blocked parts and in phase: each item as low as it goes, then as far left, in many orders.

A stock is kept as bands of rows in which the same columns are taken, a bit for each column. So a slanted edge costs
no more than its steps, and an item fits wherever enough bits beside each other are free in all bands it crosses. A
hill climb changes the order: two lots swap places, and the new order stays unless it is worse.

References
----------
Baker, Coffman and Rivest (1980), Orthogonal packings in two dimensions (bottom-left); Chazelle (1983), The
bottom-left bin-packing heuristic: an efficient implementation (the lowest place among holes).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from random import Random

from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Effort, Item, Packing, Phase, Place, Problem, Stock

__all__ = ["fill_around", "joined", "rest_of"]

WORK = {Effort.QUICK: 60_000, Effort.CAREFUL: 1_500_000, Effort.PROOF: 10_000_000}  # bands looked at
SET_UP = 2  # bands that could be looked at instead of moving on to another lot
MOST_LOTS = 200  # equal items are split in lots so that they need not follow each other

_Way = tuple[int, int, bool]  # w, h, turned


class _Sheet:
    """A stock and what is taken of it."""

    def __init__(self, stock: Stock) -> None:
        self.all = (1 << stock.w) - 1
        self.starts, self.taken = [0], [0]  # where each band begins, and the bits of its taken columns
        self.looks = 0
        if stock.h is not None:
            self._split(stock.h)
            self.taken[-1] = self.all
        for x, y, w, h in stock.blocked:
            self.take(x, y, w, h)

    def take(self, x: int, y: int, w: int, h: int) -> None:
        """Let nothing else lie in a rectangle."""
        for band in range(self._split(y), self._split(y + h)):
            self.taken[band] |= ((1 << w) - 1) << x

    def lowest(self, w: int, h: int, least: int, item: Item) -> tuple[int, int] | None:
        """The lowest y from `least` up, and there the leftmost x, where an item fits as w x h.

        It either lies at `least`, or on something: at the start of a band, or as soon above it as its phase allows.
        """
        columns = self.all if item.phase_x is None else _columns(item.phase_x, self.all)
        last = -1
        for start in [least, *self.starts[bisect_left(self.starts, least + 1) :]]:
            y = start if item.phase_y is None else item.phase_y.next(start)
            if y == last:
                continue
            last = y
            x = self._leftmost(w, y, y + h, columns)
            if x is not None:
                return x, y
        return None

    def _leftmost(self, w: int, low: int, high: int, columns: int) -> int | None:
        """The least x among `columns` where `w` columns beside each other are free in all rows from `low` to `high`."""
        first, last = bisect_left(self.starts, low + 1) - 1, bisect_left(self.starts, high)
        self.looks += last - first
        taken = 0
        for band in range(first, last):
            taken |= self.taken[band]
        free, wide = self.all & ~taken, 1
        while free and wide < w:  # bit x: so many columns from x on are free
            step = min(wide, w - wide)
            free &= free >> step
            wide += step
        free &= columns
        return (free & -free).bit_length() - 1 if free else None

    def _split(self, y: int) -> int:
        """The number of the band that begins at `y`, made so if need be."""
        band = bisect_left(self.starts, y)
        if band == len(self.starts) or self.starts[band] != y:
            self.starts.insert(band, y)
            self.taken.insert(band, self.taken[band - 1])
        return band


@lru_cache(maxsize=256)
def _columns(phase: Phase, every: int) -> int:
    """Those of `every` column at which an item may begin, as bits."""
    columns, x = 0, phase.next(0)
    while every >> x:
        columns |= 1 << x
        x = phase.next(x + 1)
    return columns


@dataclass(slots=True)
class _Filling:
    """One order laid: the places, the area in sheets, the length of the open stock, and the bands looked at."""

    places: list[Place] = field(default_factory=list)
    area: int = 0
    length: int = 0
    looks: int = 0

    @property
    def rank(self) -> tuple[int, int]:
        """Shortest first, then the most in sheets."""
        return self.length, -self.area


def _ways(item: Item) -> tuple[_Way, ...]:
    upright = (item.w, item.h, False)
    return (upright, (item.h, item.w, True)) if item.turnable and item.w != item.h else (upright,)


def _fill(problem: Problem, numbers: Sequence[int], order: Sequence[tuple[int, int]]) -> _Filling:
    """Lay lots (item, count) one after the other, each item in the first of the stocks that has room for it."""
    filling = _Filling()
    sheets = [(number, problem.stocks[number], _Sheet(problem.stocks[number])) for number in numbers]
    known: dict[tuple[int, Item, _Way], int] = {}  # below that y there is no room, and there will be none
    for item, count in order:
        left = count
        for number, stock, sheet in sheets:
            for x, y, (w, h, turned) in _laid(sheet, number, problem.items[item], left, known):
                filling.places.append(Place(item=item, stock=number, x=x, y=y, turned=turned))
                left -= 1
                if stock.h is None:
                    filling.length = max(filling.length, y + h)
                else:
                    filling.area += w * h
    filling.looks = sum(sheet.looks for *_, sheet in sheets)
    return filling


def _laid(
    sheet: _Sheet, number: int, item: Item, count: int, known: dict[tuple[int, Item, _Way], int]
) -> Iterator[tuple[int, int, _Way]]:
    """Lay up to `count` of an item in a sheet, each the way round that ends lowest."""
    for _ in range(count):
        spots = []
        for way in _ways(item):
            spot = sheet.lowest(way[0], way[1], known.get((number, item, way), 0), item)
            known[number, item, way] = spot[1] if spot else sheet.starts[-1]
            if spot:
                spots.append((spot[1] + way[1], *spot, way))
        if not spots:
            return
        _, x, y, way = min(spots)
        sheet.take(x, y, way[0], way[1])
        yield x, y, way


def _orders(problem: Problem) -> list[list[tuple[int, int]]]:
    """Lots by falling area, longer side, height and width."""
    size = -(-problem.pieces // MOST_LOTS)
    lots = [
        (number, min(size, item.demand - start))
        for number, item in enumerate(problem.items)
        for start in range(0, item.demand, size)
    ]
    items = problem.items
    return [
        sorted(lots, key=lambda lot: -items[lot[0]].w * items[lot[0]].h),
        sorted(lots, key=lambda lot: (-max(items[lot[0]].w, items[lot[0]].h), lot[0])),
        sorted(lots, key=lambda lot: (-items[lot[0]].h, lot[0])),
        sorted(lots, key=lambda lot: (-items[lot[0]].w, lot[0])),
    ]


def fill_around(
    problem: Problem, stocks: Sequence[int], *, least: int, effort: Effort, seed: int, halt: Halt = NEVER
) -> Packing:
    """Fill some stocks freely, round what is blocked.

    Parameters
    ----------
    problem
        Any; only places as whole numbers of its cells are looked at.
    stocks
        Numbers of those to fill, one after the other. With the open stock among them all items are placed; else as
        much area of them as is found to fit.
    least
        No packing of the open stock is shorter; the search ends when it is met and nothing is left over.
    effort
        How much work is done. Equal input, effort and seed give an equal packing.
    seed
        Of the changes of order.
    halt
        Ends the search early; four orders are tried whatever it says.
    """
    tried = [(_fill(problem, stocks, order), order) for order in _orders(problem)]
    now, order = min(tried, key=lambda pair: pair[0].rank)
    work = WORK[effort] - sum(filling.looks for filling, _ in tried)
    work *= len(set(order)) > 1  # to swap equal lots changes nothing
    random = Random(seed)
    while work > 0 and not halt.now and not (len(now.places) == problem.pieces and now.length <= least):
        i, j = random.randrange(len(order)), random.randrange(len(order))
        other = list(order)
        other[i], other[j] = other[j], other[i]
        filling = _fill(problem, stocks, other)
        work -= filling.looks + SET_UP * len(other)
        if filling.rank <= now.rank:
            now, order = filling, other
    return Packing(places=tuple(now.places), length=now.length)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Numbers:
    """Which item and stock of a whole problem those of a part of it are."""

    items: tuple[int, ...]
    stocks: tuple[int, ...]


def rest_of(problem: Problem, packing: Packing) -> tuple[Problem, _Numbers]:
    """What `packing` leaves to be laid, in the stocks without blocked parts; for `joined`, what was what."""
    left = [item.demand for item in problem.items]
    for place in packing.places:
        left[place.item] -= 1
    items = tuple(number for number, count in enumerate(left) if count)
    stocks = tuple(number for number, stock in enumerate(problem.stocks) if stock.free is None)
    rest = replace(
        problem,
        items=tuple(replace(problem.items[number], demand=left[number]) for number in items),
        stocks=tuple(problem.stocks[number] for number in stocks),
    )
    return rest, _Numbers(items=items, stocks=stocks)


def joined(packing: Packing, rest: Packing, numbers: _Numbers) -> Packing:
    """Both packings as one of the whole problem."""
    places = tuple(
        replace(place, item=numbers.items[place.item], stock=numbers.stocks[place.stock]) for place in rest.places
    )
    return Packing(places=packing.places + places, length=rest.length)
