"""The judge of plans: a plan document alone must show that every promise is kept.

It knows nothing of what made the plan and shares no code with it. Lengths are exact throughout.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from ellwand.verdict.bound import wrong_bound
from ellwand.verdict.layout import wrong_layout
from ellwand.verdict.lays import wrong_bolts, wrong_lays
from ellwand.verdict.mixes import wrong_mixes
from ellwand.verdict.reading import MalformedError, read_plan
from ellwand.verdict.remains import wrong_remains
from ellwand.verdict.sums import wrong_sums
from ellwand.verdict.tables import Fabric, Piece, Placed, Plan
from ellwand.verdict.wishes import wrong_wishes

__all__ = ["judge_plan"]


def judge_plan(document: Mapping[str, object]) -> tuple[str, ...]:
    """Find what is wrong with a plan.

    Parameters
    ----------
    document
        A plan document as docs/plan-format.md tells it, its numbers whole numbers, Fractions or Decimals.

    Returns
    -------
    tuple of str
        A sentence for each fault; empty for a sound plan. What cannot be read as a plan has one fault.

    Examples
    --------
    >>> judge_plan({"format": 1, "unit": "in"})
    ('The plan lacks the key ruler.',)
    """
    try:
        plan = read_plan(document)
    except MalformedError as malformed:
        return (str(malformed),)
    return tuple(_faults(plan))


def _faults(plan: Plan) -> Iterator[str]:
    yield from _twice("pieces", (piece.id for piece in plan.pieces))
    yield from _twice("fabrics", (fabric.id for fabric in plan.fabrics))
    yield from _twice("cloths", (cloth.id for fabric in plan.fabrics for cloth in fabric.cloths))
    fabrics = {fabric.id for fabric in plan.fabrics}
    for piece in plan.pieces:
        if piece.fabric not in fabrics:
            yield f'Piece "{piece.id}" is of fabric "{piece.fabric}", which is not in the plan.'
    for fabric in plan.fabrics:
        yield from _wrong_pieces(plan, fabric)
        if fabric.same_cloth and not _is_one_cloth(fabric):
            yield f'Fabric "{fabric.id}": its pieces come neither from one cloth nor from one dye lot.'
        for cloth in fabric.cloths:
            yield from wrong_layout(plan, fabric, cloth)
        yield from wrong_lays(plan, fabric)
        yield from wrong_bolts(plan, fabric)
        yield from wrong_remains(plan, fabric)
        yield from wrong_sums(plan, fabric)
        yield from wrong_bound(plan, fabric)
        yield from wrong_wishes(plan, fabric)
    yield from wrong_mixes(plan)


def _is_one_cloth(fabric: Fabric) -> bool:
    """Whether there is one cloth alone, or all are on hand and of one lot."""
    lots = {"" if cloth.buy else cloth.lot for cloth in fabric.cloths}
    return len(fabric.cloths) <= 1 or (len(lots) == 1 and "" not in lots)


def _twice(kind: str, ids: Iterable[str]) -> Iterator[str]:
    for name, count in Counter(ids).items():
        if count > 1:
            yield f'{count} {kind} have the id "{name}".'


def _wrong_pieces(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Faults in what is placed on a fabric's cloths: which pieces, how many, their sizes and turns."""
    pieces = {piece.id: piece for piece in plan.pieces if piece.fabric == fabric.id}
    placed = [placed for cloth in fabric.cloths for placed in cloth.placed]
    counts = Counter(item.piece for item in placed)
    for piece in pieces.values():
        if counts[piece.id] != piece.count:
            yield f'Piece "{piece.id}" is placed {counts[piece.id]} times, not {piece.count}.'
    for name in sorted(counts.keys() - pieces.keys()):
        yield f'Fabric "{fabric.id}": piece "{name}" is not one of its pieces.'
    for item in [*placed, *(fabric.missing.placed if fabric.missing else ())]:
        if item.piece in pieces:
            yield from _wrong_shape(plan, pieces[item.piece], item)
            yield from _unmatched(plan, fabric, pieces[item.piece], item)


def _wrong_shape(plan: Plan, piece: Piece, placed: Placed) -> Iterator[str]:
    across, along = (piece.along, piece.across) if placed.turned else (piece.across, piece.along)
    if (placed.at.across, placed.at.along) != (across, along):
        yield (
            f"{_capital(plan.where(placed))} is {plan.show(placed.at.across)} by {plan.show(placed.at.along)}, "
            f"not {plan.show(across)} by {plan.show(along)}."
        )
    if placed.turned and not piece.turnable:
        yield f"{_capital(plan.where(placed))} is turned, and may not be."


def _unmatched(plan: Plan, fabric: Fabric, piece: Piece, placed: Placed) -> Iterator[str]:
    """Faults of a piece that is to match: turned, or more than half a mark from its place in the repeat."""
    if piece.phase is None:
        return
    name = _capital(plan.where(placed))
    if placed.turned:
        yield f"{name} is turned, and cannot match so."
    if fabric.repeat is None:
        yield f'{name} is to match, and fabric "{fabric.id}" has no repeat.'
        return
    places = zip(("across", "along"), (placed.at.x, placed.at.y), piece.phase, fabric.repeat, strict=True)
    for direction, at, phase, repeat in places:
        off = (at - phase) % repeat if phase is not None and repeat else Fraction(0)
        if min(off, repeat - off) > Fraction(1, 2):
            yield f"{name} does not match {direction}: it is {plan.show(off)} beyond its place in the repeat."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
