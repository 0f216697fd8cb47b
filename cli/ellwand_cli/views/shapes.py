"""The outline of a cloth of odd shape, and flaws, on paper."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from ellwand.model import Cloth
from ellwand.project.tables import Polygon
from ellwand_cli.views.bands import Band
from ellwand_cli.views.palette import FLAW, INK, PAPER
from ellwand_cli.views.pen import Box, Point, Segment, polygon, rule, surround

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["draw_shapes"]


def draw_shapes(ax: Axes, cloth: Cloth, band: Band, usable: Box, scale: float) -> None:
    """Draw what of a cloth's outline and flaws lies in `band`, whose cloth fills `usable`: paper beyond the one."""
    if cloth.outline is not None:
        surround(ax, usable, list(_on_paper(cloth.outline, band, usable, scale)), PAPER)
        rule(ax, _edges(cloth.outline, band, usable, scale), width=1.1, label="outline")
    for flaw in cloth.flaws:
        corners = list(_on_paper(flaw, band, usable, scale))
        if len(corners) > 2:
            polygon(ax, corners, FLAW.tint)
            rule(ax, _edges(flaw, band, usable, scale), width=0.8, colour=INK, label="flaws")


def _on_paper(shape: Polygon, band: Band, usable: Box, scale: float) -> Iterator[Point]:
    """Corners of what lies in the band: a corner beyond it moves along its edges to where they enter."""
    for start, end in _within(shape, band):
        yield _point(start, band, usable, scale)
        yield _point(end, band, usable, scale)


def _edges(shape: Polygon, band: Band, usable: Box, scale: float) -> list[Segment]:
    return [(_point(a, band, usable, scale), _point(b, band, usable, scale)) for a, b in _within(shape, band)]


def _point(corner: tuple[float, float], band: Band, usable: Box, scale: float) -> Point:
    """On paper; what lies beside the cloth at its edge."""
    x = usable.x + corner[0] * scale
    return min(max(x, usable.x), usable.right), usable.y + (corner[1] - float(band.start)) * scale


def _within(shape: Polygon, band: Band) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """What of each edge lies in the band, in their order."""
    low, high = float(band.start), float(band.end)
    corners = [(float(x), float(y)) for x, y in shape]
    for (x, y), (u, v) in pairwise((*corners, corners[0])):
        if max(y, v) < low or min(y, v) > high:
            continue
        ends = [(x, y), (u, v)]
        for number, (_, level) in enumerate(ends):
            limit = min(max(level, low), high)
            if limit != level:
                ends[number] = (x + (u - x) * (limit - y) / (v - y), limit)
        yield ends[0], ends[1]
