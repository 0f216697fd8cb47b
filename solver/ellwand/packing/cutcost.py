"""What straight cuts cost: the same items laid out freely, and what is known of the difference."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from ellwand.packing.problem import Effort, Problem, Result, Watch
from ellwand.packing.solve import solve

__all__ = ["CutCost", "cost_of_cuts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCost:
    """A packing by straight cuts beside a free one of the same items and stocks."""

    straight: Result
    free: Result

    @property
    def found(self) -> int:
        """How much longer the one by straight cuts is than the free one."""
        return self.straight.packing.length - self.free.packing.length

    @property
    def at_least(self) -> int:
        """What straight cuts cost for sure, by their own bound."""
        return max(0, self.straight.bound.length - self.free.packing.length)

    @property
    def at_most(self) -> int:
        """What they can cost, by the free bound."""
        return self.straight.packing.length - self.free.bound.length

    @property
    def known(self) -> bool:
        """Whether both are proven, so that `found` is the cost."""
        return self.at_least == self.at_most


def cost_of_cuts(
    problem: Problem,
    straight: Result,
    *,
    effort: Effort,
    seed: int = 0,
    watch: Watch | None = None,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
) -> CutCost:
    """Lay the items of a guillotine problem out freely, too.

    A layout by straight cuts is a free one, so that no free packing is longer than `straight`.

    Parameters
    ----------
    problem
        As it was solved.
    straight
        What `solve` found for it.
    effort, seed, watch, seconds, stop
        As for `solve`.

    Examples
    --------
    >>> from ellwand.packing.problem import Item, Stock
    >>> items = (
    ...     Item(w=3, h=1, demand=2, turnable=False),
    ...     Item(w=1, h=3, demand=2, turnable=False),
    ...     Item(w=2, h=2, demand=1, turnable=False),
    ... )
    >>> problem = Problem(items=items, stocks=(Stock(w=4, h=None),), guillotine=True, stages=None)
    >>> cost = cost_of_cuts(problem, solve(problem, effort=Effort.QUICK), effort=Effort.QUICK)
    >>> cost.found, cost.known
    (1, True)
    """
    loose = replace(problem, guillotine=False, stages=None)
    free = solve(loose, effort=effort, seed=seed, watch=watch, seconds=seconds, stop=stop)
    if free.packing.length > straight.packing.length:
        free = replace(free, packing=straight.packing, method=straight.method)
    return CutCost(straight=straight, free=free)
