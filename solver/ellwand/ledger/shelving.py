"""The ledger as projects draw on it: every fabric with its cloths, looked up once and only if somebody asks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from fractions import Fraction
from functools import cache, partial
from pathlib import Path

from ellwand.ledger.ledger import Ledger
from ellwand.ledger.nouns import Kind, OwnedCloth, OwnedFabric
from ellwand.ledger.problems import NotInLedgerError
from ellwand.ledger.store import default_path
from ellwand.lengths import unit_length
from ellwand.project.tables import OnHand, Shelf, Stocked
from ellwand.project.wording import printable

__all__ = ["shelf_at"]

_LONGEST = 80  # letters


def shelf_at(path: Path | None = None) -> Shelf:
    """The fabrics of the ledger at `path`, or of the user's own, for :func:`~ellwand.project.read.read_project`.

    The file is opened when a project first asks for a fabric, and none is begun there. What it held then is given
    to whoever asks again, so that all plans of one command are of the same cloth.

    Raises
    ------
    LedgerError
        When it is asked: there is no ledger, or it cannot be read.
    """
    return cache(partial(_read, default_path() if path is None else path))


def _read(path: Path) -> Mapping[str, Stocked]:
    if not path.is_file():
        hint = "Begin one with ellwand cloth, name another with --ledger, or list the cloth in the project"
        raise NotInLedgerError(where=str(path), found="there is no ledger here", hint=hint)
    with Ledger(path) as ledger:
        fabrics, cloths = ledger.fabrics(), ledger.cloths()
    of_fabric: dict[str, list[OwnedCloth]] = defaultdict(list)
    for cloth in cloths:
        of_fabric[cloth.fabric].append(cloth)
    return {fabric.name: _stocked(fabric, of_fabric[fabric.name]) for fabric in fabrics}


def _stocked(fabric: OwnedFabric, cloths: list[OwnedCloth]) -> Stocked:
    return Stocked(
        ledger=fabric.name,
        note=_words(fabric.fibre),
        width=fabric.width,
        selvage=fabric.selvage,
        way=fabric.way,
        repeat=fabric.repeat,
        shrinks=fabric.shrinks,
        sold_by=fabric.sold_by,
        price=None if fabric.price is None else fabric.price / unit_length(fabric.priced_by),
        cloths=tuple(map(_on_hand, cloths)),
    )


def _on_hand(cloth: OwnedCloth) -> OnHand:
    length = cloth.kind is Kind.LENGTH
    return OnHand(
        length=cloth.along,
        width=None if length else cloth.across,
        full_width=cloth.across if length else None,
        count=cloth.count,
        selvages=cloth.selvages_to_lose,
        washed=cloth.washed,
        square_up=Fraction(0),
        outline=cloth.outline,
        flaws=cloth.flaws,
        ledger=cloth.id,
        lot=_words(cloth.lot),
        place=_words(cloth.place),
    )


def _words(text: str) -> str:
    """What somebody wrote, short enough and harmless to show."""
    return printable(text)[:_LONGEST]
