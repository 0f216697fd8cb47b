"""Two values of a comparison side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from matplotlib.figure import Figure

from ellwand.compare import Comparison, Row
from ellwand.errors import InputError
from ellwand.model import Plan
from ellwand_cli.views.beside import differing, side_by_side_figure

F = Fraction
Bordered = Callable[[Fraction], Plan]


def comparison(bordered: Bordered, *widths: Fraction) -> Comparison:
    """A comparison of hand-made plans."""
    return Comparison(
        title="border outer $w$",
        border="outer $w$",
        rows=tuple(Row(value=width, plan=bordered(width)) for width in widths),
    )


@pytest.mark.parametrize("widths", [(F(2), F(4)), (F(3), F(25, 8)), (F(1), F(8))])
def test_no_word_is_small_clipped_or_meets_another(
    bordered: Bordered, faults: Callable[[Figure], list[str]], widths: tuple[Fraction, Fraction]
) -> None:
    """All words can be read."""
    assert faults(side_by_side_figure(comparison(bordered, *widths), widths)) == []


def test_what_is_bought_needed_and_left_stands_above_each(
    bordered: Bordered, words: Callable[[Figure], list[Any]]
) -> None:
    """Every fabric of which not as much is bought has a column for either value."""
    compared = comparison(bordered, F(2), F(3), F(4))
    found = [word.text for word in words(side_by_side_figure(compared, (F(2), F(4))))]
    pairs = differing(compared.rows[0], compared.rows[2])

    assert pairs
    for row, number in ((compared.rows[0], 0), (compared.rows[2], 1)):
        for pair in pairs:
            answer = pair[number]
            assert answer is not None
            head = f"{compared.show(row.value)}: {answer.fabric.id}"
            assert any(text.startswith(head[:30]) for text in found)
            needed = compared.notation.show(answer.needed)
            assert any(text.startswith(f"{needed} of it needed, ") and "to spare" in text for text in found)


def test_what_is_bought_alike_is_left_out(bordered: Bordered) -> None:
    """Where all are bought alike, those differ that need another length; else those that are not bought alike."""
    one, two = comparison(bordered, F(2), F(4)).rows
    alike = replace(
        two.plan,
        fabrics=tuple(replace(b, steps=a.steps) for a, b in zip(one.plan.fabrics, two.plan.fabrics, strict=True)),
    )

    assert all(a and b and a.steps != b.steps for a, b in differing(one, two))
    needing = differing(one, replace(two, plan=alike))
    assert needing
    assert all(a and b and a.steps == b.steps and a.needed != b.needed for a, b in needing)


def test_nothing_to_show(bordered: Bordered) -> None:
    """Where every fabric needs the same, there is a sentence."""
    (row,) = comparison(bordered, F(2)).rows
    twice = replace(comparison(bordered, F(2)), rows=(row, replace(row, value=F(3))))

    with pytest.raises(InputError, match=r"^compare: --show: every fabric needs the same at 2 in and 3 in\.$"):
        side_by_side_figure(twice, (F(2), F(3)))
