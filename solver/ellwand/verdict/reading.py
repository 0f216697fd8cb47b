"""A plan document, read for its judge: checked for keys and kinds, lengths counted in marks of its ruler."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from ellwand.verdict.tables import (
    PRICED_BY,
    Area,
    Cloth,
    Corner,
    Cut,
    Fabric,
    Kits,
    Lay,
    Left,
    Missing,
    Mix,
    Mixed,
    Phase,
    Piece,
    Placed,
    Plan,
    Proof,
    Rectangle,
    Shape,
    Taken,
    Together,
    Wishes,
)

__all__ = ["MalformedError", "read_plan"]

_LARGEST = 10**12


class MalformedError(Exception):
    """The document lacks a key, or has something of another kind there; its text is the fault."""


def read_plan(document: object) -> Plan:
    """Read a document.

    Raises
    ------
    MalformedError
        With a sentence that names the key.
    """
    top = _Node(document, "")
    if top["format"].whole() != 1:
        raise MalformedError("The plan's format is not 1, the only one known here.")
    unit = top["unit"].one_of(*PRICED_BY)
    ruler = top["ruler"].number()
    if ruler <= 0:
        raise top["ruler"].wrong("a length above 0")
    stages = top["stages"]
    reader = _Reader(ruler)
    return Plan(
        unit=unit,
        ruler=ruler,
        stages=None if stages.value == "any" else stages.whole(least=1),
        keep=reader.loose(top["keep"]),
        pieces=tuple(reader.piece(row) for row in top["pieces"].rows()),
        fabrics=tuple(reader.fabric(row) for row in top["fabrics"].rows()),
        copies=top["copies"].whole(least=1) if top.has("copies") else 1,
        kits=reader.kits(top["kits"]) if top.has("kits") else None,
        mixed=_mixed(top["mixed"], top["copies"].whole(least=1)) if top.has("mixed") else None,
    )


@dataclass(frozen=True, slots=True)
class _Node:
    """A value of the document and where it stands."""

    value: object
    path: str

    def __getitem__(self, key: str) -> _Node:
        if not isinstance(self.value, Mapping):
            raise self.wrong("a table of keys")
        path = f"{self.path}.{key}" if self.path else key
        if key not in self.value:
            raise MalformedError(f"The plan lacks the key {path}.")
        return _Node(self.value[key], path)

    def has(self, key: str) -> bool:
        """Whether a table has this key."""
        return isinstance(self.value, Mapping) and key in self.value

    def told(self, key: str) -> bool:
        """Whether a table has something other than null for this key."""
        return self.has(key) and self[key].value is not None

    def wrong(self, wanted: str) -> MalformedError:
        """What to raise where something else is `wanted`."""
        shown = repr(self.value) if isinstance(self.value, str) else str(self.value)
        return MalformedError(f"The plan's {self.path or 'document'} is {shown[:40]}, where {wanted} is wanted.")

    def rows(self, count: int | None = None) -> list[_Node]:
        """The entries of a list."""
        if not isinstance(self.value, Sequence) or isinstance(self.value, str):
            raise self.wrong("a list")
        if count is not None and len(self.value) != count:
            raise self.wrong(f"a list of {count}")
        return [_Node(value, f"{self.path}[{number}]") for number, value in enumerate(self.value)]

    def text(self) -> str:
        """A text, not empty."""
        if not isinstance(self.value, str) or not self.value:
            raise self.wrong("a text")
        return self.value

    def one_of(self, *texts: str) -> str:
        """One of some texts."""
        if self.value not in texts:
            raise self.wrong(" or ".join(texts))
        return self.text()

    def flag(self) -> bool:
        """True or false."""
        if not isinstance(self.value, bool):
            raise self.wrong("true or false")
        return self.value

    def number(self) -> Fraction:
        """An exact number."""
        value = self.value
        if isinstance(value, bool) or not isinstance(value, int | Fraction | Decimal):
            raise self.wrong("a number")
        if isinstance(value, Decimal) and not (value.is_finite() and abs(value.adjusted()) < 30):
            raise self.wrong("a number of a sensible size")
        exact = Fraction(value)
        if abs(exact) > _LARGEST:
            raise self.wrong("a number of a sensible size")
        return exact

    def whole(self, least: int = 0) -> int:
        """A whole number."""
        value = self.number()
        if value.denominator != 1 or value < least:
            raise self.wrong(f"a whole number from {least} up")
        return value.numerator


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads the parts of a plan whose lengths are on `ruler`."""

    ruler: Fraction

    def loose(self, node: _Node) -> Fraction:
        """A length of at least 0, anywhere between the marks."""
        value = node.number() / self.ruler
        if value < 0:
            raise node.wrong("a length")
        return value

    def mark(self, node: _Node) -> int:
        """A length on the ruler; a place may be below 0, and is then found outside its cloth."""
        value = node.number() / self.ruler
        if value.denominator != 1:
            raise node.wrong("a length on the ruler")
        return value.numerator

    def length(self, node: _Node, least: int = 0) -> int:
        """A length on the ruler of at least so many marks."""
        value = self.mark(node)
        if value < least:
            raise node.wrong("a length" if least == 0 else "a length above 0")
        return value

    def piece(self, row: _Node) -> Piece:
        return Piece(
            id=row["id"].text(),
            fabric=row["fabric"].text(),
            across=self.length(row["across"], least=1),
            along=self.length(row["along"], least=1),
            count=row["count"].whole(least=1),
            turnable=row["turnable"].flag(),
            phase=self._phase(row["phase"]) if row.has("phase") else None,
            spare=row["spare"].flag() if row.has("spare") else False,
        )

    def fabric(self, row: _Node) -> Fabric:
        price, cost = (None if row[key].value is None else row[key].number() for key in ("price", "cost"))
        return Fabric(
            id=row["id"].text(),
            width=self.loose(row["width"]),
            usable_width=self.length(row["usable_width"]),
            rotary=row["layout"].one_of("rotary", "free") == "rotary",
            repeat=None if row["repeat"].value is None else self._two(row["repeat"]),
            needed=self.length(row["needed"]),
            bound=self.length(row["bound"]),
            proven=row["proven"].flag(),
            proof=self._proof(row["proof"]),
            steps=row["steps"].whole(),
            sold_by=self._above_zero(row["sold_by"]),
            squaring=self.loose(row["squaring"]),
            shrinks=self._shares(row["shrinks"]),
            bought=self.length(row["bought"]),
            bound_bought=self.length(row["bound_bought"]),
            bought_proven=row["bought_proven"].flag(),
            price=price,
            cost=cost,
            taken=self._square(row["taken"]),
            area=self._area(row["area"]),
            shrinkage=self._square(row["shrinkage"]),
            waste_percent=row["waste_percent"].number(),
            buy=row["buy"].flag(),
            same_cloth=row.has("same_cloth") and row["same_cloth"].flag(),
            spare=self._share(row["spare"]) if row.has("spare") else Fraction(0),
            wishes=self._wishes(row["wishes"]) if row.has("wishes") and row["wishes"].value is not None else None,
            left=tuple(self._left(left) for left in row["left"].rows()),
            missing=None if row["missing"].value is None else self._missing(row["missing"]),
            cloths=tuple(self._cloth(cloth) for cloth in row["cloths"].rows()),
            bolt=self._above_zero(row["bolt"]) if row.told("bolt") else None,
            lays=tuple(self._lay(lay) for lay in row["lays"].rows()) if row.has("lays") else (),
            together=self._together(row["together"]) if row.told("together") else None,
        )

    def kits(self, row: _Node) -> Kits:
        return Kits(square_again=self.loose(row["square_again"]), strips=row["strips"].whole(least=1))

    def _lay(self, row: _Node) -> Lay:
        return Lay(
            number=row["lay"].whole(least=1),
            kits=row["kits"].whole(least=1),
            plies=row["plies"].whole(least=1),
            layers=row["layers"].whole(least=1),
            times=row["times"].whole(),
            rest=row["rest"].whole(),
            along=self.length(row["along"]),
            squaring=self.loose(row["squaring"]),
            takes=self.loose(row["takes"]),
            cuts=row["cuts"].whole(),
        )

    def _together(self, row: _Node) -> Together:
        return Together(needed=self.length(row["needed"]), bought=self.length(row["bought"]))

    def _wishes(self, row: _Node) -> Wishes:
        pieces = [(one["piece"].text(), one["wanted"].whole(1), one["placed"].whole()) for one in row["pieces"].rows()]
        kept = row["keep_back"]
        return Wishes(
            needed=self.length(row["needed"]),
            honoured=self._share(row["honoured"]),
            pieces=tuple(pieces),
            keep_back=None if kept.value is None else (self.length(kept.rows(2)[0]), self.length(kept.rows(2)[1])),
            kept=kept.value is not None and row["kept"].flag(),
        )

    def _left(self, row: _Node) -> Left:
        across, along = (self.length(row[key], least=1) for key in ("across", "along"))
        return Left(id=row["id"].text(), across=across, along=along)

    def _missing(self, row: _Node) -> Missing:
        placed = tuple(self._placed(placed) for placed in row["placed"].rows())
        return Missing(across=self.length(row["across"]), along=self.length(row["along"]), placed=placed)

    def _phase(self, row: _Node) -> Phase:
        across, along = (None if node.value is None else self.loose(node) for node in row.rows(2))
        return across, along

    def _two(self, row: _Node) -> Corner:
        across, along = (self.loose(node) for node in row.rows(2))
        return across, along

    def _proof(self, row: _Node) -> Proof:
        axis = row["axis"]
        return Proof(
            axis=None if axis.value is None else axis.one_of("across", "along"),
            weights=_pairs(row["weights"], least=0),
            cloths=_pairs(row["cloths"], least=1),
            searched=row["searched"].flag(),
            lengths=_pairs(row["lengths"], least=1),
            odd=tuple(_whole_three(cloth) for cloth in row["odd"].rows()),
        )

    def _above_zero(self, node: _Node) -> Fraction:
        if not self.loose(node):
            raise node.wrong("a length above 0")
        return self.loose(node)

    def _square(self, node: _Node) -> Fraction:
        return node.number() / self.ruler**2

    def _shares(self, node: _Node) -> tuple[Fraction, Fraction]:
        lengthwise, crosswise = (self._share(row) for row in node.rows(2))
        return lengthwise, crosswise

    def _share(self, node: _Node) -> Fraction:
        if not 0 <= node.number() < 1:
            raise node.wrong("a share from 0 to under 1")
        return node.number()

    def _area(self, row: _Node) -> Area:
        return Area(
            pieces=self._square(row["pieces"]),
            offcuts=self._square(row["offcuts"]),
            scrap=self._square(row["scrap"]),
            selvage=self._square(row["selvage"]),
            squaring=self._square(row["squaring"]),
            rounding=self._square(row["rounding"]),
        )

    def _cloth(self, row: _Node) -> Cloth:
        return Cloth(
            id=row["id"].text(),
            buy=row["source"].one_of("buy", "on hand") == "buy",
            across=self.length(row["across"]),
            along=self.length(row["along"]),
            used=self.loose(row["used"]),
            whole=row["whole"].flag(),
            washed=row["washed"].flag(),
            width=self.loose(row["width"]),
            length=self.loose(row["length"]),
            squaring=self.loose(row["squaring"]),
            lot=row["lot"].text() if row.has("lot") and row["lot"].value is not None else "",
            measured=self._two(row["measured"]),
            placed=tuple(self._placed(placed) for placed in row["placed"].rows()),
            cuts=tuple(self._cut(cut) for cut in row["cuts"].rows()),
            offcuts=tuple(self._rectangle(offcut) for offcut in row["offcuts"].rows()),
            outline=None if row["outline"].value is None else self._shape(row["outline"]),
            flaws=tuple(self._shape(flaw) for flaw in row["flaws"].rows()),
            bolt=row["bolt"].whole(least=1) if row.told("bolt") else None,
            lay=row["lay"].whole(least=1) if row.told("lay") else None,
            plies=row["plies"].whole(least=1) if row.has("plies") else 1,
        )

    def _shape(self, node: _Node) -> Shape:
        if len(node.rows()) < 3:
            raise node.wrong("a list of three corners or more")
        pairs = [row.rows(2) for row in node.rows()]
        return tuple((self.loose(x), self.loose(y)) for x, y in pairs)

    def _placed(self, row: _Node) -> Placed:
        return Placed(piece=row["piece"].text(), turned=row["turned"].flag(), at=self._rectangle(row))

    def _rectangle(self, row: _Node) -> Rectangle:
        return Rectangle(
            x=self.mark(row["x"]),
            y=self.mark(row["y"]),
            across=self.length(row["across"], least=1),
            along=self.length(row["along"], least=1),
        )

    def _cut(self, row: _Node) -> Cut:
        start, end = (self.mark(node) for node in row["from"].rows(2))
        return Cut(
            step=row["step"].whole(),
            across=row["axis"].one_of("across", "along") == "across",
            at=self.mark(row["at"]),
            start=start,
            end=end,
            depth=row["depth"].whole(least=1),
        )


def _mixed(row: _Node, copies: int) -> Mixed:
    return Mixed(
        copies=copies,
        fabrics=tuple(name.text() for name in row["fabrics"].rows()),
        by_cost=row["by"].one_of("cost", "length") == "cost",
        bought=row["bought"].number(),
        least=row["least"].number(),
        proven=row["proven"].flag(),
        mixes=tuple(_mix(mix) for mix in row["mixes"].rows()),
    )


def _mix(row: _Node) -> Mix:
    taken = (
        Taken(
            name=one["name"].text(),
            fabric=one["fabric"].text(),
            count=one["count"].whole(least=1),
            blocks=one["blocks"].flag(),
        )
        for one in row["taken"].rows()
    )
    return Mix(id=row["id"].text(), any_of=tuple(name.text() for name in row["any_of"].rows()), taken=tuple(taken))


def _pairs(node: _Node, least: int) -> tuple[tuple[int, int], ...]:
    """A list of pairs of whole numbers: a size in marks, and a number of at least so much."""
    pairs = [row.rows(2) for row in node.rows()]
    return tuple((first.whole(least=1), second.whole(least=least)) for first, second in pairs)


def _whole_three(node: _Node) -> tuple[int, int, int]:
    """Sides of a cloth in marks, and the square marks that can be used of it."""
    across, along, area = (number.whole() for number in node.rows(3))
    return across, along, area
