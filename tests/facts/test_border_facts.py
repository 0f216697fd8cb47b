"""Trade facts of borders and sashing (R)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.model import Piece
from facts.trade import centre, number, plan, plan_of, read, worked

HALF = Fraction(1, 2)


def border(width: str, keys: str, name: str = "b") -> str:
    """A border's table."""
    return f'[[border]]\nname = "{name}"\nfabric = "f"\nwidth = "{width}"\n{keys}\n'


def long_side(piece: Piece) -> Fraction:
    """Cut length of a strip."""
    return max(piece.across, piece.along)


def test_r1_mitred_with_six_inches_extra() -> None:
    """Side 40, border 5: 40 + 2·5 + 6 = 56."""
    # Source: quilting magazine, mitring article (R1); the 6 in hold the seams
    _, pieces = worked(centre("[40, 40]", border("5", 'corners = "mitred"\nextra = 6'), cloth="width = 60"))

    assert {long_side(piece) for piece in pieces.values()} == {56}


def test_r2_mitred_borders_totalling() -> None:
    """Side 17 1/2, borders of 3 1/2 in all: 30 1/2."""
    # Source: teaching article 370 (R2), extra 6
    borders = border("1", "extra = 6", "inner") + border("2 1/2", "extra = 6\nsewn_together = true", "outer")
    _, pieces = worked(centre("[17.5, 17.5]", borders))

    assert {long_side(piece) for piece in pieces.values()} == {30 + HALF}


def test_r3_sewn_together_before_mitring() -> None:
    """Both borders' strips are side + 2·(inner + outer) + extra; too little extra for the seams is told."""
    # common practice, no source (R3): extra ≥ 2·(outer seam + √2·mitre seam), at 1/4 in 1.21
    for extra, warned in (("1 1/4", False), ("1 1/8", True)):
        borders = border("2", "", "inner") + border("3", f'sewn_together = true\nextra = "{extra}"', "outer")
        quilt, pieces = worked(centre("[20, 30]", borders, cloth="width = 60"))

        assert (
            long_side(pieces["inner/left"])
            == long_side(pieces["outer/left"])
            == 30 + 2 * (2 + 3) + Fraction(sum(map(Fraction, extra.split())))
        )
        assert any("extra" in warning for warning in quilt.warnings) is warned


def test_r4_butted_sides_first() -> None:
    """Sides at the centre's raw length, then top and bottom: finished centre + 2·fin + 1/2."""
    # Source: quilting magazine (R4), seam 1/4
    _, pieces = worked(centre("[40, 50]", border("4", 'corners = "butted"\nextra = 0'), cloth="width = 60"))

    assert long_side(pieces["b/left"]) == long_side(pieces["b/right"]) == 50 + HALF
    assert long_side(pieces["b/top"]) == long_side(pieces["b/bottom"]) == 40 + 2 * 4 + HALF


def test_r5_a_corner_square_is_as_wide_as_the_border_is_cut() -> None:
    """A border of 4 in is cut 4 1/2 wide, and so are its four corner squares."""
    # Source: quilting magazine (R5), seam 1/4
    _, pieces = worked(centre("[40, 50]", border("4", 'corners = "cornerstones"'), cloth="width = 60"))
    corner = pieces["b/cornerstone"]

    assert (corner.across, corner.along, corner.count) == (4 + HALF, 4 + HALF, 4)
    assert min(pieces["b/left"].across, pieces["b/left"].along) == 4 + HALF


def test_r6_four_lengthwise_borders() -> None:
    """Four borders under 10 wide, the longest 80: 2 1/2 yd of 42 hold them (the least is 80 in, 2 1/4 yd)."""
    # Source: forum post (R6)
    answer = plan_of([("9 1/2", "80", 2, "lengthwise"), ("9 1/2", "72", 2, "lengthwise")], "width = 42")

    assert answer.needed == 80
    assert answer.proven
    assert answer.bought == 81 <= 90


def test_r7_four_wide_borders_take_two_lengths() -> None:
    """Four of 12 in do not lie side by side on 42; cut lengthwise without joins, two lengths of 80 are 4 1/2 yd."""
    # Source: forum post (R7)
    top = centre("[56.5, 79.5]", border("11 1/2", 'corners = "butted"\nextra = 0\ncut = "lengthwise"'))
    answer = plan(top)

    assert {str(piece.across) + " × " + str(piece.along) for piece in answer.pieces} == {"12 × 80"}
    assert answer.needed == 160
    assert answer.proven
    assert answer.bought == Fraction(9, 2) * 36


def bits(run: Fraction) -> int:
    """How many bits a side border of that length, cut 4 in wide, is joined from across 40 in."""
    keys = 'corners = "butted"\nextra = 0\ncut = "crosswise"\njoin = "diagonal"\nshortest = 0'
    project = centre(f'[10, "{run - HALF}"]', border("3 1/2", keys), cloth="width = 40")
    return sum(piece.count for name, piece in worked(project)[1].items() if name.startswith("b/left"))


@pytest.mark.parametrize("further", range(4))
def test_r8_each_further_strip_brings_36(further: int) -> None:
    """Strips of 4 in from 40 in, joined on the diagonal: the first brings 40, each further one 36."""
    # Source: forum tutorial (R8)
    reach = Fraction(40 + 36 * further)

    assert bits(reach) == 1 + further
    assert bits(reach + Fraction(1, 8)) == 2 + further


def test_r10_sashes_and_cornerstones_all_round() -> None:
    """4 × 5 blocks with sashing outside too: 5·6 = 30 cornerstones and 5·5 + 6·4 = 49 sashes."""
    # Source: practitioner's article, 2009 (R10)
    tables = """
[quilt]
across = 4
down = 5
[[block]]
name = "top"
finished = [8, 8]
[sashing]
width = "1 1/2 in"
fabric = "f"
cornerstones = "f"
outside = true
"""
    _, pieces = worked(read(tables))

    assert number(piece for name, piece in pieces.items() if name.startswith("cornerstone")) == 30
    assert number(piece for name, piece in pieces.items() if name.startswith("sash")) == 49


def test_r11_three_blocks_and_four_sashes() -> None:
    """Three 10-in blocks and four 1-in sashes are 34 in."""
    # Source: practitioner's article (R11)
    tables = """
[quilt]
across = 3
[[block]]
name = "top"
finished = [10, 10]
[sashing]
width = 1
fabric = "f"
outside = true
"""
    quilt, _ = worked(read(tables))

    assert quilt.sizes is not None
    assert quilt.sizes.centre[0] == 34


def test_r12_a_border_all_round() -> None:
    """70 × 86 with a border of 6 in is 82 × 98."""
    # Source: class slides (R12)
    quilt, _ = worked(centre("[70, 86]", border("6", 'corners = "mitred"')))

    assert quilt.sizes is not None
    assert list(quilt.sizes.finished) == [82, 98]


def test_r13_patches_from_the_width_beside_the_borders() -> None:
    """Four lengthwise strips of 5 in leave 20 of 40 in, all along: four squares of 20 beside 80, and not a fifth."""
    # Source: forum tutorial (R13)
    strips = ("5", "80", 4, "lengthwise")

    assert plan_of([strips, ("20", "20", 4, "either")], "width = 40").needed == 80
    assert plan_of([strips, ("20", "20", 5, "either")], "width = 40").bound > 80
    assert plan_of([strips, ("20 1/8", "20", 4, "lengthwise")], "width = 40").needed > 80


def test_r14_outer_edges_on_the_lengthwise_grain() -> None:
    """Where the border asks for it, all four of its strips lie along the selvage and are not turned."""
    # Source: magazine, cutting article (R14): edges outside lie on the grain that stretches least
    _, pieces = worked(centre("[30, 40]", border("4", 'cut = "lengthwise"')))

    assert len(pieces) == 4
    for piece in pieces.values():
        assert piece.along == long_side(piece)
        assert not piece.turnable
