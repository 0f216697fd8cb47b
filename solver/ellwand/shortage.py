"""How much of a limited cloth can be used, and which pieces find no room on it."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from ellwand.cloths import purchase, washed_length
from ellwand.lengths import round_down
from ellwand.model import FabricPlan, Source
from ellwand.project.tables import Fabric

__all__ = ["limited", "unplaced", "usable_length"]


def limited(fabric: Fabric, length: Fraction) -> Fabric:
    """`fabric` of which just `length` is bought, in one piece, none to spare: it does where one step is enough."""
    return replace(fabric, on_hand=(), sold_by=length, buy=True, bolt=None, spare=Fraction(0))


def usable_length(fabric: Fabric, steps: int, ruler: Fraction) -> Fraction:
    """What is left of so many shop steps once they are washed and squared, on the ruler."""
    length = round_down(max(Fraction(0), washed_length(fabric, steps * fabric.sold_by)), ruler)
    while length > 0 and purchase(fabric, length, ruler).steps > steps:
        length -= ruler
    return length


def unplaced(answer: FabricPlan, length: Fraction) -> dict[str, int]:
    """Pieces of the layout of cloth to buy that reach beyond `length` of it, by id."""
    layouts = [layout for layout in answer.layouts if layout.cloth.source is Source.BUY]
    return dict(
        Counter(placed.piece for layout in layouts for placed in layout.placed if placed.y + placed.along > length)
    )
