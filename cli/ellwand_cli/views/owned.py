"""The ledger's fabrics, cloths and history as text and as documents."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from ellwand.ledger import Entry, Kind, OwnedCloth, OwnedFabric, Used
from ellwand.ledger.facts import cloth_facts, fabric_facts
from ellwand.lengths import Notation
from ellwand.project.wording import printable
from ellwand.record import near_decimal, near_number
from ellwand_cli.views.columns import columns

__all__ = [
    "cloth_document", "cloth_text", "cloth_title", "cloths_document", "cloths_text", "fabric_document", "fabric_text",
    "fabrics_text", "history_document", "history_text", "in_short", "new_cloths_text", "used_document", "used_text",
]  # fmt: skip

_NAMES = {Kind.LENGTH: "length", Kind.RECTANGLE: "rectangle", Kind.ODD: "odd shape"}
_EXAMPLE = {"in": ("8 in", "11 in"), "cm": ("20 cm", "28 cm")}
_CLOTHS = ("id", "fabric", "kind", "across × along", "count", "washed", "lot", "where it is", "since", "note")


def cloth_title(cloth: OwnedCloth, fabric: OwnedFabric) -> str:
    """A cloth by its id and fabric: "K7 – ink, cotton"."""
    return printable(f"{cloth.id} – {fabric.name}{f', {fabric.fibre}' if fabric.fibre else ''}")


def in_short(cloth: OwnedCloth, notation: Notation) -> str:
    """A cloth's kind, size and state in one line."""
    parts = [
        f"{cloth.count} alike" if cloth.count > 1 else "",
        _NAMES[cloth.kind],
        _size(cloth, notation),
        "washed" if cloth.washed else "not washed",
        f"lot {cloth.lot}" if cloth.lot else "",
        cloth.place,
    ]
    return printable("  ·  ".join(filter(None, parts)))


def cloths_text(cloths: Sequence[OwnedCloth], notation: Notation, *, sought: bool) -> str:
    """A table of cloths: of all, or of those that are `sought`."""
    if not cloths:
        return "No cloth of that kind.\n" if sought else "No cloth yet. To add some: ellwand cloth add --help\n"
    rows = [_row(cloth, notation) for cloth in cloths]
    return f"{columns(_CLOTHS, rows, numbers=(4,))}\n"


def _row(cloth: OwnedCloth, notation: Notation) -> tuple[str, ...]:
    return (
        cloth.id,
        printable(cloth.fabric),
        _NAMES[cloth.kind] + (", flawed" if cloth.flaws else ""),
        _size(cloth, notation),
        str(cloth.count),
        "yes" if cloth.washed else "no",
        printable(cloth.lot),
        printable(cloth.place),
        "" if cloth.since is None else cloth.since.isoformat(),
        printable(cloth.note),
    )


def _size(cloth: OwnedCloth, notation: Notation) -> str:
    wide, long = _near(cloth.across, notation), _near(cloth.along, notation)
    if cloth.kind is Kind.LENGTH:
        yards = notation.cloth(cloth.along)
        return f"{wide} × {long if yards.startswith('≈') else yards}"
    name = f" {long.rpartition(' ')[2]}"
    return f"{wide.removesuffix(name)} × {long}"


@lru_cache(maxsize=4096)  # the same few lengths stand in thousands of cloths
def _near(length: Fraction, notation: Notation) -> str:
    return notation.near(length)


def cloth_text(cloth: OwnedCloth, fabric: OwnedFabric, notation: Notation) -> str:
    """All facts of a cloth, each under the name by which it can be changed; a size as near as a ruler can say it."""
    facts = {**cloth_facts(cloth, notation.unit), "fabric": fabric.name}
    for name, length in (("width", cloth.across), ("length", cloth.along)):
        if facts[name] == f"{length.numerator}/{length.denominator} in":  # what is left of a washed length, say
            facts[name] = notation.near(length)
    order = ["id", "fabric", *(name for name in facts if name not in ("id", "fabric"))]
    return _listed([(name, printable(facts[name])) for name in order])


def fabric_text(fabric: OwnedFabric, notation: Notation) -> str:
    """All facts of a fabric."""
    return _listed([(name, printable(text)) for name, text in fabric_facts(fabric, notation.unit).items()])


def _listed(facts: Iterable[tuple[str, str]]) -> str:
    pairs = list(facts)
    wide = max(len(name) for name, _ in pairs)
    return "".join(f"{name:<{wide}}  {text}\n" for name, text in pairs)


def fabrics_text(fabrics: Sequence[OwnedFabric], cloths: Sequence[OwnedCloth], notation: Notation) -> str:
    """A table of fabrics with how much there is of each."""
    if not fabrics:
        return "No fabric yet.\n"
    heads = ("fabric", "fibre", "colours", "width", "way", "price", "cloths", "lengths in all")
    rows = [
        (
            printable(fabric.name),
            printable(fabric.fibre),
            " ".join(fabric.colours),
            notation.near(fabric.width),
            fabric.way.value,
            "" if fabric.price is None else f"{float(fabric.price):.2f} / {fabric.priced_by}",
            str(sum(cloth.count for cloth in cloths if cloth.fabric == fabric.name)),
            _in_all(fabric, cloths, notation),
        )
        for fabric in fabrics
    ]
    return f"{columns(heads, rows, numbers=(6,))}\n"


def _in_all(fabric: OwnedFabric, cloths: Iterable[OwnedCloth], notation: Notation) -> str:
    lengths = [cloth for cloth in cloths if cloth.fabric == fabric.name and cloth.kind is Kind.LENGTH]
    total = sum((cloth.count * cloth.along for cloth in lengths), Fraction(0))
    return notation.near(total) if total else ""


def history_text(entries: Sequence[Entry]) -> str:
    """What was done, the last first, by the clock of this place."""
    if not entries:
        return "Nothing has been done yet.\n"
    heads = ("no.", "when", "what", "of", "undone")
    rows = [
        (str(entry.number), _when(entry.at), entry.act, printable(entry.summary), _when(entry.undone))
        for entry in entries
    ]
    return f"{columns(heads, rows, numbers=(0,))}\n"


def _when(moment: datetime | None) -> str:
    return "" if moment is None else f"{moment.astimezone():%Y-%m-%d %H:%M}"


def used_text(used: Used, notation: Notation) -> str:
    """What was taken out, and what to pin on what is left."""
    lines = [
        *([f"Cut up: {', '.join(used.gone)}."] if used.gone else []),
        *([f"Shorter or fewer now: {', '.join(used.less)}. What is left keeps its id."] if used.less else []),
    ]
    if not used.new:
        return "".join(f"{line}\n" for line in (*lines, "No offcut is left."))
    table = new_cloths_text(used.new, notation)
    width, length = _EXAMPLE[notation.unit]
    other = f'If one came out different: ellwand cloth edit {used.new[-1].id} --width "{width}" --length "{length}"'
    return "".join(f"{line}\n" for line in (*lines, "Put back. Pin on each its id:", "", table, other))


def new_cloths_text(cloths: Sequence[OwnedCloth], notation: Notation) -> str:
    """Cloths with their new ids."""
    heads = ("id", "fabric", "kind", "across × along", "selvage", "note")
    rows = [
        (
            cloth.id,
            printable(cloth.fabric),
            _NAMES[cloth.kind],
            _size(cloth, notation),
            cloth_facts(cloth, "in")["selvages"],
            printable(cloth.note),
        )
        for cloth in cloths
    ]
    return f"{columns(heads, rows)}\n"


def cloths_document(cloths: Iterable[OwnedCloth], notation: Notation) -> dict[str, Any]:
    """Cloths for other programs."""
    return {"format": 1, "unit": notation.unit, "cloths": [cloth_document(cloth, notation) for cloth in cloths]}


def cloth_document(cloth: OwnedCloth, notation: Notation) -> dict[str, Any]:
    """One cloth; lengths are numbers of the unit, rounded up at a far place where no decimal can say them."""
    return {
        "id": cloth.id,
        "fabric": cloth.fabric,
        "kind": cloth.kind.value,
        "across": near_number(notation, cloth.across),
        "along": near_number(notation, cloth.along),
        "outline": None if cloth.outline is None else _corners(cloth.outline, notation),
        "flaws": [_corners(flaw, notation) for flaw in cloth.flaws],
        "count": cloth.count,
        "washed": cloth.washed,
        "lot": cloth.lot,
        "selvages": [edge.value for edge in cloth.selvages],
        "selvages_cut_off": cloth.trimmed,
        "place": cloth.place,
        "since": None if cloth.since is None else cloth.since.isoformat(),
        "note": cloth.note,
    }


def _corners(shape: Iterable[tuple[Fraction, Fraction]], notation: Notation) -> list[list[Decimal]]:
    return [[near_number(notation, x), near_number(notation, y)] for x, y in shape]


def fabric_document(fabric: OwnedFabric, notation: Notation) -> dict[str, Any]:
    """One fabric; lengths as of a cloth, shares and prices as numbers."""
    return {
        "name": fabric.name,
        "fibre": fabric.fibre,
        "colours": list(fabric.colours),
        "width": near_number(notation, fabric.width),
        "selvage": near_number(notation, fabric.selvage),
        "way": fabric.way.value,
        "repeat": None if fabric.repeat is None else [near_number(notation, side) for side in fabric.repeat],
        "shrinks": [near_decimal(share) for share in fabric.shrinks],
        "price": None if fabric.price is None else near_decimal(fabric.price),
        "priced_by": fabric.priced_by,
        "sold_by": near_number(notation, fabric.sold_by),
        "picture": fabric.picture,
    }


def used_document(used: Used, notation: Notation) -> dict[str, Any]:
    """What a use did."""
    new = [cloth_document(cloth, notation) for cloth in used.new]
    return {"format": 1, "unit": notation.unit, "gone": list(used.gone), "less": list(used.less), "new": new}


def history_document(entries: Iterable[Entry]) -> dict[str, Any]:
    """What was done; times are UTC."""
    return {"format": 1, "history": list(_entries(entries))}


def _entries(entries: Iterable[Entry]) -> Iterator[dict[str, Any]]:
    for entry in entries:
        undone = None if entry.undone is None else entry.undone.isoformat()
        yield {
            "number": entry.number,
            "at": entry.at.isoformat(),
            "act": entry.act,
            "summary": entry.summary,
            "undone": undone,
        }
