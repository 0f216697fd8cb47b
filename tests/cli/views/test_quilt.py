"""The drawing of the finished quilt and of its backing: words that can be read, names and numbers of the cloths."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from pypdf import PdfReader

from ellwand.model import Plan
from ellwand.project.read import parse_project, read_project
from ellwand.project.tables import Project
from ellwand_cli.views.back import back_figure, is_pieced
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.palette import numbers
from ellwand_cli.views.quilt import quilt_figure
from ellwand_cli.views.sheets import cutting_sheets, sheet_figures
from ellwand_cli.views.typeset import printable
from laws.quilts import QUILTS, Made, project_of

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*.toml"))
(LANTERNS,) = [path for path in EXAMPLES if path.stem == "harbour-lanterns"]
Sewn = Callable[[Project], Plan]
Faults = Callable[[Figure], list[str]]
Words = Callable[[Figure], list[Any]]
NASTY = "<script>alert('x')<b> \"&amp; שלום \U0001f9f5"
LONG = NASTY + " long" * 32  # two hundred letters


def front(plan: Plan) -> Figure:
    """The drawing of its quilt."""
    assert plan.sizes is not None
    return quilt_figure(plan, plan.sizes)


def back(plan: Plan) -> Figure:
    """The drawing of its backing."""
    assert plan.sizes is not None
    return back_figure(plan, plan.sizes)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_words_of_the_examples_can_be_read(path: Path, sewn: Sewn, faults: Faults) -> None:
    """No word is small, clipped or meets another, in front, at the back and on the printed page."""
    plan = sewn(read_project(path))

    assert [fault for figure in (front(plan), back(plan), *sheet_figures(plan)) for fault in faults(figure)] == []


@settings(deadline=None, derandomize=True, max_examples=12, suppress_health_check=list(HealthCheck))
@given(made=QUILTS)
def test_words_of_any_quilt_can_be_read(made: Made, sewn: Sewn, faults: Faults) -> None:
    """The same for quilts made at random."""
    plan = sewn(project_of(made))

    assert [fault for figure in (front(plan), back(plan)) for fault in faults(figure)] == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_pieces_have_the_numbers_of_the_cutting_diagrams(path: Path, sewn: Sewn, words: Words) -> None:
    """Every piece of block, sashing, border and binding is in the key under its number and name."""
    plan = sewn(read_project(path))

    written = [one.text for one in words(front(plan))]
    seen = [piece.id for answer in plan.fabrics for piece in answer.pieces
            if piece.role.value in ("block", "sashing", "triangle", "border", "binding")]  # fmt: skip
    assert seen
    assert [id for id in seen if id not in written or str(numbers(plan)[id]) not in " ".join(written).split()] == []


def test_the_sizes_are_told(sewn: Sewn, words: Words) -> None:
    """The bound size both ways, the centre's and each border's width stand beside the quilt."""
    # derived: centre 24 × 32, borders of 1 1/2 and 4, binding seam 3/8: 24 + 11 + 3/4 = 35 3/4 and 43 3/4
    written = [one.text for one in words(front(sewn(read_project(LANTERNS))))]

    assert {"bound 35 3/4 in", "bound 43 3/4 in", "24", "32"} <= set(written)
    assert written.count("1 1/2") == 4
    assert written.count("4") >= 4


def test_the_drawing_is_to_scale(sewn: Sewn) -> None:
    """The outlines of a quilt without binding are as wide to high as its finished size."""
    text = '[project]\nname = "p"\n[quilt]\nacross = 3\ndown = 2\n[[block]]\nname = "b"\nfinished = [7, 5]\n'
    text += '[[block.piece]]\nname = "g"\nfabric = "oat"\n[fabric.oat]\nwidth = 42\n'
    figure = front(sewn(parse_project(text, "p.toml")))

    faces = next(patch for patch in figure.findobj(PathPatch) if patch.get_label() == "faces")
    assert isinstance(faces, PathPatch)
    box = faces.get_path().get_extents()
    assert Fraction(box.width / box.height).limit_denominator(1000) == Fraction(21, 10)


@pytest.mark.parametrize("overhang", range(3, 25, 3))
def test_words_on_the_backing_keep_clear_of_the_quilts_edge(sewn: Sewn, words: Words, overhang: int) -> None:
    """No name of a panel lies on the dashed line, which is where the bound quilt comes to lie."""
    project = read_project(LANTERNS)
    assert project.backing is not None
    figure = back(sewn(replace(project, backing=replace(project.backing, overhang=Fraction(overhang)))))
    (line,) = [one for one in figure.findobj(PathPatch) if isinstance(one, PathPatch) and one.get_label() == "quilt"]
    corners = np.asarray(line.get_path().vertices).round(2)
    across, up = ([float(end) for end in np.unique(corners[:, side])] for side in (0, 1))
    named = [one for one in words(figure) if one.text.startswith("backing/") and one.size > 7.6]

    assert named
    assert not [one.text for one in named for end in across if one.left < end < one.right]
    assert not [one.text for one in named for end in up if one.low < end < one.top]


def test_only_a_pieced_backing_has_seams(sewn: Sewn) -> None:
    """Where the cloth is wide enough there is one panel, else there are several, which show less their seams."""
    # derived: raw 50 1/2 × 60 1/2 and an overhang of 4 on each side: 58 1/2 wide; 41 + 18 1/2 less 2 × 1/2 = 58 1/2
    text = """
[project]
name = "p"
[quilt]
[[block]]
name = "b"
finished = [50, 60]
[backing]
fabric = "oat"
panels = "lengthwise"
seam = "1/2 in"
[fabric.oat]
width = WIDE
selvage = "1/2 in"
"""
    narrow, wide = (sewn(parse_project(text.replace("WIDE", width), "p.toml")) for width in ("42", "110"))

    assert (is_pieced(narrow), is_pieced(wide)) == (True, False)
    panels = [patch for patch in back(narrow).findobj(PathPatch) if patch.get_label() == "panels"]
    boxes = [patch.get_path().get_extents() for patch in panels if isinstance(patch, PathPatch)]
    shares = [box.width / sum(box.width for box in boxes) for box in boxes]
    assert [round(share * 58.5, 6) for share in shares] == [40.5, 18.0]


def test_hostile_names_do_no_harm(sewn: Sewn, faults: Faults, words: Words) -> None:
    """Names of tags, quotes, signs without letters and two hundred letters: valid XML, told as they are."""
    name = NASTY.replace('"', '\\"')
    text = f'[project]\nname = "p"\n[quilt]\n[[block]]\nname = "{name}"\nfinished = [9, 9]\n'
    text += f'[[block.piece]]\nname = "{name}"\nfabric = "oat"\n[binding]\nfabric = "oat"\n'
    text += '[backing]\nfabric = "oat"\n[fabric.oat]\nwidth = 42\n'
    plan = sewn(replace(parse_project(text, "p.toml"), name=LONG))

    for figure in (front(plan), back(plan)):
        root = ElementTree.fromstring(figure_bytes(figure, "svg"))
        assert faults(figure) == []
        assert not list(root.iter("{http://www.w3.org/2000/svg}script"))
        assert printable(LONG) in "".join(root.itertext())
    assert any(one.text.startswith("<script>alert(") for one in words(front(plan)))


def test_the_pdf_has_a_page_of_the_quilt(sewn: Sewn) -> None:
    """One page of the sheets is the quilt's, and tells its blocks and borders."""
    plan = sewn(read_project(LANTERNS))

    pages = [page.extract_text() for page in PdfReader(BytesIO(cutting_sheets(plan))).pages]
    (quilt,) = [text for text in pages if "The finished quilt" in text]
    assert quilt.count("lantern\n") >= 12
    assert "outer/top" in quilt
