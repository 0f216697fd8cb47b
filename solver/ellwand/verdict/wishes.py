"""Judging wishes: spare pieces that are said to be placed, cloth that is said to be kept back, and what they cost."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ellwand.verdict.sums import least_steps
from ellwand.verdict.tables import Fabric, Plan, Wishes

__all__ = ["wrong_wishes"]


def wrong_wishes(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Faults in what is told of the wishes for one fabric."""
    spares = {piece.id: piece.count for piece in plan.pieces if piece.spare and piece.fabric == fabric.id}
    kept = spares.pop(f"kept back/{fabric.id}", 0)
    told = {} if fabric.wishes is None else {f"{name}/spare": placed for name, _, placed in fabric.wishes.pieces}
    name = f'Fabric "{fabric.id}"'
    if spares != {piece: count for piece, count in told.items() if count}:
        yield f"{name}: the spare pieces are not those that are said to be placed."
    if kept and not (fabric.wishes and fabric.wishes.kept):
        yield f"{name}: something is kept back, and not said to be."
    if fabric.wishes is not None:
        yield from (f"{name}: {fault}" for fault in _wrong(plan, fabric, fabric.wishes))


def _wrong(plan: Plan, fabric: Fabric, wishes: Wishes) -> Iterator[str]:
    for piece, wanted, placed in wishes.pieces:
        if placed > wanted:
            yield f'{placed} spare "{piece}" are placed, and {wanted} wished for.'
    if not fabric.bound <= wishes.needed <= fabric.needed:
        yield f"{plan.show(wishes.needed)} needed without spare pieces is below the bound, or above what all need."
    if wishes.needed < fabric.needed and not any(piece.spare for piece in plan.pieces if piece.fabric == fabric.id):
        yield f"nothing spare is placed, and yet {plan.show(wishes.needed)} would do."
    cloths = sum(cloth.buy for cloth in fabric.cloths)
    if least_steps(fabric, wishes.needed, cloths) != least_steps(fabric, fabric.needed, cloths):
        yield "more is bought for spare pieces."
    left = [*_left(fabric), *_kept(plan, fabric)]
    if wishes.kept and not any(_holds(size, wishes.keep_back) for size in left):
        yield "nothing is left of the size that is said to be kept back."
    if fabric.needed and wishes.honoured != (fabric.spare if fabric.buy else 0):
        yield "what is bought has just the share to spare that is wished for."
    spare = sum(across * along for across, along in left)
    if wishes.honoured > fabric.spare or (not fabric.needed and wishes.honoured * fabric.area.pieces > spare):
        yield "less is left to spare than it says."


def _holds(size: tuple[Fraction, Fraction], wanted: tuple[int, int] | None) -> bool:
    return wanted is not None and min(size) >= min(wanted) and max(size) >= max(wanted)


def _kept(plan: Plan, fabric: Fabric) -> Iterator[tuple[Fraction, Fraction]]:
    """The rectangle that has a place of its own, if it has."""
    for piece in plan.pieces:
        if piece.id == f"kept back/{fabric.id}":
            yield Fraction(piece.across), Fraction(piece.along)


def _left(fabric: Fabric) -> Iterator[tuple[Fraction, Fraction]]:
    """Offcuts, what is left of the cloth on hand, and what is bought beyond need."""
    for cloth in fabric.cloths:
        if cloth.buy and not fabric.buy:
            continue
        yield from ((Fraction(offcut.across), Fraction(offcut.along)) for offcut in cloth.offcuts)
        if cloth.buy:
            yield Fraction(cloth.across), cloth.length - cloth.squaring - cloth.along
    yield from ((Fraction(left.across), Fraction(left.along)) for left in fabric.left)
