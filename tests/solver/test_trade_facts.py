"""The main job against figures from outside: a project in, what is needed and bought out.

Each source's own allowances are set: nothing lost to selvages or squaring unless it says so.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.model import FabricPlan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project

Loose = tuple[str, str, int, str]  # across, down, count, grain


def plan_of(pieces: list[Loose], fabric: str, head: str = "", effort: Effort = Effort.CAREFUL) -> FabricPlan:
    """The plan of loose pieces from one fabric without selvage or squaring."""
    text = f'[project]\nname = "facts"\n{head}\n'
    for number, (across, down, count, grain) in enumerate(pieces):
        text += f'[[piece]]\nname = "p{number}"\nfabric = "f"\ncut = ["{across}", "{down}"]\n'
        text += f'count = {count}\ngrain = "{grain}"\n'
    text += f"[fabric.f]\nselvage = 0\nsquare_up = 0\n{fabric}\n"
    (answer,) = make_plan(parse_project(text, "facts.toml"), effort=effort).fabrics
    return answer


def test_m8_squares_in_strips() -> None:
    """63 squares of 9 1/2 from 42: 4 a strip, 16 strips, 152 in; and it cannot be less."""
    # Source: forum post (M8).
    answer = plan_of([("9 1/2", "9 1/2", 63, "either")], "width = 42")

    assert answer.needed == 152
    assert answer.proven


def test_m9_grain_locked() -> None:
    """300 rectangles 3 across × 2 from 40: 13 a strip, 24 strips, 48 in; proven."""
    # Source: shop article (M9).
    answer = plan_of([("3", "2", 300, "lengthwise")], "width = 40")

    assert answer.needed == 48
    assert answer.proven


def test_m10_grain_free() -> None:
    """The same free to turn: 20 a strip, 15 strips of 3, 45 in."""
    # Derived from the shop article of M9 (M10).
    answer = plan_of([("3", "2", 300, "either")], "width = 40")

    assert answer.needed == 45
    assert answer.proven


def test_m11_squares_of_five() -> None:
    """168 squares of 5 from 40: 8 a strip, 21 strips, 105 in."""
    # Source: forum tutorial (M11).
    answer = plan_of([("5", "5", 168, "either")], "width = 40")

    assert answer.needed == 105
    assert answer.proven


def test_m12_borders_first_then_squares_beside_them() -> None:
    """M11 and four 5-in lengthwise borders of 104 in: the hand method takes 160, so at most that."""
    # Derived from the forum tutorial's method (M12): 84 squares beside the borders in 105, 84 more in 55.
    answer = plan_of([("5", "5", 168, "either"), ("5", "104", 4, "lengthwise")], "width = 40")

    assert answer.bound <= answer.needed <= 160


def test_m13_two_sizes_of_squares() -> None:
    """52 squares of 4 and 20 of 3 from 44: 26 in by strips of one kind, so at most that."""
    # Source: forum thread (M13): 5 strips and 2 strips.
    answer = plan_of([("4", "4", 52, "either"), ("3", "3", 20, "either")], "width = 44")

    assert answer.bound <= answer.needed <= 26


@pytest.mark.parametrize(
    ("side", "count"),
    [("2", 396), ("2 1/2", 238), ("3", 168), ("4", 99), ("5", 56), ("6", 42), ("8", 20), ("10", 12), ("12", 9)],
)
def test_m15_squares_from_a_yard(side: str, count: int) -> None:
    """So many squares come from 36 in of 44, and not one more."""
    # Source: chart, M. Hohn, 2002 (M15), nothing lost to selvages or squaring.
    enough = plan_of([(side, side, count, "either")], "width = 44", effort=Effort.QUICK)
    one_more = plan_of([(side, side, count + 1, "either")], "width = 44", effort=Effort.QUICK)

    assert enough.needed <= 36
    assert one_more.bound > 36


@pytest.mark.parametrize(("side", "count"), [("2", 99), ("2 1/2", 56), ("3", 42), ("4", 20), ("5", 12), ("6", 9)])
def test_m16_squares_from_a_fat_quarter(side: str, count: int) -> None:
    """So many squares come from a fat quarter of 18 × 22 (C1), and not one more."""
    # Source: chart, M. Hohn, 2002 (M16); quilting magazine and shops for the fat quarter (C1).
    quarter = "width = 44\nbuy = false\non_hand = [ { width = 22, length = 18 } ]"
    enough = plan_of([(side, side, count, "either")], quarter, effort=Effort.QUICK)
    one_more = plan_of([(side, side, count + 1, "either")], quarter, effort=Effort.QUICK)

    assert enough.needed == 0
    assert enough.enough
    assert one_more.bound > 0
    assert not one_more.enough


@pytest.mark.parametrize(("length", "count"), [("1/4 yd", 20), ("1/2 yd", 40), ("3/4 yd", 60), ("1 yd", 80)])
def test_m17_squares_from_washed_cloth(length: str, count: int) -> None:
    """Squares of 4 from washed cloth with 43 to use, 1 in lost in squaring: so many, and not one more."""
    # Source: shop hand-out (M17).
    cloth = f'width = 43\non_hand = [ {{ length = "{length}", washed = true, square_up = 1 }} ]'
    enough = plan_of([("4", "4", count, "either")], cloth, effort=Effort.QUICK)
    one_more = plan_of([("4", "4", count + 1, "either")], cloth, effort=Effort.QUICK)

    assert enough.needed == 0
    assert one_more.bound > 0


def test_a_yard_of_44_does_not_give_35_squares_of_7() -> None:
    """A printed 35 is wrong: 6 × 5 = 30."""
    # Derived: 44 // 7 = 6 across, 36 // 7 = 5 along; the printed claim is a trap.
    assert plan_of([("7", "7", 30, "either")], "width = 44", effort=Effort.QUICK).needed <= 36
    assert plan_of([("7", "7", 35, "either")], "width = 44", effort=Effort.QUICK).bound > 36


def test_r6_four_lengthwise_borders() -> None:
    """Four borders under 10 wide, the longest 80: 2 1/2 yd of 42 holds them (the least is 80 in, 2 1/4 yd)."""
    # Source: forum post (R6).
    answer = plan_of([("9 1/2", "80", 2, "lengthwise"), ("9 1/2", "72", 2, "lengthwise")], "width = 42")

    assert answer.needed == 80
    assert answer.proven
    assert answer.bought == 81 <= 90


def test_b2_binding_strips_are_bought_in_steps() -> None:
    """Five strips of 2 1/2 are 12 1/2 in: 1/2 yd in steps of 1/4, 3/8 yd in eighths."""
    # Source: shop hand-out (B2): 184/40 = 4.6 strips.
    strips: list[Loose] = [("40", "2 1/2", 5, "lengthwise")]

    quarter = plan_of(strips, 'width = 40\nsold_by = "1/4 yd"')
    eighth = plan_of(strips, 'width = 40\nsold_by = "1/8 yd"')

    assert quarter.needed == eighth.needed == Fraction(25, 2)
    assert quarter.bought == 18
    assert eighth.bought == Fraction(27, 2)


BACKING = """
[project]
name = "facts"
[quilt]
[[block]]
name = "top"
finished = ["64", "77 1/2"]
[backing]
fabric = "f"
overhang = 0
seam = "1/2 in"
panels = "{panels}"
[fabric.f]
width = 42
selvage = 0
square_up = 0
"""


@pytest.mark.parametrize(("panels", "needed"), [("lengthwise", 156), ("crosswise", 129), ("best", 129)])
def test_p6_backing_both_ways(panels: str, needed: int) -> None:
    """A backing of 64 1/2 × 78 from 42: 156 in with the seam one way, about 130 with the other."""
    # Source: forum thread (P6).
    (answer,) = make_plan(parse_project(BACKING.format(panels=panels), "facts.toml")).fabrics

    assert answer.needed == needed


def test_k3_shrinkage_divides() -> None:
    """4 yd of washed cloth at 10 % take 4.44 yd, so 4 1/2 in the shop; 10 % added would be 4.40."""
    # Source: ISO 5077 and arithmetic (K3).
    washed = 'width = 42\nwash = true\nshrinks = ["10 %", "0 %"]\nsold_by = "0.01 yd"'
    answer = plan_of([("40", "144", 1, "lengthwise")], washed)

    assert answer.needed == 144
    assert answer.steps == 445


def test_a4_straight_cuts_reach_the_published_optimum() -> None:
    """Sixteen pieces fill 20 × 20 by straight cuts of any depth."""
    # Source: Hopper & Turton 2000, C1-P1: strip of width 20, pieces may turn, optimum 20.
    sizes = "2×12 7×12 8×6 3×6 3×5 5×5 3×12 3×7 5×7 2×6 3×2 4×2 3×4 4×4 9×2 11×2"
    pieces: list[Loose] = [(w, h, 1, "either") for w, h in (size.split("×") for size in sizes.split())]
    answer = plan_of(pieces, "width = 20", head='ruler = "1 in"\nstages = "any"')

    assert answer.needed == 20
    assert answer.proven


def test_a3_free_layout_reaches_the_published_optimum() -> None:
    """Seventeen pieces fill 200 × 200 in a free layout, none turned."""
    # Source: Hopper, PhD thesis, Cardiff 2000, T1a: strip of width 200, optimum 200.
    sizes = "82×38 37×13 81×22 16×25 21×64 29×55 52×178 98×39 102×37 46×103 29×86 10×37 63×26 50×11 13×40 60×29 119×20"
    pieces: list[Loose] = [(w, h, 1, "lengthwise") for w, h in (size.split("×") for size in sizes.split())]
    answer = plan_of(pieces, "width = 200", head='ruler = "1 in"\nlayout = "free"')

    assert answer.needed == 200
    assert answer.proven
