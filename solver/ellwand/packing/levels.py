"""Column generation over bands, and layouts by rounding its fractions one after another.

The master chooses how often each band is used in each room, least length of the open stock first; its
prices ask for new bands (`price_bands`) until none would help. Gilmore & Gomory 1965; diving as in Sadykov et al. 2019.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

import numpy as np

from ellwand.packing.bands import Budget, Table, band_heights, price_bands
from ellwand.packing.greedy import Filled, Room, Shop, fill_rooms
from ellwand.packing.linear import linear_solver
from ellwand.packing.patterns import Band, Run, Stack, counts_of, within

__all__ = ["ALMOST", "Column", "Master", "dive"]

ENTER = 3  # columns a room gets from one pricing, at least
ALMOST = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A band in room number `room`, and how many of each item all copies of the room get by it."""

    room: int
    band: Band
    counts: tuple[int, ...]


@dataclass(slots=True)
class _Bands:
    """The bands of one table, cut down to the demand; rooms of one width share them."""

    table: Table
    share: list[int]
    budget: Budget
    known: dict[tuple[int, int], tuple[Band, list[int]]] = field(default_factory=dict)

    def get(self, row: int, width: int) -> tuple[Band, list[int]]:
        """The band of a height and a width, and how many of each item it holds."""
        if (row, width) not in self.known:
            band = within(self.table.band(row, width), list(self.share))
            self.known[row, width] = band, counts_of([Run(band=band, count=1)], len(self.share))
            self.budget.spend(2)
        return self.known[row, width]


@dataclass(slots=True)
class Master:
    """The linear programme: bands in rooms cover the demand and keep to the rooms' lengths."""

    shop: Shop
    rooms: tuple[Room, ...]
    demand: list[int]
    columns: list[Column] = field(default_factory=list)
    seen: set[tuple[int, Band]] = field(default_factory=set)
    solver: Any = None
    rows: list[Any] = field(default_factory=list)
    variables: list[Any] = field(default_factory=list)
    prices: list[float] = field(default_factory=list)
    ends: list[float] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.solver = linear_solver()
        top = self.solver.infinity()
        self.rows = [self.solver.Constraint(count, top) for count in self.demand]
        self.rows += [self.solver.Constraint(-top if room.along is None else -room.along, top) for room in self.rooms]
        self.solver.Objective().SetMinimization()
        self._enter_singles()

    def _enter_singles(self) -> None:
        """One kind of item side by side, for each room: enough to cover the demand."""
        for number, room in enumerate(self.rooms):
            for shape in self.shop.lying(room):
                fit = room.across // shape.w
                share = self.demand[shape.item] // room.copies
                if fit and share and (room.along is None or shape.h <= room.along):
                    stack = Stack(parts=((shape, 1),))
                    self.add(number, Band(h=shape.h, stacks=(stack,) * min(fit, share)))

    def add(self, number: int, band: Band) -> bool:
        """Enter a band for a room, unless it is there."""
        if (number, band) in self.seen:
            return False
        self.seen.add((number, band))
        self.shop.budget.spend(2)
        copies, kinds = self.rooms[number].copies, len(self.demand)
        counts = tuple(count * copies for count in counts_of([Run(band=band, count=1)], kinds))
        self.columns.append(Column(room=number, band=band, counts=counts))
        variable = self.solver.NumVar(0.0, self.solver.infinity(), "")
        self.variables.append(variable)
        for item, count in enumerate(counts):
            if count:
                self.rows[item].SetCoefficient(variable, count)
        if self.rooms[number].along is None:
            self.solver.Objective().SetCoefficient(variable, band.h)
        else:
            self.rows[kinds + number].SetCoefficient(variable, -band.h)
            self.solver.Objective().SetCoefficient(variable, band.h * ALMOST)  # sheets are free, but not wasted
        return True

    def solve(self) -> float:
        """Solve, and return the length of the open stock by the columns so far."""
        self.solver.Solve()
        self.shop.budget.spend(20 + len(self.columns) / 2)
        duals = [max(0.0, row.dual_value()) for row in self.rows]
        kinds = len(self.demand)
        self.prices = duals[:kinds]
        self.ends = [1.0 if room.along is None else dual for room, dual in zip(self.rooms, duals[kinds:], strict=True)]
        return float(self.solver.Objective().Value())

    def values(self) -> list[float]:
        """How often each column is used."""
        return [float(variable.solution_value()) for variable in self.variables]

    def generate(self, rounds: int, heights: int) -> float:
        """Price and solve until no band of at most so many heights helps, at most so many rounds."""
        length = self.solve()
        for _ in range(rounds):
            if self.shop.budget.over or not self._price(heights):
                break
            length = self.solve()
        return length

    def enrich(self, random: Random, heights: int, spare: float) -> None:
        """Enter bands that are best at slightly other prices and cost at most `spare` more than they bring."""
        shaken = [price * random.uniform(0.7, 1.3) for price in self.prices]
        self._price_all(shaken, heights, most=1000, spare=spare)

    def _price(self, heights: int) -> bool:
        return self._price_all(self.prices, heights, most=max(ENTER, len(self.demand) // 4), spare=-ALMOST)

    def _price_all(self, asked: list[float], heights: int, *, most: int, spare: float) -> bool:
        """Enter the best bands at the prices asked, if they cost no more than `spare` above the prices paid."""
        entered = False
        for swapped, copies in sorted({(bool(room.swapped), room.copies) for room in self.rooms}):
            share = [count // copies for count in self.demand]
            alike = [
                number
                for number, room in enumerate(self.rooms)
                if room.swapped == swapped and room.copies == copies and room.along != 0
            ]
            table = self._table(alike, share, asked, heights)
            if table is not None:
                bands = _Bands(table, share, self.shop.budget)
                for number in alike:
                    entered |= self._enter(number, bands, most, spare)
        return entered

    def _table(self, alike: list[int], share: list[int], asked: list[float], heights: int) -> Table | None:
        """One table for rooms that lie alike and have as many copies."""
        if not alike:
            return None
        width = max(self.rooms[number].across for number in alike)
        shapes = [s for s in self.shop.lying(self.rooms[alike[0]]) if share[s.item] and s.w <= width]
        rows = band_heights(shapes, share, heights)
        return price_bands(shapes, rows, width, share, asked, self.shop.budget) if rows else None

    def _enter(self, number: int, bands: _Bands, most: int, spare: float) -> bool:
        """Enter the bands of a table that help a room most, each cut down to the demand first."""
        room, end, table, entered = self.rooms[number], self.ends[number], bands.table, 0
        gain = table.value[:, room.across] - end * table.heights
        if room.along is not None:
            gain[table.heights > room.along] = -np.inf
        for row in np.argsort(-gain, kind="stable")[: 10 * most].tolist():
            if entered == most or gain[row] == -np.inf or (spare < 0 and gain[row] < -spare):
                break
            band, counts = bands.get(row, room.across)
            worth = room.copies * sum(count * value for count, value in zip(counts, self.prices, strict=True))
            entered += band.h > 0 and worth > end * band.h - spare and self.add(number, band)
        return entered > 0

    def restart(self, rooms: Sequence[Room], demand: Sequence[int]) -> None:
        """Begin again with these rooms and this demand, and all bands that fit them."""
        self.rooms, self.demand = tuple(rooms), list(demand)
        self.renew()

    def take(self, number: int, band: Band, times: int) -> None:
        """Fix a band in a room: its items are no longer wanted, its height no longer there."""
        column_counts = counts_of([Run(band=band, count=times * self.rooms[number].copies)], len(self.demand))
        self.demand = [max(0, want - have) for want, have in zip(self.demand, column_counts, strict=True)]
        room = self.rooms[number]
        if room.along is not None:
            rest = room.along - times * band.h
            smaller = replace(room, w=rest) if room.swapped else replace(room, h=rest)
            self.rooms = (*self.rooms[:number], smaller, *self.rooms[number + 1 :])

    def renew(self) -> None:
        """After bands were fixed: tell the rest to the solver, and rule out bands that are too high or too much."""
        top = self.solver.infinity()
        for row, count in zip(self.rows, self.demand, strict=False):
            row.SetBounds(count, top)
        for row, room in zip(self.rows[len(self.demand) :], self.rooms, strict=True):
            row.SetBounds(-top if room.along is None else -room.along, top)
        for variable, column in zip(self.variables, self.columns, strict=True):
            much = any(count > want for count, want in zip(column.counts, self.demand, strict=True))
            out = much or not _fits(self.rooms[column.room], column.band)
            variable.SetBounds(0.0, 0.0 if out else top)
        self._enter_singles()


def dive(master: Master, rounds: int, random: Random | None = None) -> tuple[Filled, ...]:
    """Fix whole bands, else the one nearest to one, and solve for the rest, until all is laid out.

    With `random`, which bands are fixed is drawn by how much they are used.
    """
    rooms = master.rooms
    runs: list[list[Run]] = [[] for _ in rooms]
    while any(master.demand):
        fixed = [] if master.shop.budget.over else _fixed(master, random)
        if not fixed:
            rest = fill_rooms(master.shop, master.rooms, master.demand, [price + ALMOST for price in master.prices])
            for number, filled in enumerate(rest):
                runs[number] += filled.runs
            break
        for number, band, times in fixed:
            runs[number].append(Run(band=band, count=times))
            master.take(number, band, times)
        master.renew()
        master.generate(rounds, master.shop.heights)
    return tuple(Filled(room=room, runs=tuple(taken)) for room, taken in zip(rooms, runs, strict=True))


def _fixed(master: Master, random: Random | None) -> list[tuple[int, Band, int]]:
    """The bands used once or more, rounded down; if none is, the most used one; none where the master has no answer."""
    used = [(value, column) for value, column in zip(master.values(), master.columns, strict=True) if value > ALMOST]
    whole = [(column.room, column.band, int(value + ALMOST)) for value, column in used if value > 1 - ALMOST]
    if random is not None:
        whole = [one for one in whole if random.random() < 0.7]
    if whole or not used:
        return whole
    if random is None:
        _, _, column = max((value, -number, column) for number, (value, column) in enumerate(used))
    else:
        ((_, column),) = random.choices(used, weights=[value**2 for value, _ in used])
    return [(column.room, column.band, 1)]


def _fits(room: Room, band: Band) -> bool:
    return room.along is None or band.h <= room.along
