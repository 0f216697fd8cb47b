"""Pieces of the blocks: what they cover, counted from the stitched edge, and their margins."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.model import Pair, Part, Piece, Role
from ellwand.project.fabrics import hangs
from ellwand.project.tables import Block, BlockPiece, Margins, Project
from ellwand.quilt.pieces import cloth_word, cut_size, in_blocks, lie, matched_text, part_of, require_fit, sums_text

__all__ = ["block_parts", "block_warnings"]

_WHOLE = (Fraction(1), Fraction(1))
_LARGEST_FIELD = Fraction(24)  # inches
_BARELY = Fraction(5, 127)  # inches, a millimetre of the stitch field


def block_parts(project: Project) -> tuple[Part, ...]:
    """A part for every piece of every block."""
    return tuple(part_of(_piece(project, block, piece)) for block in project.blocks for piece in block.pieces)


def _piece(project: Project, block: Block, piece: BlockPiece) -> Piece:
    exact = _with_margins(_covered(block, piece), piece.margins)
    cut = cut_size(exact, project.ruler)
    hangs = (cut[1], cut[0]) if piece.turned else cut
    lies = lie(project.fabrics[piece.fabric], hangs, piece.grain, matched=piece.phase is not None)
    return require_fit(
        project,
        Piece(
            id=f"{block.name}/{piece.name}",
            fabric=piece.fabric,
            role=Role.BLOCK,
            across=lies.across,
            along=lies.along,
            count=(piece.share[0] if piece.share else block.count * piece.count) * project.copies,
            turnable=lies.turnable,
            finished=_finished(block, piece),
            why=_why(project.notation, block, piece, exact, cut)
            + _lying(piece, cut, (lies.across, lies.along))
            + matched_text(project.notation, piece.phase),
            phase=piece.phase,
            spare=piece.spare,
            after=_after(project.notation, block, piece),
            where=in_blocks(block, str(piece.count), piece.share),
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
    text = sums_text(notation, (across, down), exact, cut)
    if _is_trimmed(block, piece):
        text += f", of which {notation.show(block.trim)} on each side is left after trimming"
    return text


def _lying(piece: BlockPiece, cut: Pair, lies: Pair) -> str:
    """Why the sides of `piece` change places on the cloth, where they do."""
    if lies == cut:
        return ""
    reason = "stitched sideways in the hoop" if piece.turned else "lies crosswise"
    return f"; {reason}, so these change places on the cloth"


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


def block_warnings(project: Project) -> tuple[str, ...]:
    """Sizes that were hardly meant, frames and blocks that go ill with their field, and cloth with a way on point."""
    checks = (_vast, _narrow, _overlarge, _tight, _tilted)
    return tuple(text for block in project.blocks for check in checks for text in check(project, block))


def _vast(project: Project, block: Block) -> tuple[str, ...]:
    """A field that no machine has: its unit was left out."""
    if block.hoop is None or max(block.hoop) <= _LARGEST_FIELD:
        return ()
    field = project.notation.pair(*block.hoop)
    return (f'block {block.name}: no hoop has a field of {field}; of millimetres write ["130 mm", "180 mm"].',)


def _narrow(project: Project, block: Block) -> tuple[str, ...]:
    """A frame that does not reach round its own field is that of another hoop, or was measured inside."""
    if block.hoop is None or block.frame is None or max(block.hoop) > _LARGEST_FIELD:
        return ()
    if all(outside >= field for outside, field in zip(sorted(block.frame), sorted(block.hoop), strict=True)):
        return ()
    pair = project.notation.pair
    return (
        f"block {block.name}: the outside of its hoop, {pair(*block.frame)}, is less than the field in it, "
        f"{pair(*block.hoop)}; measure the frame over its outer edges.",
    )


def _overlarge(project: Project, block: Block) -> tuple[str, ...]:
    """A sentence for each layer that is stitched larger than its block."""
    pair = project.notation.pair
    return tuple(
        f"block {block.name}: its piece {piece.name} is stitched {pair(*piece.size)}, "
        f"more than the block with {pair(*block.stitched)}."
        for piece in block.pieces
        if piece.size and any(side > whole for side, whole in zip(piece.size, block.stitched, strict=True))
    )


def _tight(project: Project, block: Block) -> tuple[str, ...]:
    if block.hoop is None:
        return ()
    left = min(field - side for field, side in zip(sorted(block.hoop), sorted(block.stitched), strict=True))
    if left > _BARELY:
        return ()
    pair = project.notation.pair
    return (
        f"block {block.name}: its stitched size, {pair(*block.stitched)}, is within 1 mm of its field, "
        f"{pair(*block.hoop)}: it fits, but barely.",
    )


def _tilted(project: Project, block: Block) -> tuple[str, ...]:
    """A sentence for each fabric whose print would hang upright in a straight setting."""
    if project.setting is None or not project.setting.on_point:
        return ()
    used = [piece.fabric for piece in block.pieces]
    used += [fabric for patch in block.patches for fabric in (patch.fabric, patch.sky) if fabric]
    return tuple(
        f"block {block.name}: {name} is {cloth_word(project.fabrics[name])}, and its pieces are cut square to their "
        "block: in the quilt, on point, the print hangs at 45°."
        for name in dict.fromkeys(used)
        if hangs(project.fabrics[name])
    )
