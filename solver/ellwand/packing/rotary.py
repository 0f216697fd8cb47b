"""Layouts that straight cuts in three stages yield, in long pieces' zones as well."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from ellwand.packing.bands import Budget
from ellwand.packing.construct import Case, Found, construct, deepen, demand_of, length_of, put_together, start
from ellwand.packing.exact import choose_bands
from ellwand.packing.greedy import Shop
from ellwand.packing.levels import dive
from ellwand.packing.patterns import shapes_of, to_packing
from ellwand.packing.problem import Effort, Packing, Problem, Progress, Watch
from ellwand.packing.reduce import reduce
from ellwand.packing.slabs import rest_of, rooms_of

__all__ = ["pack_rotary"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Means:
    """How much is tried: work in all, heights of bands, choices of slabs kept for the next slab, slabs tried on each."""

    work: float
    heights: int
    keep: int
    grown: int
    cases: int
    dives: int
    proof: float
    wide: int


_MEANS = {
    Effort.QUICK: _Means(work=12_000, heights=24, keep=1, grown=8, cases=4, dives=2, proof=0.02, wide=24),
    Effort.CAREFUL: _Means(work=170_000, heights=24, keep=3, grown=30, cases=12, dives=4, proof=0.12, wide=200),
    Effort.PROOF: _Means(work=1_200_000, heights=40, keep=4, grown=100, cases=30, dives=6, proof=0.6, wide=400),
}


def pack_rotary(problem: Problem, *, bound: int, effort: Effort, seed: int, watch: Watch | None = None) -> Packing:
    """Pack by three-stage straight cuts; `bound` is a length that cannot be beaten.

    Cases of slabs are ranked by their linear programmes, then rounded: the best at once, then at random.
    """
    small, grid = reduce(problem)
    means = _MEANS[effort]
    shop = Shop(
        shapes=shapes_of(small, False),
        swapped=shapes_of(small, True),
        area=tuple(item.w * item.h for item in small.items),
        heights=means.heights,
        budget=Budget(left=means.work),
    )
    search = _Search(problem=small, shop=shop, least=-(-bound // grid.y), watch=watch, step=grid.y)
    found = search.run(means, Random(seed))
    return grid.restore(to_packing(found.layout))


@dataclass(slots=True)
class _Search:
    """One search: the problem, and the best that was found so far."""

    problem: Problem
    shop: Shop
    least: int
    watch: Watch | None
    step: int
    best: Found | None = None

    def run(self, means: _Means, random: Random) -> Found:
        """Greedy, then the most promising cases, then random rounding of these."""
        begun = start(self.problem, self.shop)
        best = self.note(begun[0], "strips")
        if best.layout.length <= self.least or not self.shop.shapes:
            return best
        half = self.shop.budget.left / 2
        cases = construct(self.problem, self.shop, begun, keep=means.keep, grown=means.grown, reserve=half)
        cases = deepen(cases[: means.cases], self.problem, means.wide)
        dives = means.dives
        while any(case.promise < best.layout.length for case in cases):
            for case in cases:
                if self.shop.budget.over or best.layout.length <= self.least:
                    return best
                if case.promise < best.layout.length:
                    best = self.round(case, dives, random, means)
            dives *= 2
        return best

    def round(self, case: Case, dives: int, random: Random, means: _Means) -> Found:
        """Round the linear programme of a case to layouts, then choose the best of all bands that came up."""
        master, best = case.master, self.best
        assert best is not None
        rooms, demand = rooms_of(case.setup, self.problem.stocks), rest_of(case.setup, demand_of(self.problem))
        for number in range(dives):
            master.restart(rooms, demand)
            master.solve()
            filled = dive(master, 2, random if number else None)
            best = self.note(put_together(self.problem, case.setup, filled), "columns")
        master.restart(rooms, demand)
        promise, work = master.solve(), means.proof
        spare = best.layout.length - length_of(case.setup, self.problem) - promise
        for _ in range(dives * 2):
            if not self.shop.budget.over:
                master.enrich(random, means.wide, spare)
        below = best.layout.length - length_of(case.setup, self.problem)
        master.solve()
        if promise < below and (chosen := choose_bands(master, below, random.randrange(1000), work)) is not None:
            best = self.note(put_together(self.problem, case.setup, chosen), "whole numbers")
        return best

    def note(self, found: Found, method: str) -> Found:
        """Keep the better one, and tell of progress."""
        if self.best is None or found.merit < self.best.merit:
            self.best = found
            if self.watch is not None:
                length = found.layout.length * self.step
                self.watch(Progress(length=length, bound=self.least * self.step, method=method))
        return self.best
