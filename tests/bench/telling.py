"""What a contestant tells while it works, and when."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from dataclasses import dataclass
from typing import BinaryIO

from ellwand.packing.problem import Bound, Packing, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """A length that was reached `seconds` after the start."""

    seconds: float
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How a contestant ended: its shortest packing, what it proved, and the most memory it took."""

    seconds: float
    packing: Packing | None
    bound: Bound | None
    megabytes: float | None


Contest = Callable[[Problem, float, Callable[[int], None]], tuple[Packing | None, Bound | None]]


def contest(run: Contest, problem: Problem, seconds: float, clock: Callable[[], float], out: BinaryIO) -> None:
    """Let a contestant run, and write every `Event` and the `Outcome` to `out`."""
    start = clock()

    def tell(length: int) -> None:
        pickle.dump(Event(seconds=clock() - start, length=length), out)

    packing, bound = run(problem, seconds, tell)
    worked = clock() - start
    pickle.dump(Outcome(seconds=worked, packing=packing, bound=bound, megabytes=_peak()), out)


def _peak() -> float | None:
    """The most memory that this process has held, in MB, where the system tells."""
    try:
        with open("/proc/self/status", encoding="ascii") as status:
            (line,) = (line for line in status if line.startswith("VmHWM"))
    except OSError:
        return None
    return int(line.split()[1]) / 1000
