"""Strips that are sewn end to end: which pieces make one, which of their ends are sewn, and where the seam runs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import gcd
from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Piece, Placed, Plan, Role
from ellwand.project.tables import Join
from ellwand.quilt.strips import JOIN_WORDS
from ellwand_cli.views.pen import Box, Segment, rule
from ellwand_cli.views.typeset import SMALLEST, text_width

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = [
    "Ends", "Joined", "between_seams", "draw_seams", "join_words", "joined_strips", "mark_boxes", "placed_ends",
    "seam_lines", "strip_of", "strips_joined",
]  # fmt: skip

_WORDS = tuple(JOIN_WORDS.values())
_MARK = 8.0  # height of a mark
_LEAST = 2.0  # points from an end to a straight seam


def join_words(piece: Piece) -> str:
    """How a part of a strip is joined to the others, or nothing."""
    return next((words for words in _WORDS if piece.after.startswith(words)), "")


def strip_of(piece: Piece) -> str:
    """The strip that a part belongs to: ``outer/left`` of ``outer/left/1``."""
    return piece.id.rpartition("/")[0]


def strips_joined(parts: Sequence[Piece], copies: int) -> int:
    """How many equal strips are joined from `parts`: one a copy, or more where all parts come so often.

    A binding is one strip a copy, or only that of the copy that its parts name.
    """
    if parts[0].role is Role.BINDING:
        return copies if strip_of(parts[0]) == "binding" else 1
    counts = [piece.count for piece in parts]
    return gcd(*counts) if len(counts) > 1 else gcd(counts[0], copies)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """A strip that is sewn end to end: its mark on the drawings, its parts in order, and how they are joined.

    A `round_` one closes to a ring, so that every end of it is sewn.
    """

    mark: str
    parts: tuple[Piece, ...]
    diagonal: bool
    strips: int
    round_: bool


def joined_strips(plan: Plan) -> tuple[Joined, ...]:
    """Every joined strip of a plan, marked J1, J2 … in the order of their pieces.

    Bias squares, whose ends are sewn only once they are strips, have none.
    """
    groups: dict[tuple[str, str], list[Piece]] = {}
    for answer in plan.fabrics:
        for piece in answer.pieces:
            if join_words(piece):
                groups.setdefault((answer.fabric.id, strip_of(piece)), []).append(piece)
    return tuple(
        Joined(
            mark=f"J{number}",
            parts=tuple(parts),
            diagonal=join_words(parts[0]) == JOIN_WORDS[Join.DIAGONAL],
            strips=strips_joined(parts, plan.project.copies),
            round_=parts[0].role is Role.BINDING,
        )
        for number, parts in enumerate(groups.values(), 1)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """Which ends of a part are sewn to others: the one that lies left or lower, the one right or upper."""

    near: bool
    far: bool


def _sewn_ends(joined: Joined, part: Piece, number: int) -> Ends:
    """The sewn ends of the `number`-th of all `part`s that are cut, counted from 0."""
    each = {piece.id: piece.count // joined.strips for piece in joined.parts}
    before = sum(each[piece.id] for piece in joined.parts[: joined.parts.index(part)])
    place = before + number % each[part.id]
    return Ends(near=joined.round_ or place > 0, far=joined.round_ or place < sum(each.values()) - 1)


def seam_lines(box: Box, ends: Ends, *, diagonal: bool, seam: float) -> Iterator[Segment]:
    """Where the seams at the sewn ends of a strip run that fills `box`; `seam` points from the end if straight.

    At 45° they rise to the same side at both ends, as they must to lie on each other.
    """
    depth = min(box.w, box.h) if diagonal else 0.0
    away = 0.0 if diagonal else max(seam, _LEAST)
    if box.w >= box.h:
        if ends.near:
            yield (box.x + away, box.y), (box.x + away + depth, box.top)
        if ends.far:
            yield (box.right - away - depth, box.y), (box.right - away, box.top)
        return
    if ends.near:
        yield (box.right, box.y + away), (box.x, box.y + away + depth)
    if ends.far:
        yield (box.right, box.top - away - depth), (box.x, box.top - away)


def mark_boxes(box: Box, ends: Ends, mark: str, *, diagonal: bool) -> Iterator[Box]:
    """Where a mark may stand beside the seams at the sewn ends of a strip that fills `box`, the far one first."""
    w, h, level = text_width(mark, SMALLEST) + 2, _MARK, box.w >= box.h
    long, depth = max(box.w, box.h), min(box.w, box.h)
    away = (depth + h + w) / 2 + 2 if diagonal else w / 2 + 5
    if depth < h or long < 2 * (away + w / 2):
        return
    for sewn, at in ((ends.far, long - away), (ends.near, away)):
        if sewn and level:
            yield Box(box.x + at - w / 2, box.centre[1] - h / 2, w, h)
        elif sewn:
            yield Box(box.centre[0] - h / 2, box.y + at - w / 2, h, w)


def between_seams(box: Box, ends: Ends, *, diagonal: bool) -> Box:
    """What of `box` keeps clear of the seams at its sewn ends; all of it where that would be less than half."""
    depth = min(box.w, box.h) if diagonal else 2 * _LEAST
    near, far = depth * ends.near, depth * ends.far
    if near + far > max(box.w, box.h) / 2:
        return box
    if box.w >= box.h:
        return Box(box.x + near, box.y, box.w - near - far, box.h)
    return Box(box.x, box.y + near, box.w, box.h - near - far)


def draw_seams(ax: Axes, lines: list[Segment]) -> None:
    """Draw seams as stitches."""
    rule(ax, lines, width=0.9, dashes=(2.2, 1.6), label="joins")


def _cut_before(answer: FabricPlan, layout: Layout) -> Counter[str]:
    """How many of each piece lie on the cloths before `layout`."""
    found: Counter[str] = Counter()
    for other in answer.layouts:
        if other is layout:
            break
        found.update(placed.piece for placed in other.placed)
    return found


def placed_ends(
    plan: Plan, answer: FabricPlan, layout: Layout, drawn: Sequence[Placed]
) -> dict[Placed, tuple[Joined, Ends]]:
    """The joined strip that each of the `drawn` pieces belongs to, and its sewn ends."""
    known = {piece.id: (joined, piece) for joined in joined_strips(plan) for piece in joined.parts}
    count = _cut_before(answer, layout)
    found = {}
    for placed in drawn:
        if placed.piece in known:
            joined, part = known[placed.piece]
            found[placed] = joined, _sewn_ends(joined, part, count[placed.piece])
            count[placed.piece] += 1
    return found
