"""Lines on which nothing is cut yet: of squares that become triangles afterwards, and of folds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ellwand.model import Piece, Role
from ellwand_cli.views.palette import SOFT
from ellwand_cli.views.pen import Box, Segment, rule

if TYPE_CHECKING:
    from collections.abc import Callable

    from matplotlib.axes import Axes

__all__ = ["bias_lines", "cut_on_lines", "draw_bias", "draw_folds", "draw_lines", "is_bias", "is_cut_on"]

_NARROWEST = 3.0  # points; the width of a bias strip that can be seen


def is_cut_on(piece: Piece) -> bool:
    """Whether `piece` is cut into triangles afterwards."""
    return bool(cut_on_lines(piece, Box(0.0, 0.0, 1.0, 1.0)))


def cut_on_lines(piece: Piece, box: Box) -> list[Segment]:
    """The lines in `box` on which `piece` is cut afterwards, as what is told of it begins."""
    return next((lines(box) for words, lines in _LINES.items() if piece.after.startswith(words)), [])


def draw_lines(ax: Axes, lines: list[Segment]) -> None:
    """Draw `lines` in strokes and dots, as no outline and no pattern is."""
    rule(ax, lines, width=0.7, dashes=(6.0, 2.0, 1.2, 2.0), label="diagonals")


def is_bias(piece: Piece) -> bool:
    """Whether `piece` is a square that is cut into bias strips."""
    return piece.role is Role.BINDING and is_cut_on(piece)


def bias_lines(box: Box, apart: float) -> list[Segment]:
    """How the strips lie in a square that fills `box`: along its falling diagonal, `apart` points wide.

    Strips too narrow to draw are left out.
    """
    if apart < _NARROWEST:
        return []
    step, side = apart * 2**0.5, min(box.w, box.h)
    offs = [number * step for number in range(1, int(side / step) + 1)]
    lower = [((box.x, box.top - off), (box.right - off, box.y)) for off in offs]
    upper = [((box.x + off, box.top), (box.right, box.y + off)) for off in offs]
    return lower + upper


def draw_bias(ax: Axes, lines: list[Segment]) -> None:
    """Draw `lines` as they are chalked: in fine dots."""
    rule(ax, lines, width=0.6, dashes=(0.8, 1.8), label="bias")


def draw_folds(ax: Axes, lines: list[Segment]) -> None:
    """Draw `lines` in long strokes: where cloth is folded."""
    rule(ax, lines, colour=SOFT, width=0.5, dashes=(9.0, 3.0), label="folds")


def _once(box: Box) -> list[Segment]:
    return [((box.x, box.top), (box.right, box.y))]


def _twice(box: Box) -> list[Segment]:
    return [*_once(box), ((box.x, box.y), (box.right, box.top))]


def _four_once(box: Box) -> list[Segment]:
    """Both middles, and one diagonal of each quarter."""
    x, y = box.centre
    quarters = [Box(left, low, box.w / 2, box.h / 2) for left in (box.x, x) for low in (box.y, y)]
    middles = [((x, box.y), (x, box.top)), ((box.x, y), (box.right, y))]
    return [*middles, *(line for quarter in quarters for line in _once(quarter))]


_LINES: dict[str, Callable[[Box], list[Segment]]] = {
    "cut once on the diagonal": _once,
    "cut twice on the diagonal": _twice,
    "cut in four squares and each of these once on the diagonal": _four_once,
}
