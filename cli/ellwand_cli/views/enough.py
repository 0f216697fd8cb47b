"""The first question: is there enough of each fabric, and if so what is left, a line each."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Plan, Source
from ellwand_cli.views.origin import cloth_length
from ellwand_cli.views.words import largest_offcut, one_cloth_line

__all__ = ["enough_lines"]


def enough_lines(plan: Plan) -> tuple[str, ...]:
    """For each fabric a line: enough and what is left, or short and by how much."""
    notation = plan.project.notation
    return tuple(
        f"{answer.fabric.id}{_supposing(answer, notation)}: {_answer(plan, answer)}" for answer in plan.fabrics
    )


def _supposing(answer: FabricPlan, notation: Notation) -> str:
    """The cloth that somebody supposes to have."""
    if not answer.fabric.supposed:
        return ""
    lengths = " and ".join(cloth_length(cloth.length, notation) for cloth in answer.fabric.on_hand)
    return f" (what if: {lengths or 'none'} on hand)"


def _answer(plan: Plan, answer: FabricPlan) -> str:
    notation = plan.project.notation
    if answer.needed == 0:
        return f"enough. Left: {_left(answer, notation, plan.project.keep)}."
    if answer.enough:
        return _short(plan, answer, notation)
    return _not_to_be_had(answer, notation)


def _short(plan: Plan, answer: FabricPlan, notation: Notation) -> str:
    """By how much, and what to buy."""
    buy = f"buy {notation.cloth(answer.bought)}"
    if plan.as_new or not answer.fabric.on_hand:
        reason = "as new" if plan.as_new else "none on hand"
        return f"{reason}: {buy}, of which {notation.show(answer.needed)} is needed."
    if answer.fabric.same_cloth:
        return f"{one_cloth_line(answer)}; {buy}, of which {notation.show(answer.needed)} is needed."
    return f"short by {notation.show(answer.needed)}: {buy}."


def _not_to_be_had(answer: FabricPlan, notation: Notation) -> str:
    """Which pieces do not fit, and the smallest cloth that would hold them."""
    missing = [layout for layout in answer.layouts if layout.cloth.source is Source.BUY]
    counts = Counter(placed.piece for layout in missing for placed in layout.placed)
    pieces = ", ".join(f"{count} × {name}" for name, count in counts.items())
    cloth = f": {one_cloth_line(answer)}" if answer.fabric.same_cloth else ""
    text = f"short{cloth}. No place was found for {pieces}"
    if answer.missing is None:
        return f"{text}."
    washed = ", washed," if answer.fabric.wash else ""
    matched = ", and begins where a repeat of the print does" if answer.matched else ""
    size = notation.pair(answer.missing.across, answer.missing.along)
    return f"{text}; the smallest cloth found that would do has {size}{washed} to use{matched}."


def _left(answer: FabricPlan, notation: Notation, keep: Fraction) -> str:
    """Lengths, untouched cloths and offcuts that are large enough to keep."""
    kept = [left for left in answer.left if min(left.across, left.along) >= keep]
    rests = [f"{notation.show(left.along)} of {left.ledger or left.id}" for left in kept if not left.untouched]
    untouched = sum(left.untouched for left in kept)
    words = [*rests[:1], *([f"the rest of {len(rests) - 1} more"] if rests[1:] else [])]
    words += [f"{untouched} {'cloth' if untouched == 1 else 'cloths'} not cut into"] if untouched else []
    offcuts = sum(len(layout.offcuts) for layout in answer.layouts)
    largest = largest_offcut(answer.layouts)
    if largest:
        size = notation.pair(largest.across, largest.along)
        words.append(f"an offcut of {size}" if offcuts == 1 else f"{offcuts} offcuts, the largest {size}")
    return "; ".join(words) or "nothing worth keeping"
