"""A printed page: its paper, margins, head and foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING

from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.flow import Item, Part, columns_of, leaves, placed
from ellwand_cli.views.palette import BRASS, SOFT
from ellwand_cli.views.pen import Box, blank_figure, fill, rule, write
from ellwand_cli.views.typeset import LEADING, SMALLEST, printable, shorten, text_width, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["GUTTER", "Page", "Paper", "content_box", "draw_page", "flowed", "usual_paper"]

_MARGIN = 36.0  # half an inch: more than any printer leaves white
_HEAD = 48.0
GUTTER = 16.0  # between columns
_ABOVE = 12.0  # between a page's own content and what finds room below it


class Paper(Enum):
    """What sheets are printed on: short and long side, points (ISO 216; ANSI/ASME Y14.1, size A)."""

    A4 = (595.0, 842.0)
    LETTER = (612.0, 792.0)

    def size(self, wide: bool) -> tuple[float, float]:
        """Width and height, lying across if `wide`."""
        short, long = self.value
        return (long, short) if wide else (short, long)


def usual_paper(unit: str) -> Paper:
    """The paper of people who measure in `unit`: letter for inches, A4 for centimetres."""
    return Paper.LETTER if unit == "in" else Paper.A4


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page before it is numbered: across if `wide`, its head, and what is drawn on it.

    `free` is the box at its foot on which nothing is drawn, where anything may stand there.
    """

    paper: Paper
    wide: bool
    title: str
    facts: str
    parts: tuple[Part, ...]
    free: Box | None = None

    def with_item(self, item: Item) -> Page | None:
        """The page with `item` below all else; None where there is no room for it."""
        if self.free is None or item.height + _ABOVE > self.free.h:
            return None
        box = Box(self.free.x, self.free.top - _ABOVE - item.height, self.free.w, item.height)
        rest = Box(self.free.x, self.free.y, self.free.w, box.y - self.free.y)
        return replace(self, parts=(*self.parts, placed(item, box)), free=rest)


def _margins(paper: Paper, wide: bool) -> Box:
    """The page within its margins."""
    w, h = paper.size(wide)
    return Box(_MARGIN, _MARGIN, w - 2 * _MARGIN, h - 2 * _MARGIN)


def _foot(paper: Paper, wide: bool) -> tuple[tuple[str, ...], float]:
    """The cautions' lines and their height."""
    lines = wrap(CAUTIONS, _margins(paper, wide).w, SMALLEST)
    return lines, len(lines) * SMALLEST * LEADING + 6


@cache
def content_box(paper: Paper, wide: bool) -> Box:
    """What is left of a page between head and foot."""
    inner, foot = _margins(paper, wide), _foot(paper, wide)[1]
    return Box(inner.x, inner.y + foot + 4, inner.w, inner.h - foot - _HEAD - 4)


def flowed(items: Sequence[Item], paper: Paper, title: str, facts: str, *, columns: int = 1) -> tuple[Page, ...]:
    """Upright pages of one title that `items` fill, in columns made for them."""
    box = content_box(paper, wide=False)
    places = columns_of(box, columns, GUTTER)
    return tuple(
        Page(
            paper=paper,
            wide=False,
            title=title,
            facts=facts,
            parts=leaf.parts,
            free=Box(box.x, box.y, box.w, box.h - leaf.height),
        )
        for leaf in leaves(items, places, places)
    )


def draw_page(page: Page, project: str, number: int, total: int, *, stamp: str = "") -> Figure:
    """`page` as a figure, with the project's name, the plan's stamp and its number."""
    figure, ax = blank_figure(*page.paper.size(page.wide), f"{project}: cutting sheets")
    inner = _margins(page.paper, page.wide)
    _draw_head(ax, page, project, "  ·  ".join(filter(None, (stamp, f"page {number} of {total}"))), inner)
    _draw_foot(ax, page, inner)
    for part in page.parts:
        part(ax)
    return figure


def _draw_head(ax: Axes, page: Page, project: str, number: str, inner: Box) -> None:
    right = text_width(number, 8.0)
    write(ax, (inner.right, inner.top - 8), number, 8.0, colour=SOFT, ha="right")
    write(ax, (inner.x, inner.top - 8), shorten(printable(project), inner.w - right - 16, 8.0), 8.0, colour=SOFT)
    write(ax, (inner.x, inner.top - 24), shorten(page.title, inner.w, 14.0, bold=True), 14.0, bold=True)
    size = next((size for size in (8.5, 8.0, 7.5) if text_width(page.facts, size) <= inner.w), SMALLEST)
    write(ax, (inner.x, inner.top - 36), shorten(page.facts, inner.w, size), size, colour=SOFT)
    fill(ax, [Box(inner.x, inner.top - 43, 54, 1.6)], BRASS)


def _draw_foot(ax: Axes, page: Page, inner: Box) -> None:
    lines, height = _foot(page.paper, page.wide)
    rule(ax, [((inner.x, inner.y + height), (inner.right, inner.y + height))], colour=BRASS, width=0.6)
    for number, line in enumerate(lines):
        baseline = inner.y + height - 4 - SMALLEST - number * SMALLEST * LEADING
        write(ax, (inner.x, baseline), line, SMALLEST, colour=SOFT)
