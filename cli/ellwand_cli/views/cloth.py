"""A cloth with its pieces on paper: the drawing itself, without title and key."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Layout, Offcut, Placed, Plan
from ellwand_cli.views.arrange import Arrangement
from ellwand_cli.views.bands import Band
from ellwand_cli.views.braces import Marks
from ellwand_cli.views.cutlist import strip_marks
from ellwand_cli.views.diagonals import bias_lines, cut_on_lines, draw_bias, draw_folds, draw_lines, is_bias
from ellwand_cli.views.ground import draw_breaks, draw_ground
from ellwand_cli.views.joins import Ends, Joined, between_seams, draw_seams, mark_boxes, placed_ends, seam_lines
from ellwand_cli.views.labels import Block, Label, blocks, edge_marks, fitted, label_block, write_label
from ellwand_cli.views.measures import draw_measures
from ellwand_cli.views.palette import INK, PAPER, SOFT, numbers, swatch
from ellwand_cli.views.pen import Box, Segment, fill, frame, hatch, polygon, rule, write
from ellwand_cli.views.typeset import SMALLEST, printable
from ellwand_cli.views.words import letters

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["Spread", "draw_spread", "offcut_letters"]

_MOST_LABELS = 400  # pieces; beyond that one label does for a block of equal ones
_GOES_ON = 9.0  # room of the mark where a piece goes on in the next band


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """One cloth (or some bands of it) spread on paper within `box`, by `arrangement`."""

    plan: Plan
    fabric_plan: FabricPlan
    layout: Layout
    arrangement: Arrangement
    box: Box

    @property
    def notation(self) -> Notation:
        """How lengths are shown."""
        return self.plan.project.notation


@dataclass(frozen=True, slots=True, kw_only=True)
class _Patch:
    """What of a piece or offcut lies in one band: its box on paper, and where it goes on."""

    thing: Placed | Offcut
    box: Box
    from_below: bool
    goes_up: bool

    @property
    def free(self) -> Box:
        """Its box without the marks of going on."""
        low = _GOES_ON if self.from_below else 0.0
        high = _GOES_ON if self.goes_up else 0.0
        return Box(self.box.x, self.box.y + low, self.box.w, max(self.box.h - low - high, 0.0))


def draw_spread(spread: Spread, ax: Axes) -> None:
    """Draw cloth, pieces, offcuts, folds, labels, sticks and measures."""
    marks = strip_marks(spread.plan, spread.fabric_plan, spread.layout)
    for band, x, y in spread.arrangement.origins(spread.box):
        draw_ground(ax, spread.arrangement, spread.layout.cloth, band, (x, y))
        placed = _patches(spread, spread.arrangement.drawn.placed, band, x, y)
        offcuts = _patches(spread, spread.arrangement.drawn.offcuts, band, x, y)
        _draw_offcuts(ax, spread, offcuts)
        _draw_pieces(ax, spread, placed)
        _draw_folds(ax, spread, band, (x, y), marks)
        thin = _draw_labels(ax, spread, placed)
        _draw_edge_marks(ax, spread, band, (x, y), thin)
        draw_breaks(ax, spread.arrangement, band, (x, y))
        _draw_going_on(ax, [*placed, *offcuts])
        draw_measures(ax, spread.fabric_plan, spread.layout, spread.arrangement, band, (x, y), spread.notation, marks)


def offcut_letters(offcuts: tuple[Offcut, ...]) -> dict[Offcut, str]:
    """A letter for every offcut, in order; those of one size share it."""
    sizes = dict.fromkeys((offcut.across, offcut.along) for offcut in offcuts)
    named = {size: letters(number) for number, size in enumerate(sizes)}
    return {offcut: named[offcut.across, offcut.along] for offcut in offcuts}


def _draw_folds(ax: Axes, spread: Spread, band: Band, origin: tuple[float, float], marks: Marks) -> None:
    """Where the cloth is folded when a strip is cut off it: at its middle; at the quarters, too, if folded twice."""
    if spread.arrangement.edges.lengthwise:
        draw_folds(ax, _folds_across(spread, band, origin, marks))
        return
    scale = spread.arrangement.scale
    width = float(spread.arrangement.edges.usable)
    lines = []
    for row in spread.arrangement.drawn.rows:
        low, high = max(row.start, band.start), min(row.end, band.end)
        folds = marks[row.ends].folds if row.ends in marks else 0
        if low < high:
            ys = [origin[1] + float(level - band.start) * scale for level in (low, high)]
            xs = [origin[0] + width * part / 2**folds * scale for part in range(1, 2**folds)]
            lines += [((x, ys[0]), (x, ys[1])) for x in xs]
    draw_folds(ax, lines)


def _folds_across(spread: Spread, band: Band, origin: tuple[float, float], marks: Marks) -> list[Segment]:
    """The same of strips along the cloth, for which its length is folded."""
    scale, extent = spread.arrangement.scale, spread.arrangement.drawn.extent
    lines: list[Segment] = []
    for (left, right), mark in marks.items():
        levels = [extent * part / 2**mark.folds for part in range(1, 2**mark.folds)]
        xs = [origin[0] + float(end) * scale for end in (left, right)]
        ys = [origin[1] + float(level - band.start) * scale for level in levels if band.start < level < band.end]
        lines += [((xs[0], y), (xs[1], y)) for y in ys]
    return lines


def _patches(
    spread: Spread, things: tuple[Placed, ...] | tuple[Offcut, ...], band: Band, x: float, y: float
) -> list[_Patch]:
    scale = spread.arrangement.scale
    found = []
    for thing in things:
        low, high = max(thing.y, band.start), min(thing.y + thing.along, band.end)
        if low < high:
            box = Box(
                x + float(thing.x) * scale,
                y + float(low - band.start) * scale,
                float(thing.across) * scale,
                float(high - low) * scale,
            )
            found.append(_Patch(thing=thing, box=box, from_below=thing.y < low, goes_up=thing.y + thing.along > high))
    return found


def _draw_offcuts(ax: Axes, spread: Spread, patches: list[_Patch]) -> None:
    fill(ax, [patch.box for patch in patches], PAPER)
    inset = [Box(b.x + 0.8, b.y + 0.8, b.w - 1.6, b.h - 1.6) for b in (patch.box for patch in patches)]
    frame(ax, inset, width=0.8, dashed=True, colour=SOFT, label="offcuts")
    named = offcut_letters(spread.arrangement.drawn.offcuts)
    labels = []
    for patch in patches:
        assert isinstance(patch.thing, Offcut)
        size = spread.notation.pair(patch.thing.across, patch.thing.along)
        # measured with the broad letter m, so that equal offcuts look alike
        choices = _offcut_choices("m", size)
        label = fitted(patch.free, choices) or fitted(patch.free, choices[-1:], pad=0.6)
        if label:
            lines = _offcut_choices(named[patch.thing], size)[choices.index(label.lines)]
            labels.append(replace(label, lines=lines))
    _write_labels(ax, labels, PAPER, SOFT)


def _offcut_choices(letter: str, size: str) -> list[tuple[str, ...]]:
    return [
        (f"{letter}: offcut", size),
        (f"{letter}: offcut {size}",),
        (letter, size),
        (f"{letter}: {size}",),
        (letter,),
    ]


def _draw_pieces(ax: Axes, spread: Spread, patches: list[_Patch]) -> None:
    """Tint, pattern and outline, kind by kind."""
    number = numbers(spread.plan)
    kinds: dict[str, list[Box]] = defaultdict(list)
    for patch in patches:
        assert isinstance(patch.thing, Placed)
        kinds[patch.thing.piece].append(patch.box)
    for kind, boxes in kinds.items():
        look = swatch(number[kind])
        fill(ax, boxes, look.tint)
        hatch(ax, look, boxes)
    _draw_diagonals(ax, spread, patches)
    _draw_joins(ax, spread, patches)
    frame(ax, [patch.box for patch in patches], width=0.8, label="pieces")


def _draw_diagonals(ax: Axes, spread: Spread, patches: list[_Patch]) -> None:
    """Lines on which squares are cut afterwards; none in one that a break parts, where they would not meet."""
    pieces = {piece.id: piece for piece in spread.fabric_plan.pieces}
    lines = [
        line
        for patch in patches
        if isinstance(patch.thing, Placed) and not (patch.from_below or patch.goes_up)
        for line in cut_on_lines(pieces[patch.thing.piece], patch.box)
    ]
    draw_lines(ax, lines)
    binding = spread.plan.project.binding
    apart = float(binding.strip) * spread.arrangement.scale if binding else 0.0
    squares = [patch for patch in patches if isinstance(patch.thing, Placed) and is_bias(pieces[patch.thing.piece])]
    whole = [patch.box for patch in squares if not (patch.from_below or patch.goes_up)]
    draw_bias(ax, [line for box in whole for line in bias_lines(box, apart)])


def _draw_joins(ax: Axes, spread: Spread, patches: list[_Patch]) -> None:
    """The seams at the ends of pieces that are sewn end to end."""
    seam = float(spread.plan.project.seam) * spread.arrangement.scale
    lines = [
        line
        for patch, joined, ends in _sewn(spread, patches)
        for line in seam_lines(patch.box, ends, diagonal=joined.diagonal, seam=seam)
    ]
    draw_seams(ax, lines)


def _sewn(spread: Spread, patches: list[_Patch]) -> Iterator[tuple[_Patch, Joined, Ends]]:
    """The pieces that are sewn end to end, with those of their sewn ends that are here."""
    found = placed_ends(spread.plan, spread.fabric_plan, spread.layout, spread.arrangement.drawn.placed)
    for patch in patches:
        if isinstance(patch.thing, Placed) and patch.thing in found:
            joined, sewn = found[patch.thing]
            yield patch, joined, Ends(near=sewn.near and not patch.from_below, far=sewn.far and not patch.goes_up)


def _draw_labels(ax: Axes, spread: Spread, patches: list[_Patch]) -> list[tuple[str, Box]]:
    """Write in every piece what fits; the numbers and boxes of those too thin are returned."""
    number = numbers(spread.plan)
    each = len(spread.arrangement.drawn.placed) <= _MOST_LABELS
    thin = []
    found: dict[str, list[Label]] = defaultdict(list)
    for block, kind, choices in _labelled(spread, patches):
        labels = label_block(block, choices, str(number[kind]), each=each)
        if labels is None:
            thin.append((str(number[kind]), block.box))
            continue
        found[kind] += labels
    for kind, fitting in found.items():
        _write_labels(ax, fitting, swatch(number[kind]).tint, INK)
    _write_marks(ax, spread, patches, [label.ground for fitting in found.values() for label in fitting])
    return thin


def _write_marks(ax: Axes, spread: Spread, patches: list[_Patch], taken: list[Box]) -> None:
    """The marks of joined strips beside one of their seams, where that keeps clear of other words."""
    number = numbers(spread.plan)
    for patch, joined, ends in _sewn(spread, patches):
        places = mark_boxes(patch.free, ends, joined.mark, diagonal=joined.diagonal)
        place = next((place for place in places if not any(place.meets(other) for other in taken)), None)
        if place and isinstance(patch.thing, Placed):
            fill(ax, [place], swatch(number[patch.thing.piece]).tint, above=True)
            x, y = place.centre
            at = (x, y - 2.6) if patch.box.w >= patch.box.h else (x + 2.6, y)
            write(ax, at, joined.mark, SMALLEST, ha="center", upright=patch.box.w < patch.box.h)


def _labelled(spread: Spread, patches: list[_Patch]) -> list[tuple[Block, str, list[tuple[str, ...]]]]:
    """Blocks of equal pieces with their kind and what may be written in them."""
    facts = {}
    boxes = []
    clear = {
        patch.box: between_seams(patch.free, ends, diagonal=joined.diagonal)
        for patch, joined, ends in _sewn(spread, patches)
    }
    for patch in patches:
        assert isinstance(patch.thing, Placed)
        name, size = printable(patch.thing.piece), spread.notation.pair(patch.thing.across, patch.thing.along)
        key = f"{patch.thing.piece}\n{size}\n{patch.from_below}{patch.goes_up}"
        facts[key] = (patch.thing.piece, [(name, size), (f"{name}  {size}",), (*_parted(name), size)])
        boxes.append((key, clear.get(patch.box, patch.free)))
    return [(block, *facts[block.kind]) for block in blocks(boxes)]


def _parted(name: str) -> tuple[str, ...]:
    """A name in lines that end at its strokes: "triangle/", "side"."""
    *lead, last = name.split("/")
    return *(f"{part}/" for part in lead), last


def _write_labels(ax: Axes, labels: Sequence[Label], ground: str, colour: str) -> None:
    """Words on grounds of one colour, which keep the pattern's lines away."""
    fill(ax, [label.ground for label in labels], ground, above=True)
    for label in labels:
        write_label(ax, label, colour)


def _draw_edge_marks(
    ax: Axes, spread: Spread, band: Band, origin: tuple[float, float], thin: list[tuple[str, Box]]
) -> None:
    """Numbers beside or below the cloth for pieces too thin to write in, with lines to them."""
    arrangement = spread.arrangement
    edges, scale = arrangement.edges, arrangement.scale
    right = origin[0] + float(edges.usable + edges.selvage_right) * scale
    low = origin[1] - (float(edges.squaring) * scale if arrangement.first(band) else 0.0)
    lying = [(text, box) for text, box in thin if box.w >= box.h]
    standing = [(text, box) for text, box in thin if box.w < box.h]
    top = origin[1] + float(band.along) * scale
    for mark in edge_marks(lying, across=False, limits=(origin[1], top)):
        write(ax, (right + 7, mark.at - 2.5), mark.text, SMALLEST)
        rule(ax, [(end, (right + 6, mark.at)) for end in mark.ends], width=0.4)
    for mark in edge_marks(standing, across=True, limits=(origin[0], right)):
        write(ax, (mark.at, low - 9.5), mark.text, SMALLEST, ha="center")
        rule(ax, [(end, (mark.at, low - 3)) for end in mark.ends], width=0.4)


def _draw_going_on(ax: Axes, patches: list[_Patch]) -> None:
    """A small wedge in every piece that a break cuts, pointing to its other part."""
    for patch in patches:
        x = patch.box.centre[0]
        half = min(3.0, patch.box.w / 3)
        for goes_on, tip, base in (
            (patch.goes_up, patch.box.top - 2.5, patch.box.top - 7),
            (patch.from_below, patch.box.y + 2.5, patch.box.y + 7),
        ):
            if goes_on and patch.box.h > _GOES_ON:
                polygon(ax, [(x - half, base), (x, tip), (x + half, base)], INK)
