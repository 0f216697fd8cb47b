"""Borders with a square of cloth in each corner."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import Piece, Quilt, Role

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]
_BRASS = "[fabric.brass]\nwidth = 42\nselvage = 0\n"


def _border(width: str, keys: str = "", name: str = "outer") -> str:
    return f'[[border]]\nname = "{name}"\nwidth = {width}\nfabric = "oat"\ncorners = "cornerstones"\n{keys}\n'


def _pieces(quilt: Quilt) -> dict[str, Piece]:
    return {piece.id: piece for part in quilt.parts for piece in part.pieces}


def test_strips_are_as_long_as_the_centre(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """With seams of 1/4 everywhere all four strips are the centre's raw length, the corners the border's cut width."""
    # Source: quilting magazine (R5): a corner square is the border's cut width, 4 finished → 4 1/2
    quilt = of_centre("[40, 50]", _border("4"), usable="60")
    # derived: 40 + 1/2, 50 + 1/2
    assert cut_sizes(quilt) == {
        "outer/top": ("9/2", "81/2", 1),
        "outer/bottom": ("9/2", "81/2", 1),
        "outer/left": ("9/2", "101/2", 1),
        "outer/right": ("9/2", "101/2", 1),
        "outer/cornerstone": ("9/2", "9/2", 4),
    }


def test_a_seam_belongs_to_its_line(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Inner line 1/2, edge 5/8, strip to cornerstone 3/8 (the project's): sides first, then top and bottom."""
    binding = '[binding]\nfabric = "oat"\nseam = "5/8 in"\nstrip = "5 in"\n'
    border = _border("3", keys='seam = "1/2 in"\nextra = 1')
    quilt = of_centre("[20, 30]", border + binding, basics='seam = "3/8 in"\ncopies = 2', usable="60")
    sizes = cut_sizes(quilt)
    width = str(3 + Fraction(1, 2) + Fraction(5, 8))
    # derived: 30 + 2·1/2 + 1, and 20 + 2·3/8 + 1
    assert sizes["outer/left"] == (width, "32", 2)
    assert sizes["outer/top"] == (width, str(Fraction(87, 4)), 2)
    # derived: across 3 + 3/8 + 5/8, down as wide as the strips
    assert sizes["outer/cornerstone"] == ("4", width, 8)
    # sewn in a row, the spare inch cut off: two corners and the strip, less two seams of 3/8 on both sides of each line
    across, strip = Fraction(sizes["outer/cornerstone"][0]), Fraction(sizes["outer/top"][1]) - 1
    assert quilt.sizes is not None
    assert 2 * across + strip - 4 * Fraction(3, 8) == quilt.sizes.raw[0] == 20 + 6 + Fraction(5, 4)


def test_sums_places_and_sizes(of_centre: Callable[..., Quilt]) -> None:
    """What is told of strips and corners."""
    pieces = _pieces(of_centre("[20, 30]", _border("3", keys='seam = "1/2 in"\nextra = 1'), usable="60"))
    top, left, corner = (pieces[f"outer/{name}"] for name in ("top", "left", "cornerstone"))
    assert top.why == (
        "width 3 + 1/2 + 1/4 seams = 3 3/4 in; length 20 side + 2 × 1/4 seam + 1 extra = 21 1/2 in, "
        "1/2 in spare at each end"
    )
    assert left.why == ("width as outer/top; length 30 side + 2 × 1/2 seam + 1 extra = 32 in, 1/2 in spare at each end")
    assert corner.why == "across 3 + 1/4 + 1/4 seams = 3 1/2 in; down 3 + 1/2 + 1/4 seams = 3 3/4 in"
    assert [[str(side) for side in piece.finished or ()] for piece in (top, left, corner)] == [
        ["20", "3"], ["3", "30"], ["3", "3"],
    ]  # fmt: skip
    assert corner.where == "corners of the outer border"
    assert corner.after == "sew to both ends of outer/top and outer/bottom"
    assert (corner.role, corner.turnable) == (Role.BORDER, True)


def test_cornerstones_of_their_own_cloth(of_centre: Callable[..., Quilt]) -> None:
    """Another fabric makes another part; of one-way cloth they lie as they hang."""
    keys = 'cornerstones = "brass"'
    quilt = of_centre("[20, 30]", _border("3", keys=keys) + _BRASS)
    assert [(part.name, part.fabric) for part in quilt.parts] == [("outer", "oat"), ("outer/cornerstone", "brass")]
    hanging = of_centre("[20, 30]", _border("3", keys=keys) + _BRASS + 'way = "one-way"\n')
    assert not _pieces(hanging)["outer/cornerstone"].turnable


def test_a_border_outside_one_with_cornerstones(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """The line between two borders has one seam, which the inner one's cornerstones take too."""
    borders = _border("1", name="inner", keys='cornerstones = "brass"') + _border("2", keys='seam = "3/8 in"')
    sizes = cut_sizes(of_centre("[20, 30]", borders + _BRASS))
    assert sizes["inner/cornerstone"] == ("13/8", "13/8", 4)
    # 20 + 2·1 = 22, 30 + 2·1 = 32
    assert (sizes["outer/top"][1], sizes["outer/left"][1]) == ("45/2", "131/4")
    assert sizes["outer/cornerstone"][:2] == ("5/2", "21/8")


def test_joins_hold_as_on_any_border(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Crosswise strips of 60 1/2 in take one join, with the shortest bit and the number of joins as asked."""
    keys = 'cut = "crosswise"\nshortest = 30'
    sizes = cut_sizes(of_centre("[20, 60]", _border("3", keys=keys)))
    # 60 1/2 + 3 1/2 − 42 = 22, raised to 30
    assert (sizes["outer/left/1"][0], sizes["outer/left/2"][0]) == ("42", "30")
    with pytest.raises(NoPlanError, match=r"outer/left: is 60 1/2 in long, and oat reaches 42 in with joins = 0"):
        of_centre("[20, 60]", _border("3", keys=f"{keys}\njoins = 0"))


def test_cornerstones_wider_than_their_cloth(of_centre: Callable[..., Quilt]) -> None:
    """The place and what is missing are told."""
    brass = "[fabric.brass]\nwidth = 4\nselvage = 0\n"
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[20, 30]", _border("5", keys='cornerstones = "brass"') + brass)
    assert str(refusal.value) == (
        "trial.toml: outer/cornerstone: is cut 5 1/2 in wide, and brass can be used for 4 in. 1 1/2 in missing. "
        "Take a wider cloth for it, or check the width of brass."
    )
