"""Sashing: strips between the blocks and round them, with cornerstones and without."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import Piece, Quilt, Role

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]
_Of = Callable[..., Quilt]


def _quilt(across: int, down: int, finished: str, sashing: str, *, seam: str = "1/4 in") -> str:
    return f"""
[quilt]
across = {across}
down = {down}
[[block]]
name = "block"
finished = {finished}
seam = "{seam}"
[sashing]
fabric = "oat"
{sashing}
"""


def _pieces(quilt: Quilt) -> dict[str, Piece]:
    return {piece.id: piece for part in quilt.parts for piece in part.pieces}


def _sashes(quilt: Quilt) -> dict[str, tuple[str, str, int]]:
    return {
        piece.id: (str(piece.across), str(piece.along), piece.count)
        for piece in _pieces(quilt).values()
        if piece.role is Role.SASHING
    }


@pytest.mark.parametrize(("across", "down", "sashes", "corners"), [(4, 5, 49, 30), (1, 1, 4, 4), (3, 2, 17, 12)])
def test_all_round_with_cornerstones(of_pieces: _Of, across: int, down: int, sashes: int, corners: int) -> None:
    """(n+1)m + (m+1)n sashes and (n+1)(m+1) cornerstones: 4 × 5 blocks take 49 and 30."""
    # Source: practitioner's article, 2009 (R10); the other two sizes derived from its rule
    quilt = of_pieces(_quilt(across, down, "[6, 6]", 'width = 1\ncornerstones = "oat"\noutside = true'))
    # derived: square blocks and seams of 1/4 everywhere, so that all sashes are one piece
    assert _sashes(quilt) == {"sash": ("3/2", "13/2", sashes), "cornerstone": ("3/2", "3/2", corners)}


@pytest.mark.parametrize("outside", [True, False])
def test_the_centre_grows_by_the_sashes(of_pieces: _Of, *, outside: bool) -> None:
    """Three 10-in blocks and four 1-in sashes are 34 in; two sashes between them, 32."""
    # Source: practitioner's article (R11), four sashes
    sizes = of_pieces(_quilt(3, 1, "[10, 10]", f"width = 1\noutside = {str(outside).lower()}")).sizes
    assert sizes is not None
    assert [int(side) for side in sizes.centre] == ([34, 12] if outside else [32, 10])


def test_seams_of_inner_and_outer_lines(of_pieces: _Of) -> None:
    """Blocks' seam 3/8 inside; the line round the centre, here the quilt's edge, has the project's 1/4."""
    quilt = of_pieces(_quilt(3, 3, "[8, 6]", 'width = 2\ncornerstones = "oat"', seam="3/8 in"))
    # derived: 2 + 2·3/8; 6 + 2·3/8 in the middle row, 6 + 3/8 + 1/4 in the two others; across likewise
    assert _sashes(quilt) == {
        "sash/upright": ("11/4", "27/4", 2),
        "sash/upright/edge": ("11/4", "53/8", 4),
        "sash/level": ("35/4", "11/4", 2),
        "sash/level/edge": ("69/8", "11/4", 4),
        "cornerstone": ("11/4", "11/4", 4),
    }
    why = _pieces(quilt)["sash/upright/edge"].why
    assert why == "across 2 sash + 2 × 3/8 seams = 2 3/4 in; down 6 block + 3/8 + 1/4 seams = 6 5/8 in"


def test_outside_the_edge_is_made_of_sashes(of_pieces: _Of) -> None:
    """The outer sashes and cornerstones take the edge's seam on one side or two."""
    quilt = of_pieces(_quilt(3, 2, "[8, 6]", 'width = 2\ncornerstones = "oat"\noutside = true', seam="3/8 in"))
    # derived: 2 + 2·3/8 = 2 3/4 inside, 2 + 3/8 + 1/4 = 2 5/8 at the edge; 6 + 3/4 and 8 + 3/4 long
    assert _sashes(quilt) == {
        "sash/upright": ("11/4", "27/4", 4),
        "sash/upright/edge": ("21/8", "27/4", 4),
        "sash/level": ("35/4", "11/4", 3),
        "sash/level/edge": ("35/4", "21/8", 6),
        "cornerstone": ("11/4", "11/4", 2),
        "cornerstone/edge": ("21/8", "11/4", 6),
        "cornerstone/corner": ("21/8", "21/8", 4),
    }
    assert quilt.warnings == ()  # blocks lie between sashes on all sides


def test_places(of_pieces: _Of) -> None:
    """Each piece says where it goes; what is one piece says all its places."""
    apart = _pieces(of_pieces(_quilt(3, 3, "[8, 6]", 'width = 2\ncornerstones = "oat"', seam="3/8 in")))
    assert {name: piece.where for name, piece in apart.items()} == {
        "sash/upright": "between the blocks of a row",
        "sash/upright/edge": "between the blocks of a row in the first and last row",
        "sash/level": "between the blocks of a column",
        "sash/level/edge": "between the blocks of a column at the left and right",
        "cornerstone": "where sashes meet",
    }
    alike = _pieces(of_pieces(_quilt(3, 3, "[6, 6]", 'width = 2\ncornerstones = "oat"\noutside = true')))
    assert alike["sash"].where == (
        "between the blocks of a row, left and right of all blocks, "
        "between the blocks of a column, above and below all blocks"
    )
    assert alike["cornerstone"].where == "where sashes meet"
    through = of_pieces(_quilt(2, 2, "[6, 6]", "width = 2\noutside = true", seam="3/8 in"))
    assert {name: piece.where for name, piece in _pieces(through).items()} == {
        "sash/upright": "between the blocks of a row",
        "sash/upright/edge": "left and right of all blocks",
        "sash/level": "between two rows",
        "sash/level/edge": "above and below all blocks",
    }
    corners = of_pieces(_quilt(2, 2, "[6, 6]", 'width = 2\noutside = true\ncornerstones = "oat"', seam="3/8 in"))
    named = {name: piece.where for name, piece in _pieces(corners).items() if name.startswith("cornerstone")}
    assert named == {
        "cornerstone": "where sashes meet",
        "cornerstone/edge": "where sashes meet at the edges",
        "cornerstone/corner": "where sashes meet in the corners",
    }


def test_without_cornerstones_level_ones_run_through(of_pieces: _Of) -> None:
    """Upright ones are as high as a block, level ones as wide as the centre, here with the first border's seam."""
    border = '[[border]]\nname = "rim"\nwidth = 1\nfabric = "oat"\nseam = "1/2 in"\n'
    quilt = of_pieces(_quilt(3, 4, "[8, 6]", "width = 2") + border, basics="copies = 2")
    # derived: 3·8 + 2·2 = 28, and two edges of 1/2; 6 + 2·1/4 in two rows, 6 + 1/4 + 1/2 in the outer ones
    assert _sashes(quilt) == {
        "sash/upright": ("5/2", "13/2", 8),
        "sash/upright/edge": ("5/2", "27/4", 8),
        "sash/level": ("5/2", "29", 6),
    }
    level = _pieces(quilt)["sash/level"]
    assert level.why == "width 2 sash + 2 × 1/4 seams = 2 1/2 in; length 28 centre + 2 × 1/2 seams = 29 in"
    assert [str(side) for side in level.finished or ()] == ["28", "2"]
    assert level.turnable


def test_outside_uprights_stand_between_the_level_ones(of_pieces: _Of) -> None:
    """Level ones run over the outer uprights, above and below too."""
    quilt = of_pieces(_quilt(2, 2, "[8, 6]", "width = 2\noutside = true", seam="3/8 in"))
    # derived: 2·8 + 3·2 = 22, and two edges of 1/4; at the edge 2 + 3/8 + 1/4 wide
    assert _sashes(quilt) == {
        "sash/upright": ("11/4", "27/4", 2),
        "sash/upright/edge": ("21/8", "27/4", 4),
        "sash/level": ("11/4", "45/2", 1),
        "sash/level/edge": ("21/8", "45/2", 2),
    }


def test_long_ones_are_joined_or_cut_lengthwise(of_pieces: _Of) -> None:
    """A sash of 58 1/2 in from 42 in: whole along the selvage, or two bits, none shorter than a block is wide."""
    quilt = of_pieces(_quilt(4, 3, "[13, 10]", "width = 2"), basics="copies = 2")
    (part,) = (part for part in quilt.parts if part.name == "sash/level")
    assert [(option.name, option.joins) for option in part.options] == [("lengthwise", 0), ("crosswise, joined", 4)]
    (whole,), bits = (option.pieces for option in part.options)
    assert (str(whole.across), str(whole.along), whole.count, whole.turnable) == ("5/2", "117/2", 4, False)
    # derived: 4·13 + 3·2 + 1/2 = 58 1/2 = 42 + 19 − 2 1/2
    assert [(bit.id, str(bit.across), bit.count) for bit in bits] == [
        ("sash/level/1", "42", 4), ("sash/level/2", "19", 4),
    ]  # fmt: skip
    assert bits[0].after == "join end to end on the diagonal"
    assert part.pieces[0].open_form
    # 3·13 + 2·2 + 1/2 = 43 1/2: the rest would be 4 in, and is raised to 13
    short = of_pieces(_quilt(3, 2, "[13, 10]", "width = 2"))
    (level,) = (part for part in short.parts if part.name == "sash/level")
    assert [str(bit.across) for bit in level.options[1].pieces] == ["42", "13"]


def test_joins_where_a_block_is_wider_than_the_cloth(of_pieces: _Of) -> None:
    """Bits are then as long as the cloth is wide, at the most."""
    quilt = of_pieces(_quilt(1, 2, "[50, 10]", "width = 2"))
    ((_, joined),) = (part.options for part in quilt.parts)
    assert [str(bit.across) for bit in joined.pieces] == ["42", "42"]


@pytest.mark.parametrize("way", ["one-way", "stripe"])
def test_prints_hang_as_they_hang(of_pieces: _Of, way: str) -> None:
    """Upright sashes lie along the selvage and level ones across it, though their sizes are the same."""
    # Source: common practice, no source (one-way prints stay upright)
    tables = _quilt(2, 2, "[6, 6]", 'width = 1\ncornerstones = "oat"\noutside = true')
    quilt = of_pieces(tables, keys=f'way = "{way}"')
    assert _sashes(quilt) == {
        "sash/upright": ("3/2", "13/2", 6),
        "sash/level": ("13/2", "3/2", 6),
        "cornerstone": ("3/2", "3/2", 9),
    }
    assert not any(piece.turnable for piece in _pieces(quilt).values())
    through = of_pieces(_quilt(4, 2, "[13, 10]", "width = 2"), keys=f'way = "{way}"')
    (level,) = (part for part in through.parts if part.name == "sash/level")
    assert [option.name for option in level.options] == ["as it hangs, joined"]


def test_edge_cornerstones_of_a_print_with_a_way(of_pieces: _Of) -> None:
    """Those at the left and right are narrower, those at the top and bottom lower: two pieces."""
    tables = _quilt(2, 2, "[6, 6]", 'width = 1\ncornerstones = "oat"\noutside = true', seam="3/8 in")
    sizes = _sashes(of_pieces(tables, keys='way = "one-way"'))
    assert {name: size for name, size in sizes.items() if name.startswith("cornerstone")} == {
        "cornerstone": ("7/4", "7/4", 1),
        "cornerstone/edge": ("7/4", "13/8", 2),
        "cornerstone/side": ("13/8", "7/4", 2),
        "cornerstone/corner": ("13/8", "13/8", 4),
    }


def test_cornerstones_of_another_cloth(of_pieces: _Of) -> None:
    """Sashes from one fabric, cornerstones from another."""
    brass = "[fabric.brass]\nwidth = 42\n"
    quilt = of_pieces(_quilt(2, 2, "[6, 6]", 'width = 1\ncornerstones = "brass"') + brass)
    assert {part.name: part.fabric for part in quilt.parts} == {"sash": "oat", "cornerstone": "brass"}


def test_one_column_or_one_row(of_pieces: _Of) -> None:
    """Where there is nothing between columns there is no upright sash, and the level ones are sashes."""
    assert _sashes(of_pieces(_quilt(1, 3, "[6, 8]", "width = 1"))) == {"sash": ("3/2", "13/2", 2)}
    assert _sashes(of_pieces(_quilt(3, 1, "[6, 8]", "width = 1"))) == {"sash": ("3/2", "17/2", 2)}
    # a single block has no sash inside
    assert of_pieces(_quilt(1, 1, "[6, 8]", "width = 1") + '[sleeve]\nfabric = "oat"\n').parts[0].name == "sleeve"


def test_a_sash_that_no_cloth_holds(of_pieces: _Of) -> None:
    """Wider than the cloth either way round."""
    with pytest.raises(NoPlanError, match=r"sash: is cut 50 1/2 in wide, and oat can be used for 42 in"):
        of_pieces(_quilt(2, 1, "[60, 60]", 'width = 50\ncornerstones = "oat"'))


def test_what_is_measured_changes_no_sash(of_pieces: _Of) -> None:
    """The centre is measured when its sashes are sewn; only what lies outside follows it."""
    planned = _quilt(2, 2, "[6, 6]", "width = 1")
    measured = planned.replace("down = 2", 'down = 2\nmeasured = ["13 1/4 in", 13]')
    assert _sashes(of_pieces(planned)) == _sashes(of_pieces(measured))
