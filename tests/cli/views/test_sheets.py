from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from io import BytesIO
from typing import Any

import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from pypdf import PdfReader

from ellwand.model import Plan
from ellwand_cli.views.cutlist import steps_of
from ellwand_cli.views.origin import as_laid
from ellwand_cli.views.paper import Paper
from ellwand_cli.views.ruler import ruler_lines
from ellwand_cli.views.sheets import cutting_sheets, sheet_figures
from ellwand_cli.views.tally import box_worth
from ellwand_cli.views.typeset import printable

Measure = Callable[[Figure], list[Any]]


def squeezed(text: str) -> str:
    """`text` without its spaces, as line breaks fall anywhere."""
    return "".join(text.split())


def test_no_word_is_small_clipped_or_meets_another(plan: Plan, faults: Callable[[Figure], list[str]]) -> None:
    """All words of every sheet can be read."""
    assert [fault for figure in sheet_figures(plan) for fault in faults(figure)] == []


def test_every_step_is_printed(plan: Plan, words: Measure) -> None:
    """Overview and cloths together hold all steps of all cut lists, word for word."""
    printed = squeezed("".join(one.text for figure in sheet_figures(plan) for one in words(figure)))

    for answer in plan.fabrics:
        for layout in answer.layouts:
            for step in steps_of(plan, answer, layout):
                for words_ in (step.words, *step.parts):
                    assert squeezed(printable(words_)) in printed


def test_pages_are_numbered_and_cautioned(plan: Plan) -> None:
    """Each page of the PDF says its number and ends with the cautions."""
    reader = PdfReader(BytesIO(cutting_sheets(plan)))
    total = len(reader.pages)

    assert total >= 1 + sum(len(answer.layouts) for answer in plan.fabrics)
    for number, page in enumerate(reader.pages, 1):
        text = squeezed(page.extract_text())
        assert squeezed(f"page {number} of {total}") in text
        assert squeezed("Close the blade after every cut.") in text
        assert squeezed("local rules and licensed practice come before this sheet.") in text


# Source: ISO 216 (A4: 210 × 297 mm); ANSI/ASME Y14.1 (size A, "letter": 8.5 × 11 in)
SIDES = {Paper.A4: (210 / 25.4 * 72, 297 / 25.4 * 72), Paper.LETTER: (8.5 * 72, 11 * 72)}


@pytest.mark.parametrize("paper", SIDES)
def test_every_page_has_the_size_of_its_paper(named_plan: Callable[[str], Plan], paper: Paper) -> None:
    """The PDF read back: all its pages are A4 or all are letter, upright or across."""
    for name in ("joined", "metric"):
        for page in PdfReader(BytesIO(cutting_sheets(named_plan(name), paper=paper))).pages:
            sides = sorted((float(page.mediabox.width), float(page.mediabox.height)))

            assert sides == pytest.approx(SIDES[paper], abs=1)


@pytest.mark.parametrize(("name", "paper"), [("joined", Paper.LETTER), ("metric", Paper.A4)])
def test_the_usual_paper_is_that_of_the_unit(named_plan: Callable[[str], Plan], name: str, paper: Paper) -> None:
    """Letter for inches, A4 for centimetres."""
    for page in PdfReader(BytesIO(cutting_sheets(named_plan(name)))).pages:
        sides = sorted((float(page.mediabox.width), float(page.mediabox.height)))

        assert sides == pytest.approx(SIDES[paper], abs=1)


def test_words_keep_the_margins_on_the_other_paper(plan: Plan, words: Measure) -> None:
    """On the paper that is not the unit's usual one nothing is written within 30 pt of the edge, or small."""
    other = Paper.A4 if plan.project.unit == "in" else Paper.LETTER
    for figure in sheet_figures(plan, paper=other):
        w, h = figure.get_figwidth() * 72, figure.get_figheight() * 72
        for one in words(figure):
            assert one.size >= 7
            assert min(one.left, one.low, w - one.right, h - one.top) >= 30


def test_the_overview_tells_have_buy_cost_pieces_and_waste(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """The first page has a card for every fabric, with what is bought beside the waste."""
    plan = named_plan("backing")
    texts = [one.text for one in words(sheet_figures(plan)[0])]

    for expected in ("oat", "batting", "1 cloth", "nothing", "2 1/8 yd, 76 1/2 in", "2, 1 kind", "7.3 %", "1.7 %"):
        assert expected in texts
    assert any("largest offcut" in text or "35 × 72 in" in text for text in texts)


def test_equal_plans_make_equal_files(named_plan: Callable[[str], Plan]) -> None:
    """Two runs give the same bytes."""
    assert cutting_sheets(named_plan("hostile")) == cutting_sheets(named_plan("hostile"))


def test_many_kinds_flow_over_pages(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """A list that does not fit beside its drawing goes on on another page."""
    figures = sheet_figures(named_plan("many"))

    assert len(figures) == 6  # overview, drawing, two of list and tally, labels, materials
    assert any(one.text == "18" for one in words(figures[3]))


def test_a_page_that_goes_on_repeats_the_key(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Every page of a cloth with numbers on it explains them: ten kinds of tile on both pages of the cloth."""
    pages = [[one.text for one in words(figure)] for figure in sheet_figures(named_plan("many"))]
    numbered = [texts for texts in pages if any(text.startswith("ink 1 –") for text in texts)]

    assert len(numbered) == 3
    assert all(f"tile {number}" in texts for texts in numbered for number in range(10))


def sections_of(figures: Sequence[Figure], words: Measure) -> list[list[str]]:
    """What of how to read, the one go and the materials stands on each page that has any of it."""
    heads = ("How to read the sheets", "All cloths at one go", "Materials")
    found = [[head for head in heads if head in [one.text for one in words(figure)]] for figure in figures]
    return [page for page in found if page]


@pytest.mark.parametrize(
    ("warnings", "pages"),
    [
        (0, [["How to read the sheets"], ["All cloths at one go", "Materials"]]),
        (30, [["How to read the sheets", "All cloths at one go", "Materials"]]),
        (45, [["How to read the sheets"], ["All cloths at one go", "Materials"]]),
    ],
)
def test_short_matter_shares_a_page(
    bordered: Callable[[Fraction], Plan], words: Measure, warnings: int, pages: list[list[str]]
) -> None:
    """How to read, and all cloths at one go, stand below other matter where there is room.

    Beside two fabrics thirty warnings fill the first page, forty-five begin a second.
    """
    plan = replace(bordered(Fraction(13, 2)), warnings=tuple(f"warning {number}" for number in range(warnings)))

    assert sections_of(sheet_figures(plan), words) == pages


def test_columns_of_steps_start_together_below_the_key(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """The list's heading stands alone across the page, and the first lines of both columns are level."""
    figure = sheet_figures(named_plan("metric"))[1]
    found = words(figure)
    heading = next(one for one in found if one.text == "Cut in this order")
    below = [one for one in found if one.top <= heading.low and one.size == 8.0]
    tops = {round(one.left): one.top for one in sorted(below, key=lambda one: one.top)}
    first = sorted(tops.values())[-2:]

    assert abs(first[0] - first[1]) < 1.0


def test_missing_cloth_is_headed_so_and_not_bought(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Overview and sheet of a fabric that may not be bought: short, missing, nothing to buy or to keep."""
    plan = named_plan("metric")
    answer = plan.fabrics[0]
    answer = replace(answer, fabric=replace(answer.fabric, buy=False), bound=answer.needed)
    overview, sheet, *_ = (  # then labels and materials
        [one.text for one in words(figure)] for figure in sheet_figures(replace(plan, fabrics=(answer,)))
    )

    assert "short" in overview
    assert "185 cm" in overview
    assert "buy" not in overview
    assert any(text.startswith("MISSING: this cloth is not there") for text in sheet)
    assert not [text for text in sheet if "offcut" in text or "bought" in text]


def test_every_page_says_date_and_number(plan: Plan) -> None:
    """What a plan is stamped with stands at the head of each page, beside the project's name."""
    for page in PdfReader(BytesIO(cutting_sheets(plan, stamp="2026-02-03  ·  plan a1b2c3"))).pages:
        assert squeezed("2026-02-03 · plan a1b2c3") in squeezed(page.extract_text())


def boxes_of(figure: Figure) -> int:
    """How many boxes to tick there are on a page; each is outlined by five corners."""
    groups = [group for group in figure.findobj(PathPatch) if group.get_label() == "tally"]
    return sum(len(group.get_path()) // 5 for group in groups if isinstance(group, PathPatch))


def test_the_tally_has_a_box_for_every_piece(named_plan: Callable[[str], Plan]) -> None:
    """Sixty-two pieces: thirty backgrounds, twenty-four roofs, seven bindings and a spare, and five borders."""
    plan = named_plan("long bolt")
    counted = sum(boxes_of(figure) for figure in sheet_figures(plan))

    assert counted == len(plan.fabrics[0].layouts[0].placed)


@pytest.mark.parametrize(
    ("count", "worth"), [(1, 1), (60, 1), (61, 5), (300, 5), (301, 10), (601, 50), (3000, 50), (32_000, 1000)]
)
def test_a_box_stands_for_several_where_pieces_are_many(count: int, worth: int) -> None:
    """There are sixty boxes at most."""
    assert box_worth(count) == worth


def test_kits_are_counted_for_each_and_for_all(named_plan: Callable[[str], Plan], words: Measure) -> None:
    """Of thirty kits: 12 backgrounds each, 360 in all, in tally and labels."""
    plan = named_plan("kit")
    plan = replace(plan, project=replace(plan.project, copies=30))
    texts = [one.text for figure in sheet_figures(plan) for one in words(figure)]

    assert any(text.startswith("360 (12 each, 360 all)") for text in texts)
    assert "each 12, all 360, ink" in texts


def test_there_is_a_label_for_every_kind(plan: Plan, words: Measure) -> None:
    """The last pages have each kind's number, name and size to cut out."""
    pages = [[one.text for one in words(figure)] for figure in sheet_figures(plan)]
    labels = [text for page in pages if "Labels for the heaps" in page for text in page]

    for answer in plan.fabrics:
        for piece in answer.pieces:
            named = printable(piece.id)
            assert any(text == named or (text.endswith("…") and named.startswith(text[:-1])) for text in labels)
            assert plan.project.notation.pair(*as_laid(piece, answer.layouts)) in labels


def test_cloths_with_equal_measures_are_told_together(bordered: Callable[[Fraction], Plan]) -> None:
    """Both fabrics have strips of 7 in: fewer settings for both at once than for one after the other."""
    plan = bordered(Fraction(13, 2))
    lead, *lines = ruler_lines(plan)

    assert lead == "The ruler set 4 times for all cloths together, where sheet by sheet it is 5, and piece by piece 19:"
    assert sorted(line.split(":")[0] for line in lines) == ["10 in", "7 in", "83 in", "9 in"]
    assert any(line.startswith("7 in: ink 1 step 4 and oat") for line in lines)


def test_the_tally_stands_below_the_drawing_where_the_list_does_not_fit(
    named_plan: Callable[[str], Plan], words: Measure
) -> None:
    """The list is on the page after the drawing's; the tally, which is short, fills that one and is there alone."""
    pages = [[one.text for one in words(figure)] for figure in sheet_figures(named_plan("pieced"))]
    drawing, listed = (texts for texts in pages if "ink 1 – dark blue cotton" in texts)

    assert "Cut in this order" in listed
    assert "Tick off what is cut" in drawing
    assert "Cut in this order" not in drawing
    assert "Tick off what is cut" not in listed
