"""Usable cloth and what to buy, against figures from outside."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ellwand.cloths import cloths_on_hand, purchase, usable_width
from ellwand.lengths import parse_length
from ellwand.project.tables import Fabric, OnHand

EIGHTH = Fraction(1, 8)


def inches(text: str) -> Fraction:
    """A length from text."""
    return parse_length(text, unit="in")


PLAIN = Fabric(
    id="ink",
    width=inches("44 in"),
    selvage=Fraction(0),
    square_up=Fraction(0),
    sold_by=inches("1/8 yd"),
)


def test_shrinkage_divides() -> None:
    """4 yd of washed cloth at 10 % take 4.44 yd, not 4.40 (K3)."""
    # Source: ISO 5077 (change over the length before) and arithmetic.
    washed = replace(PLAIN, wash=True, shrinks=(Fraction(1, 10), Fraction(0)), sold_by=inches("0.01 yd"))

    bought = purchase(washed, inches("4 yd"), Fraction(1, 1000))

    assert bought.steps == 445  # 4.4444… yd in steps of 0.01 yd


def test_width_and_usable_width_are_two_things() -> None:
    """A bolt sold as 44/45, 43 measured overall with 3/8 in lost at each edge, has 42 1/4 in to use (W4)."""
    # Source: practitioner forum thread: measured 43 overall, 42 1/4 inside the white edge.
    measured = replace(PLAIN, width=inches("43 in"), selvage=inches("3/8 in"))

    assert usable_width(measured, EIGHTH) == inches("42 1/4 in")


def test_sold_as_44_is_40_to_42_to_use() -> None:
    """With 1 to 2 in lost at each edge, cloth sold as 44 has 40 to 42 in (W3)."""
    # Source: St. Croix quilters' guild, backing leaflet: 40–42 usable after the selvages of 44/45 in.
    widths = [usable_width(replace(PLAIN, selvage=Fraction(edge)), EIGHTH) for edge in (1, 2)]

    assert widths == [42, 40]


def test_a_fat_quarter_loses_nothing_unless_it_says_so() -> None:
    """18 × 22 stays 18 × 22 (C1); the 18 side lies along the selvage."""
    # Source: quilting magazine; shops: fat quarter 18 × 22 from 44, the 18 side along the selvage.
    quarter = OnHand(
        width=inches("22 in"), length=inches("18 in"), count=2, selvages=0, washed=True, square_up=Fraction(0)
    )
    cloths = cloths_on_hand(replace(PLAIN, on_hand=(quarter,)), EIGHTH)

    assert [f"{cloth.id}: {cloth.across} × {cloth.along}" for cloth in cloths] == ["ink 1: 22 × 18", "ink 2: 22 × 18"]
    assert all(cloth.whole for cloth in cloths)


def test_an_unwashed_length_shrinks_both_ways_and_loses_its_edges() -> None:
    """1 yd of 43 in at 3 % and 2 %, selvages 1/2, squaring 1/2: 41.14 → 41 1/8 by 34.92 − 1/2 → 34 3/8."""
    length = OnHand(length=inches("1 yd"), selvages=2, washed=False, square_up=inches("1/2 in"))
    fabric = replace(
        PLAIN,
        width=inches("43 in"),
        selvage=inches("1/2 in"),
        wash=True,
        shrinks=(Fraction(3, 100), Fraction(2, 100)),
        on_hand=(length,),
    )

    (cloth,) = cloths_on_hand(fabric, EIGHTH)

    assert (cloth.across, cloth.along) == (inches("41 1/8"), inches("34 3/8"))
    assert (cloth.width, cloth.length) == (Fraction("42.14"), Fraction("34.92"))


def test_nothing_needed_is_nothing_bought() -> None:
    """No length, no step: squaring alone buys no cloth."""
    assert purchase(replace(PLAIN, square_up=Fraction(1)), Fraction(0), EIGHTH).steps == 0


def test_a_foreign_step_counts_down_to_the_ruler() -> None:
    """10 cm in an inch project: 3.937 in are told as 3 7/8, and one step more is bought where that is short."""
    metric = replace(PLAIN, sold_by=inches("10 cm"))

    assert purchase(metric, inches("3 7/8"), EIGHTH).steps == 1
    assert purchase(metric, inches("3 7/8") + Fraction(1, 100), EIGHTH).steps == 2


@given(
    st.fractions(Fraction(1, 8), 500, max_denominator=8),
    st.integers(0, 20),
    st.sampled_from(["1/8 yd", "1/4 yd", "10 cm", "1 m"]),
)
def test_bought_is_enough_and_one_step_less_is_not(needed: Fraction, percent: int, step: str) -> None:
    """The least whole steps that leave what is needed after squaring and washing."""
    share = Fraction(percent, 100)
    fabric = replace(
        PLAIN, sold_by=inches(step), wash=True, shrinks=(share, Fraction(0)), square_up=Fraction(1, 2), square_up_ends=2
    )

    bought = purchase(fabric, needed, EIGHTH)
    less = (bought.steps - 1) * fabric.sold_by // EIGHTH * EIGHTH

    assert bought.length * (1 - share) >= needed + 1
    assert less * (1 - share) < needed + 1


def test_cloth_that_is_all_edges_is_no_cloth() -> None:
    """A leftover narrower than its selvages is left out."""
    sliver = OnHand(width=Fraction(1, 16), length=Fraction(9), selvages=0, washed=True, square_up=Fraction(0))

    assert cloths_on_hand(replace(PLAIN, on_hand=(sliver,)), EIGHTH) == ()


@pytest.mark.parametrize("ends", [1, 2])
def test_both_ends_may_be_squared(ends: int) -> None:
    """1/2 in an end (X4)."""
    # Source: practitioners: truing an uneven end takes about 1/2; both ends 1–2 in.
    fabric = replace(PLAIN, square_up=Fraction(1, 2), square_up_ends=ends, sold_by=EIGHTH)

    assert purchase(fabric, Fraction(10), EIGHTH).length == 10 + Fraction(ends, 2)
