from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import numpy as np
import pytest
from matplotlib.figure import Figure

from ellwand.compare import Comparison, Row
from ellwand.model import Plan
from ellwand_cli.views.chart import comparison_figure

F = Fraction


def comparison(bordered: Callable[[Fraction], Plan], widths: list[Fraction]) -> Comparison:
    """A comparison of hand-made plans."""
    return Comparison(border="outer $w$", rows=tuple(Row(width=width, plan=bordered(width)) for width in widths))


WIDTHS = [F(2) + F(number, 4) for number in range(9)]


@pytest.mark.parametrize("count", [1, 2, 9])
def test_no_word_is_small_clipped_or_meets_another(
    bordered: Callable[[Fraction], Plan], faults: Callable[[Figure], list[str]], count: int
) -> None:
    """All words of a chart can be read."""
    assert faults(comparison_figure(comparison(bordered, WIDTHS[:count]))) == []


def test_steps_show_what_is_bought(bordered: Callable[[Fraction], Plan]) -> None:
    """The first line of a panel passes through every tested width and its bought length."""
    rows = comparison(bordered, WIDTHS)
    panels = comparison_figure(rows).axes

    assert len(panels) == 3
    for number, panel in enumerate(panels[:2]):
        line = panel.lines[0]
        assert line.get_drawstyle() == "steps-mid"
        assert np.asarray(line.get_xdata()).tolist() == [float(width) for width in WIDTHS]
        bought = [float(row.plan.fabrics[number].bought) for row in rows.rows]
        assert np.asarray(line.get_ydata()).tolist() == bought


def test_the_widest_width_of_every_length_is_ringed(bordered: Callable[[Fraction], Plan]) -> None:
    """A ring stands on the last width before a step, and on the last of all."""
    rows = comparison(bordered, WIDTHS)
    panel = comparison_figure(rows).axes[1]
    bought = [row.plan.fabrics[1].bought for row in rows.rows]
    last = [width for width, here, after in zip(WIDTHS, bought, [*bought[1:], None], strict=True) if here != after]

    assert np.asarray(panel.lines[-1].get_xdata()).tolist() == [float(width) for width in last]


def test_waste_is_drawn_for_every_fabric(bordered: Callable[[Fraction], Plan]) -> None:
    """The lowest panel has a line a fabric, and its mark in the legend."""
    rows = comparison(bordered, WIDTHS)
    panel = comparison_figure(rows).axes[-1]
    waste = [[float(row.plan.fabrics[number].area.waste_percent) for row in rows.rows] for number in range(2)]

    assert [np.asarray(line.get_ydata()).tolist() for line in panel.lines[:2]] == waste
    assert len(panel.lines) == 4
