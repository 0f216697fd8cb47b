"""The search for the best way to make the parts of each fabric: which choices are packed, how hard, and in which order.

Every fabric is looked at quickly first, so that there is a plan of all whenever the search is ended. Then its most
promising choice gets all the effort that is wanted, then the others that could still be better.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial

from ellwand.flexible import fit_runs
from ellwand.hunt import Found, Hunt
from ellwand.packing.halt import Halt
from ellwand.packing.looser import never_longer
from ellwand.packing.parallel import Answer, Crew, Listener, Task, solve_in_turn
from ellwand.packing.problem import Bound, Effort, Packing, Problem, Progress, Result
from ellwand.project.tables import Fabric

__all__ = ["Enough", "Means", "Memory", "answers_of", "search"]

Enough = Callable[[Fabric, Fraction, Fraction], bool]
Memory = MutableMapping[tuple[Problem, Effort, int, int], Result]  # by problem, effort, seed and what is enough
_MOST_LOOKS = 12  # choices that are packed at all
_MOST_TRIED = 3  # choices that get more than a quick look
_MORE_LOOKS = 4  # quick looks with other random choices, where these stand for more effort
_FEW = 2  # problems worth to be packed side by side where processes are there already
_MANY = 24  # problems for which it is worth while to start processes for a quick look


@dataclass(frozen=True, slots=True, kw_only=True)
class Means:
    """How problems are solved.

    Parameters
    ----------
    effort, seed
        As of a plan.
    halt
        Ends all searches early.
    workers
        Processes that solve side by side, where there is work for more than one; the answers are the same.
    memory
        Results by problem, read and filled.
    looser
        Whether to look at what more freedom to cut would save, where less might be bought by it.
    thrifty
        Whether to leave a fabric at a quick look once no less of it can be bought, and to work on those ways of making
        its parts alone that could let one buy less, until they do.
    brief
        Whether to work by a few more quick looks, with other random choices, in place of all the effort.
    enough
        Whether a needed length of a fabric, inches, is good enough in view of its bound, so that nobody looks on.
        None: nothing but the bound itself is.
    """

    effort: Effort
    seed: int
    halt: Halt
    workers: int
    memory: Memory
    looser: bool = False
    thrifty: bool = False
    brief: bool = False
    enough: Enough | None = None

    def content(self, hunt: Hunt) -> bool:
        """Whether what is known of a fabric is good enough."""
        if self.thrifty and hunt.steps <= hunt.least_steps:
            return True
        if self.enough is None:
            return False
        ruler = hunt.project.ruler
        return self.enough(hunt.fabric, hunt.results[hunt.best].packing.length * ruler, hunt.least * ruler)

    def worth(self, hunt: Hunt, number: int) -> bool:
        """Whether one more way to make a fabric's parts gets more than a quick look."""
        if not hunt.may_win(number) or self.content(hunt):
            return False
        return not self.thrifty or hunt.hope(number)[0] < hunt.steps


Wanted = tuple[Hunt, int]  # a choice of a fabric


def search(hunts: Sequence[Hunt], means: Means, crew: Crew | None = None) -> tuple[Found, ...]:
    """The best choice of every fabric, in the order of `hunts`.

    What is packed follows from the packings before it alone, never from how many processes there are. Processes that
    are there already may be lent as a `crew`.
    """
    with nullcontext(crew) if crew else Crew(size=means.workers) as crew:
        run = _Run(means, crew)
        run.look(hunts)
        if means.effort is not Effort.QUICK:
            (run.look_again if means.brief else run.work)(hunts)
        looser = run.loosen(hunts) if means.looser and means.effort is not Effort.QUICK else {}
    return tuple(replace(hunt.found(), looser=looser.get(hunt, ())) for hunt in hunts)


def answers_of(tasks: Sequence[Task], means: Means, crew: Crew) -> dict[Task, Result]:
    """What is found of single problems, known ones from the memory; those that were not begun are left out."""
    run = _Run(means, crew)
    wanted = list(dict.fromkeys(task for task in tasks if _key(task) not in means.memory))
    answers = run._solved(wanted, lambda *_: None, hard=len(wanted))
    run.remember(answers)
    found = {task: answer.result for task, answer in answers.items()}
    return {task: means.memory[_key(task)] for task in tasks if _key(task) in means.memory} | found


@dataclass(frozen=True, slots=True)
class _Run:
    """One search over all fabrics."""

    means: Means
    crew: Crew

    def look(self, hunts: Sequence[Hunt]) -> None:
        """Pack the most promising choices of each fabric quickly, the first of all, then the second.

        Left out are those that would be no better even at their least, and all beyond the number that is looked at.
        """
        waiting = [(hunt, iter(hunt.in_order()[:_MOST_LOOKS])) for hunt in hunts]
        while wanted := [
            (hunt, number)
            for hunt, numbers in waiting
            if (number := next(filter(partial(self.is_worth_a_look, hunt), numbers), None)) is not None
        ]:
            self.foresee(wanted)
            for place, one in enumerate(wanted):
                self.solve([one], Effort.QUICK, len(wanted) - 1 - place)
        for place, hunt in enumerate(hunts):
            self.fit(hunt, later=len(hunts) - 1 - place)

    def is_worth_a_look(self, hunt: Hunt, number: int) -> bool:
        """Whether a choice could still be better than what there is."""
        return hunt.may_win(number) and not (self.means.thrifty and hunt.is_settled)

    def foresee(self, wanted: Sequence[Wanted]) -> None:
        """Where there is much to be looked at, or processes are there already, pack it side by side for the memory."""
        memory, tasks = self.means.memory, dict[Task, None]()
        for hunt, number in wanted if self.means.workers > 1 else ():
            choice = hunt.choices[number]
            task = Task(problem=choice.job.problem, bound=choice.bound, effort=Effort.QUICK, seed=self.means.seed)
            if _key(task) not in memory:
                tasks[task] = None
        if len(tasks) >= (_FEW if self.crew.started else _MANY) and not self.means.halt.now:
            self.remember(self._solved(list(tasks), lambda *_: None, hard=len(tasks)))

    def fit(self, hunt: Hunt, later: int) -> None:
        """Look for strips in what the other pieces leave, and pack all again with these."""
        for choice in [] if self.means.halt.now else hunt.to_fit():
            for fitted in fit_runs(choice, hunt.rank(hunt.best), partial(self.pack, later=later)):
                self.solve([(hunt, hunt.add(fitted))], Effort.QUICK, later)

    def pack(self, problem: Problem, bound: Bound, *, later: int) -> Packing:
        """A quick packing of a problem that is no choice."""
        task = Task(problem=problem, bound=bound, effort=Effort.QUICK, seed=self.means.seed)
        if _key(task) not in self.means.memory:
            answers = solve_in_turn([task], must=True, halt=self.means.halt, later=later, watch=lambda *_: None)
            if answers[task].cut_short:
                return answers[task].result.packing
            self.means.memory[_key(task)] = answers[task].result
        return self.means.memory[_key(task)].packing

    def work(self, hunts: Sequence[Hunt]) -> None:
        """Pack the choices that do best with all the effort that is wanted: the best of each fabric, then the rest."""
        hunts = [hunt for hunt in hunts if not self.means.content(hunt)]
        tried = {hunt: sorted(hunt.results, key=hunt.rank)[:_MOST_TRIED] for hunt in hunts}
        rest = [(hunt, number) for hunt, numbers in tried.items() for number in numbers[1:] if hunt.may_win(number)]
        first = [(hunt, hunt.best) for hunt in hunts if hunt.results[hunt.best].bound.searched is None]
        self.solve(first, self.means.effort, len(rest))
        self.solve([(hunt, number) for hunt, number in rest if self.means.worth(hunt, number)], self.means.effort, 0)

    def look_again(self, hunts: Sequence[Hunt]) -> None:
        """Pack what does best so far quickly with other random choices, as long as that could gain."""
        for again in range(1, _MORE_LOOKS + 1):
            wanted = [(hunt, hunt.best) for hunt in hunts if self.means.worth(hunt, hunt.best)]
            if not self.means.halt.now:
                self.solve(wanted, Effort.QUICK, 0, again=again)

    def loosen(self, hunts: Sequence[Hunt]) -> dict[Hunt, tuple[tuple[Problem, Result], ...]]:
        """Pack the best choice of each fabric with more freedom to cut, wherever there was time for all of it."""
        effort, seed, memory = self.means.effort, self.means.seed, self.means.memory
        tasks = {
            hunt: [
                Task(problem=problem, bound=hunt.choices[hunt.best].bound, effort=effort, seed=seed)
                for problem in hunt.loosened()
            ]
            for hunt in hunts
        }
        wanted = dict.fromkeys(task for some in tasks.values() for task in some if _key(task) not in memory)
        self.remember(self._solved(list(wanted), lambda *_: None, hard=len(wanted)))
        found = {}
        for hunt, some in tasks.items():
            if all(_key(task) in memory for task in some):
                results = never_longer(hunt.results[hunt.best], (memory[_key(task)] for task in some))
                found[hunt] = tuple(zip((task.problem for task in some), results, strict=True))
        return found

    def remember(self, answers: Mapping[Task, Answer]) -> None:
        """Keep what was searched to the end."""
        for task, answer in answers.items():
            if not answer.cut_short:
                self.means.memory[_key(task)] = answer.result

    def solve(self, wanted: Sequence[Wanted], effort: Effort, later: int, *, again: int = 0) -> None:
        """Pack choices, each problem once; problems known from before not at all.

        More than a first quick look ends early once it has found what is wanted. `again` counts looks before.
        """
        gains = self.means.thrifty and (again > 0 or effort is not Effort.QUICK)
        pairs: dict[Task, list[Wanted]] = {}
        for hunt, number in wanted:
            choice = hunt.choices[number]
            task = Task(
                problem=choice.job.problem,
                bound=choice.bound,
                effort=effort,
                seed=self.means.seed + again,
                enough=hunt.enough if gains and not choice.held else 0,
            )
            pairs.setdefault(task, []).append((hunt, number))
            hunt.unfinished.add(number)
        memory = self.means.memory
        known = {task: memory[key] for task in pairs if (key := _key(task)) in memory}
        answers = self._answers([task for task in pairs if task not in known], pairs, later)
        self.remember(answers)
        answers |= {task: Answer(result=result, cut_short=False) for task, result in known.items()}
        for task, wanting in pairs.items():
            for hunt, number in wanting if task in answers else ():
                hunt.note(number, answers[task])

    def _answers(self, tasks: Sequence[Task], pairs: dict[Task, list[Wanted]], later: int) -> dict[Task, Answer]:
        """Solve `tasks`: in processes of their own where more than one is hard, else here.

        A fabric without any layout gets its first whatever happens.
        """

        def hear(task: Task, progress: Progress) -> None:
            for hunt, number in pairs[task]:
                hunt.hear(number, progress)

        hard = sum(not all(_is_settled(hunt, number) for hunt, number in pairs[task]) for task in tasks)
        must = any(not hunt.results for wanted in pairs.values() for hunt, _ in wanted)
        return self._solved(tasks, hear, hard=hard, later=later, must=must)

    def _solved(
        self, tasks: Sequence[Task], watch: Listener, *, hard: int, later: int = 0, must: bool = False
    ) -> dict[Task, Answer]:
        """Solve `tasks`, side by side where so many as are `hard` make it worth while; the first if any `must`."""
        halt, timed = self.means.halt, self.means.halt.left is not None
        # Few items first leave their time to the others; without a clock, many first end sooner side by side.
        ordered = sorted(tasks, key=lambda task: len(task.problem.items), reverse=not timed)
        if self.means.workers > 1 and hard > 1 and not must:
            return self.crew.solve(ordered, halt=halt, later=later, watch=watch)
        return solve_in_turn(ordered, must=must, halt=halt, later=later, watch=watch)


def _key(task: Task) -> tuple[Problem, Effort, int, int]:
    return task.problem, task.effort, task.seed, task.enough


def _is_settled(hunt: Hunt, number: int) -> bool:
    """Whether a choice was packed, and cannot be packed better."""
    return number in hunt.results and hunt.results[number].settled
