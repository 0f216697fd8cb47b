"""What is written in which piece: its name and size where they fit, else its number, else a mark at the edge.

All measured beforehand, in points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ellwand_cli.views.pen import Box, write
from ellwand_cli.views.typeset import LEADING, SMALLEST, shorten, text_width

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["Block", "Edge", "Label", "blocks", "edge_marks", "fitted", "label_block", "write_label"]

_SIZES = (9.0, 8.0, SMALLEST)
_PAD = 2.0  # between words and outline, each side
_TIGHT = 0.6  # the same for a lone number
_SLOT = 9.0  # room of a mark beside the cloth


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words centred in `box`, where their ground `ground` is kept free of lines."""

    lines: tuple[str, ...]
    size: float
    upright: bool
    ground: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Equal pieces that lie side by side and above each other without a gap, as boxes on paper."""

    kind: str
    size: tuple[float, float]
    boxes: tuple[Box, ...]

    @property
    def box(self) -> Box:
        """All of it."""
        x, y = min(box.x for box in self.boxes), min(box.y for box in self.boxes)
        return Box(x, y, max(box.right for box in self.boxes) - x, max(box.top for box in self.boxes) - y)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A mark outside the cloth for pieces too thin to write in: its words, and the points it speaks of."""

    text: str
    at: float
    ends: tuple[tuple[float, float], ...]


def blocks(boxes: Sequence[tuple[str, Box]]) -> tuple[Block, ...]:
    """Pieces gathered to blocks: runs of equal ones across, then equal runs along."""
    runs = _joined([Block(kind=kind, size=_size(box), boxes=(box,)) for kind, box in boxes], across=True)
    return tuple(_joined(runs, across=False))


def _size(box: Box) -> tuple[float, float]:
    return round(box.w, 3), round(box.h, 3)


def _joined(parts: list[Block], *, across: bool) -> list[Block]:
    def place(part: Block) -> tuple[float, float]:
        box = part.box
        return (round(box.y, 3), box.x) if across else (round(box.x, 3), box.y)

    found: list[Block] = []
    for part in sorted(parts, key=place):
        if found and _touch(found[-1], part, across):
            part = Block(kind=part.kind, size=part.size, boxes=(*found.pop().boxes, *part.boxes))
        found.append(part)
    return found


def _touch(before: Block, after: Block, across: bool) -> bool:
    a, b = before.box, after.box
    if (before.kind, before.size) != (after.kind, after.size):
        return False
    if across:
        return abs(a.right - b.x) < 0.01 and abs(a.y - b.y) < 0.01
    return abs(a.top - b.y) < 0.01 and abs(a.x - b.x) < 0.01 and abs(a.w - b.w) < 0.01


def fitted(box: Box, choices: Sequence[tuple[str, ...]], *, pad: float = _PAD) -> Label | None:
    """The first of `choices` (lines of words) that fits `box`, as large as it goes; lying before upright."""
    for upright in (False, True):
        for size in _SIZES:
            for lines in choices:
                label = _placed(box, lines, size, upright)
                along, up = (label.ground.h, label.ground.w) if upright else (label.ground.w, label.ground.h)
                room, height = (box.h, box.w) if upright else (box.w, box.h)
                if along + 2 * pad <= room and up + pad * len(lines) <= height:
                    return label
    return None


def _placed(box: Box, lines: tuple[str, ...], size: float, upright: bool) -> Label:
    w = max(text_width(line, size) for line in lines)
    h = size * (0.95 + LEADING * (len(lines) - 1))
    x, y = box.centre
    ground = Box(x - h / 2, y - w / 2, h, w) if upright else Box(x - w / 2, y - h / 2, w, h)
    return Label(lines=lines, size=size, upright=upright, ground=ground)


def write_label(ax: Axes, label: Label, colour: str) -> None:
    """Write the words of `label`."""
    x, y = label.ground.centre
    for number, line in enumerate(label.lines):
        drop = label.size * (0.36 + LEADING * (number - (len(label.lines) - 1) / 2))
        at = (x + drop, y) if label.upright else (x, y - drop)
        write(ax, at, line, label.size, ha="center", upright=label.upright, colour=colour)


def label_block(
    block: Block, choices: Sequence[tuple[str, ...]], number: str, *, each: bool
) -> tuple[Label, ...] | None:
    """Labels for a block, or None where not even a number fits.

    Words in each piece if they fit; else the number in each; else words, or number and count, once across the
    lines between them. Without `each`, once for the block whatever fits.
    """
    if each:
        for tries, pad in ((choices, _PAD), ([(number,)], _TIGHT)):
            labels = [fitted(box, tries, pad=pad) for box in block.boxes]
            if labels[0] is not None:
                return tuple(label for label in labels if label is not None)
    count = f" × {len(block.boxes)}" if len(block.boxes) > 1 else ""
    counted = [(*lines[:-1], lines[-1] + count) for lines in choices]
    label = fitted(block.box, counted) or fitted(block.box, [(number + count,), (number,)], pad=_TIGHT)
    return (label,) if label else None


def edge_marks(thin: Sequence[tuple[str, Box]], *, across: bool, limits: tuple[float, float]) -> tuple[Edge, ...]:
    """Marks for pieces too thin to write in, each as near as can be so that no two meet.

    Parameters
    ----------
    thin
        Words and the block's box.
    across
        Whether the marks stand in a row below the cloth (for thin upright pieces), else in a column to its right.
    limits
        Where the row or column begins and ends; where it is too short for all, neighbours share a mark.
    """
    slot = 17.0 if across else _SLOT
    ordered = sorted(thin, key=lambda entry: entry[1].centre[0 if across else 1])
    most = max(1, int((limits[1] - limits[0]) // slot))
    share = -(-len(ordered) // most)
    groups = [ordered[start : start + share] for start in range(0, len(ordered), share)] if ordered else []
    wanted = [group[0][1].centre[0 if across else 1] for group in groups]
    return tuple(_edge(group, at, across) for group, at in zip(groups, _spread(wanted, slot, limits), strict=True))


def _edge(group: Sequence[tuple[str, Box]], at: float, across: bool) -> Edge:
    text = shorten(", ".join(dict.fromkeys(text for text, _ in group)), 16.0, SMALLEST)
    ends = tuple((box.centre[0], box.y) if across else (box.right, box.centre[1]) for _, box in group)
    return Edge(text=text, at=at, ends=ends)


def _spread(wanted: Sequence[float], slot: float, limits: tuple[float, float]) -> list[float]:
    """`wanted` places (rising) moved apart to `slot`, within `limits`."""
    places: list[float] = []
    for at in wanted:
        places.append(max(at, places[-1] + slot if places else limits[0] + slot / 2))
    top = limits[1] - slot / 2
    for number in reversed(range(len(places))):
        places[number] = min(places[number], top)
        top = places[number] - slot
    return places
