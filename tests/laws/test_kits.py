"""Laws of kits: whole kits in every ply, nothing over the end of a bolt, and no more than so many single ones."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.errors import NoPlanError
from ellwand.model import FabricPlan, Plan, Source
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import plan_document
from ellwand.verdict import judge_plan

SIZES = st.lists(st.tuples(st.integers(4, 40), st.integers(3, 30), st.integers(1, 4)), min_size=1, max_size=3)
BOLTS = st.sampled_from(["", 'bolt = "2 yd"', 'bolt = "5 yd"\nsold_by = "5 yd"'])
HANDS = st.sampled_from(["", 'on_hand = [{ length = "3 yd" }]', "on_hand = [{ width = 21, length = 18 }]"])
LAYERS = st.sampled_from(["", "layers = 1", "layers = 3\nstrips = 2", "layers = 4"])


def planned(sizes: list[tuple[int, int, int]], copies: int, fabric: str = "", kits: str = "") -> Plan:
    """So many copies of a few loose pieces of one fabric, planned quickly."""
    pieces = "".join(
        f'[[piece]]\nname = "part {number}"\nfabric = "oat"\ncut = [{across}, {along}]\ncount = {count}\n'
        for number, (across, along, count) in enumerate(sizes, 1)
    )
    head = f'[project]\nname = "Law"\ncopies = {copies}\n[kits]\n{kits}\n'
    project = parse_project(f"{head}{pieces}[fabric.oat]\nwidth = 43\n{fabric}\n", "law.toml")
    return make_plan(project, effort=Effort.QUICK)


def possible(sizes: list[tuple[int, int, int]], copies: int, fabric: str, kits: str) -> Plan | None:
    """The same; nothing where there is no plan."""
    try:
        return planned(sizes, copies, fabric, kits)
    except NoPlanError:
        return None


def taken_off(answer: FabricPlan) -> dict[int | None, Fraction]:
    """What is cut off each bolt, squaring included."""
    taken: dict[int | None, Fraction] = {}
    for cloth in (layout.cloth for layout in answer.layouts if layout.cloth.source is Source.BUY):
        taken[cloth.bolt] = taken.get(cloth.bolt, Fraction(0)) + cloth.along + cloth.squaring
    return taken


@settings(max_examples=15, deadline=None)
@given(SIZES, st.integers(2, 13), BOLTS, HANDS, LAYERS)
def test_kits_are_whole_and_their_document_sound(
    sizes: list[tuple[int, int, int]], copies: int, bolt: str, hand: str, layers: str
) -> None:
    """The lays hold all copies, bolts are not crossed, and the judge finds no fault; or no bolt is long enough."""
    plan = possible(sizes, copies, f"{bolt}\n{hand}", layers)
    if plan is None:
        assert bolt
        return
    (answer,) = plan.fabrics

    assert judge_plan(plan_document(plan)) == ()
    assert sum(lay.kits * lay.plies for lay in answer.lays) in (0, copies)
    if answer.fabric.bolt is not None:
        assert all(taken <= answer.fabric.bolt for taken in taken_off(answer).values())


@settings(max_examples=10, deadline=None)
@given(SIZES, st.integers(4, 13))
def test_kits_need_no_more_than_each_alone(sizes: list[tuple[int, int, int]], copies: int) -> None:
    """Layers that are told need at most so many times what one kit needs, and never less than the bound."""
    (one,) = planned(sizes, 1).fabrics
    (many,) = planned(sizes, copies, kits="layers = 4").fabrics

    assert many.bound <= many.needed <= copies * one.needed
