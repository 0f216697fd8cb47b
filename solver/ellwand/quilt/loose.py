"""Pieces that the quilt does not explain: cut as they are given."""

from __future__ import annotations

from ellwand.model import Part, Piece, Role
from ellwand.project.tables import LoosePiece, Project
from ellwand.quilt.pieces import cut_size, lie, matched_text, part_of, require_fit

__all__ = ["loose_parts"]


def loose_parts(project: Project) -> tuple[Part, ...]:
    """A part for every piece of the project's list."""
    return tuple(part_of(_piece(project, piece)) for piece in project.pieces)


def _piece(project: Project, piece: LoosePiece) -> Piece:
    cut = cut_size(piece.cut, project.ruler)
    lies = lie(project.fabrics[piece.fabric], cut, piece.grain, matched=piece.phase is not None)
    pair = project.notation.pair
    why = f"cut as given, {pair(*piece.cut)}" + ("" if cut == piece.cut else f", on the ruler {pair(*cut)}")
    turned = "; lies crosswise, so these change places on the cloth"
    return require_fit(
        project,
        Piece(
            id=piece.name,
            fabric=piece.fabric,
            role=Role.LOOSE,
            across=lies.across,
            along=lies.along,
            count=piece.count * project.copies,
            turnable=lies.turnable,
            why=why
            + ("" if (lies.across, lies.along) == cut else turned)
            + matched_text(project.notation, piece.phase),
            phase=piece.phase,
            spare=piece.spare,
            where="as its own pattern says",
        ),
    )
