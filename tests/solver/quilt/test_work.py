"""Two small projects worked by hand, every sum written out."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from ellwand.model import Quilt

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]

# Invented. Twelve hoop-stitched blocks, two mitred borders sewn together, binding, backing, batting under the borders.
_LANTERNS = """
[quilt]
across = 3
down = 4
[[block]]
name = "lantern"
finished = [8, 8]
seam = "1/2 in"
frame = [10, 10]
  [[block.piece]]
  name = "background"
  fabric = "oat"
  margin = "1 in"
  [[block.piece]]
  name = "batting"
  fabric = "batting"
[stabiliser]
fabric = "film"
[[border]]
name = "inner"
width = "1 1/2 in"
fabric = "oat"
[[border]]
name = "outer"
width = "4 in"
fabric = "oat"
sewn_together = true
[binding]
fabric = "oat"
strip = "3 in"
seam = "3/8 in"
[backing]
fabric = "oat"
seam = "1/2 in"
[batting]
fabric = "batting"
[fabric.batting]
width = 90
grain = "none"
[fabric.film]
width = 20
grain = "none"
"""


def test_harbour_lanterns_by_hand(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Every part of a bordered quilt of hoop-stitched blocks."""
    quilt = of_pieces(_LANTERNS)
    assert quilt.sizes is not None
    # centre 3·8 × 4·8; finished + 2·(1 1/2 + 4) = + 11; raw + 2·3/8
    assert [str(side) for side in quilt.sizes.centre + quilt.sizes.finished] == ["24", "32", "35", "43"]
    assert [str(side) for side in quilt.sizes.raw] == ["143/4", "175/4"]
    assert [part.name for part in quilt.parts] == [
        "lantern/background", "lantern/batting", "inner", "outer", "binding", "backing", "batting", "stabiliser",
    ]  # fmt: skip
    assert cut_sizes(quilt) == {
        # stitched 8 + 2·1/2 − 2·1/2 = 8; + 2·1, + 2·1/2
        "lantern/background": ("10", "10", 12),
        "lantern/batting": ("9", "9", 12),
        # wide 1 1/2 + 1/2 + 1/4; long 24 + 11 + 6 and 32 + 11 + 6
        "inner/top": ("9/4", "41", 1),
        "inner/bottom": ("9/4", "41", 1),
        "inner/left": ("9/4", "49", 1),
        "inner/right": ("9/4", "49", 1),
        # wide 4 + 1/4 + 3/8; as long as the inner ones
        "outer/top": ("37/8", "41", 1),
        "outer/bottom": ("37/8", "41", 1),
        "outer/left": ("37/8", "49", 1),
        "outer/right": ("37/8", "49", 1),
        # 2·(35 3/4 + 43 3/4) + 14 = 173; 173 + 4·3 − 4·42 = 17
        "binding/1": ("42", "3", 4),
        "binding/2": ("17", "3", 1),
        # 35 3/4 + 8 and 43 3/4 + 8, wider than 42 both ways
        "backing": ("175/4", "207/4", 1),
        # wide 1 1/2 + 4 + 3/8 + 4; long 24, and 43 3/4 + 8
        "batting/top": ("24", "79/8", 1),
        "batting/bottom": ("24", "79/8", 1),
        "batting/left": ("79/8", "207/4", 1),
        "batting/right": ("79/8", "207/4", 1),
        # 10 + 2·1
        "stabiliser": ("12", "12", 12),
    }
    backing = next(part for part in quilt.parts if part.name == "backing")
    # 43 3/4 + 1 − 42 = 2 3/4; 51 3/4 + 1 − 42 = 10 3/4
    assert cut_sizes(backing.options[0])["backing/2"] == ("11/4", "207/4", 1)
    assert cut_sizes(backing.options[1])["backing/2"] == ("43/4", "175/4", 1)
    # one width less: 42 against 43 3/4, and (42 − 35 3/4)/2 = 3 1/8
    assert quilt.warnings == (
        "backing: were it 1 3/4 in narrower (an overhang of 3 1/8 in instead of 4 in), "
        "it would take one panel less that way: one piece.",
    )


# Invented. A cushion in centimetres: one block of a one-way print, a butted border, binding; ten of them.
_CUSHION = """
[quilt]
across = 1
down = 1
[[block]]
name = "heron"
finished = [30, 40]
trim = "5 mm"
  [[block.piece]]
  name = "ground"
  fabric = "oat"
  margin = "2 cm"
[[border]]
name = "rim"
width = 4
fabric = "oat"
corners = "butted"
extra = "2 cm"
[binding]
fabric = "oat"
strip = "6.5 cm"
extra = "30 cm"
[[piece]]
name = "back"
fabric = "oat"
cut = [39.5, 33]
count = 2
"""


def test_heron_cushion_by_hand(of_pieces: Callable[..., Quilt]) -> None:
    """Centimetres, a seam of 7 mm, a trim of 5 mm, a one-way print and ten copies."""
    quilt = of_pieces(_CUSHION, basics='unit = "cm"\ncopies = 10', usable="110", keys='way = "one-way"')
    centimetre = Fraction(50, 127)
    assert quilt.sizes is not None
    # finished 30 + 2·4 and 40 + 2·4; raw + 2·0.7
    assert [str(side / centimetre) for side in quilt.sizes.finished + quilt.sizes.raw] == ["38", "48", "197/5", "247/5"]
    found = {
        piece.id: (float(piece.across / centimetre), float(piece.along / centimetre), piece.count)
        for part in quilt.parts
        for piece in part.pieces
    }
    assert found == {
        # stitched 30 + 1.4 − 1 = 30.4 and 40.4; + 2·2
        "heron/ground": (34.4, 44.4, 10),
        # wide 4 + 2·0.7 = 5.4; top and bottom lie across: 30 + 2·4 + 1.4 + 2; sides along: 40 + 1.4 + 2
        "rim/top": (41.4, 5.4, 10),
        "rim/bottom": (41.4, 5.4, 10),
        "rim/left": (5.4, 43.4, 10),
        "rim/right": (5.4, 43.4, 10),
        # 2·(39.4 + 49.4) + 30 = 207.6; 207.6 + 6.5 − 110 = 104.1
        "binding/1": (110, 6.5, 10),
        "binding/2": (104.1, 6.5, 10),
        "back": (39.5, 33, 20),
    }
    assert not any(piece.turnable for part in quilt.parts for piece in part.pieces)
    assert quilt.parts[0].pieces[0].after == "trim to 31.4 × 41.4 cm after stitching"
    assert quilt.warnings == ()


def test_a_fabric_that_nothing_is_cut_from_is_told(of_pieces: Callable[..., Quilt]) -> None:
    """A table that was forgotten, or misspelt in a piece, does not go unnoticed."""
    tables = '[[piece]]\nname = "pocket"\nfabric = "oat"\ncut = [8, 11]\n[fabric.rye]\nwidth = 40\n'
    assert of_pieces(tables).warnings == ("fabric rye is used by nothing.",)


# Invented. Everything that a straight setting, and then a setting on point, can have.
_HEAD = """
[quilt]
across = 2
down = 2
{setting}
[[block]]
name = "wren"
finished = [8, 8]
frame = [10, 10]
  [[block.piece]]
  name = "ground"
  fabric = "oat"
  [[block.piece]]
  name = "corner"
  fabric = "oat"
  patch = "half-square"
  finished = [2, 2]
  [[block.piece]]
  name = "wing"
  fabric = "oat"
  patch = "geese"
  finished = [4, 2]
  sky = "oat"
"""
_TAIL = """
[stabiliser]
fabric = "oat"
[[piece]]
name = "label"
fabric = "oat"
cut = [3, 5]
[[border]]
name = "rim"
width = 2
fabric = "oat"
corners = "cornerstones"
[binding]
fabric = "oat"
[backing]
fabric = "oat"
[batting]
fabric = "oat"
[sleeve]
fabric = "oat"
"""
_BLOCKS = ["wren/ground", "wren/corner", "wren/wing", "wren/wing/sky"]
_OUTWARD = ["rim", "rim/cornerstone", "binding", "backing", "batting", "sleeve", "stabiliser", "label"]


def test_all_parts_come_from_the_inside_out(of_pieces: Callable[..., Quilt]) -> None:
    """Blocks and patches, what is set between them, what goes round and under them, and every piece tells its place."""
    sashing = '[sashing]\nwidth = 1\nfabric = "oat"\ncornerstones = "oat"\n'
    straight = of_pieces(_HEAD.format(setting="") + sashing + _TAIL)
    assert [part.name for part in straight.parts] == [*_BLOCKS, "sash", "cornerstone", *_OUTWARD]
    on_point = _HEAD.format(setting='setting = "on point"\ntriangles = "oat"')
    pointed = of_pieces(on_point + _TAIL)
    assert [part.name for part in pointed.parts] == [*_BLOCKS, "triangle/side", "triangle/corner", *_OUTWARD]
    pieces = [
        piece
        for quilt in (straight, pointed)
        for part in quilt.parts
        for piece in (*part.pieces, *(one for option in part.options for one in option.pieces))
    ]
    assert [piece.id for piece in pieces if not piece.where] == []
