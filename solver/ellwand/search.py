"""The search for the best way to make the parts of each fabric: which choices are packed, how hard, and in which order.

Every fabric is looked at quickly first, so that there is a plan of all whenever the search is ended. Then its most
promising choice gets all the effort that is wanted, then the others that could still be better.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial

from ellwand.choices import Choice, least_of, open_choices
from ellwand.flexible import Fitted, fit_runs
from ellwand.leastrun import beside, is_flexible, least_fitted, number_of_runs
from ellwand.packing.halt import Halt
from ellwand.packing.looser import carried, loosened
from ellwand.packing.parallel import Answer, Crew, Listener, Task, solve_in_turn
from ellwand.packing.problem import Bound, Effort, Packing, Problem, Progress, Result, Watch
from ellwand.project.tables import Fabric, Project

__all__ = ["Enough", "Found", "Hunt", "Means", "Memory", "search"]

Enough = Callable[[Fabric, Fraction, Fraction], bool]
Memory = MutableMapping[tuple[Problem, Effort, int], Result]
Rank = tuple[int, int, int]
_MOST_LOOKS = 12  # choices that are packed at all
_MOST_TRIED = 3  # choices that get more than a quick look
_MOST_FITTED = 2  # ways of all other parts beside which strips are fitted to what is left


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
    enough: Enough | None = None

    def content(self, hunt: Hunt) -> bool:
        """Whether what is known of a fabric is good enough."""
        if self.enough is None:
            return False
        ruler = hunt.project.ruler
        return self.enough(hunt.fabric, hunt.results[hunt.best].packing.length * ruler, hunt.least * ruler)


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The best choice for a fabric with its packing.

    `bound`, in marks of the ruler, holds for every choice that was open. `cut_short`: the search was ended early,
    and what was left out might have been better. `looser` has the choice's problem with ever more freedom to cut, and
    what was found then.
    """

    choice: Choice
    result: Result
    bound: int
    cut_short: bool
    looser: tuple[tuple[Problem, Result], ...] = ()


@dataclass(slots=True, eq=False, kw_only=True)
class Hunt:
    """All that is known so far of one fabric: its choices, and by their numbers the best result of each."""

    project: Project
    fabric: Fabric
    as_new: bool
    watch: Watch | None
    choices: tuple[Choice, ...]
    least_fitted: int | None  # nor can one whose strips fit what is left, if there may be such
    least: int = 0  # no choice can need less
    results: dict[int, Result] = field(default_factory=dict)
    unfinished: set[int] = field(default_factory=set)  # choices whose search was ended early, or never begun
    told: tuple[Rank, int] | None = None

    @classmethod
    def start(cls, project: Project, fabric: Fabric, *, as_new: bool, effort: Effort, watch: Watch | None) -> Hunt:
        """Gather every choice that is open.

        Raises
        ------
        NoPlanError
            A piece does not go on its cloth at all.
        """
        choices = open_choices(project, fabric, as_new=as_new, at_length=effort is Effort.PROOF)
        fitted = least_fitted(choices)
        hunt = cls(project=project, fabric=fabric, as_new=as_new, watch=watch, choices=choices, least_fitted=fitted)
        hunt.find_least()
        return hunt

    @property
    def best(self) -> int:
        """The choice that does best so far, the first met of equals."""
        return min(self.results, key=self.rank)

    def rank(self, number: int) -> Rank:
        """How well a choice does so far."""
        return self.choices[number].rank(self.results[number].packing.length)

    def hope(self, number: int) -> Rank:
        """How well a choice could do at the very best."""
        choice = self.choices[number]
        known = self.results.get(number)
        return choice.rank(known.bound.length if known else choice.bound.length)

    def may_win(self, number: int) -> bool:
        """Whether more work on a choice could give a better plan than there is."""
        return not self.results or self.hope(number) < self.rank(self.best)

    def find_least(self) -> None:
        """Work out the bound, with the better ones of choices whose layouts were all looked through."""
        raised = [
            replace(choice, bound=self.results[number].bound) if number in self.results else choice
            for number, choice in enumerate(self.choices)
        ]
        least = least_of(self.project, self.fabric, raised, as_new=self.as_new)
        self.least = least if self.least_fitted is None else min(least, self.least_fitted)

    def to_fit(self) -> list[Choice]:
        """Choices that may take strips of what is left: that which does best, or could, then those with most of them.

        Of choices that are alike beside these strips one is enough.
        """
        numbers = range(len(self.choices))
        ranked = sorted(numbers, key=lambda number: self.rank(number) if number in self.results else self.hope(number))
        differing: dict[object, Choice] = {}
        for choice in filter(is_flexible, [self.choices[number] for number in ranked]):
            differing.setdefault(beside(choice), choice)
        found = list(differing.values())
        return [*found[:1], *sorted(found[1:], key=number_of_runs, reverse=True)][:_MOST_FITTED]

    def add(self, fitted: Fitted) -> int:
        """Take in a choice that was made for a layout; its number."""
        choice, packing = fitted.choice, fitted.packing
        self.choices = (*self.choices, choice)
        self.find_least()
        settled = packing.length <= choice.bound.length
        result = Result(packing=packing, bound=choice.bound, method="strips of what is left", settled=settled)
        self.note(len(self.choices) - 1, Answer(result=result, cut_short=False))
        return len(self.choices) - 1

    def note(self, number: int, answer: Answer) -> None:
        """Take in what was found of a choice, and tell of it."""
        known = self.results.get(number)
        if known is None or answer.result.packing.length <= known.packing.length:
            self.results[number] = answer.result
        if not answer.cut_short:
            self.unfinished.discard(number)
        if self.results[number].bound.length > self.choices[number].bound.length:
            self.find_least()
        best = self.results[self.best]
        self.tell(self.rank(self.best), best.packing.length, best.method)

    def hear(self, number: int, progress: Progress) -> None:
        """Take in that the search of a choice moved, and tell of it if that is the best so far."""
        rank = self.choices[number].rank(progress.length)
        if not self.results or rank < self.rank(self.best):
            self.tell(rank, progress.length, progress.method)

    def tell(self, rank: Rank, length: int, method: str) -> None:
        """Tell whoever watches, unless that is no news."""
        if self.watch is not None and (self.told is None or rank < self.told[0] or self.least > self.told[1]):
            self.told = (rank, self.least)
            self.watch(Progress(length=length, bound=self.least, method=method))

    def loosened(self) -> tuple[Problem, ...]:
        """The best choice with more freedom to cut; nothing where that could not let less be bought."""
        choice, length = self.choices[self.best], self.results[self.best].packing.length
        least, steps = choice.rank(choice.bound.length)[0], choice.rank(length)[0]  # that bound holds for all cuts
        return loosened(choice.job.problem) if least < steps else ()

    def found(self) -> Found:
        """The best so far."""
        return Found(
            choice=self.choices[self.best],
            result=self.results[self.best],
            bound=self.least,
            cut_short=any(map(self.may_win, self.unfinished)),
        )


Wanted = tuple[Hunt, int]  # a choice of a fabric


def search(hunts: Sequence[Hunt], means: Means) -> tuple[Found, ...]:
    """The best choice of every fabric, in the order of `hunts`.

    What is packed follows from the packings before it alone, never from how many processes there are.
    """
    with Crew(size=means.workers) as crew:
        run = _Run(means, crew)
        for number, hunt in enumerate(hunts):
            run.look(hunt, later=len(hunts) - 1 - number)
        if means.effort is not Effort.QUICK:
            run.work(hunts)
        looser = run.loosen(hunts) if means.looser and means.effort is not Effort.QUICK else {}
    return tuple(replace(hunt.found(), looser=looser.get(hunt, ())) for hunt in hunts)


@dataclass(frozen=True, slots=True)
class _Run:
    """One search over all fabrics."""

    means: Means
    crew: Crew

    def look(self, hunt: Hunt, later: int) -> None:
        """Pack the most promising choices quickly.

        Left out are those that would be no better even at their least, and all beyond the number that is looked at.
        """
        for number in sorted(range(len(hunt.choices)), key=hunt.hope)[:_MOST_LOOKS]:
            if hunt.may_win(number):
                self.solve([(hunt, number)], Effort.QUICK, later)
        self.fit(hunt, later)

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
        rest = [(hunt, number) for hunt, number in rest if hunt.may_win(number) and not self.means.content(hunt)]
        self.solve(rest, self.means.effort, 0)

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
                results = carried(hunt.results[hunt.best], (memory[_key(task)] for task in some))
                found[hunt] = tuple(zip((task.problem for task in some), results, strict=True))
        return found

    def remember(self, answers: Mapping[Task, Answer]) -> None:
        """Keep what was searched to the end."""
        for task, answer in answers.items():
            if not answer.cut_short:
                self.means.memory[_key(task)] = answer.result

    def solve(self, wanted: Sequence[Wanted], effort: Effort, later: int) -> None:
        """Pack choices, each problem once; problems known from before not at all."""
        pairs: dict[Task, list[Wanted]] = {}
        for hunt, number in wanted:
            choice = hunt.choices[number]
            task = Task(problem=choice.job.problem, bound=choice.bound, effort=effort, seed=self.means.seed)
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


def _key(task: Task) -> tuple[Problem, Effort, int]:
    return task.problem, task.effort, task.seed


def _is_settled(hunt: Hunt, number: int) -> bool:
    """Whether a choice was packed, and cannot be packed better."""
    return number in hunt.results and hunt.results[number].settled
