"""Trade facts of binding (B)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.project.tables import Project
from ellwand.quilt.work import work_out
from facts.trade import centre, number, plan, worked

EIGHTH = Fraction(1, 8)


def bound(across: float, down: float, keys: str, *, seam: str = "1/4 in", cloth: str, ruler: str = "1/8 in") -> Project:
    """A quilt of that bound size; joins are sewn with `seam`, the binding with 1/4 in."""
    tables = f'[binding]\nfabric = "f"\nseam = "1/4 in"\nshortest = 0\n{keys}'
    head = f'seam = "{seam}"\nruler = "{ruler}"'
    return centre(f"[{across - 0.5}, {down - 0.5}]", tables, head=head, cloth=cloth)


def strips(run: Fraction, strip: str, width: str) -> int:
    """How many strips from that `width` make up `run`, joined on the diagonal: 8 in go round, the rest is extra."""
    project = bound(2, 2, f'strip = "{strip}"\nextra = "{run - 8}"', cloth=f"width = {width}")
    return number(worked(project)[1].values())


def test_b1_two_inches_lost_in_each_join() -> None:
    """50 × 60 from 40 in, 2 lost in each join: 220/38 = 5.79, so 6 strips."""
    # Source: class notes, 2013 (B1)
    pieces = worked(bound(50, 60, "strip = 2\nextra = 0", cloth="width = 40"))[1]

    assert number(pieces.values()) == 6


@pytest.mark.parametrize(("step", "bought"), [("1/4 yd", Fraction(18)), ("1/8 yd", Fraction(27, 2))])
def test_b2_strips_are_bought_in_steps(step: str, bought: Fraction) -> None:
    """46 × 46 from 40 in: 184/40 = 4.6, so 5 strips of 2 1/2, 12.5 in: 1/2 yd in quarters, 3/8 yd in eighths."""
    # Source: shop hand-out (B2), nothing lost in joins
    keys = 'strip = "2 1/2"\nextra = 0\njoin = "straight"'
    answer = plan(bound(46, 46, keys, seam="0 in", cloth=f'width = 40\nsold_by = "{step}"'))

    assert number(answer.pieces) == 5
    assert answer.needed == Fraction(25, 2)
    assert answer.bought == bought


def test_b3_ten_inches_more() -> None:
    """54 × 60 and 10 in more from 42 in: 238 in, 5.67, so 6 strips."""
    # Source: designer's article, 2019 (B3), nothing lost in joins
    pieces = worked(bound(54, 60, 'strip = "2 1/2"\nextra = 10\njoin = "straight"', seam="0 in", cloth="width = 42"))[1]

    assert number(pieces.values()) == 6
    assert "= 238 in" in pieces["binding/1"].why


@pytest.mark.parametrize(("strip", "shows"), [("2", "3/8 in"), ("2 1/2", "1/2 in")])
def test_b4_folded_double(strip: str, shows: str) -> None:
    """A strip of 2 in shows 3/8 in, one of 2 1/2 shows 1/2: four times that and two seams of 1/4."""
    # Source: FMQ guild, binding notes (B4), loft not counted
    pieces = worked(bound(40, 40, f'strip = "{strip}"', cloth="width = 42"))[1]

    assert f"shows {shows}" in pieces["binding/1"].why


@pytest.mark.parametrize(
    ("strip", "width", "reach"),
    [("3", "10", Fraction(17)), ("5", "7", Fraction(9)), ("1 1/2", "20", Fraction(77, 2))],
)
def test_b5_a_diagonal_join_takes_the_strips_width(strip: str, width: str, reach: Fraction) -> None:
    """Two 3 × 10 reach 17, two 5 × 7 reach 9, two 1 1/2 × 20 reach 38 1/2, and not an eighth more."""
    # Source: studio notes, 2012 (B5)
    assert strips(reach, strip, width) == 2
    assert strips(reach + EIGHTH, strip, width) == 3


@pytest.mark.parametrize("n", range(1, 9))
def test_b6_what_strips_reach(n: int) -> None:
    """Strips of 40 in, 2 1/2 wide: n of them reach n·40 − (n − 1)·2 1/2."""
    # derived (B6) from B5
    reach = n * 40 - (n - 1) * Fraction(5, 2)

    assert strips(reach, "2 1/2", "40") == n
    assert strips(reach + EIGHTH, "2 1/2", "40") == n + 1


def test_b7_one_join_too_many() -> None:
    """230 in from 40 in, strips of 2 1/2: six make 227 1/2, which is short; seven would make 265."""
    # derived (B7) from B6
    assert strips(Fraction(455, 2), "2 1/2", "40") == 6
    assert strips(Fraction(230), "2 1/2", "40") == 7
    assert strips(Fraction(265), "2 1/2", "40") == 7


def test_b8_what_is_cut_by_default() -> None:
    """Once round, 2·(L + W), and 12–16 in more; 3 in wide sewn at 3/8 reaches the back without a warning."""
    # common practice, no source (B8)
    keys = '[binding]\nfabric = "f"\nstrip = 3\nseam = "3/8 in"'
    project = centre("[49.25, 59.25]", keys, head='seam = "3/8 in"', cloth="width = 300")
    quilt, pieces = worked(project)

    assert 2 * (50 + 60) + 12 <= pieces["binding/1"].across <= 2 * (50 + 60) + 16
    assert quilt.warnings == ()


def one_square(run: int, strip: str, *, seam: str, ruler: str = "1/8 in") -> Fraction:
    """Side of the single square from which a bias binding of `run` is cut."""
    keys = f'grain = "bias"\nstrip = "{strip}"\nextra = {run - 8}'
    (binding,) = work_out(bound(2, 2, keys, seam=seam, ruler=ruler, cloth="width = 42")).parts
    (square,) = (way.pieces[0] for way in binding.options if number(way.pieces) == 1)
    assert square.across == square.along
    return square.across


def test_b9_bias_from_a_square_of_20() -> None:
    """A square of 20 is 400/2 = 200 in of 2-in strip, its seams not counted; 190 with two of 1/4 in."""
    # Source: sewing forum thread 680 (B9); derived: (400 − 4·1/4·20)/2
    assert one_square(200, "2", seam="0 in") == 20
    assert one_square(190, "2", seam="1/4 in") == 20
    assert one_square(191, "2", seam="1/4 in") > 20


def test_b10_a_square_for_250_inches() -> None:
    """250 in of 2-in bias: √500 = 22.36, so a square of 23."""
    # Source: sewing forum thread 680 (B10), seams not counted
    assert one_square(250, "2", seam="0 in", ruler="1 in") == 23


def test_b11_a_square_for_ten_yards() -> None:
    """10 yd of 3-in bias: √1080 = 32.86, and an inch for the seams: a square of 34."""
    # Source: shop article (B11)
    assert one_square(360, "3", seam="0 in", ruler="1 in") == 33
    assert one_square(360, "3", seam="1/4 in", ruler="1 in") == 34
