"""How pieces of one-way and striped cloth lie follows from how they hang in the quilt.

Source of the rule: common practice, no source (one-way prints must stay upright on all four sides). Sides run along
the selvage, top and bottom from selvage to selvage; nothing is turned but binding, sleeve and cloth without grain.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

import pytest

from ellwand.errors import InputError
from ellwand.model import Construction, Piece, Quilt
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.quilt.work import work_out

HANGS = pytest.mark.parametrize("way", ["one-way", "stripe"])
TOP = '[quilt]\n[[block]]\nname = "top"\nfinished = [20, 30]\n'
BORDER = '[[border]]\nname = "b"\nfabric = "f"\nwidth = 4\n'
PIECE = '[[block.piece]]\nname = "p"\nfabric = "f"\n'


def read(tables: str, *, way: str, width: int = 60, keys: str = "") -> Project:
    """A project whose cloth ``f`` has that way; nothing is lost to selvages or squaring."""
    cloth = f'[fabric.f]\nwidth = {width}\nselvage = 0\nsquare_up = 0\nway = "{way}"\n{keys}\n'
    return parse_project(f'[project]\nname = "Invented"\n{tables}{cloth}', "hanging.toml")


def quilt(tables: str, *, way: str, width: int = 60, keys: str = "") -> Quilt:
    """The same, worked out."""
    return work_out(read(tables, way=way, width=width, keys=keys))


def lies(pieces: Iterable[Piece]) -> dict[str, str]:
    """Every piece's sides as it is to lie, with a sign where it may not be turned."""
    return {
        piece.id: f"{float(piece.across):g} × {float(piece.along):g}{'' if piece.turnable else ' !'}"
        for piece in pieces
    }


def ways(found: Quilt) -> list[Construction]:
    """All ways to make the only part."""
    (part,) = found.parts
    return list(part.options)


@HANGS
@pytest.mark.parametrize(
    ("corners", "top", "left"),
    [
        ('corners = "mitred"\nextra = 6', "34 × 4.5 !", "4.5 × 44 !"),  # 20 + 8 + 6; 30 + 8 + 6
        ('corners = "butted"\nextra = 0', "28.5 × 4.5 !", "4.5 × 30.5 !"),  # 20 + 8 + 1/2; 30 + 1/2
    ],
)
def test_sides_along_the_selvage_top_and_bottom_across(way: str, corners: str, top: str, left: str) -> None:
    """Each strip of a border keeps its place, whatever would save cloth."""
    found = lies(piece for part in quilt(TOP + BORDER + corners + "\n", way=way).parts for piece in part.pieces)

    assert found == {"b/top": top, "b/bottom": top, "b/left": left, "b/right": left}


@HANGS
def test_borders_with_cornerstones_hang_too(way: str) -> None:
    """Strips and corners of one print: 20 + 1/2 and 30 + 1/2 long, corners of 4 + 1/2."""
    found = quilt(TOP + BORDER + 'corners = "cornerstones"\n', way=way)
    top, left, corner = "20.5 × 4.5 !", "4.5 × 30.5 !", "4.5 × 4.5 !"

    assert lies(piece for part in found.parts for piece in part.pieces) == {
        "b/top": top, "b/bottom": top, "b/left": left, "b/right": left, "b/cornerstone": corner,
    }  # fmt: skip


@HANGS
def test_a_top_border_wider_than_the_cloth_is_joined_across_it(way: str) -> None:
    """From 30 in the top, 34, is joined; the sides stay whole along the selvage.

    A bit of 11 1/2 keeps its join out of the mitre: 7 of the end, 4 1/2 of the join. The other is 34 + 4 1/2 − 11 1/2.
    """
    (option,) = ways(quilt(TOP + BORDER + "extra = 6\nshortest = 0\n", way=way, width=30))
    found = lies(option.pieces)

    assert found["b/top/1"] == found["b/bottom/1"] == "27 × 4.5 !"
    assert found["b/top/2"] == found["b/bottom/2"] == "11.5 × 4.5 !"
    assert found["b/left"] == found["b/right"] == "4.5 × 44 !"


@pytest.mark.parametrize(("cut", "turned"), [("lengthwise", "b/top"), ("crosswise", "b/left")])
def test_cloth_of_any_way_may_be_cut_otherwise(cut: str, turned: str) -> None:
    """The same border of a plain cloth is cut all one way, which a print with a top and bottom refuses."""
    tables = TOP + BORDER + f'cut = "{cut}"\n'
    found = lies(ways(quilt(tables, way="any"))[0].pieces)
    along = cut == "lengthwise"

    assert found[turned].startswith("4.5 ×" if along else "44 ×")
    for way in ("one-way", "stripe"):
        with pytest.raises(InputError, match=f"turns two of the four strips.*{way} cloth"):
            read(tables, way=way)


@HANGS
def test_pieces_of_a_block_hang_as_in_the_block(way: str) -> None:
    """A piece lies with its down side along the selvage; stitched sideways in the hoop, it lies sideways."""
    # derived (trade-facts M18): directional rectangles in two block positions are needed in both orientations
    upright = PIECE + 'cut = ["7 1/2", "10 1/2"]\n'
    sideways = upright.replace('"p"', '"q"') + "turned = true\n"
    found = quilt(TOP + upright + sideways, way=way)

    assert lies(piece for part in found.parts for piece in part.pieces) == {
        "top/p": "7.5 × 10.5 !", "top/q": "10.5 × 7.5 !",
    }  # fmt: skip


@HANGS
def test_a_grain_that_the_print_forbids_is_refused(way: str) -> None:
    """Only the grain that the print has anyway may be written."""
    for grain in ("crosswise", "either"):
        with pytest.raises(InputError, match="would let the piece lie sideways"):
            read(TOP + PIECE + f'grain = "{grain}"\n', way=way)
    assert lies(quilt(TOP + PIECE + 'grain = "lengthwise"\n', way=way).parts[0].pieces) == {"top/p": "20.5 × 30.5 !"}


@HANGS
def test_loose_pieces_hang_as_written(way: str) -> None:
    """Across × down as it hangs."""
    loose = '[[piece]]\nname = "pocket"\nfabric = "f"\ncut = [8, 11]\n'

    assert lies(quilt(loose, way=way).parts[0].pieces) == {"pocket": "8 × 11 !"}
    assert lies(quilt(loose, way="any").parts[0].pieces) == {"pocket": "8 × 11"}


@HANGS
def test_square_and_rectangular_patches_hang(way: str) -> None:
    """Patches with sides along the grain lie as they hang, and nothing is said."""
    patches = PIECE + 'patch = "square"\nfinished = [4, 4]\n'
    patches += PIECE.replace('"p"', '"q"') + 'patch = "rectangle"\nfinished = [4, 6]\n'
    found = quilt(TOP + patches, way=way)

    assert lies(piece for part in found.parts for piece in part.pieces) == {
        "top/p": "4.5 × 4.5 !", "top/q": "4.5 × 6.5 !",
    }  # fmt: skip
    assert [text for text in found.warnings if "patches fill" not in text] == []


@pytest.mark.parametrize(
    ("shape", "keys", "warned"),
    [
        ("half-square", "[4, 4]", {"one-way": True, "stripe": False}),  # its two triangles: one upside down
        ("quarter-square", "[4, 4]", {"one-way": True, "stripe": True}),  # two of its four lie on their sides
        ("geese", '[4, 2]\nsky = "f"', {"one-way": True, "stripe": True}),
    ],
)
def test_triangles_of_a_print_are_warned_of(shape: str, keys: str, warned: dict[str, bool]) -> None:
    """A square cut on the diagonal gives triangles that hang in different directions; plain cloth hangs any way."""
    patch = PIECE + f'patch = "{shape}"\nfinished = {keys}\n'

    for way, expected in {"any": False, **warned}.items():
        found = any(warning.startswith("block top: patch ") for warning in quilt(TOP + patch, way=way).warnings)
        assert found is expected, way


@HANGS
def test_a_backing_hangs_upright(way: str) -> None:
    """Panels side by side only, their seams down the quilt, and never the whole sheet on its side."""
    backing = TOP + '[backing]\nfabric = "f"\noverhang = 5\n'  # 20 1/2 + 10 by 30 1/2 + 10

    assert [lies(option.pieces) for option in ways(quilt(backing, way=way, width=31))] == [
        {"backing/1": "30.5 × 40.5 !"}
    ]
    (seamed,) = ways(quilt(backing, way=way, width=20))
    assert {piece.along for piece in seamed.pieces} == {Fraction(81, 2)}
    assert "down the quilt" in seamed.name
    with pytest.raises(InputError, match="turns the panels"):
        read(backing + 'panels = "crosswise"\n', way=way)
    assert any("across the quilt" in option.name for option in ways(quilt(backing, way="any", width=20)))


ON_POINT = """
[quilt]
across = {across}
down = {down}
setting = "on point"
triangles = "{triangles}"
[[block]]
name = "b"
finished = [8, 8]
[[block.piece]]
name = "p"
fabric = "{ground}"
[fabric.plain]
width = 60
"""


@HANGS
def test_on_point_blocks_are_cut_square_to_themselves(way: str) -> None:
    """The print is cut with the block's sides, and a warning says that it hangs at 45 degrees; plain cloth has none."""
    tables = ON_POINT.format(across=2, down=2, triangles="plain", ground="f")
    found = quilt(tables, way=way)

    assert lies(piece for piece in found.parts[0].pieces) == {"b/p": "8.5 × 8.5 !"}
    assert len([warning for warning in found.warnings if "45" in warning]) == 1
    assert quilt(tables, way="any").warnings == ()


@HANGS
@pytest.mark.parametrize(("across", "down", "any_way", "hanging"), [(2, 2, 1, 1), (3, 2, 2, 2), (2, 5, 3, 4)])
def test_side_triangles_of_a_print_hang_too(way: str, across: int, down: int, any_way: int, hanging: int) -> None:
    """A square cut twice gives one triangle for each edge, so the longest edge says how many squares are cut.

    Derived: 2 × 5 blocks have 1 triangle at the top, 1 at the bottom, 4 left and 4 right; 10 are 3 squares of plain
    cloth, but 4 squares of a print.
    """
    tables = ON_POINT.format(across=across, down=down, triangles="f", ground="plain")

    for cloth, squares in (("any", any_way), (way, hanging)):
        pieces = {piece.id: piece for part in quilt(tables, way=cloth).parts for piece in part.pieces}
        assert pieces["triangle/side"].count == squares
        assert pieces["triangle/corner"].count == 2
        assert pieces["triangle/side"].turnable is pieces["triangle/corner"].turnable is (cloth == "any")


SASHED = """
[quilt]
across = 2
down = 2
[[block]]
name = "middle"
finished = [8, 10]
[sashing]
width = 2
fabric = "f"
cornerstones = "f"
"""


@HANGS
def test_sashes_hang(way: str) -> None:
    """Upright ones along the selvage, level ones across: 10 + 1/2 and 8 + 1/2 long, 2 + 1/2 wide."""
    found = {piece.id: piece for part in quilt(SASHED, way=way).parts for piece in part.pieces}

    assert lies(found.values()) == {
        "sash/upright": "2.5 × 10.5 !", "sash/level": "8.5 × 2.5 !", "cornerstone": "2.5 × 2.5 !",
    }  # fmt: skip
    assert {name: piece.count for name, piece in found.items()} == {
        "sash/upright": 2, "sash/level": 2, "cornerstone": 1,
    }  # fmt: skip


@HANGS
@pytest.mark.parametrize("grain", ["crosswise", "lengthwise", "bias"])
def test_binding_is_exempt(way: str, grain: str) -> None:
    """Binding is cut as from plain cloth."""
    tables = TOP + f'[binding]\nfabric = "f"\ngrain = "{grain}"\n'

    assert quilt(tables, way=way) == quilt(tables, way="any")


@HANGS
def test_a_sleeve_is_exempt(way: str) -> None:
    """A sleeve is cut as from plain cloth."""
    tables = TOP + '[sleeve]\nfabric = "f"\n'

    assert quilt(tables, way=way) == quilt(tables, way="any")


@HANGS
def test_cloth_without_grain_is_exempt(way: str) -> None:
    """Fleece has no grain, so a print on it is not kept upright: borders, blocks, backing and sashes may turn."""
    tables = SASHED.replace("[sashing]", PIECE + "[sashing]") + BORDER + '[backing]\nfabric = "f"\n'
    found = quilt(tables, way=way, keys='grain = "none"')

    assert all(piece.turnable for part in found.parts for piece in part.pieces)


@HANGS
def test_nothing_that_hangs_is_turned_in_the_plan(way: str) -> None:
    """Sashes, blocks, border and backing of one print: whatever turning would save, none of them lies turned."""
    tables = SASHED.replace("[sashing]", PIECE + "[sashing]") + BORDER + '[backing]\nfabric = "f"\noverhang = 2\n'
    (answer,) = make_plan(read(tables, way=way), effort=Effort.QUICK).fabrics
    placed = [placed for layout in answer.layouts for placed in layout.placed]

    assert len(placed) == sum(piece.count for piece in answer.pieces)
    assert not any(piece.turnable for piece in answer.pieces)
    assert not any(piece.turned for piece in placed)
