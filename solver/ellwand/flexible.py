"""Strips joined from bits of any lengths: some as in other ways to make them, the rest from what is left.

All other pieces are laid out with some full widths beside them, say; the rest of every run comes from the gaps of that
layout. The strips are pieces like any other then, so that the layout is improved as all are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import zip_longest
from math import ceil

from ellwand.assign import Job
from ellwand.choices import Choice
from ellwand.cloths import usable_width
from ellwand.gaps import Bit, Gap, fewest, gap_sets, gathered, without
from ellwand.leastrun import least_bits, least_fitted, same_cloths
from ellwand.lengths import round_up
from ellwand.model import Construction, Direction, Run
from ellwand.packing.bound import lower_bound
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Packing, Place, Problem
from ellwand.quilt.strips import split_run

__all__ = ["Fitted", "fit_runs"]

Rank = tuple[int, int, int]
Lengths = tuple[Fraction, ...]
Solve = Callable[[Problem, Bound], Packing]
_NO_CLAIM = Bound(length=0, theorem="")
_SPARE = Fraction(6, 5)  # how much longer than its bound a layout that is looked for may be
_MOST_KEPT = 16, 4  # numbers of bits that are kept, of all that there are: of one run, of several


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A choice whose strips fit what is left, with the layout that leaves it."""

    choice: Choice
    packing: Packing


@dataclass(frozen=True, slots=True, kw_only=True)
class _Opened:
    """A choice, and the parts of it, by number, whose runs are fitted at once."""

    choice: Choice
    parts: tuple[int, ...]

    @property
    def ways(self) -> list[Construction]:
        """How these parts are made in the choice."""
        return [self.choice.made[number][1] for number in self.parts]

    @property
    def runs(self) -> list[Run]:
        """All their runs."""
        return [run for way in self.ways for run in way.runs]

    def base(self, kept: Sequence[Lengths]) -> Job:
        """All but the runs, and the bits `kept` of each."""
        others = [
            piece
            for number, (_, way) in enumerate(self.choice.made)
            for piece in (way.fixed if number in self.parts else way.pieces)
        ]
        bits = [piece for run, some in zip(self.runs, kept, strict=True) if some for piece in run.pieces(some)]
        return same_cloths(self.choice.job, [*others, *bits])

    def joined(self, lengths: Sequence[Lengths]) -> Choice:
        """The choice, its runs joined from bits of such `lengths`."""
        rest, made, names = iter(lengths), list(self.choice.made), dict(self.choice.constructions)
        for number in self.parts:
            part, way = made[number]
            changed = _refitted(way, [next(rest) for _ in way.runs])
            made[number], names[part.name] = (part, changed), changed.name
        job = same_cloths(self.choice.job, [piece for _, way in made for piece in way.pieces])
        return Choice(
            constructions=tuple(names.items()),
            joins=sum(way.joins for _, way in made),
            job=job,
            bound=lower_bound(job.problem),
            made=tuple(made),
        )


def fit_runs(choice: Choice, best: Rank, solve: Solve) -> Iterator[Fitted]:
    """Ways to make `choice` with strips of what the other pieces leave, each better than the `best` rank before it.

    The parts that have such strips are tried one by one, then all together.

    Parameters
    ----------
    solve
        Packs a problem, given its lower bound.
    """
    least = least_fitted([choice]) or 0
    numbers = [number for number, (_, way) in enumerate(choice.made) if way.runs]
    for parts in dict.fromkeys([*((number,) for number in numbers), tuple(numbers)]):
        opened = _Opened(choice=choice, parts=parts)
        for whole in _wholes(opened):
            for kept in _kept(whole):
                base = opened.base(kept)
                bound = lower_bound(base.problem)
                if not _may_hold(opened, base, kept, bound.length):
                    continue
                hope = replace(choice, joins=_least_joins(opened, best)).rank(max(least, bound.length))
                packing = solve(base.problem, bound) if hope < best else None
                if packing is None or choice.rank(packing.length)[0] > best[0]:
                    break  # to keep one more takes no less
                fitted = next(_fitted(opened, base, kept, packing), None)
                if fitted and (rank := fitted.choice.rank(fitted.packing.length)) < best:
                    best = rank
                    yield fitted


def _least_joins(opened: _Opened, best: Rank) -> int:
    """Joins of the choice, those of the open parts as few as they can be on so much cloth as `best` lets one buy."""
    job = opened.choice.job
    to_buy = best[2] + ceil(job.fabric.sold_by / job.project.ruler)
    sides = [(stock.w, to_buy if stock.h is None else stock.h) for stock in job.problem.stocks]
    least = 0
    for run in opened.runs:
        longest = max(side[way is Direction.ALONG] for side in sides for way in run.ways) * job.project.ruler
        least += least_bits(run, longest) - 1
    return opened.choice.joins - sum(way.joins for way in opened.ways) + least


def _may_hold(opened: _Opened, base: Job, kept: Sequence[Lengths], length: int) -> bool:
    """Whether all of the runs may lie on little more than that `length` by area; else a try would be lost time."""
    ruler, problem = base.project.ruler, base.problem
    missing = sum(-run.over(some) * run.width for run, some in zip(opened.runs, kept, strict=True))
    taken = sum(item.w * item.h * item.demand for item in problem.items) + missing / ruler**2
    *sheets, bolt = problem.stocks
    return taken <= sum(sheet.w * (sheet.h or 0) for sheet in sheets) + bolt.w * length * _SPARE


def _wholes(opened: _Opened) -> list[list[Lengths]]:
    """Bits that make up the runs, of which some may be kept: full widths and the rest, and those of the choice."""
    job = opened.choice.job
    ruler = job.project.ruler
    width = usable_width(job.fabric, ruler)
    crosswise = [
        split_run(run.length, usable=width, loss=run.loss, shortest=run.shortest, ruler=ruler) for run in opened.runs
    ]
    as_made = [tuple(sorted(bits, reverse=True)) for way in opened.ways for bits in way.bits]
    found = [crosswise] if all(map(_allows, opened.runs, crosswise)) else []
    return found + [as_made] * (as_made not in found)


def _allows(run: Run, lengths: Lengths) -> bool:
    return bool(lengths) and run.allows(lengths)


def _kept(whole: Sequence[Lengths]) -> Iterator[list[Lengths]]:
    """Bits of `whole` to keep, none first: of each run the first, then the second ones; all but one at the most."""
    order = [number for bits in zip_longest(*map(_numbered, whole, range(len(whole)))) for number in bits]
    numbers = [number for number in order if number is not None]
    step = ceil(len(numbers) / _MOST_KEPT[len(whole) > 1])
    for some in range(0, len(numbers), step):
        kept = numbers[:some]
        yield [bits[: kept.count(number)] for number, bits in enumerate(whole)]


def _numbered(bits: Lengths, number: int) -> list[int]:
    return [number] * len(bits)


def _fitted(opened: _Opened, base: Job, kept: Sequence[Lengths], packing: Packing) -> Iterator[Fitted]:
    """The choice, its open runs joined from the bits in `base` and strips of what `packing` leaves."""
    tidy = gathered(base, packing)
    for taken in _selections(opened, tidy, base, kept):
        lengths = [
            tuple(sorted([*some, *(bit.length for bit in bits)], reverse=True))
            for some, bits in zip(kept, taken, strict=True)
        ]
        if all(map(_allows, opened.runs, lengths)):
            changed = opened.joined(lengths)
            laid = _laid(base, tidy, changed.job, [*zip(opened.runs, taken, strict=True)])
            if not judge(changed.job.problem, laid, _NO_CLAIM):
                yield Fitted(choice=changed, packing=laid)


def _selections(opened: _Opened, packing: Packing, job: Job, kept: Sequence[Lengths]) -> Iterator[list[list[Bit]]]:
    """Bits from what `packing` leaves that bring what each run needs yet, the most promising first; none may do."""
    runs, found = opened.runs, []
    needs = [-run.over(some) for run, some in zip(runs, kept, strict=True)]
    for gaps in gap_sets(job, packing, min(run.width for run in runs)):
        for whole, ends in ((False, True), (True, False)) if len(runs) > 1 else ((False, False), (True, False)):
            taken = _taken(gaps, runs, needs, job.project.ruler, whole=whole, ends=ends)
            found += [taken] if taken is not None else []
    yield from sorted(found, key=lambda taken: sum(map(len, taken)))


def _taken(
    gaps: Sequence[Gap], runs: Sequence[Run], needs: Sequence[Fraction], ruler: Fraction, *, whole: bool, ends: bool
) -> list[list[Bit]] | None:
    """The fewest bits that bring each run what it needs, the neediest first; None where the gaps do not give that."""
    taken: list[list[Bit]] = [[] for _ in runs]
    for number in sorted(range(len(runs)), key=lambda number: -needs[number]):
        run, need = runs[number], needs[number]
        if need > 0:
            bits = fewest(gaps, run, need)
            if not bits:
                return None
            taken[number] = bits if whole else _shortened(bits, run, need, ruler)
            gaps = without(gaps, taken[number], run.width, ends=ends)
    return taken


def _shortened(bits: Sequence[Bit], run: Run, need: Fraction, ruler: Fraction) -> list[Bit]:
    """`bits`, the last no longer than it must be; where a mitre is at the ends, another gives what is too much."""
    before = sum(bit.length - run.loss for bit in bits[:-1])
    rest = round_up(need - before + run.loss, ruler)
    last = min(max(rest, run.shortest), bits[-1].length)
    *others, end = bits
    if run.mitre and others and others[-1].length - (last - rest) >= run.shortest:
        others[-1] = replace(others[-1], length=others[-1].length - max(last - rest, Fraction(0)))
    return [*others, replace(end, length=last)]


def _refitted(way: Construction, lengths: Sequence[Lengths]) -> Construction:
    """A way whose runs are joined from bits of other `lengths`."""
    number = sum(map(len, lengths))
    joins = number - len(lengths)
    name = way.fitted.format(f"{number} strip" + "s" * (number > 1))
    bits = [piece for run, some in zip(way.runs, lengths, strict=True) for piece in run.pieces(some)]
    return replace(
        way,
        name=f"{name}, joined" if joins else name,
        joins=joins,
        pieces=(*way.fixed, *bits),
        bits=tuple(lengths),
    )


def _laid(base: Job, packing: Packing, job: Job, taken: Sequence[tuple[Run, Sequence[Bit]]]) -> Packing:
    """`packing` and the bits that were `taken`, as a packing of `job`."""
    numbers = {(item.w, item.h, item.turnable): number for number, item in enumerate(job.problem.items)}
    places = []
    for place in packing.places:
        item = base.problem.items[place.item]
        places.append(replace(place, item=numbers[item.w, item.h, item.turnable]))
    ruler = job.project.ruler
    for run, bits in taken:
        for bit in bits:
            size = (int(bit.length / ruler), int(run.width / ruler))
            w, h = size if bit.way is Direction.ACROSS else size[::-1]
            turns = len(run.ways) > 1 and w != h
            shape = (min(w, h), max(w, h), True) if turns else (w, h, False)
            at = Place(
                item=numbers[shape],
                stock=bit.stock,
                x=int(bit.x / ruler),
                y=int(bit.y / ruler),
                turned=turns and w > h,
            )
            places.append(at)
    return Packing(places=tuple(places), length=packing.length)
