"""Free layouts of few items: CP-SAT from the best layout known, towards a proof.

All stocks lie side by side in one plane, a wall of one unit between neighbours. A lid covers what is above each
sheet, and the open stock above its length: a variable that is made as small as can be. So nothing has to say in
which stock an item lies; not to overlap is enough.

Three things spare it work, and no least layout is lost by them. Items pushed to the lower left lie at sums of sizes
(normal patterns: Herz 1972). Equal items keep an order. On one stock alone, a layout can be mirrored, so that the
largest item that has no equal lies with its middle in the lower left quarter; pushing it on does not take it out.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Effort, Item, Packing, Place, Problem

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

__all__ = ["improve_free"]

MOST_PIECES = 24
WORK = {Effort.QUICK: 0.0, Effort.CAREFUL: 2.0, Effort.PROOF: 20.0}  # CP-SAT's deterministic seconds
GLANCE = 0.02  # seconds between looks at a halt


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


def _sums(sizes: Iterable[int], top: int) -> list[int]:
    """Sums of some of the sizes that are at most `top`."""
    reached = 1  # bit n: the sum n
    for size in sizes:
        reached |= reached << size & (2 << top) - 1
    return [total for total in range(top + 1) if reached >> total & 1]


def _corners(problem: Problem, top: int) -> tuple[list[int], list[int]]:
    """Every x and every y in the plane at which an item may lie that is pushed to the lower left."""
    both = [side for item in problem.items if item.turnable for side in (item.w, item.h) for _ in range(item.demand)]
    fixed = [item for item in problem.items if not item.turnable for _ in range(item.demand)]
    widths, heights = both + [item.w for item in fixed], both + [item.h for item in fixed]
    stocks = zip(_starts(problem), problem.stocks, strict=True)
    return [start + x for start, stock in stocks for x in _sums(widths, stock.w)], _sums(heights, top)


def _item(
    model: cp_model.CpModel, item: Item, corners: tuple[cp_model.Domain, cp_model.Domain], right: int, top: int
) -> _Piece:
    """A rectangle with its lower left corner among `corners`, turned if it may be."""
    x, y = (model.new_int_var_from_domain(corner, "") for corner in corners)
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
    across, along = (cp_model.Domain.from_values(values) for values in _corners(problem, top))
    groups = [[_item(model, item, (across, along), right, top) for _ in range(item.demand)] for item in problem.items]
    boxes = [piece.box for group in groups for piece in group] + _fixtures(model, problem, length, top)
    model.add_no_overlap_2d([box.across for box in boxes], [box.along for box in boxes])
    model.add_cumulative([box.across for box in boxes], [box.h for box in boxes], top)
    model.add_cumulative([box.along for box in boxes], [box.w for box in boxes], right)
    _break_symmetry(model, problem, groups, length, top)
    _hint(model, problem, groups, best)
    model.minimize(length)
    return model, groups


def _break_symmetry(
    model: cp_model.CpModel, problem: Problem, groups: Sequence[Sequence[_Piece]], length: cp_model.IntVar, top: int
) -> None:
    """Equal items in the order of their corners; the largest single one in the lower left quarter of a lone stock."""
    for group in groups:
        for one, two in pairwise(group):
            model.add((top + 1) * one.x + one.y <= (top + 1) * two.x + two.y)
    singles = [number for number, item in enumerate(problem.items) if item.demand == 1]
    if len(problem.stocks) == 1 and singles:
        [largest] = groups[max(singles, key=lambda n: problem.items[n].w * problem.items[n].h)]
        model.add(problem.stocks[0].w - 2 * largest.x >= largest.box.w)
        model.add(length - 2 * largest.y >= largest.box.h)


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


def improve_free(
    problem: Problem, best: Packing, *, bound: int, effort: Effort, seed: int, halt: Halt = NEVER
) -> tuple[Packing, bool]:
    """Look for a shorter free layout of at most `MOST_PIECES` items.

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
    halt
        Ends the search early.

    Returns
    -------
    tuple of Packing and bool
        `best` where no shorter one is found, and whether the search came to its end: then there is none.
    """
    if best.length <= bound or problem.pieces > MOST_PIECES or not WORK[effort] or halt.now:
        return best, best.length <= bound
    from ortools.sat.python import cp_model

    model, groups = _model(problem, best, bound)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1  # more, or one interleaved, would make the answer depend on the machine's pace
    solver.parameters.max_deterministic_time = WORK[effort]
    solver.parameters.random_seed = seed
    solver.parameters.use_energetic_reasoning_in_no_overlap_2d = True
    solver.parameters.catch_sigint_signal = False  # Ctrl-C is for whoever may halt
    status = _solve(solver, model, halt)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(model.validate())
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return _read(problem, groups, solver) if found else best, status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)


def _solve(solver: cp_model.CpSolver, model: cp_model.CpModel, halt: Halt) -> cp_model.CpSolverStatus:
    """Solve; beside a thread that does so, watch for a halt if there can be one."""
    if not halt.possible:
        return solver.solve(model)
    with ThreadPoolExecutor(max_workers=1) as pool:
        running = pool.submit(solver.solve, model)
        try:
            while not wait([running], timeout=GLANCE).done and not halt.now:
                pass
        finally:  # also where Ctrl-C ends it all
            solver.stop_search()
        return running.result()
