"""Layouts that straight cuts in three stages yield, in long pieces' zones as well."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from ellwand.packing.bands import Budget
from ellwand.packing.blocks import search_blocks
from ellwand.packing.construct import (
    Case,
    Found,
    construct,
    deepen,
    demand_of,
    length_of,
    open_case,
    put_together,
    start,
)
from ellwand.packing.exact import choose_bands
from ellwand.packing.greedy import Shop
from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.levels import dive
from ellwand.packing.patterns import shapes_of, to_packing
from ellwand.packing.problem import Effort, Packing, Problem, Progress, Scope, Watch
from ellwand.packing.reduce import reduce
from ellwand.packing.sheets import spare_sheets
from ellwand.packing.slabs import rest_of, rooms_of

__all__ = ["first_packing", "pack_rotary"]

GROWING, DEEPENING = 0.5, 0.3  # shares of the work that must be left after slabs were added, and heights


@dataclass(frozen=True, slots=True, kw_only=True)
class _Means:
    """How much is tried.

    Parameters
    ----------
    work
        Steps of the dynamic programme in all.
    heights, wide
        Heights of bands that are priced: mostly, and for the best cases.
    keep, grown, cases
        Cases to which a slab is added; ways to add it; cases that are rounded.
    dives
        Roundings of a case the first time.
    proof
        Deterministic seconds for one choice in whole numbers.
    """

    work: float
    heights: int
    wide: int
    keep: int
    grown: int
    cases: int
    dives: int
    proof: float


_MEANS = {
    Effort.QUICK: _Means(work=14_000, heights=16, wide=16, keep=1, grown=10, cases=4, dives=2, proof=0.02),
    Effort.CAREFUL: _Means(work=170_000, heights=24, wide=200, keep=3, grown=30, cases=12, dives=2, proof=0.12),
    Effort.PROOF: _Means(work=1_200_000, heights=40, wide=400, keep=4, grown=100, cases=30, dives=6, proof=0.6),
}


def pack_rotary(
    problem: Problem, *, bound: int, effort: Effort, seed: int, watch: Watch | None = None, halt: Halt = NEVER
) -> Packing:
    """Pack by three-stage straight cuts; `bound` is a length that cannot be beaten.

    Cases of slabs are ranked by their linear programmes, then rounded: the best at once, then at random. Where
    no more than three stages are allowed, parts of the best layout are ruined and filled anew at last.
    """
    small, grid = reduce(problem)
    means = _MEANS[effort]
    shop = _shop(small, means, halt)
    search = _Search(
        problem=small,
        shop=shop,
        means=means,
        random=Random(seed),
        least=-(-bound // grid.y),
        step=grid.y,
        watch=watch,
    )
    found = search.run()
    saving = replace(shop, budget=Budget(left=means.work / 10, halt=halt))
    packing = grid.restore(to_packing(spare_sheets(small, saving, found).layout))
    if problem.scope is not Scope.THREE_STAGES:
        return packing
    return search_blocks(problem, packing, bound=bound, effort=effort, seed=seed, watch=watch, halt=halt)


def first_packing(problem: Problem, halt: Halt = NEVER) -> Packing:
    """The first layout of bands alone, greedily filled, within a moment."""
    small, grid = reduce(problem)
    return grid.restore(to_packing(start(small, _shop(small, _MEANS[Effort.QUICK], halt))[0].layout))


def _shop(small: Problem, means: _Means, halt: Halt) -> Shop:
    return Shop(
        shapes=shapes_of(small, False),
        swapped=shapes_of(small, True),
        area=tuple(item.w * item.h for item in small.items),
        heights=means.heights,
        budget=Budget(left=means.work, halt=halt),
    )


@dataclass(slots=True)
class _Search:
    """One search: the problem, and the best that was found so far."""

    problem: Problem
    shop: Shop
    means: _Means
    random: Random
    least: int
    step: int
    watch: Watch | None
    best: Found | None = None

    def run(self) -> Found:
        """Greedy, then the most promising cases again and again, with more and more roundings."""
        begun = start(self.problem, self.shop)
        best = self.note(begun[0], "strips")
        if self.is_done():
            return best
        cases = [open_case(self.problem, self.shop, one.setup, one.filled) for one in begun]
        best = self.round(cases[0], 1)
        if self.is_done():
            return best
        cases, dives = self.choose(cases), self.means.dives
        while any(case.promise < best.layout.length for case in cases):
            for case in cases:
                if self.is_done():
                    return best
                if case.promise < best.layout.length:
                    best = self.round(case, dives)
            dives *= 2
        return best

    def is_done(self) -> bool:
        """Whether the best cannot be beaten, or all work is spent."""
        return self.shop.budget.over or (self.best is not None and self.best.layout.length <= self.least)

    def choose(self, cases: list[Case]) -> list[Case]:
        """Add slabs to the cases, and keep the most promising."""
        means, work = self.means, self.shop.budget.left
        grown = construct(self.problem, self.shop, cases, keep=means.keep, grown=means.grown, reserve=work * GROWING)
        return deepen(grown[: means.cases], self.problem, self.shop, heights=means.wide, reserve=work * DEEPENING)

    def round(self, case: Case, dives: int) -> Found:
        """Round the linear programme of a case to layouts, then choose the best of all bands that came up."""
        rooms, demand = rooms_of(case.setup, self.problem.stocks), rest_of(case.setup, demand_of(self.problem))
        for number in range(dives):
            case.master.restart(rooms, demand)
            case.master.solve()
            filled = dive(case.master, 2, self.random if number else None)
            best = self.note(put_together(self.problem, case.setup, filled), "rounded strips")
        case.master.restart(rooms, demand)
        spare = best.layout.length - length_of(case.setup, self.problem) - case.master.solve()
        for _ in range(2 * dives):
            if not self.is_done():
                case.master.enrich(self.random, self.means.wide, spare)
        return self.choose_bands(case) if spare > 0 else best

    def choose_bands(self, case: Case) -> Found:
        """The best layout by the bands of a case, if it beats the best so far."""
        assert self.best is not None
        below = self.best.layout.length - length_of(case.setup, self.problem)
        case.master.solve()
        chosen = choose_bands(case.master, below, self.random.randrange(1000), self.means.proof)
        if chosen is None:
            return self.best
        return self.note(put_together(self.problem, case.setup, chosen), "whole numbers of strips")

    def note(self, found: Found, method: str) -> Found:
        """Keep the better one, and tell of progress."""
        if self.best is None or found.merit < self.best.merit:
            self.best = found
            if self.watch is not None:
                length = found.layout.length * self.step
                self.watch(Progress(length=length, bound=self.least * self.step, method=method))
        return self.best
