"""All cloths cut at one go: for each setting of the ruler, the steps of every sheet that are done with it."""

from __future__ import annotations

from collections.abc import Sequence

from ellwand.cutorder import together as cut_together
from ellwand.model import Plan
from ellwand_cli.views.cutlist import order_of, steps_before
from ellwand_cli.views.flow import Item, columns_of, gap, paragraph, side_by_side, together
from ellwand_cli.views.paper import GUTTER, Page, Paper, content_box, flowed
from ellwand_cli.views.typeset import joined

__all__ = ["ruler_lines", "with_ruler"]

_TITLE = "All cloths at one go"
_COLUMNS = 2


def with_ruler(pages: Sequence[Page], plan: Plan, paper: Paper) -> tuple[Page, ...]:
    """`pages` with the same on paper: below what the last of them holds, or on pages of its own.

    Where nothing is saved they stay as they are.
    """
    lines = ruler_lines(plan)
    if not lines:
        return tuple(pages)
    box = content_box(paper, wide=False)
    width = columns_of(box, _COLUMNS, GUTTER)[0].w
    items = [paragraph(line, width, 8.0, lead="□", after=4.0) for line in lines[1:]]
    below = pages[-1].with_item(_headed(lines[0], items, box.w)) if pages else None
    if below is not None:
        return (*pages[:-1], below)
    return (*pages, *flowed(items, paper, _TITLE, lines[0].rstrip(":"), columns=_COLUMNS))


def _headed(lead: str, items: Sequence[Item], width: float) -> Item:
    heading = paragraph(_TITLE, width, 9.0, bold=True)
    listed = side_by_side(items, _COLUMNS, width, GUTTER)
    return together([heading, paragraph(lead, width, 8.0), gap(2.0), listed])


def ruler_lines(plan: Plan) -> tuple[str, ...]:
    """A lead, and a line for each setting, that saves settings over cutting sheet by sheet; nothing where none does.

    Nor where kits are cut in layers: nobody has all their lays on the table at once.
    """
    if any(answer.lays for answer in plan.fabrics):
        return ()
    orders, names, before = [], [], []
    for answer in plan.fabrics:
        for layout in answer.shown:
            order = order_of(plan, answer, layout)
            if order is not None and order.setups:
                orders.append(order)
                names.append(layout.cloth.id)
                before.append(steps_before(plan, answer, layout))
    shared = cut_together(orders)
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
