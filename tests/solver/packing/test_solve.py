"""The one way in."""

from __future__ import annotations

import pytest

from ellwand.packing import solve as module
from ellwand.packing.problem import Effort, Item, Packing, Problem, Status, Stock
from ellwand.packing.solve import UnsoundPackingError, solve


def squares(*, guillotine: bool = True, stages: int | None = 3, demand: int = 6) -> Problem:
    """Squares of 4, two side by side."""
    items = (Item(w=4, h=4, demand=demand, turnable=True),) if demand else ()
    return Problem(items=items, stocks=(Stock(w=9, h=None),), guillotine=guillotine, stages=stages)


@pytest.mark.parametrize(("guillotine", "stages"), [(True, 3), (True, None), (False, None)])
def test_each_kind_of_layout_is_solved(guillotine: bool, stages: int | None) -> None:
    """Three rows of two squares are least in any kind of layout."""
    result = solve(squares(guillotine=guillotine, stages=stages), effort=Effort.QUICK)

    assert result.packing.length == 12
    assert result.status is Status.OPTIMAL


def test_nothing_to_pack() -> None:
    """No items need no length, proven."""
    result = solve(squares(demand=0), effort=Effort.QUICK)

    assert result.packing == Packing(places=(), length=0)
    assert result.status is Status.OPTIMAL


def test_more_stages_are_never_longer() -> None:
    """Any number of stages starts from three (A4, Hopper & Turton 2000, C1-P1: 20 is the least)."""
    sizes = "2 12, 7 12, 8 6, 3 6, 3 5, 5 5, 3 12, 3 7, 5 7, 2 6, 3 2, 4 2, 3 4, 4 4, 9 2, 11 2"
    sides = [[int(side) for side in size.split()] for size in sizes.split(", ")]
    items = tuple(Item(w=w, h=h, demand=1, turnable=True) for w, h in sides)
    lengths = [
        solve(
            Problem(items=items, stocks=(Stock(w=20, h=None),), guillotine=True, stages=stages), effort=Effort.QUICK
        ).packing.length
        for stages in (3, None)
    ]

    assert 20 <= lengths[1] <= lengths[0]


def test_unsound_packing_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the judge refuses never leaves."""
    monkeypatch.setattr(module, "pack_rotary", lambda problem, **_: Packing(places=(), length=12))

    with pytest.raises(UnsoundPackingError, match="placed 0 times"):
        solve(squares(), effort=Effort.QUICK)
