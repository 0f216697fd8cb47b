"""Writing rows so that every change can be taken back: each is noted with the row before and the row after."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass, field

from ellwand.ledger.problems import DamagedLedgerError
from ellwand.ledger.rows import Row

__all__ = ["ITEMS", "Changes", "read_row", "replayed", "rows_of", "take_back"]

_KEYS = {"fabric": "name", "cloth": "id", "taken": "digest"}  # of each table that people's data are in
ITEMS = tuple(_KEYS)
State = dict[str, dict[str, Row]]


@dataclass(slots=True)
class Changes:
    """The changes of one entry of the history, in their order."""

    db: sqlite3.Connection
    entry: int
    steps: int = field(default=0)

    def insert(self, item: str, row: Row) -> None:
        """Add a row to table `item`."""
        _insert(self.db, item, row)
        self._note(item, None, row)

    def update(self, item: str, before: Row, after: Row) -> None:
        """Put the row `after` in the place of `before`, where they differ."""
        if before != after:
            _update(self.db, item, before, after)
            self._note(item, before, after)

    def delete(self, item: str, row: Row) -> None:
        """Take a row out."""
        _delete(self.db, item, row)
        self._note(item, row, None)

    def describe(self, summary: str) -> None:
        """Say in the history what was done, now that it is known."""
        self.db.execute("UPDATE history SET summary = ? WHERE number = ?", (summary, self.entry))

    def _note(self, item: str, before: Row | None, after: Row | None) -> None:
        texts = [None if row is None else json.dumps(row, ensure_ascii=False) for row in (before, after)]
        self.db.execute("INSERT INTO change VALUES (?, ?, ?, ?, ?)", (self.entry, self.steps, item, *texts))
        self.steps += 1


def take_back(db: sqlite3.Connection, entry: int) -> None:
    """Take back all changes of an entry of the history, the last first.

    Raises
    ------
    DamagedLedgerError
        What stands in the ledger is not what the entry left there.
    """
    steps = db.execute("SELECT item, before, after FROM change WHERE entry = ? ORDER BY step DESC", (entry,))
    for item, *texts in steps.fetchall():
        before, after = (_row(entry, item, text) for text in texts)
        if after is not None and read_row(db, item, str(after[_KEYS[item]])) != after:
            found = f"entry {entry} of the history does not fit what is in the ledger"
            raise DamagedLedgerError(where=f"{item} {after[_KEYS[item]]}", found=found, wanted="Nothing was undone")
        if after is None and before is not None:
            _insert(db, item, before)
        elif before is None and after is not None:
            _delete(db, item, after)
        elif before is not None and after is not None:
            _update(db, item, after, before)


def read_row(db: sqlite3.Connection, item: str, key: str) -> Row | None:
    """The row of table `item` with this key."""
    found = db.execute(f"SELECT * FROM {item} WHERE {_KEYS[item]} = ?", (key,)).fetchone()  # item: one of ours
    return None if found is None else dict(found)


def rows_of(db: sqlite3.Connection, item: str) -> dict[str, Row]:
    """All rows of table `item` by their keys."""
    return {row[_KEYS[item]]: dict(row) for row in db.execute(f"SELECT * FROM {item}")}


def replayed(db: sqlite3.Connection) -> State:
    """What the ledger must hold: all changes that stand, made again from nothing.

    Raises
    ------
    DamagedLedgerError
        A change cannot be read.
    """
    state: State = {item: {} for item in _KEYS}
    for item, before, after in _standing(db):
        key = _KEYS[item]
        if before is not None:
            state[item].pop(str(before[key]), None)
        if after is not None:
            state[item][str(after[key])] = after
        if item == "fabric" and before and after and before["name"] != after["name"]:
            for cloth in state["cloth"].values():
                if cloth.get("fabric") == before["name"]:
                    cloth["fabric"] = after["name"]
    return state


def _standing(db: sqlite3.Connection) -> Iterator[tuple[str, Row | None, Row | None]]:
    query = (
        "SELECT entry, item, before, after FROM change JOIN history ON entry = number "
        "WHERE undone IS NULL ORDER BY entry, step"
    )
    for entry, item, before, after in db.execute(query):
        yield item, _row(entry, item, before), _row(entry, item, after)


def _row(entry: int, item: str, text: str | None) -> Row | None:
    if text is None:
        return None
    try:
        row = dict(json.loads(text))
    except (ValueError, TypeError):
        row = {}
    if _KEYS[item] not in row:
        where, found = f"entry {entry} of the history", f"what it changed of a {item} cannot be read"
        raise DamagedLedgerError(where=where, found=found, hint="Take your last copy of the ledger")
    return row


def _insert(db: sqlite3.Connection, item: str, row: Row) -> None:
    columns, marks = ", ".join(row), ", ".join("?" * len(row))
    db.execute(f"INSERT INTO {item} ({columns}) VALUES ({marks})", tuple(row.values()))


def _update(db: sqlite3.Connection, item: str, before: Row, after: Row) -> None:
    changes = ", ".join(f"{column} = ?" for column in after)
    db.execute(f"UPDATE {item} SET {changes} WHERE {_KEYS[item]} = ?", (*after.values(), before[_KEYS[item]]))


def _delete(db: sqlite3.Connection, item: str, row: Row) -> None:
    db.execute(f"DELETE FROM {item} WHERE {_KEYS[item]} = ?", (row[_KEYS[item]],))
