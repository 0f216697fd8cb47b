"""A packing of smaller items made one of larger ones: its lines move apart, in their order, as far as these need."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Packing, Place, Problem, reach

__all__ = ["stretch"]

_NO_CLAIM = Bound(length=0, theorem="")
_Span = tuple[int, int, int]  # start and end on the old lines; size of the new item


def stretch(packing: Packing, smaller: Problem, problem: Problem) -> Packing | None:
    """Lay the items of `problem` as `packing` has those of a `smaller` one; None where they do not go there.

    The items of both are the same but for their sizes. Every line on which some item starts keeps its place among the
    others, and lies behind all items that ended before it: what one straight cut parted, it parts still::

        +--+---+        +----+---+      line 0 stays, line 1 follows the end of the widened item,
        |  |   |   →    |    |   |      and all that starts on a line starts on it still
        0  1            0    1
    """
    if [item.demand for item in problem.items] != [item.demand for item in smaller.items]:
        return None
    if len(problem.stocks) != len(smaller.stocks):
        return None
    places: list[Place] = []
    for stock in range(len(problem.stocks)):
        laid = [place for place in packing.places if place.stock == stock]
        old = [_size(smaller, place) for place in laid]
        new = [_size(problem, place) for place in laid]
        across = _moved([(p.x, p.x + w, size[0]) for p, (w, _), size in zip(laid, old, new, strict=True)])
        along = _moved([(p.y, p.y + h, size[1]) for p, (_, h), size in zip(laid, old, new, strict=True)])
        places += (replace(place, x=x, y=y) for place, x, y in zip(laid, across, along, strict=True))
    stretched = Packing(places=tuple(places), length=reach(problem, places))
    return None if judge(problem, stretched, _NO_CLAIM) else stretched


def _size(problem: Problem, place: Place) -> tuple[int, int]:
    """Width and height of an item as it lies."""
    item = problem.items[place.item]
    return (item.h, item.w) if place.turned else (item.w, item.h)


def _moved(spans: Sequence[_Span]) -> list[int]:
    """Where each span starts anew, behind everything that ended before it."""
    ends = iter(sorted(range(len(spans)), key=lambda number: spans[number][1]))
    moved: dict[int, int] = {}
    line, ended = 0, next(ends, None)
    for start in sorted({span[0] for span in spans}):
        while ended is not None and spans[ended][1] <= start:
            line = max(line, moved[spans[ended][0]] + spans[ended][2])
            ended = next(ends, None)
        moved[start] = line
    return [moved[start] for start, _, _ in spans]
