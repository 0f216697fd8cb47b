"""Looking through all layouts of a few pieces by the document alone: it agrees with those that pack."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from random import Random
from typing import Any

import pytest

from ellwand.packing.few import pack_few
from ellwand.packing.problem import Effort, Item, Problem, Scope, Stock
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import plan_document
from ellwand.verdict import judge_plan
from ellwand.verdict.few import MOST_PIECES, hold

CUTS = {Scope.FREE: (False, None), Scope.GUILLOTINE: (True, None), Scope.THREE_STAGES: (True, 3)}


def random_problem(number: int, scope: Scope) -> Problem:
    """At most five items, fixed or turned, in up to two sheets and an open stock."""
    draw = Random(number)
    guillotine, stages = CUTS[scope]
    width = draw.randint(4, 14)
    sizes = Counter(
        (draw.randint(1, width), draw.randint(1, 10), draw.random() < 0.5) for _ in range(draw.randint(2, MOST_PIECES))
    )
    sheets = (
        Stock(w=draw.randint(2, 10), h=draw.randint(2, 10), either_way=draw.random() < 0.5)
        for _ in range(draw.choice((0, 0, 1, 2)))
    )
    return Problem(
        items=tuple(Item(w=w, h=h, demand=count, turnable=turnable) for (w, h, turnable), count in sizes.items()),
        stocks=(*sheets, Stock(w=width, h=None)),
        guillotine=guillotine,
        stages=stages,
    )


def holds(problem: Problem, length: int) -> bool:
    """Whether the verdict finds a layout with so much of the open stock."""
    ways = [
        tuple({(item.w, item.h), (item.h, item.w)} if item.turnable else {(item.w, item.h)})
        for item in problem.items
        for _ in range(item.demand)
    ]
    sheets = [
        (stock.w, length if stock.h is None else stock.h, stock.h is not None and stock.either_way)
        for stock in problem.stocks
    ]
    return hold(ways, sheets, rotary=problem.guillotine, stages=problem.stages)


@pytest.mark.parametrize("scope", Scope)
def test_least_length_of_a_hundred_problems(scope: Scope) -> None:
    """Tests that everything goes on the least length that was found, and on nothing less."""
    for number in range(100):
        problem = random_problem(number, scope)
        least = pack_few(problem)[0].length

        assert holds(problem, least), problem
        assert least == 0 or not holds(problem, least - 1), problem


# Five pieces that waste much however they are laid, from cloth 41 wide and what is on hand; invented.
CUSHIONS = """
[project]
name = "cushions"
layout = "{layout}"
[[piece]]
name = "front"
fabric = "oat"
cut = ["22 in", "17 in"]
count = 2
grain = "lengthwise"
[[piece]]
name = "back"
fabric = "oat"
cut = ["13 in", "21 in"]
count = 2
[[piece]]
name = "strap"
fabric = "oat"
cut = ["30 in", "5 in"]
[fabric.oat]
width = "41 in"
selvage = 0
square_up = 0
on_hand = [ {on_hand} ]
"""
RECTANGLE, LENGTH = 'width = "20 in", length = "18 in"', 'length = "22 in"'


def document(layout: str, on_hand: str) -> dict[str, Any]:
    """The plan of CUSHIONS as a document."""
    text = CUSHIONS.format(layout=layout, on_hand=f"{{ {on_hand} }}")
    return dict(plan_document(make_plan(parse_project(text, "some.toml"), effort=Effort.QUICK)))


@pytest.mark.parametrize(("layout", "on_hand"), [("rotary", RECTANGLE), ("rotary", LENGTH), ("free", LENGTH)])
def test_plan_of_a_few_pieces_is_proven(layout: str, on_hand: str) -> None:
    """Tests that what no weights prove is proven, passes, and is refused once it claims a mark more."""
    told = document(layout, on_hand)
    (fabric,) = told["fabrics"]

    assert (fabric["proven"], fabric["proof"]["searched"]) == (True, True)
    assert fabric["proof"]["axis"] is None
    assert judge_plan(told) == ()
    more = {**fabric, "bound": fabric["bound"] + Decimal("0.125"), "proven": False}
    assert any("its proof does not show" in fault for fault in judge_plan({**told, "fabrics": [more]}))
    unsearched = {**fabric, "proof": {**fabric["proof"], "searched": False}}
    assert any("its proof does not show" in fault for fault in judge_plan({**told, "fabrics": [unsearched]}))


def test_many_pieces_are_not_looked_through() -> None:
    """Tests that the verdict takes nobody's word for a search that it cannot repeat."""
    told = document("rotary", RECTANGLE)
    (fabric,) = told["fabrics"]
    pieces = [{**piece, "count": piece["count"] * 2} for piece in told["pieces"]]

    faults = judge_plan({**told, "pieces": pieces})

    assert f'Fabric "oat": its proof does not show that {float(fabric["bound"]):.10g} in at least are needed.' in faults
