"""What a ``[fabric.NAME]`` table takes from the ledger, and what is usual where it takes nothing.

The ledger's lengths are exact, whatever unit they were measured in. A project's plan writes decimal numbers of its
unit, so what is none of these is put at a millionth of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from ellwand.lengths import unit_length
from ellwand.project.basics import Basics
from ellwand.project.onhand import LEDGER, MOST_ODD
from ellwand.project.table import Table
from ellwand.project.tables import OnHand, Polygon, Shelf, Stocked
from ellwand.project.wording import meant, plain

__all__ = ["read_stocked"]

_MILLION = 10**6


def read_stocked(name: str, table: Table, basics: Basics, shelf: Shelf | None) -> Stocked:
    """What holds of the fabric `name` where its table says nothing.

    It draws on the ledger if its key ``ledger`` names a fabric there, or its ``on_hand`` is ``"ledger"``: then on the
    one of its own name.

    Raises
    ------
    InputError
        The ledger has no such fabric, or there is no ledger.
    """
    key = "ledger" if table.has("ledger") else "on_hand"
    if key == "on_hand" and table.values.get(key) != LEDGER:
        return Stocked(selvage=basics.usual("selvage"), sold_by=basics.usual("sold_by"))
    wanted = table.text("ledger", name)
    if shelf is None:
        raise table.error(key, "the cloth is to come from a ledger, and none is at hand", "Name one, or list the cloth")
    stocked = _of(table, key, wanted, shelf())
    lengthwise, crosswise = (_share(share) for share in stocked.shrinks)
    return replace(
        stocked,
        width=None if stocked.width is None else basics.measured(stocked.width),
        selvage=basics.lost(stocked.selvage),
        shrinks=(lengthwise, crosswise),
        repeat=_repeat(stocked, basics),
        cloths=tuple(_as_written(cloth, table, basics) for cloth in stocked.cloths),
    )


def _of(table: Table, key: str, name: str, fabrics: Mapping[str, Stocked]) -> Stocked:
    if name not in fabrics:
        hint = meant(name, sorted(fabrics)) if fabrics else "It is empty"
        raise table.error(key, f'the ledger has no fabric "{plain(name)}"', hint=hint)
    return fabrics[name]


def _share(share: Fraction) -> Fraction:
    return Fraction(round(share * _MILLION), _MILLION)


def _repeat(stocked: Stocked, basics: Basics) -> tuple[Fraction, Fraction] | None:
    """The print's repeat, where it has one that the ruler can follow."""
    if stocked.repeat is None:
        return None
    across, along = (basics.exact(length) if length >= basics.ruler else Fraction(0) for length in stocked.repeat)
    return (across, along) if across or along else None


def _as_written(cloth: OnHand, table: Table, basics: Basics) -> OnHand:
    """A cloth of the ledger, its lengths as a plan can write them."""
    _check(cloth, table)
    flaws = tuple(_shape(flaw, basics) for flaw in cloth.flaws)
    if cloth.outline:
        outline = _shape(cloth.outline, basics)
        width, length = (max(values) for values in zip(*outline, strict=True))
        return replace(cloth, width=width, length=length, outline=outline, flaws=flaws)
    return replace(
        cloth,
        length=basics.measured(cloth.length),
        width=None if cloth.width is None else basics.measured(cloth.width),
        full_width=None if cloth.full_width is None else basics.measured(cloth.full_width),
        flaws=flaws,
    )


def _check(cloth: OnHand, table: Table) -> None:
    """Refuse flaws that reach below 0, and too many shapes; what else a shape must be, the ledger sees to."""
    found, shapes = "", [shape for shape in (cloth.outline, *cloth.flaws) if shape]
    if min((min(corner) for shape in shapes for corner in shape), default=Fraction(0)) < 0:
        found = "a flaw reaches below 0"
    elif shapes and cloth.count > MOST_ODD:
        found = f"{cloth.count} with an outline or flaws are too many; at most {MOST_ODD} alike can be laid out"
    if found:
        raise table.error("on_hand", f"cloth {cloth.ledger} of the ledger: {found}", hint="Correct it in the ledger")


def _shape(shape: Polygon, basics: Basics) -> Polygon:
    unit = unit_length(basics.unit)
    return tuple((_near(x, unit), _near(y, unit)) for x, y in shape)


def _near(length: Fraction, unit: Fraction) -> Fraction:
    return Fraction(round(length / unit * _MILLION), _MILLION) * unit
