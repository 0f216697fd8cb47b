"""The finished quilt as a drawing to scale: its front, keyed to the cutting diagrams by number, tint and pattern."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

from ellwand.model import Pair, Piece, Plan, Role, Sizes
from ellwand.quilt.faces import Face, faces
from ellwand_cli.views.around import Heading, Sheet, draw_round, draw_sheet_key, sheet_figure, sheet_in
from ellwand_cli.views.key import Entry, key_height
from ellwand_cli.views.labels import Label, edge_marks, fitted
from ellwand_cli.views.origin import as_laid
from ellwand_cli.views.palette import INK, PAPER, SOFT, Pattern, Swatch, numbers, swatch
from ellwand_cli.views.paper import Page, Paper, content_box
from ellwand_cli.views.pen import Box, Point, Segment, pattern_lines, polygons, rule, write
from ellwand_cli.views.spans import draw_labels
from ellwand_cli.views.typeset import SMALLEST, printable

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["quilt_figure", "quilt_pages"]

_TITLE = "The finished quilt"
_MOST_KEY = 0.45  # of a page's height
_Kind = tuple[str, bool]  # name, and whether it is a block's
_MARKS = 7.0  # from its edge to the numbers of what is too thin to write in
_FROM_END = 12.0
_SEEN = (Role.BLOCK, Role.SASHING, Role.TRIANGLE, Role.BORDER, Role.BINDING)
_BARE = Swatch(tint=PAPER, line=SOFT, pattern=Pattern.PLAIN)


def quilt_figure(plan: Plan, sizes: Sizes) -> Figure:
    """A figure of the quilt's front, as high as it needs."""
    heading = Heading(project=plan.project.name, title=_TITLE, facts=_facts(plan, sizes))
    return sheet_figure(
        heading, _seen_size(plan, sizes), _entries(plan), partial(_draw_quilt, plan, sizes, _entries(plan))
    )


def _facts(plan: Plan, sizes: Sizes) -> str:
    """Its sizes, and what the drawing cannot know."""
    bound = "bound" if plan.project.binding else "inside its edge's seam"
    text = f"{plan.project.notation.pair(*_seen_size(plan, sizes))} {bound}, across × down"
    mixed = "; blocks in the file's order: which goes where is yours to say"
    return text + (mixed if len(plan.project.blocks) > 1 else "")


def _seen_size(plan: Plan, sizes: Sizes) -> Pair:
    return sizes.bound if plan.project.binding else sizes.finished


def quilt_pages(plan: Plan, paper: Paper) -> tuple[Page, ...]:
    """The quilt's front as a printed page, where there is a quilt; a key too long for it is on the cloths' pages."""
    if plan.sizes is None:
        return ()
    box, entries = content_box(paper, wide=False), _entries(plan)
    entries = entries if key_height(entries, box.w) <= _MOST_KEY * box.h else ()
    part = partial(_draw_quilt, plan, plan.sizes, entries, box)
    facts = printable(_facts(plan, plan.sizes))
    return (Page(paper=paper, wide=False, title=_TITLE, facts=facts, parts=(part,)),)


def _draw_quilt(plan: Plan, sizes: Sizes, entries: tuple[Entry, ...], box: Box, ax: Axes) -> None:
    """Draw the quilt, what stands round it, and its key to fill `box` from the top."""
    sheet = sheet_in(box, _seen_size(plan, sizes), entries)
    found = faces(plan.project, sizes)
    _draw_faces(ax, plan, sheet, found)
    thin = _draw_labels(ax, plan, sheet, found)
    _draw_marks(ax, sheet, thin)
    _draw_round(ax, plan, sizes, sheet)
    draw_sheet_key(ax, sheet, entries, box)


def _pieces_of(plan: Plan, face: Face) -> list[Piece]:
    """What is cut for a face: a block's layers and patches, a strip or the bits that it is joined from."""
    pieces = (piece for answer in plan.fabrics for piece in answer.pieces if piece.role in _SEEN)
    if face.is_block:
        return [piece for piece in pieces if piece.role is Role.BLOCK and piece.id.startswith(f"{face.name}/")]
    return [piece for piece in pieces if _is_bit(piece.id, face.name)]


def _is_bit(id: str, name: str) -> bool:
    """Whether a piece is `name`, or one of those that it is joined from."""
    return id == name or (id.startswith(f"{name}/") and id.removeprefix(f"{name}/").isdigit())


def _look(plan: Plan, pieces: list[Piece]) -> Swatch:
    """The look of the first piece: of a block, what the file names first, its ground."""
    return swatch(numbers(plan)[pieces[0].id]) if pieces else _BARE


def _ground_first(plan: Plan, face: Face) -> list[Piece]:
    """The pieces of a face in the file's order, where the plan has them fabric by fabric."""
    found = _pieces_of(plan, face)
    block = next((block for block in plan.project.blocks if face.is_block and block.name == face.name), None)
    if block is None:
        return found
    names = [
        f"{block.name}/{name}" for name in (part.name for parts in (block.pieces, block.patches) for part in parts)
    ]
    order = {name: number for number, name in enumerate(names)}
    return sorted(found, key=lambda piece: order.get(piece.id, len(order)))


def _kind(face: Face) -> _Kind:
    return face.name, face.is_block


def _looks(plan: Plan, found: tuple[Face, ...]) -> dict[_Kind, Swatch]:
    kinds = {_kind(face): face for face in found}
    return {kind: _look(plan, _ground_first(plan, face)) for kind, face in kinds.items()}


def _draw_faces(ax: Axes, plan: Plan, sheet: Sheet, found: tuple[Face, ...]) -> None:
    """Tint, pattern and outline of everything."""
    looks = _looks(plan, found)
    outlines: list[Segment] = []
    for kind, look in looks.items():
        corners = [_corners(sheet, face) for face in found if _kind(face) == kind]
        polygons(ax, corners, look.tint)
        outlines += (edge for shape in corners for edge in pairwise((*shape, shape[0])))
        lines = [line for shape in corners for line in _lines_in(look, shape)]
        dots = look.pattern is Pattern.DOTS
        rule(ax, lines, colour=look.line, width=1.1 if dots else 0.45, round_=dots)
    rule(ax, outlines, width=0.8, label="faces")


def _corners(sheet: Sheet, face: Face) -> tuple[Point, ...]:
    return tuple(sheet.on_paper(x, y) for x, y in face.corners)


def _lines_in(look: Swatch, shape: tuple[Point, ...]) -> list[Segment]:
    """A swatch's pattern inside any shape without dents."""
    x, y = min(x for x, _ in shape), min(y for _, y in shape)
    around = Box(x, y, max(x for x, _ in shape) - x, max(y for _, y in shape) - y)
    return [line for line in (_clipped(line, shape) for line in pattern_lines(look, around)) if line]


def _clipped(line: Segment, shape: tuple[Point, ...]) -> Segment | None:
    """What of `line` lies inside a shape without dents (Cyrus and Beck, 1978)."""
    (x, y), (u, v) = line
    turn = sum(a * d - c * b for (a, b), (c, d) in pairwise((*shape, shape[0])))
    start, end = 0.0, 1.0
    for (a, b), (c, d) in pairwise((*shape, shape[0])):
        inward = (b - d, c - a) if turn > 0 else (d - b, a - c)
        here = (x - a) * inward[0] + (y - b) * inward[1]
        change = (u - x) * inward[0] + (v - y) * inward[1]
        if abs(change) < 1e-9:
            if here < 0:
                return None
        elif change > 0:
            start = max(start, -here / change)
        else:
            end = min(end, -here / change)
    if start >= end:
        return None
    return (x + start * (u - x), y + start * (v - y)), (x + end * (u - x), y + end * (v - y))


def _draw_labels(ax: Axes, plan: Plan, sheet: Sheet, found: tuple[Face, ...]) -> list[tuple[str, Box]]:
    """Write in every face what fits; for kinds that hold no words, their numbers and one face each are returned."""
    looks = _looks(plan, found)
    words = {kind: _choices(plan, found, kind) for kind in looks}
    known: dict[object, Label | None] = {}
    labels: dict[_Kind, list[Label]] = defaultdict(list)
    thin: dict[_Kind, tuple[str, Box]] = {}
    for face in found:
        kind, room = _kind(face), sheet.room(face)
        size = (kind, round(room.w, 3), round(room.h, 3))
        if size not in known:
            known[size] = _fitted(Box(0.0, 0.0, room.w, room.h), words[kind])
        label = known[size]
        if label:
            ground = replace(label.ground, x=label.ground.x + room.x, y=label.ground.y + room.y)
            labels[kind].append(replace(label, ground=ground))
        elif kind not in thin or thin[kind][1].right < room.right:
            thin[kind] = re.split("[–,]", words[kind][-1][0])[0], room  # the first number: the key has the others
    for kind, same in labels.items():
        draw_labels(ax, same, looks[kind].tint, INK)
    return [mark for kind, mark in thin.items() if kind not in labels]


def _fitted(box: Box, words: list[tuple[str, ...]]) -> Label | None:
    """The name with its numbers where they fit, even upright, else the numbers alone, close."""
    return fitted(box, words[:-1]) or fitted(box, words[-1:], pad=0.8)


def _choices(plan: Plan, found: tuple[Face, ...], kind: _Kind) -> list[tuple[str, ...]]:
    """What may be written in faces of a kind: name and numbers, the numbers alone."""
    number = numbers(plan)
    face = next(face for face in found if _kind(face) == kind)
    told = _ranges(sorted(number[piece.id] for piece in _pieces_of(plan, face))) or "–"
    name = printable(face.name)
    return [(name, told), (f"{name}  {told}",), (told,)]


def _ranges(found: list[int]) -> str:
    """Numbers with runs drawn together: "1–4, 7"."""
    runs: list[list[int]] = []
    for number in found:
        if runs and runs[-1][-1] + 1 == number:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)


def _draw_marks(ax: Axes, sheet: Sheet, thin: list[tuple[str, Box]]) -> None:
    """Numbers for what is too thin to write in, with a line and a dot to each: of the left above the quilt, else right.

    The line goes to a spot near the end of the thing that lies towards the number.
    """
    box = sheet.box
    left = [(text, _spot(room, upward=True)) for text, room in thin if room.centre[0] < sheet.middle[0] - 1]
    right = [(text, _spot(room, upward=False)) for text, room in thin if room.centre[0] >= sheet.middle[0] - 1]
    for mark in edge_marks(left, across=True, limits=(box.x, box.right)):
        write(ax, (mark.at, box.top + _MARKS), mark.text, SMALLEST, ha="center")
        _lead(ax, mark.ends, (mark.at, box.top + _MARKS - 1))
    for mark in edge_marks(right, across=False, limits=(box.y, box.top)):
        write(ax, (box.right + _MARKS, mark.at - 2.5), mark.text, SMALLEST)
        _lead(ax, mark.ends, (box.right + _MARKS - 1, mark.at))


def _spot(room: Box, *, upward: bool) -> Box:
    """A point of a thin thing: in its middle line, near its upper or right end; an upright one's away from corners."""
    if upward:
        return Box(room.centre[0], room.top - min(room.h / 2, _FROM_END), 0.0, 0.0)
    if room.w > room.h:
        return Box(room.right - min(room.w / 2, _FROM_END), room.centre[1], 0.0, 0.0)
    return Box(room.centre[0], room.y + room.h * 0.15, 0.0, 0.0)


def _lead(ax: Axes, ends: tuple[Point, ...], to: Point) -> None:
    rule(ax, [(end, to) for end in ends], width=0.4)
    rule(ax, [((x, y), (x + 0.01, y)) for x, y in ends], width=2.0, round_=True)


def _draw_round(ax: Axes, plan: Plan, sizes: Sizes, sheet: Sheet) -> None:
    """The chain of widths from edge to edge, and the whole, both ways."""
    widths = [border.width for border in plan.project.borders]
    edge = [(sizes.bound[0] - sizes.finished[0]) / 2] if plan.project.binding else []
    across, down = ([*edge, *reversed(widths), side, *widths, *edge] for side in sizes.centre)
    draw_round(ax, sheet, across, down, "bound" if plan.project.binding else "finished", plan.project.notation)


def _entries(plan: Plan) -> tuple[Entry, ...]:
    """The key: every piece that goes into the front, as the cutting diagrams have it; sizes are as they lie there."""
    number, show = numbers(plan), plan.project.notation.pair
    layouts = [layout for answer in plan.fabrics for layout in answer.layouts]
    found = sorted(
        (piece for answer in plan.fabrics for piece in answer.pieces if piece.role in _SEEN),
        key=lambda piece: number[piece.id],
    )
    return tuple(
        Entry(
            mark=str(number[piece.id]),
            look=swatch(number[piece.id]),
            name=printable(piece.id),
            facts=f"cut {show(*as_laid(piece, layouts))}, {piece.count} pc",
        )
        for piece in found
    )
