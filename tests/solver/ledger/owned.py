"""A small invented ledger and plans of its cloth, for the ledger's tests."""

from __future__ import annotations

import json
import os
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

from ellwand.ledger import Kind, Ledger, OwnedCloth, OwnedFabric, Selvage
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Polygon
from ellwand.record import dumps, plan_document

ROOT = Path(__file__).parents[3]
INK = OwnedFabric(
    name="ink",
    fibre="cotton",
    colours=("blue", "dark"),
    width=Fraction(43),
    shrinks=(Fraction(3, 100), Fraction(2, 100)),
)
BOLT = OwnedCloth(
    fabric="ink", kind=Kind.LENGTH, across=Fraction(43), along=Fraction(30), selvages=tuple(Selvage), lot="A7"
)
QUARTER = OwnedCloth(
    fabric="ink", kind=Kind.RECTANGLE, across=Fraction(21), along=Fraction(18), count=2, washed=True, place="drawer"
)
CORNERS = ((0, 0), (20, 0), (20, 15), (8, 15), (0, 9))
ODD = OwnedCloth(
    fabric="ink",
    kind=Kind.ODD,
    across=Fraction(20),
    along=Fraction(15),
    outline=tuple((Fraction(x), Fraction(y)) for x, y in CORNERS),
    washed=True,
)

PROJECT = """
[project]
name = "{name}"
unit = "{unit}"
[[piece]]
name = "patch"
fabric = "ink"
cut = [{across}, {along}]
count = {count}
[fabric.ink]
width = "43 in"
wash = true
shrinks = ["3 %", "2 %"]
on_hand = [{cloths}]
"""


@dataclass(frozen=True, slots=True)
class Wish:
    """A project of one kind of patch."""

    name: str = "patches"
    across: int = 6
    along: int = 7
    count: int = 10
    unit: str = "in"


def clock() -> datetime:
    """A moment that stands still."""
    return datetime(2026, 3, 1, 12, tzinfo=UTC)


def environment() -> dict[str, str]:
    """What a program of its own needs to find our code and this module."""
    return {**os.environ, "PYTHONPATH": os.pathsep.join(str(ROOT / name) for name in ("solver", "cli", "tests"))}


def opened(path: Path) -> Ledger:
    """The ledger at `path`."""
    return Ledger(path, clock=clock)


def stocked(path: Path) -> Ledger:
    """A new ledger with one fabric and four cloths."""
    ledger = opened(path)
    ledger.take_in([INK], [BOLT, QUARTER, ODD])
    return ledger


def planned(ledger: Ledger, wish: Wish) -> tuple[Plan, dict[str, Any]]:
    """A quick plan of what the ledger holds, and its document with the ledger's ids in it."""
    cloths = ledger.cloths()
    lines = ", ".join(_as_project(cloth) for cloth in cloths)
    text = PROJECT.format(**asdict(wish), cloths=lines)
    plan = _plan(text)
    document = json.loads(dumps(plan_document(plan)), parse_float=Fraction)
    ids = [cloth.id for cloth in cloths for _ in range(cloth.count)]
    for cut in document["fabrics"][0]["cloths"]:
        cut["ledger"] = ids[int(cut["id"].split()[-1]) - 1] if cut["source"] == "on hand" else None
    return plan, document


@lru_cache(maxsize=256)
def _plan(text: str) -> Plan:
    return make_plan(parse_project(text, "some.toml"), effort=Effort.QUICK)


def _as_project(cloth: OwnedCloth) -> str:
    """A cloth as a project file lists it."""
    parts = [f"count = {cloth.count}", f"washed = {str(cloth.washed).lower()}"]
    if cloth.outline is not None:
        parts.append(f"outline = {_corners(cloth.outline)}")
    else:
        parts.append(f'length = "{_length(cloth.along)}"')
    if cloth.kind is Kind.RECTANGLE:
        parts += [f'width = "{_length(cloth.across)}"', f"selvages = {cloth.selvages_to_lose}"]
    if cloth.flaws:
        parts.append(f"flaws = [{', '.join(f'{{ outline = {_corners(flaw)} }}' for flaw in cloth.flaws)}]")
    return f"{{ {', '.join(parts)} }}"


def _corners(polygon: Polygon) -> str:
    corners = [f'["{_length(x)}", "{_length(y)}"]' for x, y in polygon]
    return f"[{', '.join(corners)}]"


def _length(length: Fraction) -> str:
    whole, part = divmod(length, 1)
    return f"{whole} {part} in" if part and whole else f"{length} in"
