from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from matplotlib.text import Text

from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand_cli.views.arrange import arrange, outline, pages, survey
from ellwand_cli.views.cutlist import steps_of
from ellwand_cli.views.drawing import cloth_figure, draw_cloth
from ellwand_cli.views.palette import SCRAP, Swatch, numbers, swatch
from ellwand_cli.views.pen import Box, pattern_lines

Measure = Callable[[Figure], list[Any]]


def figures(plan: Plan) -> list[Figure]:
    """The drawings of all cloths."""
    return [cloth_figure(plan, answer, layout) for answer in plan.fabrics for layout in answer.layouts]


def outlines(figure: Figure, label: str) -> list[Box]:
    """The outlines drawn for pieces or offcuts."""
    boxes = []
    for group in figure.findobj(PathPatch):
        if group.get_label() == label:
            assert isinstance(group, PathPatch)
            for corners in np.split(np.asarray(group.get_path().vertices), range(5, len(group.get_path()), 5)):
                (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
                boxes.append(Box(float(x0), float(y0), float(x1 - x0), float(y1 - y0)))
    return boxes


def segments(figure: Figure, label: str) -> list[Any]:
    """The straight lines drawn under a label, each as its two ends."""
    groups = [group for group in figure.findobj(PathPatch) if group.get_label() == label]
    return [line for group in groups for line in np.asarray(group.get_path().vertices).reshape(-1, 2, 2)]


def test_no_word_is_small_clipped_or_meets_another(plan: Plan, faults: Callable[[Figure], list[str]]) -> None:
    """All words of every drawing can be read."""
    assert [fault for figure in figures(plan) for fault in faults(figure)] == []


@pytest.mark.parametrize("name", ["fat quarter", "many", "hostile", "metric", "thin", "free"])
def test_every_piece_is_outlined_to_one_scale(named_plan: Callable[[str], Plan], name: str) -> None:
    """An unbroken drawing has one outline a piece, all at the arrangement's scale, across and along alike."""
    plan = named_plan(name)
    for answer in plan.fabrics:
        for layout in answer.layouts:
            drawn = outlines(cloth_figure(plan, answer, layout), "pieces")
            real = [(float(placed.across), float(placed.along)) for placed in layout.placed]
            scale = max(box.w for box in drawn) / max(across for across, _ in real)

            assert len(drawn) == len(real)
            assert sorted((round(box.w / scale, 3), round(box.h / scale, 3)) for box in drawn) == sorted(
                (round(across, 3), round(along, 3)) for across, along in real
            )


def test_offcuts_are_outlined(named_plan: Callable[[str], Plan]) -> None:
    """Every offcut of an unbroken drawing is drawn dashed."""
    plan = named_plan("metric")
    layout = plan.fabrics[0].layouts[0]
    drawn = outlines(cloth_figure(plan, plan.fabrics[0], layout), "offcuts")

    assert len(drawn) == len(layout.offcuts) > 0


def test_diagonals_are_drawn_where_squares_are_cut_on(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Three squares cut twice and two cut once have eight lines, from corner to corner; the key tells what they are."""
    plan = named_plan("pieced")
    answer = plan.fabrics[0]
    figure = cloth_figure(plan, answer, answer.layouts[0])
    lines = segments(figure, "diagonals")
    corners = {
        (round(x, 2), round(y, 2))
        for box in outlines(figure, "pieces")
        for x in (box.x, box.right)
        for y in (box.y, box.top)
    }

    assert len(lines) == 3 * 2 + 2 * 1 + 1  # and the key's
    assert len([line for line in lines if all((round(x, 2), round(y, 2)) in corners for x, y in line)]) == 8
    assert "cut on such lines afterwards" in [one.text for one in words(figure)]


def test_no_diagonals_where_nothing_is_cut_on(named_plan: Callable[[str], Plan]) -> None:
    """A cloth of plain pieces has neither lines nor a word on them."""
    plan = named_plan("joined")
    answer = plan.fabrics[0]

    assert segments(cloth_figure(plan, answer, answer.layouts[0]), "diagonals") == []


def test_name_and_size_stand_inside_their_piece(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """A name with its size is written within an outline."""
    plan = named_plan("long bolt")
    figure = figures(plan)[0]
    boxes = outlines(figure, "pieces")
    named = [one for one in words(figure) if one.text.startswith("binding/1") and one.size > 7.6 and one.low > 120]

    assert len(named) == 7
    for one in named:
        assert any(b.x <= one.left and one.right <= b.right and b.y <= one.low and one.top <= b.top + 2 for b in boxes)


def test_a_piece_without_room_for_its_name_carries_its_number(
    named_plan: Callable[[str], Plan], words: Measure
) -> None:
    """Ten tiles in a row that are too small for a name show the number of the key."""
    plan = named_plan("fat quarter")
    figure = figures(plan)[0]
    number = str(numbers(plan)["star/point"])
    shown = [one for one in words(figure) if one.text == number]

    assert len(shown) >= 60  # each of the 60 points, and the key


def test_a_long_bolt_is_broken_where_no_piece_is_cut(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Bands of a long bolt meet between strips where they can, and matching letters say where to go on."""
    plan = named_plan("long bolt")
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    found = arrange(survey(answer, layout), 870, 820)
    breaks = [band.end for band in found.bands[:-1]]

    assert len(found.bands) == 2
    assert not [p for p in layout.placed for y in breaks if p.y < y < p.y + p.along]
    texts = [one.text for one in words(cloth_figure(plan, answer, layout))]
    assert "goes on at A" in texts
    assert "from A" in texts


def test_a_piece_longer_than_a_band_is_drawn_in_both(named_plan: Callable[[str], Plan]) -> None:
    """A runner as long as the cloth appears in every band; its parts add up to it."""
    plan = named_plan("runner")
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    drawn = outlines(cloth_figure(plan, answer, layout), "pieces")
    widest = max(box.w for box in drawn)
    parts = [box for box in drawn if box.w > widest - 0.1]

    assert len(parts) == 2
    assert sum(box.h for box in parts) / widest == pytest.approx(260 / 20)


def test_bands_cover_the_cloth_once(plan: Plan) -> None:
    """Bands follow each other from the squared end to the last piece."""
    for answer in plan.fabrics:
        for layout in answer.layouts:
            found = arrange(survey(answer, layout), 500, 700)

            assert found.bands[0].start == 0
            assert found.bands[-1].end == found.drawn.extent
            assert all(before.end == after.start for before, after in pairwise(found.bands))


def test_a_drawing_fits_its_room(plan: Plan) -> None:
    """What an arrangement says it takes is no more than it was given."""
    for answer in plan.fabrics:
        for layout in answer.layouts:
            found = arrange(survey(answer, layout), 520, 640)

            assert found.w <= 520.01
            assert found.h <= 640.01


def test_equal_strips_of_a_kit_are_drawn_once(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """1530 pieces in 368 strips of five sorts need few outlines; the figures beside say how many strips there are."""
    plan = named_plan("kit")
    figure = figures(plan)[0]
    texts = [one.text for one in words(figure)]

    assert len(outlines(figure, "pieces")) == 5 + 12 + 1 + 21 + 3
    assert "90 × 10" in texts
    assert "210 × 3" in texts


def test_selvages_and_squaring_are_at_the_edges(named_plan: Callable[[str], Plan]) -> None:
    """A full width loses half of what is lost on each side; a fat quarter without selvage nothing."""
    bolt = named_plan("many").fabrics[0]
    edges = outline(bolt, bolt.layouts[0])

    assert (edges.selvage_left, edges.usable, edges.selvage_right) == (Fraction(1, 2), Fraction(42), Fraction(1, 2))
    assert edges.squaring == Fraction(1, 2)
    quarter = named_plan("fat quarter").fabrics[0]
    assert outline(quarter, quarter.layouts[0]).width == 21


def test_what_is_bought_beyond_need_is_named(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """The rest of the bought length is written beyond the last piece: 1.9 m bought, 185 cm and 1.27 cm taken."""
    texts = [one.text for one in words(figures(named_plan("metric"))[0])]

    assert "left of what is bought: ≈ 3.7 cm" in texts
    assert "usable width 107.4 cm" in texts
    assert "needed 185 cm" in texts


def test_drawing_composes_on_any_axes(named_plan: Callable[[str], Plan], faults: Callable[[Figure], list[str]]) -> None:
    """Two cloths share a figure, each in its own Axes."""
    plan = named_plan("backing")
    figure = Figure(figsize=(16, 10))
    for ax, answer in zip(figure.subplots(1, 2), plan.fabrics, strict=True):
        draw_cloth(plan, answer, answer.layouts[0], ax)

    assert faults(figure) == []


def test_a_kind_keeps_its_number_and_look_in_the_whole_plan(named_plan: Callable[[str], Plan]) -> None:
    """Numbers count all kinds of the plan; the first 64 looks differ, neighbours in tint and pattern."""
    looks = [swatch(number) for number in range(1, 65)]

    assert numbers(named_plan("backing")) == {"backing/1": 1, "batting": 2}
    assert len(set(looks)) == 64
    assert all(a.tint != b.tint and a.pattern != b.pattern for a, b in pairwise(looks))


@pytest.mark.parametrize("number", range(1, 9))
def test_patterns_stay_inside_their_piece(number: int) -> None:
    """No line of a pattern leaves the outline."""
    box = Box(13.2, 7.9, 41.0, 23.5)
    look: Swatch = swatch(number)

    for segment in pattern_lines(look, box):
        for x, y in segment:
            assert box.x - 1e-6 <= x <= box.right + 1e-6
            assert box.y - 1e-6 <= y <= box.top + 1e-6


def test_tints_stay_light_in_grey_print() -> None:
    """Black words on a printed tint keep a contrast of 7:1 and more (WCAG 2.1, contrast enhanced, as a yardstick)."""
    for number in range(1, 65):
        channels = [int(swatch(number).tint[start : start + 2], 16) / 255 for start in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
        light = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

        assert (light + 0.05) / (0.019 + 0.05) >= 7  # 0.019: the ink's own light


def test_a_cloth_too_long_for_one_page_takes_several(named_plan: Callable[[str], Plan]) -> None:
    """On narrow paper a bolt goes on over papers of one scale, band after band, each wide enough to read."""
    answer = named_plan("runner").fabrics[0]
    papers = pages(survey(answer, answer.layouts[0]), 330, 400)
    bands = [band for paper in papers for band in paper.bands]

    assert len(papers) > 1
    assert len({paper.scale for paper in papers}) == 1
    assert [paper.before for paper in papers] == list(range(len(papers)))
    assert all(before.end == after.start for before, after in pairwise(bands))
    assert papers[0].scale * 42 >= 130
    assert all(paper.h <= 400.01 and paper.w <= 330.01 for paper in papers)


def test_the_measuring_of_words_finds_faults(faults: Callable[[Figure], list[str]]) -> None:
    """Small, clipped and overlapping words are each reported."""
    figure = Figure(figsize=(2, 2))
    for x, text, size in ((0.3, "one", 9), (0.32, "two", 9), (0.9, "clipped", 9), (0.1, "small", 6)):
        figure.text(x, 0.5 if size == 9 else 0.1, text, fontsize=size)

    assert [fault.split(":")[0] for fault in faults(figure)] == ["small", "clipped", "overlap"]


def test_one_selvage_lies_at_the_left_and_rounding_is_none(named_plan: Callable[[str], Plan]) -> None:
    """Of a cloth that lost one selvage of 1/2 in the left edge shows it; 1/16 in lost to rounding is not shown."""
    answer = named_plan("fat quarter").fabrics[0]
    layout = answer.layouts[0]
    cases = ((Fraction(1, 2), (Fraction(1, 2), Fraction(0))), (Fraction(1, 16), (Fraction(0), Fraction(0))))
    for lost, expected in cases:
        edges = outline(answer, replace(layout, cloth=replace(layout.cloth, width=layout.cloth.across + lost)))

        assert (edges.selvage_left, edges.selvage_right) == expected


def test_scrap_looks_like_no_piece() -> None:
    """The strokes of scrap are the pattern of no kind of piece."""
    assert SCRAP.pattern not in {swatch(number).pattern for number in range(1, 65)}


def test_outline_and_flaws_are_drawn_where_they_lie() -> None:
    """The edges of an odd shape and of a flaw are drawn to the scale of its pieces, and the key names the flaw."""
    text = """
    [project]
    name = "Remnant"
    [[piece]]
    name = "leaf"
    fabric = "moss"
    cut = [4, 5]
    count = 4
    [fabric.moss]
    width = 43
    on_hand = [{ outline = [[0, 0], [20, 0], [20, 9], [0, 18]], flaws = [{ x = 6, y = 1, across = 2, along = 3 }] }]
    """
    plan = make_plan(parse_project(text, "r.toml"), effort=Effort.QUICK)
    (layout,) = plan.fabrics[0].layouts
    figure = cloth_figure(plan, plan.fabrics[0], layout)
    across = sorted(float(placed.across) for placed in layout.placed)
    (scale,) = {
        round(box.w / real, 6)
        for box, real in zip(sorted(outlines(figure, "pieces"), key=lambda box: box.w), across, strict=True)
    }

    edges, flaw = (np.concatenate(segments(figure, label)) for label in ("outline", "flaws"))

    assert np.ptp(edges, axis=0) == pytest.approx([20 * scale, 18 * scale])
    assert np.ptp(flaw, axis=0) == pytest.approx([2 * scale, 3 * scale])
    assert flaw.min(axis=0) - edges.min(axis=0) == pytest.approx([6 * scale, 1 * scale])
    words = [text.get_text() for text in figure.findobj(Text) if isinstance(text, Text)]
    assert "flaw, kept clear of" in words


def test_strips_carry_their_step_and_letter(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """The strip of 10 in, lowest, is cut in step 4 and cut on; those of 3 in step 5: the last is cut on."""
    plan = named_plan("joined")
    answer = plan.fabrics[0]
    figure = cloth_figure(plan, answer, answer.layouts[0])
    right = max(box.right for box in outlines(figure, "pieces"))
    beside = sorted((one for one in words(figure) if one.left > right), key=lambda one: one.low)

    assert [one.text for one in beside if one.text in ("4A", "5", "5B")] == ["4A", "5", "5", "5", "5", "5B"]
    assert [step.words for step in steps_of(plan, answer, answer.layouts[0]) if step.number in ("4", "5")] == [
        "Set the ruler to 10 in.",
        "Set the ruler to 3 in.",
    ]


def test_folds_are_drawn_through_the_strips_that_are_cut_folded(named_plan: Callable[[str], Plan]) -> None:
    """42 in are folded once, at the middle, for each of five strips of 3 in and one of 10; the key shows another."""
    plan = named_plan("joined")
    answer = plan.fabrics[0]
    figure = cloth_figure(plan, answer, answer.layouts[0])
    pieces = outlines(figure, "pieces")
    left = min(box.x for box in pieces)
    middle = left + max(box.w for box in pieces) / 2  # the strips are as wide as the cloth

    folds = [line for line in segments(figure, "folds") if line[0][1] > 100]

    assert len(folds) == 6
    assert all(abs(x - middle) < 0.01 for line in folds for x, _ in line)


def test_narrow_cloth_is_not_folded(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """A ruler of 24 in reaches across 21 in, so neither fold nor key entry is drawn."""
    plan = named_plan("fat quarter")
    answer = plan.fabrics[0]
    figure = cloth_figure(plan, answer, answer.layouts[0])

    assert segments(figure, "folds") == []
    assert not [one for one in words(figure) if one.text.startswith("fold")]


def test_offcuts_of_one_size_share_a_letter(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Three offcuts of 25 × 75 cm are all a, and one line of the key."""
    plan = named_plan("metric")
    answer = plan.fabrics[0]
    texts = [one.text for one in words(cloth_figure(plan, answer, answer.layouts[0]))]

    assert texts.count("a: offcut") + texts.count("a") == 3 + 1  # and the key's mark
    assert "3 offcuts" in texts


def test_the_key_has_sizes_as_they_lie(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """A piece that lies a quarter turned has one size on drawing and key: across before along."""
    plan = named_plan("joined")
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    turned = tuple(replace(piece, across=piece.along, along=piece.across) for piece in answer.pieces)
    texts = [one.text for one in words(cloth_figure(plan, replace(answer, pieces=turned), layout))]

    assert any(text.startswith("42 × 3 in, 2 pc") for text in texts)
    assert not any("3 × 42" in text for text in texts)
