"""What comes from mixes, in batches, and the project with each batch given to fabrics."""

from __future__ import annotations

from collections import Counter

from ellwand.project.dividing import Batch, Division, batches, divide
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out

FILE = """
[project]
name = "Kite"
[quilt]
across = 3
down = 2
[[block]]
name = "tail"
finished = [8, 8]
[[block.piece]]
name = "ground"
fabric = "dark"
[[block.piece]]
name = "wing"
fabric = "dark"
patch = "half-square"
finished = [3, 3]
count = 3
[[block.piece]]
name = "goose"
fabric = "light"
patch = "geese"
finished = [4, 2]
sky = "dark"
[[border]]
name = "outer"
width = 2
fabric = "brass"
corners = "cornerstones"
cornerstones = "dark"
[binding]
fabric = "dark"
[fabric.dark]
any_of = ["ink", "navy"]
[fabric.light]
any_of = ["oat", "rose"]
[fabric.brass]
width = 43
[fabric.ink]
width = 43
[fabric.navy]
width = 43
[fabric.oat]
width = 43
[fabric.rose]
width = 43
"""
WHOLE = FILE.replace('any_of = ["ink", "navy"]', 'any_of = ["ink", "navy"]\nwhole_blocks = true')


def counts(text: str, division: Division) -> dict[tuple[str, str], int]:
    """Pieces of a divided project by id and fabric."""
    parts = work_out(divide(parse_project(text, "kite.toml"), division)).parts
    return Counter({(piece.id, piece.fabric): piece.count for part in parts for piece in part.pieces})


def test_the_batches_of_a_project() -> None:
    """Pieces and patches are divided by what is cut, three triangles of six blocks by nine squares; the rest is one."""
    assert batches(parse_project(FILE, "kite.toml")) == (
        Batch(mix="dark", name="tail/ground", count=6),
        Batch(mix="dark", name="tail/wing", count=9),
        Batch(mix="light", name="tail/goose", count=2),
        Batch(mix="dark", name="tail/goose/sky"),
        Batch(mix="dark", name="outer"),
        Batch(mix="dark", name="binding"),
    )


def test_whole_blocks_are_one_batch_for_each_mix_in_them() -> None:
    """Where one mix asks for whole blocks, the other is divided by blocks as well."""
    assert batches(parse_project(WHOLE, "kite.toml"))[:2] == (
        Batch(mix="dark", name="tail", count=6, blocks=True),
        Batch(mix="light", name="tail", count=6, blocks=True),
    )


def test_a_divided_piece_has_a_name_for_each_fabric() -> None:
    """Its counts are the shares; what is not divided keeps its name."""
    found = counts(
        FILE,
        {
            Batch(mix="dark", name="tail/ground", count=6): (("ink", 2), ("navy", 4)),
            Batch(mix="dark", name="tail/wing", count=9): (("navy", 9),),
            Batch(mix="light", name="tail/goose", count=2): (("oat", 1), ("rose", 1)),
            Batch(mix="dark", name="tail/goose/sky"): (("ink", 1),),
            Batch(mix="dark", name="outer"): (("navy", 1),),
        },
    )

    assert (found["tail/ground/ink", "ink"], found["tail/ground/navy", "navy"]) == (2, 4)
    assert found["tail/wing", "navy"] == 9
    assert found["tail/goose/oat", "oat"] == found["tail/goose/rose", "rose"] == 1
    assert found["tail/goose/oat/sky", "ink"] == found["tail/goose/rose/sky", "ink"] == 4
    assert found["outer/cornerstone", "navy"] == 4
    assert found["outer/top", "brass"] == 1


def test_divided_blocks_are_kinds_of_blocks() -> None:
    """Runs of blocks that wear the same: three triangles in each of five blocks are cut from eight squares."""
    division: Division = {
        Batch(mix="dark", name="tail", count=6, blocks=True): (("ink", 1), ("navy", 5)),
        Batch(mix="light", name="tail", count=6, blocks=True): (("oat", 2), ("rose", 4)),
    }

    project = divide(parse_project(WHOLE, "kite.toml"), division)
    found = counts(WHOLE, division)

    assert [(block.name, block.count) for block in project.blocks] == [
        ("tail/ink/oat", 1),
        ("tail/navy/oat", 1),
        ("tail/navy/rose", 4),
    ]
    assert found["tail/navy/rose/wing", "navy"] == 6
    assert found["tail/ink/oat/wing", "ink"] == 2
    assert found["tail/navy/oat/goose", "oat"] == 1
