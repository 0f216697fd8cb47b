"""The page of pieces: sizes on the way, then every fabric's pieces with place, sum and what follows."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from ellwand.model import Construction, Part, Piece, Quilt, Role, Sizes
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.pieces import pieces_page

F = Fraction

# Leaves on their points, and a border; invented.
LEAVES = """
[project]
name = "Leaves"
[quilt]
across = 2
down = 2
setting = "on point"
triangles = "fern"
[[block]]
name = "leaf"
count = 5
finished = [6, 6]
hoop = ["180 mm", "180 mm"]
trim = "3/8 in"
[[block.piece]]
name = "ground"
fabric = "oat"
margin = 1
[[border]]
name = "rim"
width = 2
fabric = "fern"
[fabric.oat]
width = 43
[fabric.fern]
is = "ferns"
width = 43
way = "one-way"
[fabric.spare]
width = 43
"""
SIZES = Sizes(centre=(F(17), F(17)), finished=(F(21), F(21)), raw=(F("21.5"), F("21.5")), bound=(F("21.5"), F("21.5")))


def piece(id: str, size: tuple[object, object], count: int, **more: object) -> Piece:
    """A piece of fern that lies as told; `size` is across and along."""
    across, along = (F(str(side)) for side in size)
    given = {"fabric": "fern", "role": Role.BORDER, "turnable": False, "why": "as given", **more}
    return Piece(id=id, across=across, along=along, count=count, **given)  # type: ignore[arg-type]


def quilt_of(*pieces: Piece, sizes: Sizes | None = SIZES) -> Quilt:
    """A quilt with a part for every piece."""
    whole = [Construction(name="whole", joins=0, pieces=(one,)) for one in pieces]
    parts = [
        Part(name=one.id, fabric=one.fabric, options=(way,), pieces=(one,))
        for one, way in zip(pieces, whole, strict=True)
    ]
    return Quilt(sizes=sizes, parts=tuple(parts))


@pytest.fixture
def leaves() -> Project:
    """The project of the leaves."""
    return parse_project(LEAVES, "leaves.toml")


def test_a_whole_page(leaves: Project) -> None:
    """Sizes with what they are, a legend, each fabric with its note, equal pieces together, totals."""
    after = "cut long now; to length after the sewn centre is measured"
    side = {"open_form": True, "finished": (F(2), F("20.5")), "after": after}
    quilt = quilt_of(
        piece(
            "leaf/ground", ("8.25", "8.25"), 5, fabric="oat", turnable=True, finished=(F(6), F(6)),
            why="6 1/4 stitched + 2 × 1 margin = 8 1/4 in", where="ground of each block leaf",
            after="trim to 6 1/2 × 6 1/2 in after stitching",
        ),
        piece(
            "triangle/side", ("9.75", "9.75"), 1, finished=(F("8.5"), F("4.25")),
            why="6 × √2 long side + 2 × 1/4 + 2√2 × 1/4 seams ≈ 9 11/16 in, on the ruler 9 3/4 in",
            where="edge of the quilt, on point: 4 side triangles, 4 from a square",
            after="cut twice on the diagonal, 4 triangles from a square, one for each edge of the quilt as it hangs",
        ),
        piece("rim/left", ("2.5", 49), 1, why="2 + 2 × 1/4 seams", where="left side of the rim", **side),
        piece("rim/right", ("2.5", 49), 1, why="as rim/left", where="right side of the rim", **side),
    )  # fmt: skip

    assert pieces_page(leaves, quilt).partition("\n\nTake care.")[0] == (
        """\
Leaves
Pieces to cut, fabric by fabric, and how each size came about.

sizes on the way      across × down
block leaf, stitched  5 3/4 × 5 3/4 in    its stitched edge in the hoop
block leaf, trimmed   6 1/2 × 6 1/2 in    after stitching, with a seam of 1/4 in on every side
block leaf, finished  6 × 6 in            seam line to seam line; 5 of them
centre                17 × 17 in          2 × 2 blocks on point and 1 between them
quilt, finished       21 × 21 in          with its borders, inside the edge's seam
quilt, raw edge       21 1/2 × 21 1/2 in  the sewn top, with a seam of 1/4 in on every side

count     how many to cut
finished  seam line to seam line, across × down; of a block's triangles, the square that they make
cut size  seams, margins and spare included; across the width of the cloth × along its selvage
grain     either: the piece may lie a quarter turned; fixed: it lies as its cut size says
open      how it is cut is settled with the layout: whole or joined, along the selvage or not

oat
────────────────────────────────────────────────────────────────────────────────────────────────────
piece          count  finished          cut size          grain

leaf/ground        5  6 × 6 in          8 1/4 × 8 1/4 in  either
    where  ground of each block leaf
    sum    6 1/4 stitched + 2 × 1 margin = 8 1/4 in
    then   trim to 6 1/2 × 6 1/2 in after stitching

In all: 5 pieces of 1 kind.

fern – ferns (one-way: neither turned nor upside down)
────────────────────────────────────────────────────────────────────────────────────────────────────
piece          count  finished          cut size          grain

triangle/side      1  8 1/2 × 4 1/4 in  9 3/4 × 9 3/4 in  fixed
    where  edge of the quilt, on point: 4 side triangles, 4 from a square
    sum    6 × √2 long side + 2 × 1/4 + 2√2 × 1/4 seams ≈ 9 11/16 in, on the ruler 9 3/4 in
    then   cut twice on the diagonal, 4 triangles from a square, one for each edge of the quilt as
           it hangs

rim/left           1  2 × 20 1/2 in     2 1/2 × 49 in     open
rim/right          1  2 × 20 1/2 in     2 1/2 × 49 in     open
    where  left side of the rim; right side of the rim
    sum    2 + 2 × 1/4 seams
    then   cut long now; to length after the sewn centre is measured

In all: 3 pieces of 3 kinds (rim/left and rim/right counted once, though perhaps joined from
several)."""
    )


@pytest.mark.parametrize(
    ("after", "where", "together"),
    [("", "right side", True), ("trim it", "right side", False)],
    ids=["equal but for their place", "one is trimmed"],
)
def test_pieces_of_which_the_same_is_told_share_their_sum(
    leaves: Project, after: str, where: str, together: bool
) -> None:
    """Only name, count and place may differ; a sum that points at the first piece's is the same sum."""
    left = piece("rim/left", (2, 40), 1, why="2 × 1", where="left side")
    page = pieces_page(
        leaves, quilt_of(left, piece("rim/right", (2, 40), 3, why="as rim/left", where=where, after=after))
    )

    assert ("    sum    as rim/left\n" not in page) is together
    assert ("    where  left side; right side\n" in page) is together


def test_a_measured_centre_stands_beside_the_planned_one(leaves: Project) -> None:
    """Both centres are told; the planned one of 2 × 2 blocks of 6 in on point is 12 × √2, 16.97 in (geometry)."""
    assert leaves.setting is not None
    measured = replace(leaves, setting=replace(leaves.setting, measured=(F(17), F("16.75"))))
    lines = pieces_page(measured, quilt_of(piece("rim/left", (2, 3), 1))).splitlines()

    assert lines[7:9] == [
        "centre, as planned    ≈ 17 × ≈ 17 in      2 × 2 blocks on point and 1 between them",
        "centre, as measured   17 × 17 in          all that follows is worked out from this",
    ]


def test_a_pieced_block_is_unfinished_not_trimmed(leaves: Project) -> None:
    """A block that no hoop holds has no stitched edge."""
    (block,) = leaves.blocks
    pieced = replace(leaves, blocks=(replace(block, hoop=None),))
    lines = pieces_page(pieced, quilt_of(piece("rim/left", (2, 3), 1))).splitlines()

    assert lines[4] == ("block leaf, unfinished  6 1/2 × 6 1/2 in    as sewn, with a seam of 1/4 in on every side")


def test_copies_are_told(leaves: Project) -> None:
    """Whoever reads the counts of a kit learns that they are of all its copies."""
    lines = pieces_page(replace(leaves, copies=12), quilt_of(piece("rim/left", (2, 3), 24))).splitlines()

    assert lines[2] == "Counts are for all 12 copies; places and sums are of one."


def test_cautions_end_the_page(leaves: Project) -> None:
    """The cautions stand on the page as they are, whatever its lines."""
    page = pieces_page(leaves, quilt_of(piece("rim/left", (2, 3), 1)))

    assert " ".join(page.partition("Take care.")[2].split()) == CAUTIONS.removeprefix("Take care. ")


def test_a_list_of_pieces_without_a_quilt_has_no_sizes(leaves: Project) -> None:
    """What is no quilt has no sizes on the way, and the legend explains only what occurs."""
    page = pieces_page(leaves, quilt_of(piece("pocket", (2, 3), 1), sizes=None))

    assert "sizes on the way" not in page
    assert "\nopen " not in page


def test_no_line_is_wider_than_paper(leaves: Project) -> None:
    """Names, notes and sums of any length stay within 100 signs, and no size is parted by the end of a line."""
    long = "a-name-that-goes-on-and-on/" * 5
    sum_ = "width 10 1/2 + 1/4 + 3/8 seams = 11 1/8 in, " * 6
    noted = replace(leaves.fabrics["fern"], note="ferns and more ferns, " * 9)
    (block,) = leaves.blocks
    project = replace(
        leaves,
        name="Leaves and more leaves, " * 9,
        blocks=(replace(block, name=long[:80]),),
        fabrics={**leaves.fabrics, "fern": noted},
    )
    page = pieces_page(project, quilt_of(piece(long[:90], ("11.125", "99.875"), 10_000, why=sum_, where=long[:90])))
    lines = page.splitlines()

    assert max(map(len, lines)) <= 100
    assert not [line for line in lines if line.endswith((" 10", " 11", " ×"))]
    assert long[:90] in lines
    assert f"block {long[:80]}, stitched" in lines
