"""More freedom to cut, and what it saves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ellwand.packing.judge import judge
from ellwand.packing.looser import loosened, never_longer
from ellwand.packing.problem import Bound, Effort, Item, Packing, Problem, Result, Stock
from ellwand.packing.solve import solve

PINWHEEL = Problem(
    items=tuple(Item(w=w, h=h, demand=n, turnable=False) for w, h, n in ((3, 1, 2), (1, 3, 2), (2, 2, 1))),
    stocks=(Stock(w=4, h=None),),
    guillotine=True,
    stages=3,
)


def result(length: int, method: str) -> Result:
    """An answer of which only length and method matter."""
    return Result(packing=Packing(places=(), length=length), bound=Bound(length=0, theorem=""), method=method)


def test_a_pinwheel_costs_one_more_by_straight_cuts() -> None:
    """Tests all three kinds of cuts (derived: 16 of area fill 4 x 4, and no straight cut frees a piece of it)."""
    deeper, free = loosened(PINWHEEL)

    found = [solve(problem, effort=Effort.QUICK).packing.length for problem in (PINWHEEL, deeper, free)]

    assert (deeper.guillotine, deeper.stages, free.guillotine) == (True, None, False)
    assert found == [5, 5, 4]


@pytest.mark.parametrize(
    ("problem", "number"),
    [
        (PINWHEEL, 2),
        (replace(PINWHEEL, stages=None), 1),
        (replace(PINWHEEL, guillotine=False, stages=None), 0),
    ],
)
def test_how_many_are_looser(problem: Problem, number: int) -> None:
    """Tests that only freedom that is not there yet is given."""
    assert len(loosened(problem)) == number


def test_nothing_is_looser_than_a_flawed_stock_allows() -> None:
    """Tests that items round blocked parts lie in any arrangement already."""
    flawed = replace(PINWHEEL, stocks=(Stock(w=4, h=4, free=12, blocked=((0, 0, 2, 2),)), *PINWHEEL.stocks))

    assert loosened(flawed) == ()


def test_looser_is_never_longer() -> None:
    """Tests that a packing is kept where more freedom found nothing shorter, and that it is sound there."""
    straight = solve(PINWHEEL, effort=Effort.QUICK)
    length = straight.packing.length

    worse, better = never_longer(straight, [result(length + 2, "deeper"), result(length - 1, "free")])
    (kept,) = never_longer(straight, [result(length, "deeper")])

    assert [worse.packing.length, better.packing.length] == [length, length - 1]
    assert (worse.method, better.method) == (straight.method, "free")
    assert judge(loosened(PINWHEEL)[1], kept.packing, kept.bound) == ()
