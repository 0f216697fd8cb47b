"""Trade facts of squares and rectangles from cloth (M8–M18), and packing optima from the literature (A)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.packing.problem import Effort
from facts.trade import Loose, plan, plan_of, read

PRINT = """
[quilt]
[[block]]
name = "b"
finished = [20, 20]
  [[block.piece]]
  name = "pictured"
  fabric = "f"
  cut = ["7 1/2", "10 1/2"]
  turned = {turned}
  count = {count}
"""


def test_m8_squares_in_strips() -> None:
    """63 squares of 9 1/2 from 42: 4 a strip, 16 strips, 152 in; and it cannot be less."""
    # Source: forum post (M8)
    answer = plan_of([("9 1/2", "9 1/2", 63, "either")], "width = 42")

    assert answer.needed == 152
    assert answer.proven


def test_m9_grain_locked() -> None:
    """300 rectangles 3 across × 2 from 40: 13 a strip, 24 strips, 48 in; proven."""
    # Source: shop article (M9)
    answer = plan_of([("3", "2", 300, "lengthwise")], "width = 40")

    assert answer.needed == 48
    assert answer.proven


def test_m10_grain_free() -> None:
    """The same free to turn: 20 a strip, 15 strips of 3, 45 in."""
    # derived (M10) from the shop article of M9
    answer = plan_of([("3", "2", 300, "either")], "width = 40", effort=Effort.CAREFUL)

    assert answer.needed == 45
    assert answer.proven


def test_m11_squares_of_five() -> None:
    """168 squares of 5 from 40: 8 a strip, 21 strips, 105 in."""
    # Source: forum tutorial (M11)
    answer = plan_of([("5", "5", 168, "either")], "width = 40")

    assert answer.needed == 105
    assert answer.proven


def test_m12_borders_first_then_squares_beside_them() -> None:
    """M11 and four 5-in lengthwise borders of 104 in: the hand method takes 160, so at most that."""
    # derived (M12) from the forum tutorial's method: 84 squares beside the borders in 105, 84 more in 55
    answer = plan_of([("5", "5", 168, "either"), ("5", "104", 4, "lengthwise")], "width = 40", effort=Effort.CAREFUL)

    assert answer.bound <= answer.needed <= 160


def test_m13_two_sizes_of_squares() -> None:
    """52 squares of 4 and 20 of 3 from 44: 26 in by strips of one kind, so at most that."""
    # Source: forum thread (M13): 5 strips and 2 strips
    answer = plan_of([("4", "4", 52, "either"), ("3", "3", 20, "either")], "width = 44", effort=Effort.CAREFUL)

    assert answer.bound <= answer.needed <= 26


@pytest.mark.parametrize(
    ("pieces", "needed"),
    [(("42", "6", 5, "lengthwise"), 30), (("5", "5", 8, "either"), 5), (("5", "5", 12, "either"), 10)],
)
def test_m14_strips_of_a_class(pieces: Loose, needed: int) -> None:
    """Five 6-in strips are 30 in; eight 5-in squares are one strip, twelve are two."""
    # Source: class sheet, 2016 (M14), width 42
    answer = plan_of([pieces], "width = 42")

    assert answer.needed == needed
    assert answer.proven


@pytest.mark.parametrize(
    ("side", "count"),
    [("2", 396), ("2 1/2", 238), ("3", 168), ("4", 99), ("5", 56), ("6", 42), ("8", 20), ("10", 12), ("12", 9)],
)
def test_m15_squares_from_a_yard(side: str, count: int) -> None:
    """So many squares come from 36 in of 44, and not one more."""
    # Source: chart, M. Hohn, 2002 (M15), nothing lost to selvages or squaring
    enough = plan_of([(side, side, count, "either")], "width = 44")
    one_more = plan_of([(side, side, count + 1, "either")], "width = 44")

    assert enough.needed <= 36
    assert one_more.bound > 36


@pytest.mark.parametrize(("side", "count"), [("2", 99), ("2 1/2", 56), ("3", 42), ("4", 20), ("5", 12), ("6", 9)])
def test_m16_squares_from_a_fat_quarter(side: str, count: int) -> None:
    """So many squares come from a fat quarter of 18 × 22, and not one more."""
    # Source: chart, M. Hohn, 2002 (M16)
    quarter = "width = 44\nbuy = false\non_hand = [ { width = 22, length = 18 } ]"
    enough = plan_of([(side, side, count, "either")], quarter)
    one_more = plan_of([(side, side, count + 1, "either")], quarter)

    assert enough.needed == 0
    assert enough.enough
    assert one_more.bound > 0
    assert not one_more.enough


@pytest.mark.parametrize(("length", "count"), [("1/4 yd", 20), ("1/2 yd", 40), ("3/4 yd", 60), ("1 yd", 80)])
def test_m17_squares_from_washed_cloth(length: str, count: int) -> None:
    """Squares of 4 from washed cloth with 43 to use, 1 in lost in squaring: so many, and not one more."""
    # Source: shop hand-out (M17)
    cloth = f'width = 43\non_hand = [ {{ length = "{length}", washed = true, square_up = 1 }} ]'
    enough = plan_of([("4", "4", count, "either")], cloth)
    one_more = plan_of([("4", "4", count + 1, "either")], cloth)

    assert enough.needed == 0
    assert one_more.bound > 0


def test_m18_a_print_in_two_block_positions() -> None:
    """Directional rectangles of 7 1/2 × 10 1/2 are needed both ways round, 5 and 4 to a strip of 42."""
    # derived (M18) from class notes
    for turned, across, down, in_a_strip in (("false", "7.5", "10.5", 5), ("true", "10.5", "7.5", 4)):
        for count, strips in ((in_a_strip, 1), (in_a_strip + 1, 2)):
            answer = plan(read(PRINT.format(turned=turned, count=count), cloth='width = 42\nway = "one-way"'))

            assert [(piece.across, piece.along) for piece in answer.pieces] == [(Fraction(across), Fraction(down))]
            assert answer.needed == strips * Fraction(down)


def test_a3_a_free_layout_reaches_the_published_optimum() -> None:
    """Seventeen pieces fill 200 × 200 in a free layout, none turned."""
    # Source: Hopper, PhD thesis, Cardiff 2000, T1a (A3): strip of width 200, optimum 200
    sizes = "82×38 37×13 81×22 16×25 21×64 29×55 52×178 98×39 102×37 46×103 29×86 10×37 63×26 50×11 13×40 60×29 119×20"
    pieces: list[Loose] = [(w, h, 1, "lengthwise") for w, h in (size.split("×") for size in sizes.split())]
    answer = plan_of(pieces, "width = 200", 'ruler = "1 in"\nlayout = "free"', Effort.CAREFUL)

    assert answer.needed == 200
    assert answer.proven


def test_a4_straight_cuts_reach_the_published_optimum() -> None:
    """Sixteen pieces fill 20 × 20 by straight cuts of any depth."""
    # Source: Hopper & Turton 2000, C1-P1 (A4): strip of width 20, pieces may turn, optimum 20
    sizes = "2×12 7×12 8×6 3×6 3×5 5×5 3×12 3×7 5×7 2×6 3×2 4×2 3×4 4×4 9×2 11×2"
    pieces: list[Loose] = [(w, h, 1, "either") for w, h in (size.split("×") for size in sizes.split())]
    answer = plan_of(pieces, "width = 20", 'ruler = "1 in"\nstages = "any"', Effort.CAREFUL)

    assert answer.needed == 20
    assert answer.proven
