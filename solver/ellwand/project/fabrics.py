"""The ``[fabric.NAME]`` tables and the cloth on hand in them.

A plan writes lengths as decimal numbers of the project's unit. Measured cloth in a unit that is foreign to it is
put at a millionth of the unit: what can be used down, losses up.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction

from ellwand.lengths import Notation, round_down, round_up, unit_length
from ellwand.project.basics import Basics
from ellwand.project.matching import read_repeat
from ellwand.project.mixes import is_mix, read_mix
from ellwand.project.outline import read_flaws, read_outline
from ellwand.project.table import Pair, Table
from ellwand.project.tables import Fabric, Grain, OnHand, Way

__all__ = ["hangs", "read_fabrics", "read_grain"]

_KEYS = (
    "is", "width", "selvage", "way", "grain", "wash", "shrinks", "square_up", "square_up_ends", "sold_by", "price",
    "on_hand", "buy", "repeat", "same_cloth", "bolt",
)  # fmt: skip
_EXAMPLE = 'on_hand = [{ length = "2 yd" }]'
_MILLION = 10**6
_MOST_CLOTHS = 10_000  # of one fabric
_MOST_ODD = 20  # alike, with an outline or flaws: each is packed on its own
_UNSHRUNK: Pair = (Fraction(0), Fraction(0))


def read_fabrics(table: Table | None, basics: Basics) -> Mapping[str, Fabric]:
    """Read every ``[fabric.NAME]``, by name, in the file's order."""
    if table is None:
        return {}
    children = table.children("fabric")
    real = {name: _fabric(name, child, basics) for name, child in children.items() if not is_mix(child)}
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


def _fabric(name: str, table: Table, basics: Basics) -> Fabric:
    if table.has("whole_blocks"):
        raise table.error("whole_blocks", "only a mix has this", hint='Add any_of = ["ink", "navy"], or leave it out')
    table.only(*_KEYS)
    selvage = _loss(table, "selvage", basics.usual("selvage"), basics)
    ends = table.count("square_up_ends", 1, most=2)
    square_up = _loss(table, "square_up", basics.usual("square_up"), basics)
    fabric = Fabric(
        id=name,
        note=table.text("is", ""),
        width=_measured(table, "width", basics),
        selvage=selvage,
        way=table.choice("way", Way.ANY),
        woven=table.word("grain", "woven", ("woven", "none")) == "woven",
        wash=table.flag("wash", default=False),
        shrinks=table.percents("shrinks", _UNSHRUNK, under=50),
        square_up=square_up,
        square_up_ends=ends,
        sold_by=table.length("sold_by", basics.usual("sold_by")),
        price=table.number("price") if table.has("price") else None,
        on_hand=_on_hand(table, basics, squaring=square_up * ends),
        buy=table.flag("buy", default=True),
        repeat=read_repeat(table, basics),
        bolt=_measured(table, "bolt", basics) if table.has("bolt") else None,
        same_cloth=table.flag("same_cloth", default=False),
    )
    _check_bolt(table, fabric, basics)
    _check_width(table, fabric, basics)
    return fabric


def _check_bolt(table: Table, fabric: Fabric, basics: Basics) -> None:
    if fabric.bolt is not None and fabric.bolt < fabric.sold_by:
        show = Notation(basics.unit).show
        found = f"{show(fabric.bolt)} is less than the shop sells at a time, {show(fabric.sold_by)}"
        raise table.error("bolt", found, "Write how long a whole bolt is, such as 15 yd")


def _check_width(table: Table, fabric: Fabric, basics: Basics) -> None:
    usable = fabric.between_selvages
    if round_down(usable, basics.ruler) <= 0:
        show = Notation(basics.unit).show
        found = f"{show(fabric.width)} leaves nothing between selvages of {show(fabric.selvage)}"
        raise table.error("width", found)


def _on_hand(table: Table, basics: Basics, *, squaring: Fraction) -> tuple[OnHand, ...]:
    if table.values.get("on_hand") == "ledger":
        raise table.later("on_hand", f"List the cloths here: {_EXAMPLE}")
    entries = table.tables("on_hand", _EXAMPLE)
    cloths = tuple(
        _flawed(entry, basics, _cloth(entry, basics, squaring), _measured(table, "width", basics)) for entry in entries
    )
    if sum(cloth.count for cloth in cloths) > _MOST_CLOTHS:
        raise table.error("on_hand", "these are too many cloths", f"At most {_MOST_CLOTHS} of one fabric")
    return cloths


def _cloth(table: Table, basics: Basics, squaring: Fraction) -> OnHand:
    """A length of the full width loses selvages, squaring and shrinkage; a rectangle is as measured, unless it says."""
    table.only("length", "width", "outline", "flaws", "count", "selvages", "washed", "square_up", "lot")
    if table.has("outline"):
        return _odd(table, basics)
    rectangle = table.has("width")
    return OnHand(
        length=_measured(table, "length", basics),
        width=_measured(table, "width", basics) if rectangle else None,
        count=table.count("count", 1, most=_MOST_CLOTHS),
        selvages=table.count("selvages", 0 if rectangle else 2, least=0, most=2),
        washed=table.flag("washed", default=rectangle),
        square_up=_loss(table, "square_up", Fraction(0) if rectangle else squaring, basics),
    )


def _odd(table: Table, basics: Basics) -> OnHand:
    """A cloth of odd shape: what can be used, as measured."""
    for key in ("length", "width", "selvages", "square_up"):
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
    cloth = replace(cloth, flaws=read_flaws(table, basics, cloth, full), lot=table.text("lot", ""))
    if cloth.count > _MOST_ODD and (cloth.outline or cloth.flaws):
        raise table.error("count", "these are too many cloths with an outline or flaws", f"At most {_MOST_ODD} alike")
    return cloth


def _measured(table: Table, key: str, basics: Basics) -> Fraction:
    return _ending(table.length(key), basics, round_down)


def _loss(table: Table, key: str, default: Fraction, basics: Basics) -> Fraction:
    return _ending(table.length(key, default, zero=True), basics, round_up)


def _ending(length: Fraction, basics: Basics, to_mark: Callable[[Fraction, Fraction], Fraction]) -> Fraction:
    return length if basics.ends(length) else to_mark(length, unit_length(basics.unit) / _MILLION)
