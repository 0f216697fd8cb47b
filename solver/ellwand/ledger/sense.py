"""Whether a fabric or a cloth makes sense, before it goes into the ledger."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ellwand.ledger.nouns import Kind, OwnedCloth, OwnedFabric
from ellwand.ledger.problems import LedgerError
from ellwand.lengths import Notation
from ellwand.project.shapes import is_simple, meets
from ellwand.project.table import name_fault
from ellwand.project.tables import Polygon

__all__ = ["sensible_cloth", "sensible_fabric"]

_HALF = Fraction(1, 2)
_WIDEST = Fraction(11, 10)  # of a fabric's width: bolts of one fabric differ a little
_LONGEST = 10_000 * 36  # inches
_LONGEST_TEXT = 500
_NO_OUTLINE = "an odd shape has an outline, and no other cloth has one"
_MOST_CORNERS, _MOST_FLAWS = 100, 50  # as in a project


def sensible_fabric(fabric: OwnedFabric) -> None:
    """Refuse a fabric without sense.

    Raises
    ------
    LedgerError
        Which value, and what would be right.
    """
    where = f'fabric "{fabric.name}"'
    if not fabric.name.strip():
        raise LedgerError(where="fabric", found="it has no name", wanted="Give it one")
    if fault := name_fault(fabric.name):
        raise LedgerError(where=where, found=f"its name {fault}", wanted="Use plain letters")
    _sensible_texts({"fibre": fabric.fibre, "picture": fabric.picture, "colours": " ".join(fabric.colours)}, where)
    if fabric.selvage < 0 or fabric.width <= 2 * fabric.selvage:
        raise LedgerError(where=where, found="its width leaves nothing between the selvages")
    if not all(0 <= share < _HALF for share in fabric.shrinks):
        raise LedgerError(where=where, found="it cannot shrink so much", wanted="From 0 to under 50 %")
    if fabric.sold_by <= 0:
        raise LedgerError(where=where, found="the step it is sold by must be more than 0")
    if fabric.price is not None and fabric.price < 0:
        raise LedgerError(where=where, found="its price is less than 0")
    if fabric.priced_by not in ("yd", "m"):
        raise LedgerError(where=where, found=f'its price is for a "{fabric.priced_by}"', wanted="yd or m")
    if fabric.repeat is not None and min(fabric.repeat) < 0:
        raise LedgerError(where=where, found="its repeat is less than 0")
    if any(word != word.lower() or word.split() != [word] for word in fabric.colours):
        raise LedgerError(where=where, found="a colour word has capitals or spaces", wanted="Small letters, one word")


def sensible_cloth(cloth: OwnedCloth, fabric: OwnedFabric) -> None:
    """Refuse a cloth without sense, of itself or as cloth of `fabric`.

    Raises
    ------
    LedgerError
        Which value, and what would be right.
    """
    where = f"cloth {cloth.id}" if cloth.id else f'cloth of "{cloth.fabric}"'
    if cloth.count < 1:
        raise LedgerError(where=where, found=f"{cloth.count} of it are none", wanted="At least 1, or remove it")
    if min(cloth.across, cloth.along) <= 0:
        raise LedgerError(where=where, found="its size must be more than 0")
    if max(cloth.across, cloth.along) > _LONGEST:
        raise LedgerError(where=where, found="it is longer than any cloth")
    if cloth.across > _WIDEST * fabric.width:
        found = f"it is {_inches(cloth.across)} wide, and its fabric only {_inches(fabric.width)}"
        raise LedgerError(where=where, found=found, wanted="At most a tenth more", hint="Correct the one or the other")
    if cloth.across <= cloth.selvages_to_lose * fabric.selvage:
        raise LedgerError(where=where, found="its width leaves nothing beside its selvages")
    _sensible_texts({"lot": cloth.lot, "place": cloth.place, "note": cloth.note}, where)
    if cloth.outline is not None or cloth.flaws:
        _sensible_shapes(cloth, where)
    elif cloth.kind is Kind.ODD:
        raise LedgerError(where=where, found=_NO_OUTLINE)


def _sensible_texts(texts: Mapping[str, str], where: str) -> None:
    for name, text in texts.items():
        fault = name_fault(text, longest=_LONGEST_TEXT) if text else ""
        if fault:
            raise LedgerError(where=where, found=f"its {name} {fault}", wanted="Use plain letters, in one line")


def _sensible_shapes(cloth: OwnedCloth, where: str) -> None:
    if (cloth.outline is not None) != (cloth.kind is Kind.ODD):
        raise LedgerError(where=where, found=_NO_OUTLINE)
    if cloth.outline is not None and not _reaches(cloth):
        raise LedgerError(where=where, found="its outline must reach as far as its size, with at least 3 corners")
    if min((min(corner) for corner in cloth.outline or ()), default=0) < 0:
        raise LedgerError(where=where, found="its outline reaches below 0", wanted="Count from its left and lower edge")
    if any(len(flaw) < 3 for flaw in cloth.flaws):
        raise LedgerError(where=where, found="a flaw has at least 3 corners")
    if len(cloth.flaws) > _MOST_FLAWS:
        raise LedgerError(where=where, found=f"{len(cloth.flaws)} flaws are too many", wanted=f"At most {_MOST_FLAWS}")
    if cloth.outline is not None:
        _sensible_edge("its outline", cloth.outline, where)
    edge = cloth.outline or _whole(cloth)
    for flaw in cloth.flaws:
        _sensible_edge("a flaw", flaw, where)
        if not meets(flaw, edge):
            x, y = (_inches(min(values)) for values in zip(*flaw, strict=True))
            found = f"a flaw begins {x} across and {y} along, and none of it lies on the cloth"
            raise LedgerError(where=where, found=found, wanted="Leave it out, or measure again")


def _sensible_edge(what: str, shape: Polygon, where: str) -> None:
    if len(shape) > _MOST_CORNERS:
        raise LedgerError(where=where, found=f"{what} has {len(shape)} corners", wanted=f"At most {_MOST_CORNERS}")
    if len(set(shape)) < len(shape) or not is_simple(shape):
        wanted = "Write the corners in their order round the edge"
        raise LedgerError(where=where, found=f"the edges of {what.replace('its', 'the')} cross or touch", wanted=wanted)


def _whole(cloth: OwnedCloth) -> Polygon:
    zero = Fraction(0)
    return ((zero, zero), (cloth.across, zero), (cloth.across, cloth.along), (zero, cloth.along))


def _reaches(cloth: OwnedCloth) -> bool:
    corners = cloth.outline or ()
    ends = [max(values) for values in zip(*corners, strict=True)]
    return len(corners) >= 3 and ends == [cloth.across, cloth.along]


def _inches(length: Fraction) -> str:
    return Notation("in").near(length)
