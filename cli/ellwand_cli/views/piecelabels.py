"""Labels to cut out and pin to the heaps of pieces: name, size, count, place in the quilt, fabric."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Piece, Plan
from ellwand_cli.views.flow import Part
from ellwand_cli.views.origin import as_laid
from ellwand_cli.views.palette import INK, SOFT, numbers, swatch
from ellwand_cli.views.paper import Page, Paper, content_box
from ellwand_cli.views.pen import Box, fill, frame, hatch, write
from ellwand_cli.views.typeset import SMALLEST, printable, shorten, text_width, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["label_pages"]

_ACROSS, _DOWN = 3, 9
_PAD = 6.0
_CHIP = 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tag:
    """What one label says."""

    number: int
    name: str
    size: str
    count: str
    place: str
    fabric: str


def label_pages(plan: Plan, paper: Paper) -> tuple[Page, ...]:
    """A label for every kind of piece, in the plan's order."""
    tags = [_tag(plan, answer, piece) for answer in plan.fabrics for piece in answer.pieces]
    sheets = [tags[start : start + _ACROSS * _DOWN] for start in range(0, len(tags), _ACROSS * _DOWN)]
    return tuple(
        Page(
            paper=paper,
            wide=False,
            title="Labels for the heaps",
            facts="Cut them out and pin one to each heap; sizes are cut sizes, across the width × along the selvage.",
            parts=_parts(sheet, content_box(paper, wide=False)),
        )
        for sheet in sheets
    )


def _tag(plan: Plan, answer: FabricPlan, piece: Piece) -> _Tag:
    copies = plan.project.copies
    count = f"{piece.count} pieces" if piece.count > 1 else "1 piece"
    if copies > 1 and piece.count % copies == 0:
        count = f"each {piece.count // copies}, all {piece.count}"
    return _Tag(
        number=numbers(plan)[piece.id],
        name=printable(piece.id),
        size=plan.project.notation.pair(*as_laid(piece, answer.layouts)),
        count=count,
        place=printable(piece.where),
        fabric=printable(answer.fabric.id),
    )


def _parts(tags: list[_Tag], page: Box) -> tuple[Part, ...]:
    w, h = page.w / _ACROSS, page.h / _DOWN
    parts = []
    for number, tag in enumerate(tags):
        row, column = divmod(number, _ACROSS)
        parts.append(partial(_draw, tag, Box(page.x + column * w, page.top - (row + 1) * h, w, h)))
    return tuple(parts)


def _draw(tag: _Tag, box: Box, ax: Axes) -> None:
    frame(ax, [box], width=0.5, dashed=True, colour=SOFT)
    look = swatch(tag.number)
    chip = Box(box.x + _PAD, box.top - _PAD - _CHIP, _CHIP, _CHIP)
    fill(ax, [chip], look.tint)
    hatch(ax, look, [chip])
    frame(ax, [chip], width=0.7)
    mark = str(tag.number)
    w = text_width(mark, 8.0) + 2
    fill(ax, [Box(chip.centre[0] - w / 2, chip.y + 4, w, 10)], look.tint, above=True)
    write(ax, (chip.centre[0], chip.centre[1] - 2.9), mark, 8.0, ha="center")
    left, room = chip.right + 5, box.w - 2 * _PAD - _CHIP - 5
    write(ax, (left, box.top - _PAD - 8), shorten(tag.name, room, 9.0, bold=True), 9.0, bold=True)
    write(ax, (left, box.top - _PAD - 18.5), shorten(tag.size, room, 8.0), 8.0, colour=INK)
    wide = box.w - 2 * _PAD
    write(ax, (box.x + _PAD, box.top - 36), shorten(f"{tag.count}, {tag.fabric}", wide, 8.0), 8.0)
    lines = wrap(tag.place, wide, SMALLEST)
    if len(lines) > 2:
        lines = (lines[0], shorten(" ".join(lines[1:]), wide, SMALLEST))
    for number, line in enumerate(lines):
        write(ax, (box.x + _PAD, box.top - 46 - 8.75 * number), line, SMALLEST, colour=SOFT)
