"""What is bought of one fabric as a value varies, and where exactly it changes.

The values come in order, the one that asks for least first. More is never needed at an easier value: a layout for a
harder one holds the pieces of every easier one, and is carried down to it wherever straight cuts allow. So the steps
that are bought are found by halving between values that differ. Where the bound leaves it open whether a harder
value could do with less, the first such value gets a few more quick looks; if that gains, the middle of the doubt
that is left. The doubt that is left then gets all the effort that is wanted, in the same way; with careful effort
only a few values do, the widest doubt of all fabrics first::

    steps      +-----o  found at a quick look
       4       |?       the bound allows 3 up to here: tried where it begins
       3  -----+
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from itertools import pairwise

from ellwand.hunt import Found, Hunt
from ellwand.packing.parallel import Crew
from ellwand.packing.problem import Effort
from ellwand.search import Means, search

__all__ = ["Curve", "Step", "find_steps", "last_that", "look_at_all", "widest", "work"]

_MOST_HARD = 3  # values, of all fabrics together, that get all of careful effort
_STRIDE = 8  # values from one that is looked at to the next, at first


@dataclass(slots=True, eq=False, kw_only=True)
class Curve:
    """The hunts of one fabric by the number of the value, in the order of `values`; `start` begins one."""

    values: tuple[Fraction, ...]
    start: Callable[[Fraction], Hunt]
    begun: dict[int, Hunt] = field(default_factory=dict)
    looked: set[int] = field(default_factory=set)
    tried: set[int] = field(default_factory=set)  # with a few more quick looks
    worked: set[int] = field(default_factory=set)  # with all the effort

    def hunt(self, number: int) -> Hunt:
        """The hunt at a value; it may have no layout yet."""
        if number not in self.begun:
            self.begun[number] = self.start(self.values[number])
        return self.begun[number]

    def steps(self, number: int) -> int:
        """What is bought at a value that was looked at, in the shop's steps."""
        return self.begun[number].steps

    def order(self) -> None:
        """Let the value that needs least come first: it may be the largest, as the width of a cloth is."""
        first, last = min(self.looked), max(self.looked)
        before, after = self.begun[first], self.begun[last]
        if (before.steps, before.rank(before.best)[2]) > (after.steps, after.rank(after.best)[2]):
            end = len(self.values) - 1
            self.values = self.values[::-1]
            self.begun = {end - number: hunt for number, hunt in self.begun.items()}
            self.looked = {end - number for number in self.looked}

    def carry(self) -> None:
        """Carry layouts down to every easier value that has no better one.

        That of the next harder one, and the best of all harder ones, in case straight cuts forbid a step between.
        """
        numbers = sorted(self.looked, reverse=True)
        best = self.begun[numbers[0]]
        for harder, easier in pairwise(numbers):
            hunt = self.begun[easier]
            for other in dict.fromkeys((self.begun[harder], best)):
                hunt.carry_from(other)
            best = min(hunt, best, key=lambda one: one.rank(one.best))

    def spread(self) -> None:
        """Carry layouts down, and stretch each to what comes after it, as far as it goes for what is bought there."""
        self.carry()
        for before, after in pairwise(sorted(self.looked)):
            if self.steps(before) < self.steps(after):
                room = len(self.values) - before - 1
                last = last_that(room, partial(self._stretched, before))
                if last >= 0:
                    self.looked.add(before + 1 + last)
        self.carry()

    def _stretched(self, easier: int, between: int) -> bool:
        """Whether no more is bought so many values after an easier one, now that its layout was tried there."""
        hunt = self.hunt(easier + 1 + between)
        hunt.stretch_from(self.begun[easier])
        return bool(hunt.results) and hunt.steps <= self.steps(easier)

    def carry_over(self, spared: Curve) -> None:
        """Carry down the layouts of the same fabric's curve on less cloth, each to the nearest easier value."""
        rising = 1 if spared.values[0] <= spared.values[-1] else -1
        harder = sorted(spared.looked)
        for number in self.looked:
            value = self.values[number]
            nearest = next((at for at in harder if spared.values[at] * rising >= value * rising), None)
            if nearest is not None:
                self.begun[number].carry_from(spared.begun[nearest])
        self.spread()

    def unseen(self) -> Iterator[int]:
        """Middles between values looked at, where the layout of the harder one does not serve as well as it could.

        Where the ends need the same, layouts are carried in between; what they serve needs no look of its own.
        """
        for before, after in pairwise(sorted(self.looked)):
            easier, harder = self.begun[before], self.begun[after]
            rank = easier.rank(easier.best)
            between = list(range(after - 1, before, -1))
            if rank == harder.rank(harder.best) and harder.results[harder.best].bound.searched is None:
                for number in between:
                    self.hunt(number).carry_from(harder)
                self.looked.update(number for number in between if self._ranks(number, rank))
                between = [number for number in between if number not in self.looked]
            yield from between[len(between) // 2 : len(between) // 2 + 1]

    def _ranks(self, number: int, rank: tuple[int, int, int]) -> bool:
        """Whether a value has a layout that does so well."""
        hunt = self.begun[number]
        return bool(hunt.results) and hunt.rank(hunt.best) <= rank

    @property
    def in_vain(self) -> bool:
        """Whether some value had all the effort, and less might still do there."""
        return any(self.hunt(number).least_steps < self.steps(number) for number in self.worked)

    def gaps(self) -> Iterator[int]:
        """Middles between values looked at between which what is bought changes."""
        for before, after in pairwise(sorted(self.looked)):
            if after - before > 1 and self.steps(before) != self.steps(after):
                yield (before + after) // 2

    def doubtful(self, done: Set[int]) -> Iterator[tuple[int, int]]:
        """Values at which less might do than was found, not `done` yet, each after how many values of doubt it has.

        That is where more begins to be bought: what cannot be done there cannot be done at a harder value. Where it
        could, the middle of the doubt is next.
        """
        looked = sorted(self.looked)
        for before, after in [*pairwise(looked), (-1, looked[0])]:  # the first value last: nothing changes there
            if before >= 0 and (after > before + 1 or self.steps(before) == self.steps(after)):
                continue
            wanted = self.steps(after) - 1
            failed = (number for number in sorted(done) if number >= after and self.steps(number) > wanted)
            top = self._last_hope(after, next(failed, len(self.values)) - 1, wanted)
            number = (after + top) // 2 if before in done else after
            if top >= after and number not in done:
                yield top - after + 1, number

    def _last_hope(self, first: int, last: int, wanted: int) -> int:
        """The last value up to `last` whose bound lets so few steps be bought; one before `first` if none does."""
        low, high = first - 1, last
        while low < high:
            middle = (low + high + 1) // 2
            if self.hunt(middle).least_steps <= wanted:
                low = middle
            else:
                high = middle - 1
        return low


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The hardest value for what is bought there, and the next one, for which that was not found enough.

    `after` is None where the values end. `proven`: the next value cannot do with as little.
    """

    value: Fraction
    found: Found
    beyond: Fraction | None
    after: Found | None
    proven: bool


def look_at_all(curves: Sequence[Curve], means: Means, crew: Crew) -> None:
    """Have a layout at every value of every curve, by quick looks."""
    _look(curves, [{*range(0, len(curve.values), _STRIDE), len(curve.values) - 1} for curve in curves], means, crew)
    for curve in curves:
        curve.order()
        curve.spread()
    while any(wanted := [set(curve.unseen()) for curve in curves]):
        _look(curves, wanted, means, crew)
        for curve in curves:
            curve.spread()


def find_steps(curves: Sequence[Curve], means: Means, crew: Crew) -> list[list[Step]]:
    """Where what is bought changes along each curve, exactly as far as the search comes to its end."""
    _look(curves, [{0, len(curve.values) - 1} for curve in curves], means, crew)
    for curve in curves:
        curve.order()
        curve.spread()
    _halve(curves, means, crew)
    work(curves, means, crew)
    return [list(_steps(curve)) for curve in curves]


def widest(curves: Sequence[Curve], allowed: Sequence[int], means: Means, crew: Crew) -> int:
    """The number of the last value at which no curve takes more steps than it is allowed; −1 where there is none.

    All curves have the same values, in order, the easiest first. Those between which it lies are looked at, and the
    one after it, if there is one, even when time is up: what is found then is less, but no value is left out unseen.
    """

    def may_fit(number: int) -> bool:
        return all(curve.hunt(number).least_steps <= steps for curve, steps in zip(curves, allowed, strict=True))

    count = len(curves[0].values)
    refuted = last_that(count, may_fit) + 1
    means = replace(means, thrifty=True)
    quick = replace(means, effort=Effort.QUICK)
    fits, over = _between(curves, allowed, (-1, refuted), quick, crew)
    if means.effort is not Effort.QUICK:
        fits, over = _between(curves, allowed, (fits, refuted), replace(means, brief=True), crew)
        fits, over = _between(curves, allowed, (fits, refuted), means, crew)
        fits, over = _between(curves, allowed, (fits, over), quick, crew)  # what is left open when time is up
    while over < count:
        for curve in curves if fits >= 0 else ():
            curve.hunt(over).stretch_from(curve.hunt(fits))
        search([curve.hunt(over) for curve in curves], quick, crew)
        if not _all_fit(curves, allowed, over):
            break
        fits, over = over, over + 1  # what is known by now led to a better layout there
    return fits


def _between(
    curves: Sequence[Curve], allowed: Sequence[int], ends: tuple[int, int], means: Means, crew: Crew
) -> tuple[int, int]:
    """The last value that fits, and the first that does not, closer than the `ends`, found by halving.

    A quick look comes to its end; with more, the value after the last that fits comes first, and time may be up.
    """
    fits, over = ends
    gained = means.effort is Effort.QUICK
    while over - fits > 1 and (means.effort is Effort.QUICK or not means.halt.now):
        middle = (fits + over) // 2 if gained else fits + 1
        search([curve.hunt(middle) for curve in curves], means, crew)
        for curve in curves:
            curve.looked.add(middle)
            curve.spread()
        gained = _all_fit(curves, allowed, middle)
        fits, over = (middle, over) if gained else (fits, middle)
        gained = gained or means.effort is Effort.QUICK
    return fits, over


def _all_fit(curves: Sequence[Curve], allowed: Sequence[int], number: int) -> bool:
    """Whether no curve takes more steps at a value that was looked at than it is allowed."""
    return all(curve.steps(number) <= steps for curve, steps in zip(curves, allowed, strict=True))


def last_that(count: int, holds: Callable[[int], bool]) -> int:
    """The last number below `count` for which something holds that stops holding once; −1 where it never does."""
    low, high = -1, 0
    while high < count and holds(high):  # small steps first: far ones take long to reckon
        low, high = high, 2 * high + 1
    high = min(high, count)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def _look(
    curves: Sequence[Curve], numbers: Sequence[Sequence[int] | set[int] | range], means: Means, crew: Crew
) -> None:
    """Look quickly at the values of those `numbers`."""
    wanted = [(curve, number) for curve, some in zip(curves, numbers, strict=True) for number in some]
    search([curve.hunt(number) for curve, number in wanted], replace(means, effort=Effort.QUICK, thrifty=True), crew)
    for curve, number in wanted:
        curve.looked.add(number)


def _halve(curves: Sequence[Curve], means: Means, crew: Crew) -> None:
    """Look between values that differ, until they are neighbours."""
    while not means.halt.now:
        wanted = [set(curve.gaps()) for curve in curves]
        if not any(wanted):
            break
        _look(curves, wanted, means, crew)
        for curve in curves:
            curve.spread()


def work(curves: Sequence[Curve], means: Means, crew: Crew, *, brief: bool = False) -> None:
    """Work on all doubtful values of curves that were looked at, side by side: briefly, then, unless `brief`, hard."""
    for shortly in (True, False)[: 1 if brief else 2]:
        while means.effort is not Effort.QUICK and not means.halt.now:
            wanted = _next_tries(curves, means.effort, brief=shortly)
            if not any(wanted):
                break
            _work_on(curves, wanted, replace(means, thrifty=True, brief=shortly), crew)
            _halve(curves, means, crew)


def _next_tries(curves: Sequence[Curve], effort: Effort, *, brief: bool) -> list[set[int]]:
    """Values to be worked on next: all that are doubtful; with all of careful effort the one with the widest doubt.

    There only a few are tried, and after one in vain no more.
    """
    found = [
        (doubt, place, number)
        for place, curve in enumerate(curves)
        for doubt, number in curve.doubtful(curve.tried if brief else curve.worked)
    ]
    if effort is Effort.CAREFUL and not brief:
        done = sum(len(curve.worked) for curve in curves)
        more = done < _MOST_HARD and not any(curve.in_vain for curve in curves)
        found = sorted(found, key=lambda one: -one[0])[: int(more)]
    return [{number for _, at, number in found if at == place} for place in range(len(curves))]


def _work_on(curves: Sequence[Curve], wanted: Sequence[Set[int]], means: Means, crew: Crew) -> None:
    """Work on the values of those numbers, and carry down what is found."""
    pairs = [(curve, number) for curve, some in zip(curves, wanted, strict=True) for number in some]
    search([curve.hunt(number) for curve, number in pairs], means, crew)
    for curve, number in pairs:
        curve.looked.add(number)
        (curve.tried if means.brief else curve.worked).add(number)
    for curve in curves:
        curve.spread()


def _steps(curve: Curve) -> Iterator[Step]:
    looked = sorted(curve.looked)
    for before, after in pairwise([*looked, None]):
        assert before is not None
        if after is None:
            yield Step(
                value=curve.values[before], found=curve.begun[before].found(), beyond=None, after=None, proven=False
            )
        elif curve.steps(before) < curve.steps(after):
            hunt, next_one = curve.begun[before], curve.begun[after]
            yield Step(
                value=curve.values[before],
                found=hunt.found(),
                beyond=curve.values[after],
                after=next_one.found(),
                proven=after == before + 1 and next_one.least_steps > hunt.steps,
            )
