"""The ledger: the cloth somebody owns, in one file, with all that was ever done to it.

Every change is one transaction and one entry of the history, and can be undone, the last first.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from ellwand.ledger.changes import ITEMS, Changes, rows_of, take_back
from ellwand.ledger.faults import faults_of
from ellwand.ledger.finding import wanted
from ellwand.ledger.ids import number_of, read_id
from ellwand.ledger.nouns import Entry, Find, Kind, OwnedCloth, OwnedFabric, Taking, Used
from ellwand.ledger.problems import LedgerError, speaking
from ellwand.ledger.rows import cloth_of, entry_of, fabric_of
from ellwand.ledger.shelf import Shelf
from ellwand.ledger.store import PATIENCE, default_path, open_file, snapshot, transaction
from ellwand.ledger.using import use_taking

__all__ = ["Ledger"]


def _now() -> datetime:
    return datetime.now(UTC)


def _some(things: Sequence[object], name: str) -> str:
    return f"1 {name}" if len(things) == 1 else f"{len(things)} {name}s"


def _see_same(where: str, was: object, there: object) -> None:
    if was is not None and was != there:
        found = "it has been changed by another program meanwhile"
        raise LedgerError(where=where, found=found, hint="Look at it again")


class Ledger:
    """An open ledger; close it, or use it in a ``with`` statement.

    Parameters
    ----------
    path
        Its file; begun where there is none yet. None for the user's own, in the user's data directory.
    patience
        Seconds to wait for another program that writes.
    clock
        What time it is, UTC.

    Raises
    ------
    LedgerError
        Here and in everything that is done: the file is no ledger, of a newer version, damaged, locked, read-only,
        or the disk is full. What was asked for is then not done at all.
    """

    def __init__(
        self, path: Path | None = None, *, patience: float = PATIENCE, clock: Callable[[], datetime] = _now
    ) -> None:
        self.path = default_path() if path is None else path
        self._clock = clock
        self.db = open_file(self.path, patience=patience)

    def __enter__(self) -> Ledger:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self.db.close()

    def fabrics(self) -> tuple[OwnedFabric, ...]:
        """All fabrics, by name."""
        with speaking(self.path):
            rows = rows_of(self.db, "fabric")
        return tuple(fabric_of(rows[name]) for name in sorted(rows))

    def fabric(self, name: str) -> OwnedFabric:
        """The fabric of this name.

        Raises
        ------
        NotInLedgerError
            There is none.
        """
        with speaking(self.path):
            return self._shelf(0).fabric(name)

    def cloths(self, find: Find | None = None) -> tuple[OwnedCloth, ...]:
        """All cloths, or those asked for, in the order in which they came."""
        find = find or Find()
        with snapshot(self.db, self.path):
            fabrics = {name: fabric_of(row) for name, row in rows_of(self.db, "fabric").items()}
            cloths = [cloth_of(row) for row in rows_of(self.db, "cloth").values()]
        found = [cloth for cloth in cloths if wanted(cloth, fabrics[cloth.fabric], find)]
        return tuple(sorted(found, key=lambda cloth: number_of(cloth.id) or 0))

    def cloth(self, short: str) -> OwnedCloth:
        """The cloth with this id, large or small letters.

        Raises
        ------
        NotInLedgerError
            There is none.
        """
        with speaking(self.path):
            return self._shelf(0).cloth(read_id(short))

    def add_fabric(self, fabric: OwnedFabric) -> None:
        """Add a fabric whose name is not there yet."""
        with self._change("add", f'fabric "{fabric.name}"') as shelf:
            shelf.add_fabric(fabric)

    def edit_fabric(self, name: str, fabric: OwnedFabric, *, was: OwnedFabric | None = None) -> None:
        """Put `fabric` in the place of the one called `name`; its cloths stay with it under a new name too.

        Raises
        ------
        LedgerError
            It is not as it `was` when it was looked at.
        """
        with self._change("edit", f'fabric "{name}"') as shelf:
            there = shelf.fabric(name)
            _see_same(f'fabric "{name}"', was, there)
            shelf.change_fabric(there, fabric)

    def remove_fabric(self, name: str) -> None:
        """Remove a fabric of which there is no cloth."""
        with self._change("remove", f'fabric "{name}"') as shelf:
            shelf.take_fabric(shelf.fabric(name))

    def add_cloth(self, cloth: OwnedCloth) -> OwnedCloth:
        """Add a cloth of a fabric that is there; it comes back with its short id."""
        with self._change("add", f'cloth of "{cloth.fabric}"') as shelf:
            added = shelf.add(cloth)
            shelf.changes.describe(f'cloth {added.id} of "{cloth.fabric}"')
            return added

    def edit_cloth(self, short: str, cloth: OwnedCloth, *, was: OwnedCloth | None = None) -> None:
        """Put `cloth` in the place of the one with this id, which it keeps.

        Raises
        ------
        LedgerError
            It is not as it `was` when it was looked at: another program has used some of it.
        """
        with self._change("edit", f"cloth {read_id(short)}") as shelf:
            there = shelf.cloth(read_id(short))
            _see_same(f"cloth {read_id(short)}", was, there)
            shelf.change(there, cloth)

    def remove_cloth(self, short: str) -> None:
        """Remove a cloth, however many there are alike."""
        with self._change("remove", f"cloth {read_id(short)}") as shelf:
            shelf.take_all(shelf.cloth(read_id(short)))

    def take_in(self, fabrics: Sequence[OwnedFabric], cloths: Sequence[OwnedCloth]) -> tuple[OwnedCloth, ...]:
        """Import fabrics that are not there yet, then cloths: all of them or none. They come back with their ids.

        A cloth that has an id already, from another ledger or an earlier time, keeps it.

        Raises
        ------
        LedgerError
            A fabric or an id is there already.
        """
        with self._change("import", f"{_some(fabrics, 'fabric')}, {_some(cloths, 'cloth')}") as shelf:
            for fabric in fabrics:
                shelf.add_fabric(fabric)
            return shelf.take_in(cloths)

    def use(self, taking: Taking) -> Used:
        """Take a plan's cloth out and put back what it leaves.

        Raises
        ------
        AlreadyUsedError
            One of the fabrics was taken for this plan before.
        ClothGoneError
            A cloth is not there any more, or not as the plan found it.
        NotInLedgerError
            What is left of bought cloth belongs to no fabric of the ledger.
        """
        names = ", ".join(part.fabric for part in taking.fabrics)
        with self._change("use", f'{names} of "{taking.project}"') as shelf:
            return use_taking(shelf, taking, self._clock().date())

    def spoil(self, what: str, *, cloth: str | None = None) -> None:
        """Note a spoiled piece; with the id of a cloth, one such cloth that was spoiled, or cut for it, goes too.

        Raises
        ------
        LedgerError
            The cloth is a length: a spoiled piece does not take all of it.
        NotInLedgerError
            There is none with this id.
        """
        short = None if cloth is None else read_id(cloth)
        with self._change("spoil", what if short is None else f"{what}: cloth {short}") as shelf:
            if short is not None:
                spoiled = shelf.cloth(short)
                if spoiled.kind is Kind.LENGTH:
                    found = "it is a length, and what is spoiled of it is not all of it"
                    raise LedgerError(where=f"cloth {short}", found=found, hint="Shorten it with an edit")
                shelf.take_one(spoiled)

    def undo(self) -> Entry:
        """Undo the last change that stands.

        Cloths that come back have the ids that they had. An id that goes with its cloth is not given again: it may be
        pinned on something already.

        Raises
        ------
        LedgerError
            There is nothing left to undo.
        """
        with transaction(self.db, self.path):
            last = self.db.execute("SELECT max(number) FROM history WHERE undone IS NULL").fetchone()[0]
            if last is None:
                raise LedgerError(where=str(self.path), found="there is nothing to undo")
            take_back(self.db, last)
            now = self._clock().isoformat()
            self.db.execute("UPDATE history SET undone = ? WHERE number = ?", (now, last))
            return self._entries("WHERE number = ?", last)[0]

    def history(self, most: int = -1) -> tuple[Entry, ...]:
        """What was done, the last first; the last `most` of it."""
        with speaking(self.path):
            return self._entries("ORDER BY number DESC LIMIT ?", most)

    def state_text(self) -> str:
        """All that the ledger holds, equal to the byte for equal contents: a line of JSON for each row.

        The history, and how many ids were given, are no part of it.
        """
        with snapshot(self.db, self.path):
            tables = {item: rows_of(self.db, item) for item in ITEMS}
        lines = [
            json.dumps([item, rows[key]], ensure_ascii=False, sort_keys=True)
            for item, rows in tables.items()
            for key in sorted(rows)
        ]
        return "".join(f"{line}\n" for line in lines)

    def check(self) -> tuple[str, ...]:
        """Look through the whole ledger; a sentence for each fault, none for a sound one.

        The file itself is checked, every row for sense, and that the changes that stand, made again from nothing,
        give just what is there.
        """
        with snapshot(self.db, self.path):
            return tuple(faults_of(self.db))

    @contextmanager
    def _change(self, act: str, summary: str) -> Iterator[Shelf]:
        """One transaction with its entry in the history."""
        with transaction(self.db, self.path):
            values = (self._clock().isoformat(), act, summary)
            cursor = self.db.execute("INSERT INTO history (at, act, summary) VALUES (?, ?, ?)", values)
            yield self._shelf(cursor.lastrowid or 0)

    def _shelf(self, entry: int) -> Shelf:
        return Shelf(self.db, Changes(self.db, entry))

    def _entries(self, which: str, value: int) -> tuple[Entry, ...]:
        query = f"SELECT number, at, act, summary, undone FROM history {which}"  # one of ours
        return tuple(entry_of(dict(row)) for row in self.db.execute(query, (value,)))
