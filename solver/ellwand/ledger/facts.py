"""Fabrics and cloths as named texts, one for each fact, and back: rows of a spreadsheet, options of a command."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import TypeVar

from ellwand.errors import InputError
from ellwand.ledger.ids import LARGEST_ID, number_of, read_id
from ellwand.ledger.nouns import Kind, OwnedCloth, OwnedFabric, Selvage
from ellwand.ledger.writing import (
    length_text,
    parse_measure,
    parse_number,
    parse_shape,
    parse_share,
    price_text,
    shape_text,
    share_text,
    step_text,
)
from ellwand.lengths import unit_length
from ellwand.model import Pair
from ellwand.project.tables import Polygon, Way
from ellwand.project.wording import listed, plain, printable

__all__ = [
    "CLOTH_FACTS", "FABRIC_FACTS", "MEASURES", "Facts", "cloth_facts", "fabric_facts", "read_cloth", "read_fabric",
]  # fmt: skip

FABRIC_FACTS = (
    "fabric", "fibre", "colours", "fabric width", "selvage", "way", "repeat across", "repeat along",
    "shrinks lengthwise", "shrinks crosswise", "price", "price per", "sold by", "picture",
)  # fmt: skip
CLOTH_FACTS = (
    "id", "kind", "width", "length", "outline", "flaws", "count", "washed", "lot", "selvages", "selvages cut off",
    "place", "since", "note",
)  # fmt: skip
MEASURES = frozenset({
    "fabric width", "selvage", "repeat across", "repeat along", "sold by", "width", "length", "outline", "flaws",
})  # fmt: skip
_FLAGS = {"yes": True, "no": False, "true": True, "false": False, "y": True, "n": False, "1": True, "0": False}
_EDGES = {"both": tuple(Selvage), "left": (Selvage.LEFT,), "right": (Selvage.RIGHT,), "none": ()}
_USUAL = {"in": ("1/2 in", "yd", "1/8 yd"), "cm": ("1 cm", "m", "10 cm")}  # selvage, price per, sold by
_MOST_ALIKE = 10_000
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Texts by the names of facts, none of them empty, where they stand, and how their numbers are meant.

    Parameters
    ----------
    where
        What a message calls their place; `places` are those of facts that stand elsewhere.
    unit, units
        Of bare numbers; of facts that have one of their own.
    sign
        The decimal sign, where it is known.

    Raises
    ------
    InputError
        In every getter: the text is not what the fact needs, or is missing.
    """

    where: str
    texts: Mapping[str, str]
    unit: str = "in"
    places: Mapping[str, str] = field(default_factory=dict)
    units: Mapping[str, str] = field(default_factory=dict)
    sign: str = ""

    def has(self, name: str) -> bool:
        """Whether the fact is there."""
        return name in self.texts

    def error(self, name: str, found: str, wanted: str = "", hint: str = "") -> InputError:
        """The complaint about a fact."""
        place = self.places.get(name, self.where)
        return InputError(where=f"{place}: {name}" if place else name, found=found, wanted=wanted, hint=hint)

    def text(self, name: str) -> str:
        """The fact as it is, or nothing."""
        return self.texts.get(name, "")

    def length(self, name: str, default: Fraction | None = None) -> Fraction:
        """A length, inches."""
        return self._read(
            name,
            default,
            "2 1/4 yd",
            lambda text: parse_measure(text, unit=self.units.get(name, self.unit), sign=self.sign),
        )

    def share(self, name: str) -> Fraction:
        """A share of 100; none without the fact."""
        return self._read(name, Fraction(0), "3 %", lambda text: parse_share(text, sign=self.sign))

    def number(self, name: str) -> Fraction | None:
        """A plain number, or None."""
        return self._read(name, Fraction(0), "12.50", self._number) if self.has(name) else None

    def flag(self, name: str, *, default: bool) -> bool:
        """Yes or no."""
        return self.among(name, default, _FLAGS, ("yes", "no"))

    def count(self, name: str) -> int:
        """How many; 1 without the fact."""
        text = self.text(name) or "1"
        if not re.fullmatch(r"\d{1,6}", text) or not 1 <= int(text) <= _MOST_ALIKE:
            raise self.error(name, f'"{plain(text)}" is no count', f"Write a whole number from 1 to {_MOST_ALIKE}")
        return int(text)

    def day(self, name: str) -> date | None:
        """A day, or None."""
        text = self.texts.get(name)
        if text is None:
            return None
        if not re.fullmatch(r"\d{4}-\d\d-\d\d", text):
            raise self.error(name, f'"{plain(text)}" is no date', "Write year, month and day: 2026-03-01")
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise self.error(name, f'there is no day "{text}"') from None

    def shape(self, name: str) -> Polygon | None:
        """Corners, or None."""
        shapes = self.shapes(name)
        if len(shapes) > 1:
            raise self.error(name, "there are two shapes", "A | parts flaws; an outline is one shape")
        return shapes[0] if shapes else None

    def shapes(self, name: str) -> tuple[Polygon, ...]:
        """Shapes parted by ``|``."""
        unit = self.units.get(name, self.unit)
        return self._read(
            name,
            (),
            "",
            lambda text: tuple(parse_shape(part, unit=unit, sign=self.sign) for part in text.split("|")),
        )

    def among(
        self, name: str, default: Value, values: Mapping[str, Value], words: Iterable[str] | None = None
    ) -> Value:
        """One of the `values` by its word; a complaint lists `words`, or else all."""
        text = self.texts.get(name)
        if text is None:
            return default
        if text.lower() not in values:
            wanted = f"Write {listed(values if words is None else words)}"
            raise self.error(name, f'"{plain(text)}" cannot be used here', wanted)
        return values[text.lower()]

    def _number(self, text: str) -> Fraction:
        return parse_number(text, sign=self.sign)

    def _read(self, name: str, default: Value | None, example: str, read: Callable[[str], Value]) -> Value:
        text = self.texts.get(name)
        if text is None and default is not None:
            return default
        if text is None:
            raise self.error(name, "it is missing", f"Write one, such as {example}")
        try:
            return read(text)
        except ValueError as error:
            found, _, tries = str(error).partition("; try ")
            raise self.error(name, printable(found), hint=f"Try {tries}" if tries else "") from None


def read_fabric(facts: Facts) -> OwnedFabric:
    """The fabric that `facts` tell of; what they leave out is as usual in the unit in which its width is told."""
    unit = facts.units.get("fabric width", facts.unit)
    selvage, priced_by, sold_by = _USUAL[
        "in" if unit_length(unit).denominator == 1 else "cm"
    ]  # a yard is 36 whole ones
    return OwnedFabric(
        name=facts.text("fabric"),
        fibre=facts.text("fibre"),
        colours=tuple(re.split(r"[\s,;]+", facts.text("colours").lower().strip(" ,;"))) if facts.has("colours") else (),
        width=facts.length("fabric width"),
        selvage=facts.length("selvage", parse_measure(selvage, unit="in")),
        way=facts.among("way", Way.ANY, {way.value: way for way in Way}),
        repeat=_repeat(facts),
        shrinks=(facts.share("shrinks lengthwise"), facts.share("shrinks crosswise")),
        price=facts.number("price"),
        priced_by=facts.among("price per", priced_by, {"yd": "yd", "m": "m"}),
        sold_by=facts.length("sold by", parse_measure(sold_by, unit="in")),
        picture=facts.text("picture"),
    )


def _repeat(facts: Facts) -> Pair | None:
    if not (facts.has("repeat across") or facts.has("repeat along")):
        return None
    return facts.length("repeat across", Fraction(0)), facts.length("repeat along", Fraction(0))


def fabric_facts(fabric: OwnedFabric, unit: str) -> dict[str, str]:
    """What there is to tell of `fabric`, exact; lengths in `unit` where that can say them."""
    facts = {
        "fabric": fabric.name,
        "fibre": fabric.fibre,
        "colours": " ".join(fabric.colours),
        "fabric width": length_text(fabric.width, unit),
        "selvage": length_text(fabric.selvage, unit),
        "way": fabric.way.value,
        **_repeat_facts(fabric.repeat, unit),
        "shrinks lengthwise": share_text(fabric.shrinks[0]),
        "shrinks crosswise": share_text(fabric.shrinks[1]),
        "price": "" if fabric.price is None else price_text(fabric.price),
        "price per": fabric.priced_by,
        "sold by": step_text(fabric.sold_by, unit),
        "picture": fabric.picture,
    }
    return {name: text for name, text in facts.items() if text}


def _repeat_facts(repeat: Pair | None, unit: str) -> dict[str, str]:
    """How much there is to say of a repeat: one way is 0 where only the other is told."""
    ways = dict(zip(("repeat across", "repeat along"), repeat or (), strict=False))
    return {name: length_text(length, unit) for name, length in ways.items() if length or not any(ways.values())}


def read_cloth(facts: Facts, fabric: OwnedFabric) -> OwnedCloth:
    """The cloth of `fabric` that `facts` tell of.

    Without `kind` it is odd where there is an outline, a rectangle where there is a width, and else a length of the
    full width. A length is not washed and has both selvages unless that is said; what else there is is as measured.
    """
    outline = facts.shape("outline")
    kind = Kind.ODD if outline else Kind.RECTANGLE if facts.has("width") else Kind.LENGTH
    kind = facts.among("kind", kind, {kind.value: kind for kind in Kind})
    washed = facts.flag("washed", default=kind is not Kind.LENGTH)
    across, along = _size(facts, fabric, outline, washed=washed)
    return OwnedCloth(
        id=_id(facts),
        fabric=fabric.name,
        kind=kind,
        across=across,
        along=along,
        outline=outline,
        flaws=facts.shapes("flaws"),
        count=facts.count("count"),
        washed=washed,
        lot=facts.text("lot"),
        selvages=facts.among("selvages", _EDGES["both" if kind is Kind.LENGTH else "none"], _EDGES),
        trimmed=facts.flag("selvages cut off", default=False),
        place=facts.text("place"),
        since=facts.day("since"),
        note=facts.text("note"),
    )


def _size(facts: Facts, fabric: OwnedFabric, outline: Polygon | None, *, washed: bool) -> Pair:
    """Across and along; an outline says both, and nothing else may say otherwise."""
    if outline is None:
        full = fabric.width * (1 - fabric.shrinks[1]) if washed else fabric.width
        return facts.length("width", full), facts.length("length")
    ends = {name: max(values) for name, values in zip(("width", "length"), zip(*outline, strict=True), strict=True)}
    for name, end in ends.items():
        if facts.length(name, end) != end:
            found = f"the outline reaches {length_text(end, 'in')}, and this says otherwise"
            raise facts.error(name, found, "Leave it out, or change the outline")
    return ends["width"], ends["length"]


def _id(facts: Facts) -> str:
    short = read_id(facts.text("id"))
    number = number_of(short)
    if short and (number is None or number >= LARGEST_ID):
        found = f'"{plain(facts.text("id"))}" is no short id'
        raise facts.error("id", found, "An id is a letter and a number, such as K7", "Leave it out for a new one")
    return short


def cloth_facts(cloth: OwnedCloth, unit: str) -> dict[str, str]:
    """What there is to tell of `cloth` but its fabric, exact; lengths in `unit` where that can say them."""
    facts = {
        "id": cloth.id,
        "kind": cloth.kind.value,
        "width": length_text(cloth.across, unit),
        "length": length_text(cloth.along, unit),
        "outline": shape_text(cloth.outline, unit) if cloth.outline else "",
        "flaws": " | ".join(shape_text(flaw, unit) for flaw in cloth.flaws),
        "count": str(cloth.count),
        "washed": _yes(cloth.washed),
        "lot": cloth.lot,
        "selvages": next(word for word, edges in _EDGES.items() if set(edges) == set(cloth.selvages)),
        "selvages cut off": _yes(cloth.trimmed),
        "place": cloth.place,
        "since": "" if cloth.since is None else cloth.since.isoformat(),
        "note": cloth.note,
    }
    return {name: text for name, text in facts.items() if text}


def _yes(flag: bool) -> str:
    return "yes" if flag else "no"
