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

__all__ = [
    "Item", "Leaf", "Part", "columns_of", "flow", "gap", "indented", "least_columns", "leaves", "paragraph", "placed",
    "side_by_side", "together", "total_height",
]  # fmt: skip

Part = Callable[["Axes"], None]


@dataclass(frozen=True, slots=True)
class Item:
    """Something of a fixed height; `draw` is given the Axes and its box.

    `parts` are what it is parted into where it is higher than a column.
    """

    height: float
    draw: Callable[[Axes, Box], None]
    parts: tuple[Item, ...] = ()


def paragraph(
    text: str, width: float, size: float, *, lead: str = "", bold: bool = False, after: float = 3.0, colour: str = INK
) -> Item:
    """`text` as lines, hanging behind `lead` (a number); `after` points follow the last line."""
    hang = text_width(lead + "  ", size, bold=True) if lead else 0.0
    lines = wrap(printable(text), width - hang, size, bold=bold)
    style = _Style(size=size, hang=hang, bold=bold, colour=colour)
    parts = [
        Item(size * LEADING, partial(_draw_lines, (line,), lead if number == 0 else "", style))
        for number, line in enumerate(lines)
    ]
    height = len(lines) * size * LEADING + after
    return Item(height, partial(_draw_lines, lines, lead, style), (*parts, gap(after)))


def columns_of(box: Box, count: int, gutter: float) -> tuple[Box, ...]:
    """`count` columns that fill `box`, `gutter` points apart."""
    width = (box.w - (count - 1) * gutter) / count
    return tuple(Box(box.x + number * (width + gutter), box.y, width, box.h) for number in range(count))


def side_by_side(items: Sequence[Item], count: int, width: float, gutter: float) -> Item:
    """`items`, made for columns of that kind, as one item of `count` columns that end about level."""
    columns = least_columns(items, count, total_height(items)) or [list(items)]
    return Item(max(map(total_height, columns), default=0.0), partial(_draw_columns, columns, count, gutter))


def _draw_columns(columns: Sequence[Sequence[Item]], count: int, gutter: float, ax: Axes, box: Box) -> None:
    for column, place in zip(columns, columns_of(box, count, gutter), strict=False):
        _draw_together(column, ax, place)


def gap(height: float) -> Item:
    """Nothing, so high."""
    return Item(height, _draw_nothing)


def indented(item: Item, by: float) -> Item:
    """`item` moved to the right; it was made for a column narrower by as much."""
    return Item(item.height, partial(_draw_indented, item, by), tuple(indented(part, by) for part in item.parts))


def _draw_indented(item: Item, by: float, ax: Axes, box: Box) -> None:
    item.draw(ax, Box(box.x + by, box.y, box.w - by, box.h))


def together(items: Sequence[Item]) -> Item:
    """`items` as one that is parted only where no column holds it: a heading with what it heads."""
    parts = tuple(part for item in items for part in (item.parts or (item,)))
    return Item(total_height(items), partial(_draw_together, tuple(items)), parts)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """What is drawn on one page, and how much of its height that takes."""

    parts: tuple[Part, ...]
    height: float


def flow(items: Sequence[Item], first: Sequence[Box], later: Sequence[Box]) -> tuple[tuple[Part, ...], ...]:
    """What is drawn on each page; see `leaves`."""
    return tuple(leaf.parts for leaf in leaves(items, first, later))


def leaves(items: Sequence[Item], first: Sequence[Box], later: Sequence[Box]) -> tuple[Leaf, ...]:
    """What is drawn on each page when `items` fill the columns `first`, then page after page of columns `later`.

    The columns of a page are of one height, and end about level on the last page. An item is parted only where it
    is higher than a column; one that cannot be parted stands in a column alone.
    """
    papers: list[Leaf] = []
    waiting = list(items)
    columns = first
    while waiting:
        waiting = _parted(waiting, columns[0].h)
        filled = least_columns(waiting, len(columns), columns[0].h) or _filled(waiting, len(columns), columns[0].h)
        parts = tuple(part for column, box in zip(filled, columns, strict=False) for part in _set(column, box))
        papers.append(Leaf(parts=parts, height=max(map(total_height, filled))))
        waiting = waiting[sum(map(len, filled)) :]
        columns = later
    return tuple(papers) or (Leaf(parts=(), height=0.0),)


def least_columns(items: Sequence[Item], count: int, height: float) -> list[list[Item]] | None:
    """`items` in at most `count` columns, as low as they go; None where they are higher than `height`."""
    best = None
    low, high = total_height(items) / count, height
    while high - low > 1 or best is None:
        level = height if best is None else (low + high) / 2
        tried = _filled(items, count, level)
        if sum(map(len, tried)) == len(items) and max(map(total_height, tried), default=0.0) <= level + 1e-6:
            best, high = tried, level
        elif best is None:
            return None
        else:
            low = level
    return best


def _parted(items: Sequence[Item], height: float) -> list[Item]:
    return [part for item in items for part in (item.parts if item.height > height and item.parts else (item,))]


def _filled(items: Sequence[Item], count: int, height: float) -> list[list[Item]]:
    """As many of `items` as go into `count` columns of `height`, in order; a column holds one at least."""
    columns: list[list[Item]] = [[]]
    used = 0.0
    for item in items:
        if columns[-1] and used + item.height > height + 1e-6:
            if len(columns) == count:
                break
            columns.append([])
            used = 0.0
        columns[-1].append(item)
        used += item.height
    return columns


def _set(items: Sequence[Item], box: Box) -> list[Part]:
    """`items` one below the other from the top of `box`."""
    parts: list[Part] = []
    top = box.top
    for item in items:
        parts.append(placed(item, Box(box.x, top - item.height, box.w, item.height)))
        top -= item.height
    return parts


def placed(item: Item, box: Box) -> Part:
    """`item` where it is drawn."""
    return partial(_call, item, box)


def _call(item: Item, box: Box, ax: Axes) -> None:
    item.draw(ax, box)
