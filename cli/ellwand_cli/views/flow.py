"""Things set one below the other in columns, over as many pages as they take."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from ellwand_cli.views.palette import INK
from ellwand_cli.views.pen import Box, write
from ellwand_cli.views.typeset import LEADING, printable, text_width, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["Item", "Part", "flow", "paragraph", "together", "total_height"]

_WHOLE = 6  # lines; a paragraph of no more is not parted
Part = Callable[["Axes"], None]


@dataclass(frozen=True, slots=True)
class Item:
    """Something of a fixed height; `draw` is given the Axes and its box."""

    height: float
    draw: Callable[[Axes, Box], None]


def paragraph(
    text: str, width: float, size: float, *, lead: str = "", bold: bool = False, gap: float = 3.0, colour: str = INK
) -> list[Item]:
    """`text` as lines to flow, hanging behind `lead` (a number); `gap` follows the last line."""
    hang = text_width(lead + "  ", size, bold=True) if lead else 0.0
    lines = wrap(printable(text), width - hang, size, bold=bold)
    style = _Style(size=size, hang=hang, bold=bold, colour=colour)
    if len(lines) <= _WHOLE:
        return [Item(len(lines) * size * LEADING + gap, partial(_draw_lines, lines, lead, style))]
    first, *others = lines
    items = [Item(size * LEADING, partial(_draw_lines, (line,), "", style)) for line in others]
    return [Item(size * LEADING, partial(_draw_lines, (first,), lead, style)), *items, Item(gap, _draw_nothing)]


def together(items: Sequence[Item]) -> Item:
    """`items` as one that is not parted: a heading with what it heads."""
    return Item(total_height(items), partial(_draw_together, tuple(items)))


def _draw_together(items: Sequence[Item], ax: Axes, box: Box) -> None:
    top = box.top
    for item in items:
        item.draw(ax, Box(box.x, top - item.height, box.w, item.height))
        top -= item.height


@dataclass(frozen=True, slots=True, kw_only=True)
class _Style:
    size: float
    hang: float
    bold: bool
    colour: str


def _draw_lines(lines: Sequence[str], lead: str, style: _Style, ax: Axes, box: Box) -> None:
    for number, line in enumerate(lines):
        baseline = box.top - style.size - number * style.size * LEADING
        if lead and number == 0:
            write(ax, (box.x, baseline), lead, style.size, bold=True)
        write(ax, (box.x + style.hang, baseline), line, style.size, bold=style.bold, colour=style.colour)


def _draw_nothing(ax: Axes, box: Box) -> None:
    """A gap."""


def total_height(items: Sequence[Item]) -> float:
    """Height of `items` in one column."""
    return sum(item.height for item in items)


def flow(items: Sequence[Item], first: Sequence[Box], later: Sequence[Box]) -> tuple[tuple[Part, ...], ...]:
    """What is drawn on each page when `items` fill the columns `first`, then page after page of columns `later`.

    An item higher than a column stands in one alone.
    """
    papers: list[list[Part]] = [[]]
    columns = list(first)
    used = 0.0
    for item in items:
        while columns and used + item.height > columns[0].h and (used > 0 or len(columns) > 1 or columns[0].h <= 0):
            columns.pop(0)
            used = 0.0
        if not columns:
            papers.append([])
            columns, used = list(later), 0.0
        column = columns[0]
        papers[-1].append(partial(_call, item, Box(column.x, column.top - used - item.height, column.w, item.height)))
        used += item.height
    return tuple(tuple(paper) for paper in papers)


def _call(item: Item, box: Box, ax: Axes) -> None:
    item.draw(ax, box)
