"""The measures around a cloth: sticks, usable width, strips, length, grain, and what is left over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Layout, Source
from ellwand.project.tables import Way
from ellwand_cli.views.arrange import Arrangement, Sides
from ellwand_cli.views.bands import Band
from ellwand_cli.views.braces import Marks, draw_braces
from ellwand_cli.views.origin import is_missing, to_wash
from ellwand_cli.views.palette import INK, PAPER, SOFT
from ellwand_cli.views.pen import Box, fill, polygon, rule, write
from ellwand_cli.views.stick import THICK, Stick, draw_stick
from ellwand_cli.views.typeset import SMALLEST, shorten, text_width

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["draw_bare_measures", "draw_measures"]

_TOTAL, _GRAIN = 62.0, 73.0  # from the cloth's right edge
_WIDTH = 41.0  # below the cloth, and so much more where strips are braced there
_BRACES = 26.0


def draw_measures(
    ax: Axes,
    fabric_plan: FabricPlan,
    layout: Layout,
    arrangement: Arrangement,
    band: Band,
    origin: tuple[float, float],
    notation: Notation,
    marks: Marks,
) -> None:
    """Everything that is written around one band, whose lower left usable corner is `origin`."""
    sides = arrangement.sides(band, origin)
    _draw_sticks(ax, arrangement, band, sides, notation)
    if layout.tree is not None:
        draw_braces(ax, arrangement, band, sides, notation, marks)
    verb = "needed" if layout.cloth.source is Source.BUY else "used"
    verb = "missing" if is_missing(fabric_plan, layout.cloth) else verb
    _draw_length(ax, arrangement, band, sides, notation, verb)
    if fabric_plan.fabric.woven:
        _draw_grain(ax, sides, one_way=fabric_plan.fabric.way is Way.ONE_WAY)
    if arrangement.first(band):
        washed = ", after washing" if to_wash(fabric_plan, layout.cloth) else ""
        _draw_width(ax, arrangement, sides, notation, washed)
    if arrangement.last(band) and arrangement.edges.rest:
        _write_rest(ax, fabric_plan, layout, arrangement, sides, notation)


def draw_bare_measures(
    ax: Axes, arrangement: Arrangement, band: Band, origin: tuple[float, float], notation: Notation, *, one_way: bool
) -> None:
    """Write what there is around one band of a cloth on which nothing lies yet."""
    sides = arrangement.sides(band, origin)
    _draw_sticks(ax, arrangement, band, sides, notation)
    _draw_length(ax, arrangement, band, sides, notation, "length")
    _draw_grain(ax, sides, one_way=one_way)
    if arrangement.first(band):
        _draw_width(ax, arrangement, sides, notation, "")


def _draw_sticks(ax: Axes, arrangement: Arrangement, band: Band, sides: Sides, notation: Notation) -> None:
    """One stick along the left edge, one below the squared end; none along a length of which strips are left out."""
    scale = arrangement.scale
    if not arrangement.drawn.condensed:
        x = sides.cloth_left - 5 - THICK
        start, end = float(band.start), float(band.end)
        draw_stick(ax, Stick(x=x, y=sides.start, start=start, end=end, scale=scale, upright=True), notation)
    if arrangement.first(band):
        width = float(arrangement.edges.usable)
        y = sides.low - 12 - THICK
        draw_stick(ax, Stick(x=sides.left, y=y, start=0.0, end=width, scale=scale, upright=False), notation)


def _draw_length(ax: Axes, arrangement: Arrangement, band: Band, sides: Sides, notation: Notation, verb: str) -> None:
    """The length taken, with witness lines; for one band of several, from where to where it goes."""
    x = sides.cloth_right + _TOTAL
    rule(ax, [((sides.cloth_right + 2, y), (x + 3, y)) for y in (sides.start, sides.end)], colour=SOFT, width=0.35)
    _draw_arrow(ax, (x, sides.start), (x, sides.end))
    if arrangement.first(band) and arrangement.last(band):
        whole = notation.show(arrangement.edges.extent)
        choices = [f"{verb} {whole}", whole]
    elif arrangement.drawn.condensed:
        choices = [f"part of {notation.show(arrangement.edges.extent)}"]
    else:
        choices = [f"{notation.bare(band.start)} to {notation.show(band.end)}"]
    room = sides.end - sides.start - 8
    text = next((text for text in choices if text_width(text, 8.0) <= room), None)
    if text is None:
        text = shorten(choices[-1], max(room, 60.0), SMALLEST)
    _write_across_line(ax, (x, (sides.start + sides.end) / 2), text, upright=True)


def _draw_width(ax: Axes, arrangement: Arrangement, sides: Sides, notation: Notation, washed: str) -> None:
    y = sides.low - _WIDTH - (_BRACES if arrangement.edges.lengthwise else 0.0)
    rule(ax, [((x, y - 3), (x, sides.low - 28)) for x in (sides.left, sides.right)], colour=SOFT, width=0.35)
    _draw_arrow(ax, (sides.left, y), (sides.right, y))
    whole = notation.show(arrangement.edges.usable)
    choices = (f"usable width {whole}{washed}", f"usable width {whole}", whole)
    text = next((text for text in choices if text_width(text, 8.0) <= sides.right - sides.left - 8), whole)
    _write_across_line(ax, ((sides.left + sides.right) / 2, y), text, upright=False)


def _write_across_line(ax: Axes, at: tuple[float, float], text: str, *, upright: bool) -> None:
    """`text` centred on a dimension line, which gives way."""
    w, h = text_width(text, 8.0) + 6, 9.0
    x, y = at
    fill(ax, [Box(x - h / 2, y - w / 2, h, w) if upright else Box(x - w / 2, y - h / 2, w, h)], PAPER, above=True)
    anchor = (x + 2.9, y) if upright else (x, y - 2.9)
    write(ax, anchor, text, 8.0, colour=INK, ha="center", upright=upright)


def _draw_arrow(ax: Axes, start: tuple[float, float], end: tuple[float, float], *, one_way: bool = False) -> None:
    """A line with an arrow head at both ends, or at `end` alone."""
    rule(ax, [(start, end)], colour=SOFT, width=0.6)
    upright = abs(start[0] - end[0]) < 0.01
    for (x, y), sign in ((end, 1), (start, -1)):
        if one_way and sign < 0:
            continue
        if upright:
            polygon(ax, [(x, y), (x - 1.7, y - sign * 5), (x + 1.7, y - sign * 5)], SOFT)
        else:
            polygon(ax, [(x, y), (x - sign * 5, y - 1.7), (x - sign * 5, y + 1.7)], SOFT)


def _draw_grain(ax: Axes, sides: Sides, *, one_way: bool) -> None:
    """An arrow along the selvage: the lengthwise grain; with one head on one-way cloth."""
    x, middle = sides.cloth_right + _GRAIN, (sides.start + sides.end) / 2
    text = "grain, one way" if one_way else "grain"
    half = text_width(text, SMALLEST) / 2 + 14
    if sides.end - sides.start < 2 * half:
        text, half = "", (sides.end - sides.start) / 2
    _draw_arrow(ax, (x, middle - half), (x, middle + half), one_way=one_way)
    if text:
        w = text_width(text, SMALLEST) + 4
        fill(ax, [Box(x - 4, middle - w / 2, 8, w)], PAPER, above=True)
        write(ax, (x + 2.5, middle), text, SMALLEST, colour=SOFT, ha="center", upright=True)


def _write_rest(
    ax: Axes, answer: FabricPlan, layout: Layout, arrangement: Arrangement, sides: Sides, notation: Notation
) -> None:
    washed = " after washing" if to_wash(answer, layout.cloth) else ""
    rest = notation.near(arrangement.edges.rest) + washed
    long = f"left of what is bought: {rest}" if layout.cloth.source is Source.BUY else f"stays on the cloth: {rest}"
    room = sides.cloth_right - sides.cloth_left + 60
    text = next((text for text in (long, f"left: {rest}", rest) if text_width(text, 8.0) <= room), rest)
    far = float(arrangement.edges.far_squaring) * arrangement.scale
    y = sides.end + far + arrangement.rest_height + 5
    write(ax, ((sides.cloth_left + sides.cloth_right) / 2, y), text, 8.0, ha="center", colour=INK)
