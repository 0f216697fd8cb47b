"""Other packers at their best: rectpack's straight cuts and PackingSolver's, where they are installed.

Both take whole numbers and single pieces, and give layouts by straight cuts. Neither is told more than the problem.
"""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from itertools import product
from math import ceil, inf
from time import perf_counter
from typing import Any

from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem

Tell = Callable[[int], None]

_SPLITS = ("Llas", "Slas", "Sas", "Las", "Maxas", "Minas")
_CHOICES = ("Bssf", "Baf", "Blsf")
_ORDERS: tuple[Callable[[Item], tuple[float, ...]], ...] = (
    lambda item: (item.w * item.h,),
    lambda item: (max(item.w, item.h), min(item.w, item.h)),
    lambda item: (min(item.w, item.h), max(item.w, item.h)),
    lambda item: (item.w + item.h,),
    lambda item: (abs(item.w - item.h),),
    lambda item: (item.w / item.h,),
)


_NO_BOUND = Bound(length=0, theorem="")


class _TimeIsUpError(Exception):
    """Raised by the alarm."""


def repeat_rectpack(problem: Problem, seconds: float, tell: Tell) -> tuple[Packing | None, None]:
    """Try rectpack's 18 rules of straight cuts with pieces sorted in six ways, on a cloth shorter by one each time.

    Each rule is tried with offcuts kept apart and joined. Joined ones may make cuts that are not straight, so that
    every layout is judged, in rectpack's own time.
    It stops after so many seconds of the processor, or when no rule finds anything shorter.
    """
    best: Packing | None = None

    def ring(*_: object) -> None:
        raise _TimeIsUpError

    signal.signal(signal.SIGPROF, ring)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        for packing in _shorter_and_shorter(problem):
            best = packing
            tell(packing.length)
    except _TimeIsUpError:
        pass
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
    return best, None


def _shorter_and_shorter(problem: Problem) -> Iterator[Packing]:
    rules = list(product(_ORDERS, _CHOICES, _SPLITS, (False, True)))
    length, failed = sum(max(item.w, item.h) * item.demand for item in problem.items), 0
    while failed < len(rules):
        failed = 0
        for order, choice, split, joined in rules:
            packing = _rectpack_once(problem, length, order, f"Guillotine{choice}{split}", joined)
            failed += packing is None
            if packing is not None:
                yield packing
                length = packing.length - 1


def _rectpack_once(
    problem: Problem, length: int, order: Callable[[Item], tuple[float, ...]], rule: str, joined: bool
) -> Packing | None:
    """A layout by one rule; None when a piece finds no room within `length`, or the judge refuses it."""
    import rectpack

    cloth = getattr(rectpack, rule)(problem.stocks[0].w, length, merge=joined)
    places = []
    for number in sorted(range(len(problem.items)), key=lambda number: order(problem.items[number]), reverse=True):
        item = problem.items[number]
        cloth.rot = item.turnable  # the package turns all pieces or none, but asks anew for each
        for _ in range(item.demand):
            rectangle = cloth.add_rect(item.w, item.h)
            if rectangle is None:
                return None
            places.append(_place(item, number, rectangle.x, rectangle.y, rectangle.width))
    packing = _packing(problem, places)
    return None if judge(problem, packing, _NO_BOUND) else packing


_THREE_STAGES = 1.0  # seconds
_PATIENCE = 0.3  # of all the time, for the first search
_WIDE = 1.3  # times the area's length, between which the first search halves


def bisect_packingsolver(problem: Problem, seconds: float, tell: Tell) -> tuple[Packing | None, None]:
    """Let PackingSolver search three stages for a second, then any number of them at lengths that are bisected.

    Its own search for the shortest cloth with any number of stages lowers the length by 1 % at a time: far behind.
    A search builds its blocks first, which takes long or short; so each may take twice as long as the last that
    found a layout, and twice that each time that no length is left to try.
    """
    end = perf_counter() + seconds
    least = _least(problem)
    best = _three_stages(problem, min(_THREE_STAGES, seconds), tell)
    low, high, patience = least, ceil(_WIDE * least), _PATIENCE * seconds
    while (now := perf_counter()) < end and (best is None or best.length > least):
        high = min(high, best.length) if best else high
        found = _any_stages(problem, (low + high) // 2, min(patience, end - now))
        if found is not None:
            best, high, patience = found, found.length, 2 * (perf_counter() - now)
            tell(found.length)
        else:
            low = (low + high) // 2 + 1
        if low >= high:
            low, high, patience = least, ceil(_WIDE * high), 2 * patience
    return best, None


def _least(problem: Problem) -> int:
    """The length that the pieces' area fills, at least."""
    return -(-sum(item.w * item.h * item.demand for item in problem.items) // problem.stocks[0].w)


def _three_stages(problem: Problem, seconds: float, tell: Tell) -> Packing | None:
    import packingsolver.rectangleguillotine as peer

    builder = peer.InstanceBuilder()
    builder.set_objective(peer.Objective.OpenDimensionY)
    builder.set_number_of_stages(3)
    builder.set_first_stage_orientation(peer.CutOrientation.Horizontal)
    longest = sum(max(item.w, item.h) * item.demand for item in problem.items)
    shortest = [inf]

    def heard(output: Any) -> None:
        if output.solution.full() and output.solution.height() < shortest[0]:
            shortest[0] = output.solution.height()
            tell(output.solution.height())

    return _optimized(peer, builder, problem, longest, seconds, heard)


def _any_stages(problem: Problem, length: int, seconds: float) -> Packing | None:
    import packingsolver.rectangleguillotine as peer

    builder = peer.InstanceBuilder()
    builder.set_objective(peer.Objective.Feasibility)
    builder.set_number_of_stages_unlimited()
    return _optimized(peer, builder, problem, length, seconds, lambda _: None)


def _optimized(
    peer: Any, builder: Any, problem: Problem, length: int, seconds: float, heard: Callable[[Any], None]
) -> Packing | None:
    """What PackingSolver finds on a cloth of this length; None where not every piece has a place."""
    builder.add_bin_type(problem.stocks[0].w, length, copies=1)
    for item in problem.items:
        builder.add_item_type(item.w, item.h, copies=item.demand, oriented=not item.turnable)
    parameters = peer.OptimizeParameters()
    parameters.time_limit = seconds
    parameters.verbosity_level = 0
    parameters.new_solution_callback = heard
    solution = peer.optimize(builder.build(), parameters).solution
    if not solution.full():
        return None
    pieces = [node for node in solution.bin(0).nodes if node.item_type_id >= 0 and not node.children]
    places = [
        _place(problem.items[node.item_type_id], node.item_type_id, node.l, node.b, node.r - node.l) for node in pieces
    ]
    return _packing(problem, places)


def _place(item: Item, number: int, x: int, y: int, width: int) -> Place:
    return Place(item=number, stock=0, x=x, y=y, turned=width != item.w)


def _packing(problem: Problem, places: list[Place]) -> Packing:
    heights = (problem.items[place.item].w if place.turned else problem.items[place.item].h for place in places)
    ends = (place.y + height for place, height in zip(places, heights, strict=True))
    return Packing(places=tuple(places), length=max(ends))
