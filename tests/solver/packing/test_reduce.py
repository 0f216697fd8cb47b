"""The common divisor."""

from __future__ import annotations

from ellwand.packing.problem import Item, Packing, Place, Problem, Stock
from ellwand.packing.reduce import Grid, reduce


def problem(*, turnable: bool) -> Problem:
    """One kind of item of 6 x 4 on a stock that 2 does not divide."""
    items = (Item(w=6, h=4, demand=1, turnable=turnable),)
    return Problem(items=items, stocks=(Stock(w=15, h=9), Stock(w=15, h=None)), guillotine=True, stages=3)


def test_each_axis_has_its_own_divisor() -> None:
    """Without turning, widths and heights never mix."""
    small, grid = reduce(problem(turnable=False))

    assert grid == Grid(x=6, y=4)
    assert small.items[0] == Item(w=1, h=1, demand=1, turnable=False)
    assert small.stocks == (Stock(w=2, h=2), Stock(w=2, h=None))


def test_turning_needs_one_divisor() -> None:
    """A side that may lie along either axis is measured by one step."""
    small, grid = reduce(problem(turnable=True))

    assert grid == Grid(x=2, y=2)
    assert small.items[0] == Item(w=3, h=2, demand=1, turnable=True)


def test_restore_multiplies_back() -> None:
    """Places and length return to the units they came from."""
    packing = Packing(places=(Place(item=0, stock=0, x=1, y=2, turned=False),), length=3)

    assert Grid(x=6, y=4).restore(packing) == Packing(
        places=(Place(item=0, stock=0, x=6, y=8, turned=False),), length=12
    )
