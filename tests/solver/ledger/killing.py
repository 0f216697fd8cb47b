"""Ends a program in the midst of changing a ledger, again and again, and says what the ledger holds afterwards.

A program of its own, with one thread, so that it can fork: ``killing.py FOLDER``. It writes a line of JSON for each
kill: what was done, how it was ended, whether the ledger passes its check, and whether it is as before or after.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from ellwand.ledger import Ledger, Taking, taking_of
from solver.ledger.owned import BOLT, INK, Wish, opened, planned, stocked

Act = Callable[[Ledger], object]


@dataclass(frozen=True, slots=True)
class Way:
    """When a program is ended: at a step of SQLite's machine, after so many seconds, or else when all is done."""

    steps: int | None = None
    seconds: float | None = None


BY_STEP, BY_CLOCK = 67, 20  # kills of each of the three acts


def acts(taking: Taking) -> dict[str, tuple[Act, Act]]:
    """For each change what comes before it, and the change."""
    lengths = [replace(BOLT, along=BOLT.along + number) for number in range(200)]
    navy = replace(INK, name="navy")
    return {
        "use": (lambda ledger: None, lambda ledger: ledger.use(taking)),
        "undo": (lambda ledger: ledger.use(taking), lambda ledger: ledger.undo()),
        "import": (lambda ledger: None, lambda ledger: ledger.take_in([navy], lengths)),
    }


def state(path: Path) -> str:
    """What a ledger holds, and the history's standing entries."""
    with opened(path) as ledger:
        standing = [entry.number for entry in ledger.history() if entry.undone is None]
        return ledger.state_text() + repr(standing)


def killed(path: Path, act: Act, way: Way) -> bool:
    """Carry `act` out in a child, which is ended on its way; whether it was, before it was done."""
    ready, go = os.pipe()
    child = os.fork()
    if child == 0:
        ledger = opened(path)
        if way.steps is not None:
            end_after(ledger, way.steps)
        os.write(go, b".")
        act(ledger)
        if way == Way():
            os.kill(os.getpid(), signal.SIGKILL)
        os._exit(0)
    os.read(ready, 1)
    os.close(ready)
    os.close(go)
    if way.seconds is not None:
        until = time.perf_counter() + way.seconds
        while time.perf_counter() < until:
            pass
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def end_after(ledger: Ledger, steps: int) -> None:
    """Let the program be ended at a step of SQLite's machine, with so little memory that it writes as it goes."""
    ledger.db.execute("PRAGMA cache_size = 1")
    left = [steps]

    def step() -> int:
        left[0] -= 1
        if left[0] <= 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return 0

    ledger.db.set_progress_handler(step, 1)


def measure(path: Path, act: Act) -> tuple[int, float]:
    """How many steps of SQLite, and how many seconds, a change takes."""
    steps = [0]

    def step() -> int:
        steps[0] += 1
        return 0

    other = Path(shutil.copy(path, path.with_suffix(".steps")))
    with opened(other) as ledger:
        ledger.db.set_progress_handler(step, 1)
        act(ledger)
    other = Path(shutil.copy(path, path.with_suffix(".timed")))
    with opened(other) as ledger:
        start = time.perf_counter()
        act(ledger)
        return steps[0], time.perf_counter() - start


def kills(folder: Path) -> Iterator[dict[str, object]]:
    """Every kill."""
    first = folder / "first"
    with stocked(first) as ledger:
        _, document = planned(ledger, Wish(count=40))
    chance = random.Random(5)
    for name, (before, act) in acts(taking_of(document)).items():
        start, done, victim = (folder / f"{name}.{word}" for word in ("start", "done", "victim"))
        shutil.copy(first, start)
        with opened(start) as ledger:
            before(ledger)
        shutil.copy(start, done)
        with opened(done) as ledger:
            act(ledger)
        states = {state(start): "before", state(done): "after"}
        steps, seconds = measure(start, act)
        ways = [Way(), *(Way(steps=chance.randint(1, steps)) for _ in range(BY_STEP))]
        ways += [Way(seconds=chance.uniform(0, 1.1) * seconds) for _ in range(BY_CLOCK)]
        for way in ways:
            shutil.copy(start, victim)
            was = killed(victim, act, way)
            journal = victim.with_name(victim.name + "-journal").exists()
            with opened(victim) as ledger:
                faults = ledger.check()
            yield {
                "act": name,
                "way": "step" if way.steps else "clock" if way.seconds else "done",
                "killed": was,
                "journal": journal,
                "faults": faults,
                "holds": states.get(state(victim), "neither"),
            }


if __name__ == "__main__":
    for kill in kills(Path(sys.argv[1])):
        print(json.dumps(kill))
