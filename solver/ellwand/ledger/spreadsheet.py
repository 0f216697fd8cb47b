"""A ledger's fabrics and cloths as a spreadsheet, one row a cloth, and back.

Every row has the facts of its fabric too; they may be left empty where another row, or the ledger, has them.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from ellwand.errors import InputError
from ellwand.ledger.csvtext import decoded, rows_of_text, text_of_rows
from ellwand.ledger.facts import (
    CLOTH_FACTS,
    FABRIC_FACTS,
    MEASURES,
    Facts,
    cloth_facts,
    fabric_facts,
    read_cloth,
)
from ellwand.ledger.gathering import Gathering, placed
from ellwand.ledger.nouns import OwnedCloth, OwnedFabric
from ellwand.ledger.problems import LedgerError
from ellwand.ledger.sense import sensible_cloth
from ellwand.ledger.writing import decimal_sign
from ellwand.lengths import unit_length
from ellwand.project.wording import meant, plain

__all__ = ["Spreadsheet", "read_spreadsheet", "write_spreadsheet"]

_NAMES = (*FABRIC_FACTS, *CLOTH_FACTS)
_WITH_UNIT = re.compile(r"(.*\S)\s*\(\s*([^()]*?)\s*\)")
_NUMBERS = MEASURES | {"price", "shrinks lengthwise", "shrinks crosswise"}
_COLUMNS = "The first row names the columns: fabric, fabric width, width, length and whatever else there is to say"
_MOST_ROWS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Spreadsheet:
    """What a spreadsheet adds to a ledger: fabrics that are new there, and cloths, with the ids they have on them."""

    fabrics: tuple[OwnedFabric, ...]
    cloths: tuple[OwnedCloth, ...]


def write_spreadsheet(fabrics: Iterable[OwnedFabric], cloths: Iterable[OwnedCloth], unit: str) -> str:
    """All facts of `cloths`, and of those `fabrics` too that there is no cloth of, as the text of a CSV file.

    Reading it gives them back exactly; cells that a spreadsheet could take for formulas are made harmless.
    """
    told = {fabric.name: fabric_facts(fabric, unit) for fabric in fabrics}
    bare = dict(told)
    rows = []
    for cloth in cloths:
        bare.pop(cloth.fabric, None)
        rows.append({**told[cloth.fabric], **cloth_facts(cloth, unit)})
    rows += bare.values()
    return text_of_rows(chain([_NAMES], ([row.get(name, "") for name in _NAMES] for row in rows)))


def read_spreadsheet(
    data: bytes, *, where: str, unit: str, known: Mapping[str, OwnedFabric], taken: Container[str] = ()
) -> Spreadsheet:
    """What the CSV file `data` adds to a ledger.

    Parameters
    ----------
    where
        The file's name, for messages.
    unit
        Of bare numbers, where their column's head does not say another: ``length (cm)``.
    known, taken
        The ledger's fabrics by name, and the ids of its cloths.

    Raises
    ------
    InputError
        Something in it is wrong: its line and column, what was found, and what would be right.
    """
    rows = list(_rows(decoded(data, where), where, unit))
    if not rows:
        raise InputError(where=where, found="there is nothing in it but a head", wanted="Write one row for each cloth")
    fabrics = Gathering(known=known)
    for row in rows:
        fabrics.gather(row)
    made = fabrics.made()
    cloths = [_cloth(row, made[row.text("fabric")]) for row in rows if any(map(row.has, CLOTH_FACTS))]
    _see_ids(rows, taken)
    return Spreadsheet(fabrics=tuple(made[name] for name in made if name not in known), cloths=tuple(cloths))


def _rows(text: str, where: str, unit: str) -> Iterator[Facts]:
    """Every row as facts, its place and the meaning of its numbers with it."""
    read = rows_of_text(text, where, known=_NAMES)
    line, cells = next(read, (1, []))
    heads, units = _heads(cells, f"{where}: line {line}")
    rows = [(line, _texts(cells, heads, f"{where}: line {line}")) for line, cells in read]
    if len(rows) > _MOST_ROWS:
        raise InputError(where=where, found=f"{len(rows)} rows are too many", wanted=f"At most {_MOST_ROWS}")
    sign = decimal_sign([text for _, row in rows for name, text in row.items() if name in _NUMBERS])
    for line, row in rows:
        facts = Facts(where=f"{where}: line {line}", texts=row, unit=unit, units=units, sign=sign)
        if not facts.has("fabric"):
            raise facts.error("fabric", "it is missing", "Write the fabric's name in every row")
        yield facts


def _heads(cells: Sequence[str], where: str) -> tuple[list[str], dict[str, str]]:
    """The columns' facts in their order, "" where a column has no head, and the units that heads say."""
    heads, units = [], {}
    for cell in cells:
        with_unit = _WITH_UNIT.fullmatch(cell)
        name = " ".join(re.split(r"[\s_-]+", (with_unit[1] if with_unit else cell).strip().lower()))
        if name and name not in _NAMES:
            advice = meant(name, _NAMES)
            hint = advice if advice.startswith("Did") else _COLUMNS
            raise InputError(where=where, found=f'there is no column "{plain(cell)}"', hint=hint)
        if name and name in heads:
            raise InputError(where=where, found=f'the column "{name}" is there twice', hint="Leave one of them out")
        if with_unit:
            units[name] = _unit(with_unit[2], name, where)
        heads.append(name)
    if "fabric" not in heads:
        found = "there is no column of fabrics" if any(heads) else "the file is empty"
        raise InputError(where=where, found=found, wanted=_COLUMNS)
    return heads, units


def _unit(unit: str, name: str, where: str) -> str:
    try:
        unit_length(unit)
    except KeyError:
        found = f'"{plain(unit)}" is no unit'
        raise InputError(where=f"{where}: {name}", found=found, wanted="Write in, yd, cm or m") from None
    return unit


def _texts(cells: Sequence[str], heads: Sequence[str], where: str) -> dict[str, str]:
    """The cells of a row that have something in them, by their columns' facts."""
    for number, cell in enumerate(cells, 1):
        if cell and (number > len(heads) or not heads[number - 1]):
            found = f'"{plain(cell)}" stands in column {number}, which has no head'
            raise InputError(where=where, found=found, hint="Is there a comma too many, or a cell without quotes?")
    return {head: cell for head, cell in zip(heads, cells, strict=False) if cell}


def _cloth(row: Facts, fabric: OwnedFabric) -> OwnedCloth:
    cloth = read_cloth(row, fabric)
    try:
        sensible_cloth(cloth, fabric)
    except LedgerError as error:
        raise placed(row.where, error) from None
    return cloth


def _see_ids(rows: Iterable[Facts], taken: Container[str]) -> None:
    """Refuse ids that are there twice."""
    seen: dict[str, str] = {}
    for row in rows:
        short = row.text("id").strip().upper()
        if not short:
            continue
        if short in taken or short in seen:
            place = "the ledger" if short in taken else seen[short].rpartition(": ")[2]
            hint = "Leave its id out, if it is another cloth: it then gets a new one"
            raise row.error("id", f"{short} is a cloth of {place} already", hint=hint)
        seen[short] = row.where
