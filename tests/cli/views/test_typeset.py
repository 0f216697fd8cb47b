from __future__ import annotations

from itertools import pairwise

import pytest

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
