"""From pieces and cloths to a packing problem, and from a packing to layouts."""

from __future__ import annotations

from fractions import Fraction

from ellwand.assign import Job, assign, lay_out
from ellwand.model import Layout, Offcut
from ellwand.packing.problem import Item, Packing, Place, Stock
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out

# A length of 30 in, a fat quarter, and cloth to buy; invented. Squaring takes 1/2 in of the length.
TEXT = """
[project]
name = "two pockets"
layout = "{layout}"
keep = 4

[[piece]]
name = "pocket"
fabric = "oat"
cut = [8, 10]
count = 2

[fabric.oat]
width = 42
selvage = 0
on_hand = [{{ length = 30 }}, {{ width = 21, length = 18 }}]
"""


def job(layout: str = "rotary") -> Job:
    """Two pockets to be cut from a length or a rectangle."""
    project = parse_project(TEXT.format(layout=layout), "oat.toml")
    (part,) = work_out(project).parts
    return assign(project, project.fabrics["oat"], part.pieces, as_new=False)


def on(job: Job, stock: int) -> Layout:
    """The layout when both pockets lie side by side on one stock."""
    places = tuple(Place(item=0, stock=stock, x=x, y=0, turned=False) for x in (0, 64))
    (layout,) = lay_out(job, Packing(places=places, length=0))
    return layout


def offcut(x: int, y: int, across: int, along: int) -> Offcut:
    """A leftover rectangle of whole inches."""
    return Offcut(x=Fraction(x), y=Fraction(y), across=Fraction(across), along=Fraction(along))


def test_only_rectangles_are_cut_either_way() -> None:
    """Tests that cloths come as marks of the ruler, lengths as sheets that are cut across first."""
    problem = job().problem

    assert problem.items == (Item(w=64, h=80, demand=2, turnable=True),)
    assert problem.stocks == (
        Stock(w=336, h=236, either_way=False),
        Stock(w=168, h=144, either_way=True),
        Stock(w=336, h=None),
    )


def test_rest_of_a_length_is_cut_off_and_not_used() -> None:
    """Tests that a length is used to its last piece and its rest, 19 1/2 in, stays as it is."""
    layout = on(job(), 0)

    assert layout.used == Fraction(21, 2)
    assert [(cut.direction.value, int(cut.at), int(cut.end)) for cut in layout.cuts] == [
        ("across", 10, 42), ("along", 8, 10), ("along", 16, 10),
    ]  # fmt: skip
    assert layout.offcuts == (offcut(16, 0, 26, 10),)
    assert layout.tree is not None
    assert [(part.along, part.rest) for part in layout.tree.parts] == [(10, False), (Fraction(39, 2), True)]


def test_rectangle_is_used_whole() -> None:
    """Tests that all that is left of a rectangle counts, and none of it is a rest."""
    layout = on(job(), 1)

    assert layout.used == 18
    assert sum(offcut.across * offcut.along for offcut in layout.offcuts) == 21 * 18 - 160
    assert layout.tree is not None
    assert not any(part.rest for part in layout.tree.parts)


def test_free_layout_of_a_length_ends_at_its_last_piece() -> None:
    """Tests that a free layout has no offcut beyond what is cut off."""
    layout = on(job("free"), 0)

    assert layout.offcuts == (offcut(16, 0, 26, 10),)
    assert (layout.tree, layout.cuts) == (None, ())
