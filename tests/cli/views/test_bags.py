"""What goes into each bag, and its labels."""

from __future__ import annotations

from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand_cli.views.bags import bag_lines, bag_pages
from ellwand_cli.views.paper import usual_paper

TEXT = """
[project]
name = "Siskin pouch"
copies = {copies}
[[piece]]
name = "pocket"
fabric = "oat"
cut = [8, 9]
count = 2
[[piece]]
name = "strap"
fabric = "oat"
cut = [30, 2]
[fabric.oat]
width = 43
price = 10
"""


def pouches(copies: int) -> Plan:
    """A plan of so many pouches; invented."""
    return make_plan(parse_project(TEXT.format(copies=copies), "siskin.toml"), effort=Effort.QUICK)


def test_a_bag_holds_one_kit() -> None:
    """Tests that the counts are one kit's, with its share of the cost."""
    plan = pouches(8)
    (answer,) = plan.fabrics
    assert answer.cost is not None

    assert bag_lines(plan) == (
        f"In the bag of each of 8 kits, whose cloth costs {answer.cost / 8:.2f}:",
        "- oat: 2 × pocket (8 × 9 in); 1 × strap (2 × 30 in).",
    )


def test_a_single_quilt_has_no_bags() -> None:
    """Tests that nothing is told of bags where there is one copy."""
    plan = pouches(1)

    assert bag_lines(plan) == ()
    assert bag_pages(plan, usual_paper("in")) == ()


def test_a_label_for_every_bag() -> None:
    """Tests that 20 kits take three pages of eight labels, and 100 one page to print 13 times."""
    few, many = bag_pages(pouches(20), usual_paper("in")), bag_pages(pouches(100), usual_paper("in"))

    assert [len(page.parts) for page in few] == [8, 8, 4]
    assert [len(page.parts) for page in many] == [8]
    assert many[0].facts.endswith("Print this page 13 times.")
