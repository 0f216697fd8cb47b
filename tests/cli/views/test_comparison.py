"""A comparison in words and as a document: which way its edges go, and lengths foreign to the unit."""

from __future__ import annotations

import json
import re
from fractions import Fraction

import pytest

from ellwand.compare import Comparison, compare_values
from ellwand.packing.problem import Effort
from ellwand.project.vary import parse_varied, spelt_key
from ellwand.record import dumps
from ellwand.slack import NO_SLACK, Slack
from ellwand_cli.views.comparison import comparison_document, comparison_text

# A border of ink round blocks of oat, its strips cut along the selvage. Invented.
FRAMED = """
[project]
name = "framed"
[quilt]
across = 2
down = 2
[[block]]
name = "top"
finished = [6, 6]
[[block.piece]]
name = "ground"
fabric = "oat"
[[border]]
name = "edge"
fabric = "ink"
width = 2
corners = "butted"
cut = "lengthwise"
[fabric.ink]
width = 43
[fabric.oat]
width = 43
"""


def along(key: str, *values: int, slack: Slack = NO_SLACK) -> Comparison:
    """A quick comparison of the framed quilt."""
    varied = parse_varied(FRAMED, "framed.toml", spelt_key(key))
    return compare_values(varied, [Fraction(value) for value in values], slack=slack, effort=Effort.QUICK)


@pytest.mark.parametrize(
    ("key", "values", "far"),
    [
        ("fabric.ink.width", (5, 12), ["down to 11 in", "down to 8 1/2 in", "down to 6 in", "down to 5 in"]),
        ("border.edge.width", (2, 9), ["up to 2 1/2 in", "up to 4 3/4 in", "up to 7 in", "up to 9 in"]),
    ],
)
def test_how_far_an_amount_does(key: str, values: tuple[int, int], far: list[str]) -> None:
    """Up to a width, or down to it where wider cloth means less of it; so the range's end.

    Derived: strips of 2 1/2 in lie four, three or two beside each other on 10, 7 1/2 or 5 in between the selvages; the
    longest is 12 1/2 in and twice the width, and half an inch is squared off 1/2, 5/8, 3/4 yd.
    """
    _, _, edges = comparison_text(along(key, *values)).partition("The last ")
    lines = [line for line in edges.splitlines() if line.startswith("ink")]

    assert [re.split(r"  +", line)[2] for line in lines] == far


def test_slack_in_a_foreign_unit() -> None:
    """5 mm do not end as inches: up at the ninth place."""
    five = Fraction(5) / Fraction("25.4")
    comparison = along("border.edge.width", 2, 3, slack=Slack(across=five, along=2 * five))

    document = json.loads(dumps(comparison_document(comparison)), parse_float=Fraction)

    assert document["slack"] == {"across": Fraction("0.196850394"), "along": Fraction("0.393700788")}
