"""What can be used of a cloth, and how much must be bought.

A fabric's width is measured before washing; so is cloth on hand unless it is marked washed. Layouts are of washed
cloth, selvages off and ends squared. What can be used is rounded down to the ruler (usable width: ASTM D3774-18
speaks of it beside the overall width).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from ellwand.lengths import round_down, round_up
from ellwand.model import Cloth, Source
from ellwand.project.tables import Fabric, OnHand, Polygon

__all__ = [
    "Purchase", "as_measured", "cloth_to_buy", "cloths_on_hand", "purchase", "single_sources",
    "usable_width", "washed_length",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """What is bought of a fabric: whole shop `steps`, their `length` as sold (inches, unwashed)."""

    steps: int
    length: Fraction


def usable_width(fabric: Fabric, ruler: Fraction) -> Fraction:
    """Width that can be cut from cloth of the full width, washed if it will be, selvages off, on the ruler."""
    return round_down(fabric.between_selvages, ruler)


def purchase(fabric: Fabric, needed: Fraction, ruler: Fraction) -> Purchase:
    """The least whole shop steps that leave `needed`, and what is wished to spare of it, after squaring and washing.

    Shrinkage divides: 4 yd of washed cloth at 10 % take 4/(1 − 0.10) yd (ISO 5077: change over length before).
    A step foreign to the ruler counts only down to the ruler.
    """
    if needed == 0:
        return Purchase(steps=0, length=Fraction(0))
    wanted = round_up((needed * (1 + fabric.spare) + _squaring(fabric)) / _kept(fabric, crosswise=False), ruler)
    steps = ceil(wanted / fabric.sold_by)
    return Purchase(steps=steps, length=round_down(steps * fabric.sold_by, ruler))


def washed_length(fabric: Fabric, sold: Fraction) -> Fraction:
    """What washing and squaring leave of a length as sold, exact; less than 0 where they leave nothing."""
    return _washed(fabric, sold, crosswise=False) - _squaring(fabric)


def cloth_to_buy(fabric: Fabric, number: int, needed: Fraction, ruler: Fraction) -> Cloth:
    """The cloth that `needed` is cut from, as number `number` of its fabric."""
    bought = purchase(fabric, needed, ruler).length
    return Cloth(
        id=f"{fabric.id} {number}",
        source=Source.BUY,
        across=usable_width(fabric, ruler),
        along=needed,
        width=fabric.washed_width,
        length=_washed(fabric, bought, crosswise=False),
        squaring=_squaring(fabric),
        washed=False,
        whole=False,
    )


def cloths_on_hand(fabric: Fabric, ruler: Fraction) -> tuple[Cloth, ...]:
    """Every physical cloth on hand, in the file's order, as it can be cut; those with nothing to use left out."""
    return tuple(cloth for _, cloth in _numbered(fabric, ruler))


def single_sources(fabric: Fabric, ruler: Fraction) -> tuple[Fabric, ...]:
    """`fabric` with one dye lot on hand, or one cloth of none, each in its turn, the smallest first.

    Of cloths that are alike only the first is there.
    """
    lots: dict[object, list[tuple[int, Cloth]]] = {}
    for number, cloth in _numbered(fabric, ruler):
        alike = (cloth.across, cloth.along, cloth.whole, cloth.outline, cloth.flaws)
        if cloth.lot or alike not in lots:
            lots.setdefault(cloth.lot or alike, []).append((number, cloth))
    areas = {
        tuple(number for number, _ in lot): sum(cloth.across * cloth.along for _, cloth in lot) for lot in lots.values()
    }
    return tuple(replace(fabric, only=numbers) for numbers in sorted(areas, key=areas.__getitem__))


def _numbered(fabric: Fabric, ruler: Fraction) -> list[tuple[int, Cloth]]:
    """The cloths on hand that may be used and have something to use, with their numbers."""
    entries = enumerate((entry for entry in fabric.on_hand for _ in range(entry.count)), 1)
    cloths = [
        (number, _on_hand(fabric, entry, number, ruler))
        for number, entry in entries
        if fabric.only is None or number in fabric.only
    ]
    return [(number, cloth) for number, cloth in cloths if cloth.across > 0 and cloth.along > 0]


def as_measured(fabric: Fabric, cloth: Cloth) -> tuple[Fraction, Fraction]:
    """Width and length of `cloth` as bought or measured, inches: those before washing where it is to be washed."""
    if cloth.washed:
        return cloth.width, cloth.length
    return cloth.width / _kept(fabric, crosswise=True), cloth.length / _kept(fabric, crosswise=False)


def _on_hand(fabric: Fabric, entry: OnHand, number: int, ruler: Fraction) -> Cloth:
    whole = entry.width is not None
    measured = entry.full_width if entry.width is None else entry.width
    width = fabric.washed_width if measured is None else measured
    length = entry.length
    if not entry.washed:
        width = width if measured is None else _washed(fabric, width, crosswise=True)
        length = _washed(fabric, length, crosswise=False)
    return Cloth(
        id=f"{fabric.id} {number}",
        source=Source.ON_HAND,
        across=round_down(width - entry.selvages * fabric.selvage, ruler),
        along=round_down(length - entry.square_up, ruler),
        width=width,
        length=length,
        squaring=entry.square_up,
        washed=entry.washed,
        whole=whole,
        outline=None if entry.outline is None else _shrunk(fabric, entry, entry.outline),
        flaws=tuple(_shrunk(fabric, entry, flaw) for flaw in entry.flaws),
        ledger=entry.ledger,
        lot=entry.lot,
        place=entry.place,
    )


def _shrunk(fabric: Fabric, entry: OnHand, polygon: Polygon) -> Polygon:
    """`polygon` after washing."""
    if entry.washed:
        return polygon
    return tuple((_washed(fabric, x, crosswise=True), _washed(fabric, y, crosswise=False)) for x, y in polygon)


def _squaring(fabric: Fabric) -> Fraction:
    return fabric.square_up * fabric.square_up_ends


def _kept(fabric: Fabric, *, crosswise: bool) -> Fraction:
    """Share of a length that washing leaves."""
    return 1 - fabric.shrinks[1 if crosswise else 0] if fabric.wash else Fraction(1)


def _washed(fabric: Fabric, length: Fraction, *, crosswise: bool) -> Fraction:
    return length * _kept(fabric, crosswise=crosswise)
