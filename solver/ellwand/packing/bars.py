"""Bars: what fits side by side on a line through a stock, and the weights that say most about it.

References
----------
Gilmore and Gomory (1961), A linear programming approach to the cutting-stock problem; the weights are the duals of
its relaxation, found by column generation.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import gcd
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ellwand.packing.linear import linear_solver

__all__ = ["Bars", "Pattern", "Rack", "best_weights", "longest_sum", "shortest_sum"]

Pattern = tuple[tuple[int, int], ...]  # what lies on one bar: (size, how often)

_SCALE = 232_792_560  # lcm(1..20): duals such as 1/3 and 5/12 become whole numbers exactly
_ROUNDS = 120  # of column generation


@dataclass(frozen=True, slots=True)
class Rack:
    """`span` equal bars of the given capacity; `copies` says how often each of the sizes may be on one.

    `area` is what their stock holds in all where parts of it are blocked, else None.
    """

    capacity: int
    span: int
    copies: tuple[int, ...]
    area: int | None = None

    @property
    def whole(self) -> int:
        """How many whole bars its area would make, which is what the linear programme reckons with."""
        return self.span if self.area is None else min(self.span, -(-self.area // max(self.capacity, 1)))

    def work(self, sizes: tuple[int, ...]) -> int:
        """Steps that one knapsack takes."""
        cells = self.capacity // (gcd(*sizes) or 1)
        return cells * sum(copies.bit_length() for copies in self.copies)


@dataclass(frozen=True, slots=True)
class Bars:
    """All bars in one direction, the open stock's last.

    `claims` has for each item the ways in which its copies may claim them: (size along the bar, bars in all).
    """

    sizes: tuple[int, ...]
    racks: tuple[Rack, ...]
    claims: tuple[tuple[tuple[int, int], ...], ...]

    def load(self, weights: Mapping[int, int]) -> int:
        """Weight that the items bring at least."""
        return sum(min(weights.get(size, 0) * bars for size, bars in ways) for ways in self.claims)

    def room(self, weights: Mapping[int, int]) -> int:
        """Weight that all bars hold at most.

        Where parts of a stock are blocked, its items weigh no more than its area by the best weight for a size either.
        """
        return sum(self._held(rack, weights) for rack in self.racks)

    def _held(self, rack: Rack, weights: Mapping[int, int]) -> int:
        held = rack.span * self.most(rack, weights)
        if rack.area is None:
            return held
        sizes = [size for size, copies in zip(self.sizes, rack.copies, strict=True) if copies]
        return min(held, max((weights.get(size, 0) * rack.area // size for size in sizes), default=0))

    def most(self, rack: Rack, weights: Mapping[int, int]) -> int:
        """Weight that one bar holds at most."""
        worth = np.array([weights.get(size, 0) for size in self.sizes], dtype=np.int64)
        return int(_fill(self.sizes, rack, worth)[0])


def best_weights(bars: Bars, known: dict[Pattern, None]) -> dict[int, int]:
    """Weights with the most load for the room, as whole numbers: duals of the master programme.

    `known` patterns are tried first, and new ones added to it.
    """
    master = _Master(bars)
    for pattern in known:
        master.add_where_it_fits(pattern)
    for _ in range(_ROUNDS):
        master.solve()
        if master.overload <= 1 or not master.price(known):
            break
    return master.weights()


class _Master:
    """The linear programme: by which factor must all racks grow so that patterns on them hold all items.

    An item's copies are split at will among its ways to lie. Everything is in shares of all bars there are, so that
    duals are near 1.
    """

    def __init__(self, bars: Bars) -> None:
        self.bars = bars
        self.overload = 0.0
        self._worth: list[float] = []  # duals of the sizes
        self._prices: list[float] = []  # duals of the racks
        self._bars_in_all = sum(rack.whole for rack in bars.racks) or 1
        self._solver = linear_solver()
        self._infinity = self._solver.infinity()
        self._factor = self._solver.NumVar(0, self._infinity, "")
        self._solver.Minimize(self._factor)
        self._rows = [self._solver.Constraint(0, self._infinity) for _ in bars.sizes]
        self._ends = [self._solver.Constraint(0, self._infinity) for _ in bars.racks]
        self._there: set[tuple[int, Pattern]] = set()
        for end, rack in zip(self._ends, bars.racks, strict=True):
            end.SetCoefficient(self._factor, rack.whole / self._bars_in_all)
        self._add_claims()
        self._add_single_sizes()

    def _add_claims(self) -> None:
        number = dict(zip(self.bars.sizes, self._rows, strict=True))
        for ways in self.bars.claims:
            whole = self._solver.Constraint(1, 1)
            for size, bars in ways:
                share = self._solver.NumVar(0, self._infinity, "")
                whole.SetCoefficient(share, 1)
                number[size].SetCoefficient(share, -bars / self._bars_in_all)

    def _add_single_sizes(self) -> None:
        for number, rack in enumerate(self.bars.racks):
            for size, copies in zip(self.bars.sizes, rack.copies, strict=True):
                if copies:
                    self._add(number, ((size, copies),))

    def add_where_it_fits(self, pattern: Pattern) -> None:
        """Allow `pattern` on every rack that holds it."""
        for number, rack in enumerate(self.bars.racks):
            copies = dict(zip(self.bars.sizes, rack.copies, strict=True))
            fits = sum(size * count for size, count in pattern) <= rack.capacity
            if fits and all(count <= copies.get(size, 0) for size, count in pattern):
                self._add(number, pattern)

    def _add(self, number: int, pattern: Pattern) -> bool:
        if (number, pattern) in self._there:
            return False
        self._there.add((number, pattern))
        bars = self._solver.NumVar(0, self._infinity, "")
        self._ends[number].SetCoefficient(bars, -1)
        for size, count in pattern:
            self._rows[self.bars.sizes.index(size)].SetCoefficient(bars, count)
        return True

    def solve(self) -> None:
        """Find the least factor with the patterns so far, and the duals."""
        self._solver.Solve()
        self.overload = self._solver.Objective().Value()
        self._worth = [max(row.dual_value(), 0.0) for row in self._rows]
        self._prices = [end.dual_value() for end in self._ends]

    def price(self, known: dict[Pattern, None]) -> bool:
        """Add for each rack the pattern worth most at the duals; whether any promises to help."""
        worth = np.array(self._worth)
        added = False
        for number, rack in enumerate(self.bars.racks):
            value, pattern = _fill(self.bars.sizes, rack, worth)
            if value > self._prices[number] * (1 + 1e-9) + 1e-12 and self._add(number, pattern):
                known[pattern] = None
                added = True
        return added

    def weights(self) -> dict[int, int]:
        """The duals of the sizes, scaled so that the open stock's bar holds about `_SCALE`, and rounded."""
        most = max(self._prices)
        scale = _SCALE / most if most > 0 else 0.0
        whole = [round(worth * scale) for worth in self._worth]
        common = gcd(*whole) or 1
        return {size: weight // common for size, weight in zip(self.bars.sizes, whole, strict=True)}


def _fill(sizes: tuple[int, ...], rack: Rack, worth: NDArray[Any]) -> tuple[float, Pattern]:
    """The most worth that one bar of `rack` holds, and how: bounded knapsack, dynamic programming over the capacity."""
    usable = [number for number, copies in enumerate(rack.copies) if copies and worth[number] > 0]
    unit = gcd(*(sizes[number] for number in usable)) or 1
    best = np.zeros(rack.capacity // unit + 1, dtype=worth.dtype)
    steps = []
    for number in usable:
        for times in _batches(rack.copies[number]):
            cells = sizes[number] // unit * times
            tried = best[:-cells] + times * worth[number]
            steps.append((number, times, cells, tried > best[cells:]))
            best[cells:] = np.maximum(best[cells:], tried)
    left = len(best) - 1
    counts: Counter[int] = Counter()
    for number, times, cells, better in reversed(steps):
        if left >= cells and better[left - cells]:
            counts[sizes[number]] += times
            left -= cells
    return best[-1], tuple(sorted(counts.items()))


def _batches(copies: int) -> Iterator[int]:
    """Numbers of which any count up to `copies` is a sum: 1, 2, 4 … and the rest."""
    batch = 1
    while copies > batch:
        yield batch
        copies -= batch
        batch *= 2
    yield copies


def longest_sum(copies: Mapping[int, int], top: int) -> int:
    """The largest sum of sizes, each at most so often, that is at most `top`."""
    sums, unit = _sums(copies, top)
    return (sums.bit_length() - 1) * unit


def shortest_sum(copies: Mapping[int, int], least: int) -> int:
    """The smallest sum of sizes that is at least `least`."""
    sums, unit = _sums(copies, least + max(copies, default=0))
    first = -(-least // unit)
    later = sums >> first
    return (first + (later & -later).bit_length() - 1) * unit


def _sums(copies: Mapping[int, int], top: int) -> tuple[int, int]:
    """Which sums up to `top` are possible, as bits, one for each multiple of the sizes' common divisor; and that."""
    unit = gcd(*copies) or 1
    mask = (2 << top // unit) - 1
    sums = 1
    for size, most in copies.items():
        for times in _batches(min(most, top // size)):
            sums |= sums << size // unit * times & mask
    return sums, unit
