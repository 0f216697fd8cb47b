"""Long layouts, repacked a few bands at a time."""

from __future__ import annotations

from random import Random

import pytest

from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, Stock
from ellwand.packing.windows import shorten_windows

NO_BOUND = Bound(length=0, theorem="")


def squares(demand: int) -> Problem:
    """Squares of 5 for a sheet that holds one, and an open stock that holds two beside each other."""
    items = (Item(w=5, h=5, demand=demand, turnable=False),)
    return Problem(items=items, stocks=(Stock(w=5, h=5), Stock(w=10, h=None)), guillotine=True, stages=None)


def tower(demand: int) -> Packing:
    """One square on the sheet, all others on each other."""
    places = [Place(item=0, stock=1, x=0, y=5 * number, turned=False) for number in range(demand - 1)]
    return Packing(places=(Place(item=0, stock=0, x=0, y=0, turned=False), *places), length=5 * (demand - 1))


def in_pairs(problem: Problem, known: Packing, bound: int) -> Packing:
    """The squares two by two, as short as can be."""
    assert judge(problem, known, NO_BOUND) == ()
    assert bound == -(-problem.pieces * 25 // 10)
    places = [
        Place(item=0, stock=0, x=number % 2 * 5, y=number // 2 * 5, turned=False) for number in range(problem.pieces)
    ]
    packing = Packing(places=tuple(places), length=-(-problem.pieces // 2) * 5)
    return packing if packing.length < known.length else known


@pytest.mark.parametrize("seed", range(5))
def test_windows_are_put_back(seed: int) -> None:
    """Each round takes at most four squares; what comes back is a layout, and lengths only fall."""
    problem, told = squares(101), list[int]()

    packing = shorten_windows(
        problem, tower(101), 250, pieces=4, rounds=200, random=Random(seed), shorten=in_pairs, tell=told.append
    )

    assert judge(problem, packing, NO_BOUND) == ()
    # derived: the hundred squares in the open stock make fifty pairs
    assert packing.length == told[-1] == 250
    assert told == sorted(told, reverse=True)


def test_a_bound_that_is_met_ends_the_rounds() -> None:
    """Nothing is repacked where nothing can be gained."""

    def never(problem: Problem, known: Packing, bound: int) -> Packing:
        raise AssertionError((problem, known, bound))

    packing = shorten_windows(
        squares(9), tower(9), 40, pieces=4, rounds=5, random=Random(0), shorten=never, tell=lambda _: None
    )

    assert packing == tower(9)
