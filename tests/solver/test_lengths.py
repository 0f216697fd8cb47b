"""Lengths: text in, exact fractions inside, trade notation out."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ellwand.lengths import Notation, parse_length, parse_percent, round_down, round_up, unit_length

INCHES, CENTIMETRES = Notation("in"), Notation("cm")


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("2 1/2 in", "5/2"),
        ('2½"', "5/2"),
        ("2½", "5/2"),
        ("2-1/2 in", "5/2"),
        ("2.5 in", "5/2"),
        ("6.5 cm", "325/127"),
        ("65 mm", "325/127"),
        ("1 1/4 yd", "45"),
        ("1,5 m", "7500/127"),
        ("3 ft 2 in", "38"),
        ("1 yd 4 1/2 in", "81/2"),
        ("10 4/8 in", "21/2"),
        ("3/8in", "3/8"),
        ("  7  ", "7"),
        (".5 in", "1/2"),
        ("0", "0"),
        ("5 ′", "60"),
        ("3⁄8″", "3/8"),
    ],
)
def test_reads_lengths_as_people_write_them(text: str, inches: str) -> None:
    """Every way of writing in the guide is read exactly."""
    assert parse_length(text, unit="in") == Fraction(inches)


def test_a_bare_number_is_in_the_projects_unit() -> None:
    """Bare 10 is 10 cm in a centimetre project."""
    assert parse_length("10", unit="cm") == parse_length("100 mm", unit="in")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("2 in 1/2", 'cannot read "2 in 1/2" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("", 'cannot read "" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("-3 in", 'cannot read "-3 in" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("1/0 in", 'cannot read "1/0 in" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("2 in 3 ft", 'cannot read "2 in 3 ft" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("2 3 in", 'cannot read "2 3 in" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("1e5", 'cannot read "1e5" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("8 furlongs", 'cannot read "8 furlongs" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
        ("9" * 70, f'cannot read "{"9" * 60}…" as a length; try 2 1/2 in, 2.5 in or 64 mm'),
    ],
)
def test_bad_text_is_refused_with_what_would_be_right(text: str, message: str) -> None:
    """A text that is no length gets one sentence."""
    with pytest.raises(ValueError, match="cannot read") as caught:
        parse_length(text, unit="in")

    assert str(caught.value) == message


def test_units_are_exact() -> None:
    """Inch, yard and metre meet exactly (U1)."""
    # Source: NBS Circular 572 Addendum, L. V. Judson, 1960: 1 yd = 0.9144 m, 1 in = 25.4 mm, exactly.
    assert parse_length("1 yd", unit="in") == parse_length("0.9144 m", unit="in")
    assert parse_length("1 in", unit="cm") == parse_length("25.4 mm", unit="cm")


def test_eighths_and_thirds_of_a_yard() -> None:
    """A shop's steps in inches (U2, U3)."""
    # Derived: arithmetic of U1 (NBS Circular 572 Addendum, 1960).
    eighths = [parse_length(f"{n}/8 yd", unit="in") for n in range(1, 9)]
    thirds = [parse_length(f"{n}/3 yd", unit="in") for n in (1, 2)]

    assert eighths == [Fraction(text) for text in ("4.5", "9", "13.5", "18", "22.5", "27", "31.5", "36")]
    assert thirds == [12, 24]


def test_wrong_yards_in_print_are_not_ours() -> None:
    """3/8 yd is not 15 in, 2/3 yd is not 25 in: a trap in print."""
    # Derived: arithmetic of U1.
    assert INCHES.show(parse_length("3/8 yd", unit="in")) == "13 1/2 in"
    assert INCHES.show(parse_length("2/3 yd", unit="in")) == "24 in"


@given(st.integers(0, 100_000), st.sampled_from([8, 16, 32, 64]))
def test_inches_survive_being_shown(marks: int, ruler: int) -> None:
    """Length → text → length is nothing, on every inch ruler."""
    length = Fraction(marks, ruler)

    assert parse_length(INCHES.show(length), unit="in") == length


@given(st.integers(0, 100_000))
def test_millimetres_survive_being_shown(marks: int) -> None:
    """Length → text → length is nothing, in centimetres."""
    length = marks * unit_length("mm")

    assert parse_length(CENTIMETRES.show(length), unit="cm") == length


@given(st.integers(0, 999), st.integers(0, 63), st.sampled_from(["in", '"', "inches", "yd", "ft", "cm", "mm", "m"]))
def test_text_to_length_to_text_to_length(whole: int, part: int, unit: str) -> None:
    """What was read is shown so that reading it again gives the same (or is marked as not exact)."""
    length = parse_length(f"{whole} {part}/64 {unit}", unit="in")
    shown = INCHES.show(length)

    assert shown.startswith("≈") or parse_length(shown, unit="in") == length


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text makes anything but a length or a sentence."""
    try:
        outcome = str(parse_length(text, unit="cm") >= 0)
    except ValueError as error:
        outcome = str(error)

    assert outcome == "True" or outcome.startswith("cannot read")


@given(st.fractions(0, 1000, max_denominator=10_000), st.sampled_from([Fraction(1, 8), unit_length("mm")]))
def test_rounding_to_the_ruler(length: Fraction, ruler: Fraction) -> None:
    """Up is the least mark not below, down the greatest not above."""
    up, down = round_up(length, ruler), round_down(length, ruler)

    assert down <= length <= up
    assert up - down in (0, ruler)
    assert (up / ruler).denominator == 1


@pytest.mark.parametrize(
    ("inches", "text"),
    [("99/8", "12 3/8 in"), ("0", "0 in"), ("3/8", "3/8 in"), ("10/3", "≈ 3 5/16 in"), ("-1/2", "−1/2 in")],
)
def test_inches_as_the_trade_writes_them(inches: str, text: str) -> None:
    """Whole and fraction, or a decimal marked as not exact."""
    assert INCHES.show(Fraction(inches)) == text


def test_cloth_is_shown_in_yards_or_metres() -> None:
    """Bought lengths are said as a shop sells them."""
    assert INCHES.cloth(Fraction(63)) == "1 3/4 yd"
    assert INCHES.cloth(Fraction(12)) == "1/3 yd"
    assert CENTIMETRES.cloth(parse_length("1.6 m", unit="cm")) == "1.6 m"


@pytest.mark.parametrize(("text", "share"), [("3 %", "3/100"), ("2.5%", "1/40"), ("0 %", "0")])
def test_percentages(text: str, share: str) -> None:
    """Shares are read exactly."""
    assert parse_percent(text) == Fraction(share)


@pytest.mark.parametrize("text", ["3", "three %", "100 %", "-1 %", "%"])
def test_bad_percentages_are_refused(text: str) -> None:
    """Anything else is a sentence."""
    with pytest.raises(ValueError, match=r"as a percentage; try 3 % or 2\.5 %"):
        parse_percent(text)
