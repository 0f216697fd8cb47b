from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from io import BytesIO

import pytest
from pypdf import PdfReader

from ellwand.model import Plan
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.files import figure_bytes


def file_of(plan: Plan, format: str) -> bytes:
    """The first cloth's drawing as a file."""
    answer = plan.fabrics[0]
    return figure_bytes(cloth_figure(plan, answer, answer.layouts[0]), format)


@pytest.mark.parametrize("format", ["svg", "png", "pdf"])
def test_equal_figures_make_equal_files(named_plan: Callable[[str], Plan], format: str) -> None:
    """Two drawings of equal plans are the same byte for byte."""
    assert file_of(named_plan("hostile"), format) == file_of(named_plan("hostile"), format)


def test_a_figure_is_written_twice_alike(named_plan: Callable[[str], Plan]) -> None:
    """Writing a figure does not change it."""
    plan = named_plan("metric")
    figure = cloth_figure(plan, plan.fabrics[0], plan.fabrics[0].layouts[0])

    assert figure_bytes(figure, "svg") == figure_bytes(figure, "svg")


def test_svg_keeps_words_and_says_what_it_is(named_plan: Callable[[str], Plan]) -> None:
    """The SVG is well formed, holds its words as text, a title and a description, and no date."""
    content = file_of(named_plan("hostile"), "svg")
    root = ET.fromstring(content)
    texts = ["".join(node.itertext()) for node in root.iter("{http://www.w3.org/2000/svg}text")]
    title = root.find("{http://www.w3.org/2000/svg}title")

    assert "<b>bold</b>" in texts
    assert "$\\frac{1}{2$" in texts
    assert title is not None
    assert (title.text or "").startswith('$x_{1}$ <script>alert("x")</script> <b>&amp;')
    assert b"description" in content
    assert b"dc:date" not in content


def test_pdf_says_what_it_is_and_no_date(named_plan: Callable[[str], Plan]) -> None:
    """A PDF of a drawing has a title and no date of making."""
    facts = PdfReader(BytesIO(file_of(named_plan("metric"), "pdf"))).metadata

    assert facts is not None
    assert facts.title == "ink 1 – dark blue cotton"
    assert facts.creation_date is None


def test_another_format_is_refused(named_plan: Callable[[str], Plan]) -> None:
    """The message names the formats that there are."""
    with pytest.raises(ValueError, match="svg, png and pdf"):
        file_of(named_plan("free"), "gif")
