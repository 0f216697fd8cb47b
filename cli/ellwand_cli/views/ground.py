"""The bare cloth that pieces are drawn on: selvages, squared ends, what is left of it, breaks between bands."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from ellwand.model import Cloth
from ellwand_cli.views.arrange import Arrangement
from ellwand_cli.views.bands import Band
from ellwand_cli.views.palette import CLOTH, PAPER, SCRAP, SELVAGE, SOFT, SQUARING, WALNUT, Swatch
from ellwand_cli.views.pen import Box, Point, Segment, fill, frame, hatch, polygon, rule, write
from ellwand_cli.views.shapes import draw_shapes

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["draw_breaks", "draw_ground"]

_WIDE_SELVAGE = 2.8  # points; narrower ones have no room for the holes


def draw_ground(
    ax: Axes, arrangement: Arrangement, cloth: Cloth, band: Band, origin: Point, look: Swatch = SCRAP
) -> None:
    """Draw the bare cloth: what can be used (scrap, until pieces cover it), selvages, squaring, the rest."""
    x, y = origin
    edges, scale = arrangement.edges, arrangement.scale
    left, width = float(edges.selvage_left) * scale, float(edges.width) * scale
    usable = Box(x, y, float(edges.usable) * scale, float(band.along) * scale)
    fill(ax, [usable], look.tint)
    hatch(ax, look, [usable])
    ends = _ends(arrangement, band, Box(x - left, y, width, usable.h))
    fill(ax, ends, SQUARING.tint)
    hatch(ax, SQUARING, ends, width=0.3)
    low, high = min([y, *(end.y for end in ends)]), max([usable.top, *(end.top for end in ends)])
    sides = [Box(x - left, low, left, high - low), Box(usable.right, low, x - left + width - usable.right, high - low)]
    _draw_selvages(ax, [side for side in sides if side.w > 0.2])
    whole = Box(x - left, low, width, high - low)
    if arrangement.last(band) and edges.rest:
        _draw_rest(ax, whole, arrangement.rest_height, torn=float(edges.rest) * scale > arrangement.rest_height)
    if cloth.outline is None:
        frame(ax, [whole], width=1.1)
        inner = [((whole.x, y), (whole.right, y)), ((x, low), (x, high)), ((usable.right, low), (usable.right, high))]
        rule(ax, inner, width=0.4)
    draw_shapes(ax, cloth, band, usable, scale)


def _ends(arrangement: Arrangement, band: Band, cloth: Box) -> list[Box]:
    """What squaring takes at the band's ends."""
    near, far = (float(end) * arrangement.scale for end in (arrangement.edges.squaring, arrangement.edges.far_squaring))
    ends = []
    if arrangement.first(band) and near:
        ends.append(Box(cloth.x, cloth.y - near, cloth.w, near))
    if arrangement.last(band) and far:
        ends.append(Box(cloth.x, cloth.top, cloth.w, far))
    return ends


def _draw_selvages(ax: Axes, sides: list[Box]) -> None:
    """Selvages with the row of pin holes that a loom leaves."""
    fill(ax, sides, SELVAGE)
    holes: list[Segment] = []
    for side in (side for side in sides if side.w >= _WIDE_SELVAGE):
        x = side.centre[0]
        holes += [((x, side.y + 4 + 7 * k), (x + 0.01, side.y + 4 + 7 * k)) for k in range(int((side.h - 4) // 7) + 1)]
    rule(ax, holes, colour=WALNUT, width=1.0, round_=True)


def _draw_rest(ax: Axes, cloth: Box, height: float, *, torn: bool) -> None:
    """The cloth beyond the last piece, with a torn edge where it is longer than drawn."""
    top = (
        _wave(cloth.x, cloth.right, cloth.top + height)
        if torn
        else [(cloth.x, cloth.top + height), (cloth.right, cloth.top + height)]
    )
    outline = [(cloth.x, cloth.top), *top, (cloth.right, cloth.top)]
    polygon(ax, outline, CLOTH)
    rule(ax, list(pairwise(outline)), width=0.5, colour=SOFT)


def _wave(left: float, right: float, y: float) -> list[tuple[float, float]]:
    """A zigzag from `left` to `right`."""
    teeth = max(2, round((right - left) / 9))
    step = (right - left) / teeth
    return [(left + number * step, y + (1.6 if number % 2 else -1.6)) for number in range(teeth + 1)]


def draw_breaks(ax: Axes, arrangement: Arrangement, band: Band, origin: Point) -> None:
    """Draw torn edges with matching letters where the cloth goes on in another band."""
    x, y = origin
    scale, edges = arrangement.scale, arrangement.edges
    left, width = x - float(edges.selvage_left) * scale, float(edges.width) * scale
    number = arrangement.before + arrangement.bands.index(band)
    if not arrangement.first(band):
        _draw_break(ax, Box(left, y, width, 0), -1, f"from {_letter(number - 1)}")
    if not arrangement.last(band):
        _draw_break(ax, Box(left, y + float(band.along) * scale, width, 0), 1, f"goes on at {_letter(number)}")


def _letter(number: int) -> str:
    return chr(65 + number % 26) * (number // 26 + 1)


def _draw_break(ax: Axes, edge: Box, side: int, text: str) -> None:
    wave = _wave(edge.x - 2, edge.right + 2, edge.y)
    polygon(ax, [(edge.x - 2, edge.y + side * 4), *wave, (edge.right + 2, edge.y + side * 4)], PAPER)
    rule(ax, list(pairwise(wave)), width=0.9)
    write(ax, (edge.centre[0], edge.y + side * 9 - 3), text, 8.0, bold=True, ha="center")
