"""Tests of the line that tells what became of wishes."""

from __future__ import annotations

import pytest

from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand_cli.views.pattern import materials_page
from ellwand_cli.views.report import plan_report
from ellwand_cli.views.wishes import wish_line

TEXT = """
[project]
name = "Spare"
[[piece]]
name = "pocket"
fabric = "oat"
cut = [10, 10]
count = 7
{piece}
[fabric.oat]
width = 43
{fabric}
"""


def planned(piece: str, fabric: str) -> Plan:
    """A quick plan of seven squares, four of which lie side by side."""
    return make_plan(parse_project(TEXT.format(piece=piece, fabric=fabric), "spare.toml"), effort=Effort.QUICK)


@pytest.mark.parametrize(
    ("piece", "fabric", "line"),
    [
        ("", "", ""),
        ("spare = 1", "", "1 spare pocket"),
        ("spare = 2", "", "1 of 2 spare pocket, no room was found for more"),
        (
            "spare = 3",
            'sold_by = "31 in"',
            "3 spare pocket; without spare pieces 20 in would be needed, and no less bought",
        ),
        ("", "keep_back = [10, 10]", "10 × 10 in kept back"),
        ("", "keep_back = [20, 20]", "no 20 × 20 in could be kept back"),
        ("", 'spare = "10 %"', "10 % more than needed is bought"),
        (
            "",
            'spare = "10 %"\non_hand = [{ length = 20, width = 40 }]',
            "10 % to spare, which the cloth on hand leaves",
        ),
        (
            "",
            'spare = "20 %"\non_hand = [{ length = 20, width = 40 }]',
            "of 20 % to spare the cloth on hand leaves 14.2 %",  # derived: one square of eight, over seven
        ),
        ("spare = 1", "buy = false", "none of 1 spare pocket, no room was found for more"),
    ],
)
def test_what_became_of_wishes_is_one_line(piece: str, fabric: str, line: str) -> None:
    """Tests each thing that there is to tell, in the report and on the page of materials too."""
    plan = planned(piece, fabric)
    (answer,) = plan.fabrics

    assert wish_line(answer, plan.project.notation) == line
    assert ("  spare " in plan_report(plan)) == bool(line)
    assert ("to spare: " in materials_page(plan)) == bool(line)
