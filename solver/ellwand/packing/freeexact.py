"""Free layouts of few items: CP-SAT from the best layout known, towards a proof.

All stocks lie side by side in one plane, a wall of one unit between neighbours. A lid covers what is above each
sheet, and the open stock above its length: a variable that is made as small as can be. So nothing has to say in
which stock an item lies; not to overlap is enough.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from ellwand.packing.problem import Effort, Item, Packing, Place, Problem

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

__all__ = ["improve_free"]

MOST_PIECES = 24
WORK = {Effort.QUICK: 0.0, Effort.CAREFUL: 2.0, Effort.PROOF: 20.0}  # CP-SAT's deterministic seconds


@dataclass(frozen=True, slots=True)
class _Box:
    """A rectangle of the model: its two intervals and their sizes."""

    across: cp_model.IntervalVar
    along: cp_model.IntervalVar
    w: cp_model.LinearExprT
    h: cp_model.LinearExprT


@dataclass(frozen=True, slots=True)
class _Piece:
    """The rectangle of an item, its lower left corner, and whether it is turned."""

    box: _Box
    x: cp_model.IntVar
    y: cp_model.IntVar
    turned: cp_model.IntVar


def _starts(problem: Problem) -> list[int]:
    """Where each stock begins in the plane."""
    return list(accumulate((stock.w + 1 for stock in problem.stocks[:-1]), initial=0))


def _item(model: cp_model.CpModel, item: Item, right: int, top: int) -> _Piece:
    """A rectangle that may lie anywhere in the plane, turned if it may be."""
    x, y = model.new_int_var(0, right, ""), model.new_int_var(0, top, "")
    turned = model.new_int_var(0, int(item.turnable and item.w != item.h), "")
    w, h = item.w + (item.h - item.w) * turned, item.h + (item.w - item.h) * turned
    end_x, end_y = model.new_int_var(0, right, ""), model.new_int_var(0, top, "")
    across, along = model.new_interval_var(x, w, end_x, ""), model.new_interval_var(y, h, end_y, "")
    return _Piece(_Box(across, along, w, h), x, y, turned)


def _fixtures(model: cp_model.CpModel, problem: Problem, length: cp_model.IntVar, top: int) -> list[_Box]:
    """The lids over the stocks and the walls between them."""
    boxes = []
    for start, stock in zip(_starts(problem), problem.stocks, strict=True):
        low = length if stock.h is None else stock.h
        lid, wall = (start, stock.w, low, top - low), (start + stock.w, 1, 0, top)
        for x, w, y, h in (lid, wall) if stock is not problem.stocks[-1] else (lid,):
            across = model.new_fixed_size_interval_var(x, w, "")
            boxes.append(_Box(across, model.new_interval_var(y, h, top, ""), w, h))
    return boxes


def _model(problem: Problem, best: Packing, bound: int) -> tuple[cp_model.CpModel, list[list[_Piece]]]:
    """Everything in the plane, nothing overlapping, the open stock shorter than in `best`; the pieces item by item."""
    from ortools.sat.python import cp_model

    right = _starts(problem)[-1] + problem.stocks[-1].w
    top = max(best.length - 1, *(stock.h or 0 for stock in problem.stocks))
    model = cp_model.CpModel()
    length = model.new_int_var(bound, best.length - 1, "")
    groups = [[_item(model, item, right, top) for _ in range(item.demand)] for item in problem.items]
    boxes = [piece.box for group in groups for piece in group] + _fixtures(model, problem, length, top)
    model.add_no_overlap_2d([box.across for box in boxes], [box.along for box in boxes])
    model.add_cumulative([box.across for box in boxes], [box.h for box in boxes], top)
    model.add_cumulative([box.along for box in boxes], [box.w for box in boxes], right)
    for group in groups:  # equal items in the order of their corners
        for one, two in pairwise(group):
            model.add((top + 1) * one.x + one.y <= (top + 1) * two.x + two.y)
    _hint(model, problem, groups, best)
    model.minimize(length)
    return model, groups


def _hint(model: cp_model.CpModel, problem: Problem, groups: Sequence[Sequence[_Piece]], best: Packing) -> None:
    starts = _starts(problem)
    for number, group in enumerate(groups):
        places = (place for place in best.places if place.item == number)
        corners = sorted((starts[place.stock] + place.x, place.y, place.turned) for place in places)
        for piece, (x, y, turned) in zip(group, corners, strict=True):
            model.add_hint(piece.x, x)
            model.add_hint(piece.y, y)
            model.add_hint(piece.turned, int(turned))


def _read(problem: Problem, groups: Sequence[Sequence[_Piece]], solver: cp_model.CpSolver) -> Packing:
    starts, places, length = _starts(problem), [], 0
    for number, group in enumerate(groups):
        item = problem.items[number]
        for piece in group:
            x, y, turned = solver.value(piece.x), solver.value(piece.y), bool(solver.value(piece.turned))
            stock = bisect_right(starts, x) - 1
            places.append(Place(item=number, stock=stock, x=x - starts[stock], y=y, turned=turned))
            if problem.stocks[stock].h is None:
                length = max(length, y + (item.w if turned else item.h))
    return Packing(places=tuple(places), length=length)


def improve_free(problem: Problem, best: Packing, *, bound: int, effort: Effort, seed: int) -> Packing:
    """Look for a shorter free layout of at most `MOST_PIECES` items; `best` where none is found.

    Parameters
    ----------
    problem
        On a grid as coarse as can be, see `reduce`.
    best
        A layout of it, which the search must beat and starts from.
    bound
        No layout is shorter.
    effort
        How much deterministic work CP-SAT may do; QUICK does without it.
    seed
        Of CP-SAT.
    """
    if best.length <= bound or sum(item.demand for item in problem.items) > MOST_PIECES or not WORK[effort]:
        return best
    from ortools.sat.python import cp_model

    model, groups = _model(problem, best, bound)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1  # more, or one interleaved, would make the answer depend on the machine's pace
    solver.parameters.max_deterministic_time = WORK[effort]
    solver.parameters.random_seed = seed
    solver.parameters.use_energetic_reasoning_in_no_overlap_2d = True
    status = solver.solve(model)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(model.validate())
    return _read(problem, groups, solver) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else best
