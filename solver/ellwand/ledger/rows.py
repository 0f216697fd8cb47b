"""Fabrics, cloths and entries as rows of the file and back; a length is the text of its inches' fraction, no float."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date, datetime
from fractions import Fraction
from functools import lru_cache

from ellwand.ledger.nouns import Entry, Kind, OwnedCloth, OwnedFabric, Selvage
from ellwand.ledger.problems import DamagedLedgerError
from ellwand.project.tables import Polygon, Way

__all__ = ["Row", "cloth_of", "cloth_row", "entry_of", "fabric_of", "fabric_row"]

Row = dict[str, str | int | None]


def fabric_row(fabric: OwnedFabric) -> Row:
    """`fabric` as a row."""
    across, along = fabric.repeat or (None, None)
    return {
        "name": fabric.name,
        "fibre": fabric.fibre,
        "colours": " ".join(fabric.colours),
        "width": str(fabric.width),
        "selvage": str(fabric.selvage),
        "way": fabric.way.value,
        "repeat_across": None if across is None else str(across),
        "repeat_along": None if along is None else str(along),
        "shrinks_along": str(fabric.shrinks[0]),
        "shrinks_across": str(fabric.shrinks[1]),
        "price": None if fabric.price is None else str(fabric.price),
        "priced_by": fabric.priced_by,
        "sold_by": str(fabric.sold_by),
        "picture": fabric.picture,
    }


def fabric_of(row: Mapping[str, str | int | None]) -> OwnedFabric:
    """The fabric that a row holds.

    Raises
    ------
    DamagedLedgerError
        The row holds none.
    """
    with _readable(f'fabric "{row["name"]}"'):
        return _fabric(row)


def _fabric(row: Mapping[str, str | int | None]) -> OwnedFabric:
    repeat = row["repeat_across"], row["repeat_along"]
    price = row["price"]
    return OwnedFabric(
        name=str(row["name"]),
        fibre=str(row["fibre"]),
        colours=tuple(str(row["colours"]).split()),
        width=_length(row["width"]),
        selvage=_length(row["selvage"]),
        way=Way(row["way"]),
        repeat=None if None in repeat else (_length(repeat[0]), _length(repeat[1])),
        shrinks=(_length(row["shrinks_along"]), _length(row["shrinks_across"])),
        price=None if price is None else _length(price),
        priced_by=str(row["priced_by"]),
        sold_by=_length(row["sold_by"]),
        picture=str(row["picture"]),
    )


def cloth_row(cloth: OwnedCloth) -> Row:
    """`cloth` as a row."""
    return {
        "id": cloth.id,
        "fabric": cloth.fabric,
        "kind": cloth.kind.value,
        "across": str(cloth.across),
        "along": str(cloth.along),
        "outline": None if cloth.outline is None else json.dumps(_corners(cloth.outline)),
        "flaws": json.dumps([_corners(flaw) for flaw in cloth.flaws]) if cloth.flaws else "[]",
        "count": cloth.count,
        "washed": int(cloth.washed),
        "lot": cloth.lot,
        "selvages": " ".join(edge.value for edge in Selvage if edge in cloth.selvages),
        "trimmed": int(cloth.trimmed),
        "place": cloth.place,
        "since": None if cloth.since is None else cloth.since.isoformat(),
        "note": cloth.note,
    }


def cloth_of(row: Mapping[str, str | int | None]) -> OwnedCloth:
    """The cloth that a row holds.

    Raises
    ------
    DamagedLedgerError
        The row holds none.
    """
    with _readable(f"cloth {row['id']}"):
        return _cloth(row)


def entry_of(row: Mapping[str, str | int | None]) -> Entry:
    """The entry of the history that a row holds.

    Raises
    ------
    DamagedLedgerError
        The row holds none.
    """
    at, undone = row["at"], row["undone"]
    with _readable(f"entry {row['number']} of the history"):
        return Entry(
            number=int(row["number"] or 0),
            at=datetime.fromisoformat(str(at)),
            act=str(row["act"]),
            summary=str(row["summary"]),
            undone=None if undone is None else datetime.fromisoformat(str(undone)),
        )


@contextmanager
def _readable(what: str) -> Iterator[None]:
    """Turn whatever a row without meaning raises into a sentence about it."""
    try:
        yield
    except (ValueError, ArithmeticError, TypeError, LookupError) as error:
        hint = "Take your last copy of the ledger"
        raise DamagedLedgerError(where=what, found=f"its row cannot be read ({error})", hint=hint) from error


def _cloth(row: Mapping[str, str | int | None]) -> OwnedCloth:
    outline, flaws, since = row["outline"], row["flaws"], row["since"]
    return OwnedCloth(
        id=str(row["id"]),
        fabric=str(row["fabric"]),
        kind=Kind(row["kind"]),
        across=_length(row["across"]),
        along=_length(row["along"]),
        outline=None if outline is None else _polygon(json.loads(str(outline))),
        flaws=() if flaws == "[]" else tuple(_polygon(flaw) for flaw in json.loads(str(flaws))),
        count=int(row["count"] or 0),
        washed=bool(row["washed"]),
        lot=str(row["lot"]),
        selvages=tuple(Selvage(edge) for edge in str(row["selvages"]).split()),
        trimmed=bool(row["trimmed"]),
        place=str(row["place"]),
        since=None if since is None else date.fromisoformat(str(since)),
        note=str(row["note"]),
    )


@lru_cache(maxsize=4096)  # the same few lengths stand in thousands of rows
def _fraction(text: str) -> Fraction:
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError) as error:
        raise ValueError(f'"{text}" is no number') from error


def _length(value: str | int | None) -> Fraction:
    return _fraction(str(value))


def _corners(polygon: Polygon) -> list[list[str]]:
    return [[str(x), str(y)] for x, y in polygon]


def _polygon(corners: list[list[str]]) -> Polygon:
    return tuple((_fraction(x), _fraction(y)) for x, y in corners)
