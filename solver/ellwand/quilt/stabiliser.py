"""Stabiliser: a sheet for every hooping and layer, as large as the frame and a margin all round."""

from __future__ import annotations

from fractions import Fraction

from ellwand.model import Pair, Part, Role
from ellwand.project.tables import Block, BlockPiece, Panels, Project, Stabiliser
from ellwand.quilt.panels import Sheet, fits_whole, in_one_piece, sheet_part
from ellwand.quilt.pieces import grow, part_of, require_fit

__all__ = ["stabiliser_parts", "stabiliser_warnings"]


def stabiliser_parts(project: Project) -> tuple[Part, ...]:
    """A part for every block that names its frame; sheets wider than the roll are joined, overlapping.

    Raises
    ------
    NoPlanError
        A sheet would take too many widths of the roll.
    """
    stabiliser = project.stabiliser
    if stabiliser is None:
        return ()
    framed = [(block, block.frame) for block in project.blocks if block.frame is not None]
    several = len(framed) > 1
    return tuple(
        _part(project, stabiliser, block, frame, f"stabiliser/{block.name}" if several else "stabiliser")
        for block, frame in framed
    )


def _part(project: Project, stabiliser: Stabiliser, block: Block, frame: Pair, name: str) -> Part:
    sheet = _sheet(project, stabiliser, block, frame, name)
    if stabiliser.overlap is None or fits_whole(project, sheet):
        return part_of(require_fit(project, in_one_piece(project, sheet)))
    return sheet_part(project, sheet)


def _sheet(project: Project, stabiliser: Stabiliser, block: Block, frame: Pair, name: str) -> Sheet:
    show = project.notation.show
    overlap = stabiliser.overlap or Fraction(0)
    return Sheet(
        name=name,
        whole_id=name,
        fabric=stabiliser.fabric,
        role=Role.STABILISER,
        size=grow(frame, stabiliser.margin),
        loss=overlap,
        seam_word="overlap",
        directions=(Panels.LENGTHWISE, Panels.CROSSWISE),
        terms=f"frame {project.notation.pair(*frame)} + 2 × {show(stabiliser.margin)} margin",
        after=f"lay the panels {show(overlap)} on each other, and stick or baste them together",
        where=_where(stabiliser, block),
        count=block.count * block.hoopings * stabiliser.layers * project.copies,
        free=True,
        holder="sheet",
    )


def _where(stabiliser: Stabiliser, block: Block) -> str:
    sheets = block.hoopings * stabiliser.layers
    if block.count == 1:
        return f"in the hoop under the {block.name} block, {sheets}"
    return f"in the hoop under {block.count} {block.name} blocks, {sheets} each"


def stabiliser_warnings(project: Project) -> tuple[str, ...]:
    """Blocks with layers or a hoop for which no sheet can be worked out; a plain or a pieced one needs none."""
    if project.stabiliser is None:
        return ()
    return tuple(
        f"block {block.name}: it names no frame, so no stabiliser is worked out for it."
        for block in project.blocks
        if block.frame is None and (block.hoop or sum(_of_one(piece) for piece in block.pieces) > 1)
    )


def _of_one(piece: BlockPiece) -> Fraction:
    """1, or the share of a layer that several fabrics give."""
    return Fraction(*piece.share) if piece.share else Fraction(1)
