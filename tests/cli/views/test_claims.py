"""Claims in words: how surely pieces can be cut again."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from ellwand.claim import Spoiled, try_claims
from ellwand.packing.problem import Effort
from ellwand.project.read import parse_project
from ellwand.slack import NO_SLACK
from ellwand_cli.views.claims import claims_text

# One pocket. Invented.
POCKET = """
[project]
name = "pocket"
[[piece]]
name = "pocket"
fabric = "ink"
cut = [12, 12]
[fabric.ink]
width = 43
"""


@pytest.mark.parametrize(
    ("copies", "proven", "words"),
    [
        (0, True, "none can be cut again"),
        (0, False, "no layout was found with one more"),
        (1, True, "up to 1 can be cut again"),
        (3, True, "up to 3 can be cut again"),
        (1, False, "1 more was found to fit, and perhaps there is room for others"),
        (3, False, "3 more were found to fit, and perhaps there is room for others"),
    ],
)
def test_how_many_can_be_cut_again(copies: int, proven: bool, words: str) -> None:
    """What is proven is said to be so, and what was found no more than that."""
    project = parse_project(POCKET, "pocket.toml")
    _, (claim,) = try_claims(project, {"ink": Fraction(18)}, slack=NO_SLACK, effort=Effort.QUICK)
    assert claim.forgiven is not None
    spoiled = Spoiled(pieces=("pocket", "flap"), copies=copies, proven=proven)
    claim = replace(claim, forgiven=replace(claim.forgiven, spoiled=(spoiled,)))

    lines = claims_text([claim], NO_SLACK, project.notation).splitlines()

    assert f"  Spoiled pocket or flap: {words}." in lines
