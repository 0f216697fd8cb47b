"""First layouts: greedy fillings of the stocks, then the choices of slabs whose linear programmes promise most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from ellwand.packing.bands import Floats, band_heights, best_filling, price_bands
from ellwand.packing.greedy import Filled, Shop, fill_rooms
from ellwand.packing.levels import Master
from ellwand.packing.patterns import Layout
from ellwand.packing.problem import Problem
from ellwand.packing.slabs import Setup, lay_out, next_slabs, rest_of, rooms_of

__all__ = [
    "Case", "Found", "construct", "deepen", "demand_of", "length_of", "open_case", "put_together", "start",
]  # fmt: skip

ROUNDS = 60  # of pricing at the root, per case


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A layout, and the slabs and fillings that it was put together from."""

    layout: Layout
    setup: Setup
    filled: tuple[Filled, ...]

    @property
    def merit(self) -> tuple[int, int, int]:
        """Less is better."""
        return self.layout.merit


@dataclass(slots=True)
class Case:
    """A choice of slabs with its linear programme, and the length that this promises."""

    setup: Setup
    master: Master
    promise: int


def start(problem: Problem, shop: Shop) -> list[Found]:
    """Greedy fillings without slabs: sheets from the largest or the smallest on, the open stock last."""
    sheets = range(len(problem.stocks) - 1)
    area = [stock.w * (stock.h or 0) for stock in problem.stocks]
    rising = sorted(sheets, key=lambda number: (area[number], number))
    falling = sorted(sheets, key=lambda number: (-area[number], number))
    free = (*(None if problem.stocks[number].either_way else False for number in sheets), False)
    price = [float(one) for one in shop.area]
    found = []
    for order in dict.fromkeys((*order, len(sheets)) for order in (falling, rising)):
        setup = Setup(order=order, swapped=free)
        filled = fill_rooms(shop, rooms_of(setup, problem.stocks), demand_of(problem), price)
        turned = {number: one.room.swapped for number, one in zip(order, filled, strict=True)}
        setup = replace(setup, swapped=tuple(turned[number] for number in range(len(order))))
        found.append(put_together(problem, setup, filled))
    return sorted(found, key=lambda one: one.merit)


def demand_of(problem: Problem) -> list[int]:
    """How many of each item."""
    return [item.demand for item in problem.items]


def put_together(problem: Problem, setup: Setup, filled: Sequence[Filled]) -> Found:
    """The layout of slabs and filled rooms."""
    layout = lay_out(setup, problem.stocks, filled, demand_of(problem))
    return Found(layout=layout, setup=setup, filled=tuple(filled))


def open_case(problem: Problem, shop: Shop, setup: Setup, known: Sequence[Filled] = ()) -> Case:
    """Solve the linear programme of a choice of slabs, with the bands of a known filling to begin with."""
    master = Master(shop=shop, rooms=rooms_of(setup, problem.stocks), demand=rest_of(setup, demand_of(problem)))
    for number, filled in enumerate(known):
        for run in filled.runs:
            master.add(number, run.band)
    length = master.generate(ROUNDS, shop.heights) + length_of(setup, problem)
    return Case(setup=setup, master=master, promise=ceil(length - 1e-3))


def deepen(cases: Sequence[Case], problem: Problem, shop: Shop, *, heights: int, reserve: float) -> list[Case]:
    """Price bands of many more heights in these cases, and put the most promising first again."""
    for case in cases:
        if shop.budget.left > reserve:
            length = case.master.generate(ROUNDS, heights) + length_of(case.setup, problem)
            case.promise = ceil(length - 1e-3)
    return sorted(cases, key=_promise)


def length_of(setup: Setup, problem: Problem) -> int:
    """Length that the slabs take of the open stock."""
    return sum(slab.h * slab.copies for slab in setup.slabs if problem.stocks[slab.stock].h is None)


def construct(
    problem: Problem, shop: Shop, begun: Sequence[Case], *, keep: int, grown: int, reserve: float
) -> list[Case]:
    """Choices of slabs, the most promising first.

    Each level tries `grown` ways of one slab more on the best `keep` of the level before, while that helps
    and more than `reserve` is left of the budget.
    """
    cases = list(begun)
    level, known = sorted(cases, key=_promise)[:keep], {case.setup for case in cases}
    while level:
        best = min(case.promise for case in cases)
        setups = dict.fromkeys(setup for case in level for setup in _grown(problem, shop, case, grown))
        tried: list[Case] = []
        for setup in setups:
            if shop.budget.left <= reserve:
                break
            if setup not in known:
                known.add(setup)
                tried.append(open_case(problem, shop, setup))
        cases += tried
        level = sorted(tried, key=_promise)[:keep]
        if not level or level[0].promise >= best:
            break
    return sorted(cases, key=_promise)


def _promise(case: Case) -> tuple[int, int]:
    return case.promise, len(case.setup.slabs)


def _grown(problem: Problem, shop: Shop, case: Case, most: int) -> list[Setup]:
    """The case with one slab more, in the `most` ways that gain most at the prices of its linear programme.

    A slab is worth what its long items cost now, and what the best whole bands beside it would fill its zone with.
    Of its lengths the one that gains most is taken.
    """
    prices = case.master.prices
    left = case.master.demand
    shapes = [shape for shape in shop.shapes if left[shape.item]]
    if not shapes:
        return []
    width = max(stock.w for stock in problem.stocks)
    table = price_bands(shapes, band_heights(shapes, left, shop.heights), width, left, prices, shop.budget)
    fillings: dict[int, Floats] = {}

    def gain(setup: Setup) -> float:
        slab = setup.slabs[-1]
        beside = problem.stocks[slab.stock].w - slab.w
        if beside not in fillings or len(fillings[beside]) <= slab.h:
            fillings[beside] = best_filling(table, beside, slab.h + max(shape.h for shape in shapes))
        long = sum(prices[shape.item] * count for stack in slab.stacks for shape, count in stack.parts)
        return slab.copies * float(long + fillings[beside][slab.h] - slab.h)

    best: dict[Setup, tuple[float, Setup]] = {}
    for setup in next_slabs(case.setup, shop, problem.stocks, demand_of(problem)):
        *before, slab = setup.slabs
        alike = replace(setup, slabs=(*before, replace(slab, h=0)))
        value = gain(setup)
        if alike not in best or value > best[alike][0]:
            best[alike] = value, setup
    return [setup for _, setup in sorted(best.values(), key=lambda one: -one[0])[:most]]
