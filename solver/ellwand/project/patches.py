"""Pieced patches of the blocks: ``[[block.piece]]`` with `patch`."""

from __future__ import annotations

from collections.abc import Mapping

from ellwand.errors import InputError
from ellwand.lengths import Notation
from ellwand.project.basics import Basics
from ellwand.project.fabrics import read_grain, read_spare
from ellwand.project.table import Pair, Table
from ellwand.project.tables import Fabric, Patch, PatchShape
from ellwand.project.wording import listed

__all__ = ["LAYER_KEYS", "PATCH_KEYS", "read_patch"]

LAYER_KEYS = ("covers", "size", "cut", "margin", "turned", "phase")  # what a patch has no use for
PATCH_KEYS = ("finished", "seam", "yields", "sky")  # what patches alone have

_YIELDS = {  # patches from one cut square, the default first
    PatchShape.SQUARE: (1,),
    PatchShape.RECTANGLE: (1,),
    PatchShape.HALF_SQUARE: (2, 8),
    PatchShape.QUARTER_SQUARE: (4,),
    PatchShape.GEESE: (4, 1),
}
_SQUARES = {  # what to write where two equal sides are missing
    PatchShape.SQUARE: 'Write two equal sides, or patch = "rectangle"',
    PatchShape.HALF_SQUARE: "Write the square that two of these triangles make",
    PatchShape.QUARTER_SQUARE: "Write the square that four of these triangles make",
}


def read_patch(table: Table, basics: Basics, fabrics: Mapping[str, Fabric]) -> Patch:
    """Read a ``[[block.piece]]`` that has `patch`; its other keys are known to be of a piece."""
    for key in LAYER_KEYS:
        if table.has(key):
            wanted = "A patch has its finished size and a seam on every side"
            raise table.error(key, '"patch" says already how the piece is cut', wanted, "Leave it out")
    shape = table.choice("patch", PatchShape.SQUARE)
    name = table.text("name")
    fabric = table.known("fabric", fabrics, "fabric")
    return Patch(
        name=name,
        fabric=fabric,
        shape=shape,
        finished=_finished(table, shape),
        seam=table.length("seam", basics.seam, zero=True),
        count=table.count("count", 1),
        yields=_yields(table, shape),
        grain=read_grain(table, fabrics[fabric]),
        sky=_sky(table, shape, fabrics),
        spare=read_spare(table, fabrics[fabric]),
    )


def _finished(table: Table, shape: PatchShape) -> Pair:
    across, down = table.pair("finished")
    size = Notation(table.unit).pair(across, down)
    if shape in _SQUARES and across != down:
        raise table.error("finished", f"{size} is no square", _SQUARES[shape])
    if shape is PatchShape.GEESE and across != 2 * down:
        wanted = "Write a size twice as wide as it is high, such as [4, 2]"
        raise table.error("finished", f"{size} is no flying goose", wanted)
    return across, down


def _yields(table: Table, shape: PatchShape) -> int:
    allowed = _YIELDS[shape]
    yields = table.count("yields", allowed[0])
    if yields not in allowed:
        found = f'patches of shape "{shape.value}" are not cut {yields} from one'
        raise table.error("yields", found, f"Write {listed(str(number) for number in allowed)}")
    return yields


def _sky(table: Table, shape: PatchShape, fabrics: Mapping[str, Fabric]) -> str | None:
    if shape is PatchShape.GEESE:
        if not table.has("sky"):
            wanted = "It is the fabric of the small triangles beside the goose"
            raise InputError(where=table.where, found='"sky" is missing', wanted=wanted, hint='Write sky = "a name"')
        return table.known("sky", fabrics, "fabric")
    if table.has("sky"):
        raise table.error("sky", "only geese have one", 'Leave it out, or write patch = "geese"')
    return None
