from __future__ import annotations

from itertools import pairwise

import pytest

from ellwand_cli.views.flow import flow, gap, least_columns, paragraph
from ellwand_cli.views.labels import edge_marks
from ellwand_cli.views.pen import Box
from ellwand_cli.views.typeset import printable, shorten, text_width, wrap

LONG = "Cut 3 strips 10 in × 41 3/4 in. " + "lantern-background-" * 20 + " and so on"


@pytest.mark.parametrize("width", [40.0, 90.0, 300.0])
def test_wrapped_lines_fit_and_lose_nothing(width: float) -> None:
    """No line is wider than asked, and no letter is lost."""
    lines = wrap(LONG, width, 8)

    assert all(text_width(line, 8) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == LONG.replace(" ", "")


@pytest.mark.parametrize("width", [5.0, 60.0, 200.0])
def test_shortened_text_fits(width: float) -> None:
    """What does not fit ends in an ellipsis; what fits is unchanged."""
    text = shorten(LONG, width, 8)

    assert text.endswith("…")
    assert text == "…" or text_width(text, 8) <= width
    assert shorten("ink", 100, 8) == "ink"


def test_signs_without_a_glyph_are_replaced() -> None:
    """An emoji that the font lacks becomes a box; joiners vanish; tabs are spaces."""
    assert printable("a\t\N{SPOOL OF THREAD}\N{ZERO WIDTH JOINER}b") == "a \N{WHITE VERTICAL RECTANGLE}b"
    assert printable("½ yd – Ωμέγα") == "½ yd – Ωμέγα"


@pytest.mark.parametrize("count", [1, 5, 40])
def test_marks_at_the_edge_keep_apart(count: int) -> None:
    """Marks for thin strips stand at least a line apart within the cloth, however many there are."""
    thin = [(str(number), Box(0, 100 + number * 2.0, 300, 2.0)) for number in range(count)]
    marks = edge_marks(thin, across=False, limits=(100, 220))
    places = [mark.at for mark in marks]

    assert sum(len(mark.ends) for mark in marks) == count
    assert all(after - before >= 8.99 for before, after in pairwise(places))
    assert places[0] > 100
    assert places[-1] < 220


def test_items_go_whole_into_level_columns() -> None:
    """Six items of heights 10 to 60 in two columns: none is parted, and no lower columns would hold them."""
    items = [gap(10.0 * number) for number in range(1, 7)]
    columns = least_columns(items, 2, 500.0)

    assert columns is not None
    assert [len(column) for column in columns] == [4, 2]  # 10 + 20 + 30 + 40 and 50 + 60: 100 and 110
    assert least_columns(items, 2, 100.0) is None


def test_an_item_is_parted_only_where_no_column_holds_it() -> None:
    """A paragraph of many lines goes whole into a column that holds it, and by lines into lower ones."""
    text = paragraph(LONG * 3, 200.0, 8.0)
    high, low = Box(0, 0, 200, text.height + 1), Box(0, 0, 200, text.height / 3)

    assert [len(paper) for paper in flow([text], [high], [high])] == [1]
    assert len(flow([text], [low], [low])) > 2


@pytest.mark.parametrize("width", range(90, 250, 20))
def test_no_line_ends_within_a_size(width: int) -> None:
    """However narrow the column, a size and what is counted or multiplied are read in one line."""
    text = "Cut each 4 1/2 × 9 in into 2 flock/field (4 1/2 × 4 1/2 in): 2 × 4 1/2 = 9 of 9 in, 75.5 cm left."
    lines = wrap(text, width, 8)

    assert " ".join(lines) == text
    assert len(lines) > 1
    for size in ("4 1/2 × 9 in", "(4 1/2 × 4 1/2 in):", "2 × 4 1/2", "9 in,", "75.5 cm"):
        assert any(size in line for line in lines)
