"""Lines with words that run from right to left: what stands round such a word stays in its place."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

from ellwand_cli.views.direction import runs, steady
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.pen import blank_figure, write
from ellwand_cli.views.typeset import drawn_width

SHALOM = "\u05e9\u05dc\u05d5\u05dd"
LINE = f"2 of {SHALOM} (10 × 8 in), left"
_TEXT = "{http://www.w3.org/2000/svg}text"


def test_a_line_is_drawn_run_by_run_from_the_left() -> None:
    """Three runs, one after the other, each where the widths of those before it end."""
    figure, ax = blank_figure(300, 40, "")
    write(ax, (20, 15), LINE, 10.0)
    found = list(ET.fromstring(figure_bytes(figure, "svg")).iter(_TEXT))
    places = [float(re.findall(r"translate\(([0-9.]+)", node.attrib["transform"])[0]) for node in found]

    assert ["".join(node.itertext()) for node in found] == ["2 of", SHALOM, "(10 × 8 in), left"]
    assert places[0] == 20
    assert 0 < places[1] - places[0] - drawn_width("2 of", 10.0) < 5
    assert 0 < places[2] - places[1] - drawn_width(SHALOM, 10.0) < 5


def test_several_words_stay_one_run() -> None:
    """Words from right to left follow each other from the right, so they are not parted."""
    assert runs(f"{SHALOM} {SHALOM}, 3 × 4") == (f"{SHALOM} {SHALOM}", ", 3 × 4")


def test_other_words_are_left_alone() -> None:
    """Nothing is added to a line that goes one way, or to nothing."""
    assert steady("Ωμέγα, 2 1/2 × 8 in") == "Ωμέγα, 2 1/2 × 8 in"
    assert steady("") == ""
