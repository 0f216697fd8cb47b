"""The shortest lengths that the engine has reached: worse is a fault, better asks for the record to be raised.

Quick and careful effort do the same work everywhere and end by themselves, so that their length at the end is the same
on a slow machine; the most effort is stopped by the clock, and is not on record.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from bench.contestants import RECORDED
from bench.measure import Run
from ellwand.packing.problem import Problem

PATH = Path(__file__).parent / "records.json"
Records = Mapping[str, Mapping[str, int | str]]  # by instance: its problem's fingerprint, and a length for each effort
_PROBLEM = "problem"


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """What differs from the records, in sentences."""

    worse: tuple[str, ...]
    better: tuple[str, ...]
    new: tuple[str, ...]


def fingerprint(problem: Problem) -> str:
    """Twelve letters that change when the problem does."""
    items = [[item.w, item.h, item.demand, item.turnable] for item in problem.items]
    stocks = [[stock.w, stock.h, stock.either_way] for stock in problem.stocks]
    text = json.dumps([items, stocks, problem.guillotine, problem.stages])
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def compare(records: Records, problems: Mapping[str, Problem], runs: Iterable[Run]) -> Comparison:
    """Hold what the efforts reached against the records.

    Parameters
    ----------
    records
        As they are kept.
    problems
        Of every instance that was run, by its name.
    runs
        Those of peers are left out.
    """
    worse, better, new = [], [], []
    for run in runs:
        if run.contestant not in RECORDED:
            continue
        what = f"{run.instance}, {run.contestant}"
        record = _record(records, problems, run)
        if record is None:
            new.append(f"{what}: no record of this problem; now {run.length}.")
        elif run.length is None or run.length > record:
            worse.append(f"{what}: the record is {record}, now {run.length}.")
        elif run.length < record:
            better.append(f"{what}: the record is {record}, now {run.length}.")
    return Comparison(worse=tuple(worse), better=tuple(better), new=tuple(new))


def updated(records: Records, problems: Mapping[str, Problem], runs: Iterable[Run]) -> Records:
    """The records with what is shorter, or has none yet; what is longer changes nothing."""
    raised = {name: dict(lengths) for name, lengths in records.items()}
    for run in runs:
        record = _record(raised, problems, run)
        if run.contestant not in RECORDED or run.length is None or (record is not None and record <= run.length):
            continue
        mark = fingerprint(problems[run.instance])
        if raised.get(run.instance, {}).get(_PROBLEM) != mark:
            raised[run.instance] = {_PROBLEM: mark}
        raised[run.instance][run.contestant] = run.length
    return raised


def _record(records: Records, problems: Mapping[str, Problem], run: Run) -> int | None:
    """The length on record of this very problem and effort."""
    lengths = records.get(run.instance, {})
    if lengths.get(_PROBLEM) != fingerprint(problems[run.instance]):
        return None
    length = lengths.get(run.contestant)
    return length if isinstance(length, int) else None


def load(path: Path = PATH) -> Records:
    """The records as they are kept; none where there is no file."""
    return json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}


def save(records: Records, path: Path = PATH) -> None:
    """Keep records, one instance a line."""
    lines = (f"{json.dumps(name)}: {json.dumps(records[name])}" for name in sorted(records))
    path.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")
