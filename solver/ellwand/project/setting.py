"""How blocks are set: ``[quilt]`` and ``[sashing]``."""

from __future__ import annotations

from collections.abc import Mapping

from ellwand.project.table import Table
from ellwand.project.tables import Fabric, Sashing, Setting

__all__ = ["read_sashing", "read_setting"]


def read_setting(table: Table | None, fabrics: Mapping[str, Fabric]) -> Setting | None:
    """Read ``[quilt]``."""
    if table is None:
        return None
    table.only("across", "down", "setting", "triangles", "measured")
    on_point = table.word("setting", "straight", ("straight", "on point")) == "on point"
    if table.has("triangles") and not on_point:
        hint = 'Leave it out, or write setting = "on point"'
        raise table.error("triangles", "a straight setting has none", hint=hint)
    return Setting(
        across=table.count("across", 1),
        down=table.count("down", 1),
        on_point=on_point,
        triangles=table.known("triangles", fabrics, "fabric") if on_point else None,
        measured=table.pair("measured") if table.has("measured") else None,
    )


def read_sashing(table: Table | None, fabrics: Mapping[str, Fabric]) -> Sashing | None:
    """Read ``[sashing]``."""
    if table is None:
        return None
    table.only("width", "fabric", "cornerstones", "outside")
    return Sashing(
        width=table.length("width"),
        fabric=table.known("fabric", fabrics, "fabric"),
        cornerstones=table.known("cornerstones", fabrics, "fabric") if table.has("cornerstones") else None,
        outside=table.flag("outside", default=False),
    )
