"""Whether corners make a shape, and whether two shapes lie on each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ellwand.project.clothtables import Polygon

if TYPE_CHECKING:
    from shapely import Polygon as ShapelyPolygon

__all__ = ["is_simple", "meets"]


def is_simple(corners: Polygon) -> bool:
    """Whether a shape's edges neither cross nor touch."""
    return bool(_shape(corners).is_valid)


def meets(one: Polygon, other: Polygon) -> bool:
    """Whether two shapes have some area in common."""
    return bool(_shape(one).intersection(_shape(other)).area > 0)


def _shape(corners: Polygon) -> ShapelyPolygon:
    import shapely  # 0.1 s

    return shapely.Polygon([(float(x), float(y)) for x, y in corners])
