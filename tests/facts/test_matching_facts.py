"""Trade facts of matching (X1-X3): panels below each other on a print with a repeat."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest

from ellwand.model import FabricPlan
from facts.trade import plan, read


def panels(cut: str, repeat: str, count: int) -> FabricPlan:
    """The answer for so many matched panels of nearly the full width, which can only lie below each other."""
    tables = f'[[piece]]\nname = "panel"\nfabric = "f"\ncut = [40, "{cut}"]\ncount = {count}\nphase = ["any", 0]\n'
    return plan(read(tables, cloth=f'width = 42\nrepeat = [0, "{repeat}"]'))


def starts(answer: FabricPlan) -> list[Fraction]:
    """Where the panels begin along the cloth."""
    return [item.y for layout in answer.layouts for item in layout.placed]


def test_x1_five_repeats_for_a_panel() -> None:
    """Cut 116 with a repeat of 25: each takes 5 repeats, 125, and 9 are lost before the next."""
    # Source: workroom guide, 2011 (X1)
    answer = panels("116", "25", 3)

    assert starts(answer) == [0, 125, 250]
    assert starts(answer)[1] - 116 == 9
    assert answer.needed == 250 + 116  # the last takes its cut alone


def test_x2_four_widths() -> None:
    """Cut 114 with a repeat of 11: 11 repeats, 121, in each; four widths are 484, where a fifth would begin."""
    # Source: drapery measuring guide (X2)
    answer = panels("114", "11", 4)

    assert starts(answer) == [0, 121, 242, 363]
    assert starts(panels("114", "11", 5))[-1] == 484
    assert answer.needed == 484 - 121 + 114


@pytest.mark.parametrize(("cut", "repeat"), [("50", "25"), ("50 1/8", "25"), ("74 7/8", "25"), ("30", "7 1/2")])
def test_x3_always_up(cut: str, repeat: str) -> None:
    """Cut length over repeat, always up, times the repeat; no more where it divides."""
    # Source: Encyclopaedia of Curtains, p. 116 (X3)
    answer = panels(cut, repeat, 2)

    length, step = (sum(map(Fraction, text.split())) for text in (cut, repeat))
    assert starts(answer) == [0, ceil(length / step) * step]
