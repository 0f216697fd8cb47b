"""Blocks and what lies in them, the stabiliser, and loose pieces."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ellwand.project.basics import Basics
from ellwand.project.fabrics import read_grain, read_spare
from ellwand.project.matching import read_phase
from ellwand.project.patches import LAYER_KEYS, PATCH_KEYS, read_patch
from ellwand.project.table import Pair, Table
from ellwand.project.tables import Block, BlockPiece, Fabric, LoosePiece, Margins, Setting, Stabiliser

__all__ = ["read_blocks", "read_pieces", "read_stabiliser"]

_ALL: Pair = (Fraction(1), Fraction(1))
_NONE = Fraction(0)


def read_blocks(
    tables: tuple[Table, ...], basics: Basics, fabrics: Mapping[str, Fabric], setting: Setting | None
) -> tuple[Block, ...]:
    """Read every ``[[block]]``; a single one fills the setting where it has no count."""
    fills = setting.blocks if setting and len(tables) == 1 else 1
    return tuple(_block(table, basics, fabrics, fills) for table in tables)


def read_stabiliser(table: Table | None, basics: Basics, fabrics: Mapping[str, Fabric]) -> Stabiliser | None:
    """Read ``[stabiliser]``."""
    if table is None:
        return None
    table.only("fabric", "margin", "layers", "overlap")
    return Stabiliser(
        fabric=table.known("fabric", fabrics, "fabric"),
        margin=table.length("margin", basics.usual("stabiliser margin"), zero=True),
        layers=table.count("layers", 1, most=100),
        overlap=table.length("overlap") if table.has("overlap") else None,
    )


def read_pieces(tables: tuple[Table, ...], basics: Basics, fabrics: Mapping[str, Fabric]) -> tuple[LoosePiece, ...]:
    """Read every ``[[piece]]``."""
    return tuple(_loose_piece(table, basics, fabrics) for table in tables)


def _block(table: Table, basics: Basics, fabrics: Mapping[str, Fabric], fills: int) -> Block:
    table.only("name", "count", "finished", "seam", "trim", "hoop", "frame", "hoopings", "piece")
    seam = table.length("seam", basics.seam, zero=True)
    trim = table.length("trim", seam, zero=True)
    inside = table.tables("piece", "[[block.piece]]")
    for piece in inside:
        piece.only("name", "fabric", "count", "grain", "spare", *LAYER_KEYS, "patch", *PATCH_KEYS)
    return Block(
        name=table.text("name"),
        count=table.count("count", fills),
        finished=table.pair("finished"),
        seam=seam,
        trim=trim,
        hoop=table.pair("hoop") if table.has("hoop") else None,
        frame=table.pair("frame") if table.has("frame") else None,
        hoopings=table.count("hoopings", 1, most=100),
        pieces=tuple(_block_piece(piece, basics, fabrics, trim) for piece in inside if not piece.has("patch")),
        patches=tuple(read_patch(piece, basics, fabrics) for piece in inside if piece.has("patch")),
    )


def _block_piece(table: Table, basics: Basics, fabrics: Mapping[str, Fabric], trim: Fraction) -> BlockPiece:
    for key in PATCH_KEYS:
        if table.has(key):
            hint = 'Leave it out, or add a patch, such as patch = "square"'
            raise table.error(key, "only a pieced patch has this", hint=hint)
    given = [key for key in ("covers", "size", "cut") if table.has(key)]
    if len(given) > 1:
        raise table.error(given[1], f'"{given[0]}" says already how large the piece is', "Keep one of the two")
    name = table.text("name")
    fabric = table.known("fabric", fabrics, "fabric")
    return BlockPiece(
        name=name,
        fabric=fabric,
        covers=table.shares("covers", _ALL) if given in ([], ["covers"]) else None,
        size=table.pair("size") if table.has("size") else None,
        cut=table.pair("cut") if table.has("cut") else None,
        margins=_margins(table, trim),
        count=table.count("count", 1),
        grain=read_grain(table, fabrics[fabric]),
        turned=table.flag("turned", default=False),
        phase=read_phase(table, basics, fabrics[fabric]),
        spare=read_spare(table, fabrics[fabric]),
    )


def _margins(table: Table, trim: Fraction) -> Margins:
    """Up to where the block is trimmed, unless it says more; a cut size has its margins already."""
    if not table.has("cut"):
        return table.margins("margin", trim)
    if table.has("margin"):
        raise table.error("margin", '"cut" is the size with its margins', "Leave the margin out")
    return Margins(top=_NONE, right=_NONE, bottom=_NONE, left=_NONE)


def _loose_piece(table: Table, basics: Basics, fabrics: Mapping[str, Fabric]) -> LoosePiece:
    table.only("name", "fabric", "cut", "count", "grain", "phase", "spare")
    name = table.text("name")
    fabric = table.known("fabric", fabrics, "fabric")
    return LoosePiece(
        name=name,
        fabric=fabric,
        cut=table.pair("cut"),
        count=table.count("count", 1),
        grain=read_grain(table, fabrics[fabric]),
        phase=read_phase(table, basics, fabrics[fabric]),
        spare=read_spare(table, fabrics[fabric]),
    )
