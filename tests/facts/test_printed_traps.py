"""Claims found in print that are wrong: each is refused, or answered otherwise. All derived, with the sum beside."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.lengths import parse_length
from facts.trade import centre, number, plan, plan_of, read, worked


def test_trap_35_squares_of_7_from_a_yard_of_44() -> None:
    """It is 30."""
    # derived: 44/7 = 6.3, so 6 across; 36/7 = 5.1, so 5 along
    assert plan_of([("7", "7", 30, "either")], "width = 44").needed <= 36
    assert plan_of([("7", "7", 31, "either")], "width = 44").bound > 36
    assert plan_of([("7", "7", 35, "either")], "width = 44").bound > 36


@pytest.mark.parametrize(("yards", "claimed", "true"), [("3/8 yd", "15", "13 1/2"), ("2/3 yd", "25", "24")])
def test_trap_parts_of_a_yard(yards: str, claimed: str, true: str) -> None:
    """3/8 yd is not 15 in, nor 2/3 yd 25: a piece of that length needs more, and one of the true length does not."""
    # derived: 36·3/8 = 13 1/2, 36·2/3 = 24
    on_hand = f'width = 42\nbuy = false\non_hand = [{{ length = "{yards}" }}]'

    assert parse_length(yards, unit="in") == parse_length(true, unit="in")
    assert plan_of([("40", true, 1, "lengthwise")], on_hand).enough
    assert not plan_of([("40", claimed, 1, "lengthwise")], on_hand).enough


def test_trap_a_side_square_rounded_down() -> None:
    """Blocks of 14 on point do not get their side triangles from a square of 21."""
    # derived: 14·√2 + (2 + 2√2)/4 = 19.799 + 1.207 = 21.006, on the ruler 21 1/8
    tables = """
[quilt]
across = 2
down = 2
setting = "on point"
triangles = "f"
[[block]]
name = "b"
finished = [14, 14]
  [[block.piece]]
  name = "ground"
  fabric = "f"
"""
    assert worked(read(tables))[1]["triangle/side"].across == parse_length("21 1/8", unit="in")


@pytest.mark.parametrize("width", [40, 42])
def test_trap_a_small_top_from_one_width(width: int) -> None:
    """A top of 40 × 45 with 3 in all round does not go on one width of 40 to 42."""
    # derived: 40 + 6 = 46
    top = centre("[39.5, 44.5]", '[backing]\nfabric = "f"\noverhang = 3', cloth=f"width = {width}")

    assert number(plan(top).pieces) == 2


def test_trap_eight_bias_strips_from_20_inches() -> None:
    """20 in give 5 bias strips of 2 1/2, not 8: what eight would reach does not come from 20 in, what five do does."""

    # derived: along the selvage a strip takes 2.5·√2 = 3.54, and 20/3.54 = 5.7; across 40 in each is 40·√2 = 56.57
    # long, so eight are 452 in, 1131 square inches of strip, and 20 · 40 is 800; five are 282
    def bias(run: int) -> Fraction:
        keys = f'[binding]\nfabric = "f"\ngrain = "bias"\nstrip = "2 1/2"\nextra = {run - 8}'
        return plan(centre("[1.5, 1.5]", keys, cloth="width = 40")).needed

    assert bias(282) <= 20
    assert bias(452) > 20


def test_trap_a_backing_as_wide_as_the_cloth() -> None:
    """A backing of 44 in does not come from 44-in cloth in one width: the selvages come off."""
    # derived: 44 − 2·1/2 = 43
    keys, cloth = '[backing]\nfabric = "f"\noverhang = 0', 'width = 44\nselvage = "1/2 in"'

    assert number(plan(centre("[43.5, 59.5]", keys, cloth=cloth)).pieces) == 2
    assert number(plan(centre("[42.5, 59.5]", keys, cloth=cloth)).pieces) == 1


def test_trap_backing_by_area() -> None:
    """A top of 46 × 60 with 3 in all round needs 104 in, 2.9 yd, in panels; area and half a yard say 2.6."""
    # derived: 52 × 66 from 42: two panels across, 52 each = 104; 46·60/1296 + 1/2 = 2.63
    keys = '[backing]\nfabric = "f"\noverhang = 3\nseam = "1/2 in"'
    answer = plan(centre("[45.5, 59.5]", keys))

    assert answer.needed == answer.bound == 104
    assert answer.bought > (Fraction(46 * 60, 1296) + Fraction(1, 2)) * 36
