"""Two values of a comparison side by side: the cloths of the fabrics that differ, each in small."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import zip_longest
from typing import TYPE_CHECKING

from ellwand.compare import Comparison, Row
from ellwand.errors import InputError
from ellwand.model import FabricPlan, Layout
from ellwand.shortage import usable_length
from ellwand_cli.views.drawing import cloth_height, draw_cloth
from ellwand_cli.views.palette import BRASS, INK, SOFT
from ellwand_cli.views.pen import Box, blank_figure, fill, write
from ellwand_cli.views.typeset import printable, shorten
from ellwand_cli.views.words import largest_offcut, to_buy

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["differing", "side_by_side_figure"]

_COLUMN, _GAP = 340.0, 20.0  # points, as all that follow
_MARGIN, _TITLE, _HEAD = 20.0, 46.0, 44.0
_TALLEST = 420.0  # of one cloth

Pair = tuple[FabricPlan | None, FabricPlan | None]


def side_by_side_figure(comparison: Comparison, shown: Sequence[Fraction]) -> Figure:
    """A column for each of two tested values: every fabric that differs with what is bought, needed and left.

    Raises
    ------
    InputError
        All fabrics need the same at both.
    """
    rows = [next(row for row in comparison.rows if row.value == value) for value in shown]
    blocks = [(pair, _heights(rows, pair)) for pair in differing(rows[0], rows[1])]
    if not blocks:
        both = " and ".join(map(comparison.show, shown))
        raise InputError(where="compare: --show", found=f"every fabric needs the same at {both}")
    height = 2 * _MARGIN + _TITLE + sum(_HEAD + sum(heights) for _, heights in blocks)
    first, second = map(comparison.show, shown)
    title = printable(f"{comparison.title[:1].upper()}{comparison.title[1:]}: {first} and {second}")
    names = ", ".join(printable(answer.fabric.id) for (one, two), _ in blocks for answer in [one or two] if answer)
    figure, ax = blank_figure(
        2 * _COLUMN + _GAP + 2 * _MARGIN, height, f"{title}\nLayouts at both, of the fabrics that differ: {names}."
    )
    room = 2 * _COLUMN + _GAP
    top = height - _MARGIN
    write(ax, (_MARGIN, top - 13), shorten(title, room, 13.0, bold=True), 13.0, bold=True, colour=INK)
    note = "The fabrics that differ, as the table has them: no cloth is kept to spare."
    write(ax, (_MARGIN, top - 28), note, 8.5, colour=SOFT)
    fill(ax, [Box(_MARGIN, top - 36, 54, 1.6)], BRASS)
    top -= _TITLE
    for pair, heights in blocks:
        for column, (row, answer) in enumerate(zip(rows, pair, strict=True)):
            _draw_column(figure, comparison, row, answer, (_MARGIN + column * (_COLUMN + _GAP), top), heights)
        top -= _HEAD + sum(heights)
    return figure


def differing(one: Row, two: Row) -> list[Pair]:
    """The fabrics of which not as much is bought at both; where there is none, those that do not need as much."""
    answers = [{answer.fabric.id: answer for answer in row.plan.fabrics} for row in (one, two)]
    pairs = [(answers[0].get(name), answers[1].get(name)) for name in dict.fromkeys([*answers[0], *answers[1]])]
    bought = [pair for pair in pairs if _bought(pair[0]) != _bought(pair[1])]
    return bought or [pair for pair in pairs if _needed(pair[0]) != _needed(pair[1])]


def _bought(answer: FabricPlan | None) -> int:
    return answer.steps if answer else 0


def _needed(answer: FabricPlan | None) -> Fraction:
    return answer.needed if answer else Fraction(0)


def _heights(rows: list[Row], pair: Pair) -> list[float]:
    """Height of every line of cloths: that of the higher of the two."""
    columns = [
        [cloth_height(row.plan, answer, layout, _COLUMN, _TALLEST) for layout in _layouts(answer)] if answer else []
        for row, answer in zip(rows, pair, strict=True)
    ]
    return [max(line) for line in zip_longest(*columns, fillvalue=0.0)]


def _layouts(answer: FabricPlan | None) -> tuple[Layout, ...]:
    return answer.layouts if answer else ()


def _draw_column(
    figure: Figure,
    comparison: Comparison,
    row: Row,
    answer: FabricPlan | None,
    corner: tuple[float, float],
    heights: list[float],
) -> None:
    """One fabric at one value: its figures in words, then its cloths below each other."""
    (x, top), ax = corner, figure.axes[0]
    for number, line in enumerate(_lines(comparison, row, answer)):
        size = 9.5 if number == 0 else 8.0
        colour = SOFT if number else INK
        shown = shorten(printable(line), _COLUMN, size, bold=number == 0)
        write(ax, (x, top - 12 - 12 * number), shown, size, bold=number == 0, colour=colour)
    w, h = figure.get_figwidth() * 72, figure.get_figheight() * 72
    top -= _HEAD
    for layout, height in zip(_layouts(answer), heights, strict=False):
        assert answer is not None
        own = cloth_height(row.plan, answer, layout, _COLUMN, _TALLEST)
        draw_cloth(row.plan, answer, layout, figure.add_axes((x / w, (top - own) / h, _COLUMN / w, own / h)))
        top -= height


def _lines(comparison: Comparison, row: Row, answer: FabricPlan | None) -> Iterator[str]:
    """What is bought, needed and left."""
    if answer is None:
        yield f"{comparison.show(row.value)}: nothing is cut of it"
        return
    notation, ruler = comparison.notation, row.plan.project.ruler
    yield f"{comparison.show(row.value)}: {answer.fabric.id}, {_buy(answer, comparison)}"
    if answer.steps and answer.enough:
        spare = usable_length(answer.fabric, answer.steps, ruler) - answer.needed
        yield f"{notation.show(answer.needed)} of it needed, {notation.show(spare)} to spare"
    elif answer.enough:
        yield "the cloth on hand is enough"
    largest = largest_offcut(answer.layouts)
    if largest:
        yield f"the largest offcut: {notation.pair(largest.across, largest.along)}"


def _buy(answer: FabricPlan, comparison: Comparison) -> str:
    words = to_buy(answer, comparison.notation)
    return f"{words} to buy" if answer.enough else words
