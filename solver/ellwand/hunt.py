"""What is known so far of one fabric: the ways to make its parts that are open, and the best result of each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from ellwand.choices import Choice, area_floor, in_bolts, open_choices
from ellwand.flexible import Fitted
from ellwand.leastrun import beside, is_flexible, least_fitted, number_of_runs
from ellwand.model import Quilt
from ellwand.packing.carry import carry
from ellwand.packing.looser import loosened
from ellwand.packing.parallel import Answer
from ellwand.packing.problem import Effort, Packing, Problem, Progress, Result, Watch
from ellwand.packing.stretch import stretch
from ellwand.project.tables import Fabric, Project
from ellwand.shortage import usable_length

__all__ = ["Found", "Hunt"]

Rank = tuple[int, int, int]
_MOST_FITTED = 2  # ways of all other parts beside which strips are fitted to what is left


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
    floor: int | None  # nor can a choice that was left out, if there are such
    least_fitted: int | None  # nor can one whose strips fit what is left, if there may be such
    least: int = 0  # no choice can need less
    results: dict[int, Result] = field(default_factory=dict)
    unfinished: set[int] = field(default_factory=set)  # choices whose search was ended early, or never begun
    told: tuple[Rank, int] | None = None

    @classmethod
    def start(
        cls,
        project: Project,
        fabric: Fabric,
        *,
        as_new: bool,
        effort: Effort,
        watch: Watch | None,
        quilt: Quilt | None = None,
    ) -> Hunt:
        """Gather every choice that is open; `quilt` is what the project works out to, where that is known.

        Raises
        ------
        NoPlanError
            A piece does not go on its cloth at all.
        """
        at_length = effort is Effort.PROOF
        choices = in_bolts(open_choices(project, fabric, as_new=as_new, at_length=at_length, quilt=quilt))
        hunt = cls(
            project=project,
            fabric=fabric,
            as_new=as_new,
            watch=watch,
            choices=choices,
            floor=area_floor(project, fabric, as_new=as_new, quilt=quilt),
            least_fitted=_least_fitted(choices),
        )
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

    @property
    def steps(self) -> int:
        """Shop steps that are bought as things are."""
        return self.rank(self.best)[0]

    @property
    def least_steps(self) -> int:
        """Shop steps below which no open choice can go."""
        return self.choices[0].rank(self.least)[0]

    @property
    def enough(self) -> int:
        """The length, in marks of the ruler, that is bought with the least steps; no shorter one lets one buy less."""
        ruler = self.project.ruler
        return int(usable_length(self.fabric, self.least_steps, ruler) / ruler) if self.least_steps else 0

    @property
    def is_settled(self) -> bool:
        """Whether no choice could let one buy less, or as much with fewer joins."""
        return bool(self.results) and min(map(self.hope, range(len(self.choices))))[:2] >= self.rank(self.best)[:2]

    def carry_from(self, harder: Hunt) -> None:
        """Take the layout of another hunt, whose pieces are larger or its cloth narrower, if that is better here."""
        self._take(harder, carry)

    def stretch_from(self, easier: Hunt) -> None:
        """Take the layout of another hunt, whose pieces are smaller or its cloth wider, if that does better here."""
        self._take(easier, stretch)

    def _take(self, other: Hunt, laid_anew: Callable[[Packing, Problem, Problem], Packing | None]) -> None:
        """Lay the pieces of every choice that may gain by it as another hunt has those of its best one."""
        known, given = other.results[other.best], other.choices[other.best].job.problem
        for number, choice in enumerate(self.choices):
            if self.results and self.hope(number) >= self.rank(self.best):
                continue
            packing = laid_anew(known.packing, given, choice.job.problem)
            if packing is None or choice.fails(packing.length):
                continue
            if not self.results or choice.rank(packing.length) < self.rank(self.best):
                self.results[number] = replace(known, packing=packing, bound=choice.bound, settled=False)
                self.tell(self.rank(self.best), packing.length, known.method)

    def in_order(self) -> list[int]:
        """All choices, the most promising first; but before all one that is sure to give a plan."""
        ranked = sorted(range(len(self.choices)), key=self.hope)
        sure = next(number for number in ranked if not self.choices[number].held)
        return ranked if not self.choices[ranked[0]].held else [sure, *(each for each in ranked if each != sure)]

    def may_win(self, number: int) -> bool:
        """Whether more work on a choice could give a better plan than there is."""
        return not self.results or self.hope(number) < self.rank(self.best)

    def find_least(self) -> None:
        """Work out the bound, with the better ones of choices whose layouts were all looked through."""
        bounds = [
            self.results[number].bound.length if number in self.results else choice.bound.length
            for number, choice in enumerate(self.choices)
        ]
        open_ = [bound for bound, choice in zip(bounds, self.choices, strict=True) if not choice.fails(bound)]
        self.least = min(bound for bound in (*open_, self.floor, self.least_fitted) if bound is not None)

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


def _least_fitted(choices: Sequence[Choice]) -> int | None:
    """What no choice can go below whose strips fit what is left; those that would fail so left out."""
    sources: dict[object, list[Choice]] = {}
    for choice in choices:
        sources.setdefault(choice.job.fabric.only, []).append(choice)
    least = [(of[0], least_fitted(of)) for of in sources.values()]
    return min((length for choice, length in least if length is not None and not choice.fails(length)), default=None)
