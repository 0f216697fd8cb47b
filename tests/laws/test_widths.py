"""Laws of a border that widens: it never takes less cloth, and the widest width for some cloth is the widest."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.compare import compare_values, values_between
from ellwand.model import FabricPlan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.vary import Varied, border_key, parse_varied
from ellwand.record import plan_document
from ellwand.slack import NO_SLACK, USUAL_SLACK, Slack, spared
from ellwand.verdict import judge_plan

# A framed quilt of one cloth: blocks, a border round them, patches beside. Invented.
QUILT = """
[project]
name = "framed"
stages = {stages}
[quilt]
across = 3
down = {down}
[[block]]
name = "top"
count = {blocks}
finished = [8, 8]
[[block.piece]]
name = "ground"
fabric = "ink"
[[block.piece]]
name = "leaf"
fabric = "ink"
cut = [{leaf}, 3]
count = 2
[[border]]
name = "edge"
fabric = "ink"
width = 2
corners = "{corners}"
cut = "{cut}"
[fabric.ink]
width = 43
"""


def framed(
    *, down: int = 4, leaf: int = 2, corners: str = "butted", cut: str = "lengthwise", any_stages: bool
) -> Varied:
    """The framed quilt, whose border's width varies."""
    stages = '"any"' if any_stages else "3"
    text = QUILT.format(down=down, blocks=3 * down, leaf=leaf, corners=corners, cut=cut, stages=stages)
    return parse_varied(text, "framed.toml", border_key("edge"))


def answer(varied: Varied, width: Fraction) -> FabricPlan:
    """The one fabric of a quick plan."""
    (found,) = make_plan(varied.at(width), effort=Effort.QUICK).fabrics
    return found


@given(
    down=st.integers(2, 6),
    leaf=st.integers(2, 6),
    corners=st.sampled_from(("mitred", "butted")),
    cut=st.sampled_from(("lengthwise", "crosswise")),
    any_stages=st.booleans(),
    narrow=st.integers(8, 40),
    more=st.integers(1, 24),
)
@settings(max_examples=25, deadline=None, derandomize=True)
def test_a_wider_border_never_needs_less(
    down: int, leaf: int, corners: str, cut: str, any_stages: bool, narrow: int, more: int
) -> None:
    """Its construction fixed: what is proven of the narrower holds for the wider, so proven lengths never fall."""
    varied = framed(down=down, leaf=leaf, corners=corners, cut=cut, any_stages=any_stages)
    narrower, wider = (answer(varied, Fraction(marks, 8)) for marks in (narrow, narrow + more))

    assert narrower.bound <= wider.needed  # derived: every layout of the wider holds the narrower
    assert not (narrower.proven and wider.proven) or narrower.needed <= wider.needed


@pytest.mark.parametrize(("corners", "cut"), [("butted", "lengthwise"), ("mitred", "best"), ("butted", "crosswise")])
@pytest.mark.parametrize("slack", [USUAL_SLACK, NO_SLACK], ids=["spare", "none"])
def test_the_widest_fits_and_the_next_does_not(corners: str, cut: str, slack: Slack) -> None:
    """The judge accepts the layout of each widest width; where it is proven, the next one's bound buys more."""
    varied = framed(corners=corners, cut=cut, any_stages=False)
    comparison = compare_values(varied, values_between(*map(Fraction, (2, 5, 1))), slack=slack, effort=Effort.QUICK)
    ends = [edge for edge in comparison.edges if edge.beyond is not None]

    assert ends
    assert cut != "lengthwise" or any(edge.proven for edge in ends)
    for edge in comparison.edges:
        project = spared(varied.at(edge.value), slack)
        plan = make_plan(project, effort=Effort.QUICK)
        assert not judge_plan(plan_document(replace(plan, fabrics=(edge.answer,))))
        assert edge.beyond is None or edge.beyond == edge.value + Fraction(1, 8)
    for edge in ends:
        assert edge.beyond is not None
        assert edge.after is not None
        assert edge.after.bought > edge.answer.bought
        (after,) = make_plan(spared(varied.at(edge.beyond), slack), effort=Effort.QUICK).fabrics
        assert (after.bound_bought > edge.answer.bought) is edge.proven


def test_what_is_bought_never_falls_along_the_widths() -> None:
    """Layouts are carried down, so that a search that did better at a wider border is no secret to narrower ones."""
    varied = framed(corners="mitred", cut="best", any_stages=True)
    comparison = compare_values(varied, values_between(Fraction(1), Fraction(4), Fraction(1, 2)), effort=Effort.QUICK)
    bought = [row.plan.fabrics[0].bought for row in comparison.rows]

    assert bought == sorted(bought)
    assert len(set(bought)) > 2
    edges = [(edge.value, edge.answer.bought) for edge in comparison.edges]
    assert edges == sorted(edges)
    assert len({length for _, length in edges}) == len(edges)


def test_careful_is_never_narrower_than_quick() -> None:
    """For every amount the widest width that careful effort finds is at least as wide, and its rows buy no more."""
    varied = framed(down=2, leaf=3, corners="mitred", cut="crosswise", any_stages=False)
    values = values_between(*map(Fraction, (2, 4, 1)))
    quick, careful = (compare_values(varied, values, effort=effort) for effort in (Effort.QUICK, Effort.CAREFUL))

    assert len(quick.edges) > 1
    for edge in quick.edges:
        assert max(other.value for other in careful.edges if other.answer.bought <= edge.answer.bought) >= edge.value
    for row, other in zip(quick.rows, careful.rows, strict=True):
        assert other.plan.fabrics[0].bought <= row.plan.fabrics[0].bought


def test_a_row_buys_no_more_than_the_same_width_with_cloth_to_spare() -> None:
    """What is laid on less cloth is laid on all of it."""
    varied = framed(down=3, leaf=3, corners="mitred", cut="best", any_stages=False)
    comparison = compare_values(varied, values_between(*map(Fraction, (2, 3, 1))), effort=Effort.CAREFUL)

    for row in comparison.rows:
        wide_enough = [edge.answer.bought for edge in comparison.edges if edge.value >= row.value]
        assert row.plan.fabrics[0].bought <= min(wide_enough)
