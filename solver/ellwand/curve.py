"""What is bought of one fabric as a value varies, and where exactly it changes.

The values come in order, the one that asks for least first. More is never needed at an easier value: a layout for a
harder one holds the pieces of every easier one, and is carried down to it wherever straight cuts allow. So the steps
that are bought are found by halving between values that differ. Where the bound leaves it open whether a harder
value could do with less, the first such value gets all the effort that is wanted; if that gains, the middle of the
doubt that is left::

    steps      +-----o  found at a quick look
       4       |?       the bound allows 3 up to here: tried where it begins
       3  -----+
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import islice, pairwise

from ellwand.hunt import Found, Hunt
from ellwand.packing.parallel import Crew
from ellwand.packing.problem import Effort
from ellwand.search import Means, search

__all__ = ["Curve", "Step", "find_steps", "last_that", "look_at_all", "widest"]

_MOST_VAIN = 1  # values of a fabric that are worked on without gain, at careful effort


@dataclass(slots=True, eq=False, kw_only=True)
class Curve:
    """The hunts of one fabric by the number of the value, in the order of `values`; `start` begins one."""

    values: tuple[Fraction, ...]
    start: Callable[[Fraction], Hunt]
    begun: dict[int, Hunt] = field(default_factory=dict)
    looked: set[int] = field(default_factory=set)
    worked: set[int] = field(default_factory=set)

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
        """Carry layouts down to every easier value that has no better one."""
        for easier, harder in reversed(list(pairwise(sorted(self.looked)))):
            self.begun[easier].carry_from(self.begun[harder])

    def tries_left(self, effort: Effort) -> int | None:
        """How many more values may be worked on next; None for any number. What gains may go on."""
        vain = sum(self.hunt(number).least_steps < self.steps(number) for number in self.worked)
        return max(0, _MOST_VAIN - vain) if effort is Effort.CAREFUL else None

    def gaps(self) -> Iterator[int]:
        """Middles between values looked at between which what is bought changes."""
        for before, after in pairwise(sorted(self.looked)):
            if after - before > 1 and self.steps(before) != self.steps(after):
                yield (before + after) // 2

    def doubtful(self) -> Iterator[int]:
        """Values at which less might do than was found, not worked on yet: where more begins to be bought.

        What cannot be done there cannot be done at a harder value. Where it could, the middle of the doubt is next.
        """
        looked = sorted(self.looked)
        for before, after in [*pairwise(looked), (-1, looked[0])]:  # the first value last: nothing changes there
            if before >= 0 and (after > before + 1 or self.steps(before) == self.steps(after)):
                continue
            wanted = self.steps(after) - 1
            failed = (number for number in sorted(self.worked) if number >= after and self.steps(number) > wanted)
            top = self._last_hope(after, next(failed, len(self.values)) - 1, wanted)
            number = (after + top) // 2 if before in self.worked else after
            if top >= after and number not in self.worked:
                yield number

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
    """Look at every value of every curve, then work where less might be bought."""
    _look(curves, [range(len(curve.values)) for curve in curves], means, crew)
    for curve in curves:
        curve.order()
        curve.carry()
    _work(curves, means, crew)


def find_steps(curves: Sequence[Curve], means: Means, crew: Crew) -> list[list[Step]]:
    """Where what is bought changes along each curve, exactly as far as the search comes to its end."""
    _look(curves, [{0, len(curve.values) - 1} for curve in curves], means, crew)
    for curve in curves:
        curve.order()
        curve.carry()
    _halve(curves, means, crew)
    _work(curves, means, crew)
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
        fits, over = _between(curves, allowed, (fits, refuted), means, crew)
        fits, over = _between(curves, allowed, (fits, over), quick, crew)  # what is left open when time is up
    while over < count:
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
            curve.carry()
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
            curve.carry()


def _work(curves: Sequence[Curve], means: Means, crew: Crew) -> None:
    """Work on all doubtful values side by side, until none is left."""
    while means.effort is not Effort.QUICK and not means.halt.now:
        wanted = [set(islice(curve.doubtful(), curve.tries_left(means.effort))) for curve in curves]
        if not any(wanted):
            break
        pairs = [(curve, number) for curve, some in zip(curves, wanted, strict=True) for number in some]
        search([curve.hunt(number) for curve, number in pairs], replace(means, thrifty=True), crew)
        for curve, number in pairs:
            curve.worked.add(number)
        for curve in curves:
            curve.carry()
        _halve(curves, means, crew)


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
