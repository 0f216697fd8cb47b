"""Lays and bolts in words."""

from __future__ import annotations

import re
from functools import cache

from ellwand.lengths import Notation
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand_cli.views.cutlist import cut_list, order_of
from ellwand_cli.views.lays import bolt_lines, lay_lines, lay_words, together_line
from ellwand_cli.views.overview import overview_pages
from ellwand_cli.views.paper import usual_paper
from ellwand_cli.views.report import plan_report
from ellwand_cli.views.ruler import ruler_lines

TEXT = """
[project]
name = "Plover bags"
copies = 30
[kits]
layers = 4
strips = 2
[[piece]]
name = "side"
fabric = "oat"
cut = [20, 12]
count = 2
[[piece]]
name = "strap"
fabric = "oat"
cut = [42, 3]
count = 2
[fabric.oat]
width = 43
bolt = "5 yd"
wash = true
on_hand = [{ length = "4 yd" }]
"""
INCHES = Notation("in")


@cache
def bags() -> Plan:
    """A plan of thirty invented bags, some of whose cloth is on hand."""
    return make_plan(parse_project(TEXT, "plover.toml"), effort=Effort.QUICK)


def test_a_lay_says_how_often_it_is_cut() -> None:
    """Tests that full layers are counted, and fewer of them at last."""
    (answer,) = bags().fabrics

    for lay in answer.lays:
        full = f"{lay.layers} layers, {({1: 'once', 2: 'twice'}).get(lay.times, f'{lay.times} times')}"
        assert lay_words(lay).startswith(full)
        assert (", then" in lay_words(lay)) == (lay.rest > 0)
    assert all(line in " ".join(plan_report(bags()).split()) for line in lay_lines(answer, INCHES))


def test_what_layers_cost_is_told() -> None:
    """Tests that cuts through layers stand beside those of all kits laid as one, which no bolt of five yards holds."""
    (answer,) = bags().fabrics
    assert answer.together is not None
    assert answer.together.bought > 5 * 36

    cuts = sum(lay.cuts for lay in answer.lays)
    assert together_line(answer, INCHES).startswith(
        f"{cuts} cuts through layers, where all kits laid as one on a longer bolt take {answer.together.cuts}"
    )


def test_each_bolt_is_told_with_what_stays_on_it() -> None:
    """Tests that the bolts told are as many as there are, and their plies all that are bought."""
    (answer,) = bags().fabrics
    lines = list(bolt_lines(answer, INCHES))
    bolts = {layout.cloth.bolt for layout in answer.layouts if layout.cloth.bolt}

    assert lines[0].startswith(f"{len(bolts)} bolts of 5 yd")
    assert all("stays on it" in line for line in lines[1:])


def test_the_steps_of_a_lay() -> None:
    """Tests that plies are cut off and laid first, nothing is folded, and the end is squared again."""
    (answer,) = bags().fabrics
    layout = answer.shown[0]
    text = "\n".join(cut_list(bags(), answer, layout))
    order = order_of(bags(), answer, layout)
    assert order is not None

    assert re.search(r"(?m)^1\. Wash and press all the cloth first", text)
    assert re.search(r"(?m)^2\. Cut \d+ plies of .* off the cloth, the whole width of it: ", text)
    assert "which is on hand" in text
    assert "After every 2 strips across the cloth, square the end again before the next." in text
    assert "folded" not in text
    assert all(move.folds == 0 and not move.doubled for setup in order.setups for move in setup.moves)


def test_lays_are_not_cut_at_one_go() -> None:
    """Tests that nobody is told to have all lays on the table at once; the overview names them."""
    assert ruler_lines(bags()) == ()
    assert len(overview_pages(bags(), usual_paper("in"))) >= 1
