"""What became of wishes: cloth and pieces to spare, and what is kept back, in one line a fabric."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Spare, Wishes

__all__ = ["wish_line"]


def wish_line(answer: FabricPlan, notation: Notation) -> str:
    """Which wishes for a fabric come true, and how much of the others; nothing where none was made."""
    return "" if answer.wishes is None else "; ".join(_parts(answer, answer.wishes, notation))


def _parts(answer: FabricPlan, wishes: Wishes, notation: Notation) -> Iterator[str]:
    if wishes.share:
        yield _share(answer, wishes)
    yield from map(_spare, wishes.spares)
    if answer.needed > wishes.needed:
        yield f"without spare pieces {notation.show(wishes.needed)} would be needed, and no less bought"
    if answer.fabric.keep_back is not None:
        size = notation.pair(*answer.fabric.keep_back)
        yield f"{size} kept back" if wishes.kept else f"no {size} could be kept back"


def _share(answer: FabricPlan, wishes: Wishes) -> str:
    wished, there = (f"{floor(1000 * share) / 10:g} %" for share in (wishes.share, wishes.honoured))
    if answer.steps and answer.enough:
        return f"{wished} more than needed is bought"
    if wishes.honoured == wishes.share:
        return f"{wished} to spare, which the cloth on hand leaves"
    return f"of {wished} to spare the cloth on hand leaves {there}"


def _spare(spare: Spare) -> str:
    if spare.placed == spare.wanted:
        return f"{spare.placed} spare {spare.piece}"
    return f"{spare.placed or 'none'} of {spare.wanted} spare {spare.piece}, no room was found for more"
