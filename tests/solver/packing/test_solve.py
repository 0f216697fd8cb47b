"""The one way in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ellwand.packing import solve as module
from ellwand.packing.problem import Effort, Item, Packing, Problem, Progress, Status, Stock
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


# Hopper & Turton 2000, C1-P1 (trade-facts A4), and Hopper, thesis, Cardiff 2000, T1a (trade-facts A3); width, length.
C1P1 = "2 12, 7 12, 8 6, 3 6, 3 5, 5 5, 3 12, 3 7, 5 7, 2 6, 3 2, 4 2, 3 4, 4 4, 9 2, 11 2"
T1A = (
    "82 38, 37 13, 81 22, 16 25, 21 64, 29 55, 52 178, 98 39, 102 37, 46 103, 29 86, 10 37, 63 26, 50 11, 13 40, "
    "60 29, 119 20"
)


def strip(text: str, width: int, *, turnable: bool, guillotine: bool) -> Problem:
    """Rectangles of a list, each once, in any number of stages or freely."""
    sides = [[int(side) for side in size.split()] for size in text.split(", ")]
    items = tuple(Item(w=w, h=h, demand=1, turnable=turnable) for w, h in sides)
    return Problem(items=items, stocks=(Stock(w=width, h=None),), guillotine=guillotine, stages=None)


@pytest.mark.parametrize(
    ("problem", "length"),
    [
        # Source: Hopper, thesis, Cardiff 2000, T1a: no waste, laid out free (trade-facts A3)
        (strip(T1A, 200, turnable=False, guillotine=False), 200),
        # Source: Hopper & Turton 2000, C1-P1: no waste, by straight cuts (trade-facts A4)
        (strip(C1P1, 20, turnable=True, guillotine=True), 20),
    ],
    ids=["A3", "A4"],
)
def test_published_optima_are_reached_and_proven(problem: Problem, length: int) -> None:
    """The least effort is enough for both."""
    result = solve(problem, effort=Effort.QUICK)

    assert result.packing.length == length
    assert (result.status, result.settled) == (Status.OPTIMAL, True)


def test_more_stages_are_never_longer() -> None:
    """Any number of stages starts from three (A4: 20 is the least)."""
    deep = strip(C1P1, 20, turnable=True, guillotine=True)
    lengths = [solve(replace(deep, stages=stages), effort=Effort.QUICK).packing.length for stages in (3, None)]

    assert 20 <= lengths[1] <= lengths[0]


def test_blocks_come_first_where_all_items_differ() -> None:
    """Tests that strips are not tried at length on items that strips suit badly, and that all gains are told."""
    told: list[Progress] = []

    result = solve(strip(T1A, 200, turnable=True, guillotine=True), effort=Effort.QUICK, watch=told.append)

    lengths = [progress.length for progress in told]
    assert [*dict.fromkeys(progress.method for progress in told)] == ["strips", "blocks"]
    assert result.method == "blocks"
    assert lengths == sorted(set(lengths), reverse=True)
    assert len(lengths) > 2


def test_bands_come_first_where_items_are_equal() -> None:
    """Tests that equal items begin with bands of them."""
    told: list[Progress] = []

    solve(squares(stages=None, demand=7), effort=Effort.QUICK, watch=told.append)

    assert told[0].method == "strips"
    assert {progress.method for progress in told} <= {"strips", "rounded strips", "bands"}


def test_unsound_packing_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the judge refuses never leaves."""
    monkeypatch.setattr(module, "pack_rotary", lambda problem, **_: Packing(places=(), length=12))

    with pytest.raises(UnsoundPackingError, match="placed 0 times"):
        solve(squares(), effort=Effort.QUICK)


@pytest.mark.parametrize("guillotine", [True, False])
def test_a_search_ends_at_what_is_enough(monkeypatch: pytest.MonkeyPatch, guillotine: bool) -> None:
    """A packing that is short enough is not made shorter; what is claimed of it, and told on the way, stays true."""
    problem = strip(T1A, 200, turnable=True, guillotine=guillotine)
    first = solve(problem, effort=Effort.QUICK).packing.length
    told: list[Progress] = []
    monkeypatch.setattr(module, "search_blocks" if guillotine else "pack_free", _refuse)

    result = solve(problem, effort=Effort.CAREFUL, enough=10 * first, watch=told.append)

    assert first > result.bound.length
    assert result.packing.length <= 10 * first
    assert (result.settled, result.status) == (False, Status.FEASIBLE)
    assert {progress.bound for progress in told} == {result.bound.length}


def _refuse(*_: object, **__: object) -> Packing:
    raise AssertionError("there is no need to search on")
