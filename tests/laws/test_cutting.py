"""Whoever follows the cut list word by word has exactly the pieces of the plan on the mat."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings

from ellwand.model import FabricPlan, Layout, Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import read_project
from ellwand_cli.views.cutlist import cut_list
from laws.mat import Mat
from laws.patches import PATCHES, Patches

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


def follow(plan: Plan, answer: FabricPlan, layout: Layout) -> Mat:
    """The mat when one cloth's list has been followed; lengths are in the project's unit."""
    unit = plan.project.notation.in_units
    mat = Mat(unit(layout.cloth.width), unit(layout.cloth.length))
    mat.follow(cut_list(plan, answer, layout))
    return mat


def check(plan: Plan) -> int:
    """See that every cut list of `plan` yields its pieces, with as many settings and cuts as it says; how many did."""
    followed = 0
    for answer in plan.fabrics:
        for layout in answer.layouts:
            if layout.tree is None:
                continue
            mat = follow(plan, answer, layout)
            unit = plan.project.notation.in_units
            placed = Counter((one.piece, unit(one.across), unit(one.along)) for one in layout.placed)
            assert mat.pieces == placed
            assert (mat.settings, mat.cuts) == (mat.claim or (0, 0))
            followed += 1
    return followed


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_cut_lists_yield_their_pieces(path: Path) -> None:
    """Every list of every example."""
    plan = make_plan(read_project(path), effort=Effort.QUICK)

    assert check(plan) == sum(len(answer.layouts) for answer in plan.fabrics)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(patches=PATCHES)
def test_any_projects_cut_lists_yield_their_pieces(patches: Patches) -> None:
    """300 projects made at random, with cloth on hand, washing, three stages or any."""
    plan = make_plan(patches.project(), effort=Effort.QUICK)

    assert check(plan) == sum(len(answer.layouts) for answer in plan.fabrics)


def test_the_mat_finds_a_wrong_sum() -> None:
    """A list that takes more than there is, or says what is not left, is not followed."""
    mat = Mat(Fraction(42), Fraction(9))

    with pytest.raises(AssertionError, match="do not come off"):
        mat.follow(("1. Set the ruler to 5 in.", "   a. Cut 2 a (42 × 5 in) off the cloth: 2 × 5 = 10 of 9 in."))
    with pytest.raises(AssertionError):
        mat.follow(("1. Set the ruler to 4 in.", "   a. Cut 2 a (42 × 4 in) off the cloth: 2 × 4 = 8 of 9 in, 2 left."))
