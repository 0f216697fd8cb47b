"""The cloth on hand in a ``[fabric.NAME]`` table: its list, or what the ledger has."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.project.basics import Basics
from ellwand.project.outline import read_flaws, read_outline
from ellwand.project.table import Table
from ellwand.project.tables import OnHand, Stocked

__all__ = ["LEDGER", "MOST_ODD", "read_on_hand"]

LEDGER = "ledger"  # what stands for a list: take the cloth from there
_EXAMPLE = 'on_hand = [{ length = "2 yd" }]'
_MOST_CLOTHS = 10_000  # of one fabric
MOST_ODD = 20  # alike, with an outline or flaws: each is packed on its own
_WIDEST = Fraction(11, 10)  # of a fabric's width: bolts of one fabric differ a little


def read_on_hand(
    table: Table, basics: Basics, full: Fraction, *, squaring: Fraction, usual: Stocked
) -> tuple[OnHand, ...]:
    """The cloth of a fabric that is `full` wide; `squaring` is what a length of it loses in all.

    A fabric that draws on the ledger has the cloth that lies there, and lists none of its own.
    """
    if usual.ledger and table.values.get("on_hand", LEDGER) == LEDGER:
        cloths = tuple(entry if entry.width else replace(entry, square_up=squaring) for entry in usual.cloths)
    else:
        cloths = _listed(table, basics, full, squaring)
        if usual.ledger and cloths:
            found = f'the cloth of "{usual.ledger}" is taken from the ledger, and some is listed here too'
            raise table.error("on_hand", found, "Enter all of it in the ledger, or leave the key ledger out")
    if sum(cloth.count for cloth in cloths) > _MOST_CLOTHS:
        raise table.error("on_hand", "these are too many cloths", f"At most {_MOST_CLOTHS} of one fabric")
    return cloths


def _listed(table: Table, basics: Basics, full: Fraction, squaring: Fraction) -> tuple[OnHand, ...]:
    entries = table.tables("on_hand", _EXAMPLE)
    return tuple(_flawed(entry, basics, _cloth(entry, basics, full, squaring), full) for entry in entries)


def _cloth(table: Table, basics: Basics, full: Fraction, squaring: Fraction) -> OnHand:
    """A length of the full width loses selvages, squaring and shrinkage; a rectangle is as measured, unless it says."""
    table.only("length", "width", "full_width", "outline", "flaws", "count", "selvages", "washed", "square_up", "lot")
    if table.has("outline"):
        return _odd(table, basics)
    rectangle = table.has("width")
    if rectangle and table.has("full_width"):
        found = "a cloth with a width is a rectangle, and not of the full width"
        raise table.error("full_width", found, "Leave one of the two out")
    return OnHand(
        length=basics.measured(table.length("length")),
        width=basics.measured(table.length("width")) if rectangle else None,
        count=table.count("count", 1, most=_MOST_CLOTHS),
        selvages=table.count("selvages", 0 if rectangle else 2, least=0, most=2),
        washed=table.flag("washed", default=rectangle),
        square_up=basics.lost(table.length("square_up", Fraction(0) if rectangle else squaring, zero=True)),
        full_width=_full_width(table, basics, full),
    )


def _odd(table: Table, basics: Basics) -> OnHand:
    """A cloth of odd shape: what can be used, as measured."""
    for key in ("length", "width", "full_width", "selvages", "square_up"):
        if table.has(key):
            raise table.error(key, "the outline says already what can be used", "Leave it out")
    outline = read_outline(table, basics)
    return OnHand(
        length=max(y for _, y in outline),
        width=max(x for x, _ in outline),
        count=table.count("count", 1, most=_MOST_CLOTHS),
        selvages=0,
        washed=table.flag("washed", default=True),
        square_up=Fraction(0),
        outline=outline,
    )


def _flawed(table: Table, basics: Basics, cloth: OnHand, full: Fraction) -> OnHand:
    """`cloth` with its flaws."""
    flaws = read_flaws(table, basics, cloth, cloth.full_width or full)
    cloth = replace(cloth, flaws=flaws, lot=table.text("lot", ""))
    if cloth.count > MOST_ODD and (cloth.outline or cloth.flaws):
        raise table.error("count", "these are too many cloths with an outline or flaws", f"At most {MOST_ODD} alike")
    return cloth


def _full_width(table: Table, basics: Basics, full: Fraction) -> Fraction | None:
    """A length's own width, where the bolt is narrower or a little wider than its fabric is said to be."""
    if not table.has("full_width"):
        return None
    width = basics.measured(table.length("full_width"))
    if width > _WIDEST * full:
        show = Notation(basics.unit).show
        found = f"{show(width)} is much wider than the fabric, which is {show(full)}"
        raise table.error("full_width", found, "At most a tenth more", hint="Correct the one or the other")
    return width
