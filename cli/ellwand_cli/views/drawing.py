"""One cloth as a drawing to scale: title, cloth, key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Plan, Source
from ellwand_cli.views.arrange import arrange, survey
from ellwand_cli.views.cloth import Spread, draw_spread
from ellwand_cli.views.key import draw_key, key_entries, key_height
from ellwand_cli.views.palette import BRASS, SOFT
from ellwand_cli.views.pen import Box, blank_figure, fill, points_axes, write
from ellwand_cli.views.typeset import printable, shorten

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["cloth_figure", "cloth_source", "cloth_title", "draw_cloth"]

_TITLE = 46.0  # height of the title
_MARGIN = 14.0
_NORMAL, _WIDE, _TALL = 600.0, 900.0, 820.0  # points


def cloth_figure(plan: Plan, fabric_plan: FabricPlan, layout: Layout) -> Figure:
    """A figure of one cloth, as high as it needs."""
    cloth = survey(fabric_plan, layout)
    w = _WIDE if 2 * cloth.drawn.extent > 5 * cloth.edges.width else _NORMAL
    inner = w - 2 * _MARGIN
    key = key_height(key_entries(plan, fabric_plan, layout, cloth), inner)
    found = arrange(cloth, inner, _TALL)
    label = f"{cloth_title(fabric_plan, layout)}\n{plan.project.name}: {cloth_source(plan, fabric_plan, layout)}"
    figure, ax = blank_figure(w, found.h + key + _TITLE + 2 * _MARGIN + 8, _printable_lines(label))
    draw_cloth(plan, fabric_plan, layout, ax)
    return figure


def draw_cloth(plan: Plan, fabric_plan: FabricPlan, layout: Layout, ax: Axes) -> None:
    """Draw one cloth to fill `ax`, to scale: title, cloth, key."""
    page = points_axes(ax)
    box = Box(_MARGIN, _MARGIN, page.w - 2 * _MARGIN, page.h - 2 * _MARGIN)
    _draw_title(ax, plan, fabric_plan, layout, box)
    cloth = survey(fabric_plan, layout)
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


def cloth_title(fabric_plan: FabricPlan, layout: Layout) -> str:
    """The cloth by its name, and what fabric that is."""
    note = f" – {fabric_plan.fabric.note}" if fabric_plan.fabric.note else ""
    return printable(f"{layout.cloth.id}{note}")


def cloth_source(plan: Plan, fabric_plan: FabricPlan, layout: Layout) -> str:
    """Where a cloth comes from and how large it is: "to buy 1 3/4 yd · 43 in wide, 57 1/2 in needed"."""
    notation, cloth = plan.project.notation, layout.cloth
    if cloth.source is Source.BUY:
        start = f"to buy {notation.cloth(fabric_plan.bought)}" if fabric_plan.fabric.buy else "missing"
        return f"{start}  ·  {notation.near(cloth.width)} wide, {notation.show(cloth.along)} needed"
    if cloth.whole:
        return f"on hand  ·  {notation.pair(cloth.width, cloth.length)}"
    sizes = f"{notation.near(cloth.width)} wide, {notation.near(layout.used)} used"
    return f"on hand {notation.cloth(cloth.length)}  ·  {sizes}"


def _printable_lines(text: str) -> str:
    return "\n".join(printable(line) for line in text.split("\n"))
