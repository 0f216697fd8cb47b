"""Pieced patches: squares, rectangles, triangles cut from squares, flying geese."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import ceil, sqrt

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import Piece, Quilt

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]

_BLOCK = """
[quilt]
across = {across}
down = 4
{setting}
[[block]]
name = "star"
finished = [12, 12]
"""
_PATCH = """
  [[block.piece]]
  name = "point"
  fabric = "oat"
  patch = "{shape}"
  finished = [{finished}]
"""


def _block(across: int = 3, setting: str = "") -> str:
    return _BLOCK.format(across=across, setting=setting)


def _text(shape: str, finished: str, keys: str = "", *, across: int = 3) -> str:
    return _block(across) + _PATCH.format(shape=shape, finished=finished) + keys + "\n"


def _warned(quilt: Quilt) -> tuple[str, ...]:
    """What is warned of beside patches that do not fill their block, as these few never do."""
    return tuple(text for text in quilt.warnings if "patches fill" not in text)


def _first(quilt: Quilt) -> Piece:
    return quilt.parts[0].pieces[0]


@pytest.mark.parametrize(("finished", "cut"), [("2", "23/8"), ("3", "31/8"), ("6", "55/8")])
def test_m1_half_square_triangles(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes, finished: str, cut: str) -> None:
    """A square for two half-square triangles is 7/8 in larger than they finish, at seams of 1/4 in."""
    # Source: K. Combs, Formulas for Quilters, 2002; guild newsletter (M1)
    quilt = of_pieces(_text("half-square", f"{finished}, {finished}", "count = 5"))
    # derived: 5 in each of 12 blocks, 2 from a square
    assert cut_sizes(quilt) == {"star/point": (cut, cut, 30)}


@pytest.mark.parametrize(("finished", "cut"), [("3", "17/4"), ("4", "21/4"), ("5.5", "27/4")])
def test_m2_quarter_square_triangles(
    of_pieces: Callable[..., Quilt], cut_sizes: _Sizes, finished: str, cut: str
) -> None:
    """A square for four quarter-square triangles is 1 1/4 in larger than they finish, at seams of 1/4 in."""
    # Source: North Hampshire Quilters (M2)
    quilt = of_pieces(_text("quarter-square", f"{finished}, {finished}", "count = 5"))
    # derived: 5 in each of 12 blocks, 4 from a square
    assert cut_sizes(quilt) == {"star/point": (cut, cut, 15)}


@pytest.mark.parametrize(
    ("shape", "constant"), [("half-square", (2 + sqrt(2)) / 4), ("quarter-square", (1 + sqrt(2)) / 2)]
)
def test_m3_exact_constants(of_pieces: Callable[..., Quilt], shape: str, constant: float) -> None:
    """On a fine ruler the printed 7/8 and 1 1/4 are a hair less: 0.8536 and 1.2071."""
    # Source: geometry (M3)
    piece = _first(of_pieces(_text(shape, "3, 3"), basics='ruler = "1/128 in"'))
    assert piece.across - 3 == Fraction(ceil(constant * 128), 128)
    assert piece.across - 3 < {"half-square": Fraction(7, 8), "quarter-square": Fraction(5, 4)}[shape]


@pytest.mark.parametrize(("shape", "seams"), [("half-square", 2 + sqrt(2)), ("quarter-square", 2 + 2 * sqrt(2))])
def test_any_seam(of_pieces: Callable[..., Quilt], shape: str, seams: float) -> None:
    """With another seam the constants grow with it; in centimetres they are no inches turned over."""
    # derived from geometry (M3): (2 + √2) and (2 + 2√2) seams
    inches = _first(of_pieces(_text(shape, "3, 3", 'seam = "3/8 in"')))
    assert inches.across == 3 + Fraction(ceil(seams * 3), 8)
    metric = _first(of_pieces(_text(shape, "8, 8"), basics='unit = "cm"', usable="110"))
    assert metric.across == Fraction(80 + ceil(seams * 7)) * Fraction(5, 127)
    none = _first(of_pieces(_text(shape, "3, 3", "seam = 0")))
    assert none.across == 3


@pytest.mark.parametrize(
    ("finished", "large", "small"),
    [("2, 1", "13/4", "15/8"), ("3, 1.5", "17/4", "19/8"), ("4, 2", "21/4", "23/8")],
)
def test_m7_four_geese_at_once(
    of_pieces: Callable[..., Quilt], cut_sizes: _Sizes, finished: str, large: str, small: str
) -> None:
    """Four geese come from one large square and four small ones of the sky."""
    # Source: practitioners' charts (M7)
    quilt = of_pieces(_text("geese", finished, 'sky = "rye"\ncount = 3') + "[fabric.rye]\nwidth = 42\n")
    # derived: 3 in each of 12 blocks are 36 geese, 9 large squares and 36 small ones
    assert cut_sizes(quilt) == {"star/point": (large, large, 9), "star/point/sky": (small, small, 36)}
    goose, sky = (part.pieces[0] for part in quilt.parts)
    assert (goose.fabric, sky.fabric) == ("oat", "rye")
    assert goose.where == "12 star blocks, 3 geese in each"
    assert sky.where == "12 star blocks, beside 3 geese in each"
    assert goose.after.startswith("four geese from a square; sew a small square to two opposite corners")


def test_geese_that_do_not_fill_a_square(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Four blocks with one goose each take one square; three take one as well, in each of five copies."""
    one = of_pieces(_text("geese", "4, 2", 'sky = "oat"', across=1))
    assert [count for _, _, count in cut_sizes(one).values()] == [1, 4]
    text = _text("geese", "4, 2", 'sky = "oat"', across=1).replace("down = 4", "down = 3")
    assert [count for _, _, count in cut_sizes(of_pieces(text, basics="copies = 5")).values()] == [5, 20]


def test_one_goose_at_a_time(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A goose alone is a rectangle with a square of sky flipped over on each end: all with plain seams."""
    quilt = of_pieces(_text("geese", "4, 2", 'sky = "oat"\nyields = 1\ncount = 3'))
    # derived: 4 + 1/2 by 2 + 1/2; the squares are as high
    assert cut_sizes(quilt) == {"star/point": ("9/2", "5/2", 36), "star/point/sky": ("5/2", "5/2", 72)}
    goose, sky = (part.pieces[0] for part in quilt.parts)
    assert goose.why == "across 4 finished + 2 × 1/4 seams = 4 1/2 in; down 2 finished + 2 × 1/4 seams = 2 1/2 in"
    assert goose.after == "a small square sewn to each end on its diagonal, trimmed and flipped"
    assert sky.after == "sewn on the diagonal to an end of the goose"


def test_squares_and_rectangles(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Plain patches are cut with one seam on every side."""
    square = of_pieces(_text("square", "4, 4", "count = 2"))
    assert cut_sizes(square) == {"star/point": ("9/2", "9/2", 24)}
    piece = _first(square)
    assert (piece.why, piece.after) == ("4 finished + 2 × 1/4 seams = 4 1/2 in", "")
    assert piece.finished == (Fraction(4), Fraction(4))
    assert piece.where == "12 star blocks, 2 in each"
    rectangle = of_pieces(_text("rectangle", "4, 6", 'grain = "crosswise"'))
    assert cut_sizes(rectangle) == {"star/point": ("13/2", "9/2", 12)}


def test_eight_triangles_from_a_square(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A square twice the size, rounded up once, gives eight: 2 × (3 + 0.8536) = 7.71, not 2 × 3 7/8."""
    quilt = of_pieces(_text("half-square", "3, 3", "yields = 8\ncount = 5"))
    # derived from M3: 60 triangles, 8 from a square
    assert cut_sizes(quilt) == {"star/point": ("31/4", "31/4", 8)}
    fine = _first(of_pieces(_text("half-square", "3, 3", "yields = 8"), basics='ruler = "1/64 in"'))
    assert fine.across == Fraction(ceil((6 + (2 + sqrt(2)) / 2) * 64), 64) < Fraction(31, 4)
    assert fine.why == "2 × (3 leg + 2 × 1/4 + √2 × 1/4 seams) ≈ 7 11/16 in, on the ruler 7 23/32 in"
    assert fine.after == "cut in four squares and each of these once on the diagonal, 8 triangles from a square"


def test_sums_with_a_root_are_told_as_near(of_pieces: Callable[..., Quilt]) -> None:
    """The sum shows where √2 comes in, says that its result is near, and what is cut."""
    quarter = _first(of_pieces(_text("quarter-square", "3, 3", "count = 4")))
    assert quarter.why == "3 long side + 2 × 1/4 + 2√2 × 1/4 seams ≈ 4 3/16 in, on the ruler 4 1/4 in"
    assert quarter.after == "cut twice on the diagonal, 4 triangles from a square"
    assert quarter.where == "12 star blocks, 4 triangles in each"
    half = _first(of_pieces(_text("half-square", "8, 8"), basics='unit = "cm"', usable="110"))
    assert half.why == "8 leg + 2 × 0.7 + √2 × 0.7 seams ≈ 10.39 cm, on the ruler 10.4 cm"
    assert half.where == "12 star blocks, 1 triangle in each"


def test_a_single_block(of_pieces: Callable[..., Quilt]) -> None:
    """One block is spoken of alone."""
    text = _text("square", "4, 4", across=1).replace("down = 4", "down = 1")
    assert _first(of_pieces(text)).where == "the star block, 1 in it"


def test_patches_of_one_way_cloth_lie_as_they_hang(of_pieces: Callable[..., Quilt]) -> None:
    """Rectangles and squares of a print with a top are not turned, and there is nothing to warn of."""
    # Source: class notes (M18): directional rectangles are needed as they hang
    quilt = of_pieces(_text("rectangle", "4, 6"), keys='way = "one-way"')
    assert not _first(quilt).turnable
    assert _warned(quilt) == ()
    assert _first(of_pieces(_text("rectangle", "4, 6"))).turnable


@pytest.mark.parametrize(
    ("shape", "way", "warned"),
    [
        ("half-square", "any", False),
        ("half-square", "stripe", False),  # both halves are alike when one is turned round
        ("half-square", "one-way", True),
        ("quarter-square", "any", False),
        ("quarter-square", "stripe", True),
        ("quarter-square", "one-way", True),
    ],
)
def test_triangles_of_cloth_with_a_way(of_pieces: Callable[..., Quilt], shape: str, way: str, warned: bool) -> None:
    """A square gives triangles whose print lies different ways, and the project says so."""
    quilt = of_pieces(_text(shape, "3, 3"), keys=f'way = "{way}"')
    cloth = "striped cloth" if way == "stripe" else "one-way cloth"
    text = (
        f"block star: patch point is of {cloth}, oat: the print does not lie the same way on all triangles of a "
        "square: sort them before sewing, or cut more."
    )
    assert _warned(quilt) == ((text,) if warned else ())


def test_geese_of_cloth_with_a_way(of_pieces: Callable[..., Quilt]) -> None:
    """Four geese of a square have their print four ways; one goose hangs as it is cut, its sky does not."""
    keys = 'way = "one-way"'
    four = of_pieces(_text("geese", "4, 2", 'sky = "oat"'), keys=keys)
    assert _warned(four) == (
        "block star: patch point is of one-way cloth, oat: the print does not lie the same way on all four geese of "
        "a square: with yields = 1 it does.",
        "block star: the sky of patch point is of one-way cloth, oat: the print does not lie the same way on all its "
        "triangles.",
    )
    one = of_pieces(_text("geese", "4, 2", 'sky = "oat"\nyields = 1'), keys=keys)
    assert _warned(one) == (
        "block star: the sky of patch point is of one-way cloth, oat: flipped on the diagonal its print lies sideways: "
        "turn the squares first.",
    )


def test_patches_that_do_not_fill_their_block(of_pieces: Callable[..., Quilt]) -> None:
    """A wrong count is told: four 6-in squares of halves fill a 12-in block, three do not, five are too many."""
    halves = of_pieces(_text("half-square", "6, 6", "count = 8"))
    assert halves.warnings == ()
    few = of_pieces(_text("half-square", "6, 6", "count = 6"))
    assert few.warnings == ("block star: its patches fill 75.0 % of it: look at their counts and sizes.",)
    many = of_pieces(_text("quarter-square", "6, 6", "count = 20"))
    assert many.warnings == ("block star: its patches fill 125.0 % of it: look at their counts and sizes.",)
    geese = of_pieces(_text("geese", "6, 3", 'sky = "oat"\ncount = 8'))
    assert geese.warnings == ()


def test_another_seam_than_the_block(of_pieces: Callable[..., Quilt]) -> None:
    """Patches have one seam on all sides; at the edge of a block that is joined with another, that one is needed."""
    patch = _PATCH.format(shape="square", finished="4, 4")
    block = _block() + 'seam = "1/2 in"\n'
    same = of_pieces(block + patch + 'seam = "1/2 in"\n')
    assert not any(text.startswith("block") for text in _warned(same))
    one = of_pieces(block + patch)
    assert _warned(one)[0] == (
        "block star: patch point has a seam of 1/4 in on all sides, and blocks are joined with 1/2 in: what lies at "
        "the block's edge needs 1/2 in there."
    )
    two = of_pieces(block + patch + patch.replace("point", "middle"))
    assert _warned(two)[0].startswith("block star: patches point, middle have a seam of 1/4 in on all sides")


def test_a_patch_wider_than_its_cloth(of_pieces: Callable[..., Quilt]) -> None:
    """It is refused by its own name, with what is missing."""
    with pytest.raises(NoPlanError) as refusal:
        of_pieces(_text("quarter-square", "12, 12"), usable="13")
    assert str(refusal.value).startswith("trial.toml: star/point: is cut 13 1/4 in wide, and oat can be used for 13 in")
