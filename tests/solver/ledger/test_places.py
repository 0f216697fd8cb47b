"""Files that are no ledger, places that cannot be written, disks that are full, and older files."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import platformdirs
import pytest

from ellwand.ledger import Ledger, default_path
from ellwand.ledger.problems import (
    BusyLedgerError,
    DamagedLedgerError,
    FullDiskError,
    LedgerError,
    NewerLedgerError,
    NotALedgerError,
)
from ellwand.ledger.schema import APPLICATION, MIGRATIONS, version_of
from ellwand.ledger.store import open_file, snapshot
from solver.ledger.owned import BOLT, INK, environment, opened, stocked

NOBODY = 65534  # a user without rights


def pragma(db: sqlite3.Connection, name: str) -> object:
    """What a pragma is set to."""
    return db.execute(f"PRAGMA {name}").fetchone()[0]


def test_the_file_is_kept_as_safe_as_sqlite_can(tmp_path: Path) -> None:
    """Rollback journal, full synchronous, foreign keys, our application id, the newest version."""
    with opened(tmp_path / "new" / "ledger.sqlite") as ledger:
        names = ("journal_mode", "synchronous", "foreign_keys", "application_id", "user_version")

        assert [pragma(ledger.db, name) for name in names] == ["delete", 2, 1, APPLICATION, len(MIGRATIONS)]
        strict = ledger.db.execute("SELECT min(strict) FROM pragma_table_list WHERE name NOT LIKE 'sqlite%'")
        assert strict.fetchone()[0] == 1


def test_the_default_place_is_the_users_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """In a folder of ours in the user's data directory, wherever this system has that."""
    monkeypatch.setattr(platformdirs, "user_data_path", lambda name: Path("home", "somebody", "data", name))

    assert default_path() == Path("home/somebody/data/ellwand/ledger.sqlite")


@pytest.mark.parametrize("content", [b"name,width\nink,43\n" * 80, b"x", b"SQLite format 3\0" + b"\7" * 900])
def test_a_file_that_is_no_ledger_is_left_alone(tmp_path: Path, content: bytes) -> None:
    """A sentence, and not a byte of it has changed."""
    path = tmp_path / "cloth.csv"
    path.write_bytes(content)

    with pytest.raises(NotALedgerError, match="this is no ledger"):
        Ledger(path)

    assert path.read_bytes() == content


def test_another_programs_file_is_left_alone(tmp_path: Path) -> None:
    """An SQLite file of other tables is no ledger."""
    path = tmp_path / "other.sqlite"
    with sqlite3.connect(path) as db:
        db.execute("CREATE TABLE recipe (name TEXT)")
    db.close()
    content = path.read_bytes()

    with pytest.raises(NotALedgerError, match="this is no ledger"):
        Ledger(path)

    assert path.read_bytes() == content


def test_a_newer_ledger_is_left_alone(tmp_path: Path) -> None:
    """A file of a version that is not known yet says which Ellwand to use."""
    path = tmp_path / "ledger.sqlite"
    stocked(path).close()
    with sqlite3.connect(path) as db:
        db.execute("PRAGMA user_version = 9")
    db.close()
    content = path.read_bytes()

    with pytest.raises(NewerLedgerError, match=r"a newer Ellwand wrote this ledger \(version 9; known here: 1\)"):
        Ledger(path)

    assert path.read_bytes() == content


def test_an_older_ledger_is_brought_up_to_date(tmp_path: Path) -> None:
    """A made-up second step is taken once, on a file that has cloth in it; a step that fails is not taken at all."""
    path = tmp_path / "ledger.sqlite"
    with stocked(path) as ledger:
        before = ledger.cloths()

    def half(db: sqlite3.Connection) -> None:
        db.execute("CREATE TABLE shop (name TEXT) STRICT")
        raise ZeroDivisionError

    def shops(db: sqlite3.Connection) -> None:
        db.execute("CREATE TABLE shop (name TEXT) STRICT")
        db.execute("INSERT INTO shop SELECT name FROM fabric")

    with pytest.raises(ZeroDivisionError):
        open_file(path, migrations=(*MIGRATIONS, half))
    with opened(path) as ledger:
        assert version_of(ledger.db) == 1
        assert ledger.cloths() == before
    for _ in range(2):
        db = open_file(path, migrations=(*MIGRATIONS, shops))
        assert version_of(db) == 2
        assert [row[0] for row in db.execute("SELECT name FROM shop")] == ["ink"]
        assert db.execute("SELECT count(*) FROM cloth").fetchone()[0] == len(before)
        db.close()


def test_a_damaged_ledger_is_told_on_opening(tmp_path: Path) -> None:
    """A page of the file written over."""
    path = tmp_path / "ledger.sqlite"
    stocked(path).close()
    content = bytearray(path.read_bytes())
    content[4096 + 100 : 4096 * 6] = b"\xff" * (4096 * 5 - 100)
    path.write_bytes(content)

    with pytest.raises(DamagedLedgerError, match="the file is damaged"):
        Ledger(path)


def test_cloth_without_a_fabric_is_told_on_opening(tmp_path: Path) -> None:
    """A fabric taken out by another program leaves cloth behind."""
    path = tmp_path / "ledger.sqlite"
    stocked(path).close()
    with sqlite3.connect(path) as db:
        db.execute("DELETE FROM fabric")
    db.close()

    with pytest.raises(DamagedLedgerError, match="it holds cloth without a fabric"):
        Ledger(path)


def test_a_transaction_that_is_over_hides_no_error(tmp_path: Path) -> None:
    """Where SQLite has rolled back by itself while reading, the error that made it do so is the one that is told."""
    path = tmp_path / "ledger.sqlite"
    with stocked(path) as ledger:

        def read() -> None:
            with snapshot(ledger.db, path):
                ledger.db.execute("ROLLBACK")
                raise ZeroDivisionError

        with pytest.raises(ZeroDivisionError):
            read()


def test_a_ledger_that_another_writes_to_is_told(tmp_path: Path) -> None:
    """While another program holds it nothing is written, and afterwards it goes on."""
    path = tmp_path / "ledger.sqlite"
    stocked(path).close()
    other = sqlite3.connect(path, isolation_level=None)
    with Ledger(path, patience=0.05) as ledger:
        other.execute("BEGIN IMMEDIATE")
        before = ledger.state_text()

        with pytest.raises(BusyLedgerError, match="another program is writing to the ledger"):
            ledger.remove_cloth("A1")

        assert ledger.state_text() == before
        other.execute("ROLLBACK")
        ledger.remove_cloth("A1")
    other.close()


def test_a_full_disk_loses_nothing(tmp_path: Path) -> None:
    """No room for an import, a sentence; what was there is there, and once there is room it goes on."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        before = ledger.state_text(), ledger.history()
        pages = pragma(ledger.db, "page_count")
        ledger.db.execute(f"PRAGMA max_page_count = {pages}")

        with pytest.raises(FullDiskError, match=r"the disk is full\. Nothing has been changed\."):
            ledger.take_in([], [BOLT] * 500)

        assert (ledger.state_text(), ledger.history()) == before
        assert ledger.check() == ()
        ledger.db.execute("PRAGMA max_page_count = 100000")
        assert ledger.take_in([], [BOLT] * 500)[0].id == "D1"


def test_a_full_disk_cannot_begin_half_a_ledger(tmp_path: Path) -> None:
    """A migration that finds no room leaves the file as it was."""
    path = tmp_path / "ledger.sqlite"
    stocked(path).close()
    content = path.read_bytes()

    def large(db: sqlite3.Connection) -> None:
        db.execute(f"PRAGMA max_page_count = {pragma(db, 'page_count')}")
        db.execute("CREATE TABLE large (text TEXT) STRICT")

    with pytest.raises(FullDiskError, match="the disk is full"):
        open_file(path, migrations=(*MIGRATIONS, large))

    assert path.read_bytes() == content


# places that cannot be written: root can write anywhere, so another user tries


@pytest.fixture
def locked_folder() -> Iterator[Path]:
    """A folder that all may read and none may write, with a ledger in it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name).resolve()
        stocked(folder / "ledger.sqlite").close()
        (folder / "ledger.sqlite").chmod(0o444)
        folder.chmod(0o555)
        yield folder
        folder.chmod(0o755)


TRY = """
import os, sys
from pathlib import Path
from ellwand.errors import EllwandError
from ellwand.ledger import Ledger
import solver.ledger.owned
if os.geteuid() == 0:
    os.setgroups([])
    os.setuid({nobody})
try:
    with Ledger(Path(sys.argv[1])) as ledger:
        print(len(ledger.cloths()), ledger.check())
        ledger.remove_cloth("A1")
except EllwandError as error:
    print(type(error).__name__, error)
"""


def tried_by_another(path: Path) -> list[str]:
    """What another user is told who lists the cloths and removes one."""
    run = subprocess.run(
        [sys.executable, "-c", TRY.format(nobody=NOBODY), str(path)],
        env=environment(),
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return run.stdout.splitlines()


def test_a_read_only_ledger_can_be_read_and_is_not_changed(locked_folder: Path) -> None:
    """Listing works; a change is refused with a sentence and leaves every byte."""
    path = locked_folder / "ledger.sqlite"
    content = path.read_bytes()

    told = tried_by_another(path)

    assert told[0] == "3 ()"
    assert told[1].startswith(
        f"ReadOnlyLedgerError {path}: the ledger cannot be written here. Nothing has been changed."
    )
    assert path.read_bytes() == content
    assert [entry.name for entry in locked_folder.iterdir()] == ["ledger.sqlite"]


@pytest.mark.parametrize("name", ["new.sqlite", "folder/new.sqlite"])
def test_no_ledger_is_begun_in_a_read_only_place(locked_folder: Path, name: str) -> None:
    """A sentence, and nothing is there."""
    (told,) = tried_by_another(locked_folder / name)

    assert told.startswith("ReadOnlyLedgerError ")
    assert "cannot be" in told
    assert [entry.name for entry in locked_folder.iterdir()] == ["ledger.sqlite"]


def test_a_folder_is_no_ledger(tmp_path: Path) -> None:
    """Naming a folder gives a sentence."""
    with pytest.raises(LedgerError, match="cannot be written here"):
        Ledger(tmp_path)


def test_a_second_ledger_may_be_open(tmp_path: Path) -> None:
    """What one writes the other reads."""
    path = tmp_path / "ledger.sqlite"
    with stocked(path) as one, opened(path) as other:
        one.edit_fabric("ink", replace(INK, fibre="silk"))

        assert other.fabric("ink").fibre == "silk"
