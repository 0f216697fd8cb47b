"""Strips braced beside a cloth, or below it where they run along it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

from matplotlib.figure import Figure

from ellwand.cuts import cuts_of
from ellwand.model import Direction, Layout, Plan
from ellwand_cli.views.arrange import arrange, survey
from ellwand_cli.views.cloth import Spread, draw_spread
from ellwand_cli.views.cutlist import cuts_along, strip_marks
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.pen import Box, blank_figure

Measure = Callable[[Figure], list[Any]]
F = Fraction


def along_first(plan: Plan) -> Plan:
    """The plan's one cloth as two strips along it, of 6 and 12 in, each one piece; 21 × 18 in."""
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    assert layout.tree is not None
    left, right = (
        replace(one, piece=answer.pieces[number].id, x=F(x), y=F(0), across=F(w), along=F(18))
        for number, (one, x, w) in enumerate(zip(layout.placed, (0, 6), (6, 12), strict=False))
    )
    whole = replace(layout.tree, parts=(), piece=None, direction=Direction.ALONG)
    parts = tuple(
        replace(whole, x=one.x, across=one.across, depth=1, piece=one, direction=None, parts=())
        for one in (left, right)
    )
    waste = replace(whole, x=F(18), across=F(3), depth=1, direction=None)
    tree = replace(whole, parts=(*parts, waste))
    fresh: Layout = replace(layout, placed=(left, right), offcuts=(), tree=tree, cuts=cuts_of(tree))
    return replace(plan, fabrics=(replace(answer, layouts=(fresh,)),))


def test_strips_along_a_cloth_are_braced_below_it(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Their steps and widths stand left to right below the cloth, and none beside it."""
    plan = along_first(named_plan("fat quarter"))
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    found = words(cloth_figure(plan, answer, layout))
    marks = strip_marks(plan, answer, layout)

    assert cuts_along(plan, answer, layout)
    assert sorted(marks) == [(F(0), F(6)), (F(6), F(18))]
    below = next(one for one in found if one.text == "usable width 21 in").top
    shown = [one for one in found if one.text in ("6", "12") and below < one.low < below + 30]
    assert [one.text for one in sorted(shown, key=lambda one: one.left)][-2:] == ["6", "12"]
    beside = next(one for one in found if one.text == "used 18 in").left
    assert not [one for one in found if one.left > beside - 40 and one.low > below + 40 and one.text == "18"]


def test_strips_across_are_braced_beside_the_cloth(named_plan: Callable[[str], Plan]) -> None:
    """A cloth whose first cuts run across it has marks by places along it."""
    plan = named_plan("joined")
    answer = plan.fabrics[0]

    assert not cuts_along(plan, answer, answer.layouts[0])
    assert max(strip_marks(plan, answer, answer.layouts[0]))[1] > answer.usable_width / 2


def test_low_strips_share_their_words(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Where strips are too low for step and width, equal ones in a row are told at once: 3 strips of 2 in."""
    plan = named_plan("pieced")
    answer = plan.fabrics[0]
    cloth = survey(answer, answer.layouts[0])
    shown = {}
    for side in (560.0, 240.0):
        figure, ax = blank_figure(side, side, "")
        box = Box(0.0, 0.0, side, side)
        draw_spread(
            Spread(
                plan=plan, fabric_plan=answer, layout=answer.layouts[0], arrangement=arrange(cloth, side, side), box=box
            ),
            ax,
        )
        shown[side] = [one.text for one in words(figure)]

    assert not [text for text in shown[560.0] if text.endswith(" × 2")]
    assert [text for text in shown[240.0] if text.endswith("3 × 2")]
