"""First layouts: greedy fillings of the stocks, then the choices of slabs whose linear programmes promise most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice
from math import ceil

from ellwand.packing.greedy import Filled, Shop, fill_rooms
from ellwand.packing.levels import ALMOST, Master, dive
from ellwand.packing.patterns import Layout
from ellwand.packing.problem import Problem
from ellwand.packing.slabs import Setup, lay_out, next_slabs, rest_of, rooms_of

__all__ = ["Case", "Found", "construct", "open_case", "start"]

GROWN = 300  # ways tried to add one slab
ROUNDS = 12  # of pricing at the root, per case


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
    free = (*(None for _ in sheets), False)
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


def open_case(problem: Problem, shop: Shop, setup: Setup) -> Case:
    """Solve the linear programme of a choice of slabs."""
    master = Master(shop=shop, rooms=rooms_of(setup, problem.stocks), demand=rest_of(setup, demand_of(problem)))
    length = master.generate(ROUNDS)
    last = len(problem.stocks) - 1
    length += sum(slab.h * slab.copies for slab in setup.slabs if slab.stock == last)
    return Case(setup=setup, master=master, promise=ceil(length - 1e-3))


def construct(problem: Problem, shop: Shop, begun: Sequence[Found], *, keep: int) -> list[Case]:
    """Choices of slabs, the most promising first: one slab more on the best `keep` of each level while that helps."""
    cases = [open_case(problem, shop, setup) for setup in dict.fromkeys(found.setup for found in begun)]
    level, known = sorted(cases, key=_promise)[:keep], {case.setup for case in cases}
    while level and not shop.budget.over:
        best = min(case.promise for case in cases)
        grown: list[Case] = []
        for setup in _grown(problem, shop, level):
            if shop.budget.over:
                break
            if setup not in known:
                known.add(setup)
                grown.append(open_case(problem, shop, setup))
        cases += grown
        level = sorted(grown, key=_promise)[:keep]
        if not level or level[0].promise >= best:
            break
    return sorted(cases, key=_promise)


def _promise(case: Case) -> tuple[int, int]:
    return case.promise, len(case.setup.slabs)


def _grown(problem: Problem, shop: Shop, level: Sequence[Case]) -> list[Setup]:
    grown = [next_slabs(case.setup, shop, problem.stocks, demand_of(problem)) for case in level]
    return list(dict.fromkeys(setup for each in grown for setup in islice(each, GROWN)))
