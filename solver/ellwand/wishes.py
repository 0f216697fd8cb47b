"""Wishes: spare pieces and cloth that is kept back, placed where the cloth is taken anyhow; none is bought for them.

The pieces that must be are packed first, as though nothing else were wished for. Then they are packed once more
together with what is wished, within the cloth on hand and the length that is bought already. So what is proved of the
first packing stays proved, and no wish makes a job impossible.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.assign import Job, assign
from ellwand.cloths import purchase, usable_width
from ellwand.leastrun import same_cloths
from ellwand.model import FabricPlan, Layout, Piece, Role, Source, Spare, Wishes
from ellwand.packing.bound import lower_bound
from ellwand.packing.halt import Halt
from ellwand.packing.judge import judge
from ellwand.packing.problem import Effort, Item, Packing, Problem
from ellwand.packing.solve import solve
from ellwand.pieces import kept_id, spare_id
from ellwand.shortage import usable_length

__all__ = ["Granted", "grant", "has_room", "is_wished", "told_wishes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Granted:
    """A job with the spare pieces that found room among its pieces, and its packing."""

    job: Job
    packing: Packing


def is_wished(answer: FabricPlan) -> bool:
    """Whether anything is wished for of a fabric."""
    fabric = answer.fabric
    return bool(fabric.spare or fabric.keep_back or any(piece.spare for piece in answer.pieces))


def told_wishes(answer: FabricPlan, needed: Fraction) -> Wishes:
    """What became of the wishes, where the pieces that must be need `needed` alone."""
    counts = {piece.id: piece.count for piece in answer.pieces if piece.is_spare}
    return Wishes(
        needed=needed,
        share=answer.fabric.spare,
        honoured=_left_share(answer),
        spares=tuple(
            Spare(piece=piece.id, wanted=piece.spare, placed=counts.get(spare_id(piece.id), 0))
            for piece in answer.pieces
            if piece.spare
        ),
        kept=None if answer.fabric.keep_back is None else has_room(answer),
    )


def _wanted(job: Job) -> dict[str, int]:
    """How many spare pieces are wished for, by the piece that they are spares of."""
    return {piece.id: piece.spare for piece in job.pieces if piece.spare}


def grant(job: Job, packing: Packing, halt: Halt) -> Granted:
    """Place what is wished, as much of it as is found to go: the rectangle that is kept back first, then spare pieces.

    Parameters
    ----------
    packing
        Of the pieces that must be; what it needs of cloth to buy may grow as far as no more is bought.
    """
    room = _Room(job=job, packing=packing, most=_most(job, packing), halt=halt)
    keep = _may_be_kept(job)
    everything = room.attempt(_wanted(job), keep=keep)
    if everything:
        return everything
    best = (room.attempt({}, keep=True) if keep else None) or Granted(job=job, packing=packing)
    keep = keep and best.packing is not packing
    counts: dict[str, int] = {}
    for name, most in _wanted(job).items():
        counts[name], best = room.as_many(counts, name, most, best, keep=keep)
    return best


def _most(job: Job, packing: Packing) -> int:
    """Length of cloth to buy, in marks, for which no more is bought; none at all where that may not be bought."""
    ruler = job.project.ruler
    if not packing.length:
        return 0
    if not job.fabric.buy:
        return -1
    steps = purchase(job.fabric, packing.length * ruler, ruler).steps
    return int(usable_length(job.fabric, steps, ruler) / ruler)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """The cloth that is there, or bought anyhow."""

    job: Job
    packing: Packing
    most: int
    halt: Halt

    def as_many(
        self, counts: Mapping[str, int], name: str, most: int, best: Granted, *, keep: bool
    ) -> tuple[int, Granted]:
        """The most spare pieces of a kind that are found to go beside those of `counts`, by halving."""
        low = 0
        while low < most:
            middle = (low + most + 1) // 2
            found = self.attempt({**counts, name: middle}, keep=keep)
            low, most, best = (middle, most, found) if found else (low, middle - 1, best)
        return low, best

    def attempt(self, counts: Mapping[str, int], *, keep: bool) -> Granted | None:
        """All pieces with so many spare ones, and what is kept back; None where they are not found to go."""
        spares = [_spare(piece, counts[piece.id]) for piece in self.job.pieces if counts.get(piece.id)]
        kept = [_kept(self.job)] if keep else []
        if self.halt.now or self.most < 0 or not (spares or kept):
            return None
        job = same_cloths(self.job, [*self.job.pieces, *spares, *kept])
        for packing in self._packings(job, _alone(job, [*spares, *kept])):
            if packing.length <= self.most:
                return Granted(job=job, packing=packing)
        return None

    def _packings(self, job: Job, alone: Problem) -> Iterator[Packing]:
        """The wishes beyond the pieces on cloth to buy; then all of them packed anew."""
        bound = lower_bound(job.problem)
        if bound.length > self.most:
            return
        if self.packing.length and not alone.phased:
            stacked = _stacked(self.packing, job.problem, alone)
            if not judge(job.problem, stacked, bound):
                yield stacked
        yield solve(job.problem, effort=Effort.QUICK, bound=bound).packing


def _may_be_kept(job: Job) -> bool:
    """Whether something is to be kept back that goes on cloth to buy some way round, as every piece must."""
    keep = job.fabric.keep_back
    return keep is not None and min(keep) <= usable_width(job.fabric, job.project.ruler)


def _alone(job: Job, pieces: Sequence[Piece]) -> Problem:
    """Pieces by themselves, on new cloth."""
    return assign(job.project, job.fabric, pieces, as_new=True).problem


def _spare(piece: Piece, count: int) -> Piece:
    where = f"spare, in case a {piece.id} is spoiled"
    return replace(
        piece, id=spare_id(piece.id), role=Role.LOOSE, count=count, spare=0, is_spare=True, finished=None, where=where
    )


def _kept(job: Job) -> Piece:
    """What is kept back, as a piece: so it has a place of its own, and cuts that free it."""
    assert job.fabric.keep_back is not None
    across, along = job.fabric.keep_back
    return Piece(
        id=kept_id(job.fabric.id),
        fabric=job.fabric.id,
        role=Role.LOOSE,
        across=across,
        along=along,
        count=1,
        turnable=True,
        is_spare=True,
        why="kept back, as wished for",
        where="for label and repair",
    )


def _stacked(packing: Packing, problem: Problem, alone: Problem) -> Packing:
    """`packing`, and the items of a problem of their own beyond it on the open stock."""
    beyond = solve(alone, effort=Effort.QUICK).packing
    numbers = {_form(item): number for number, item in enumerate(problem.items)}
    last = len(problem.stocks) - 1
    places = [
        replace(place, item=numbers[_form(alone.items[place.item])], stock=last, y=place.y + packing.length)
        for place in beyond.places
    ]
    return Packing(places=(*packing.places, *places), length=packing.length + beyond.length)


def _form(item: Item) -> Item:
    return replace(item, demand=0)


def has_room(answer: FabricPlan) -> bool:
    """Whether the rectangle that is kept back has a place, or something is left from which it can be cut."""
    if answer.fabric.keep_back is None:
        return False
    short, long = sorted(answer.fabric.keep_back)
    return any(min(size) >= short and max(size) >= long for size in _left(answer))


def _left_share(answer: FabricPlan) -> Fraction:
    """How much of the share that is wished for to spare there is.

    All of it where cloth is bought, since so much more is bought; of cloth on hand what is left of it, in offcuts,
    lengths and rectangles, as a share of the area of the pieces.
    """
    if answer.needed:
        return answer.fabric.spare if answer.enough else Fraction(0)
    left = sum((across * along for across, along in _left(answer)), Fraction(0))
    return min(answer.fabric.spare, left / answer.area.pieces)


def _left(answer: FabricPlan) -> Iterator[tuple[Fraction, Fraction]]:
    """Rectangles that are left: offcuts, plain cloth on hand, what is bought beyond need, and what is kept back."""
    for layout in answer.layouts:
        if answer.enough or layout.cloth.source is Source.ON_HAND:
            yield from ((offcut.across, offcut.along) for offcut in layout.offcuts)
            yield from _beyond(layout)
    yield from ((left.across, left.along) for left in answer.left if not left.odd)
    if answer.fabric.keep_back and any(piece.id == kept_id(answer.fabric.id) for piece in answer.pieces):
        yield answer.fabric.keep_back


def _beyond(layout: Layout) -> Iterator[tuple[Fraction, Fraction]]:
    cloth = layout.cloth
    if cloth.source is Source.BUY:
        yield cloth.across, cloth.length - cloth.squaring - cloth.along
