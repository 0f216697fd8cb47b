"""Joined strips on the drawings: their marks, which of their ends are sewn, and the seams there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch

from ellwand.model import Plan, Role
from ellwand.project.read import parse_project
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.joins import Ends, between_seams, joined_strips, mark_boxes, placed_ends, seam_lines
from ellwand_cli.views.pen import Box

# Strips joined at 45° and straight; invented.
STRIPS = """
[project]
name = "strips"
[[piece]]
name = "tile"
fabric = "ink"
cut = [6, 6]
[[border]]
name = "rim"
width = 3
fabric = "ink"
join = "straight"
cut = "crosswise"
[quilt]
across = 6
down = 6
[[block]]
name = "field"
count = 36
finished = [10, 10]
[[block.piece]]
name = "ground"
fabric = "ink"
covers = [1, 1]
[binding]
fabric = "ink"
strip = "2 1/2 in"
[fabric.ink]
width = 43
"""


def lines_of(figure: Figure, label: str) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The straight lines drawn under a label, each as its two ends."""
    found = []
    for group in figure.findobj(PathPatch):
        if isinstance(group, PathPatch) and group.get_label() == label:
            ends = np.asarray(group.get_path().vertices).reshape(-1, 2, 2)
            found += [tuple((float(x), float(y)) for x, y in line) for line in ends]
    return found  # type: ignore[return-value]


def test_a_seam_at_45_degrees_takes_the_strips_width() -> None:
    """The seams of two ends that are laid on each other rise alike; each is as deep as the strip is wide.

    Source: design, "join loss": a diagonal join takes the strip's cut width (common practice for binding).
    """
    both = Ends(near=True, far=True)

    assert list(seam_lines(Box(0, 0, 40, 3), both, diagonal=True, seam=0.25)) == [((0, 0), (3, 3)), ((37, 0), (40, 3))]
    assert list(seam_lines(Box(0, 0, 3, 40), both, diagonal=True, seam=0.25)) == [((3, 0), (0, 3)), ((3, 37), (0, 40))]


def test_a_straight_seam_runs_across_the_strip() -> None:
    """It lies a seam from the end, but never so near that it cannot be seen."""
    far = Ends(near=False, far=True)

    assert list(seam_lines(Box(0, 0, 40, 9), far, diagonal=False, seam=2.5)) == [((37.5, 0), (37.5, 9))]
    assert list(seam_lines(Box(0, 0, 40, 9), far, diagonal=False, seam=0.5)) == [((38, 0), (38, 9))]


def test_the_parts_of_a_strip_have_one_mark(named_plan: Callable[[str], Plan]) -> None:
    """Three strips of the plan are joined; pieces that are not have no mark."""
    found = {joined.mark: [piece.id for piece in joined.parts] for joined in joined_strips(named_plan("joined"))}

    assert found == {
        "J1": ["frame/top/1", "frame/top/2"], "J2": ["binding/1"], "J3": ["frame/left/1", "frame/left/2"],
    }  # fmt: skip


def ends_on(plan: Plan) -> dict[str, list[Ends]]:
    """The sewn ends of every piece of the first cloth, by name."""
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    found: dict[str, list[Ends]] = {}
    for placed, (_, ends) in placed_ends(plan, answer, layout, layout.placed).items():
        found.setdefault(placed.piece, []).append(ends)
    return found


def test_only_ends_that_meet_others_are_sewn(named_plan: Callable[[str], Plan]) -> None:
    """Of a border's strip the outer ends stay; a binding closes to a ring."""
    found = ends_on(named_plan("joined"))

    assert found["frame/top/1"] == [Ends(near=False, far=True)]
    assert found["frame/top/2"] == [Ends(near=True, far=False)]
    assert found["binding/1"] == [Ends(near=True, far=True)] * 2
    assert "block" not in found


def test_of_equal_parts_the_middle_ones_are_sewn_at_both_ends(named_plan: Callable[[str], Plan]) -> None:
    """A sleeve of four equal parts: the first and the last have one free end, the two between them none."""
    plan = named_plan("joined")
    parts = tuple(
        replace(piece, id="sleeve/1", role=Role.SLEEVE, count=4) if piece.id == "block" else piece
        for piece in plan.fabrics[0].pieces
    )
    block = next(piece for piece in parts if piece.id == "sleeve/1")
    long = replace(block, after="join end to end, straight across")
    layout = plan.fabrics[0].layouts[0]
    placed = tuple(replace(one, piece="sleeve/1") if one.piece == "block" else one for one in layout.placed)
    answer = replace(
        plan.fabrics[0],
        pieces=tuple(long if piece is block else piece for piece in parts),
        layouts=(replace(layout, placed=placed),),
    )

    assert ends_on(replace(plan, fabrics=(answer,)))["sleeve/1"] == [
        Ends(near=False, far=True), Ends(near=True, far=True), Ends(near=True, far=True), Ends(near=True, far=False),
    ]  # fmt: skip


def test_a_mark_stands_beside_a_seam_or_nowhere() -> None:
    """In a long strip beside its far seam, clear of it; in a strip lower than the words, or hardly longer, nowhere."""
    both = Ends(near=True, far=True)
    far, near = mark_boxes(Box(0, 0, 200, 12), both, "J1", diagonal=True)

    assert 150 < far.x < far.right <= 188.01
    assert 11.99 <= near.x < near.right < 50
    assert list(mark_boxes(Box(0, 0, 200, 6), both, "J1", diagonal=True)) == []
    assert list(mark_boxes(Box(0, 0, 40, 12), both, "J1", diagonal=True)) == []


def test_seams_are_drawn_with_marks_and_told_in_the_key(
    named_plan: Callable[[str], Plan], words: Callable[[Figure], list[Any]]
) -> None:
    """Two binding strips have two seams each, the four bits of borders one each; the key has one more to show."""
    plan = named_plan("joined")
    figure = cloth_figure(plan, plan.fabrics[0], plan.fabrics[0].layouts[0])
    lines = lines_of(figure, "joins")
    texts = [one.text for one in words(figure)]

    assert len(lines) == 2 * 2 + 4 + 1
    assert all(abs(abs(u - x) - abs(v - y)) < 0.01 for (x, y), (u, v) in lines)
    assert "join at 45°, to an end of the same J" in texts
    assert {"J1", "J2", "J3"} <= set(texts)
    assert any(text.endswith("1 pc, J1") for text in texts)


@pytest.mark.parametrize("name", ["rim", "binding"])
def test_every_joined_strip_of_a_project_is_marked(sewn: Callable[[Any], Plan], name: str) -> None:
    """Borders joined straight and a binding joined at 45° keep their kind."""
    found = [
        joined
        for joined in joined_strips(sewn(parse_project(STRIPS, "strips.toml")))
        if joined.parts[0].id.startswith(name)
    ]

    assert len(found) == {"rim": 4, "binding": 1}[name]
    assert all(joined.diagonal is (name == "binding") for joined in found)
    assert all(joined.round_ is (name == "binding") for joined in found)


def test_bits_of_a_strip_come_to_its_length(sewn: Callable[[Any], Plan]) -> None:
    """What straight seams leave of the bits is 60 in of centre, 2 × 3 in of border and 6 in of spare.

    Source: derived: a mitred strip is the finished side, twice the widths out to it, and its spare.
    """
    project = parse_project(STRIPS, "strips.toml")
    border = next(joined for joined in joined_strips(sewn(project)) if joined.parts[0].id == "rim/left/1")
    bits = [max(piece.across, piece.along) for piece in border.parts for _ in range(piece.count // border.strips)]

    assert sum(bits) - 2 * project.seam * (len(bits) - 1) == 60 + 2 * 3 + 6


def test_words_keep_clear_of_seams() -> None:
    """A strip's name stands between its seams; in one that is all seams it may stand on them."""
    both = Ends(near=True, far=True)

    assert between_seams(Box(0, 0, 200, 12), both, diagonal=True) == Box(12, 0, 176, 12)
    assert between_seams(Box(0, 0, 12, 200), Ends(near=False, far=True), diagonal=True) == Box(0, 0, 12, 188)
    assert between_seams(Box(0, 0, 40, 12), both, diagonal=True) == Box(0, 0, 40, 12)
