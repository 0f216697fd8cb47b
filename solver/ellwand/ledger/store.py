"""The ledger's file: opened, checked, and changed in whole transactions only.

A rollback journal and ``synchronous = FULL`` let a change be there wholly or not at all, whenever the power fails;
``BEGIN IMMEDIATE`` lets one program write at a time (https://www.sqlite.org/atomiccommit.html).
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from ellwand.ledger.problems import DamagedLedgerError, NewerLedgerError, NotALedgerError, speaking
from ellwand.ledger.schema import APPLICATION, MIGRATIONS, Migration, migrate, version_of

__all__ = ["PATIENCE", "default_path", "open_file", "snapshot", "transaction"]

_MAGIC = b"SQLite format 3\0"  # https://www.sqlite.org/fileformat.html
PATIENCE = 5.0  # seconds to wait for another program


def default_path() -> Path:
    """Where the ledger is unless it is said otherwise: in the user's own data directory."""
    from platformdirs import user_data_path

    return user_data_path("ellwand") / "ledger.sqlite"


def open_file(
    path: Path, *, migrations: Sequence[Migration] = MIGRATIONS, patience: float = PATIENCE
) -> sqlite3.Connection:
    """Open the ledger at `path`, or begin a new one there.

    Parameters
    ----------
    patience
        Seconds to wait for another program that writes.

    Raises
    ------
    LedgerError
        It is no ledger, of a newer version, damaged, locked, or in a place that cannot be used.
    """
    with speaking(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        _spare_others(path)
        db = sqlite3.connect(path, timeout=patience, isolation_level=None)
        try:
            _prepare(db, path, migrations)
        except BaseException:
            db.close()
            raise
    return db


@contextmanager
def transaction(db: sqlite3.Connection, path: Path) -> Iterator[None]:
    """All that is done within, or nothing of it.

    Raises
    ------
    LedgerError
        The disk is full, the place read-only, or another program is writing.
    """
    with speaking(path):
        db.execute("BEGIN IMMEDIATE")
        try:
            yield
            db.execute("COMMIT")
        except BaseException:
            if db.in_transaction:  # a full disk has rolled it back already
                db.execute("ROLLBACK")
            raise


@contextmanager
def snapshot(db: sqlite3.Connection, path: Path) -> Iterator[None]:
    """Read what the ledger holds at one moment, whatever other programs write meanwhile."""
    with speaking(path):
        db.execute("BEGIN")
        try:
            yield
        finally:
            if db.in_transaction:  # a file that cannot be read has rolled it back already
                db.execute("ROLLBACK")


def _spare_others(path: Path) -> None:
    """Refuse a file without SQLite's first bytes: one of few bytes SQLite would take for an empty one, and overwrite.

    Beside a journal they may be missing: a ledger whose first writing was cut short is set right from it.
    """
    if not path.is_file() or path.with_name(path.name + "-journal").exists():
        return
    with path.open("rb") as file:
        start = file.read(len(_MAGIC))
    if start and start != _MAGIC:
        raise _no_ledger(path)


def _no_ledger(path: Path) -> NotALedgerError:
    hint = "Name the ledger, or a file that is not there yet"
    return NotALedgerError(where=str(path), found="this is no ledger", hint=hint)


def _prepare(db: sqlite3.Connection, path: Path, migrations: Sequence[Migration]) -> None:
    db.row_factory = sqlite3.Row
    _recognise(db, path, migrations)
    for pragma in ("journal_mode = DELETE", "synchronous = FULL", "foreign_keys = ON", "trusted_schema = OFF"):
        db.execute(f"PRAGMA {pragma}")
    if version_of(db) < len(migrations):
        with transaction(db, path):
            _recognise(db, path, migrations)  # again: another program may have begun it just now
            migrate(db, migrations)
    _check_quickly(db, path)


def _recognise(db: sqlite3.Connection, path: Path, migrations: Sequence[Migration]) -> None:
    """Make sure that the file is a ledger that we can read, or empty."""
    application = db.execute("PRAGMA application_id").fetchone()[0]
    empty = db.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0] == 0
    if application != APPLICATION and not (empty and application == 0 and version_of(db) == 0):
        raise _no_ledger(path)
    if version_of(db) > len(migrations):
        found = f"a newer Ellwand wrote this ledger (version {version_of(db)}; known here: {len(migrations)})"
        raise NewerLedgerError(where=str(path), found=found, hint="Use that one, or one newer still")


def _check_quickly(db: sqlite3.Connection, path: Path) -> None:
    """The file's own check, without the order of its indexes; cheap enough for every opening."""
    told = [row[0] for row in db.execute("PRAGMA quick_check(1)")]
    orphans = db.execute("PRAGMA foreign_key_check").fetchone()
    if told != ["ok"] or orphans is not None:
        found = "the file is damaged" if told != ["ok"] else "it holds cloth without a fabric"
        raise DamagedLedgerError(where=str(path), found=found, hint="Take your last copy of it")
