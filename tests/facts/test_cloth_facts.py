"""Trade facts of units, widths and shrinkage (U, W, K), truing an end (X4) and cloth shapes (C)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.cloths import cloths_on_hand, purchase, usable_width
from ellwand.lengths import parse_length
from ellwand.project.tables import Fabric
from facts.trade import Loose, plan_of, read

EIGHTH = Fraction(1, 8)


def inches(text: str) -> Fraction:
    """A length from text."""
    return parse_length(text, unit="in")


def cloth(keys: str) -> Fabric:
    """The cloth that `keys` describe, as a project file has it."""
    return read('[[piece]]\nname = "p"\nfabric = "f"\ncut = [1, 1]\n', cloth=keys).fabrics["f"]


def test_u1_yard_and_inch() -> None:
    """A yard is 0.9144 m and an inch 25.4 mm, exactly."""
    # Source: NBS Circular 572 Addendum, L. V. Judson, 1960 (U1)
    assert inches("1 yd") == inches("0.9144 m")
    assert inches("1 in") == inches("25.4 mm")


def test_u2_eighths_of_a_yard() -> None:
    """1/8 to 8/8 yd in inches."""
    # derived (U2): arithmetic of U1
    eighths = [inches(f"{eighth}/8 yd") for eighth in range(1, 9)]

    assert eighths == [inches(text) for text in ("4 1/2", "9", "13 1/2", "18", "22 1/2", "27", "31 1/2", "36")]


def test_u3_thirds_of_a_yard() -> None:
    """1/3 and 2/3 yd are 12 and 24 in."""
    # derived (U3): arithmetic
    assert [inches("1/3 yd"), inches("2/3 yd")] == [12, 24]


def test_w1_w2_width_and_usable_width_are_two_quantities() -> None:
    """A width is edge to edge with the selvages, and all of it is taken; what can be used is a figure beside it."""
    # Source: ASTM D3774 (W1); ASTM D3774-18 (W2)
    answer = plan_of([("42", "36", 1, "lengthwise")], 'width = 44\nselvage = "1 in"')

    assert answer.area.taken == 44 * 36
    assert answer.usable_width == 42


def test_w3_sold_as_44_is_40_to_42_to_use() -> None:
    """With 1 to 2 in lost at each edge, cloth sold as 44 has 42 to 40 in."""
    # Source: St. Croix quilters' guild, backing leaflet (W3)
    found = [usable_width(cloth(f"width = 44\nselvage = {edge}"), EIGHTH) for edge in (1, 2)]

    assert found == [42, 40]


def test_w4_inside_the_white_edge() -> None:
    """A bolt sold as 44/45 measures 43, and 42 1/4 inside the white edge."""
    # Source: practitioner forum thread (W4)
    assert usable_width(cloth('width = 43\nselvage = "3/8 in"'), EIGHTH) == inches("42 1/4")


def test_w7_a_skewed_end() -> None:
    """A skew of 3 % on 42 in loses 1.26 in: 34 3/4 in beside it no longer come from a yard, 34 5/8 do."""
    # derived (W7): ASTM D3882 and arithmetic, 0.03 · 42
    skewed = cloth(f'width = 42\nsquare_up = "{float(Fraction(3, 100) * 42)} in"')

    assert skewed.square_up == Fraction("1.26")
    assert purchase(skewed, inches("34 5/8"), EIGHTH).length == 36
    assert purchase(skewed, inches("34 3/4"), EIGHTH).length > 36


def test_k1_change_over_the_length_before() -> None:
    """(after − before)/before: at 5 %, 100 in are 95 after washing."""
    # Source: ISO 5077 (K1)
    keys = 'width = 42\nwash = true\nshrinks = ["5 %", "0 %"]\non_hand = [{length = 100}]'
    (washed,) = cloths_on_hand(cloth(keys), EIGHTH)

    assert (washed.length - 100) / 100 == -Fraction(5, 100)


def test_k2_both_directions_apart_to_a_tenth() -> None:
    """Lengthwise and widthwise change are two figures, to 0.1 %."""
    # Source: AATCC TM135 (K2)
    keys = 'width = 100\nwash = true\nshrinks = ["3.1 %", "2.4 %"]\non_hand = [{length = 100}]'
    (washed,) = cloths_on_hand(cloth(keys), Fraction(1, 10))

    assert (washed.along, washed.across) == (Fraction("96.9"), Fraction("97.6"))


def test_k3_shrinkage_divides() -> None:
    """4 yd of washed cloth at 10 % take 4.44 yd, so 4.45 in the shop; 10 % added would be 4.40."""
    # Source: ISO 5077 and arithmetic (K3)
    washed = 'width = 42\nwash = true\nshrinks = ["10 %", "0 %"]\nsold_by = "0.01 yd"'
    answer = plan_of([("40", "144", 1, "lengthwise")], washed)

    assert answer.needed == 144
    assert answer.steps == 445


def test_k4_ninety_inches_after_washing() -> None:
    """90 in after washing at 5 % are made of 94.74, so at least 95."""
    # Source: practitioner forum thread (K4)
    keys = 'width = 42\nwash = true\nshrinks = ["5 %", "0 %"]\nsold_by = "1 in"'
    answer = plan_of([("40", "90", 1, "lengthwise")], keys)

    assert answer.bought == 95


@pytest.mark.parametrize(("ends", "bought"), [(1, "10 1/2"), (2, "11")])
def test_x4_truing_an_end(ends: int, bought: str) -> None:
    """1/2 in at an end, 1 in at both."""
    # Source: practitioners (X4): about 1/2; 1–2 in for both ends
    trued = cloth(f'width = 42\nsquare_up = "1/2 in"\nsquare_up_ends = {ends}\nsold_by = "1/8 in"')

    assert purchase(trued, Fraction(10), EIGHTH).length == inches(bought)


def on_hand(width: str, length: str, count: int = 1) -> str:
    """A bolt that is sold out, and rectangles of it on hand."""
    return f'width = "44 in"\nbuy = false\non_hand = [{{ width = "{width}", length = "{length}", count = {count} }}]'


@pytest.mark.parametrize(("width", "length"), [("21 in", "18 in"), ("22 in", "18 in"), ("55 cm", "50 cm")])
def test_c1_a_fat_quarter_lies_along_its_short_side(width: str, length: str) -> None:
    """A piece as large as the quarter goes on it with the 18 (50 cm) side along the selvage, and not the other way."""
    # Source: quilting magazine; shops (C1): 18 × 21 from 42, 18 × 22 from 44, 50 × 55 cm
    head = 'unit = "cm"' if width.endswith("cm") else ""
    as_it_is = plan_of([(width, length, 1, "lengthwise")], on_hand(width, length), head)
    turned = plan_of([(length, width, 1, "lengthwise")], on_hand(width, length), head)

    assert as_it_is.enough
    assert not turned.enough


def test_c2_long_quarters_and_fat_eighths() -> None:
    """A long quarter is 1/4 yd across the cloth, 9 × 42, and is two fat eighths of 9 × 21; of 22 it is not."""
    # Source: quilting magazine (C2): 9 × 42; 9 × 21 (from 44 in: 9 × 22)
    long_quarter = 'width = 42\nbuy = false\non_hand = [{ length = "1/4 yd" }]'

    assert plan_of([("42", "9", 1, "lengthwise")], long_quarter).enough
    assert plan_of([("21", "9", 2, "lengthwise")], long_quarter).enough
    assert not plan_of([("22", "9", 2, "lengthwise")], long_quarter).enough
    assert plan_of([("22", "9", 2, "lengthwise")], long_quarter.replace("width = 42", "width = 44")).enough


PRECUTS: list[tuple[Loose, str, str]] = [
    (("2 1/2", "2 1/2", 16, "either"), "42 in", "2 1/2 in"),
    (("5", "5", 4, "either"), "10 in", "10 in"),
    (("2 1/2", "2 1/2", 4, "either"), "5 in", "5 in"),
]


@pytest.mark.parametrize(("squares", "width", "length"), PRECUTS)
def test_c3_precut_strips_and_squares(squares: Loose, width: str, length: str) -> None:
    """A strip of 2 1/2 across 42 is 16 squares, a square of 10 is four of 5, one of 5 four of 2 1/2: not one more."""
    # Source: Univ. of Nebraska–Lincoln Extension (C3): 2 1/2 × the width of the cloth; squares of 10 and 5
    across, down, count, grain = squares

    assert plan_of([squares], on_hand(width, length)).enough
    assert not plan_of([(across, down, count + 1, grain)], on_hand(width, length)).enough
