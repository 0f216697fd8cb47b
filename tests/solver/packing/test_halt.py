"""Ending a search early: by a clock or on request, with a whole and judged packing."""

from __future__ import annotations

from random import Random
from time import monotonic, perf_counter

import pytest

from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Effort, Item, Problem, Progress, Scope, Stock
from ellwand.packing.solve import solve

CUTS = {Scope.FREE: (False, None), Scope.GUILLOTINE: (True, None), Scope.THREE_STAGES: (True, 3)}


def problem_of(pieces: int, scope: Scope) -> Problem:
    """Random rectangles, all different, some turnable: no search at full effort ends within seconds."""
    draw = Random(7)
    guillotine, stages = CUTS[scope]
    items = tuple(
        Item(w=draw.randint(20, 90), h=100 + number, demand=1, turnable=number % 2 == 0) for number in range(pieces)
    )
    return Problem(items=items, stocks=(Stock(w=230, h=None),), guillotine=guillotine, stages=stages)


def test_never() -> None:
    """Tests that without a clock or anyone to ask, nothing ends."""
    assert (NEVER.now, NEVER.possible, Halt.after(None).possible) == (False, False, False)


def test_deadline() -> None:
    """Tests that time runs out at the deadline and not before."""
    assert not Halt.after(60).now
    assert Halt(deadline=monotonic() - 1).now
    assert Halt.after(0).now


def test_request_once_made_stays() -> None:
    """Tests that a search that was told to end is not told to go on."""
    answers = iter([False, True, False])
    halt = Halt(stop=lambda: next(answers))

    assert [halt.now for _ in range(5)] == [False, True, True, True, True]


@pytest.mark.parametrize("scope", Scope)
def test_whoever_stops_at_once_has_a_packing(scope: Scope) -> None:
    """Tests that the first layout is made, judged and told of, and little else is done."""
    told: list[Progress] = []
    started = perf_counter()
    result = solve(problem_of(40, scope), effort=Effort.PROOF, stop=lambda: True, watch=told.append)

    assert len(result.packing.places) == 40
    assert told[-1].length == result.packing.length
    assert told[-1].bound <= result.bound.length
    assert perf_counter() - started < 5  # the whole search takes a minute


@pytest.mark.parametrize(("pieces", "scope"), [(40, Scope.GUILLOTINE), (40, Scope.THREE_STAGES), (16, Scope.FREE)])
def test_clock(pieces: int, scope: Scope) -> None:
    """Tests that a second is kept to, generously for slow machines; free: while CP-SAT runs."""
    started = perf_counter()
    result = solve(problem_of(pieces, scope), effort=Effort.PROOF, seconds=1)

    assert len(result.packing.places) == pieces
    assert perf_counter() - started < 6


def test_clock_that_is_not_reached_changes_nothing() -> None:
    """Tests that a packing is the same with time to spare as without a clock."""
    problem = problem_of(12, Scope.FREE)
    one, two = solve(problem, effort=Effort.QUICK), solve(problem, effort=Effort.QUICK, seconds=600)

    assert one == two


def test_progress_falls_and_ends_at_the_packing() -> None:
    """Tests that whoever watches hears shorter and shorter lengths, with the bound beside."""
    told: list[Progress] = []
    result = solve(problem_of(20, Scope.GUILLOTINE), effort=Effort.QUICK, watch=told.append)
    lengths = [progress.length for progress in told]

    assert lengths == sorted(set(lengths), reverse=True)
    assert (lengths[-1], told[-1].bound) == (result.packing.length, result.bound.length)
