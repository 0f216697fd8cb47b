"""Whether what a plan says of its mixes is what its pieces and its purchases say."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ellwand.verdict.tables import PRICED_BY, Fabric, Mix, Mixed, Plan, Taken

__all__ = ["wrong_mixes"]

_NEAR = Fraction(1, 10**6)  # prices and steps that do not end as decimals are rounded far behind the point


def wrong_mixes(plan: Plan) -> Iterator[str]:
    """Faults in who gives what, and in what is bought of these fabrics together."""
    mixed = plan.mixed
    if mixed is None:
        return
    for mix in mixed.mixes:
        for name in set(mix.any_of) - set(mixed.fabrics):
            yield f'Mix "{mix.id}" names "{name}", which is not among the fabrics of the mixes.'
        for taken in mix.taken:
            yield from _wrong_share(plan, mixed, mix, taken)
    fabrics = [fabric for fabric in plan.fabrics if fabric.id in mixed.fabrics]
    bought = sum((_paid(plan, mixed, fabric) for fabric in fabrics if fabric.buy), Fraction(0))
    if abs(bought - mixed.bought) > _NEAR:
        yield f"The fabrics of the mixes come to {float(bought):.9g} together, not {float(mixed.bought):.9g}."
    if mixed.least > mixed.bought + _NEAR:
        yield "The fabrics of the mixes are said to come to less than their least."
    enough = all(fabric.buy or fabric.needed == 0 for fabric in fabrics)
    if mixed.proven != (enough and mixed.least >= mixed.bought):
        yield "The mixes' proven is not what least and bought say."


def _wrong_share(plan: Plan, mixed: Mixed, mix: Mix, taken: Taken) -> Iterator[str]:
    """Faults in one share: of a fabric that is none of the mix, or other than the pieces have it."""
    what = f'Mix "{mix.id}": "{taken.name}" of "{taken.fabric}"'
    if taken.fabric not in mix.any_of:
        yield f"{what}, which is none of its fabrics."
    own = [piece for piece in plan.pieces if piece.fabric == taken.fabric]
    alone = sum(one.name == taken.name for one in mix.taken) == 1
    if alone or taken.blocks:
        if not any(_belongs(piece.id, taken.name) for piece in own):
            yield f"{what} has no piece in the plan."
        return
    counts = [piece.count for piece in own if piece.id == f"{taken.name}/{taken.fabric}"]
    if counts != [taken.count * mixed.copies]:
        yield f"{what} is {taken.count} of each copy, and the pieces have it otherwise."


def _belongs(id: str, name: str) -> bool:
    """Whether a piece is `name`, or part of it; a sky belongs to its geese also where these are divided."""
    lead, _, last = name.rpartition("/")
    sky = last == "sky" and id.startswith(f"{lead}/") and id.endswith("/sky")
    return id == name or id.startswith(f"{name}/") or sky


def _paid(plan: Plan, mixed: Mixed, fabric: Fabric) -> Fraction:
    """What is bought of a fabric: its price, or its length as sold, in the plan's unit."""
    length = fabric.steps * fabric.sold_by * plan.ruler
    return length * (fabric.price or Fraction(0)) / PRICED_BY[plan.unit] if mixed.by_cost else length
