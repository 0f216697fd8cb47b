"""The deep check of a ledger: the file, its rows, and whether its history makes them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

from ellwand.ledger.changes import ITEMS, replayed, rows_of
from ellwand.ledger.ids import number_of
from ellwand.ledger.problems import LedgerError
from ellwand.ledger.rows import cloth_of, entry_of, fabric_of
from ellwand.ledger.sense import sensible_cloth, sensible_fabric

__all__ = ["faults_of"]


def faults_of(db: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each fault; the caller holds a transaction."""
    told = str(db.execute("PRAGMA integrity_check").fetchone()[0])
    if told != "ok":
        yield f"The file is damaged: {told}."
    if db.execute("PRAGMA foreign_key_check").fetchone() is not None:
        yield "There is cloth without a fabric."
    yield from _forgetful(db)
    yield from _senseless(db)


def _forgetful(db: sqlite3.Connection) -> Iterator[str]:
    """A history that cannot be read, or does not make what is there."""
    for entry in db.execute("SELECT number, at, act, summary, undone FROM history"):
        try:
            entry_of(dict(entry))
        except LedgerError as error:
            yield str(error)
    try:
        state = replayed(db)
    except LedgerError as error:
        yield str(error)
        return
    for item in ITEMS:
        if rows_of(db, item) != state[item]:
            yield f"The rows of {item} are not what the history makes them."


def _senseless(db: sqlite3.Connection) -> Iterator[str]:
    """Rows that hold no fabric or cloth, or one without sense."""
    fabrics = {}
    for name, row in rows_of(db, "fabric").items():
        try:
            fabrics[name] = fabric_of(row)
            sensible_fabric(fabrics[name])
        except LedgerError as error:
            yield str(error)
    given = db.execute("SELECT given FROM ids").fetchone()
    if given is None:
        yield "How many ids were given is forgotten."
    for short, row in rows_of(db, "cloth").items():
        number = number_of(short)
        if number is None or (given is not None and number >= given[0]):
            yield f"Cloth {short} has an id that was not given."
        try:
            cloth = cloth_of(row)
            if cloth.fabric in fabrics:  # a fabric that is missing, or cannot be read, was told above
                sensible_cloth(cloth, fabrics[cloth.fabric])
        except LedgerError as error:
            yield str(error)
