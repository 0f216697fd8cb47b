"""Judging kits that are cut in lays, and bolts that have an end.

A ply holds whole kits, all plies of a lay are alike, and the lays hold every copy. What is cut off one bolt is no
longer than a bolt.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor

from ellwand.verdict.sums import bought_at_one_go
from ellwand.verdict.tables import Cloth, Fabric, Lay, Placed, Plan

__all__ = ["wrong_bolts", "wrong_lays"]

_LOOSE = Fraction(1, 10**6)
_Spot = tuple[int, int, int, int, str, bool]


def wrong_lays(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Faults in the lays of one fabric."""
    name = f'Fabric "{fabric.id}"'
    yield from (f"{name}: {fault}" for fault in _counts(plan, fabric))
    for number, lay in enumerate(fabric.lays, 1):
        cloths = [cloth for cloth in fabric.cloths if cloth.lay == lay.number]
        checks = (_number(number, lay), _layers(lay), _plies(lay, cloths), _alike(cloths), _kits(plan, lay, cloths))
        for faults in (*checks, _lengths(plan, fabric, lay, cloths)):
            yield from (f"{name}: lay {lay.number}: {fault}" for fault in faults)


def wrong_bolts(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Faults in what is cut off the bolts of one fabric."""
    name = f'Fabric "{fabric.id}"'
    numbers = {cloth.bolt for cloth in fabric.cloths if cloth.buy}
    if fabric.bolt is None:
        if numbers - {None}:
            yield f"{name}: its cloths have bolts, and it has none of a limited length."
        return
    if None in numbers:
        yield f"{name}: some cloth to buy is of no bolt."
    if any(cloth.bolt for cloth in fabric.cloths if not cloth.buy):
        yield f"{name}: cloth on hand is said to be of a bolt."
    sold = floor(floor(fabric.bolt / fabric.sold_by + _LOOSE) * fabric.sold_by)
    room = sold * (1 - fabric.shrinks[0])
    for cloths in bought_at_one_go(fabric):
        taken = sum((cloth.along + cloth.squaring for cloth in cloths), Fraction(0))
        if taken > room:
            yield f"{name}: bolt {cloths[0].bolt} has {plan.show(room)} to cut, and {plan.show(taken)} are cut off it."


def _counts(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """All copies are in the lays, and all pieces."""
    known = {lay.number for lay in fabric.lays}
    if {cloth.lay for cloth in fabric.cloths if cloth.lay is not None} - known:
        yield "a cloth is of a lay that is not told."
    if not fabric.lays:
        return
    if any(cloth.lay is None for cloth in fabric.cloths):
        yield "a cloth is of no lay, where kits are cut in lays."
    kits = sum(lay.kits * lay.plies for lay in fabric.lays)
    if kits != plan.copies:
        yield f"its lays hold {kits} kits, not {plan.copies}."
    if fabric.together is None:
        yield "nothing is told of all kits together."
    elif fabric.together.needed < fabric.bound:
        yield f"all kits together are said to need {plan.show(fabric.together.needed)}, less than the bound."


def _number(number: int, lay: Lay) -> Iterator[str]:
    if lay.number != number:
        yield f"it has the number {lay.number}, not {number}."


def _layers(lay: Lay) -> Iterator[str]:
    if lay.times * lay.layers + lay.rest != lay.plies or lay.rest >= lay.layers:
        yield f"{lay.times} times {lay.layers} layers and {lay.rest} are not {lay.plies} plies."


def _plies(lay: Lay, cloths: Sequence[Cloth]) -> Iterator[str]:
    plies = sum(cloth.plies for cloth in cloths)
    if plies != lay.plies:
        yield f"{plies} plies are on its cloths, not {lay.plies}."
    if any(cloth.plies != 1 for cloth in cloths if cloth.buy):
        yield "a cloth to buy holds one ply."


def _alike(cloths: Sequence[Cloth]) -> Iterator[str]:
    """Every ply is like the first, wherever on its cloth it begins."""
    plies = [ply for cloth in cloths for ply in _parted(cloth)]
    if any(ply != plies[0] for ply in plies[1:]):
        yield "its plies are not alike."


def _parted(cloth: Cloth) -> Iterator[list[_Spot]]:
    """The plies that lie on end on a cloth, each from where it begins."""
    placed = sorted(cloth.placed, key=lambda item: (item.at.y, item.at.x))
    each = len(placed) // cloth.plies
    for start in range(0, len(placed), each or 1):
        yield _spots(placed[start : start + each])


def _spots(placed: Sequence[Placed]) -> list[_Spot]:
    start = min(item.at.y for item in placed)
    return sorted(
        (item.at.y - start, item.at.x, item.at.across, item.at.along, item.piece, item.turned) for item in placed
    )


def _kits(plan: Plan, lay: Lay, cloths: Sequence[Cloth]) -> Iterator[str]:
    """A ply holds so many whole kits."""
    pieces = {piece.id: piece.count for piece in plan.pieces}
    for cloth in cloths:
        for piece, count in Counter(placed.piece for placed in cloth.placed).items():
            wanted = Fraction(pieces.get(piece, 0) * lay.kits * cloth.plies, plan.copies)
            if count != wanted:
                kits = lay.kits * cloth.plies
                yield f'cloth "{cloth.id}" has {count} of piece "{piece}", where {kits} kits have {wanted}.'


def _lengths(plan: Plan, fabric: Fabric, lay: Lay, cloths: Sequence[Cloth]) -> Iterator[str]:
    """What a ply takes: its pieces, and squaring at its end and after so many strips."""
    if lay.along + lay.squaring != lay.takes:
        yield f"{plan.show(lay.along)} and {plan.show(lay.squaring)} of squaring are not {plan.show(lay.takes)}."
    for cloth in (cloth for cloth in cloths if cloth.buy):
        across = sum(cut.across and (cut.start, cut.end) == (0, cloth.across) for cut in cloth.cuts)
        again = across // plan.kits.strips * plan.kits.square_again if plan.kits else Fraction(0)
        if not cloth.squaring == lay.squaring == fabric.squaring + again:
            wanted = plan.show(fabric.squaring + again)
            yield f'squaring takes {plan.show(cloth.squaring)} of cloth "{cloth.id}", where it takes {wanted}.'
        if cloth.along != lay.along:
            yield f'cloth "{cloth.id}" is {plan.show(cloth.along)} along, not {plan.show(lay.along)}.'
