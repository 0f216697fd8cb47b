"""Every piece of a project as text, before any cloth is thought of."""

from __future__ import annotations

from ellwand.lengths import Notation
from ellwand.model import Part, Piece, Quilt
from ellwand.project.tables import Fabric, Project
from ellwand_cli.views.tables import table

__all__ = ["pieces_page"]

_LEGEND = """\
cut      across the width of the cloth × along the selvage, allowances included
grain    either: may be turned; fixed: lies as told; open: along the selvage or in joined strips, as the layout wants"""


def pieces_page(project: Project, quilt: Quilt) -> str:
    """Per fabric: every piece with finished and cut size, count, and how the size came about."""
    blocks = [_head(project, quilt)]
    for fabric in project.fabrics.values():
        parts = [part for part in quilt.parts if part.fabric == fabric.id]
        if parts:
            blocks.append(_fabric(project.notation, fabric, parts))
    return "\n\n".join([*blocks, _LEGEND]) + "\n"


def _head(project: Project, quilt: Quilt) -> str:
    if quilt.sizes is None:
        return project.name
    pair, sizes = project.notation.pair, quilt.sizes
    named = (("centre", sizes.centre), ("finished", sizes.finished), ("raw edge", sizes.raw), ("bound", sizes.bound))
    rows = [(name, pair(*size)) for name, size in named]
    return project.name + "\n" + table(("the quilt", "across × down"), rows)


def _fabric(notation: Notation, fabric: Fabric, parts: list[Part]) -> str:
    groups: dict[tuple[str, ...], list[Piece]] = {}
    for piece in (piece for part in parts for piece in part.pieces):
        groups.setdefault(_facts(notation, piece), []).append(piece)
    rows = [(_names(pieces), _counts(pieces), *facts) for facts, pieces in groups.items()]
    heads = ("piece", "count", "finished", "cut", "grain", "how it came about")
    title = f"{fabric.id} – {fabric.note}" if fabric.note else fabric.id
    return title + "\n" + table(heads, rows, numbers=(1,))


def _facts(notation: Notation, piece: Piece) -> tuple[str, ...]:
    """Everything that is told of a piece but its name and count; equal pieces share a row."""
    finished = notation.pair(*piece.finished) if piece.finished else ""
    return finished, notation.pair(piece.across, piece.along), _grain(piece), piece.why


def _names(pieces: list[Piece]) -> str:
    return "\n".join(piece.id for piece in pieces)


def _counts(pieces: list[Piece]) -> str:
    return "\n".join(str(piece.count) for piece in pieces)


def _grain(piece: Piece) -> str:
    if piece.open_form:
        return "open"
    return "either" if piece.turnable else "fixed"
