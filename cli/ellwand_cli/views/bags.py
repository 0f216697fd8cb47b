"""What goes into the bag of each kit: a list, and a label for every bag."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from ellwand.costs import plan_cost
from ellwand.model import FabricPlan, Piece, Plan
from ellwand_cli.views.flow import Part
from ellwand_cli.views.origin import as_laid
from ellwand_cli.views.palette import SOFT
from ellwand_cli.views.paper import Page, Paper, content_box
from ellwand_cli.views.pen import Box, frame, write
from ellwand_cli.views.typeset import SMALLEST, printable, shorten, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["bag_lines", "bag_pages"]

_ACROSS, _DOWN = 2, 4
_PAD = 7.0
_LEADING = 8.75
_MOST_NUMBERED = 80  # bags; beyond that one page without numbers is printed as often as it takes


def bag_lines(plan: Plan) -> tuple[str, ...]:
    """What goes into each bag, fabric by fabric; nothing for a single quilt, or where kits are not alike."""
    copies = plan.project.copies
    if copies == 1 or any(piece.count % copies for answer in plan.fabrics for piece in answer.pieces):
        return ()
    cost = plan_cost(plan)
    each = f", whose cloth costs {cost.each}" if cost else ""
    return (
        f"In the bag of each of {copies} kits{each}:",
        *(f"- {printable(answer.fabric.id)}: {_contents(plan, answer)}." for answer in plan.fabrics),
    )


def _contents(plan: Plan, answer: FabricPlan) -> str:
    return "; ".join(_piece(plan, answer, piece) for piece in answer.pieces)


def _piece(plan: Plan, answer: FabricPlan, piece: Piece) -> str:
    size = plan.project.notation.pair(*as_laid(piece, answer.shown))
    return f"{piece.count // plan.project.copies} × {printable(piece.id)} ({size})"


def bag_pages(plan: Plan, paper: Paper) -> tuple[Page, ...]:
    """A label for every bag, numbered; of very many bags one page without numbers."""
    lines, copies = bag_lines(plan), plan.project.copies
    if not lines:
        return ()
    contents = tuple(line.removeprefix("- ") for line in lines[1:])
    a_page = _ACROSS * _DOWN
    numbered = copies <= _MOST_NUMBERED
    heads = [f"Kit {number} of {copies}" for number in range(1, copies + 1)]
    heads = heads if numbered else [f"Kit ……… of {copies}"] * a_page
    facts = "Cut them out, one for each bag; sizes are cut sizes, across the width × along the selvage."
    return tuple(
        Page(
            paper=paper,
            wide=False,
            title="Labels for the bags",
            facts=facts if numbered else f"{facts} Print this page {-(-copies // a_page)} times.",
            parts=_parts(heads[start : start + a_page], plan, contents, content_box(paper, wide=False)),
        )
        for start in range(0, len(heads), a_page)
    )


def _parts(heads: list[str], plan: Plan, lines: tuple[str, ...], page: Box) -> tuple[Part, ...]:
    w, h = page.w / _ACROSS, page.h / _DOWN
    parts = []
    for number, head in enumerate(heads):
        row, column = divmod(number, _ACROSS)
        box = Box(page.x + column * w, page.top - (row + 1) * h, w, h)
        parts.append(partial(_draw, printable(plan.project.name), head, lines, box))
    return tuple(parts)


def _draw(name: str, head: str, contents: tuple[str, ...], box: Box, ax: Axes) -> None:
    frame(ax, [box], width=0.5, dashed=True, colour=SOFT)
    wide = box.w - 2 * _PAD
    write(ax, (box.x + _PAD, box.top - 16), shorten(head, wide, 11.0, bold=True), 11.0, bold=True)
    write(ax, (box.x + _PAD, box.top - 28), shorten(name, wide, 8.0), 8.0, colour=SOFT)
    lines = [line for text in contents for line in wrap(text, wide, SMALLEST)]
    room = int((box.h - 36) // _LEADING)
    if len(lines) > room:
        lines = [*lines[: room - 1], "… and what else the cut list names."]
    for number, line in enumerate(lines):
        write(ax, (box.x + _PAD, box.top - 40 - _LEADING * number), line, SMALLEST)
