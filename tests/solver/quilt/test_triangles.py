"""Quilts on point: their size, and the triangles that fill their edge."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from math import ceil, sqrt

import pytest

from ellwand.errors import NoPlanError
from ellwand.lengths import ROOT_2, unit_length
from ellwand.model import Piece, Quilt, Role
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]

_ON_POINT = """
[quilt]
across = {across}
down = {down}
setting = "on point"
triangles = "oat"
[[block]]
name = "star"
finished = [{side}, {side}]
{keys}
"""
_GROUND = '  [[block.piece]]\n  name = "ground"\n  fabric = "oat"\n'


def _text(side: str = "12", across: int = 3, down: int = 4, keys: str = "") -> str:
    return _ON_POINT.format(side=side, across=across, down=down, keys=keys) + _GROUND


def _piece(quilt: Quilt, name: str) -> Piece:
    return next(piece for part in quilt.parts for piece in part.pieces if piece.id == name)


@pytest.mark.parametrize(
    ("side", "squares"),
    [("6", ("39/4", "41/8")), ("8", ("101/8", "53/8")), ("12", ("73/4", "75/8"))],
)
def test_m6_setting_triangles(
    of_pieces: Callable[..., Quilt], cut_sizes: _Sizes, side: str, squares: tuple[str, str]
) -> None:
    """The squares for side and corner triangles of a chart, at seams of 1/4 in, on a ruler of 1/8 in."""
    # Source: on-point chart, Lukas (M4: fin·√2 + 1 1/4, cut twice; M5: fin/√2 + 7/8, cut once; M6: their values)
    quilt = of_pieces(_text(side), usable="60")
    # derived: 2·2 + 2·3 = 10 side triangles, 4 from a square; 4 corners, 2 from a square
    sides, corners = squares
    assert _piece(quilt, "star/ground").count == 18
    found = cut_sizes(quilt)
    assert [part.name for part in quilt.parts] == ["star/ground", "triangle/side", "triangle/corner"]
    assert (found["triangle/side"], found["triangle/corner"]) == ((sides, sides, 3), (corners, corners, 2))
    triangles = [_piece(quilt, f"triangle/{name}") for name in ("side", "corner")]
    assert all(piece.role is Role.TRIANGLE and piece.turnable for piece in triangles)


@pytest.mark.parametrize(("side", "corner"), [("10", "8"), ("16", "49/4")])
def test_m6_corners_alone(of_pieces: Callable[..., Quilt], side: str, corner: str) -> None:
    """Corners of blocks of 10 and 16; the chart's sides of these lean on √2 ≈ 1.414."""
    # Source: on-point chart, Lukas (M6)
    assert str(_piece(of_pieces(_text(side), usable="60"), "triangle/corner").across) == corner


def test_a_side_square_is_not_rounded_down(of_pieces: Callable[..., Quilt]) -> None:
    """14 · √2 + 1.2071 is 21.006: a square of 21 in is too small, whatever is printed."""
    # Trap: trade facts, wrong values in print: "14 → 21"
    side = _piece(of_pieces(_text("14"), usable="60"), "triangle/side")
    assert side.across == Fraction(169, 8)
    assert 21 < 14 * sqrt(2) + (1 + sqrt(2)) / 2 < side.across


@pytest.mark.parametrize(
    ("across", "down", "blocks", "sides"), [(3, 4, 18, 10), (1, 1, 1, 0), (1, 3, 3, 4), (2, 2, 5, 4), (5, 7, 59, 20)]
)
def test_numbers_on_point(
    of_pieces: Callable[..., Quilt], cut_sizes: _Sizes, across: int, down: int, blocks: int, sides: int
) -> None:
    """All across × down blocks and (across − 1) × (down − 1) between them, triangles round them, four corners."""
    # derived: a block's place at the edge has a triangle on each side of it, but in the corners
    found = cut_sizes(of_pieces(_text("6", across, down)))
    assert found["star/ground"][2] == blocks
    assert found["triangle/corner"][2] == 2
    assert found.get("triangle/side", ("", "", 0))[2] == ceil(sides / 4)
    # what is laid covers the centre exactly: a side triangle is half a block, a corner a quarter
    assert 4 * across * down == 2 * blocks + sides + 2


def test_the_centre_follows_the_diagonal(of_pieces: Callable[..., Quilt]) -> None:
    """Three blocks of 12 on point are 36 · √2 across; what goes round them follows, and is rounded once."""
    border = '[[border]]\nname = "rim"\nwidth = 4\nfabric = "oat"\ncorners = "butted"\n'
    quilt = of_pieces(_text() + border)
    assert quilt.sizes is not None
    assert quilt.sizes.centre == (36 * ROOT_2, 48 * ROOT_2)
    assert quilt.sizes.raw[0] == 36 * ROOT_2 + Fraction(17, 2)
    # 48 · 1.41421 + 1/2 = 68.38, and 36 · 1.41421 + 2 · 4 + 1/2 = 59.41
    assert (_piece(quilt, "rim/left").along, _piece(quilt, "rim/top").along) == (Fraction(137, 2), Fraction(119, 2))


def test_each_line_has_its_seam(of_pieces: Callable[..., Quilt]) -> None:
    """Blocks are joined with 1/2 in, the border is sewn on with 3/8: legs take the first, long sides the other."""
    border = '[[border]]\nname = "rim"\nwidth = 4\nfabric = "oat"\nseam = "3/8 in"\n'
    quilt = of_pieces(_text(keys='seam = "1/2 in"') + border)
    side, corner = _piece(quilt, "triangle/side"), _piece(quilt, "triangle/corner")
    # derived from geometry (M3): 16.971 + 0.75 + 1.414 = 19.135; 8.485 + 0.75 + 0.707 = 9.943
    assert (side.across, corner.across) == (Fraction(77, 4), Fraction(10))
    assert side.why == "12 × √2 long side + 2 × 3/8 + 2√2 × 1/2 seams ≈ 19 1/8 in, on the ruler 19 1/4 in"
    assert corner.why == "12 ÷ √2 leg + 2 × 3/8 + √2 × 1/2 seams ≈ 9 15/16 in, on the ruler 10 in"
    # the triangles have the border's seam at the edge, and the blocks touch it in points alone: nothing to trim
    assert quilt.warnings == ()


@pytest.mark.parametrize("seam", ["1/4 in", "3/8 in", "7 mm"])
def test_triangles_sewn_again_fit_the_blocks(seam: str) -> None:
    """Off every line its seam, a square's triangle has the block's diagonal, or the block's side, for its long side."""
    blocks = _text("7", keys=f'seam = "{seam}"')
    text = f'[project]\nname = "Trial"\nruler = "1/64 in"\n{blocks}'
    text += "[fabric.oat]\nwidth = 60\n[binding]\nfabric = 'oat'\nseam = '3/8 in'\n"
    project = parse_project(text, "trial.toml")
    quilt = work_out(project)
    block, edge, mark = float(project.blocks[0].seam), 3 / 8, 1 / 64
    side = float(_piece(quilt, "triangle/side").across)
    # cut twice: long side of the cut triangle = the square's side; its height, half of that, loses both its seams
    height = side / 2 - edge - block * sqrt(2)
    assert 7 * sqrt(2) <= 2 * height < 7 * sqrt(2) + mark
    corner = float(_piece(quilt, "triangle/corner").across)
    # cut once: from the right angle to the cut, corner/√2; less the legs' seams and the long side's
    height = corner / sqrt(2) - edge * sqrt(2) - block
    assert 7 <= 2 * height < 7 + mark * sqrt(2)


def test_places_and_ways_of_cutting(of_pieces: Callable[..., Quilt]) -> None:
    """Where the triangles go, and how their squares are cut."""
    quilt = of_pieces(_text())
    side, corner = _piece(quilt, "triangle/side"), _piece(quilt, "triangle/corner")
    assert side.where == "edge of the quilt, on point: 10 side triangles, 4 from a square"
    assert corner.where == "corners of the quilt, on point: 4 triangles, 2 from a square"
    assert side.after == "cut twice on the diagonal, 4 triangles from a square"
    assert corner.after == "cut once on the diagonal, 2 triangles from a square"
    assert side.finished == (12 * ROOT_2, 6 * ROOT_2)
    assert corner.finished == (6 * ROOT_2, 6 * ROOT_2)


def test_each_copy_has_whole_squares(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Three quilts of ten side triangles take three squares each, so that kits can be packed."""
    found = cut_sizes(of_pieces(_text(), basics="copies = 3"))
    assert (found["triangle/side"][2], found["triangle/corner"][2]) == (9, 6)


@pytest.mark.parametrize("way", ["one-way", "stripe"])
def test_triangles_of_cloth_with_a_way(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes, way: str) -> None:
    """A square gives one triangle for each edge, so the longer edge says how many; the longest has down − 1."""
    # derived: 3 × 6 on point has 2 triangles at the top and 5 at the left: 5 squares, where 14/4 would be 4
    keys = f'way = "{way}"'
    quilt = of_pieces(_text("6", 3, 6), keys=keys)
    found = cut_sizes(quilt)
    assert (found["triangle/side"][2], found["triangle/corner"][2]) == (5, 2)
    side, corner = _piece(quilt, "triangle/side"), _piece(quilt, "triangle/corner")
    assert not side.turnable
    assert side.after == (
        "cut twice on the diagonal, 4 triangles from a square, one for each edge of the quilt as the print hangs"
    )
    assert corner.after.endswith("half of the squares on one diagonal and half on the other, as the print hangs")
    assert cut_sizes(of_pieces(_text("6", 3, 6), basics="copies = 2", keys=keys))["triangle/side"][2] == 10
    film = of_pieces(_text("6", 3, 6), keys=keys + '\ngrain = "none"')
    assert (cut_sizes(film)["triangle/side"][2], _piece(film, "triangle/side").turnable) == (4, True)


def test_prints_in_blocks_on_point(of_pieces: Callable[..., Quilt]) -> None:
    """Pieces are cut square to their block; that their print will hang at 45° is told once a fabric."""
    layers = _GROUND.replace("ground", "leaf").replace('"oat"', '"rye"') + _GROUND.replace("ground", "sun")
    rye = '[fabric.rye]\nwidth = 42\nway = "stripe"\n'
    quilt = of_pieces(_text() + layers + rye, keys='way = "one-way"')
    assert quilt.warnings == (
        "block star: oat is one-way cloth, and its pieces are cut square to their block: in the quilt, on point, the "
        "print hangs at 45°.",
        "block star: rye is striped cloth, and its pieces are cut square to their block: in the quilt, on point, the "
        "print hangs at 45°.",
    )
    assert not _piece(quilt, "star/ground").turnable
    straight = _text("12", 3, 4).replace('setting = "on point"\ntriangles = "oat"\n', "")
    assert of_pieces(straight + layers + rye, keys='way = "one-way"').warnings == ()


def test_patches_on_point_hang_at_45_degrees(of_pieces: Callable[..., Quilt]) -> None:
    """A patch, and the sky of geese, is warned of as layers are."""
    patch = '  [[block.piece]]\n  name = "bird"\n  patch = "geese"\n  yields = 1\n  finished = [4, 2]\n'
    rye = '[fabric.rye]\nwidth = 42\nway = "one-way"\n'
    quilt = of_pieces(_text() + patch + '  fabric = "oat"\n  sky = "rye"\n' + rye)
    assert quilt.warnings[0].startswith("block star: rye is one-way cloth, and its pieces are cut square")


def test_a_straight_setting_has_no_triangles() -> None:
    """Without the setting there is nothing to fill."""
    project = parse_project(f'[project]\nname = "Trial"\n{_text()}[fabric.oat]\nwidth = 42\n', "trial.toml")
    assert project.setting is not None
    straight = replace(project, setting=replace(project.setting, on_point=False, triangles=None))
    assert [part.name for part in work_out(straight).parts] == ["star/ground"]


def test_a_larger_inch_makes_larger_squares() -> None:
    """All lengths and the ruler times four: the same pieces, four times as large."""
    small, large = (_scaled(scale) for scale in (1, 4))
    assert [(name, 4 * side, count) for name, side, count in small] == large
    assert len(small) == 5


def _scaled(scale: int) -> list[tuple[str, Fraction, int]]:
    """Every piece of a quilt on point with half-square triangles and geese, all its lengths times `scale`."""
    basics = f'[project]\nname = "Trial"\nruler = "{scale}/64 in"\nseam = "{scale * 3}/16 in"\n'
    patch = (
        '  [[block.piece]]\n  name = "{name}"\n  fabric = "oat"\n  patch = "{shape}"\n  finished = [{across}, {down}]\n'
    )
    half = patch.format(name="half", shape="half-square", across=3 * scale, down=3 * scale)
    goose = patch.format(name="goose", shape="geese", across=4 * scale, down=2 * scale) + '  sky = "oat"\n'
    blocks = _ON_POINT.format(side=7 * scale, across=3, down=4, keys="")
    fabric = f"[fabric.oat]\nwidth = {60 * scale}\nselvage = 0\n"
    quilt = work_out(parse_project(basics + blocks + half + goose + fabric, "trial.toml"))
    return [(piece.id, piece.across, piece.count) for part in quilt.parts for piece in part.pieces]


def test_centimetres(of_pieces: Callable[..., Quilt]) -> None:
    """Blocks of 30 cm, seams of 7 mm: 42.43 + 1.4 + 1.98 and 21.21 + 1.4 + 0.99, up to the millimetre."""
    # derived from M4 and M5 with the seam of a centimetre project
    quilt = of_pieces(_text("30"), basics='unit = "cm"', usable="110")
    found = [_piece(quilt, f"triangle/{name}").across / unit_length("mm") for name in ("side", "corner")]
    assert found == [459, 237]
    assert _piece(quilt, "triangle/side").why == (
        "30 × √2 long side + 2 × 0.7 + 2√2 × 0.7 seams ≈ 45.81 cm, on the ruler 45.9 cm"
    )


def test_a_triangle_wider_than_its_cloth(of_pieces: Callable[..., Quilt]) -> None:
    """It is refused by its own name."""
    with pytest.raises(NoPlanError) as refusal:
        of_pieces(_text("12"), usable="18")
    assert str(refusal.value).startswith("trial.toml: triangle/side: is cut 18 1/4 in wide, and oat can be used for 18")
