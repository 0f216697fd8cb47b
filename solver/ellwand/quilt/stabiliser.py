"""Stabiliser: a sheet for every hooping and layer, as large as the frame and a margin all round."""

from __future__ import annotations

from fractions import Fraction

from ellwand.model import Pair, Part, Piece, Role
from ellwand.project.tables import Block, Project, Stabiliser
from ellwand.quilt.pieces import cut_size, grow, part_of, require_fit

__all__ = ["stabiliser_parts", "stabiliser_warnings"]


def stabiliser_parts(project: Project) -> tuple[Part, ...]:
    """A part for every block that names its frame."""
    if project.stabiliser is None:
        return ()
    framed = [(block, block.frame) for block in project.blocks if block.frame is not None]
    several = len(framed) > 1
    return tuple(
        part_of(
            _sheet(project, project.stabiliser, block, frame, f"stabiliser/{block.name}" if several else "stabiliser")
        )
        for block, frame in framed
    )


def _sheet(project: Project, stabiliser: Stabiliser, block: Block, frame: Pair, name: str) -> Piece:
    exact = grow(frame, stabiliser.margin)
    across, down = cut_size(exact, project.ruler)
    return require_fit(
        project,
        Piece(
            id=name,
            fabric=stabiliser.fabric,
            role=Role.STABILISER,
            across=across,
            along=down,
            count=block.count * block.hoopings * stabiliser.layers * project.copies,
            turnable=True,
            why=_why(project, frame, stabiliser.margin, (across, down)),
        ),
    )


def _why(project: Project, frame: Pair, margin: Fraction, cut: Pair) -> str:
    notation = project.notation
    text = f"frame {notation.pair(*frame)} + 2 × {notation.show(margin)} margin = {notation.pair(*grow(frame, margin))}"
    return text if grow(frame, margin) == cut else f"{text}, on the ruler {notation.pair(*cut)}"


def stabiliser_warnings(project: Project) -> tuple[str, ...]:
    """Blocks for which no sheet can be worked out."""
    if project.stabiliser is None:
        return ()
    return tuple(
        f"block {block.name}: it names no frame, so no stabiliser is worked out for it."
        for block in project.blocks
        if block.frame is None
    )
