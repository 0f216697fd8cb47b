"""Strips joined from bits of any lengths: some as in other ways to make them, the rest from what is left.

All other pieces are laid out with some full widths beside them, say; the rest of the run comes from the gaps of that
layout. The strips are pieces like any other then, so that the layout is improved as all are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from ellwand.assign import Job
from ellwand.choices import Choice
from ellwand.cloths import usable_width
from ellwand.gaps import Bit, fewest, gap_sets, gathered
from ellwand.leastrun import least_bits, least_fitted, same_cloths
from ellwand.lengths import round_up
from ellwand.model import Construction, Direction, Part, Run
from ellwand.packing.bound import lower_bound
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Packing, Place, Problem
from ellwand.quilt.strips import split_run

__all__ = ["Fitted", "fit_runs"]

Rank = tuple[int, int, int]
Solve = Callable[[Problem, Bound], Packing]
_NO_CLAIM = Bound(length=0, theorem="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A choice whose strips fit what is left, with the layout that leaves it."""

    choice: Choice
    packing: Packing


def fit_runs(choice: Choice, best: Rank, solve: Solve) -> Iterator[Fitted]:
    """Ways to make `choice` with strips of what the other pieces leave, each better than the `best` rank before it.

    Parameters
    ----------
    solve
        Packs a problem, given its lower bound.
    """
    least = least_fitted([choice]) or 0
    for number, (part, way) in enumerate(choice.made):
        for whole in _wholes(choice.job, part.run, way) if part.run else ():
            for kept in range(len(whole)):
                base = _base(choice, part, whole[:kept])
                bound = lower_bound(base.problem)
                hope = replace(choice, joins=_least_joins(choice, number, best)).rank(max(least, bound.length))
                packing = solve(base.problem, bound) if hope < best else None
                if packing is None or choice.rank(packing.length)[0] > best[0]:
                    break  # to keep one more takes no less
                for fitted in _fitted(choice, number, base, whole[:kept], packing):
                    rank = fitted.choice.rank(fitted.packing.length)
                    if rank < best:
                        best = rank
                        yield fitted


def _least_joins(choice: Choice, number: int, best: Rank) -> int:
    """Joins of `choice`, those of one part as few as they can be on so much cloth as `best` lets one buy."""
    part, way = choice.made[number]
    assert part.run is not None
    job, ruler = choice.job, choice.job.project.ruler
    sides = [side for stock in job.problem.stocks for side in (stock.w, stock.h or 0)]
    longest = max(*sides, best[2] + ceil(job.fabric.sold_by / ruler)) * ruler
    return choice.joins - way.joins + least_bits(part.run, longest) - 1


def _wholes(job: Job, run: Run, way: Construction) -> list[tuple[Fraction, ...]]:
    """Bits that make up the run, of which some may be kept: full widths and the rest, and those of another `way`."""
    ruler = job.project.ruler
    crosswise = split_run(run.length, usable=usable_width(job.fabric, ruler), loss=run.loss, ruler=ruler)
    sides = [(piece.along if piece.across == run.width else piece.across, piece.count) for piece in way.pieces]
    bits = tuple(sorted((length for length, count in sides for _ in range(count)), reverse=True))
    return [whole for whole in dict.fromkeys((crosswise, bits)) if whole and whole[0] >= run.shortest]


def _base(choice: Choice, part: Part, kept: tuple[Fraction, ...]) -> Job:
    """All but the run of `part`, and some bits of it."""
    assert part.run is not None
    others = [piece for other, way in choice.made if other is not part for piece in way.pieces]
    return same_cloths(choice.job, [*others, *(part.run.pieces(kept) if kept else ())])


def _fitted(choice: Choice, number: int, base: Job, kept: tuple[Fraction, ...], packing: Packing) -> Iterator[Fitted]:
    """`choice`, its part of that number joined from the bits in `base` and strips of what `packing` leaves."""
    run = choice.made[number][0].run
    assert run is not None
    need = run.length - run.loss - sum(length - run.loss for length in kept)
    tidy = gathered(base, packing)
    for bits in _selections(base, tidy, run, need):
        lengths = tuple(sorted([*kept, *(bit.length for bit in bits)], reverse=True))
        changed = _changed(choice, number, _joined(run, lengths))
        laid = _laid(base, tidy, changed.job, run, bits)
        if not judge(changed.job.problem, laid, _NO_CLAIM):
            yield Fitted(choice=changed, packing=laid)
            return


def _selections(job: Job, packing: Packing, run: Run, need: Fraction) -> Iterator[list[Bit]]:
    """Bits from what `packing` leaves that bring `need`, the most promising first; none may do."""
    ruler = job.project.ruler
    found = [bits for gaps in gap_sets(job, packing, run) if (bits := fewest(gaps, run, need))]
    for bits in sorted(found, key=len):
        before = sum(bit.length - run.loss for bit in bits[:-1])
        rest = max(round_up(need - before + run.loss, ruler), run.shortest)
        for last in dict.fromkeys((min(rest, bits[-1].length), bits[-1].length)):
            yield [*bits[:-1], replace(bits[-1], length=last)]


def _joined(run: Run, lengths: tuple[Fraction, ...]) -> Construction:
    joins = len(lengths) - 1
    name = f"{len(lengths)} strips fitted to what is left, joined" if joins else "1 strip, from what is left"
    return Construction(name=name, joins=joins, pieces=run.pieces(lengths))


def _changed(choice: Choice, number: int, construction: Construction) -> Choice:
    """`choice`, one part made otherwise."""
    part, before = choice.made[number]
    made = (*choice.made[:number], (part, construction), *choice.made[number + 1 :])
    job = same_cloths(choice.job, [piece for _, way in made for piece in way.pieces])
    return Choice(
        constructions=tuple({**dict(choice.constructions), part.name: construction.name}.items()),
        joins=choice.joins - before.joins + construction.joins,
        job=job,
        bound=lower_bound(job.problem),
        made=made,
    )


def _laid(base: Job, packing: Packing, job: Job, run: Run, bits: Sequence[Bit]) -> Packing:
    """`packing` and the `bits`, as a packing of `job`."""
    numbers = {(item.w, item.h, item.turnable): number for number, item in enumerate(job.problem.items)}
    places = []
    for place in packing.places:
        item = base.problem.items[place.item]
        places.append(replace(place, item=numbers[item.w, item.h, item.turnable]))
    ruler = job.project.ruler
    for bit in bits:
        size = (int(bit.length / ruler), int(run.width / ruler))
        w, h = size if bit.way is Direction.ACROSS else size[::-1]
        shape = (min(w, h), max(w, h), w != h)
        at = Place(item=numbers[shape], stock=bit.stock, x=int(bit.x / ruler), y=int(bit.y / ruler), turned=w > h)
        places.append(at)
    return Packing(places=tuple(places), length=packing.length)
