"""Judging where things lie: pieces and offcuts inside their cloth, and clear of each other."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Iterator, Sequence

from ellwand.verdict.cuts import wrong_cuts
from ellwand.verdict.shapes import wrong_shape
from ellwand.verdict.tables import Cloth, Fabric, Placed, Plan, Rectangle

__all__ = ["wrong_layout", "wrong_places"]


def wrong_layout(plan: Plan, fabric: Fabric, cloth: Cloth) -> Iterator[str]:
    """Faults in the layout of one cloth."""
    name = f'Cloth "{cloth.id}"'
    for placed in cloth.placed:
        if not _is_inside(placed.at, cloth.across, cloth.along):
            yield f"{name}: {plan.where(placed)} leaves the cloth."
    for offcut in cloth.offcuts:
        if not _is_inside(offcut, cloth.across, cloth.taken_along):
            yield f"{name}: the offcut at {_corner(plan, offcut)} leaves the cloth."
        if min(offcut.across, offcut.along) < plan.keep:
            yield f"{name}: the offcut at {_corner(plan, offcut)} has a side under {plan.show(plan.keep)}: it is scrap."
    overlaps = list(_overlaps(plan, cloth))
    yield from (f"{name}: {fault}" for fault in overlaps)
    yield from (f"{name}: {fault}" for fault in wrong_shape(plan, cloth))
    rotary = fabric.rotary and not cloth.odd
    if not rotary and cloth.cuts:
        yield f"{name}: a free layout has no cuts."
    if rotary and not overlaps:
        yield from wrong_cuts(plan, cloth)


def wrong_places(plan: Plan, placed: Sequence[Placed], across: int, along: int) -> Iterator[str]:
    """Pieces that leave a rectangle, or overlap."""
    for item in placed:
        if not _is_inside(item.at, across, along):
            yield f"{plan.where(item)} leaves the cloth."
    for one, other in _crossing([item.at for item in placed]):
        yield f"{plan.where(placed[one])} and {plan.where(placed[other])} overlap."


def _is_inside(at: Rectangle, across: int, along: int) -> bool:
    return at.x >= 0 and at.y >= 0 and at.right <= across and at.end <= along


def _corner(plan: Plan, at: Rectangle) -> str:
    return f"{plan.show(at.x)}, {plan.show(at.y)}"


def _overlaps(plan: Plan, cloth: Cloth) -> Iterator[str]:
    names = [plan.where(placed) for placed in cloth.placed]
    names += [f"the offcut at {_corner(plan, offcut)}" for offcut in cloth.offcuts]
    for one, other in _crossing([*(placed.at for placed in cloth.placed), *cloth.offcuts]):
        yield f"{names[one]} and {names[other]} overlap."


def _crossing(rectangles: Sequence[Rectangle]) -> Iterator[tuple[int, int]]:
    """Numbers of rectangles that overlap: a line sweeps along the cloth and keeps those it meets in order of x."""
    ends = [(at.end, False, number) for number, at in enumerate(rectangles)]
    starts = [(at.y, True, number) for number, at in enumerate(rectangles)]
    line: list[tuple[int, int]] = []
    for _, begins, number in sorted(ends + starts):
        at = rectangles[number]
        spot = bisect(line, (at.x, number))
        if not begins:
            if spot and line[spot - 1] == (at.x, number):
                del line[spot - 1]
            continue
        beside = [other for _, other in line[max(spot - 1, 0) : spot + 1]]
        met = [other for other in beside if rectangles[other].x < at.right and at.x < rectangles[other].right]
        yield from ((other, number) for other in met)
        if not met:
            line.insert(spot, (at.x, number))
