"""Judging what stays of the cloth on hand, and what is said to be missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ellwand.verdict.layout import wrong_places
from ellwand.verdict.tables import Cloth, Fabric, Left, Plan

__all__ = ["wrong_remains"]


def wrong_remains(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Faults in what is left of one fabric, and in the cloth that would hold what has no place."""
    name = f'Fabric "{fabric.id}"'
    yield from (f"{name}: {fault}" for fault in _wrong_left(plan, fabric))
    yield from (f"{name}: {fault}" for fault in _wrong_missing(plan, fabric))


def _wrong_left(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Cloths that are cut into leave their rest; all others that could be used are left as they are."""
    cut = {cloth.id: cloth for cloth in fabric.cloths if not cloth.buy}
    if len({left.id for left in fabric.left}) < len(fabric.left):
        yield "some cloth is left twice."
    told = {left.id: left for left in fabric.left}
    for cloth in cut.values():
        yield from _wrong_rest(plan, cloth, told.get(cloth.id))
    on_hand = Counter([*fabric.proof.cloths, *((across, along) for across, along, _ in fabric.proof.odd)])
    untouched = on_hand - Counter((cloth.across, cloth.along) for cloth in cut.values())
    if untouched != Counter((left.across, left.along) for left in fabric.left if left.id not in cut):
        yield "the cloths that are left are not those on hand without those that are cut into."


def _wrong_rest(plan: Plan, cloth: Cloth, told: Left | None) -> Iterator[str]:
    rest = cloth.rest
    wanted = (rest.across, rest.along) if rest else None
    if wanted != ((told.across, told.along) if told else None):
        length = plan.show(rest.along) if rest else "nothing"
        yield f'{length} is left of cloth "{cloth.id}", not {plan.show(told.along) if told else "nothing"}.'


def _wrong_missing(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """All pieces on cloth that is not to be had, and no others, lie on the cloth that would hold them."""
    missing = fabric.missing
    if missing is None:
        return
    if fabric.buy or not fabric.needed:
        yield "nothing is missing."
        return
    lacking = Counter(placed.piece for cloth in fabric.cloths if cloth.buy for placed in cloth.placed)
    if Counter(placed.piece for placed in missing.placed) != lacking:
        yield "the missing cloth does not hold the pieces that have no place."
    for fault in wrong_places(plan, missing.placed, missing.across, missing.along):
        yield f"missing cloth: {fault}"
