"""Sashing, cornerstones, bindings and sleeves from the file to a plan that the judge of documents accepts."""

from __future__ import annotations

import pytest

from ellwand.model import FabricPlan, Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import sound_document

_HEAD = """
[project]
name = "Planned (invented)"
copies = {copies}
[quilt]
across = 4
down = 5
[[block]]
name = "block"
finished = [8, 8]
seam = "3/8 in"
[[block.piece]]
name = "ground"
fabric = "ink"
margin = 1
"""
_CLOTH = """
[fabric.ink]
width = 43
{keys}
"""
_FEATURES = {
    "sashing inside, running through": '[sashing]\nwidth = 2\nfabric = "ink"\n',
    "sashing outside, running through": '[sashing]\nwidth = 2\nfabric = "ink"\noutside = true\n',
    "sashing inside with cornerstones": '[sashing]\nwidth = 2\nfabric = "ink"\ncornerstones = "ink"\n',
    "sashing outside with cornerstones": '[sashing]\nwidth = 2\nfabric = "ink"\ncornerstones = "ink"\noutside = true\n',
    "a border with cornerstones": '[[border]]\nname = "rim"\nwidth = 4\nfabric = "ink"\ncorners = "cornerstones"\n',
    "a long sleeve": '[[border]]\nname = "rim"\nwidth = 5\nfabric = "ink"\n[sleeve]\nfabric = "ink"\n',
    "a lengthwise binding": '[binding]\nfabric = "ink"\ngrain = "lengthwise"\n',
    "a bias binding": '[binding]\nfabric = "ink"\ngrain = "bias"\n',
    "a binding of any grain": '[binding]\nfabric = "ink"\ngrain = "any"\n',
}


def _plan(tables: str, *, keys: str = "", copies: int = 1) -> Plan:
    project = parse_project(_HEAD.format(copies=copies) + tables + _CLOTH.format(keys=keys), "planned.toml")
    return make_plan(project, effort=Effort.QUICK)


def _ink(plan: Plan) -> FabricPlan:
    (ink,) = plan.fabrics
    return ink


@pytest.mark.parametrize("way", ["any", "one-way"])
@pytest.mark.parametrize("feature", _FEATURES)
def test_the_judge_accepts(feature: str, way: str) -> None:
    """Every kind of sashing, corner, binding and sleeve, on cloth with a way and without, two copies of it."""
    plan = _plan(_FEATURES[feature], keys=f'way = "{way}"', copies=2)
    document = sound_document(plan)
    assert document["fabrics"][0]["id"] == "ink"
    assert _ink(plan).needed > 0


def _edging(tables: str, keys: str = "") -> FabricPlan:
    """The answer for the cloth of `tables`, where the blocks are of another."""
    head = _HEAD.format(copies=1).replace('fabric = "ink"', 'fabric = "oat"')
    project = parse_project(f"{head}{tables}{_CLOTH.format(keys=keys)}[fabric.oat]\nwidth = 43\n", "planned.toml")
    return next(answer for answer in make_plan(project, effort=Effort.QUICK).fabrics if answer.fabric.id == "ink")


def test_a_lengthwise_binding_beside_lengthwise_borders_is_free() -> None:
    """Side strips of a border, 40 3/4 in long, leave room beside them: the binding buys no cloth of its own."""
    border = '[[border]]\nname = "rim"\nwidth = 4\nfabric = "ink"\ncorners = "butted"\ncut = "lengthwise"\n'
    binding = '[binding]\nfabric = "ink"\ngrain = "lengthwise"\n'
    # derived: 4 strips of 4 5/8 are 18 1/2 of 42 across, the longest 40 3/4 or 40 1/2; a run of 2·(40 1/2 + 48 1/2)
    # + 14 = 192 in takes 5 strips of 40 1/2 beside them
    assert _edging(border).bought == _edging(border + binding).bought


def test_any_grain_uses_up_what_crosswise_strips_cannot() -> None:
    """A leftover 10 in wide gives no strip of 12 in across, and four of 60 in along it."""
    leftover = 'on_hand = [ { width = "10 in", length = "60 in" } ]'
    crosswise, any_way = (
        _edging(f'[binding]\nfabric = "ink"\ngrain = "{grain}"\n', leftover) for grain in ("crosswise", "any")
    )
    # derived: 2·(32 1/2 + 40 1/2) + 14 = 160 in: three strips of 55 in; or 4 across 42 in, 10 in long
    assert any_way.needed == 0
    assert [(str(piece.along), piece.count) for piece in any_way.pieces] == [("55", 3)]
    assert crosswise.needed == 10


@pytest.mark.parametrize("keys", ["", 'on_hand = [ { length = "1 yd" } ]'])
def test_any_grain_buys_no_more_than_one_grain(keys: str) -> None:
    """What strips from selvage to selvage or along it can do, any grain can."""
    bought = {
        grain: _ink(_plan(f'[binding]\nfabric = "ink"\ngrain = "{grain}"\n', keys=keys)).bought
        for grain in ("crosswise", "lengthwise", "any")
    }
    assert bought["any"] <= min(bought.values())
