"""The fabrics of a spreadsheet, whose facts stand in one of its rows or in many, or in the ledger."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ellwand.errors import InputError
from ellwand.ledger.facts import FABRIC_FACTS, Facts, fabric_facts, read_fabric
from ellwand.ledger.nouns import OwnedFabric
from ellwand.ledger.problems import LedgerError
from ellwand.ledger.sense import sensible_fabric
from ellwand.project.wording import meant, plain

__all__ = ["Gathering", "placed"]

_LEAST = {"fabric": "one", "fabric width": "1 in"}  # of any fabric, to look at one fact alone


@dataclass(slots=True, kw_only=True)
class Gathering:
    """Facts of fabrics, gathered from row to row; `known` are the ledger's by name."""

    known: Mapping[str, OwnedFabric]
    gathered: dict[str, Facts] = field(default_factory=dict)
    seen: set[tuple[tuple[str, str], ...]] = field(default_factory=set)

    def gather(self, row: Facts) -> None:
        """Add what a row says of its fabric; it may say again what is said, not otherwise.

        Raises
        ------
        InputError
            It does.
        """
        told = {fact: row.texts[fact] for fact in FABRIC_FACTS if row.has(fact)}
        key = tuple(told.items())
        if key in self.seen:
            return
        self.seen.add(key)
        name = told["fabric"]
        if name in self.known:
            _see_known(self.known[name], told, row)
            return
        before = self.gathered.get(name, replace(row, texts={}))
        for fact in told:
            if fact in before.texts and _alone(before, fact) != _alone(row, fact):
                _refuse(row, fact, before.places[fact].rpartition(": ")[2], before.texts[fact])
        places = {**dict.fromkeys(told, row.where), **before.places}
        self.gathered[name] = replace(before, texts={**told, **before.texts}, places=places)

    def made(self) -> dict[str, OwnedFabric]:
        """All fabrics by name, the ledger's and the new ones.

        Raises
        ------
        InputError
            A new one lacks its width, or makes no sense.
        """
        names = [*self.known, *(name for name, facts in self.gathered.items() if facts.has("fabric width"))]
        return {**self.known, **{name: _fabric(facts, names) for name, facts in self.gathered.items()}}


def placed(where: str, error: LedgerError) -> InputError:
    """What makes no sense, told of its place in the spreadsheet."""
    return InputError(where=where, found=error.found, wanted=error.wanted, hint=error.hint)


def _see_known(fabric: OwnedFabric, told: Mapping[str, str], row: Facts) -> None:
    """Refuse what a row says of a fabric of the ledger, where that is otherwise."""
    facts = fabric_facts(fabric, "in")
    for fact, text in told.items():
        if read_fabric(replace(row, texts={**facts, fact: text})) != fabric:
            _refuse(row, fact, "the ledger", facts.get(fact, "nothing"))


def _alone(facts: Facts, fact: str) -> OwnedFabric:
    return read_fabric(replace(facts, texts={**_LEAST, fact: facts.texts[fact]}))


def _refuse(row: Facts, fact: str, place: str, before: str) -> None:
    found = f'"{plain(row.text(fact))}" is not what {place} says of "{plain(row.text("fabric"))}": {plain(before)}'
    raise row.error(fact, found, hint="Leave it out here, or correct the one or the other")


def _fabric(facts: Facts, names: list[str]) -> OwnedFabric:
    if not facts.has("fabric width"):
        name = facts.text("fabric")
        found = f'the ledger has no fabric "{plain(name)}", and no row says how wide it is'
        advice = meant(name, names) if names else ""
        hint = advice if advice.startswith("Did") else ""
        raise facts.error("fabric", found, 'Write its width in a column "fabric width"', hint)
    fabric = read_fabric(facts)
    try:
        sensible_fabric(fabric)
    except LedgerError as error:
        raise placed(facts.where, error) from None
    return fabric
