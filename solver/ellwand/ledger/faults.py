"""The deep check of a ledger: the file, its rows, and whether its history makes them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

from ellwand.ledger.changes import ITEMS, replayed, rows_of
from ellwand.ledger.ids import number_of
from ellwand.ledger.problems import LedgerError
from ellwand.ledger.rows import cloth_of, fabric_of
from ellwand.ledger.sense import sensible_cloth, sensible_fabric

__all__ = ["faults_of"]


def faults_of(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each fault; the caller holds a transaction."""
    told = str(db.execute("PRAGMA integrity_check").fetchone()[0])
    if told != "ok":
        yield f"The file is damaged: {told}."
    if db.execute("PRAGMA foreign_key_check").fetchone() is not None:
        yield "There is cloth without a fabric."
    state = replayed(db)
    for item in ITEMS:
        if rows_of(db, item) != state[item]:
            yield f"The rows of {item} are not what the history makes them."
    yield from _senseless(db)


def _senseless(db: sqlite3.Connection) -> Iterator[str]:
    """Rows that hold no fabric or cloth, or one without sense."""
    given = db.execute("SELECT given FROM ids").fetchone()[0]
    for row in rows_of(db, "fabric").values():
        try:
            sensible_fabric(fabric_of(row))
        except (LedgerError, ValueError) as error:
            yield str(error)
    for short, row in rows_of(db, "cloth").items():
        number = number_of(short)
        if number is None or number >= given:
            yield f"Cloth {short} has an id that was not given."
        try:
            sensible_cloth(cloth_of(row))
        except (LedgerError, ValueError) as error:
            yield str(error)
