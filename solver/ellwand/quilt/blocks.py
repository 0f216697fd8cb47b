"""Pieces of the blocks: what they cover, counted from the stitched edge, and their margins."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.model import Pair, Part, Piece, Role
from ellwand.project.tables import Block, BlockPiece, Margins, Project
from ellwand.quilt.pieces import cut_size, lie, part_of, require_fit, sum_text

__all__ = ["block_parts"]

_WHOLE = (Fraction(1), Fraction(1))


def block_parts(project: Project) -> tuple[Part, ...]:
    """A part for every piece of every block."""
    return tuple(part_of(_piece(project, block, piece)) for block in project.blocks for piece in block.pieces)


def _piece(project: Project, block: Block, piece: BlockPiece) -> Piece:
    exact = _with_margins(_covered(block, piece), piece.margins)
    cut = cut_size(exact, project.ruler)
    hangs = (cut[1], cut[0]) if piece.turned else cut
    lies = lie(project.fabrics[piece.fabric], hangs, piece.grain)
    return require_fit(
        project,
        Piece(
            id=f"{block.name}/{piece.name}",
            fabric=piece.fabric,
            role=Role.BLOCK,
            across=lies.across,
            along=lies.along,
            count=block.count * piece.count * project.copies,
            turnable=lies.turnable,
            finished=_finished(block, piece),
            why=_why(project.notation, block, piece, exact, cut),
            after=_after(project.notation, block, piece),
        ),
    )


def _covered(block: Block, piece: BlockPiece) -> Pair:
    """What `piece` covers before its margins."""
    if piece.covers is not None:
        stitched = block.stitched
        return piece.covers[0] * stitched[0], piece.covers[1] * stitched[1]
    given = piece.size or piece.cut
    assert given is not None  # the reader lets no piece through without a size
    return given


def _with_margins(covered: Pair, margins: Margins) -> Pair:
    return covered[0] + margins.left + margins.right, covered[1] + margins.top + margins.bottom


def _finished(block: Block, piece: BlockPiece) -> Pair | None:
    """What is seen of `piece`: what it covers, up to the block's own finished size."""
    if piece.cut is not None:
        return None
    covered = _covered(block, piece)
    return min(covered[0], block.finished[0]), min(covered[1], block.finished[1])


def _is_trimmed(block: Block, piece: BlockPiece) -> bool:
    """Whether `piece` reaches the line that the block is trimmed to on all sides, and beyond it on some."""
    margins = piece.margins
    sides = (margins.top, margins.right, margins.bottom, margins.left)
    return piece.covers == _WHOLE and min(sides) >= block.trim and max(sides) > block.trim


def _after(notation: Notation, block: Block, piece: BlockPiece) -> str:
    if not _is_trimmed(block, piece):
        return ""
    return f"trim to {notation.pair(*block.trimmed)} after stitching"


def _why(notation: Notation, block: Block, piece: BlockPiece, exact: Pair, cut: Pair) -> str:
    margins = piece.margins
    across = _side(notation, block, piece, 0, (margins.left, margins.right))
    down = _side(notation, block, piece, 1, (margins.top, margins.bottom))
    across = sum_text(notation, across, exact[0], cut[0])
    down = sum_text(notation, down, exact[1], cut[1])
    text = across if across == down else f"across {across}; down {down}"
    if _is_trimmed(block, piece):
        text += f", of which {notation.show(block.trim)} on each side is left after trimming"
    return f"{text}; stitched sideways in the hoop, so these change places on the cloth" if piece.turned else text


def _side(notation: Notation, block: Block, piece: BlockPiece, axis: int, margins: Pair) -> str:
    """One direction of a piece's sum: ``8 stitched + 2 × 1 margin``."""
    first, second = (notation.bare(margin) for margin in margins)
    text = _covered_text(notation, block, piece, axis)
    if not any(margins):
        return text
    return f"{text} + 2 × {first} margin" if first == second else f"{text} + {first} + {second} margin"


def _covered_text(notation: Notation, block: Block, piece: BlockPiece, axis: int) -> str:
    if piece.covers is None:
        word = "cut as given" if piece.size is None else "stitched"
        return f"{notation.bare(_covered(block, piece)[axis])} {word}"
    stitched = f"{notation.bare(block.stitched[axis])} stitched"
    share = piece.covers[axis]
    return stitched if share == 1 else f"{share} × {stitched}"
