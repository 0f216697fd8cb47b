"""One cloth as a drawing to scale: title, cloth, key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Plan
from ellwand_cli.views.arrange import arrange, survey
from ellwand_cli.views.cloth import Spread, draw_spread
from ellwand_cli.views.cutlist import cuts_along
from ellwand_cli.views.key import draw_key, key_entries, key_height
from ellwand_cli.views.origin import cloth_source, cloth_title
from ellwand_cli.views.palette import BRASS, SOFT
from ellwand_cli.views.pen import Box, blank_figure, fill, points_axes, write
from ellwand_cli.views.typeset import printable, shorten

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["cloth_figure", "cloth_height", "draw_cloth"]

_TITLE = 46.0  # height of the title
_MARGIN = 14.0
_NORMAL, _WIDE, _TALL = 600.0, 900.0, 820.0  # points


def cloth_figure(plan: Plan, fabric_plan: FabricPlan, layout: Layout) -> Figure:
    """A figure of one cloth, as high as it needs."""
    cloth = survey(fabric_plan, layout, lengthwise=cuts_along(plan, fabric_plan, layout))
    w = _WIDE if 2 * cloth.drawn.extent > 5 * cloth.edges.width else _NORMAL
    label = f"{cloth_title(fabric_plan, layout)}\n{plan.project.name}: {cloth_source(plan, fabric_plan, layout)}"
    figure, ax = blank_figure(w, cloth_height(plan, fabric_plan, layout, w, _TALL), _printable_lines(label))
    draw_cloth(plan, fabric_plan, layout, ax)
    return figure


def cloth_height(plan: Plan, fabric_plan: FabricPlan, layout: Layout, w: float, tallest: float) -> float:
    """Height of one cloth with title and key where it is `w` wide, points; of the cloth itself at most `tallest`."""
    cloth, inner = survey(fabric_plan, layout), w - 2 * _MARGIN
    key = key_height(key_entries(plan, fabric_plan, layout, cloth), inner)
    return arrange(cloth, inner, tallest).h + key + _TITLE + 2 * _MARGIN + 8


def draw_cloth(plan: Plan, fabric_plan: FabricPlan, layout: Layout, ax: Axes) -> None:
    """Draw one cloth to fill `ax`, to scale: title, cloth, key."""
    page = points_axes(ax)
    box = Box(_MARGIN, _MARGIN, page.w - 2 * _MARGIN, page.h - 2 * _MARGIN)
    _draw_title(ax, plan, fabric_plan, layout, box)
    cloth = survey(fabric_plan, layout, lengthwise=cuts_along(plan, fabric_plan, layout))
    entries = key_entries(plan, fabric_plan, layout, cloth)
    height = key_height(entries, box.w)
    draw_key(ax, entries, Box(box.x, box.y, box.w, height))
    room = Box(box.x, box.y + height + 6, box.w, box.h - height - 6 - _TITLE)
    arrangement = arrange(cloth, room.w, room.h)
    spread = Spread(plan=plan, fabric_plan=fabric_plan, layout=layout, arrangement=arrangement, box=room)
    draw_spread(spread, ax)


def _draw_title(ax: Axes, plan: Plan, fabric_plan: FabricPlan, layout: Layout, box: Box) -> None:
    title = shorten(cloth_title(fabric_plan, layout), box.w, 13.0, bold=True)
    write(ax, (box.x, box.top - 13), title, 13.0, bold=True)
    facts = f"{cloth_source(plan, fabric_plan, layout)}  ·  {printable(plan.project.name)}"
    write(ax, (box.x, box.top - 28), shorten(facts, box.w, 8.5), 8.5, colour=SOFT)
    fill(ax, [Box(box.x, box.top - 36, 54, 1.6)], BRASS)


def _printable_lines(text: str) -> str:
    return "\n".join(printable(line) for line in text.split("\n"))
