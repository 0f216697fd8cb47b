"""The cloths of an open ledger, within one transaction."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from ellwand.ledger.changes import Changes, read_row
from ellwand.ledger.ids import LARGEST_ID, number_of, short_id
from ellwand.ledger.nouns import OwnedCloth, OwnedFabric
from ellwand.ledger.problems import DamagedLedgerError, LedgerError, NotInLedgerError
from ellwand.ledger.rows import cloth_of, cloth_row, fabric_of, fabric_row
from ellwand.ledger.sense import sensible_cloth, sensible_fabric

__all__ = ["Shelf"]


@dataclass(frozen=True, slots=True)
class Shelf:
    """What can be done to fabrics and cloths, each step noted in `changes`."""

    db: sqlite3.Connection
    changes: Changes

    def find(self, short: str) -> OwnedCloth | None:
        """The cloth with this id, if it is there."""
        row = read_row(self.db, "cloth", short)
        return None if row is None else cloth_of(row)

    def fabric(self, name: str) -> OwnedFabric:
        """The fabric of this name.

        Raises
        ------
        NotInLedgerError
            There is none.
        """
        row = read_row(self.db, "fabric", name)
        if row is None:
            raise NotInLedgerError(where=f'fabric "{name}"', found="the ledger has none of this name")
        return fabric_of(row)

    def cloth(self, short: str) -> OwnedCloth:
        """The cloth with this id.

        Raises
        ------
        NotInLedgerError
            There is none.
        """
        found = self.find(short)
        if found is None:
            raise NotInLedgerError(where=f"cloth {short}", found="the ledger has none with this id")
        return found

    def has_fabric(self, name: str) -> bool:
        """Whether there is a fabric of this name."""
        return read_row(self.db, "fabric", name) is not None

    def add(self, cloth: OwnedCloth) -> OwnedCloth:
        """Put a cloth of a fabric that is there in; it comes back with the next id, which no cloth ever had."""
        return self._put(replace(cloth, id=""), self.fabric(cloth.fabric))

    def take_in(self, cloths: Sequence[OwnedCloth]) -> tuple[OwnedCloth, ...]:
        """Put cloths in; those that have an id keep it, and it is never given to another.

        Raises
        ------
        LedgerError
            One has an id that is none, or that another cloth has.
        """
        fabrics = {name: self.fabric(name) for name in dict.fromkeys(cloth.fabric for cloth in cloths)}
        self._reserve(cloth.id for cloth in cloths if cloth.id)
        return tuple(self._put(cloth, fabrics[cloth.fabric]) for cloth in cloths)

    def _reserve(self, ids: Iterable[str]) -> None:
        numbers = [-1]
        for short in ids:
            number = number_of(short)
            if number is None or number >= LARGEST_ID:
                raise LedgerError(where=f"cloth {short}", found="it has an id that is none of Ellwand's")
            numbers.append(number)
        self.db.execute("UPDATE ids SET given = max(given, ?)", (max(numbers) + 1,))

    def _put(self, cloth: OwnedCloth, fabric: OwnedFabric) -> OwnedCloth:
        sensible_cloth(cloth, fabric)
        if not cloth.id:
            cloth = replace(cloth, id=self._next_id())
        elif read_row(self.db, "cloth", cloth.id) is not None:
            raise LedgerError(where=f"cloth {cloth.id}", found="the ledger has one with this id already")
        self.changes.insert("cloth", cloth_row(cloth))
        return cloth

    def _next_id(self) -> str:
        given = self.db.execute("UPDATE ids SET given = given + 1 RETURNING given").fetchone()
        if given is None:
            found = "it has forgotten how many ids were given"
            raise DamagedLedgerError(where="ledger", found=found, hint="Take your last copy of it")
        return short_id(given[0] - 1)

    def change(self, before: OwnedCloth, after: OwnedCloth) -> None:
        """Put `after` in the place of `before`; the id stays."""
        after = replace(after, id=before.id)
        sensible_cloth(after, self.fabric(after.fabric))
        self.changes.update("cloth", cloth_row(before), cloth_row(after))

    def take_one(self, cloth: OwnedCloth) -> bool:
        """Take one of `count` alike out; whether it was the last."""
        if cloth.count > 1:
            self.changes.update("cloth", cloth_row(cloth), cloth_row(replace(cloth, count=cloth.count - 1)))
            return False
        self.changes.delete("cloth", cloth_row(cloth))
        return True

    def take_all(self, cloth: OwnedCloth) -> None:
        """Take a cloth out, however many there are alike."""
        self.changes.delete("cloth", cloth_row(cloth))

    def add_fabric(self, fabric: OwnedFabric) -> None:
        """Put a fabric in.

        Raises
        ------
        LedgerError
            There is one of this name already.
        """
        sensible_fabric(fabric)
        self._free(fabric.name)
        self.changes.insert("fabric", fabric_row(fabric))

    def change_fabric(self, before: OwnedFabric, after: OwnedFabric) -> None:
        """Put `after` in the place of `before`; its cloths follow a new name, and must make sense as cloth of it."""
        sensible_fabric(after)
        if after.name != before.name:
            self._free(after.name)
        self.changes.update("fabric", fabric_row(before), fabric_row(after))
        for row in self.db.execute("SELECT * FROM cloth WHERE fabric = ?", (after.name,)):
            sensible_cloth(cloth_of(dict(row)), after)

    def take_fabric(self, fabric: OwnedFabric) -> None:
        """Take a fabric out.

        Raises
        ------
        LedgerError
            There is still cloth of it.
        """
        of_it = self.db.execute("SELECT count(*) FROM cloth WHERE fabric = ?", (fabric.name,)).fetchone()[0]
        if of_it:
            found = f"there is still cloth of it ({of_it} in the ledger)"
            raise LedgerError(where=f'fabric "{fabric.name}"', found=found, hint="Remove the cloth first")
        self.changes.delete("fabric", fabric_row(fabric))

    def was_taken(self, digest: str) -> bool:
        """Whether a plan's fabric was taken before."""
        return read_row(self.db, "taken", digest) is not None

    def mark_taken(self, digest: str, project: str, fabric: str) -> None:
        """Remember that a plan's fabric has been taken."""
        self.changes.insert("taken", {"digest": digest, "project": project, "fabric": fabric})

    def _free(self, name: str) -> None:
        if self.has_fabric(name):
            raise LedgerError(where=f'fabric "{name}"', found="the ledger has one of this name already")
