"""What straight cuts cost."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ellwand.packing import cutcost as module
from ellwand.packing.cutcost import CutCost, cost_of_cuts
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Effort, Item, Packing, Problem, Result, Stock
from ellwand.packing.solve import solve

PINWHEEL = Problem(
    items=tuple(Item(w=w, h=h, demand=n, turnable=False) for w, h, n in ((3, 1, 2), (1, 3, 2), (2, 2, 1))),
    stocks=(Stock(w=4, h=None),),
    guillotine=True,
    stages=3,
)


def result(length: int, bound: int) -> Result:
    """An answer of which only the lengths matter."""
    return Result(packing=Packing(places=(), length=length), bound=Bound(length=bound, theorem=""), method="")


def test_both_are_proven() -> None:
    """Tests that a pinwheel costs one more by straight cuts (derived: 16 of area fill 4 x 4, and no cut frees it)."""
    cost = cost_of_cuts(PINWHEEL, solve(PINWHEEL, effort=Effort.QUICK), effort=Effort.QUICK)

    assert (cost.found, cost.at_least, cost.at_most, cost.known) == (1, 1, 1, True)


def test_what_is_known_where_bounds_leave_room() -> None:
    """Tests the least and the most that straight cuts can cost."""
    cost = CutCost(straight=result(10, 7), free=result(9, 6))

    assert (cost.found, cost.at_least, cost.at_most, cost.known) == (1, 0, 4, False)
    assert CutCost(straight=result(10, 10), free=result(9, 6)).at_least == 1


def test_free_is_never_longer(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tests that a free search that does worse is told what straight cuts found."""
    straight = solve(PINWHEEL, effort=Effort.QUICK)
    monkeypatch.setattr(module, "solve", lambda *_, **__: result(straight.packing.length + 2, 0))
    cost = cost_of_cuts(PINWHEEL, straight, effort=Effort.QUICK)

    assert cost.found == 0
    assert judge(replace(PINWHEEL, guillotine=False, stages=None), cost.free.packing, cost.free.bound) == ()
