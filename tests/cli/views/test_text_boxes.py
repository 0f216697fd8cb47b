"""Where words stand on the drawings and sheets of projects made at random."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from matplotlib.text import Text

from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.tables import Project
from ellwand_cli.views.back import back_figure
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.paper import Paper
from ellwand_cli.views.pen import Box
from ellwand_cli.views.quilt import quilt_figure
from ellwand_cli.views.sheets import sheet_figures
from ellwand_cli.views.typeset import drawn_width
from laws.patches import PATCHES, Patches
from laws.quilts import QUILTS, Made, project_of

_ASCENT, _DESCENT = 0.76, 0.24  # of DejaVu Sans, in text sizes, as letters reach
_MEET = 1.0  # points by which two boxes may meet: no letter fills its box


@dataclass(frozen=True)
class Word:
    """A line of text with the box that its letters take."""

    text: str
    size: float
    box: Box


def words_on(figure: Figure) -> list[Word]:
    """Every line of a figure with its box, from its place and its measured width; nothing is rendered."""
    found = []
    for text in figure.findobj(Text):
        assert isinstance(text, Text)
        if text.get_text():
            x, y = (float(value) for value in text.get_position())
            size = float(text.get_fontsize())
            w = drawn_width(text.get_text(), size, bold=str(text.get_fontproperties().get_weight()) == "bold")
            before = w * {"left": 0.0, "center": 0.5, "right": 1.0}[str(text.get_horizontalalignment())]
            low, high = _DESCENT * size, _ASCENT * size
            upright = abs(float(text.get_rotation()) - 90) < 1
            box = Box(x - high, y - before, low + high, w) if upright else Box(x - before, y - low, w, low + high)
            found.append(Word(text.get_text(), size, box))
    return found


def pieces_on(figure: Figure) -> list[Box]:
    """The outlines of pieces and offcuts."""
    boxes = []
    for group in figure.findobj(PathPatch):
        assert isinstance(group, PathPatch)
        if group.get_label() in ("pieces", "offcuts"):
            for corners in np.asarray(group.get_path().vertices).reshape(-1, 5, 2):
                (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
                boxes.append(Box(float(x0), float(y0), float(x1 - x0), float(y1 - y0)))
    return boxes


def shared(one: Box, two: Box) -> tuple[float, float]:
    """How far two boxes overlap, across and up."""
    return min(one.right, two.right) - max(one.x, two.x), min(one.top, two.top) - max(one.y, two.y)


def faults_on(figure: Figure) -> Iterator[str]:
    """Words that are small, leave the page, meet others, or lie half in a piece."""
    w, h = figure.get_figwidth() * 72, figure.get_figheight() * 72
    words, pieces = words_on(figure), pieces_on(figure)
    for word in words:
        if word.size < 7:
            yield f"small: {word.text}"
        if word.box.x < 0 or word.box.y < 0 or word.box.right > w or word.box.top > h:
            yield f"off the page: {word.text}"
        yield from _leaving(word, pieces)
    ordered = sorted(words, key=lambda word: word.box.x)
    for number, one in enumerate(ordered):
        for two in ordered[number + 1 :]:
            if two.box.x > one.box.right:
                break
            if min(shared(one.box, two.box)) > _MEET:
                yield f"overlap: {one.text!r} and {two.text!r}"


def _leaving(word: Word, pieces: list[Box]) -> Iterator[str]:
    """A word that is in a piece is in it whole, or in a block of equal ones that it counts."""
    touched = [piece for piece in pieces if min(shared(word.box, piece)) > _MEET]
    sizes = {(round(piece.w, 2), round(piece.h, 2)) for piece in touched}
    covered = sum(shared(word.box, piece)[0] * shared(word.box, piece)[1] for piece in touched)
    area = word.box.w * word.box.h
    if touched and (len(sizes) > 1 or covered < area - _MEET * (word.box.w + word.box.h)):
        yield f"leaves its piece: {word.text!r}, {covered:.1f} of {area:.1f}"


@settings(max_examples=300, deadline=None, derandomize=True)
@given(patches=PATCHES)
def test_words_on_any_drawing_can_be_read(patches: Patches) -> None:
    """Of 300 projects every drawing: at least 7 pt, on the page, none meets another or leaves its piece."""
    plan = make_plan(patches.project(), effort=Effort.QUICK)

    for answer in plan.fabrics:
        for layout in answer.layouts:
            assert list(faults_on(cloth_figure(plan, answer, layout))) == []


@settings(max_examples=30, deadline=None, derandomize=True)
@given(patches=PATCHES, paper=st.sampled_from(Paper))
def test_words_on_any_sheet_can_be_read(patches: Patches, paper: Paper) -> None:
    """Of thirty projects every page on one paper or the other, measured from places and widths."""
    for figure in sheet_figures(make_plan(patches.project(), effort=Effort.QUICK), paper=paper, stamp="2026-02-03"):
        assert list(faults_on(figure)) == []


@settings(max_examples=300, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(made=QUILTS)
def test_words_on_any_quilt_can_be_read(made: Made, sewn: Callable[[Project], Plan]) -> None:
    """Of 300 quilts the drawings of front and back, measured from places and widths."""
    plan = sewn(project_of(made))
    assert plan.sizes is not None

    assert list(faults_on(quilt_figure(plan, plan.sizes))) == []
    assert list(faults_on(back_figure(plan, plan.sizes))) == []


@settings(max_examples=30, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(made=QUILTS, paper=st.sampled_from(Paper))
def test_words_on_any_quilts_pages_can_be_read(made: Made, paper: Paper, sewn: Callable[[Project], Plan]) -> None:
    """Of thirty quilts the pages beside those of cloths: what to buy, the quilt, the materials, the labels."""
    for figure in sheet_figures(sewn(project_of(made)), paper=paper, stamp="2026-02-03"):
        assert list(faults_on(figure)) == []


def test_rendered_sheets_agree(faults: Callable[[Figure], list[str]]) -> None:
    """Ten projects rendered, the words measured by the renderer."""
    plans = []

    @settings(max_examples=10, deadline=None, derandomize=True, database=None)
    @given(patches=PATCHES)
    def collect(patches: Patches) -> None:
        plans.append(make_plan(patches.project(), effort=Effort.QUICK))

    collect()

    assert len(plans) == 10
    assert [fault for plan in plans for figure in sheet_figures(plan) for fault in faults(figure)] == []


def test_the_measure_finds_words_that_meet() -> None:
    """Two lines on one another, one too small, one half off the page."""
    figure = Figure(figsize=(2, 1))
    for x, y, size in ((20, 20, 8), (24, 22, 8), (5, 50, 6), (139, 60, 8)):
        figure.text(x, y, "word", fontproperties=_font(size), transform=None)

    found = list(faults_on(figure))

    assert [fault.split(":")[0] for fault in sorted(found)] == ["off the page", "overlap", "small"]


def _font(size: float) -> object:
    from ellwand_cli.views.typeset import font

    return font(size, False)
