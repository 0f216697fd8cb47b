"""The one way in: a problem to a judged packing, with what proves how good it is."""

from __future__ import annotations

from ellwand.packing.blocks import search_blocks
from ellwand.packing.bound import lower_bound
from ellwand.packing.free import pack_free
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Effort, Packing, Problem, Progress, Result, Watch
from ellwand.packing.rotary import pack_rotary

__all__ = ["UnsoundPackingError", "solve"]


class UnsoundPackingError(AssertionError):
    """The judge found faults in a packing: an error of this program, never of its user."""


def solve(problem: Problem, *, effort: Effort, seed: int = 0, watch: Watch | None = None) -> Result:
    """Pack a problem, and say how far the packing can be from the least length.

    Parameters
    ----------
    problem
        What to pack into what; sizes in whole grid cells.
    effort
        How much work is done; equal input, effort and seed give an equal packing.
    seed
        Of the random choices.
    watch
        Is told of each better length.

    Raises
    ------
    UnsoundPackingError
        If the judge refuses the packing.
    """
    bound = lower_bound(problem)
    packing, method = _pack(problem, bound, effort, seed, watch)
    faults = judge(problem, packing, bound)
    if faults:
        raise UnsoundPackingError("; ".join(faults))
    return Result(packing=packing, bound=bound, method=method)


def _pack(problem: Problem, bound: Bound, effort: Effort, seed: int, watch: Watch | None) -> tuple[Packing, str]:
    if not any(item.demand for item in problem.items):
        return Packing(places=(), length=0), "nothing to pack"
    if not problem.guillotine:
        return pack_free(problem, bound=bound.length, effort=effort, seed=seed, watch=watch), "free"
    packing = pack_rotary(problem, bound=bound.length, effort=effort, seed=seed, watch=watch)
    if problem.stages is not None or packing.length <= bound.length:
        return packing, "bands"
    better = search_blocks(problem, packing, bound=bound.length, effort=effort, seed=seed)
    if better.length >= packing.length:
        return packing, "bands"
    if watch is not None:
        watch(Progress(length=better.length, bound=bound.length, method="blocks"))
    return better, "blocks"
