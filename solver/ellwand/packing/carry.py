"""A packing of larger items holds smaller ones: each lies in the corner of a place that one of the larger had."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, reach

__all__ = ["carry"]

_NO_CLAIM = Bound(length=0, theorem="")


def carry(packing: Packing, larger: Problem, problem: Problem) -> Packing | None:
    """Lay the items of `problem` where `packing` has those of a `larger` one; None where that does not work out.

    The largest items choose first, each the smallest place that holds it. What comes of it is no longer than
    `packing`. Where items of one column shrink to different widths, more stages of cuts would be needed than three:
    the judge refuses that.
    """
    if len(problem.stocks) != len(larger.stocks):
        return None
    free = _spots(packing, larger)
    places: list[Place] = []
    for number, item in sorted(enumerate(problem.items), key=lambda pair: -pair[1].w * pair[1].h):
        for _ in range(item.demand):
            place = _take(free, number, item)
            if place is None:
                return None
            places.append(place)
    carried = Packing(places=tuple(places), length=reach(problem, places))
    return None if judge(problem, carried, _NO_CLAIM) else carried


def _spots(packing: Packing, problem: Problem) -> dict[tuple[int, int], list[Place]]:
    """The places of a packing by the size that lies there, as it lies; the last are taken first."""
    spots: dict[tuple[int, int], list[Place]] = defaultdict(list)
    for place in sorted(packing.places, key=lambda place: (place.stock, place.y, place.x), reverse=True):
        item = problem.items[place.item]
        spots[(item.h, item.w) if place.turned else (item.w, item.h)].append(place)
    return spots


def _take(free: Mapping[tuple[int, int], list[Place]], number: int, item: Item) -> Place | None:
    """The smallest free place that holds an item, no more free."""
    ways = [(item.w, item.h, False), *([(item.h, item.w, True)] if item.turnable else [])]
    fitting = [
        (w * h, abs(w - across) + abs(h - along), (w, h), turned)
        for (w, h), places in free.items()
        for across, along, turned in ways
        if places and across <= w and along <= h
    ]
    if not fitting:
        return None
    _, _, size, turned = min(fitting)
    spot = free[size].pop()
    return Place(item=number, stock=spot.stock, x=spot.x, y=spot.y, turned=turned)
