"""The judge of plans, on mixes: who gives what, and what is bought of their fabrics together."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import dumps, plan_document
from ellwand.verdict import judge_plan

FILE = """
[project]
name = "Squares"
copies = 2
[[piece]]
name = "patch"
fabric = "dark"
cut = [10, 10]
count = 3
[[piece]]
name = "flap"
fabric = "ink"
cut = [5, 5]
[fabric.dark]
any_of = ["ink", "navy"]
[fabric.ink]
width = 40
selvage = 0
buy = false
on_hand = [{ width = 20, length = 15 }]
[fabric.navy]
width = 40
selvage = 0
price = 12
"""


def document() -> Any:
    """An honest plan in which ink gives one of three, and navy two."""
    text = dumps(plan_document(make_plan(parse_project(FILE, "mix.toml"), effort=Effort.QUICK)))
    return json.loads(text, parse_float=Fraction)


def test_an_honest_plan_of_mixes_is_sound() -> None:
    """Shares, sums and proof are as they are said to be."""
    assert judge_plan(document()) == ()
    assert [one["fabric"] for one in document()["mixed"]["mixes"][0]["taken"]] == ["ink", "navy"]


LIES: dict[str, tuple[list[Any], Any, tuple[str, ...]]] = {
    "foreign": (
        ["mixes", 0, "any_of"],
        ["ink", "oat"],
        (
            'Mix "dark" names "oat", which is not among the fabrics of the mixes.',
            'Mix "dark": "patch" of "navy", which is none of its fabrics.',
        ),
    ),
    "share": (
        ["mixes", 0, "taken", 0, "count"],
        2,
        ('Mix "dark": "patch" of "ink" is 2 of each copy, and the pieces have it otherwise.',),
    ),
    "nothing": (
        ["mixes", 0, "taken"],
        [{"name": "gusset", "fabric": "ink", "count": 1, "blocks": False}],
        ('Mix "dark": "gusset" of "ink" has no piece in the plan.',),
    ),
    "proven": (["proven"], "other", ("The mixes' proven is not what least and bought say.",)),
    "cheaper": (["bought"], Fraction(1, 2), ("The fabrics of the mixes come to 4.5 together, not 0.5.",)),
}


@pytest.mark.parametrize("lie", LIES)
def test_lies_about_mixes(lie: str) -> None:
    """Each is told in its own words."""
    plan = document()
    path, value, told = LIES[lie]
    here = plan["mixed"]
    for key in path[:-1]:
        here = here[key]
    here[path[-1]] = not here["proven"] if value == "other" else value

    assert set(told) <= set(judge_plan(plan))


def test_less_than_the_least_is_told() -> None:
    """A least above what is bought is no bound."""
    plan = document()
    plan["mixed"]["least"] = plan["mixed"]["bought"] + 1

    assert "The fabrics of the mixes are said to come to less than their least." in judge_plan(plan)
