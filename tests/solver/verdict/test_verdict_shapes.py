"""The judge of plans on cloth with an outline or flaws: touching is allowed, a mark further is told."""

from __future__ import annotations

import json
from fractions import Fraction
from random import Random
from typing import Any

import pytest
import shapely

from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import dumps, plan_document
from ellwand.verdict import judge_plan
from ellwand.verdict.shapes import area_of, free_area, wrong_shape
from ellwand.verdict.tables import Cloth, Placed, Plan, Rectangle, Shape

# A square of 12 in of which a corner is gone beyond the line from (12, 4) to (4, 12), with a hole at (2, 2); 20 leaves
# need 80 sq in, and a bound of 0 is all that is claimed.
PROJECT = """
[project]
name = "Remnant"
layout = "free"
[[piece]]
name = "leaf"
fabric = "moss"
cut = [2, 2]
count = 20
[fabric.moss]
width = 43
[[fabric.moss.on_hand]]
outline = [[0, 0], [12, 0], [12, 4], [4, 12], [0, 12]]
flaws = [{ x = 2, y = 2, across = 1, along = 1 }]
"""
CLOTH = ("fabrics", 0, "cloths", 0)


def honest() -> Any:
    """A plan of the project above, as it is written."""
    plan = make_plan(parse_project(PROJECT, "r.toml"), effort=Effort.QUICK)
    return json.loads(dumps(plan_document(plan)), parse_float=Fraction)


def changed(value: object, *path: str | int) -> Any:
    """That plan with another value somewhere."""
    document = honest()
    parent = document
    for key in path[:-1]:
        parent = parent[key]
    parent[path[-1]] = value
    return document


def test_an_honest_plan_is_sound() -> None:
    """All leaves go on the remnant, and nothing is wrong."""
    document = honest()

    assert judge_plan(document) == ()
    assert document["fabrics"][0]["needed"] == 0


LIES: dict[str, tuple[tuple[object, ...], str]] = {
    "a larger hole": (
        ([[[0, 0], [3, 0], [3, 3], [0, 3]]], *CLOTH, "flaws"),
        'Cloth "moss 1": piece "leaf" at 0 in, 0 in lies on a flaw.',
    ),
    "a smaller outline": (
        ([[0, 0], [12, 0], [0, 12]], *CLOTH, "outline"),
        "leaves the outline.",
    ),
    "an outline that crosses itself": (
        ([[0, 0], [12, 12], [12, 0], [0, 12]], *CLOTH, "outline"),
        'Cloth "moss 1": edges of its outline or of a flaw cross.',
    ),
    "an outline beyond the cloth": (
        ([[0, 0], [13, 0], [13, 12], [0, 12]], *CLOTH, "outline"),
        'Cloth "moss 1": its outline reaches 13 in across and 12 in along, not 12 in by 12 in.',
    ),
    "an outline on a length": ((False, *CLOTH, "whole"), 'Cloth "moss 1": cloth with an outline is taken whole.'),
    "an outline of cloth to buy": (
        ("buy", *CLOTH, "source"),
        'Cloth "moss 1": cloth to buy has neither an outline nor flaws.',
    ),
    "too much taken": ((144, "fabrics", 0, "taken"), "112 square in of cloth are taken, not 144 square in."),
    "a proof without it": (
        ([], "fabrics", 0, "proof", "odd"),
        'Fabric "moss": its proof leaves out what can be used of cloth "moss 1".',
    ),
    "a proof with less of it": (
        ([[96, 96, 7000]], "fabrics", 0, "proof", "odd"),
        'Fabric "moss": its proof leaves out what can be used of cloth "moss 1".',
    ),
    "a proof of other cloth": (
        ([[95, 96, 9000]], "fabrics", 0, "proof", "odd"),
        'Fabric "moss": its proof leaves out what can be used of cloth "moss 1".',
    ),
    "cuts": (
        ([{"step": 1, "axis": "across", "at": 2, "from": [0, 12], "depth": 1}], *CLOTH, "cuts"),
        'Cloth "moss 1": a free layout has no cuts.',
    ),
}


@pytest.mark.parametrize("name", LIES)
def test_a_lie_about_a_shape_is_told(name: str) -> None:
    """Each kind of dishonesty about an odd cloth is among the faults, in its own words."""
    (value, *path), sentence = LIES[name]

    faults = judge_plan(changed(value, *path))  # type: ignore[arg-type]

    assert any(sentence in fault for fault in faults), faults


def test_cuts_are_refused_in_a_rotary_plan_too() -> None:
    """A plan that asks for rotary layouts is laid freely on this cloth, without any cuts."""
    document = changed("rotary", "fabrics", 0, "layout")

    assert judge_plan(document) == ()
    document["fabrics"][0]["cloths"][0]["cuts"] = [{"step": 1, "axis": "across", "at": 2, "from": [0, 12], "depth": 1}]
    assert judge_plan(document) == ('Cloth "moss 1": a free layout has no cuts.',)


def test_the_area_of_odd_cloth_proves_a_bound() -> None:
    """120 leaves of 4 sq in on 111 sq in leave 369 for cloth 42 in wide: 8.8 in, so 10, a sum of leaves; not 12."""
    text = PROJECT.replace("count = 20", "count = 120")
    document = plan_document(make_plan(parse_project(text, "r.toml"), effort=Effort.QUICK))
    (fabric,) = document["fabrics"]

    assert fabric["bound"] == 10
    assert judge_plan(document) == ()
    fabric["proof"]["odd"][0][2] = 0
    assert judge_plan(document) == ('Fabric "moss": its proof leaves out what can be used of cloth "moss 1".',)
    fabric["proof"]["odd"][0][2] = 96 * 96
    assert "its proof does not show that 10 in at least are needed" in judge_plan(document)[0]


def cloth_of(outline: Shape | None, flaws: tuple[Shape, ...], at: Rectangle) -> Cloth:
    """A cloth with one piece on it."""
    placed = (Placed(piece="leaf", turned=False, at=at),)
    side = Fraction(20)
    return Cloth(
        id="moss 1",
        buy=False,
        across=20,
        along=20,
        used=side,
        whole=True,
        washed=True,
        width=side,
        length=side,
        measured=(side, side),
        squaring=Fraction(0),
        lot="",
        placed=placed,
        cuts=(),
        offcuts=(),
        outline=outline,
        flaws=flaws,
    )


def faults_of(outline: Shape | None, flaws: tuple[Shape, ...], at: Rectangle) -> list[str]:
    """What is wrong with where a piece lies, sizes of the cloth left aside."""
    plan = Plan(unit="in", ruler=Fraction(1), stages=3, keep=Fraction(4), pieces=(), fabrics=())
    return [fault for fault in wrong_shape(plan, cloth_of(outline, flaws, at)) if "piece" in fault]


@pytest.mark.parametrize("seed", range(200))
def test_random_rectangles_are_judged_as_shapely_does(seed: int) -> None:
    """Inside an outline, and off a flaw: the same answer by floats, at a random triangle and rectangle."""
    random = Random(seed)
    while True:
        corners = [(random.randint(0, 20), random.randint(0, 20)) for _ in range(3)]
        triangle = shapely.Polygon(corners)
        if triangle.area:
            break
    x, y, across, along = (random.randint(low, high) for low, high in ((0, 18), (0, 18), (1, 5), (1, 5)))
    at, box = Rectangle(x=x, y=y, across=across, along=along), shapely.box(x, y, x + across, y + along)
    shape = tuple((Fraction(a), Fraction(b)) for a, b in corners)

    assert (faults_of(shape, (), at) == []) == (box.difference(triangle).area < 1e-9)
    assert (faults_of(None, (shape,), at) == []) == (box.intersection(triangle).area < 1e-9)


def test_a_flaw_within_a_piece_is_found() -> None:
    """A small hole in the middle of a piece, and a piece in the middle of a large one, are both told."""
    small, large = (
        tuple((Fraction(x), Fraction(y)) for x, y in corners)
        for corners in (((9, 9), (10, 9), (10, 10)), ((0, 0), (20, 0), (20, 20), (0, 20)))
    )

    for flaw in (small, large):
        assert len(faults_of(None, (flaw,), Rectangle(x=8, y=8, across=4, along=4))) == 1


def test_areas_of_shapes() -> None:
    """By the shoelace formula, and by shapely less what overlaps; derived."""
    triangle = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (10, 0), (0, 10)))
    corner = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (5, 0), (5, 5), (0, 5)))

    assert area_of(triangle) == area_of(triangle[::-1]) == 50
    assert free_area(cloth_of(triangle, (corner, corner), Rectangle(x=0, y=0, across=1, along=1))) in (24, 25)
