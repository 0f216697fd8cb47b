"""How many pieces a project cuts, counted by hand."""

from __future__ import annotations

import pytest

from ellwand.project.amounts import pieces_in_all
from ellwand.project.read import parse_project

QUILT = """
[project]
name = "Reed"
copies = COPIES
[quilt]
across = 3
down = 4
SETTING
[[block]]
name = "heron"
finished = [8, 8]
[[block.piece]]
name = "bit"
fabric = "ink"
INSIDE
PARTS
[fabric.ink]
width = 43
"""
SASHING = '[sashing]\nwidth = 1\nfabric = "ink"\n'


def _count(*, setting: str = "", inside: str = "", parts: str = "", copies: int = 1) -> int:
    text = QUILT.replace("SETTING", setting).replace("INSIDE", inside).replace("PARTS", parts)
    return pieces_in_all(parse_project(text.replace("COPIES", str(copies)), "reed.toml"))


@pytest.mark.parametrize(
    ("patch", "squares"),
    [
        ('patch = "square"\nfinished = [4, 4]\ncount = 3', 36),  # 3 in each of 12 blocks
        ('patch = "half-square"\nfinished = [4, 4]\ncount = 3', 18),  # two from one
        ('patch = "half-square"\nfinished = [4, 4]\ncount = 3\nyields = 8', 5),  # 36 are four times eight and four more
        ('patch = "quarter-square"\nfinished = [4, 4]\ncount = 3', 9),  # four from one
        ('patch = "geese"\nfinished = [4, 2]\nsky = "ink"\ncount = 3', 45),  # 9 large ones with four small ones each
        ('patch = "geese"\nfinished = [4, 2]\nsky = "ink"\ncount = 3\nyields = 1', 108),  # 36 with two small ones each
    ],
)
def test_patches_are_counted_as_squares(patch: str, squares: int) -> None:
    """Tests that what is cut is counted, not what it gives."""
    assert _count(inside=patch) == squares


def test_each_copy_has_whole_squares() -> None:
    """Tests that kits can be packed: a quilt of 36 triangles takes 4.5 squares of eight, so 5 quilts take 5 each."""
    patch = 'patch = "half-square"\nfinished = [4, 4]\ncount = 3\nyields = 8'

    assert _count(inside=patch, copies=5) == 25


@pytest.mark.parametrize(
    ("more", "sashes"),
    [
        ("", 2 * 4 + 3),  # upright ones in four rows, level ones that run through
        ("outside = true", 4 * 4 + 5),
        ('cornerstones = "ink"', 2 * 4 + 3 * 3 + 2 * 3),  # between columns, between rows, where they meet
        # n rows and m columns with sashing outside: (n+1)m + (m+1)n sashes, (n+1)(m+1) cornerstones (derived)
        ('cornerstones = "ink"\noutside = true', 5 * 3 + 4 * 4 + 5 * 4),
    ],
)
def test_sashing(more: str, sashes: int) -> None:
    """Tests that sashes and cornerstones of 3 × 4 blocks are counted, in each of two copies."""
    assert _count(parts=SASHING + more, copies=2) == 2 * (12 + sashes)


@pytest.mark.parametrize(("copies", "squares"), [(1, 3 + 2), (2, 6 + 4)])
def test_triangles_on_point(copies: int, squares: int) -> None:
    """Tests that 2 × 2 + 2 × 3 side triangles come four from a square, and four corners two from one."""
    assert _count(setting='setting = "on point"\ntriangles = "ink"', copies=copies) == copies * 18 + squares


def test_borders() -> None:
    """Tests that a border is four strips, and four squares more where it has cornerstones."""
    borders = '[[border]]\nname = "inner"\nwidth = 1\nfabric = "ink"\n'
    borders += '[[border]]\nname = "outer"\nwidth = 1\nfabric = "ink"\ncorners = "cornerstones"\n'

    assert _count(parts=borders) == 12 + 4 + 8


def test_sheets_and_loose_pieces() -> None:
    """Tests that each hooping of each block takes a sheet a layer, and that copies take loose pieces again."""
    parts = (
        '[stabiliser]\nfabric = "ink"\nlayers = 2\n[[piece]]\nname = "label"\nfabric = "ink"\ncut = [3, 4]\ncount = 5'
    )
    text = QUILT.replace("finished = [8, 8]", "finished = [8, 8]\nframe = [10, 10]\nhoopings = 3")
    text = text.replace("SETTING", "").replace("INSIDE", "").replace("PARTS", parts).replace("COPIES", "2")

    assert pieces_in_all(parse_project(text, "reed.toml")) == 2 * (12 + 12 * 3 * 2 + 5)
