"""Every example, end to end: what is needed and bought, what is proven, and the judge's verdict on the document."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from ellwand.model import FabricPlan, Plan
from ellwand.plan import make_plan
from ellwand.project.read import read_project
from ellwand.record import plan_document
from ellwand.verdict import judge_plan

_EXAMPLES = Path(__file__).parents[2] / "examples"
_CM = Fraction(50, 127)  # inches
_NAMES = ("harbour-lanterns", "thistle-gate", "tidewater-runner")

# What was needed when each was first planned (of thistle-gate in centimetres): never more, and less is welcome.
_NEEDED = {
    "harbour-lanterns": {"ink": "9.25", "brass": "17.5", "slate": "0", "oat": "87.5", "batting": "19.75"},
    "thistle-gate": {"linen": "46", "heather": "35.7", "moss": "58.8", "hedgerow": "139.1", "flannel": "149.3"},
    "tidewater-runner": {"indigo": "0", "sand": "0", "rust": "8.5", "sailcloth": "0", "batting": "0"},
}
_PROVEN = {
    "harbour-lanterns": {"ink", "slate", "oat", "batting", "stabiliser"},
    "thistle-gate": {"linen", "hedgerow", "flannel", "wadding", "cut-away"},
    "tidewater-runner": {"indigo", "sand", "sailcloth", "batting"},
}


@cache
def _plan(name: str) -> Plan:
    return make_plan(read_project(_EXAMPLES / f"{name}.toml"))


def _fabrics(name: str) -> dict[str, FabricPlan]:
    return {fabric.fabric.id: fabric for fabric in _plan(name).fabrics}


def test_every_example_is_held() -> None:
    """No example is left out here."""
    assert sorted(path.stem for path in _EXAMPLES.glob("*.toml")) == sorted(_NAMES)


@pytest.mark.parametrize("name", _NAMES)
def test_the_judge_finds_no_fault(name: str) -> None:
    """The document of each plan is sound."""
    assert judge_plan(plan_document(_plan(name))) == ()


@pytest.mark.parametrize("name", _NAMES)
def test_no_more_is_needed_than_was(name: str) -> None:
    """Each fabric needs no more than it did, and what was proven is."""
    unit = _CM if _plan(name).project.unit == "cm" else 1
    fabrics = _fabrics(name)

    for fabric, needed in _NEEDED[name].items():
        assert fabrics[fabric].needed <= Fraction(needed) * unit, fabric
    assert {fabric for fabric, answer in fabrics.items() if answer.proven} >= _PROVEN[name]


@pytest.mark.parametrize("name", _NAMES)
def test_an_example_warns_of_nothing_but_what_it_shows(name: str) -> None:
    """Warnings are for the user's own quilts; only the wall hanging shows one, of a backing just too wide."""
    assert [text.split(":")[0] for text in _plan(name).warnings] == (["backing"] if name == _NAMES[0] else [])


def test_the_lap_quilts_print_is_upright() -> None:
    """On the one-way print no piece is turned, and the sides run along the selvage."""
    hedgerow = _fabrics("thistle-gate")["hedgerow"]
    placed = [placed for layout in hedgerow.layouts for placed in layout.placed]

    assert not any(piece.turned for piece in placed)
    sides = [piece for piece in placed if piece.piece in ("outer/left", "outer/right")]
    assert len(sides) == 2
    assert all(piece.along > piece.across for piece in sides)


def test_the_runner_buys_only_for_its_binding() -> None:
    """Patches come from what is on hand; one fabric may be bought, a quarter of a yard of it."""
    bought = {fabric: answer.bought for fabric, answer in _fabrics("tidewater-runner").items() if answer.bought}

    assert bought == {"rust": 9}
