"""The first lines: enough or short, one line a fabric."""

from __future__ import annotations

import pytest

from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.supposing import suppose
from ellwand_cli.views.enough import enough_lines
from ellwand_cli.views.report import plan_report

BAG = """
[project]
name = "Bag"
[[piece]]
name = "pocket"
fabric = "oat"
cut = [20, 10]
count = 2
grain = "lengthwise"
[fabric.oat]
width = 43
square_up = 0
"""


@pytest.mark.parametrize(
    ("fabric", "line"),
    [
        ("", "none on hand: buy 3/8 yd, of which 10 in is needed."),
        ("on_hand = [{ length = 90 }]", "enough. Left: 80 in of oat 1."),
        ("on_hand = [{ length = 12 }]", "enough. Left: nothing worth keeping."),
        (
            "on_hand = [{ length = 12 }, { length = 9, width = 9, count = 2 }]",
            "enough. Left: 2 cloths not cut into.",
        ),
        ("on_hand = [{ length = 18, width = 42 }]", "enough. Left: an offcut of 42 × 8 in."),
        ("on_hand = [{ length = 10, width = 20 }]", "short by 10 in: buy 3/8 yd."),
        (
            "buy = false\non_hand = [{ length = 10, width = 20 }]",
            "short. No place was found for 1 × pocket; the smallest cloth found that would do has 20 × 10 in to use.",
        ),
        (
            'buy = false\nwash = true\nshrinks = ["5 %", "5 %"]',
            "short. No place was found for 2 × pocket; the smallest cloth found that would do has "
            "20 × 20 in, washed, to use.",
        ),
    ],
)
def test_the_line_of_a_fabric(fabric: str, line: str) -> None:
    """Each answer in its words, and first in the report."""
    plan = make_plan(parse_project(BAG + fabric, "bag.toml"), effort=Effort.QUICK)

    assert enough_lines(plan) == (f"oat: {line}",)
    assert plan_report(plan).startswith(f"oat: {line}\n\nBag\n")


def test_cloth_that_is_left_out_is_not_called_short() -> None:
    """With --as-new there may be plenty in the cupboard."""
    plan = make_plan(parse_project(f"{BAG}on_hand = [{{ length = 90 }}]", "bag.toml"), as_new=True)

    assert enough_lines(plan) == ("oat: as new: buy 3/8 yd, of which 10 in is needed.",)


@pytest.mark.parametrize(
    ("wishes", "said"),
    [
        (["oat = 1 yd"], "oat (what if: 1 yd on hand): enough. Left: 26 in of oat 1."),
        (["oat = 9", "oat = 8 in"], "oat (what if: 1/4 yd and 8 in on hand): short by 10 in: buy 3/8 yd."),
        (["oat = 0"], "oat (what if: none on hand): none on hand: buy 3/8 yd, of which 10 in is needed."),
    ],
)
def test_what_is_supposed_is_said(wishes: list[str], said: str) -> None:
    """The answer to a what-if says what was supposed, in place of the 90 in of the file."""
    project = parse_project(f"{BAG}on_hand = [{{ length = 90 }}]", "bag.toml")

    plan = make_plan(suppose(project, wishes, "--what-if"), effort=Effort.QUICK)

    assert enough_lines(plan) == (said,)


def test_a_missing_cloth_with_a_print_begins_with_a_repeat() -> None:
    """Pieces that match lie on it by the repeat, so the size alone would not do."""
    text = BAG.replace("count = 2", "count = 2\nphase = [0, 0]") + "repeat = [24, 24]\nbuy = false\n"

    (line,) = enough_lines(make_plan(parse_project(text, "bag.toml"), effort=Effort.QUICK))

    # Derived: a piece of 20 × 10 at every 24 in across, or along.
    assert "has 20 × 34 in to use, and begins where a repeat of the print does." in line
