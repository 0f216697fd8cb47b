"""What stays of the cloth on hand, and the smallest cloth for what has no place on it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.model import FabricPlan, Left, Missing
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import sound_document

F = Fraction
BAG = """
[project]
name = "Bag"
[[piece]]
name = "flap"
fabric = "oat"
cut = [20, 30]
count = 2
grain = "lengthwise"
[[piece]]
name = "strap"
fabric = "oat"
cut = [4, 30]
count = {straps}
[fabric.oat]
width = 43
buy = {buy}
on_hand = [{on_hand}]
"""


def answered(on_hand: str, *, straps: int = 3, buy: str = "false", as_new: bool = False) -> FabricPlan:
    """The one fabric's answer, judged."""
    project = parse_project(BAG.format(straps=straps, buy=buy, on_hand=on_hand), "bag.toml")
    plan = make_plan(project, effort=Effort.QUICK, as_new=as_new)
    sound_document(plan)
    return plan.fabrics[0]


def test_a_length_keeps_its_rest_and_other_cloths_stay() -> None:
    """Of 90 in squared to 89 1/2, two flaps and three straps take 30 + 8 to 12 in; a fat quarter stays as it is."""
    answer = answered("{ length = 90 }, { length = 18, width = 21 }")
    (layout,) = answer.layouts
    edge = max(item.y + item.along for item in layout.placed)

    assert answer.needed == 0
    assert answer.left == (
        Left(id="oat 1", across=F(42), along=F(179, 2) - edge, untouched=False),
        Left(id="oat 2", across=F(21), along=F(18), untouched=True),
    )


def test_a_rectangle_that_is_cut_into_leaves_offcuts_and_no_rest() -> None:
    """It is taken whole, so nothing of it is told as left."""
    assert answered("{ length = 80, width = 42 }").left == ()


def test_as_new_nothing_on_hand_is_left() -> None:
    """Cloth that was left out is not told of."""
    assert answered("{ length = 90 }", buy="true", as_new=True).left == ()


@pytest.mark.parametrize("straps", [1, 2, 3])
def test_the_smallest_cloth_for_straps_alone_has_their_area(straps: int) -> None:
    """A yard holds the two flaps and, beside 40 of 42 in, 5 1/2 in more: one strap across, and no other."""
    answer = answered("{ length = 36 }", straps=straps)

    if straps == 1:
        assert answer.needed == 0
        assert answer.missing is None
        return
    assert answer.missing is not None
    # Derived: straps of 4 × 30 lie side by side without loss.
    assert answer.missing.across * answer.missing.along == (straps - 1) * 4 * 30
    assert len(answer.missing.placed) == straps - 1


def test_the_smallest_cloth_is_nearest_to_a_square_of_equals() -> None:
    """Two flaps that stand lengthwise take 40 × 30 or 20 × 60, and the first is told."""
    missing = answered("{ length = 8 }, { length = 8 }", straps=2).missing

    assert isinstance(missing, Missing)
    assert (missing.across, missing.along) == (F(40), F(30))


def test_where_more_may_be_bought_nothing_is_missing() -> None:
    """It is bought, and no smallest cloth is looked for."""
    answer = answered("{ length = 36 }", buy="true")

    assert answer.needed > 0
    assert answer.missing is None


def test_no_piece_is_missing_that_would_go_on_the_cloth_on_hand() -> None:
    """Needed is 30 in of the full width with one flap or with two; one has its place on the leftover."""
    answer = answered("{ length = 30, width = 20 }", straps=1)

    # Derived: 30 in is the height of a flap that may not be turned, so the other flap alone needs as much.
    assert answer.needed == 30
    assert answer.missing is not None
    assert sum(item.piece == "flap" for item in answer.missing.placed) == 1
    assert answer.missing.across * answer.missing.along == 20 * 30 + 4 * 30


@pytest.mark.parametrize("straps", [40, 900])
def test_many_pieces_have_a_smallest_cloth_too(straps: int) -> None:
    """Of many pieces few widths are tried, and what is told holds them all."""
    answer = answered("{ length = 30 }", straps=straps)
    missing = answer.missing

    assert missing is not None
    assert missing.across * missing.along >= sum(item.across * item.along for item in missing.placed)
    assert missing.across * missing.along <= answer.usable_width * answer.needed
