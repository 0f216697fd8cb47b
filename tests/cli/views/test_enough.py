"""The first lines: enough or short, one line a fabric."""

from __future__ import annotations

import pytest

from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.supposing import suppose
from ellwand_cli.views.enough import enough_lines
from ellwand_cli.views.report import plan_report
from ellwand_cli.views.words import one_cloth_line

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


LOTS = """
[project]
name = "Squares"
[[piece]]
name = "patch"
fabric = "ink"
cut = [10, 10]
count = {count}
[fabric.ink]
width = 40
selvage = 0
square_up = 0
sold_by = "1/4 yd"
same_cloth = true
on_hand = [{{ length = 10, square_up = 0, lot = "A" }}, {{ length = 10, square_up = 0, lot = "A" }}, {{ length = 20 }}]
"""


@pytest.mark.parametrize(
    ("text", "line", "cloth"),
    [
        (
            LOTS.format(count=8).replace("{ length = 20 }", "{ length = 5 }"),
            "ink: enough. Left: nothing worth keeping.",
            "all of one dye lot, A: ink 1 and ink 2",
        ),
        (
            LOTS.format(count=4).replace(', lot = "A"', ""),
            "ink: enough. Left: nothing worth keeping.",
            "all of one cloth, ink 1",
        ),
        (
            LOTS.format(count=9),
            "ink: all of new cloth, in one length: no length or dye lot on hand holds it all; buy 1 yd, of which 30 in "
            "is needed.",
            "all of new cloth, in one length: no length or dye lot on hand holds it all",
        ),
        (
            LOTS.format(count=9).replace("same_cloth", "buy = false\nsame_cloth"),
            "ink: short: no length or dye lot on hand holds it all. No place was found for 9 × patch; the smallest "
            "cloth found that would do has 30 × 30 in to use.",
            "no length or dye lot on hand holds it all",
        ),
        (
            LOTS.format(count=9).partition("on_hand")[0],
            "ink: none on hand: buy 1 yd, of which 30 in is needed.",
            "all of new cloth, in one length",
        ),
    ],
)
def test_all_of_one_cloth(text: str, line: str, cloth: str) -> None:
    """From which cloth all comes, or why it is bought although there is some."""
    plan = make_plan(parse_project(text, "lots.toml"), effort=Effort.QUICK)

    assert enough_lines(plan) == (line,)
    assert one_cloth_line(plan.fabrics[0]) == cloth
    assert cloth in plan_report(plan).replace("\n           ", " ")
