"""Judging what lies on cloth with an outline or flaws: exact, edge by edge.

A rectangle lies inside a shape if no edge of the shape runs through it and its middle is inside; it is clear of a
shape if no edge runs through it and its middle is outside. To touch is allowed.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from ellwand.verdict.tables import Cloth, Corner, Plan, Rectangle, Shape

__all__ = ["area_of", "free_area", "wrong_shape"]

_NEAR = 1e-6  # share by which areas in floats may be off


def wrong_shape(plan: Plan, cloth: Cloth) -> Iterator[str]:
    """Faults of a cloth's outline and flaws, and of what lies beyond the one or on the others."""
    if not cloth.odd:
        return
    yield from _wrong_outline(plan, cloth)
    things = [(plan.where(placed), placed.at) for placed in cloth.placed]
    things += [(f"the offcut at {plan.show(at.x)}, {plan.show(at.y)}", at) for at in cloth.offcuts]
    for name, at in things:
        if cloth.outline is not None and not _holds(cloth.outline, at):
            yield f"{name} leaves the outline."
        for flaw in cloth.flaws:
            if _runs_through(flaw, at) or _is_inside(flaw, _middle(at)):
                yield f"{name} lies on a flaw."


def area_of(shape: Shape) -> Fraction:
    """Square marks within a shape whose edges do not cross."""
    doubled = sum((a * d - c * b for (a, b), (c, d) in _edges(shape)), Fraction(0))
    return abs(doubled) / 2


def free_area(cloth: Cloth) -> int:
    """Square marks of a cloth inside its outline and on no flaw, or a few less; worked out in floats."""
    import shapely  # 0.1 s

    whole = shapely.box(0, 0, cloth.across, cloth.along)
    edge, *flaws = (
        shapely.make_valid(shapely.Polygon(_floats(shape))) for shape in (cloth.outline or (), *cloth.flaws)
    )
    free = whole if cloth.outline is None else whole.intersection(edge)
    for flaw in flaws:
        free = free.difference(flaw)
    return int(free.area * (1 - _NEAR))


def _wrong_outline(plan: Plan, cloth: Cloth) -> Iterator[str]:
    import shapely

    if cloth.buy:
        yield "cloth to buy has neither an outline nor flaws."
    if any(not shapely.is_valid(shapely.Polygon(_floats(shape))) for shape in cloth.shapes):
        yield "edges of its outline or of a flaw cross."
    if cloth.outline is None:
        return
    across, along = (max(values) for values in zip(*cloth.outline, strict=True))
    if (across, along) != (cloth.width, cloth.length):
        size = f"{plan.show(cloth.width)} by {plan.show(cloth.length)}"
        yield f"its outline reaches {plan.show(across)} across and {plan.show(along)} along, not {size}."
    if not cloth.whole:
        yield "cloth with an outline is taken whole."


def _floats(shape: Shape) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in shape]


def _edges(shape: Shape) -> Iterator[tuple[Corner, Corner]]:
    return pairwise((*shape, shape[0]))


def _holds(shape: Shape, at: Rectangle) -> bool:
    return not _runs_through(shape, at) and _is_inside(shape, _middle(at))


def _middle(at: Rectangle) -> Corner:
    return Fraction(at.x + at.right, 2), Fraction(at.y + at.end, 2)


def _runs_through(shape: Shape, at: Rectangle) -> bool:
    """Whether some edge has a point within the rectangle, its own edges left out."""
    return any(_crosses(start, end, at) for start, end in _edges(shape))


def _crosses(start: Corner, end: Corner, at: Rectangle) -> bool:
    """Whether a line from `start` (0) to `end` (1) is within the rectangle somewhere on the way."""
    first, last = Fraction(-1), Fraction(2)  # it is so between these two, ends left out
    for axis, low, high in ((0, at.x, at.right), (1, at.y, at.end)):
        begin, step = start[axis], end[axis] - start[axis]
        if step == 0:
            if not low < begin < high:
                return False
            continue
        near, far = sorted(((low - begin) / step, (high - begin) / step))
        first, last = max(first, near), min(last, far)
    return first < last and first < 1 and last > 0


def _is_inside(shape: Shape, point: Corner) -> bool:
    """Whether a ray from the point upwards crosses an odd number of edges."""
    x, y = point
    above = 0
    for (a, b), (c, d) in _edges(shape):
        if min(a, c) <= x < max(a, c):
            above += b + (d - b) * (x - a) / (c - a) > y
    return above % 2 == 1
