"""The best choice among the bands of a linear programme, by whole numbers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ellwand.packing.greedy import Filled
from ellwand.packing.levels import ALMOST, Column, Master
from ellwand.packing.patterns import Run

__all__ = ["choose_bands"]

MOST = 400  # bands
_QUIET = (
    "num_workers:1 linearization_level:2 mip_presolve_level:0 "  # that presolve writes to standard error
    "catch_sigint_signal:false"  # Ctrl-C is for whoever may halt
)
STEPS = 200_000  # of the dynamic programme, in the time of one deterministic second


def choose_bands(master: Master, below: int, seed: int, work: float) -> tuple[Filled, ...] | None:
    """Use the master's bands whole times, the open stock less than `below` long; None if not found.

    The master has just been solved. A band enters only if its reduced cost leaves room below `below`.
    `work` is in the solver's own deterministic seconds; one worker, so that equal calls give equal answers.
    """
    from ortools.linear_solver import pywraplp

    picked = _promising(master, below)
    solver, uses = _model(master, picked, below)
    solver.SetSolverSpecificParametersAsString(f"{_QUIET} random_seed:{seed} max_deterministic_time:{work}")
    status = solver.Solve()
    settled = status in (pywraplp.Solver.OPTIMAL, pywraplp.Solver.INFEASIBLE)
    master.shop.budget.spend(work * STEPS / (4 if settled else 1))
    if status not in (pywraplp.Solver.OPTIMAL, pywraplp.Solver.FEASIBLE):
        return None
    return _filled(master, picked, [round(use.solution_value()) for use in uses])


def _promising(master: Master, below: int) -> list[Column]:
    """The bands whose reduced cost leaves room below `below`, the cheapest first."""
    spare = below - 1 - master.solver.Objective().Value() + ALMOST
    costs = sorted(
        (variable.reduced_cost(), number)
        for number, variable in enumerate(master.variables)
        if variable.ub() > 0 and variable.reduced_cost() <= spare
    )
    return [master.columns[number] for _, number in costs[:MOST]]


def _model(master: Master, picked: Sequence[Column], below: int) -> tuple[Any, list[Any]]:
    """The whole-number program: demand is met, rooms are long enough, the open stock is used least."""
    from ortools.linear_solver import pywraplp

    solver = pywraplp.Solver.CreateSolver("SAT")
    rows = [solver.Constraint(count, solver.infinity()) for count in master.demand]
    ends = [solver.Constraint(0, below - 1 if room.along is None else room.along) for room in master.rooms]
    objective = solver.Objective()
    objective.SetMinimization()
    uses = []
    for column in picked:
        use = solver.IntVar(0, _most(master, column), "")
        uses.append(use)
        for item, count in enumerate(column.counts):
            if count:
                rows[item].SetCoefficient(use, count)
        ends[column.room].SetCoefficient(use, column.band.h)
        if master.rooms[column.room].along is None:
            objective.SetCoefficient(use, column.band.h)
    return solver, uses


def _filled(master: Master, picked: Sequence[Column], times: Sequence[int]) -> tuple[Filled, ...]:
    """Every room with its bands, each as often as chosen."""
    runs: list[list[Run]] = [[] for _ in master.rooms]
    for column, count in zip(picked, times, strict=True):
        if count:
            runs[column.room].append(Run(band=column.band, count=count))
    return tuple(Filled(room=room, runs=tuple(taken)) for room, taken in zip(master.rooms, runs, strict=True))


def _most(master: Master, column: Column) -> int:
    """How often the demand and the room ask for a band at most."""
    most = max(-(-want // count) for want, count in zip(master.demand, column.counts, strict=True) if count)
    along = master.rooms[column.room].along
    return most if along is None else min(most, along // column.band.h)
