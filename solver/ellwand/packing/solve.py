"""The one way in: a problem to a judged packing, with what proves how good it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ellwand.packing.blocks import search_blocks
from ellwand.packing.bound import lower_bound
from ellwand.packing.free import pack_free
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Effort, Packing, Problem, Progress, Result, Watch
from ellwand.packing.rotary import pack_rotary

__all__ = ["UnsoundPackingError", "solve"]


class UnsoundPackingError(AssertionError):
    """The judge found faults in a packing: an error of this program, never of its user."""


def solve(
    problem: Problem, *, effort: Effort, seed: int = 0, watch: Watch | None = None, bound: Bound | None = None
) -> Result:
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
    bound
        Its lower bound, where the caller has worked it out already.

    Raises
    ------
    UnsoundPackingError
        If the judge refuses the packing.
    """
    bound = bound or lower_bound(problem)
    packing, method = _pack(problem, bound, effort, seed, watch)
    faults = judge(problem, packing, bound)
    if faults:
        raise UnsoundPackingError("; ".join(faults))
    return Result(packing=packing, bound=bound, method=method)


def _pack(problem: Problem, bound: Bound, effort: Effort, seed: int, watch: Watch | None) -> tuple[Packing, str]:
    """The shortest packing of every search that may help, and which one found it; none runs once the bound is met."""
    if not any(item.demand for item in problem.items):
        return Packing(places=(), length=0), "nothing to pack"
    told = _falling(watch)
    best, method = pack_rotary(problem, bound=bound.length, effort=Effort.QUICK, seed=seed, watch=told), "bands"
    for name, search in _further(problem, bound, effort, seed, told):
        if best.length <= bound.length:
            break
        packing = search(best)
        if packing.length < best.length:
            best, method = packing, name
            if told is not None:
                told(Progress(length=best.length, bound=bound.length, method=method))
    return best, method


def _falling(watch: Watch | None) -> Watch | None:
    """`watch`, told of nothing that is no shorter than what it was told before."""
    if watch is None:
        return None
    told: list[int] = []

    def report(progress: Progress) -> None:
        if not told or progress.length < told[-1]:
            told.append(progress.length)
            watch(progress)

    return report


def _further(
    problem: Problem, bound: Bound, effort: Effort, seed: int, watch: Watch | None
) -> Iterator[tuple[str, Callable[[Packing], Packing]]]:
    """What may shorten a quick layout of bands: more of the same, deeper cuts, or any arrangement."""
    least = bound.length
    if not problem.guillotine:
        yield "free", lambda _: pack_free(problem, bound=least, effort=effort, seed=seed, watch=watch)
    if effort is not Effort.QUICK:
        yield "bands", lambda _: pack_rotary(problem, bound=least, effort=effort, seed=seed, watch=watch)
    if problem.guillotine and problem.stages is None:
        yield "blocks", lambda best: search_blocks(problem, best, bound=least, effort=effort, seed=seed)
