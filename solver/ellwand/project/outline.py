"""The outline of a cloth of odd shape, and flaws: corners measured from its left edge and its squared end."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby

from ellwand.lengths import Notation
from ellwand.project.basics import Basics
from ellwand.project.shapes import is_simple, meets
from ellwand.project.table import Table
from ellwand.project.tables import OnHand, Polygon

__all__ = ["read_flaws", "read_outline"]

_MOST_CORNERS = 100
_MOST_FLAWS = 50  # of one cloth
_EXAMPLE = "flaws = [{ x = 3, y = 5, across = 2, along = 1 }]"


def read_outline(table: Table, basics: Basics) -> Polygon:
    """The corners under ``outline``, once it is sure that they are those of one shape."""
    corners = tuple((basics.exact(x), basics.exact(y)) for x, y in table.corners("outline"))
    corners = tuple(corner for corner, _ in groupby(corners))
    if len(corners) > 1 and corners[0] == corners[-1]:
        corners = corners[:-1]
    if len(corners) < 3:
        found = "1 corner makes" if len(corners) == 1 else f"{len(corners)} corners make"
        raise table.error("outline", f"{found} no shape", "Write three or more, in their order round the edge")
    if len(corners) > _MOST_CORNERS:
        raise table.error("outline", f"{len(corners)} corners are too many", f"At most {_MOST_CORNERS}")
    if not is_simple(corners):
        raise table.error("outline", "its edges cross or touch", "Write the corners in their order round the edge")
    return corners


def read_flaws(table: Table, basics: Basics, cloth: OnHand, full: Fraction) -> tuple[Polygon, ...]:
    """The flaws of a cloth as shapes: rectangles, or outlines of their own; `full` is the width of a bolt."""
    flaws = table.tables("flaws", _EXAMPLE)
    if len(flaws) > _MOST_FLAWS:
        raise table.error("flaws", f"{len(flaws)} flaws are too many", f"At most {_MOST_FLAWS} on one cloth")
    edge = cloth.outline or _box(Fraction(0), Fraction(0), cloth.width or full, cloth.length)
    return tuple(_flaw(flaw, basics, edge) for flaw in flaws)


def _flaw(table: Table, basics: Basics, edge: Polygon) -> Polygon:
    table.only("x", "y", "across", "along", "outline")
    flaw = _outlined(table, basics) if table.has("outline") else _rectangle(table, basics)
    if not meets(flaw, edge):
        x, y = (Notation(basics.unit).near(min(values)) for values in zip(*flaw, strict=True))
        found = f"it begins {x} across and {y} along, and none of it lies on the cloth"
        raise table.error("outline" if table.has("outline") else "x", found, "Leave it out, or measure again")
    return flaw


def _outlined(table: Table, basics: Basics) -> Polygon:
    for key in ("x", "y", "across", "along"):
        if table.has(key):
            raise table.error(key, "the outline says already where the flaw is", "Leave it out")
    return read_outline(table, basics)


def _rectangle(table: Table, basics: Basics) -> Polygon:
    x, y = (basics.exact(table.length(key, zero=True)) for key in ("x", "y"))
    across, along = (basics.exact(table.length(key)) for key in ("across", "along"))
    return _box(x, y, across, along)


def _box(x: Fraction, y: Fraction, across: Fraction, along: Fraction) -> Polygon:
    return ((x, y), (x + across, y), (x + across, y + along), (x, y + along))
