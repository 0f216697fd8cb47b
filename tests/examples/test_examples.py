"""Every example, end to end: what is needed and bought, what is proven, and the judge's verdict on the document."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from ellwand.materials import plan_sizes
from ellwand.model import FabricPlan, Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import read_project
from ellwand.record import plan_document
from ellwand.verdict import judge_plan

_EXAMPLES = Path(__file__).parents[2] / "examples"
_CM = Fraction(50, 127)  # inches
_NAMES = ("copper-finch", "harbour-lanterns", "thistle-gate", "tidewater-runner", "wren-mats")

# What was needed when each was first planned (of thistle-gate in centimetres): never more, and less is welcome.
_NEEDED = {
    "copper-finch": {"dusk": "32", "copper": "16", "moss": "17.25", "oat": "41.5", "batting": "24.5", "film": "56"},
    "harbour-lanterns": {"ink": "9.25", "brass": "17.5", "slate": "0", "oat": "87.5", "batting": "19.75"},
    "thistle-gate": {"linen": "46", "heather": "35.7", "moss": "58.8", "hedgerow": "139.1", "flannel": "149.3"},
    "tidewater-runner": {"indigo": "0", "sand": "0", "rust": "8.5", "sailcloth": "0", "batting": "0"},
    "wren-mats": {"moss": "315", "rust": "100.5", "oat": "273", "batting": "144"},
}
_PROVEN = {
    "copper-finch": {"copper", "oat", "stabiliser", "film"},
    "harbour-lanterns": {"ink", "slate", "oat", "batting", "stabiliser"},
    "thistle-gate": {"linen", "hedgerow", "flannel", "wadding", "cut-away"},
    "tidewater-runner": {"indigo", "sand", "sailcloth", "batting"},
    "wren-mats": {"oat"},
}

# Yards bought for each size of copper-finch when its table was first made, at the same quick look: never more.
_BOUGHT = ("dusk", "copper", "moss", "oat", "batting", "stabiliser", "film")
_YARDS = {
    "4 × 4": ("1.125", "0.5", "0.5", "1", "0.75", "6", "2"),
    "5 × 7": ("1", "0.5", "0.5", "1.125", "0.75", "4", "1"),
    "6 × 10": ("1.375", "0.5", "0.625", "1.25", "0.75", "7", "2"),
    "7 × 12": ("1.75", "0.625", "0.625", "2.625", "1", "8", "2"),
    "8 × 8": ("2", "0.75", "0.75", "2.875", "1.25", "6", "2"),
}


@cache
def _plan(name: str) -> Plan:
    project = read_project(_EXAMPLES / f"{name}.toml")
    return make_plan(project, effort=Effort.CAREFUL if project.copies == 1 else Effort.QUICK)


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
    assert [text.split(":")[0] for text in _plan(name).warnings] == (["backing"] if name == "harbour-lanterns" else [])


def test_five_hoop_sizes_are_sound_and_buy_no_more_than_they_did() -> None:
    """Every size of the design is judged, and needs no more yards than when its table was first made."""
    sizes = plan_sizes(read_project(_EXAMPLES / "copper-finch.toml"), effort=Effort.QUICK).sizes

    assert [size.project.size for size in sizes] == list(_YARDS)
    for size in sizes:
        assert judge_plan(plan_document(size.plan)) == ()
        assert tuple(answer.fabric.id for answer in size.plan.fabrics) == _BOUGHT
        for answer, most in zip(size.plan.fabrics, _YARDS[size.project.size], strict=True):
            assert size.bought(answer).yards <= 36 * Fraction(most), (size.project.size, answer.fabric.id)


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
