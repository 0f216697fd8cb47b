"""Judging a fabric's figures: needed, bought, cost, and where the cloth went."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from fractions import Fraction
from math import ceil, floor

from ellwand.verdict.shapes import area_of
from ellwand.verdict.tables import Area, Cloth, Fabric, Plan

__all__ = ["bought_at_one_go", "least_steps", "wrong_sums"]

_CENT = Fraction(1, 100)
_LOOSE = Fraction(1, 10**6)  # steps foreign to the unit are written to nine places


def wrong_sums(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Faults in the figures of one fabric."""
    name = f'Fabric "{fabric.id}"'
    checks = (_width, _needed, _bought, _bought_length, _proofs, _cost, _areas, _shrinkage, _waste)
    for check in checks:
        yield from (f"{name}: {fault}" for fault in check(plan, fabric))
    for cloth in fabric.cloths:
        yield from (f'Cloth "{cloth.id}": {fault}' for fault in _cloth(plan, fabric, cloth))


def _width(plan: Plan, fabric: Fabric) -> Iterator[str]:
    washed = fabric.width * (1 - fabric.shrinks[1])
    if fabric.usable_width > washed:
        yield f"{plan.show(fabric.usable_width)} can be used of a cloth that is {plan.show(washed)} wide."


def _needed(plan: Plan, fabric: Fabric) -> Iterator[str]:
    length = sum(cloth.along for cloth in fabric.cloths if cloth.buy)
    if fabric.needed != length:
        yield f"{plan.show(fabric.needed)} needed, but the cloth to buy is {plan.show(length)} long."
    if fabric.bound > fabric.needed:
        yield f"the bound {plan.show(fabric.bound)} is above the {plan.show(fabric.needed)} needed."


def _bought(plan: Plan, fabric: Fabric) -> Iterator[str]:
    steps = sum(_steps_of(fabric, some) for some in bought_at_one_go(fabric))
    sold = floor(fabric.steps * fabric.sold_by)
    if fabric.bought != sold:
        yield f"{plan.show(fabric.bought)} bought, but {fabric.steps} steps of the shop are {plan.show(sold)}."
    if fabric.steps < steps:
        yield f"{fabric.steps} steps bought; squared up and washed, that leaves less than is needed: it takes {steps}."
    if fabric.steps > steps:
        yield f"{fabric.steps} steps bought, and {steps} would do."
    bound = floor(least_steps(fabric, fabric.bound, 1) * fabric.sold_by)
    if fabric.bound_bought != bound:
        yield f"the bound would let {plan.show(bound)} be bought, not {plan.show(fabric.bound_bought)}."


def _bought_length(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """The cloths to buy are together what is bought, washed."""
    length = sum((cloth.length for cloth in fabric.cloths if cloth.buy), Fraction(0))
    washed = fabric.bought * (1 - fabric.shrinks[0])
    if length != washed:
        yield f"washed, the cloth to buy is {plan.show(washed)} long, not {plan.show(length)}."


def bought_at_one_go(fabric: Fabric) -> list[list[Cloth]]:
    """The cloths to buy, gathered by the bolt that they are cut off."""
    bolts: dict[int | None, list[Cloth]] = {}
    for cloth in fabric.cloths:
        if cloth.buy:
            bolts.setdefault(cloth.bolt, []).append(cloth)
    return list(bolts.values())


def _steps_of(fabric: Fabric, cloths: list[Cloth]) -> int:
    return _steps(fabric, sum(cloth.along for cloth in cloths), sum((cloth.squaring for cloth in cloths), Fraction(0)))


def least_steps(fabric: Fabric, needed: int, cloths: int) -> int:
    """Shop steps that leave `needed` and its spare share of so many cloths, squared up and washed; none for nothing."""
    return _steps(fabric, needed, cloths * fabric.squaring)


def _steps(fabric: Fabric, needed: int, squaring: Fraction) -> int:
    if not needed:
        return 0
    wanted = ceil((needed * (1 + fabric.spare) + squaring) / (1 - fabric.shrinks[0]))
    return ceil(wanted / fabric.sold_by - _LOOSE)


def _proofs(plan: Plan, fabric: Fabric) -> Iterator[str]:
    if fabric.proven != (fabric.bound == fabric.needed):
        yield f"{plan.show(fabric.needed)} needed is {_said(fabric.proven)} proven; the bound says otherwise."
    if fabric.bought_proven != (fabric.bound_bought == fabric.bought):
        yield f"{plan.show(fabric.bought)} bought is {_said(fabric.bought_proven)} proven; the bound says otherwise."


def _said(proven: bool) -> str:
    return "said to be" if proven else "not said to be"


def _cost(plan: Plan, fabric: Fabric) -> Iterator[str]:
    if fabric.price is None and fabric.cost is None:
        return
    if fabric.price is None or fabric.cost is None:
        yield "price and cost must both be given, or neither."
        return
    cost = fabric.steps * fabric.sold_by / plan.priced_by * fabric.price
    if abs(fabric.cost - cost) > _CENT / 2 + _LOOSE * cost:
        yield f"the cost is {float(cost):.2f}, not {float(fabric.cost):.2f}."


def _areas(plan: Plan, fabric: Fabric) -> Iterator[str]:
    written, worked_out = asdict(fabric.area), asdict(_worked_out(fabric))
    for part, area in written.items():
        if area < 0:
            yield f"the area of {part} is below 0."
        if area != worked_out[part]:
            yield f"the area of {part} is {_square(plan, worked_out[part])}, not {_square(plan, area)}."
    if sum(written.values()) != fabric.taken:
        yield f"the parts of the area add up to {_square(plan, sum(written.values()))}, not to what is taken."
    taken = sum(map(_taken, fabric.cloths), Fraction(0))
    if taken != fabric.taken:
        yield f"{_square(plan, taken)} of cloth are taken, not {_square(plan, fabric.taken)}."


def _worked_out(fabric: Fabric) -> Area:
    """Where the cloth went, by the cloths alone."""
    total = Fraction(0)
    cloths = fabric.cloths
    pieces = Fraction(sum(placed.at.area for cloth in cloths for placed in cloth.placed))
    offcuts = Fraction(sum(offcut.area for cloth in cloths for offcut in cloth.offcuts))
    full = [cloth for cloth in cloths if cloth.outline is None]
    selvage = sum(((cloth.width - cloth.across) * _taken_length(cloth) for cloth in full), total)
    squaring = sum((cloth.squaring * cloth.across for cloth in cloths), total)
    rounding = sum((_beyond(cloth) * cloth.across for cloth in cloths if cloth.buy), total)
    taken = sum(map(_taken, cloths), total)
    return Area(
        pieces=pieces,
        offcuts=offcuts,
        scrap=taken - pieces - offcuts - selvage - squaring - rounding,
        selvage=selvage,
        squaring=squaring,
        rounding=rounding,
    )


def _taken_length(cloth: Cloth) -> Fraction:
    return cloth.length if cloth.buy else cloth.used


def _taken(cloth: Cloth) -> Fraction:
    """What is taken of a cloth, over its full width; all within an outline."""
    return _taken_length(cloth) * cloth.width if cloth.outline is None else area_of(cloth.outline)


def _beyond(cloth: Cloth) -> Fraction:
    """Length of bought cloth beyond what is needed."""
    return cloth.length - cloth.along - cloth.squaring


def _square(plan: Plan, area: Fraction | int) -> str:
    return f"{float(area * plan.ruler**2):.10g} square {plan.unit}"


def _shrinkage(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Unwashed less washed area of what is taken and still to be washed."""
    washed = sum((_taken(cloth) for cloth in fabric.cloths if not cloth.washed), Fraction(0))
    lengthwise, crosswise = fabric.shrinks
    lost = washed / ((1 - lengthwise) * (1 - crosswise)) - washed
    if abs(fabric.shrinkage - lost) > _CENT / 2 / plan.ruler**2 + _LOOSE * lost:
        worked_out = f"{float(lost * plan.ruler**2):.2f} square {plan.unit}"
        yield f"{worked_out} are lost in washing, not {_square(plan, fabric.shrinkage)}."


def _waste(plan: Plan, fabric: Fabric) -> Iterator[str]:
    lost = fabric.area.scrap + fabric.area.selvage + fabric.area.squaring
    share = 100 * lost / fabric.taken if fabric.taken else Fraction(0)
    if abs(share - fabric.waste_percent) > Fraction(1, 20):
        yield f"{float(share):.1f} % are wasted, not {float(fabric.waste_percent):.10g} %."


def _cloth(plan: Plan, fabric: Fabric, cloth: Cloth) -> Iterator[str]:
    """Faults in the size of a cloth and in how much of it is used."""
    used = cloth.length if cloth.whole else cloth.edge + cloth.squaring
    if cloth.used != used:
        yield f"{plan.show(used)} of it are used, not {plan.show(cloth.used)}."
    if cloth.across > cloth.width or cloth.along + cloth.squaring > cloth.length:
        yield (
            f"{plan.show(cloth.across)} across and {plan.show(cloth.along)} along can be used, "
            f"but it is only {plan.show(cloth.width)} by {plan.show(cloth.length)}, squaring included."
        )
    yield from _measured(plan, fabric, cloth)
    yield from _cloth_to_buy(plan, fabric, cloth) if cloth.buy else _cloth_on_hand(plan, cloth)


def _measured(plan: Plan, fabric: Fabric, cloth: Cloth) -> Iterator[str]:
    """Washing takes its shares of a cloth as it was measured, and nothing of one that was washed before."""
    lengthwise, crosswise = (0, 0) if cloth.washed else fabric.shrinks
    sides = zip(("wide", "long"), cloth.measured, (crosswise, lengthwise), (cloth.width, cloth.length), strict=True)
    for side, measured, share, told in sides:
        washed = measured * (1 - share)
        if abs(washed - told) > _LOOSE / plan.ruler:
            size = f"{plan.show(washed)} once washed, not {plan.show(told)}"
            yield f"measured {plan.show(measured)} {side}, it is {size}."


def _cloth_on_hand(plan: Plan, cloth: Cloth) -> Iterator[str]:
    """What can be used of a cloth on hand is its length less squaring, down to the ruler."""
    usable = floor(cloth.length - cloth.squaring)
    if cloth.along != usable:
        yield f"{plan.show(usable)} of its length can be used, not {plan.show(cloth.along)}."


def _cloth_to_buy(plan: Plan, fabric: Fabric, cloth: Cloth) -> Iterator[str]:
    width = fabric.width * (1 - fabric.shrinks[1])
    if cloth.whole:
        yield "cloth to buy is a length, not a rectangle taken whole."
    if cloth.width != width:
        yield f"washed, it is {plan.show(width)} wide, not {plan.show(cloth.width)}."
    if cloth.across != fabric.usable_width:
        yield f"it is {plan.show(cloth.across)} across, where {plan.show(fabric.usable_width)} can be used."
    if cloth.along != cloth.edge:
        yield f"it is {plan.show(cloth.along)} along, but its last piece ends at {plan.show(cloth.edge)}."
    if cloth.squaring != fabric.squaring and cloth.lay is None:
        yield f"squaring takes {plan.show(fabric.squaring)} of it, not {plan.show(cloth.squaring)}."
    if cloth.washed:
        yield "cloth to buy is not washed yet."
