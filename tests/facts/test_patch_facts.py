"""Trade facts of triangles and geese (M1–M7), all with seams of 1/4 in."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.lengths import parse_length
from ellwand.model import Piece
from facts.trade import read, worked


def inches(text: str) -> Fraction:
    """A length from text."""
    return parse_length(text, unit="in")


def patches(finished: str, keys: str, ruler: str = "1/8 in") -> dict[str, Piece]:
    """The pieces of a block that has one kind of patch."""
    tables = f"""
[quilt]
[[block]]
name = "b"
finished = [12, 12]
[[block.piece]]
name = "p"
fabric = "f"
finished = {finished}
count = 4
{keys}
"""
    return worked(read(tables, head=f'ruler = "{ruler}"'))[1]


def on_point(finished: str) -> dict[str, Piece]:
    """The setting triangles of 3 × 3 blocks on point, with no border and no binding."""
    tables = f"""
[quilt]
across = 3
down = 3
setting = "on point"
triangles = "f"
[[block]]
name = "b"
finished = [{finished}, {finished}]
[[block.piece]]
name = "ground"
fabric = "f"
"""
    return worked(read(tables))[1]


@pytest.mark.parametrize(("finished", "cut"), [("2", "2 7/8"), ("3", "3 7/8"), ("6", "6 7/8")])
def test_m1_half_square_triangles(finished: str, cut: str) -> None:
    """The square is 7/8 in more than they finish, and gives two."""
    # Source: K. Combs, Formulas for Quilters, 2002; guild newsletter (M1)
    square = patches(f"[{finished}, {finished}]", 'patch = "half-square"')["b/p"]

    assert (square.across, square.along, square.count) == (inches(cut), inches(cut), 4 // 2)


@pytest.mark.parametrize(("finished", "cut"), [("3", "4 1/4"), ("4", "5 1/4"), ("5.5", "6 3/4")])
def test_m2_quarter_square_triangles(finished: str, cut: str) -> None:
    """The square is 1 1/4 in more than they finish, and gives four."""
    # Source: North Hampshire Quilters (M2)
    square = patches(f"[{finished}, {finished}]", 'patch = "quarter-square"')["b/p"]

    assert (square.across, square.along, square.count) == (inches(cut), inches(cut), 4 // 4)


@pytest.mark.parametrize(("shape", "constant"), [("half-square", "0.85355"), ("quarter-square", "1.20711")])
def test_m3_exact_constants(shape: str, constant: str) -> None:
    """(2 + √2)/4 and (1 + √2)/2: on a fine ruler the square is that much more, up to one mark."""
    # derived (M3): geometry; the printed 7/8 and 1 1/4 are rounded up
    mark = Fraction("0.004")
    square = patches("[3, 3]", f'patch = "{shape}"', ruler=f"{float(mark)} in")["b/p"]

    assert 0 <= square.across - 3 - Fraction(constant) < mark


@pytest.mark.parametrize(("finished", "cut"), [("6", "9 3/4"), ("8", "12 5/8"), ("12", "18 1/4")])
def test_m4_m6_side_setting_triangles(finished: str, cut: str) -> None:
    """fin·√2 + 1 1/4, up to 1/8, cut twice: the eight sides of 3 × 3 blocks come from two squares."""
    # Source: on-point chart, Lukas (M4, M6)
    square = on_point(finished)["triangle/side"]

    assert (square.across, square.along, square.count) == (inches(cut), inches(cut), 2)


@pytest.mark.parametrize(
    ("finished", "cut"), [("6", "5 1/8"), ("8", "6 5/8"), ("12", "9 3/8"), ("10", "8"), ("16", "12 1/4")]
)
def test_m5_m6_corner_setting_triangles(finished: str, cut: str) -> None:
    """fin/√2 + 7/8, up to 1/8, cut once: the four corners come from two squares."""
    # Source: on-point chart, Lukas (M5, M6)
    square = on_point(finished)["triangle/corner"]

    assert (square.across, square.along, square.count) == (inches(cut), inches(cut), 2)


@pytest.mark.parametrize(
    ("finished", "large", "small"),
    [("[2, 1]", "3 1/4", "1 7/8"), ("[3, 1.5]", "4 1/4", "2 3/8"), ("[4, 2]", "5 1/4", "2 7/8")],
)
def test_m7_four_geese_at_once(finished: str, large: str, small: str) -> None:
    """One large square and four small ones give four geese."""
    # Source: practitioners' charts (M7)
    pieces = patches(finished, 'patch = "geese"\nsky = "f"')
    goose, sky = pieces["b/p"], pieces["b/p/sky"]

    assert (goose.across, goose.along, goose.count) == (inches(large), inches(large), 1)
    assert (sky.across, sky.along, sky.count) == (inches(small), inches(small), 4)
