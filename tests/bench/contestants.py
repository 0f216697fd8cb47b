"""Who takes part: the engine at its three efforts, and peers where they are installed.

Run as a module with a contestant's name and its seconds, it solves the problem that comes pickled on standard input
and writes pickled events to standard output: each contestant has a process, memory and time of its own.
"""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Callable
from dataclasses import dataclass
from time import perf_counter, process_time

from bench.peers import bisect_packingsolver, repeat_rectpack
from bench.telling import Contest, contest
from ellwand.packing.problem import Bound, Effort, Packing, Problem

MARKS = (0.2, 1.0, 10.0)  # seconds at which lengths are read


@dataclass(frozen=True, slots=True, kw_only=True)
class Contestant:
    """One who takes part.

    Parameters
    ----------
    title
        Its name in the tables.
    seconds
        How long it may work. Quick and careful effort end by themselves before that; an answer is only on record where
        it does not depend on the clock.
    modules
        What it imports before the clock starts; it takes part only where all can be imported.
    run
        Its work.
    clock
        In seconds: the processor's for one that works on a single core, so that others on the machine do not matter.
    """

    title: str
    seconds: float
    modules: tuple[str, ...]
    run: Contest
    clock: Callable[[], float] = process_time


def _engine(effort: Effort) -> Contest:
    def run(problem: Problem, seconds: float, tell: Callable[[int], None]) -> tuple[Packing, Bound]:
        from ellwand.packing.solve import solve  # imported before the clock starts

        end = process_time() + seconds
        stop = (lambda: process_time() >= end) if effort is Effort.PROOF else None
        result = solve(problem, effort=effort, watch=lambda progress: tell(progress.length), stop=stop)
        tell(result.packing.length)
        return result.packing, result.bound

    return run


_ENGINE = ("ellwand.packing.solve", "ortools.linear_solver.pywraplp")
_WITH_CP_SAT = (*_ENGINE, "ortools.sat.python.cp_model")
EFFORTS = {
    effort.value: Contestant(title=effort.value, seconds=MARKS[-1], modules=modules, run=_engine(effort))
    for effort, modules in zip(Effort, (_ENGINE, _WITH_CP_SAT, _WITH_CP_SAT), strict=True)
}
RECORDED = tuple(effort.value for effort in Effort if effort is not Effort.PROOF)
PEERS = {
    "rectpack": Contestant(title="rectpack", seconds=MARKS[-1], modules=("rectpack", "shapely"), run=repeat_rectpack),
    "packingsolver": Contestant(
        title="PackingSolver",
        seconds=MARKS[-1],
        modules=("packingsolver.rectangleguillotine",),
        run=bisect_packingsolver,
        clock=perf_counter,
    ),
}
CONTESTANTS = {**EFFORTS, **PEERS}


def main() -> None:
    """Take part once."""
    name, seconds = sys.argv[1:]
    contestant = CONTESTANTS[name]
    problem = pickle.load(sys.stdin.buffer)
    with os.fdopen(os.dup(1), "wb") as out:
        os.dup2(2, 1)  # what libraries print must not get among the events
        for module in contestant.modules:
            __import__(module)
        contest(contestant.run, problem, float(seconds), contestant.clock, out)


if __name__ == "__main__":
    main()
