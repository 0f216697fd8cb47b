"""Squares that become triangles show their lines: what the arithmetic says of them is what the drawings look for."""

from __future__ import annotations

import pytest

from ellwand.model import Piece
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out
from ellwand_cli.views.diagonals import bias_lines, cut_on_lines, is_bias, is_cut_on
from ellwand_cli.views.pen import Box

# Every kind of square that is cut on, and some that are not; invented.
TRIANGLES = """
[project]
name = "triangles"
[quilt]
across = 2
down = 2
setting = "on point"
triangles = "oat"
[[block]]
name = "mill"
count = 5
finished = [8, 8]
[[block.piece]]
name = "two"
fabric = "oat"
patch = "half-square"
finished = [2, 2]
count = 8
[[block.piece]]
name = "eight"
fabric = "oat"
patch = "half-square"
finished = [2, 2]
count = 8
yields = 8
[[block.piece]]
name = "four"
fabric = "oat"
patch = "quarter-square"
finished = [4, 4]
count = 4
[[block.piece]]
name = "geese"
fabric = "oat"
sky = "oat"
patch = "geese"
finished = [4, 2]
count = 4
[[block.piece]]
name = "plain"
fabric = "oat"
patch = "square"
finished = [2, 2]
[binding]
fabric = "oat"
grain = "bias"
[fabric.oat]
width = 43
"""


@pytest.fixture(scope="module")
def pieces() -> dict[str, Piece]:
    """Every piece of the project of triangles, in the first way that each part is made."""
    parts = work_out(parse_project(TRIANGLES, "triangles.toml")).parts
    return {piece.id: piece for part in parts for piece in part.options[0].pieces}


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        ("mill/two", 1),
        ("mill/four", 2),
        ("mill/eight", 2 + 4),
        ("triangle/side", 2),
        ("triangle/corner", 1),
        ("binding/1", 1),
        ("mill/geese", 0),
        ("mill/geese/sky", 0),
        ("mill/plain", 0),
    ],
)
def test_lines_are_as_many_as_cuts(pieces: dict[str, Piece], name: str, lines: int) -> None:
    """2, 4 and 8 triangles from a square take 1, 2 and 2 + 4 cuts; geese are sewn before they are cut apart."""
    assert len(cut_on_lines(pieces[name], Box(10, 20, 40, 40))) == lines
    assert is_cut_on(pieces[name]) is (lines > 0)


def test_lines_go_from_corner_to_corner(pieces: dict[str, Piece]) -> None:
    """A square cut once or twice is cut through its corners, one cut in four through the middles of its sides too."""
    box = Box(10, 20, 40, 40)

    assert cut_on_lines(pieces["mill/two"], box) == [((10, 60), (50, 20))]
    assert cut_on_lines(pieces["mill/four"], box) == [((10, 60), (50, 20)), ((10, 20), (50, 60))]
    assert set(cut_on_lines(pieces["mill/eight"], box)) == {
        ((30, 20), (30, 60)), ((10, 40), (50, 40)),
        ((10, 40), (30, 20)), ((10, 60), (30, 40)), ((30, 40), (50, 20)), ((30, 60), (50, 40)),
    }  # fmt: skip


def test_bias_strips_lie_along_the_cut(pieces: dict[str, Piece]) -> None:
    """In a square of 40 points strips of 10 lie 10 × √2 apart on its edges, two on each side of the cut."""
    lines = bias_lines(Box(10, 20, 40, 40), 10.0)

    assert is_bias(pieces["binding/1"])
    assert not is_bias(pieces["mill/two"])
    assert len(lines) == 4
    for (x, y), (u, v) in lines:
        assert (u - x) + (v - y) == pytest.approx(0)
        away = abs((x - 10) + (y - 60)) / 2**0.5
        assert away == pytest.approx(10) or away == pytest.approx(20)


def test_strips_too_narrow_to_see_are_not_drawn() -> None:
    """Lines two points apart would be a grey patch."""
    assert bias_lines(Box(10, 20, 40, 40), 2.0) == []
