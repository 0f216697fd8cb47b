"""All cloths cut at one go: for each setting of the ruler, the steps of every sheet that are done with it."""

from __future__ import annotations

from ellwand.cutorder import together
from ellwand.model import Plan
from ellwand_cli.views.advice import joined
from ellwand_cli.views.cutlist import order_of, steps_before
from ellwand_cli.views.flow import flow, paragraph
from ellwand_cli.views.paper import Page, content_box
from ellwand_cli.views.pen import Box

__all__ = ["ruler_lines", "ruler_pages"]

_COLUMNS, _GUTTER = 2, 16.0


def ruler_pages(plan: Plan) -> tuple[Page, ...]:
    """The same on paper, in columns."""
    lines = ruler_lines(plan)
    if not lines:
        return ()
    box = content_box(wide=False)
    w = (box.w - (_COLUMNS - 1) * _GUTTER) / _COLUMNS
    columns = [Box(box.x + number * (w + _GUTTER), box.y, w, box.h) for number in range(_COLUMNS)]
    items = [paragraph(line, w, 8.0, lead="□", after=4.0) for line in lines[1:]]
    return tuple(
        Page(wide=False, title="All cloths at one go", facts=lines[0].rstrip(":"), parts=parts)
        for parts in flow(items, columns, columns)
    )


def ruler_lines(plan: Plan) -> tuple[str, ...]:
    """A lead, and a line for each setting, that saves settings over cutting sheet by sheet; nothing where none does."""
    orders, names, before = [], [], []
    for answer in plan.fabrics:
        for layout in answer.layouts:
            order = order_of(plan, answer, layout)
            if order is not None and order.setups:
                orders.append(order)
                names.append(layout.cloth.id)
                before.append(steps_before(plan, answer, layout))
    shared = together(orders)
    alone = sum(len(order.setups) for order in orders)
    if len(shared) == alone:
        return ()
    piecewise = sum(order.piecewise_setups for order in orders)
    lead = (
        f"The ruler set {len(shared)} times for all cloths together, where sheet by sheet it is {alone}, and piece by "
        f"piece {piecewise}:"
    )
    show = plan.project.notation.show
    return lead, *(
        f"{show(measure)}: {joined([f'{names[one]} step {before[one] + place + 1}' for one, place in done])}"
        for measure, done in shared
    )
