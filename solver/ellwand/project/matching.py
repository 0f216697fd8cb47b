"""The repeat of a print, and where in it pieces are cut so that they match."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.project.basics import Basics
from ellwand.project.table import Pair, Table
from ellwand.project.tables import Fabric, Grain, Matched
from ellwand.project.wording import listed

__all__ = ["read_phase", "read_repeat"]

_ANYWHERE = "any"
_DIRECTIONS = ("across", "along")


def read_repeat(table: Table, basics: Basics) -> Pair | None:
    """The key ``repeat`` of a fabric: after how much its print begins again, 0 where it does not."""
    if not table.has("repeat"):
        return None
    across, along = (basics.exact(length) for length in table.place("repeat"))
    if across == along == 0:
        raise table.error("repeat", "a print that repeats neither way has none", "Leave it out")
    for length in (across, along):
        if 0 < length < basics.ruler:
            found = f"{Notation(basics.unit).near(length)} is finer than the ruler's marks"
            raise table.error("repeat", found, "Leave it out")
    return across, along


def read_phase(table: Table, basics: Basics, fabric: Fabric) -> Matched | None:
    """The key ``phase`` of a piece: where in the repeat of its fabric its lower left corner lies."""
    if not table.has("phase"):
        return None
    if fabric.any_of:
        raise table.error("phase", f'"{fabric.id}" is a mix, and a match is of one print', hint="Name one fabric")
    if fabric.repeat is None:
        hint = f'Add repeat = [12, 25] to fabric "{fabric.id}", or leave phase out'
        raise table.error("phase", f'"{fabric.id}" has no repeat', hint=hint)
    if table.has("grain") and table.choice("grain", Grain.EITHER) is Grain.EITHER:
        raise table.error("grain", "a piece that matches cannot lie either way", "Leave it out, or choose one way")
    across, along = (
        None if length is None else _in_repeat(table, basics, length, repeat, direction)
        for length, repeat, direction in zip(_asked(table), fabric.repeat, _DIRECTIONS, strict=True)
    )
    if across is along is None:
        raise table.error("phase", "it lets the piece lie anywhere", "Leave it out")
    return across, along


def _asked(table: Table) -> Matched:
    """What the file says, with None for ``"any"``."""
    values = table.values["phase"]
    if not isinstance(values, list) or _ANYWHERE not in values:
        return table.place("phase")
    told = replace(table, values={"phase": [0 if value == _ANYWHERE else value for value in values]})
    across, along = (
        None if value == _ANYWHERE else length for value, length in zip(values, told.place("phase"), strict=True)
    )
    return across, along


def _in_repeat(table: Table, basics: Basics, length: Fraction, repeat: Fraction, direction: str) -> Fraction | None:
    """`length`, if it lies in the repeat; None where the print has none in that direction."""
    exact, show = basics.exact(length), Notation(basics.unit).near
    if repeat == 0:
        if exact:
            raise table.error("phase", f"the print does not repeat {direction}", f"Write {listed(['0', 'any'])} there")
        return None
    if exact >= repeat:
        found = f"{show(exact)} is not within the repeat, which is {show(repeat)} {direction}"
        raise table.error("phase", found, "Take the repeat off as often as it goes")
    return exact
