"""Strips sewn end to end: how many, and how long each."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.lengths import Notation
from ellwand.project.tables import Join
from ellwand.quilt.strips import join_loss, spliced_text, split_run

_EIGHTH = Fraction(1, 8)


def _split(run: str, usable: str, loss: str, shortest: str = "0") -> list[str]:
    lengths = split_run(
        Fraction(run), usable=Fraction(usable), loss=Fraction(loss), shortest=Fraction(shortest), ruler=_EIGHTH
    )
    return [str(length) for length in lengths]


@pytest.mark.parametrize(
    ("run", "usable", "loss", "number"),
    [
        ("220", "40", "2", 6),  # Source: class notes, 2013 (B1): 50 × 60, 220/38 = 5.79 → 6
        ("184", "40", "0", 5),  # Source: shop hand-out (B2): 46 × 46, 184/40 = 4.6 → 5
        ("184", "40", "2.5", 5),  # derived: B2 with the loss of its own 2 1/2 in strip
        ("238", "42", "0", 6),  # Source: designer's article, 2019 (B3): 54 × 60 and 10 → 5.67 → 6
        ("230", "40", "2.5", 7),  # derived (B7): 6 strips make 227 1/2, which is short
        ("227.5", "40", "2.5", 6),  # derived (B6, B7): n·w − (n − 1)·b = 6·40 − 5·2 1/2
        ("265", "40", "2.5", 7),  # derived (B7): 7 make 265
    ],
)
def test_number_of_strips(run: str, usable: str, loss: str, number: int) -> None:
    """The number of strips is the least that reaches the run."""
    assert len(_split(run, usable, loss)) == number


@pytest.mark.parametrize(
    ("width", "length", "joined"),
    [("3", "10", "17"), ("5", "7", "9"), ("1.5", "20", "38.5")],  # Source: studio notes, 2012 (B5)
)
def test_a_diagonal_join_takes_the_strips_width(width: str, length: str, joined: str) -> None:
    """Two strips reach their lengths less one width, to the last mark of the ruler."""
    loss = join_loss(Join.DIAGONAL, Fraction(width), Fraction(1, 4))
    assert _split(joined, length, str(loss)) == [length, length]
    assert len(_split(str(Fraction(joined) + _EIGHTH), length, str(loss))) == 3


def test_a_straight_join_takes_two_seams() -> None:
    """Straight joins do not depend on the strip's width."""
    assert join_loss(Join.STRAIGHT, Fraction(9), Fraction(1, 4)) == Fraction(1, 2)


def test_each_further_strip_brings_its_length_less_the_join() -> None:
    """Strips of 4 in from a width of 40 in bring 36 each after the first."""
    # Source: forum tutorial (R8)
    reach = [40 + 36 * further for further in range(5)]
    assert [len(_split(str(run), "40", "4")) for run in reach] == [1, 2, 3, 4, 5]
    assert [len(_split(str(run + 1), "40", "4")) for run in reach] == [2, 3, 4, 5, 6]


def test_the_rest_is_rounded_up_and_never_too_short() -> None:
    """The rest holds what is missing, on the ruler, and is raised to the shortest bit allowed, up to the width."""
    assert _split("50.03", "40", "4") == ["40", "113/8"]
    assert _split("50", "40", "4", "20") == ["40", "20"]
    assert _split("50", "40", "4", "60") == ["40", "40"]
    assert _split("30", "40", "4", "36") == ["30"]


def test_joins_that_bring_nothing() -> None:
    """Where a join takes the whole width there is no way."""
    assert _split("50", "40", "40") == []


def test_the_sum_is_told() -> None:
    """The text of a joined strip is a sum that holds."""
    lengths = split_run(Fraction(104), usable=Fraction(42), loss=Fraction(5), ruler=_EIGHTH)
    assert spliced_text(lengths, Fraction(5), "joins", Notation("in")) == "2 × 42 + 30 less 2 × 5 for joins = 104 in"


_EIGHTHS = st.integers(min_value=1, max_value=4000).map(lambda number: Fraction(number, 8))


@settings(deadline=None, derandomize=True)
@given(run=_EIGHTHS, usable=_EIGHTHS, loss=_EIGHTHS, shortest=_EIGHTHS)
def test_strips_reach_the_run_and_one_less_does_not(
    run: Fraction, usable: Fraction, loss: Fraction, shortest: Fraction
) -> None:
    """However the lengths fall: no strip is longer than the cloth is wide, they reach, and one less would not."""
    lengths = split_run(run, usable=usable, loss=loss, shortest=shortest, ruler=_EIGHTH)
    if not lengths:
        assert run > usable
        assert usable <= loss
        return
    number = len(lengths)
    assert max(lengths) <= usable
    assert sum(lengths) - (number - 1) * loss >= run
    assert number == 1 or (number - 1) * usable - (number - 2) * loss < run
    assert number == 1 or min(lengths) >= min(shortest, usable)
