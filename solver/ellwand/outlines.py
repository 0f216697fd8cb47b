"""Odd shapes and flaws of a cloth: their areas, and the parts on which no piece may lie, as rectangles.

Parts are found band by band across the cloth. In a band whatever an edge crosses counts as lost, from mark to mark;
between edges a column lies wholly inside a shape or wholly outside. So a slanted edge loses at most what it covers
within a band.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import groupby, pairwise
from math import ceil, floor
from typing import TYPE_CHECKING

from ellwand.model import Cloth
from ellwand.project.tables import Polygon

if TYPE_CHECKING:
    from shapely import Polygon as ShapelyPolygon

__all__ = ["BAND", "area_of_polygon", "free_area", "lost_parts"]

BAND = Fraction(1, 8)  # inches: longest band across which an edge is slanted
_Part = tuple[int, int, int, int]  # x, y, across, along in marks
_SURE = 1 + 1e-9  # areas are worked out in floats


def area_of_polygon(polygon: Polygon) -> Fraction:
    """Area of a shape whose edges do not cross (the shoelace formula)."""
    corners = pairwise((*polygon, polygon[0]))
    return abs(sum((x * v - u * y for (x, y), (u, v) in corners), Fraction(0))) / 2


@lru_cache(maxsize=256)  # asked again for every construction
def free_area(cloth: Cloth, ruler: Fraction) -> int:
    """Square marks of a cloth that are inside its outline and on no flaw, or a few more."""
    import shapely  # 0.1 s

    edge = cloth.outline or _rectangle(cloth.across, cloth.along)
    usable = shapely.intersection(_shape(edge), shapely.box(0, 0, float(cloth.across), float(cloth.along)))
    free = shapely.difference(usable, shapely.union_all([_shape(flaw) for flaw in cloth.flaws]))
    return ceil(float(free.area) / float(ruler) ** 2 * _SURE)


@lru_cache(maxsize=256)
def lost_parts(cloth: Cloth, ruler: Fraction, band: Fraction) -> tuple[_Part, ...]:
    """Disjoint rectangles that cover all of a cloth outside its outline and on its flaws, in marks.

    Parameters
    ----------
    band
        Longest band across which an edge is slanted, inches; a mark at the least.
    """
    across, along = int(cloth.across / ruler), int(cloth.along / ruler)
    outside = [] if cloth.outline is None else [_in_marks(cloth.outline, ruler)]
    flaws = [_in_marks(flaw, ruler) for flaw in cloth.flaws]
    bands = []
    for low, high in pairwise(_levels([*outside, *flaws], along, max(1, floor(band / ruler)))):
        free = (1 << across) - 1  # bit x: the column from x to x + 1
        for polygon, inside in [(polygon, True) for polygon in outside] + [(polygon, False) for polygon in flaws]:
            free &= _columns(_clear(polygon, low, high, Fraction(across), inside=inside))
        bands.append((low, high, free ^ (1 << across) - 1))
    return tuple(part for low, high, lost in _merged(bands) for part in _runs(lost, low, high))


def _rectangle(across: Fraction, along: Fraction) -> Polygon:
    zero = Fraction(0)
    return ((zero, zero), (across, zero), (across, along), (zero, along))


def _shape(polygon: Polygon) -> ShapelyPolygon:
    import shapely

    return shapely.Polygon([(float(x), float(y)) for x, y in polygon])


def _in_marks(polygon: Polygon, ruler: Fraction) -> Polygon:
    return tuple((x / ruler, y / ruler) for x, y in polygon)


def _levels(polygons: Sequence[Polygon], along: int, band: int) -> list[int]:
    """Where bands begin and end: at every corner, and in between as often as need be."""
    corners = {level for polygon in polygons for _, y in polygon for level in (floor(y), ceil(y))}
    return sorted({level for level in corners if 0 < level < along} | {*range(0, along, band), along})


def _clear(
    polygon: Polygon, low: int, high: int, across: Fraction, *, inside: bool
) -> Iterator[tuple[Fraction, Fraction]]:
    """Stretches of the band that no edge crosses and that lie inside the shape, or outside it."""
    middle = Fraction(low + high, 2)
    edges = list(pairwise((*polygon, polygon[0])))
    crossed = sorted(stretch for edge in edges if (stretch := _crossing(edge, low, high)))
    end = Fraction(0)
    for start, stop in [*crossed, (across, across)]:
        if start > end and _is_inside(edges, (end + min(start, across)) / 2, middle) == inside:
            yield end, min(start, across)
        end = max(end, stop)


def _crossing(edge: Sequence[tuple[Fraction, Fraction]], low: int, high: int) -> tuple[Fraction, Fraction] | None:
    """From where to where across an edge runs within a band, if it is in it at all."""
    (x, y), (u, v) = sorted(edge, key=lambda corner: corner[1])
    if v <= low or y >= high:
        return None
    if y == v:
        return min(x, u), max(x, u)
    ends = [x + (u - x) * (level - y) / (v - y) for level in (max(y, Fraction(low)), min(v, Fraction(high)))]
    return min(ends), max(ends)


def _is_inside(edges: Sequence[Sequence[tuple[Fraction, Fraction]]], x: Fraction, y: Fraction) -> bool:
    """Whether a point on no edge lies inside: a ray to the left crosses an odd number of edges."""
    crossed = 0
    for (a, b), (c, d) in edges:
        if (b <= y) != (d <= y):
            crossed += a + (c - a) * (y - b) / (d - b) < x
    return crossed % 2 == 1


def _columns(stretches: Iterator[tuple[Fraction, Fraction]]) -> int:
    """Whole columns within stretches, as bits."""
    columns = 0
    for start, end in stretches:
        first, last = ceil(start), floor(end)
        if first < last:
            columns |= (1 << last) - (1 << first)
    return columns


def _merged(bands: Sequence[tuple[int, int, int]]) -> Iterator[tuple[int, int, int]]:
    """Neighbouring bands that lose the same columns as one."""
    for lost, group in groupby(bands, key=lambda band: band[2]):
        alike = list(group)
        yield alike[0][0], alike[-1][1], lost


def _runs(columns: int, low: int, high: int) -> Iterator[_Part]:
    """Each run of columns beside each other as a rectangle."""
    x = 0
    while columns >> x:
        x += (columns >> x & -(columns >> x)).bit_length() - 1
        rest = ~(columns >> x)
        w = (rest & -rest).bit_length() - 1
        yield x, low, w, high - low
        x += w
