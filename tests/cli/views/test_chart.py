from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from matplotlib.figure import Figure

from ellwand.compare import Comparison, Row
from ellwand.model import Plan
from ellwand_cli.views.chart import comparison_figure

F = Fraction
Measure = Callable[[Figure], list[Any]]


def comparison(bordered: Callable[[Fraction], Plan], widths: list[Fraction]) -> Comparison:
    """A comparison of hand-made plans."""
    return Comparison(
        title="border outer $w$",
        border="outer $w$",
        rows=tuple(Row(value=width, plan=bordered(width)) for width in widths),
    )


WIDTHS = [F(2) + F(number, 4) for number in range(9)]


@pytest.mark.parametrize("count", [1, 2, 9])
def test_no_word_is_small_clipped_or_meets_another(
    bordered: Callable[[Fraction], Plan], faults: Callable[[Figure], list[str]], count: int
) -> None:
    """All words of a chart can be read."""
    assert faults(comparison_figure(comparison(bordered, WIDTHS[:count]))) == []


def test_lines_join_what_is_bought(bordered: Callable[[Fraction], Plan]) -> None:
    """From width to width a line is solid where the bought length stays, and dotted where it changes somewhere."""
    rows = comparison(bordered, WIDTHS)
    panels = comparison_figure(rows).axes

    assert len(panels) == 3
    for number, panel in enumerate(panels[:2]):
        bought = [float(row.plan.fabrics[number].bought) for row in rows.rows]
        lines = panel.lines[: len(WIDTHS) - 1]
        assert [np.asarray(line.get_xdata()).tolist() for line in lines] == [
            [float(before), float(after)] for before, after in pairwise(WIDTHS)
        ]
        assert [np.asarray(line.get_ydata()).tolist() for line in lines] == [list(pair) for pair in pairwise(bought)]
        assert [line.get_linestyle() for line in lines] == [
            "-" if before == after else ":" for before, after in pairwise(bought)
        ]


def test_a_length_that_never_changes_is_a_line_of_text(bordered: Callable[[Fraction], Plan], words: Measure) -> None:
    """Fabrics that every width takes alike have no panel; their lengths stand below the title."""
    row = comparison(bordered, WIDTHS[:1]).rows[0]
    ink = row.plan.fabrics[0]
    figure = comparison_figure(Comparison(title="border outer", border="outer", rows=(row, replace(row, value=F(3)))))
    texts = [one.text for one in words(figure)]
    length = row.plan.project.notation.cloth(ink.bought)

    assert len(figure.axes) == 1
    assert any(text.startswith(f"The same at every width – ink: {length} to buy; oat") for text in texts)


def test_what_cannot_be_bought_is_missing(bordered: Callable[[Fraction], Plan], words: Measure) -> None:
    """A fabric that may not be bought is never labelled as a purchase, and shows what is missing."""
    rows = []
    for width in WIDTHS:
        plan = bordered(width)
        ink, oat = plan.fabrics
        rows.append(
            Row(value=width, plan=replace(plan, fabrics=(replace(ink, fabric=replace(ink.fabric, buy=False)), oat)))
        )
    figure = comparison_figure(Comparison(title="border outer", border="outer", rows=tuple(rows)))
    needed = [float(row.plan.fabrics[0].needed) for row in rows]
    titles = [ax.get_title(loc="left") for ax in figure.axes]

    assert titles[0].startswith("ink: missing")
    assert np.asarray(figure.axes[0].lines[0].get_ydata()).tolist() == needed[:2]


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
