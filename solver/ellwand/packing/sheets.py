"""Cut into fewer sheets where the open stock gets no longer by it."""

from __future__ import annotations

from dataclasses import replace

from ellwand.packing.construct import Found, demand_of, length_of, open_case, put_together
from ellwand.packing.exact import choose_bands
from ellwand.packing.greedy import Shop, fill_rooms
from ellwand.packing.problem import Problem
from ellwand.packing.slabs import Setup, rest_of, rooms_of

__all__ = ["spare_sheets"]

WORK = 0.05  # of the whole numbers' deterministic seconds, for a sheet


def spare_sheets(problem: Problem, shop: Shop, found: Found) -> Found:
    """Leave out the sheets that are used least, one after the other, as long as the rest takes what was on them."""
    area = {cutting.stock: cutting.h * problem.stocks[cutting.stock].w for cutting in found.layout.cuttings[:-1]}
    used = sorted((number for number, size in area.items() if size), key=lambda number: (area[number], number))
    spared = {number for number, size in area.items() if not size}
    for number in used:
        if shop.budget.over:
            break
        out = spared | {number}
        setup = replace(
            found.setup,
            order=tuple(one for one in found.setup.order if one not in out),
            slabs=tuple(slab for slab in found.setup.slabs if slab.stock not in out),
        )
        less = _no_longer(problem, shop, setup, found.layout.length)
        if less is not None and less.merit < found.merit:
            found, spared = less, out
    return found


def _no_longer(problem: Problem, shop: Shop, setup: Setup, length: int) -> Found | None:
    """A layout with at most this length of the open stock, greedily or in whole numbers."""
    price = [float(one) for one in shop.area]
    demand = demand_of(problem)
    filled = fill_rooms(shop, rooms_of(setup, problem.stocks), rest_of(setup, demand), price)
    found = put_together(problem, setup, filled)
    if found.layout.length <= length:
        return found
    case = open_case(problem, shop, setup)
    if case.promise > length:
        return None
    chosen = choose_bands(case.master, length + 1 - length_of(setup, problem), 0, WORK)
    return None if chosen is None else put_together(problem, setup, chosen)
