"""The coarsest grid without loss: every size divided by what all of them share along an axis.

In a layout pushed to the lower left, every x is a sum of widths and every y a sum of heights of items as they
lie. All of these are multiples of the common divisor, so a stock may be rounded down to it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import gcd

from ellwand.packing.problem import Packing, Problem

__all__ = ["Grid", "reduce"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Steps of the reduced problem, in units of the given one."""

    x: int
    y: int

    def restore(self, packing: Packing) -> Packing:
        """Map a packing of the reduced problem back to the given one."""
        places = tuple(replace(place, x=place.x * self.x, y=place.y * self.y) for place in packing.places)
        return Packing(places=places, length=packing.length * self.y)


def reduce(problem: Problem) -> tuple[Problem, Grid]:
    """Divide all sizes by their common divisor; a stock smaller than that gets a side of 0.

    Items and stocks keep their numbers. Both axes share one divisor as soon as an item may be turned,
    for its sides then lie along either.
    """
    x = gcd(*(item.w for item in problem.items)) or 1
    y = gcd(*(item.h for item in problem.items)) or 1
    if any(item.turnable for item in problem.items):
        x = y = gcd(x, y)
    items = tuple(replace(item, w=item.w // x, h=item.h // y) for item in problem.items)
    stocks = tuple(
        replace(stock, w=stock.w // x, h=None if stock.h is None else stock.h // y) for stock in problem.stocks
    )
    return replace(problem, items=items, stocks=stocks), Grid(x=x, y=y)
