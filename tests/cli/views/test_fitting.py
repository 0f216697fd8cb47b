"""The widest border in words: never called the widest unless it is."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from ellwand.fit import Fit, fit_border
from ellwand.packing.problem import Effort
from ellwand.project.vary import border_key, parse_varied
from ellwand.slack import NO_SLACK
from ellwand_cli.views.fitting import fit_document, fit_text, nothing_fits

# Four blocks in a border cut along the selvage. Invented.
FRAMED = """
[project]
name = "framed"
[quilt]
across = 2
down = 2
[[block]]
name = "top"
finished = [6, 6]
[[block.piece]]
name = "ground"
fabric = "oat"
[[border]]
name = "edge"
fabric = "ink"
width = 2
corners = "butted"
cut = "lengthwise"
[fabric.ink]
width = 43
square_up = 0
[fabric.oat]
width = 43
"""
INK = {"ink": Fraction(20)}


@pytest.fixture(scope="module")
def fitted() -> Fit:
    """20 in of ink hold strips of 12 1/2 + 2 · 3 3/4 in, and no longer ones."""
    varied = parse_varied(FRAMED, "framed.toml", border_key("edge"))
    return fit_border(varied, stated=INK, slack=NO_SLACK, effort=Effort.QUICK)


@pytest.mark.parametrize(
    ("proven", "cut_short", "first"),
    [
        (True, False, "Border edge, 3 3/4 in: the widest for ≈ 0.56 yd of ink."),
        (False, False, "Border edge, 3 3/4 in: the widest found for ≈ 0.56 yd of ink."),
        (False, True, "Border edge, 3 3/4 in: it fits ≈ 0.56 yd of ink."),
    ],
)
def test_how_wide_is_said_as_surely_as_it_is_known(fitted: Fit, proven: bool, cut_short: bool, first: str) -> None:
    """The widest is proven; found is found; where time was up, wider ones may fit."""
    text = fit_text(replace(fitted, proven=proven, cut_short=cut_short), INK)

    assert text.splitlines()[0] == first
    assert ("Time was up: a wider one may fit as well." in text) is cut_short
    assert "One mark more, 3 7/8 in: ink is short of 1/4 in, and no room is left for " in text


def test_where_nothing_stops_it_the_search_ends(fitted: Fit) -> None:
    """The sentence about one mark more is never empty."""
    text = fit_text(replace(fitted, proven=False, stopped=()), INK)

    assert "One mark more, 3 7/8 in: here the search ends.\n" in text


@pytest.mark.parametrize(
    ("proven", "cut_short", "words"),
    [
        (True, False, "not even 3 7/8 in fits: ink is short of "),
        (False, False, "not even 3 7/8 in was found to fit: ink is short of "),
        (False, True, "not even 3 7/8 in was found to fit before time was up: ink is short of "),
    ],
)
def test_nothing_fits_is_said_as_surely(fitted: Fit, proven: bool, cut_short: bool, words: str) -> None:
    """What was not found may still be."""
    nothing = replace(fitted, value=None, plan=None, proven=proven, cut_short=cut_short)

    assert nothing_fits(nothing).startswith(words)


def test_the_document_says_that_time_was_up(fitted: Fit) -> None:
    """And otherwise that it was not."""
    assert fit_document(fitted)["cut_short"] is False
    assert fit_document(replace(fitted, cut_short=True))["cut_short"] is True
