"""Several problems in turn or side by side: equal answers, ended early, and none left to run alone."""

from __future__ import annotations

import os
import signal
from random import Random

import pytest

from ellwand.packing import parallel
from ellwand.packing.bound import lower_bound
from ellwand.packing.halt import Halt
from ellwand.packing.parallel import Crew, LostWorkerError, Task, solve_in_turn
from ellwand.packing.problem import Effort, Item, Problem, Progress, Stock


def task(*sizes: tuple[int, int, int], effort: Effort = Effort.QUICK) -> Task:
    """Items (w, h, demand) on a stock 43 wide."""
    items = tuple(Item(w=w, h=h, demand=demand, turnable=True) for w, h, demand in sizes)
    problem = Problem(items=items, stocks=(Stock(w=43, h=None),), guillotine=True, stages=3)
    return Task(problem=problem, bound=lower_bound(problem), effort=effort, seed=0)


EASY = [task((5, 7, number), (9, 4, 3)) for number in (6, 7, 8)]

# Forty items, all different: no search at full effort ends within seconds.
DRAW = Random(7)
LONG = [task(*((DRAW.randint(4, 20), 20 + number, 1) for number in range(40)), effort=Effort.PROOF) for _ in range(3)]


class Log(list[tuple[Task, Progress]]):
    """Keeps what it is told."""

    def hear(self, task: Task, progress: Progress) -> None:
        """One more entry."""
        self.append((task, progress))


def test_side_by_side_is_as_in_turn() -> None:
    """Equal answers, equal news of each task, whatever the number of processes; one crew serves again and again."""
    alone, apart = Log(), Log()
    answers = solve_in_turn(EASY, halt=Halt(), later=0, watch=alone.hear)

    with Crew(size=2) as crew:
        found = crew.solve(EASY, halt=Halt(), later=0, watch=apart.hear)
        again = crew.solve(EASY[:1], halt=Halt(), later=0, watch=Log().hear)

    assert found == answers
    assert again == {EASY[0]: answers[EASY[0]]}
    assert not any(answer.cut_short for answer in answers.values())
    for one in EASY:
        assert [news for about, news in apart if about == one] == [news for about, news in alone if about == one]
    assert {about for about, _ in apart} == set(EASY)


def test_side_by_side_ends_when_asked() -> None:
    """Whoever asks once searches have moved gets the best so far of those at work; the others are not begun."""
    log = Log()

    with Crew(size=2) as crew:
        answers = crew.solve(LONG, halt=Halt(stop=lambda: len(log) > 0), later=0, watch=log.hear)

    assert set(answers) == set(LONG[:2])
    assert all(answer.cut_short for answer in answers.values())


def test_in_turn_ends_when_asked() -> None:
    """The task at work gives the best so far; the others are not begun."""
    log = Log()

    answers = solve_in_turn(LONG, halt=Halt(stop=lambda: len(log) > 0), later=0, watch=log.hear)

    assert set(answers) == set(LONG[:1])
    assert answers[LONG[0]].cut_short


def test_a_halt_that_came_before_leaves_nothing_but_what_must_be() -> None:
    """No task is begun, save the first where it must be answered."""
    log, halt = Log(), Halt(stop=lambda: True)

    assert solve_in_turn(LONG, halt=halt, later=0, watch=log.hear) == {}
    with Crew(size=2) as crew:
        assert crew.solve(LONG, halt=halt, later=0, watch=log.hear) == {}
    assert log == []
    assert set(solve_in_turn(LONG, must=True, halt=halt, later=0, watch=log.hear)) == set(LONG[:1])


def test_work_that_is_done_was_not_cut_short() -> None:
    """A layout that meets its bound is as good with all the time of the world."""
    answers = solve_in_turn([task((43, 5, 9))], must=True, halt=Halt(stop=lambda: True), later=0, watch=Log().hear)

    assert [answer.cut_short for answer in answers.values()] == [False]


@pytest.mark.parametrize(
    ("tasks", "workers", "seconds"),
    [
        (1, 1, 12),
        (3, 1, 4),
        (3, 2, 6),  # two at once, then one
        (4, 2, 6),
        (5, 2, 4),
        (1, 2, 12),
    ],
)
def test_a_clock_is_shared(monkeypatch: pytest.MonkeyPatch, tasks: int, workers: int, seconds: int) -> None:
    """The time that is left is for all turns that the workers have still to take."""
    monkeypatch.setattr("ellwand.packing.halt.monotonic", lambda: 100.0)

    assert parallel._share(Halt.after(12), tasks, workers) == seconds
    assert parallel._share(Halt(), tasks, workers) is None


def test_a_clock_ends_the_search() -> None:
    """Each task gets some of the time, and says that it was cut short."""
    answers = solve_in_turn(LONG[:2], must=True, halt=Halt.after(0.6), later=0, watch=Log().hear)

    assert LONG[0] in answers
    assert all(answer.cut_short for answer in answers.values())


def test_a_process_that_was_ended_is_missed() -> None:
    """An error says so, instead of waiting for ever."""
    with Crew(size=1) as crew:
        crew.solve(EASY[:1], halt=Halt(), later=0, watch=Log().hear)
        ((process, _),) = crew._members
        assert process.pid is not None

        def end(about: Task, progress: Progress) -> None:
            os.kill(process.pid or 0, signal.SIGKILL)

        with pytest.raises(LostWorkerError):
            crew.solve(LONG[:1], halt=Halt(), later=0, watch=end)


def test_nothing_is_left_to_run() -> None:
    """An error amid the work ends the processes at once, whatever they do."""

    def fail(about: Task, progress: Progress) -> None:
        raise ValueError("enough")

    crew = Crew(size=2)
    with pytest.raises(ValueError, match="enough"), crew:
        crew.solve(LONG, halt=Halt(), later=0, watch=fail)
    assert crew._members == []


def test_processes_do_not_hear_interrupts() -> None:
    """Ctrl-C goes to every process of a terminal; those that pack leave it to the one that started them."""
    with Crew(size=1) as crew:
        crew.solve(EASY[:1], halt=Halt(), later=0, watch=Log().hear)
        ((process, _),) = crew._members
        os.kill(process.pid or 0, signal.SIGINT)

        assert set(crew.solve(EASY[1:2], halt=Halt(), later=0, watch=Log().hear)) == {EASY[1]}
