"""Fabrics and cloths as rows of the file and back; a length is the text of its fraction of inches, never a float."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from functools import lru_cache

from ellwand.ledger.nouns import Kind, OwnedCloth, OwnedFabric, Selvage
from ellwand.project.tables import Polygon, Way

__all__ = ["Row", "cloth_of", "cloth_row", "fabric_of", "fabric_row"]

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
    ValueError
        The row holds none.
    """
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
    ValueError
        The row holds none.
    """
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
    return Fraction(text)


def _length(value: str | int | None) -> Fraction:
    return _fraction(str(value))


def _corners(polygon: Polygon) -> list[list[str]]:
    return [[str(x), str(y)] for x, y in polygon]


def _polygon(corners: list[list[str]]) -> Polygon:
    return tuple((_fraction(x), _fraction(y)) for x, y in corners)
