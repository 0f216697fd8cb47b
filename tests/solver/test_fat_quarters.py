"""Fat quarters as shops sell them, on hand: their size is theirs, and the short side lies along the selvage."""

from __future__ import annotations

import pytest

from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project

PROJECT = """
[project]
name = "facts"
unit = "{unit}"
[[piece]]
name = "panel"
fabric = "f"
cut = [{across}, {down}]
grain = "lengthwise"
[fabric.f]
width = "{bolt}"
buy = false
on_hand = [ {{ width = {across}, length = {down} }} ]
"""

# Source: quilting magazine; shops (C1): 18 × 21 from 42, 18 × 22 from 44, metric 50 × 55 cm; the 18 (50 cm)
# side lies along the selvage.
QUARTERS = [("in", "42 in", 21, 18), ("in", "44 in", 22, 18), ("cm", "110 cm", 55, 50)]


@pytest.mark.parametrize(("unit", "bolt", "across", "down"), QUARTERS)
def test_a_fat_quarter_is_used_to_its_edges(unit: str, bolt: str, across: int, down: int) -> None:
    """A piece as large as the quarter, its short side along the selvage, takes all of it and nothing is bought."""
    text = PROJECT.format(unit=unit, bolt=bolt, across=across, down=down)
    (answer,) = make_plan(parse_project(text, "facts.toml"), effort=Effort.QUICK).fabrics

    assert answer.enough
    assert answer.needed == 0
    assert answer.area.pieces == answer.area.taken


@pytest.mark.parametrize(("unit", "bolt", "across", "down"), QUARTERS)
def test_a_fat_quarter_is_no_longer_than_its_short_side(unit: str, bolt: str, across: int, down: int) -> None:
    """The same piece with its long side along the selvage does not go on it."""
    text = PROJECT.format(unit=unit, bolt=bolt, across=across, down=down)
    turned = text.replace(f"cut = [{across}, {down}]", f"cut = [{down}, {across}]")
    (answer,) = make_plan(parse_project(turned, "facts.toml"), effort=Effort.QUICK).fabrics

    assert not answer.enough
    assert answer.bound > 0
