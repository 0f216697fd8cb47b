"""The ledger as the commands of ``ellwand cloth`` open it, and what they say of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from shlex import quote
from typing import Any

import click

from ellwand.errors import InputError
from ellwand.ledger import Ledger, OwnedCloth, OwnedFabric, default_path
from ellwand.ledger.facts import Facts, cloth_facts, fabric_facts, read_cloth, read_fabric
from ellwand.ledger.problems import NotInLedgerError
from ellwand.project.wording import meant

__all__ = [
    "changed_cloth", "changed_fabric", "cloth_from", "fabric_from", "known_fabric", "opened", "show", "taking_back",
    "with_ledger",
]  # fmt: skip

_BEGIN = 'ellwand cloth fabric ink --width "43 in"'
_TAKE_IN = "ellwand cloth import stash.csv"


@contextmanager
def opened(path: Path | None, *, begin: bool = False) -> Iterator[Ledger]:
    """The ledger at `path`, or the user's own; one that is not there yet only where it may be begun.

    Raises
    ------
    InputError
        It is not there, or cannot be opened.
    """
    place = default_path() if path is None else path
    if not begin and not place.exists():
        hint = f"Begin one with a fabric, {with_ledger(_BEGIN, path)}, or a spreadsheet, {with_ledger(_TAKE_IN, path)}"
        raise InputError(where=str(place), found="there is no ledger here yet", hint=hint)
    with Ledger(place) as ledger:
        yield ledger


def with_ledger(command: str, path: Path | None) -> str:
    """A command as it is typed again for the same ledger."""
    return command if path is None else f"{command} --ledger {quote(str(path))}"


def taking_back(path: Path | None) -> str:
    """How what was just done is taken back."""
    return f"To take this back: {with_ledger('ellwand cloth undo', path)}\n"


def show(document: Callable[[], dict[str, Any]], text: Callable[[], str], *, as_json: bool) -> None:
    """Print an answer: its document, or its text; only that one is made."""
    from ellwand.record import dumps

    click.echo(dumps(document()) if as_json else text(), nl=False)


def known_fabric(ledger: Ledger, name: str, path: Path | None) -> OwnedFabric:
    """The fabric called `name`.

    Raises
    ------
    NotInLedgerError
        There is none; how one is entered.
    """
    try:
        return ledger.fabric(name)
    except NotInLedgerError as error:
        enter = with_ledger(f'ellwand cloth fabric {quote(name)} --width "43 in"', path)
        advice = meant(name, [fabric.name for fabric in ledger.fabrics()])
        wanted = advice if advice.startswith("Did") else ""
        hint = f"Enter it first, with its width: {enter}"
        raise NotInLedgerError(where=error.where, found=error.found, wanted=wanted, hint=hint) from None


def fabric_from(name: str, told: Mapping[str, str], unit: str) -> OwnedFabric:
    """A new fabric as it is told."""
    return read_fabric(Facts(where=f'fabric "{name}"', texts={"fabric": name, **_said(told)}, unit=unit))


def changed_fabric(fabric: OwnedFabric, told: Mapping[str, str], unit: str) -> OwnedFabric:
    """A fabric with what is told in the place of what it was."""
    texts = _said({**fabric_facts(fabric, "in"), **told})
    return read_fabric(Facts(where=f'fabric "{fabric.name}"', texts=texts, unit=unit))


def cloth_from(fabric: OwnedFabric, told: Mapping[str, str], unit: str) -> OwnedCloth:
    """A new cloth as it is told."""
    return read_cloth(Facts(where=f'cloth of "{fabric.name}"', texts=_said(told), unit=unit), fabric)


def changed_cloth(cloth: OwnedCloth, fabric: OwnedFabric, told: Mapping[str, str], unit: str) -> OwnedCloth:
    """A cloth with what is told in the place of what it was, as one of `fabric`; an outline says its size anew."""
    facts = cloth_facts(cloth, "in")
    if told.get("outline"):
        facts = {name: text for name, text in facts.items() if name not in ("kind", "width", "length")}
    return read_cloth(Facts(where=f"cloth {cloth.id}", texts=_said({**facts, **told}), unit=unit), fabric)


def _said(told: Mapping[str, str]) -> dict[str, str]:
    """What is told, without what is told to be nothing."""
    return {name: text.strip() for name, text in told.items() if text.strip()}
