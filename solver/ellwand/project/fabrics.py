"""The ``[fabric.NAME]`` tables; the cloth on hand in them is read in :mod:`ellwand.project.onhand`."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ellwand.lengths import Notation, round_down, round_up, unit_length
from ellwand.project.basics import Basics
from ellwand.project.matching import read_repeat
from ellwand.project.mixes import is_mix, read_mix
from ellwand.project.onhand import read_on_hand
from ellwand.project.stocked import read_stocked
from ellwand.project.table import Table
from ellwand.project.tables import Fabric, Grain, Shelf, Stocked, Way

__all__ = ["hangs", "read_fabrics", "read_grain", "read_spare"]

_KEYS = (
    "is", "width", "selvage", "way", "grain", "wash", "shrinks", "square_up", "square_up_ends", "sold_by", "price",
    "on_hand", "buy", "repeat", "ledger", "same_cloth", "bolt",
    "spare", "keep_back",
)  # fmt: skip
_MOST_SPARE = 1000


def read_fabrics(table: Table | None, basics: Basics, shelf: Shelf | None) -> Mapping[str, Fabric]:
    """Read every ``[fabric.NAME]``, by name, in the file's order; `shelf` has those of the ledger."""
    if table is None:
        return {}
    children = table.children("fabric")
    real = {name: _fabric(name, child, basics, shelf) for name, child in children.items() if not is_mix(child)}
    return {name: real[name] if name in real else read_mix(name, child, real) for name, child in children.items()}


def hangs(fabric: Fabric) -> bool:
    """Whether pieces keep the way they hang in the quilt; cloth without grain lets every piece turn."""
    return fabric.woven and fabric.way is not Way.ANY


def read_grain(table: Table, fabric: Fabric) -> Grain | None:
    """The grain a piece asks for; a print with a way decides it, and the file may not say otherwise."""
    if not table.has("grain"):
        return None
    grain = table.choice("grain", Grain.EITHER)
    if hangs(fabric) and grain is not Grain.LENGTHWISE:
        found = f'"{grain.value}" would let the piece lie sideways on "{fabric.id}", which is {fabric.way.value} cloth'
        raise table.error("grain", found, "Leave it out, and the piece is cut as it hangs")
    return grain


def read_spare(table: Table, fabric: Fabric) -> int:
    """How many more of a piece are wished for."""
    spare = table.count("spare", 0, least=0, most=_MOST_SPARE)
    if spare and fabric.any_of:
        raise table.error("spare", f'"{fabric.id}" is a mix', "Spare pieces are of one fabric", "Leave it out")
    return spare


def _fabric(name: str, table: Table, basics: Basics, shelf: Shelf | None) -> Fabric:
    if table.has("whole_blocks"):
        raise table.error("whole_blocks", "only a mix has this", hint='Add any_of = ["ink", "navy"], or leave it out')
    table.only(*_KEYS)
    usual = read_stocked(name, table, basics, shelf)
    ends = table.count("square_up_ends", 1, most=2)
    square_up = basics.lost(table.length("square_up", basics.usual("square_up"), zero=True))
    width = basics.measured(table.length("width", usual.width))
    fabric = Fabric(
        id=name,
        note=table.text("is", usual.note),
        width=width,
        selvage=basics.lost(table.length("selvage", usual.selvage, zero=True)),
        way=table.choice("way", usual.way),
        woven=table.word("grain", "woven", ("woven", "none")) == "woven",
        wash=table.flag("wash", default=False),
        shrinks=table.percents("shrinks", usual.shrinks, under=50),
        square_up=square_up,
        square_up_ends=ends,
        sold_by=table.length("sold_by", usual.sold_by),
        price=table.number("price") if table.has("price") else _price(usual, basics),
        on_hand=read_on_hand(table, basics, width, squaring=square_up * ends, usual=usual),
        buy=table.flag("buy", default=True),
        repeat=read_repeat(table, basics) if table.has("repeat") else usual.repeat,
        ledger=usual.ledger,
        bolt=_bolt(table, basics),
        same_cloth=table.flag("same_cloth", default=False),
        spare=table.percent("spare", Fraction(0)),
        keep_back=_keep_back(table, basics),
    )
    _check_bolt(table, fabric, basics)
    _check_width(table, fabric, basics)
    return fabric


def _bolt(table: Table, basics: Basics) -> Fraction | None:
    """Where a bolt ends; what may not be bought comes off none, and what is missing of it is told in one length."""
    bolt = basics.measured(table.length("bolt")) if table.has("bolt") else None
    return bolt if table.flag("buy", default=True) else None


def _check_bolt(table: Table, fabric: Fabric, basics: Basics) -> None:
    if fabric.bolt is not None and fabric.bolt < fabric.sold_by:
        show = Notation(basics.unit).show
        found = f"{show(fabric.bolt)} is less than the shop sells at a time, {show(fabric.sold_by)}"
        raise table.error("bolt", found, "Write how long a whole bolt is, such as 15 yd")


def _price(usual: Stocked, basics: Basics) -> Fraction | None:
    """The ledger's price, for a yard or in centimetre projects a metre."""
    return None if usual.price is None else usual.price * unit_length("yd" if basics.unit == "in" else "m")


def _keep_back(table: Table, basics: Basics) -> tuple[Fraction, Fraction] | None:
    """The size of what is kept back, on the ruler; less than an offcut is nothing to keep."""
    if not table.has("keep_back"):
        return None
    across, along = (round_up(side, basics.ruler) for side in table.pair("keep_back"))
    if min(across, along) < basics.keep:
        show = Notation(basics.unit).show
        found = f"{show(min(across, along))} is less than {show(basics.keep)}, below which all is scrap"
        raise table.error("keep_back", found, hint="Keep a larger piece, or make keep in [project] smaller")
    return across, along


def _check_width(table: Table, fabric: Fabric, basics: Basics) -> None:
    usable = fabric.between_selvages
    if round_down(usable, basics.ruler) <= 0:
        show = Notation(basics.unit).show
        found = f"{show(fabric.width)} leaves nothing between selvages of {show(fabric.selvage)}"
        raise table.error("width", found)
