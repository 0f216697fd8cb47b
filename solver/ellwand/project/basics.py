"""The ``[project]`` table, and what is usual in inch and in centimetre projects."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ellwand.lengths import Notation, is_decimal, parse_length, round_down, round_up, unit_length
from ellwand.project.table import UNIT_NAMES, Table
from ellwand.project.tables import Style

__all__ = ["Basics", "read_basics"]

_USUAL = {
    "in": {
        "ruler": "1/8 in",
        "seam": "1/4 in",
        "keep": "4 in",
        "stabiliser margin": "1 in",
        "shortest": "12 in",
        "mitred extra": "6 in",
        "butted extra": "0 in",
        "cornerstones extra": "0 in",
        "binding strip": "2 1/2 in",
        "binding extra": "14 in",
        "overhang": "4 in",
        "sleeve depth": "4 in",
        "sleeve seam": "1/4 in",
        "sleeve extra": "2 in",
        "selvage": "1/2 in",
        "square_up": "1/2 in",
        "square_again": "1/4 in",
        "sold_by": "1/8 yd",
    },
    "cm": {
        "ruler": "1 mm",
        "seam": "7 mm",
        "keep": "10 cm",
        "stabiliser margin": "2.5 cm",
        "shortest": "30 cm",
        "mitred extra": "15 cm",
        "butted extra": "0 cm",
        "cornerstones extra": "0 cm",
        "binding strip": "6.5 cm",
        "binding extra": "35 cm",
        "overhang": "10 cm",
        "sleeve depth": "10 cm",
        "sleeve seam": "1/4 in",
        "sleeve extra": "2 in",
        "selvage": "1 cm",
        "square_up": "1 cm",
        "square_again": "7 mm",
        "sold_by": "10 cm",
    },
}
_FINEST = unit_length("mm") / 10
_COARSEST = Fraction(1)  # inches
_MILLION = 10**6


@dataclass(frozen=True, slots=True, kw_only=True)
class Basics:
    """What ``[project]`` says, in inches; every other table leans on it."""

    name: str
    unit: str
    ruler: Fraction
    seam: Fraction
    style: Style
    stages: int | None
    keep: Fraction
    copies: int

    def usual(self, what: str) -> Fraction:
        """The default of a length, in inches."""
        return _usual(self.unit, what)

    def ends(self, length: Fraction) -> bool:
        """Whether `length` is a decimal number of the project's unit."""
        return is_decimal(length / unit_length(self.unit))

    def exact(self, length: Fraction) -> Fraction:
        """`length` as a decimal number of the unit: what is none, to the nearest thousandth."""
        unit = unit_length(self.unit)
        return length if self.ends(length) else Fraction(round(length / unit * 1000), 1000) * unit

    def measured(self, length: Fraction) -> Fraction:
        """A length of cloth as a plan can write it: down to a millionth where it is no decimal number of the unit."""
        return length if self.ends(length) else round_down(length, unit_length(self.unit) / _MILLION)

    def lost(self, length: Fraction) -> Fraction:
        """What is lost of cloth, likewise, up to a millionth of the unit."""
        return length if self.ends(length) else round_up(length, unit_length(self.unit) / _MILLION)


def read_basics(table: Table) -> Basics:
    """Read ``[project]``."""
    table.only("name", "unit", "ruler", "seam", "layout", "stages", "keep", "copies")
    name = table.text("name")
    unit = table.word("unit", "in", tuple(_USUAL))
    table = Table(where=table.where, values=table.values, unit=unit)
    ruler = _ruler(table)
    return Basics(
        name=name,
        unit=unit,
        ruler=ruler,
        seam=table.length("seam", _usual(unit, "seam"), zero=True),
        style=table.choice("layout", Style.ROTARY),
        stages=_stages(table),
        keep=round_up(table.length("keep", _usual(unit, "keep")), ruler),
        copies=table.count("copies", 1),
    )


def _usual(unit: str, what: str) -> Fraction:
    return parse_length(_USUAL[unit][what], unit=unit)


def _ruler(table: Table) -> Fraction:
    """The finest mark; cut sizes are written as decimal numbers, so it must be one."""
    ruler = table.length("ruler", _usual(table.unit, "ruler"))
    if not is_decimal(ruler / unit_length(table.unit)):
        found = f"its marks are no decimal numbers of {UNIT_NAMES[table.unit]}"
        raise table.error("ruler", found, f"Use a ruler such as {_USUAL[table.unit]['ruler']}")
    if not _FINEST <= ruler <= _COARSEST:
        found = f"nobody cuts by {Notation(table.unit).show(ruler)}"
        raise table.error("ruler", found, "Its marks are from 0.1 mm to 1 in apart")
    return ruler


def _stages(table: Table) -> int | None:
    """Three stages are the default; any other number but "any" is for a later version."""
    stages = table.values.get("stages", 3)
    if stages not in (3, "any"):
        raise table.later("stages", 'Use 3 or "any"')
    return None if stages == "any" else 3
