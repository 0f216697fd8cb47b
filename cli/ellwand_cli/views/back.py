"""The back of the quilt to scale: its panels, the seams between them, and where the quilt's edge comes to lie."""

from __future__ import annotations

from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from ellwand.model import Pair, Piece, Plan, Role, Sizes
from ellwand_cli.views.around import Heading, draw_round, draw_sheet_key, sheet_figure, sheet_in
from ellwand_cli.views.key import Entry
from ellwand_cli.views.labels import fitted
from ellwand_cli.views.origin import as_laid
from ellwand_cli.views.palette import INK, numbers, swatch
from ellwand_cli.views.pen import Box, fill, frame, hatch, rule
from ellwand_cli.views.spans import draw_labels
from ellwand_cli.views.typeset import printable

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["back_figure", "is_pieced"]


def is_pieced(plan: Plan) -> bool:
    """Whether the backing has seams."""
    return len(_panels(plan)) > 1


def back_figure(plan: Plan, sizes: Sizes) -> Figure:
    """A figure of the quilt's backing, as high as it needs."""
    across = "across" if _seams_across(plan) else "down"
    panels = len(_panels(plan))
    made = "in one piece" if panels == 1 else f"in {panels} panels, {'seam' if panels == 2 else 'seams'} {across} it"
    heading = Heading(
        project=plan.project.name,
        title="The backing",
        facts=f"{plan.project.notation.pair(*_size(plan, sizes))}, across × down, {made}; the dashed line is the quilt",
    )
    return sheet_figure(heading, _size(plan, sizes), _entries(plan), partial(_draw_back, plan, sizes))


def _draw_back(plan: Plan, sizes: Sizes, box: Box, ax: Axes) -> None:
    """Draw the backing, what stands round it, and its key to fill `box` from the top."""
    size, entries = _size(plan, sizes), _entries(plan)
    sheet = sheet_in(box, size, entries)
    widths = _finished_widths(plan, size)
    start = Fraction(0)
    edge = Box(*sheet.on_paper(*(-side / 2 for side in sizes.bound)), *(float(s) * sheet.scale for s in sizes.bound))
    for piece, width in zip(_panels(plan), widths, strict=True):
        room = _panel_box(plan, sheet.box, float(start) * sheet.scale, float(width) * sheet.scale)
        _draw_panel(ax, piece, numbers(plan)[piece.id], room, edge)
        start += width
    corners = (edge.x, edge.y), (edge.right, edge.y), (edge.right, edge.top), (edge.x, edge.top)
    rule(ax, list(zip(corners, (*corners[1:], corners[0]), strict=True)), width=0.9, dashes=(5.0, 2.5), label="quilt")
    across, down = ([widths, [size[1]]], [[size[0]], widths[::-1]])[_seams_across(plan)]
    draw_round(ax, sheet, across, down, "backing", plan.project.notation)
    draw_sheet_key(ax, sheet, entries, box)


def _draw_panel(ax: Axes, piece: Piece, number: int, room: Box, edge: Box) -> None:
    """Draw a panel; its words keep clear of the quilt's edge where they can."""
    look, name = swatch(number), printable(piece.id)
    fill(ax, [room], look.tint)
    hatch(ax, look, [room])
    frame(ax, [room], width=0.8, label="panels")
    words, seen = [(name, str(number)), (f"{name}  {number}",)], room.common(edge)
    label = fitted(seen, words) or fitted(room, words) or fitted(room, [(str(number),)], pad=0.8)
    if label:
        draw_labels(ax, [label], look.tint, INK)


def _size(plan: Plan, sizes: Sizes) -> Pair:
    """The backing's size: the raw edge and its overhang."""
    overhang = plan.project.backing.overhang if plan.project.backing else Fraction(0)
    return sizes.raw[0] + 2 * overhang, sizes.raw[1] + 2 * overhang


def _pieces(plan: Plan) -> list[Piece]:
    return [piece for answer in plan.fabrics for piece in answer.pieces if piece.role is Role.BACKING]


def _panels(plan: Plan) -> list[Piece]:
    """The panels of one backing in the order in which they are numbered."""
    return [piece for piece in _pieces(plan) for _ in range(piece.count // plan.project.copies)]


def _seams_across(plan: Plan) -> bool:
    """Whether its panels hang across the quilt, one above the other."""
    chosen = dict(way for answer in plan.fabrics for way in answer.constructions)
    return chosen.get("backing", "").endswith("across the quilt")


def _finished_widths(plan: Plan, size: Pair) -> list[Fraction]:
    """Widths that the panels show: cut width less their seams; the last shows what is left of the backing."""
    seam = plan.project.backing.seam if plan.project.backing else Fraction(0)
    cut = [piece.across for piece in _panels(plan)]
    shown = [width - (seam if number == 0 else 2 * seam) for number, width in enumerate(cut[:-1])]
    return [*shown, size[1 if _seams_across(plan) else 0] - sum(shown, Fraction(0))]


def _panel_box(plan: Plan, whole: Box, start: float, width: float) -> Box:
    """A panel `start` from the left, or from the top."""
    if _seams_across(plan):
        return Box(whole.x, whole.top - start - width, whole.w, width)
    return Box(whole.x + start, whole.y, width, whole.h)


def _entries(plan: Plan) -> tuple[Entry, ...]:
    number, show = numbers(plan), plan.project.notation.pair
    layouts = [layout for answer in plan.fabrics for layout in answer.layouts]
    return tuple(
        Entry(
            mark=str(number[piece.id]),
            look=swatch(number[piece.id]),
            name=printable(piece.id),
            facts=f"cut {show(*as_laid(piece, layouts))}, {piece.count} pc",
        )
        for piece in _pieces(plan)
    )
