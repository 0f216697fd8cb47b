"""The key beside a cloth: what its numbers, letters and grounds stand for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Offcut, Placed, Plan
from ellwand_cli.views.arrange import Survey
from ellwand_cli.views.bands import Drawn
from ellwand_cli.views.cloth import offcut_letters
from ellwand_cli.views.cutlist import strip_marks
from ellwand_cli.views.diagonals import draw_folds, draw_lines, is_cut_on
from ellwand_cli.views.origin import as_laid, as_told
from ellwand_cli.views.palette import FLAW, INK, PAPER, SCRAP, SELVAGE, SOFT, SQUARING, Pattern, Swatch, numbers, swatch
from ellwand_cli.views.pen import Box, fill, frame, hatch, write
from ellwand_cli.views.typeset import SMALLEST, printable, shorten, text_width

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["KEY_ROW", "Entry", "draw_entry", "draw_key", "key_entries", "key_height"]

KEY_ROW = 13.5
_SIZE = 7.5
_COLUMN = 215.0  # least width of a column
_SWATCH = 20.0
_BARE = Swatch(tint=PAPER, line=SOFT, pattern=Pattern.PLAIN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line: a swatch with `mark` in it, what it is (shortened where it must), and facts (never shortened).

    The swatch is outlined `dashed`, or shows the line on which squares are `cut_on` or cloth is folded.
    """

    mark: str
    look: Swatch
    name: str
    facts: str
    dashed: bool = False
    cut_on: bool = False
    fold: bool = False


def key_entries(plan: Plan, fabric_plan: FabricPlan, layout: Layout, cloth: Survey) -> tuple[Entry, ...]:
    """The key of one cloth: its kinds of piece in the plan's order, its offcuts, and the grounds that occur."""
    number, show = numbers(plan), plan.project.notation.pair
    here = Counter(placed.piece for placed in layout.placed)
    pieces = [
        Entry(
            mark=str(number[piece.id]),
            look=swatch(number[piece.id]),
            name=printable(piece.id),
            facts=f"{show(*as_laid(piece, [layout]))}, {_how_many(here[piece.id], piece.count)}",
        )
        for piece in fabric_plan.pieces
        if here[piece.id]
    ]
    folded = any(mark.folds for mark in strip_marks(plan, fabric_plan, layout).values())
    folds = [Entry(mark="", look=_BARE, name="fold, for the strips cut folded", facts="", fold=True)] * folded
    return (*pieces, *_offcuts(plan, cloth.drawn), *folds, *_grounds(fabric_plan, layout, cloth))


def _how_many(here: int, all_: int) -> str:
    return f"{here} pc" if here == all_ else f"{here} of {all_} pc"


def _offcuts(plan: Plan, drawn: Drawn) -> list[Entry]:
    """Offcuts by letter, those of one size together."""
    letters = offcut_letters(drawn.offcuts)
    sizes: dict[str, list[Offcut]] = {}
    for offcut in drawn.offcuts:
        sizes.setdefault(plan.project.notation.pair(offcut.across, offcut.along), []).append(offcut)
    return [
        Entry(mark=letters[same[0]], look=_BARE, name=_offcut_name(len(same)), facts=size, dashed=True)
        for size, same in sizes.items()
    ]


def _offcut_name(count: int) -> str:
    return "offcut" if count == 1 else f"{count} offcuts"


def _grounds(answer: FabricPlan, layout: Layout, cloth: Survey) -> list[Entry]:
    edges = cloth.edges
    here = {placed.piece for placed in layout.placed}
    boxes: tuple[Placed | Offcut, ...] = (*layout.placed, *as_told(answer, layout).offcuts)
    covered = sum(box.across * box.along for box in boxes)
    found = []
    if any(is_cut_on(piece) and piece.id in here for piece in answer.pieces):
        found.append(Entry(mark="", look=_BARE, name="cut on such lines afterwards", facts="", cut_on=True))
    if cloth.drawn.condensed:
        found.append(Entry(mark="n ×", look=_BARE, name="so many equal strips, drawn once", facts=""))
    if covered < edges.usable * edges.extent:
        found.append(Entry(mark="", look=SCRAP, name="scrap", facts=""))
    if layout.cloth.flaws:
        found.append(Entry(mark="", look=FLAW, name="flaw, kept clear of", facts=""))
    if edges.width > edges.usable and layout.cloth.outline is None:
        found.append(
            Entry(mark="", look=Swatch(tint=SELVAGE, line=SOFT, pattern=Pattern.PLAIN), name="selvage", facts="")
        )
    if layout.cloth.squaring:
        found.append(Entry(mark="", look=SQUARING, name="lost in squaring up", facts=""))
    return found


def _columns(width: float) -> int:
    return max(1, int(width // _COLUMN))


def key_height(entries: tuple[Entry, ...], width: float) -> float:
    """Height of the key in columns that fill `width`."""
    return ceil(len(entries) / _columns(width)) * KEY_ROW


def draw_key(ax: Axes, entries: tuple[Entry, ...], box: Box) -> None:
    """Draw the key from the top of `box`, column after column."""
    columns = _columns(box.w)
    rows = ceil(len(entries) / columns)
    for number, entry in enumerate(entries):
        column, row = divmod(number, rows)
        w = box.w / columns
        draw_entry(ax, entry, Box(box.x + column * w, box.top - (row + 1) * KEY_ROW, w - 10, KEY_ROW))


def draw_entry(ax: Axes, entry: Entry, box: Box) -> None:
    """Draw one line of the key."""
    chip = Box(box.x, box.y + 1.5, _SWATCH, KEY_ROW - 3)
    fill(ax, [chip], entry.look.tint)
    hatch(ax, entry.look, [chip])
    draw_lines(ax, [((chip.x, chip.top), (chip.right, chip.y))] if entry.cut_on else [])
    draw_folds(ax, [((chip.centre[0], chip.y), (chip.centre[0], chip.top))] if entry.fold else [])
    frame(ax, [chip], width=0.7, dashed=entry.dashed, colour=SOFT if entry.dashed else INK)
    baseline = chip.centre[1] - 2.6
    if entry.mark:
        w = text_width(entry.mark, SMALLEST) + 2
        fill(ax, [Box(chip.centre[0] - w / 2, chip.y + 1, w, chip.h - 2)], entry.look.tint, above=True)
        write(ax, (chip.centre[0], baseline), entry.mark, SMALLEST, ha="center")
    facts = text_width(entry.facts, _SIZE)
    name = shorten(entry.name, box.w - _SWATCH - 14 - facts, _SIZE)
    x = box.x + _SWATCH + 5
    write(ax, (x, baseline), name, _SIZE)
    if entry.facts:
        write(ax, (x + text_width(name, _SIZE) + 6, baseline), entry.facts, _SIZE, colour=SOFT)
