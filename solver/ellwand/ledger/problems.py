"""What can go wrong with a ledger, a sentence each; after each of them the ledger holds what it held before."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from ellwand.errors import EllwandError, InputError, NoPlanError

__all__ = [
    "AlreadyUsedError", "BusyLedgerError", "ClothGoneError", "DamagedLedgerError", "FullDiskError", "LedgerError",
    "NewerLedgerError", "NotALedgerError", "NotInLedgerError", "ReadOnlyLedgerError", "speaking",
]  # fmt: skip


class LedgerError(InputError):
    """The ledger cannot do it."""


class NotALedgerError(LedgerError):
    """The file is something else."""


class NewerLedgerError(LedgerError):
    """A newer Ellwand wrote the file."""


class DamagedLedgerError(LedgerError):
    """The file fails its check."""


class BusyLedgerError(LedgerError):
    """Another program holds the ledger."""


class FullDiskError(LedgerError):
    """There is no room to write."""


class ReadOnlyLedgerError(LedgerError):
    """The file or its folder cannot be opened or written."""


class NotInLedgerError(LedgerError):
    """No such fabric or cloth."""


class ClothGoneError(NoPlanError):
    """A plan's cloth is not there any more, or not as the plan found it."""


class AlreadyUsedError(NoPlanError):
    """The plan's cloth was taken before."""


_UNCHANGED = "Nothing has been changed"


@contextmanager
def speaking(path: Path) -> Iterator[None]:
    """Turn errors of SQLite and the system within into one sentence about the ledger at `path`."""
    try:
        yield
    except sqlite3.Error as error:
        raise _spoken(path, error) from error
    except OSError as error:
        found = f"the place cannot be used ({error.strerror})"
        raise ReadOnlyLedgerError(where=str(path), found=found, hint="Name another place for the ledger") from error


def _spoken(path: Path, error: sqlite3.Error) -> EllwandError:
    where, name = str(path), getattr(error, "sqlite_errorname", "")
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        found = "another program is writing to the ledger"
        return BusyLedgerError(where=where, found=found, wanted=_UNCHANGED, hint="Try again when it is done")
    if name.startswith("SQLITE_FULL"):
        found = "the disk is full"
        return FullDiskError(where=where, found=found, wanted=_UNCHANGED, hint="Make room and try again")
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_AUTH")):
        found = "the ledger cannot be written here"
        hint = "Let yourself write to the file and its folder, or name another place"
        return ReadOnlyLedgerError(where=where, found=found, wanted=_UNCHANGED, hint=hint)
    if name.startswith("SQLITE_NOTADB"):
        return NotALedgerError(where=where, found="this is no ledger", hint="Name the ledger, or a file not yet there")
    if name.startswith("SQLITE_CORRUPT"):
        return DamagedLedgerError(where=where, found="the file is damaged", hint="Take your last copy of it")
    return LedgerError(where=where, found=f"the ledger cannot be read or written ({error})", wanted=_UNCHANGED)
