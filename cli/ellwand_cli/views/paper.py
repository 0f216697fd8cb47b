"""A printed page: its margins, head and foot. A4, with margins that a letter printer keeps too."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.flow import Part
from ellwand_cli.views.palette import BRASS, SOFT
from ellwand_cli.views.pen import Box, blank_figure, fill, rule, write
from ellwand_cli.views.typeset import LEADING, SMALLEST, printable, shorten, text_width, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["Page", "content_box", "draw_page"]

_SHORT, _LONG = 595.0, 842.0  # A4 in points
_NEAR, _FAR = 36.0, 52.0  # margins of the short and the long side
_HEAD = 48.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page before it is numbered: across if `wide`, its head, and what is drawn on it."""

    wide: bool
    title: str
    facts: str
    parts: tuple[Part, ...]


def _size(wide: bool) -> tuple[float, float]:
    return (_LONG, _SHORT) if wide else (_SHORT, _LONG)


def _margins(wide: bool) -> Box:
    """The page within its margins."""
    w, h = _size(wide)
    x, y = (_FAR, _NEAR) if wide else (_NEAR, _FAR)
    return Box(x, y, w - 2 * x, h - 2 * y)


def _foot(wide: bool) -> tuple[tuple[str, ...], float]:
    """The cautions' lines and their height."""
    lines = wrap(CAUTIONS, _margins(wide).w, SMALLEST)
    return lines, len(lines) * SMALLEST * LEADING + 6


def content_box(wide: bool) -> Box:
    """What is left of a page between head and foot."""
    inner, foot = _margins(wide), _foot(wide)[1]
    return Box(inner.x, inner.y + foot + 4, inner.w, inner.h - foot - _HEAD - 4)


def draw_page(page: Page, project: str, number: int, total: int, *, stamp: str = "") -> Figure:
    """`page` as a figure, with the project's name, the plan's stamp and its number."""
    figure, ax = blank_figure(*_size(page.wide), f"{project}: cutting sheets")
    inner = _margins(page.wide)
    _draw_head(ax, page, project, "  ·  ".join(filter(None, (stamp, f"page {number} of {total}"))), inner)
    _draw_foot(ax, page.wide, inner)
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


def _draw_foot(ax: Axes, wide: bool, inner: Box) -> None:
    lines, height = _foot(wide)
    rule(ax, [((inner.x, inner.y + height), (inner.right, inner.y + height))], colour=BRASS, width=0.6)
    for number, line in enumerate(lines):
        baseline = inner.y + height - 4 - SMALLEST - number * SMALLEST * LEADING
        write(ax, (inner.x, baseline), line, SMALLEST, colour=SOFT)
