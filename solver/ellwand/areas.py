"""Where the cloth of one fabric goes, in exact square inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from fractions import Fraction

from ellwand.model import Area, Cloth, Layout, Source
from ellwand.outlines import area_of_polygon
from ellwand.project.tables import Fabric

__all__ = ["area_of", "shrinkage_of", "sum_areas"]


def area_of(layouts: Sequence[Layout]) -> Area:
    """All cloth taken, divided into what became of it.

    Areas are of cloth as it is cut, washed. Taken are the bought length, a length on hand up to its last piece,
    and a rectangle whole; each over its full width. An odd shape is taken whole, and flaws are scrap.
    """
    return sum_areas([_area(layout) for layout in layouts])


def sum_areas(areas: Sequence[Area]) -> Area:
    """Several areas, part by part."""
    names = [field.name for field in fields(Area)]
    return Area(**{name: sum((getattr(area, name) for area in areas), Fraction(0)) for name in names})


def shrinkage_of(fabric: Fabric, layouts: Sequence[Layout]) -> Fraction:
    """Unwashed less washed area of the cloth taken that is still to be washed, square inches."""
    return sum((_shrinkage(fabric, layout) for layout in layouts), Fraction(0))


def _area(layout: Layout) -> Area:
    cloth = layout.cloth
    length = _taken_length(layout)
    taken = _taken(layout)
    pieces = sum((item.across * item.along for item in layout.placed), Fraction(0))
    offcuts = sum((offcut.across * offcut.along for offcut in layout.offcuts), Fraction(0))
    selvage = Fraction(0) if cloth.outline else (cloth.width - cloth.across) * length
    squaring = cloth.squaring * cloth.across
    rounding = Fraction(0)
    if cloth.source is Source.BUY:
        rounding = (length - cloth.along - cloth.squaring) * cloth.across
    scrap = taken - pieces - offcuts - selvage - squaring - rounding
    return Area(pieces=pieces, offcuts=offcuts, scrap=scrap, selvage=selvage, squaring=squaring, rounding=rounding)


def _taken_length(layout: Layout) -> Fraction:
    return layout.cloth.length if layout.cloth.source is Source.BUY else layout.used


def _taken(layout: Layout) -> Fraction:
    outline = layout.cloth.outline
    return area_of_polygon(outline) if outline else _taken_length(layout) * layout.cloth.width


def _shrinkage(fabric: Fabric, layout: Layout) -> Fraction:
    cloth: Cloth = layout.cloth
    if cloth.washed or not fabric.wash:
        return Fraction(0)
    lengthwise, crosswise = fabric.shrinks
    washed = _taken(layout)
    return washed / ((1 - lengthwise) * (1 - crosswise)) - washed
