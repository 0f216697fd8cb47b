"""Sentences that the terminal and the printed sheets share."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil, floor

from ellwand.cloths import as_measured
from ellwand.costs import plan_cost
from ellwand.lengths import Notation
from ellwand.model import Area, FabricPlan, Layout, Offcut, Plan, Source
from ellwand_cli.views.origin import shelf_mark, to_wash
from ellwand_cli.views.typeset import joined

__all__ = [
    "buy_line", "cost_line", "counted", "freer_lines", "how_sure", "largest_offcut", "letters", "on_hand_line",
    "one_cloth_line", "percent", "short_line", "to_buy", "waste_parts",
]  # fmt: skip

_WEAK = Fraction(5, 4)  # needed over bound, beyond which the bound says little


def how_sure(answer: FabricPlan) -> str:
    """How far the needed length may be from the least, without a word of mathematics."""
    if answer.needed == 0:
        return "the cloth on hand is enough"
    needed = answer.needed_at_least
    if needed == answer.bound:
        return "cannot be done in less" + ("" if needed == answer.needed else " but for spare pieces")
    if answer.bound == 0:
        return "not proven the least"
    if needed > _WEAK * answer.bound:
        return f"perhaps less would do, though not below {floor(100 * answer.bound / needed)} % of it"
    return f"at most {_tenths_up(needed / answer.bound - 1)} % from the least"


def to_buy(answer: FabricPlan, notation: Notation) -> str:
    """What to buy in a table's cell, or what is missing where nothing more is to be had."""
    if not answer.enough:
        return f"short {notation.show(answer.needed)}"
    return notation.cloth(answer.bought) if answer.steps else "nothing"


def buy_line(answer: FabricPlan, notation: Notation) -> str:
    """What to buy, what it costs, and whether less would do."""
    if answer.steps == 0:
        return "nothing"
    cost = "" if answer.cost is None else f", {answer.cost}"
    sure = "; less cannot be bought" if answer.bought_proven else ""
    return f"{notation.cloth(answer.bought)} ({notation.show(answer.bought)}{cost}){sure}"


def cost_line(plan: Plan) -> str:
    """What all that is bought costs, and a copy's share of it; nothing where that cannot be told."""
    cost = plan_cost(plan)
    if cost is None:
        return ""
    share = f", {cost.each} for each of {cost.copies} copies" if cost.copies > 1 else ""
    without = f" (without {joined(cost.unpriced)}, of unknown price)" if cost.unpriced else ""
    return f"costs {cost.total}{share}{without}"


def freer_lines(answer: FabricPlan, notation: Notation) -> Iterator[str]:
    """What more freedom to cut would save, where that was looked at."""
    before = answer.needed_at_least, answer.bought
    for looser in answer.looser:
        if looser.needed == before[0]:
            continue
        how = 'straight cuts in any number of levels (stages = "any")' if looser.straight else "scissors, cut freely,"
        less = f"{notation.cloth(looser.bought)} to buy" if looser.bought < before[1] else "and no less to buy"
        before = looser.needed, looser.bought
        needs = f"would need {notation.show(looser.needed) if looser.needed else 'nothing more'}"
        yield f"{how} {needs}, {less}" if looser.needed and answer.enough else f"{how} {needs}"
    if answer.looser and before[0] == answer.needed_at_least:
        tried = any(looser.straight for looser in answer.looser)
        who = "neither more levels of straight cuts nor scissors were" if tried else "scissors were not"
        yield f"{who} found to save anything"


def short_line(answer: FabricPlan, notation: Notation) -> str:
    """Why a fabric that may not be bought is not enough: how much is missing, and for which pieces."""
    left = [layout for layout in answer.layouts if layout.cloth.source is Source.BUY]
    names = list(dict.fromkeys(placed.piece for layout in left for placed in layout.placed))
    counts = {name: sum(placed.piece == name for layout in left for placed in layout.placed) for name in names}
    pieces = ", ".join(f"{counts[name]} × {name}" for name in names)
    missing = f"{notation.show(answer.needed)} missing, {notation.show(answer.usable_width)} wide to use"
    lead = "cannot be enough" if answer.bound > 0 else "is not enough in any layout found, though one may exist"
    return f"{lead}: {missing}, for {pieces}"


def on_hand_line(answer: FabricPlan, notation: Notation) -> str:
    """Which cloths on hand are cut into."""
    used = [layout for layout in answer.layouts if layout.cloth.source is Source.ON_HAND]
    return ", ".join(f"{layout.cloth.id} ({_told(answer, layout, notation)})" for layout in used) or "none"


def one_cloth_line(answer: FabricPlan) -> str:
    """From which cloth or dye lot all pieces come, where they must be of one; nothing where they need not."""
    if not answer.fabric.same_cloth:
        return ""
    cloths = [layout.cloth for layout in answer.layouts]
    if answer.needed:
        return _new_cloth(answer)
    names = joined([cloth.id for cloth in cloths])
    return f"all of one dye lot, {cloths[0].lot}: {names}" if cloths[0].lot else f"all of one cloth, {names}"


def _new_cloth(answer: FabricPlan) -> str:
    """Why all is of new cloth, or would have to be."""
    has_some = answer.fabric.only == () and answer.fabric.on_hand
    reason = (
        f"no length or dye lot on hand {'holds' if answer.bound else 'was found to hold'} it all" if has_some else ""
    )
    if not answer.enough:
        return reason or "it must be of one length"
    return f"all of new cloth, in one length{': ' if reason else ''}{reason}"


def waste_parts(area: Area, notation: Notation) -> tuple[tuple[str, Fraction, str], ...]:
    """Where the cloth goes: name, area in the unit squared, share."""
    named = (
        ("in the pieces", area.pieces),
        ("in offcuts", area.offcuts),
        ("scrap", area.scrap),
        ("selvages", area.selvage),
        ("squaring up", area.squaring),
        ("bought beyond need", area.rounding),
    )
    return tuple((name, notation.in_units_squared(value), percent(value, area.taken)) for name, value in named)


def counted(pieces: Mapping[str, int]) -> str:
    """Pieces with their counts: ``2 × outer/left and 1 × outer/top``."""
    return joined(f"{count} × {name}" for name, count in pieces.items())


def largest_offcut(layouts: Sequence[Layout]) -> Offcut | None:
    """The offcut with the largest area, if there is any."""
    offcuts = [offcut for layout in layouts for offcut in layout.offcuts]
    return max(offcuts, key=lambda offcut: offcut.across * offcut.along, default=None)


def letters(number: int) -> str:
    """A name for each number from 0: a … z, aa, ab … az, ba and so on.

    Examples
    --------
    >>> [letters(number) for number in (0, 25, 26, 53, 702)]
    ['a', 'z', 'aa', 'bb', 'aaa']
    """
    before, last = divmod(number, 26)
    return (letters(before - 1) if before else "") + chr(97 + last)


def percent(part: Fraction, whole: Fraction) -> str:
    """A share to a tenth of a per cent."""
    return f"{float(100 * part / whole):.1f} %" if whole else "–"


def _told(answer: FabricPlan, layout: Layout, notation: Notation) -> str:
    """How a cloth is found, and what is taken of it."""
    return "; ".join(filter(None, (shelf_mark(layout.cloth), _taken(answer, layout, notation))))


def _taken(answer: FabricPlan, layout: Layout, notation: Notation) -> str:
    cloth = layout.cloth
    washed = to_wash(answer, cloth)
    if cloth.whole:
        to_use = notation.pair(cloth.across, cloth.along)
        if washed:
            return f"the whole {notation.pair(*as_measured(answer.fabric, cloth))}; {to_use} after washing"
        return f"the whole {to_use}"
    return f"{notation.show(layout.used)} of its {notation.near(cloth.length)}{' after washing' if washed else ''}"


def _tenths_up(share: Fraction) -> str:
    return f"{ceil(1000 * share) / 10:.1f}".removesuffix(".0")
