"""Several problems solved in turn, or side by side in processes of their own; either way with the same answers.

A process is given one task after the other through a pipe, and tells progress and answer through it. Anything that
arrives while it works asks it to end; so does the end of the pipe, so that none outlives the one that started it.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from functools import partial
from math import ceil
from multiprocessing import get_context, resource_tracker
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from time import monotonic
from typing import Self

from ellwand.packing.halt import Halt
from ellwand.packing.problem import Bound, Effort, Problem, Progress, Result, Watch
from ellwand.packing.solve import solve

__all__ = ["Answer", "Crew", "Listener", "Task", "solve_in_turn"]

GLANCE = 0.02  # seconds between looks at what may end a search


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A problem to be solved, with its lower bound; a packing of a length that is `enough` ends the search."""

    problem: Problem
    bound: Bound
    effort: Effort
    seed: int
    enough: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was found; `cut_short` if the search was ended before its work was done."""

    result: Result
    cut_short: bool


Listener = Callable[[Task, Progress], None]


def solve_in_turn(
    tasks: Sequence[Task], *, must: bool = False, halt: Halt, later: int, watch: Listener
) -> dict[Task, Answer]:
    """Solve one task after the other until `halt` comes; those that were not begun are not in the answers.

    Parameters
    ----------
    must
        Whether to answer the first task, if only with a first layout, though `halt` came before it.
    later
        Tasks still to follow after these: the time that is left is for them as well.
    watch
        Told whenever a search moves.
    """
    answers: dict[Task, Answer] = {}
    for number, task in enumerate(tasks):
        if halt.now and (number or not must):
            break
        seconds = _share(halt, len(tasks) - number + later, 1)
        own = Halt.after(seconds, (lambda: halt.now) if halt.possible else None)
        answers[task] = _attempt(task, own, partial(watch, task))
    return answers


def _share(halt: Halt, tasks: int, workers: int) -> float | None:
    """Seconds for the next of so many tasks: what is left, over the turns that the workers have to take."""
    return None if halt.left is None else halt.left / ceil(tasks / workers)


def _attempt(task: Task, halt: Halt, watch: Watch) -> Answer:
    result = solve(
        task.problem,
        effort=task.effort,
        seed=task.seed,
        watch=watch,
        bound=task.bound,
        enough=task.enough,
        stop=(lambda: halt.now) if halt.possible else None,
    )
    return Answer(result=result, cut_short=halt.came and not result.settled)


class LostWorkerError(RuntimeError):
    """A process ended before its work: an error of this program, or someone ended it from outside."""


@dataclass(slots=True, eq=False)
class Crew:
    """Processes that solve side by side: started when there is work, ended with the ``with`` block."""

    size: int
    _members: list[tuple[SpawnProcess, Connection]] = field(default_factory=list)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for process, connection in self._members:
            process.terminate()
            process.join()
            connection.close()
        self._members.clear()

    @property
    def started(self) -> bool:
        """Whether there are processes already."""
        return bool(self._members)

    def solve(self, tasks: Sequence[Task], *, halt: Halt, later: int, watch: Listener) -> dict[Task, Answer]:
        """Solve tasks as :func:`solve_in_turn` does, with equal answers unless `halt` comes.

        Raises
        ------
        LostWorkerError
            A process ended before its work.
        """
        answers: dict[Task, Answer] = {}
        busy: dict[Connection, Task] = {}
        idle, waiting = self._start(len(tasks)), list(tasks)
        while waiting or busy:
            if halt.now:
                waiting.clear()
                _ask_to_end(busy)
            while idle and waiting:
                seconds = _share(halt, len(waiting) + later, self.size)
                connection = idle.pop()
                busy[connection] = waiting.pop(0)
                connection.send((busy[connection], seconds))
            for connection, message in _heard(busy):
                if isinstance(message, Progress):
                    watch(busy[connection], message)
                else:
                    answers[busy.pop(connection)] = message
                    idle.append(connection)
        return answers

    def _start(self, tasks: int) -> list[Connection]:
        """Connections to as many processes as can be of use."""
        while len(self._members) < min(self.size, tasks):
            ours, theirs = _CONTEXT.Pipe()
            process = _CONTEXT.Process(target=_work, args=(theirs,), daemon=True)
            with _deaf_to_interrupts():
                process.start()
            theirs.close()
            self._members.append((process, ours))
        return [connection for _, connection in self._members]


_CONTEXT = get_context("spawn")  # a fork would copy the threads' locks of numpy and the solvers, held or not


@contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """A process started meanwhile never hears Ctrl-C, which a terminal sends to all: its starter decides."""
    if sys.platform == "win32":  # has no such masks: only once a process works, it ignores interrupts
        yield
        return
    resource_tracker.ensure_running()  # it would start with the process, and let interrupts through
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _ask_to_end(busy: Iterable[Connection]) -> None:
    for connection in busy:
        connection.send(None)


def _heard(busy: Iterable[Connection]) -> Iterator[tuple[Connection, Progress | Answer]]:
    """What arrives within a glance."""
    for ready in wait(list(busy), timeout=GLANCE):
        assert isinstance(ready, Connection)
        try:
            yield ready, ready.recv()
        except EOFError as error:
            raise LostWorkerError("a process that packs ended before its work") from error


def _work(connection: Connection) -> None:
    """Answer tasks until whoever set them is done, or gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with suppress(EOFError, ConnectionError):
        while True:
            message = connection.recv()
            if message is not None:  # else it came too late to end the last task
                task, seconds = message
                connection.send(_attempt(task, Halt.after(seconds, _asked(connection)), connection.send))


def _asked(connection: Connection) -> Callable[[], bool]:
    """Whether anything arrived; looked up now and then only, since a look takes longer than a step of a search."""
    due = monotonic()

    def asked() -> bool:
        nonlocal due
        if monotonic() < due:
            return False
        due = monotonic() + GLANCE
        return connection.poll()

    return asked
