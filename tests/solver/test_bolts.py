"""Bolts of a limited length: what goes into each, and what is bought of each."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.bolts import bolt_room, fill
from ellwand.claim import try_claims
from ellwand.errors import NoPlanError
from ellwand.fit import fit_border
from ellwand.materials import plan_sizes
from ellwand.model import FabricPlan, Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.project.vary import Varied, border_key, parse_varied
from ellwand.record import sound_document

ONE = """
[project]
name = "Heron banner"
{more}
[[piece]]
name = "panel"
fabric = "oat"
cut = [40, {along}]
count = {count}
grain = "lengthwise"
[fabric.oat]
width = 43
bolt = "{bolt}"
sold_by = "{step}"
{oat}
"""


def banner(*, along: int = 30, count: int = 5, bolt: str = "2 yd", step: str = "1/8 yd", oat: str = "") -> Plan:
    """A plan of equal panels, two of which go on a bolt of two yards; invented."""
    text = ONE.format(along=along, count=count, bolt=bolt, step=step, oat=oat, more="")
    return make_plan(parse_project(text, "heron.toml"), effort=Effort.QUICK)


def lengths_off(answer: FabricPlan) -> dict[int | None, Fraction]:
    """What is cut off each bolt, squaring included, inches washed."""
    taken: dict[int | None, Fraction] = {}
    for layout in answer.layouts:
        taken[layout.cloth.bolt] = taken.get(layout.cloth.bolt, Fraction(0)) + layout.cloth.length
    return taken


def test_one_quilt_over_several_bolts() -> None:
    """Tests that five panels of 30 in, two on each bolt of 72 in, come off three bolts, each bought from in steps."""
    plan = banner()
    (answer,) = plan.fabrics

    assert answer.needed == 5 * 30  # derived
    assert lengths_off(answer) == {
        1: Fraction(63),
        2: Fraction(63),
        3: Fraction(63, 2),
    }  # 60 1/2 and 30 1/2 in up to 4 1/2 in; derived
    assert answer.steps == 14 + 14 + 7
    assert sound_document(plan)["fabrics"][0]["bolt"] == 72


def test_whole_bolts_are_bought_where_the_shop_sells_no_less() -> None:
    """Tests that three bolts of two yards are bought, which no layout can do without."""
    (answer,) = banner(step="2 yd").fabrics

    assert answer.steps == 3
    assert answer.bought == 3 * 72


def test_a_bolt_shrinks_in_the_wash() -> None:
    """Tests that 10 % shrinkage leaves room for two panels of 32 in, not of 33.

    Source: K3, washed length = bought × (1 − 0.10): 72 in leave 64.8, less 1/2 in of squaring 64.3.
    """
    washing = 'wash = true\nshrinks = ["10 %", "0 %"]'

    assert len(banner(along=32, count=2, oat=washing).fabrics[0].layouts) == 1
    assert len(banner(along=33, count=2, oat=washing).fabrics[0].layouts) == 2


def test_a_piece_longer_than_a_bolt_is_named() -> None:
    """Tests the sentence for a piece that no bolt holds."""
    with pytest.raises(NoPlanError) as caught:
        banner(along=80)

    assert str(caught.value) == (
        'heron.toml: fabric "oat": piece "panel", 40 × 80 in, crosses the end of a bolt. '
        "A bolt of 72 in is too short for it."
    )


def test_the_piece_that_is_named_is_the_one_too_long() -> None:
    """Tests that a larger square, which does go on a bolt, is not blamed."""
    square = '[[piece]]\nname = "square"\nfabric = "oat"\ncut = [41, 41]'
    text = ONE.format(along=80, count=1, bolt="2 yd", step="1/8 yd", oat="", more=square)

    with pytest.raises(NoPlanError, match='piece "panel", 40 × 80 in, crosses the end'):
        make_plan(parse_project(text, "heron.toml"), effort=Effort.QUICK)


def test_cloth_on_hand_is_used_before_bolts() -> None:
    """Tests that a yard on hand takes one panel, and the other four come off two bolts."""
    (answer,) = banner(oat='on_hand = [{ length = "1 yd" }]').fabrics

    assert answer.needed == 4 * 30
    assert sorted(filter(None, {layout.cloth.bolt for layout in answer.layouts})) == [1, 2]


def test_what_may_not_be_bought_comes_off_no_bolt() -> None:
    """Tests that all five panels are missing in one length, and not only those of a first bolt."""
    plan = banner(oat="buy = false")
    (answer,) = plan.fabrics

    assert answer.missing is not None
    assert len(answer.missing.placed) == 5
    assert sound_document(plan)["fabrics"][0]["bolt"] is None


def test_a_fabric_may_be_called_a_bolt() -> None:
    """Tests that its cloth on hand, bolt 1 of that name, is not taken for a bolt that is bought, nor the other way."""
    text = ONE.format(along=30, count=5, bolt="2 yd", step="1/8 yd", oat='on_hand = [{ length = "1 yd" }]', more="")
    plan = make_plan(parse_project(text.replace('"oat"', '"bolt"').replace(".oat]", ".bolt]"), "bolt.toml"))
    (answer,) = plan.fabrics

    assert answer.needed == 4 * 30
    assert sound_document(plan)["fabrics"][0]["needed"] == 4 * 30


def test_longest_first() -> None:
    """Tests first-fit decreasing on a case by hand: 6 + 4 | 6 + 4 | 3 + 3 + 3."""
    six, four, three = (Fraction(length) for length in (6, 4, 3))

    assert fill([(four, 2), (six, 2), (three, 3)], Fraction(10)) == ((1, 1, 0), (1, 1, 0), (0, 0, 3))
    assert fill([(four, 2), (six, 2)], None) == ((2, 2),)


def test_only_whole_steps_of_a_bolt_count() -> None:
    """Tests that a bolt of 15 1/4 yd sold by half yards has 15 yd."""
    project = parse_project(
        ONE.format(along=30, count=1, bolt="15 1/4 yd", step="1/2 yd", oat="", more=""), "heron.toml"
    )

    assert bolt_room(project.fabrics["oat"], project.ruler) == 15 * 36


ASKED = """
[project]
name = "Heron mats"                  # invented
copies = 8
[quilt]
[[block]]
name = "heron"
finished = [20, 20]
  [[block.piece]]
  name = "ground"
  fabric = "oat"
[[border]]
name = "rim"
width = 2
fabric = "ink"
[[size]]
name = "usual"
[fabric.oat]
width = 43
{bolt}
[fabric.ink]
width = 43
{bolt}
"""


def asked(bolt: str) -> tuple[Project, Varied]:
    """Eight mats that take more than two yards of either cloth, and the width of their border."""
    text = ASKED.format(bolt=bolt)
    return parse_project(text, "heron.toml"), parse_varied(text, "heron.toml", border_key("rim"))


def test_claim_fit_and_sizes_know_no_end_of_a_bolt() -> None:
    """They ask of the pieces: with bolts of two yards they answer as without, and what they answer is sound."""
    answers = []
    for bolt in ("", 'bolt = "2 yd"'):
        project, varied = asked(bolt)
        plan, claims = try_claims(project, {"oat": Fraction(4 * 36)}, effort=Effort.QUICK)
        fit = fit_border(varied, stated={"ink": Fraction(3 * 36)}, effort=Effort.QUICK)
        (size,) = plan_sizes(project, effort=Effort.QUICK).sizes
        assert fit.plan is not None
        for one in (plan, fit.plan, size.plan):
            sound_document(one)
        answers.append((claims[0].holds, claims[0].enough, fit.value, [answer.bought for answer in size.plan.fabrics]))

    assert answers[0] == answers[1]
    assert any(bought > 72 for bought in answers[0][3])  # more than a bolt
