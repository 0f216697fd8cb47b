"""The tables of the ledger file, and how an older file is brought up to date.

The file's ``application_id`` says that it is a ledger, its ``user_version`` how many steps it has been through.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence

__all__ = ["APPLICATION", "MIGRATIONS", "Migration", "migrate", "version_of"]

Migration = Callable[[sqlite3.Connection], None]
APPLICATION = int.from_bytes(b"Ellw")


def _first(db: sqlite3.Connection) -> None:
    for statement in _FIRST:
        db.execute(statement)


_FIRST = (
    """
    CREATE TABLE fabric (
        name TEXT PRIMARY KEY NOT NULL CHECK (name <> ''),
        fibre TEXT NOT NULL, colours TEXT NOT NULL, width TEXT NOT NULL, selvage TEXT NOT NULL, way TEXT NOT NULL,
        repeat_across TEXT, repeat_along TEXT, shrinks_along TEXT NOT NULL, shrinks_across TEXT NOT NULL,
        price TEXT, priced_by TEXT NOT NULL, sold_by TEXT NOT NULL, picture TEXT NOT NULL
    ) STRICT
    """,
    """
    CREATE TABLE cloth (
        id TEXT PRIMARY KEY NOT NULL CHECK (id <> ''),
        fabric TEXT NOT NULL REFERENCES fabric (name) ON UPDATE CASCADE ON DELETE RESTRICT,
        kind TEXT NOT NULL, across TEXT NOT NULL, along TEXT NOT NULL, outline TEXT, flaws TEXT NOT NULL,
        count INTEGER NOT NULL CHECK (count > 0), washed INTEGER NOT NULL CHECK (washed IN (0, 1)),
        lot TEXT NOT NULL, selvages TEXT NOT NULL, trimmed INTEGER NOT NULL CHECK (trimmed IN (0, 1)),
        place TEXT NOT NULL, since TEXT, note TEXT NOT NULL
    ) STRICT
    """,
    "CREATE INDEX cloth_of_fabric ON cloth (fabric)",
    "CREATE TABLE taken (digest TEXT PRIMARY KEY NOT NULL, project TEXT NOT NULL, fabric TEXT NOT NULL) STRICT",
    """
    CREATE TABLE history (
        number INTEGER PRIMARY KEY, at TEXT NOT NULL, act TEXT NOT NULL, summary TEXT NOT NULL, undone TEXT
    ) STRICT
    """,
    """
    CREATE TABLE change (
        entry INTEGER NOT NULL REFERENCES history (number), step INTEGER NOT NULL,
        item TEXT NOT NULL CHECK (item IN ('fabric', 'cloth', 'taken')), before TEXT, after TEXT,
        PRIMARY KEY (entry, step)
    ) STRICT, WITHOUT ROWID
    """,
    "CREATE TABLE ids (given INTEGER NOT NULL) STRICT",
    "INSERT INTO ids VALUES (0)",
)
MIGRATIONS: tuple[Migration, ...] = (_first,)


def version_of(db: sqlite3.Connection) -> int:
    """How many migrations the file has been through."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def migrate(db: sqlite3.Connection, migrations: Sequence[Migration] = MIGRATIONS) -> None:
    """Take the steps that the file lacks; the caller holds a transaction, so all of them are taken or none."""
    for step in migrations[version_of(db) :]:
        step(db)
    db.execute(f"PRAGMA application_id = {APPLICATION:d}")
    db.execute(f"PRAGMA user_version = {len(migrations):d}")
