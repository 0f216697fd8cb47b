"""A tally to tick off: for every kind of piece a box for each that is cut."""

from __future__ import annotations

from collections import Counter
from functools import partial
from math import ceil
from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Plan
from ellwand_cli.views.flow import Item, gap, paragraph, together
from ellwand_cli.views.lays import lay_of
from ellwand_cli.views.palette import SOFT, numbers
from ellwand_cli.views.pen import Box, frame, write
from ellwand_cli.views.typeset import printable, shorten, text_width

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["TALLY", "box_worth", "tally_items", "tally_rows", "tally_title"]

TALLY = "Tick off what is cut"

_TEXT = 7.5
_BOX, _STEP, _FIVE = 5.5, 7.2, 3.0  # a box, from box to box, and what is between fives, points
_LINE = 9.5
_BESIDE = 5  # so few boxes stand beside the name, where there is room
_MOST = 60  # boxes of a kind; beyond that a box stands for several


def tally_items(plan: Plan, answer: FabricPlan, layout: Layout, width: float) -> tuple[Item, ...]:
    """The tally of one cloth, to flow in columns of `width`; its heading is never parted from its first kind."""
    rows = tally_rows(plan, answer, layout, width)
    heading = paragraph(tally_title(answer, layout), width, 9.0, bold=True, after=3.0)
    return (together([gap(4.0), heading, rows[0]]), *rows[1:])


def tally_title(answer: FabricPlan, layout: Layout) -> str:
    """The heading of a cloth's tally."""
    return TALLY if lay_of(answer, layout) is None else f"{TALLY}: a box is a stack"


def tally_rows(plan: Plan, answer: FabricPlan, layout: Layout, width: float) -> tuple[Item, ...]:
    """The same without its heading."""
    number = numbers(plan)
    lay = lay_of(answer, layout)
    here = Counter(placed.piece for placed in layout.placed)
    kinds = [piece for piece in answer.pieces if here[piece.id]]
    rows = []
    for piece in kinds:
        counts = f"{here[piece.id]}" if here[piece.id] == piece.count else f"{here[piece.id]} of {piece.count}"
        if plan.project.copies > 1 and piece.count % plan.project.copies == 0:
            counts += f" ({piece.count // plan.project.copies} each, {piece.count} all)"
        if lay is not None:
            counts = f"{here[piece.id]} a layer, {here[piece.id] * lay.plies} in all"
            here[piece.id] *= lay.times + (lay.rest > 0)
        rows.append(_kind(f"{number[piece.id]}  {printable(piece.id)}", counts, here[piece.id], width))
    return tuple(rows)


def box_worth(count: int) -> int:
    """How many pieces one box stands for: 1, 5, 10, 50, 100 and so on, so that there are 60 boxes at most."""
    worth, factor = 1, 5
    while count > worth * _MOST:
        worth, factor = worth * factor, 7 - factor
    return worth


def _kind(name: str, counts: str, count: int, width: float) -> Item:
    """One kind: its name and count, and its boxes in as many lines as they take."""
    worth = box_worth(count)
    if worth > 1:
        counts += f"; a box is {worth}"
    boxes = ceil(count / worth)
    a_line = max(5, int((width + _FIVE) // (5 * _STEP + _FIVE)) * 5)
    wide = text_width(name, _TEXT) + 8 + text_width(counts, _TEXT)
    beside = boxes <= _BESIDE and wide + 8 + _BESIDE * _STEP <= width
    lines = 0 if beside else ceil(boxes / a_line)
    words = 1 if wide <= width else 2
    height = words * _LINE + lines * (_BOX + 2.5) + (1.5 if beside else 4.0)
    return Item(height, partial(_draw_kind, name, counts, boxes, 0 if beside else a_line, words))


def _draw_kind(name: str, counts: str, boxes: int, a_line: int, words: int, ax: Axes, box: Box) -> None:
    """One kind: its count beside the name, or below it as a second line of `words`.

    Its boxes are below, so many on a line; 0: beside it.
    """
    room = box.w if words > 1 else box.w - text_width(counts, _TEXT) - 8
    name, foot = shorten(name, room, _TEXT), box.top - (words - 1) * _LINE
    write(ax, (box.x, box.top - _TEXT), name, _TEXT)
    write(ax, (box.right, foot - _TEXT), shorten(counts, box.w, _TEXT), _TEXT, colour=SOFT, ha="right")
    found = []
    left, top = (box.x, foot - _LINE) if a_line else (box.x + text_width(name, _TEXT) + 6, foot - 1.5)
    for number in range(boxes):
        line, place = divmod(number, a_line or boxes)
        x = left + place * _STEP + place // 5 * _FIVE
        found.append(Box(x, top - _BOX - line * (_BOX + 2.5), _BOX, _BOX))
    frame(ax, found, width=0.5, colour=SOFT, label="tally")
