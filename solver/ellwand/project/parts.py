"""Borders, binding, backing, batting and sleeve."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.project.basics import Basics
from ellwand.project.fabrics import hangs
from ellwand.project.table import Table
from ellwand.project.tables import (
    Backing,
    Batting,
    Binding,
    Block,
    Border,
    Corners,
    Cut,
    Fabric,
    Join,
    Panels,
    Sleeve,
    StripGrain,
)

__all__ = ["read_backing", "read_batting", "read_binding", "read_borders", "read_sleeve"]

_ONE_BY_ONE = {Corners.BUTTED: "butted borders", Corners.CORNERSTONES: "borders with cornerstones"}


def read_borders(
    tables: tuple[Table, ...], basics: Basics, fabrics: Mapping[str, Fabric], blocks: tuple[Block, ...]
) -> tuple[Border, ...]:
    """Read every ``[[border]]``, from the inside out; the first is sewn on with the blocks' seam."""
    borders: list[Border] = []
    for table in tables:
        seam = blocks[0].seam if blocks and not borders else basics.seam
        border = _border(table, basics, fabrics, seam)
        _check_sewn_together(table, border, borders[-1] if borders else None)
        borders.append(border)
    return tuple(borders)


def _border(table: Table, basics: Basics, fabrics: Mapping[str, Fabric], seam: Fraction) -> Border:
    table.only(
        "name", "width", "fabric", "corners", "cornerstones", "seam", "cut", "join", "shortest", "joins", "extra",
        "sewn_together",
    )  # fmt: skip
    corners = table.choice("corners", Corners.MITRED)
    name = table.text("name")
    fabric = table.known("fabric", fabrics, "fabric")
    return Border(
        name=name,
        width=table.length("width"),
        fabric=fabric,
        corners=corners,
        seam=table.length("seam", seam, zero=True),
        cut=_cut(table, fabrics[fabric]),
        join=table.choice("join", Join.DIAGONAL),
        shortest=table.length("shortest", basics.usual("shortest"), zero=True),
        joins=table.count("joins", least=0, most=100) if table.has("joins") else None,
        extra=table.length("extra", basics.usual(f"{corners.value} extra"), zero=True),
        sewn_together=table.flag("sewn_together", default=False),
        cornerstones=_cornerstones(table, corners, fabrics),
    )


def _cornerstones(table: Table, corners: Corners, fabrics: Mapping[str, Fabric]) -> str | None:
    """The fabric of the corners, where it is not the border's own."""
    if not table.has("cornerstones"):
        return None
    if corners is not Corners.CORNERSTONES:
        hint = 'Leave it out, or write corners = "cornerstones"'
        raise table.error("cornerstones", f"a border with {corners.value} corners has none", hint=hint)
    return table.known("cornerstones", fabrics, "fabric")


def _cut(table: Table, fabric: Fabric) -> Cut:
    cut = table.choice("cut", Cut.BEST)
    if cut is not Cut.BEST and hangs(fabric):
        found = f'"{cut.value}" turns two of the four strips, and "{fabric.id}" is {fabric.way.value} cloth'
        raise table.error("cut", found, 'Leave it out or write "best", and each strip is cut as it hangs')
    return cut


def _check_sewn_together(table: Table, border: Border, inside: Border | None) -> None:
    if not border.sewn_together:
        return
    if inside is None:
        raise table.error("sewn_together", "there is no border inside this one", "Leave it out")
    for kind, borders in _ONE_BY_ONE.items():
        if kind in (border.corners, inside.corners):
            raise table.error("sewn_together", f"{borders} are sewn on one by one", "Make both borders mitred")


def read_binding(table: Table | None, basics: Basics, fabrics: Mapping[str, Fabric]) -> Binding | None:
    """Read ``[binding]``."""
    if table is None:
        return None
    table.only("fabric", "strip", "seam", "grain", "extra", "join", "shortest")
    binding = Binding(
        fabric=table.known("fabric", fabrics, "fabric"),
        strip=table.length("strip", basics.usual("binding strip")),
        seam=table.length("seam", basics.seam, zero=True),
        extra=table.length("extra", basics.usual("binding extra"), zero=True),
        join=table.choice("join", Join.DIAGONAL),
        shortest=table.length("shortest", basics.usual("shortest"), zero=True),
        grain=table.choice("grain", StripGrain.CROSSWISE),
    )
    if binding.strip <= 2 * binding.seam:
        seams = Notation(basics.unit).show(2 * binding.seam)
        raise table.error("strip", f"two seams take {seams} of it, and nothing shows", "Write a wider strip")
    return binding


def read_backing(table: Table | None, basics: Basics, fabrics: Mapping[str, Fabric]) -> Backing | None:
    """Read ``[backing]``."""
    if table is None:
        return None
    table.only("fabric", "overhang", "seam", "panels")
    fabric = table.known("fabric", fabrics, "fabric")
    panels = table.choice("panels", Panels.BEST)
    if panels is Panels.CROSSWISE and hangs(fabrics[fabric]):
        found = f'"crosswise" turns the panels, and "{fabric}" is {fabrics[fabric].way.value} cloth'
        raise table.error("panels", found, 'Leave it out or write "lengthwise"')
    return Backing(
        fabric=fabric,
        overhang=table.length("overhang", basics.usual("overhang"), zero=True),
        seam=table.length("seam", basics.seam, zero=True),
        panels=panels,
    )


def read_batting(
    table: Table | None, basics: Basics, fabrics: Mapping[str, Fabric], blocks: tuple[Block, ...]
) -> Batting | None:
    """Read ``[batting]``; blocks that carry some of it need none below."""
    if table is None:
        return None
    table.only("fabric", "overhang", "under")
    fabric = table.known("fabric", fabrics, "fabric")
    carried = any(piece.fabric == fabric for block in blocks for piece in block.pieces)
    return Batting(
        fabric=fabric,
        overhang=table.length("overhang", basics.usual("overhang"), zero=True),
        under=table.word("under", "borders" if carried else "all", ("all", "borders", "none")),
    )


def read_sleeve(table: Table | None, basics: Basics, fabrics: Mapping[str, Fabric]) -> Sleeve | None:
    """Read ``[sleeve]``."""
    if table is None:
        return None
    table.only("fabric", "depth", "seam", "extra")
    return Sleeve(
        fabric=table.known("fabric", fabrics, "fabric"),
        depth=table.length("depth", basics.usual("sleeve depth")),
        seam=table.length("seam", basics.usual("sleeve seam"), zero=True),
        extra=table.length("extra", basics.usual("sleeve extra"), zero=True),
    )
