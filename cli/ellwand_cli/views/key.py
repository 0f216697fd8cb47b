"""The key beside a cloth: what its numbers, letters and grounds stand for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from enum import Enum
from math import ceil
from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Offcut, Placed, Plan
from ellwand_cli.views.arrange import Survey
from ellwand_cli.views.bands import Drawn
from ellwand_cli.views.cloth import offcut_letters
from ellwand_cli.views.cutlist import strip_marks
from ellwand_cli.views.diagonals import draw_bias, draw_folds, draw_lines, is_bias, is_cut_on
from ellwand_cli.views.joins import draw_seams, joined_strips
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
_APART = 10.0  # between columns
_DROP = 6.0  # baseline of facts in a row of their own
_BARE = Swatch(tint=PAPER, line=SOFT, pattern=Pattern.PLAIN)


class Line(Enum):
    """A line on the drawing that the key explains."""

    NONE = "none"
    CUT_ON = "cut on"
    FOLD = "fold"
    BIAS = "bias"
    JOIN_DIAGONAL = "join at 45°"
    JOIN_STRAIGHT = "join"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line: a swatch with `mark` in it, what it is (shortened where it must), and facts (never shortened).

    The swatch is outlined `dashed`, or shows some `line`.
    """

    mark: str
    look: Swatch
    name: str
    facts: str
    dashed: bool = False
    line: Line = Line.NONE


def key_entries(plan: Plan, fabric_plan: FabricPlan, layout: Layout, cloth: Survey) -> tuple[Entry, ...]:
    """The key of one cloth: its kinds of piece in the plan's order, its offcuts, and the grounds that occur."""
    number, show = numbers(plan), plan.project.notation.pair
    here = Counter(placed.piece for placed in layout.placed)
    marks = {piece.id: f", {joined.mark}" for joined in joined_strips(plan) for piece in joined.parts}
    pieces = [
        Entry(
            mark=str(number[piece.id]),
            look=swatch(number[piece.id]),
            name=printable(piece.id),
            facts=f"{show(*as_laid(piece, [layout]))}, {_how_many(here[piece.id], piece.count)}"
            + marks.get(piece.id, ""),
        )
        for piece in fabric_plan.pieces
        if here[piece.id]
    ]
    folded = any(mark.folds for mark in strip_marks(plan, fabric_plan, layout).values())
    folds = [Entry(mark="", look=_BARE, name="fold, for the strips cut folded", facts="", line=Line.FOLD)] * folded
    lines = [*_joins(plan, here), *folds]
    return (*pieces, *_offcuts(plan, cloth.drawn), *lines, *_grounds(fabric_plan, layout, cloth))


def _joins(plan: Plan, here: Counter[str]) -> list[Entry]:
    """The ways in which pieces of this cloth are sewn end to end."""
    ways = {joined.diagonal for joined in joined_strips(plan) if any(here[piece.id] for piece in joined.parts)}
    told = {
        True: ("join at 45°, to an end of the same J", Line.JOIN_DIAGONAL),
        False: ("straight join, to an end of the same J", Line.JOIN_STRAIGHT),
    }
    return [
        Entry(mark="", look=_BARE, name=name, facts="", line=line) for way, (name, line) in told.items() if way in ways
    ]


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
        found.append(Entry(mark="", look=_BARE, name="cut on such lines afterwards", facts="", line=Line.CUT_ON))
    if any(is_bias(piece) and piece.id in here for piece in answer.pieces):
        found.append(Entry(mark="", look=_BARE, name="bias strips lie so in the square", facts="", line=Line.BIAS))
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
    """Height of the key in columns that fill `width`; in a lone one, an entry that is too long takes two rows."""
    columns = _columns(width)
    if columns == 1:
        return sum(_rows(entry, width - _APART) for entry in entries) * KEY_ROW
    return ceil(len(entries) / columns) * KEY_ROW


def _rows(entry: Entry, width: float) -> int:
    """How many rows `entry` takes: its facts stand below its name where there is no room beside it."""
    needed = text_width(entry.name, _SIZE) + text_width(entry.facts, _SIZE)
    return 2 if entry.facts and needed > width - _SWATCH - 14 else 1


def draw_key(ax: Axes, entries: tuple[Entry, ...], box: Box) -> None:
    """Draw the key from the top of `box`, column after column."""
    columns = _columns(box.w)
    if columns == 1:
        _draw_column(ax, entries, box)
        return
    rows = ceil(len(entries) / columns)
    for number, entry in enumerate(entries):
        column, row = divmod(number, rows)
        w = box.w / columns
        draw_entry(ax, entry, Box(box.x + column * w, box.top - (row + 1) * KEY_ROW, w - _APART, KEY_ROW))


def _draw_column(ax: Axes, entries: tuple[Entry, ...], box: Box) -> None:
    """Draw the key in one column."""
    top, w = box.top, box.w - _APART
    for entry in entries:
        top -= KEY_ROW
        two = _rows(entry, w) == 2
        draw_entry(ax, replace(entry, facts="") if two else entry, Box(box.x, top, w, KEY_ROW))
        if two:
            top -= KEY_ROW
            room = w - _SWATCH - 5
            write(ax, (box.x + _SWATCH + 5, top + _DROP), shorten(entry.facts, room, _SIZE), _SIZE, colour=SOFT)


def _draw_line(ax: Axes, line: Line, chip: Box) -> None:
    """The line that an entry explains, in its swatch."""
    x = chip.centre[0]
    half = chip.h / 2
    if line is Line.CUT_ON:
        draw_lines(ax, [((chip.x, chip.top), (chip.right, chip.y))])
    elif line is Line.FOLD:
        draw_folds(ax, [((x, chip.y), (x, chip.top))])
    elif line is Line.BIAS:
        draw_bias(ax, [((x + off - half, chip.top), (x + off + half, chip.y)) for off in (-4.0, 0.0, 4.0)])
    elif line is Line.JOIN_DIAGONAL:
        draw_seams(ax, [((x - half, chip.y), (x + half, chip.top))])
    elif line is Line.JOIN_STRAIGHT:
        draw_seams(ax, [((x, chip.y), (x, chip.top))])


def draw_entry(ax: Axes, entry: Entry, box: Box) -> None:
    """Draw one line of the key."""
    chip = Box(box.x, box.y + 1.5, _SWATCH, KEY_ROW - 3)
    fill(ax, [chip], entry.look.tint)
    hatch(ax, entry.look, [chip])
    _draw_line(ax, entry.line, chip)
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
