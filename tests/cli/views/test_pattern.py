"""The materials page: it says what the plan says, in both measures, and each amount is enough."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from io import BytesIO
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.figure import Figure
from pypdf import PdfReader

from ellwand.cloths import purchase
from ellwand.lengths import parse_length
from ellwand.model import FabricPlan, Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Fabric, Project, Way
from ellwand_cli.views.pattern import allowances, materials, materials_page
from ellwand_cli.views.sheets import cutting_sheets, sheet_figures
from laws.quilts import QUILTS, Made, project_of

F = Fraction
Sewn = Callable[[Project], Plan]


def needing(plan: Plan, needed: Fraction, **keys: object) -> Plan:
    """`plan` whose first fabric has `keys` and needs `needed`."""
    answer = plan.fabrics[0]
    fabric: Fabric = replace(answer.fabric, **keys)  # type: ignore[arg-type]
    bought = purchase(fabric, needed, plan.project.ruler)
    changed: FabricPlan = replace(answer, fabric=fabric, needed=needed, steps=bought.steps, bought=bought.length)
    return replace(plan, fabrics=(changed,))


def amounts(plan: Plan) -> tuple[Fraction, Fraction]:
    """The first fabric's two amounts, inches."""
    one, other = materials(plan)[0].amount.split(" or ")
    return parse_length(one, unit="in"), parse_length(other, unit="in")


def test_what_is_bought_is_told_in_both_measures(named_plan: Callable[[str], Plan]) -> None:
    """The plan's own amount first, then the least in the other measure's steps."""
    # derived: 58 in and 1/2 in for squaring are 58 1/2 in = 148.59 cm: 1 5/8 yd are 58 1/2 in, and 1.5 m
    inches = needing(named_plan("long bolt"), F(58))
    # derived: the same 148.59 cm are 148.6 cm on a ruler of millimetres: 1.5 m, and a hair more than 1 5/8 yd
    metric = needing(named_plan("metric"), F(58))

    assert materials(inches)[0].amount == "1 5/8 yd or 1.5 m"
    # derived: 42 3/4 in and 1/2 in are 109.86 cm, sold by 10 cm: 1.1 m are 1.2 yd, which yards are not sold in
    foreign = needing(named_plan("long bolt"), F(171, 4), sold_by=parse_length("10 cm", unit="cm"))

    assert materials(metric)[0].amount == "1.5 m or 1 3/4 yd"
    assert materials(foreign)[0].amount == "1 1/4 yd or 1.1 m"


MATS = """
[project]
name = "Mats"                        # invented
copies = 15
[kits]
layers = 4
[[piece]]
name = "back"
fabric = "oat"
cut = [30, 23]
[fabric.oat]
width = 43
bolt = "{bolt}"
square_up = "{square_up}"
"""


@pytest.mark.parametrize(("bolt", "square_up"), [("15 yd", "1/2 in"), ("5 yd", "1 in"), ("40 yd", "0 in")])
def test_kits_are_bought_with_all_that_squaring_their_plies_takes(bolt: str, square_up: str) -> None:
    """Every ply is squared up, not only the end of the cloth: what is bought says so, in yards and in metres."""
    plan = make_plan(parse_project(MATS.format(bolt=bolt, square_up=square_up), "mats.toml"), effort=Effort.QUICK)
    (oat,) = plan.fabrics
    taken = sum((layout.used for layout in oat.layouts), F(0))

    own, metric = amounts(plan)

    assert len(oat.layouts) > 1  # plies
    assert own == oat.bought
    assert taken <= metric < taken + parse_length("10 cm", unit="cm") * len({one.cloth.bolt for one in oat.layouts})
    lost = plan.project.notation.near(taken - oat.needed)
    assert any(f"and {lost} " in note for note in materials(plan)[0].notes) == (square_up != "0 in")


@settings(deadline=None, derandomize=True, max_examples=200)
@given(needed=st.integers(1, 4000), shrinks=st.integers(0, 15), step=st.sampled_from((F(9, 2), F(9), F(36), F(12))))
def test_either_amount_is_enough_and_not_a_step_more(
    built: Callable[[], Plan], needed: int, shrinks: int, step: Fraction
) -> None:
    """Washed and squared, both leave what is needed; a step less of the metric one would not."""
    length, share = F(needed, 8), F(shrinks, 100)
    plan = needing(built(), length, wash=True, shrinks=(share, F(0)), sold_by=step)

    own, metric = amounts(plan)
    assert own == plan.fabrics[0].bought
    for amount in (own, metric):
        assert amount * (1 - share) - F(1, 2) >= length
    assert (metric - parse_length("10 cm", unit="cm")) * (1 - share) - F(1, 2) < length + F(1, 8)


@pytest.fixture(scope="module")
def built(sewn: Sewn) -> Callable[[], Plan]:
    """A plan of one fabric."""
    text = '[project]\nname = "p"\n[[piece]]\nname = "a"\nfabric = "oat"\ncut = [4, 4]\ncount = 1\n'
    text += "[fabric.oat]\nwidth = 42\n"
    plan = sewn(parse_project(text, "p.toml"))
    return lambda: plan


def test_the_page_says_what_the_plan_says(plan: Plan) -> None:
    """Every fabric with its amount to buy, its width and the least it needs; text and sheets alike."""
    page = " ".join(materials_page(plan).split())
    printed = "".join(text.extract_text() for text in PdfReader(BytesIO(cutting_sheets(plan))).pages)
    squeezed = "".join(printed.split())

    show = plan.project.notation
    for answer, one in zip(plan.fabrics, materials(plan), strict=True):
        assert show.near(answer.fabric.width) in one.notes[0]
        assert show.near(answer.usable_width) in one.notes[0]
        assert one.amount.startswith(show.cloth(answer.bought) if answer.needed else "nothing to buy")
        assert all(note in page for note in one.notes)
        assert "".join(one.amount.split()) in squeezed
    assert "".join(allowances(plan)[0].split()) in squeezed


def test_what_a_fabric_takes_for_granted_is_told(named_plan: Callable[[str], Plan]) -> None:
    """Washing with its shrinkage, squaring up, a print's way; a fabric that may not be bought is told as such."""
    plan = needing(named_plan("long bolt"), F(20), wash=True, shrinks=(F(3, 100), F(1, 50)), way=Way.ONE_WAY, buy=False)
    (one,) = materials(plan)

    assert "washed before it is cut, shrinkage counted in: 3.0 % lengthwise, 2.0 % crosswise" in one.notes
    assert any("1/2 in (≈ 1.3 cm) for squaring it up" in note for note in one.notes)
    assert "one-way: pieces keep the way they hang" in one.notes
    assert one.amount.endswith("which may not be bought")


def test_cloth_on_hand_is_told(named_plan: Callable[[str], Plan]) -> None:
    """Where the plan counts on cloth that others do not have, the page says so and how to leave it out."""
    with_cloth, without = materials_page(named_plan("fat quarter")), materials_page(named_plan("long bolt"))

    assert "plan with --as-new" in " ".join(with_cloth.split())
    assert "nothing to buy" in with_cloth
    assert "--as-new" not in without


@settings(deadline=None, derandomize=True, max_examples=25)
@given(made=QUILTS)
def test_all_of_any_quilt_is_counted_in(made: Made, sewn: Sewn) -> None:
    """Each border with spare, the binding, the backing and the batting have their sentence; no line is too long."""
    plan = sewn(project_of(made))
    told = " ".join(allowances(plan))

    assert [one.name for one in plan.project.borders if one.extra and f"Border {one.name}:" not in told] == []
    for part, word in ((plan.project.binding, "Binding:"), (plan.project.backing, "Backing:")):
        assert (part is not None) == (word in told)
    assert all(len(line) <= 100 for line in materials_page(plan).splitlines())


def test_the_printed_page_can_be_read(
    plan: Plan, words: Callable[[Figure], list[Any]], faults: Callable[[Figure], list[str]]
) -> None:
    """The sheets have the page, and no word of it is small, clipped or meets another, whatever names are on it."""
    pages = [figure for figure in sheet_figures(plan) if "Materials" in [one.text for one in words(figure)]]

    assert pages
    assert [fault for figure in pages for fault in faults(figure)] == []


def test_cloth_on_hand_is_told_as_what_is_cut_or_as_what_comes_besides() -> None:
    """Where nothing is bought it is all that is cut; else it comes besides what is bought."""
    told = []
    for count in (1, 2):
        text = MATS.format(bolt="15 yd", square_up="1/2 in").replace("copies = 15", "copies = 1")
        text = f"{text.replace('23]', f'23]{chr(10)}count = {count}')}on_hand = [{{ length = 36 }}]"
        plan = make_plan(parse_project(text, "mat.toml"), effort=Effort.QUICK)
        told += [note for note in materials(plan)[0].notes if "on hand" in note]

    assert told == [
        "cut from cloth that is on hand: oat 1 (23 1/2 in of its 36 in)",
        "besides cloth that is on hand: oat 1 (23 1/2 in of its 36 in)",
    ]
