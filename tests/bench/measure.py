"""Runs contestants on instances, each in a process of its own, and judges what they hand in."""

from __future__ import annotations

import io
import json
import os
import pickle
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import ellwand
from bench.contestants import CONTESTANTS
from bench.sets import Instance
from bench.telling import Event, Outcome
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound

_GRACE = 300.0  # seconds by the wall beyond its own after which a contestant is stopped and counts as unfinished
_NOTHING_PROVED = Bound(length=0, theorem="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One contestant on one instance.

    Parameters
    ----------
    curve
        Pairs (seconds, length), ever shorter: the lengths that were told on the way and the last.
    length
        Of the packing handed in and judged sound; None where there is none, and then the curve does not count.
    bound
        The length proved, 0 for none.
    faults
        What the judge said.
    """

    instance: str
    contestant: str
    curve: tuple[tuple[float, int], ...]
    length: int | None
    bound: int
    seconds: float | None
    megabytes: float | None
    faults: tuple[str, ...]

    def by(self, seconds: float) -> int | None:
        """The shortest length told by then; None where there was none yet, or nothing sound came of it."""
        if self.length is None:
            return None
        return min((length for when, length in self.curve if when <= seconds), default=None)

    @property
    def first(self) -> int | None:
        """The first length told at all."""
        return self.curve[0][1] if self.curve and self.length is not None else None


def interpreter_of(contestant: str, pythons: Mapping[str, str]) -> str:
    """The Python that runs a contestant: this one, unless told otherwise."""
    return pythons.get(contestant, sys.executable)


def takes_part(contestant: str, python: str) -> bool:
    """Whether that Python can import all that the contestant needs."""
    modules = CONTESTANTS[contestant].modules
    code = "import importlib, sys; [importlib.import_module(name) for name in sys.argv[1:]]"
    found = subprocess.run([python, "-c", code, *modules], env=_environment(), capture_output=True, check=False)
    return found.returncode == 0


def run(instance: Instance, contestant: str, python: str) -> Run:
    """Let a contestant solve an instance in a new process, and judge the outcome."""
    seconds = CONTESTANTS[contestant].seconds
    command = [python, "-m", "bench.contestants", contestant, str(seconds)]
    child = subprocess.Popen(
        command, env=_environment(), stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    )
    try:
        told, _ = child.communicate(pickle.dumps(instance.problem), timeout=seconds + _GRACE)
    except subprocess.TimeoutExpired:
        child.kill()
        told, _ = child.communicate()
    return judged(instance, contestant, list(_unpickled(told)))


def _environment() -> dict[str, str]:
    """Our own environment, and where the benchmarks and the engine are found."""
    ours = [str(Path(__file__).parents[1]), str(Path(ellwand.__file__).parents[1])]
    return {**os.environ, "PYTHONPATH": os.pathsep.join([*ours, os.environ.get("PYTHONPATH", "")])}


def _unpickled(told: bytes) -> Iterator[Event | Outcome]:
    stream = io.BytesIO(told)
    while True:
        try:
            yield pickle.load(stream)
        except (EOFError, pickle.UnpicklingError):  # it ended, or was stopped in the middle of a word
            return


def judged(instance: Instance, contestant: str, told: list[Event | Outcome]) -> Run:
    """What was told, as far as the judge finds the packing at its end sound."""
    outcome = next((one for one in told if isinstance(one, Outcome)), None)
    packing = outcome.packing if outcome else None
    faults: tuple[str, ...] = ()
    if outcome and packing:
        faults = judge(instance.problem, packing, outcome.bound or _NOTHING_PROVED)
        if instance.least > packing.length:
            faults = (*faults, f"The length {packing.length} is below the least possible, {instance.least}.")
    sound = packing is not None and not faults
    return Run(
        instance=instance.name,
        contestant=contestant,
        curve=_falling(told),
        length=packing.length if packing and sound else None,
        bound=outcome.bound.length if outcome and outcome.bound and sound else 0,
        seconds=outcome.seconds if outcome else None,
        megabytes=outcome.megabytes if outcome else None,
        faults=faults,
    )


def _falling(told: list[Event | Outcome]) -> tuple[tuple[float, int], ...]:
    """The lengths told, those left out that are no shorter than one before."""
    curve: list[tuple[float, int]] = []
    for event in told:
        if isinstance(event, Event) and (not curve or event.length < curve[-1][1]):
            curve.append((event.seconds, event.length))
    return tuple(curve)


def kept(path: Path) -> dict[tuple[str, str], Run]:
    """Runs that were written to a file before, by instance and contestant."""
    if not path.exists():
        return {}
    runs = (_read(line) for line in path.read_text(encoding="utf-8").splitlines())
    return {(run.instance, run.contestant): run for run in runs}


def keep(path: Path, run: Run) -> None:
    """Write a run to the end of a file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a", encoding="utf-8") as file:
        file.write(json.dumps(asdict(run)) + "\n")


def _read(line: str) -> Run:
    facts: dict[str, Any] = json.loads(line)
    curve = tuple((seconds, length) for seconds, length in facts.pop("curve"))
    return Run(curve=curve, faults=tuple(facts.pop("faults")), **facts)
