"""The one way in: a problem to a judged packing, with what proves how good it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from ellwand.packing.around import fill_around, joined, rest_of
from ellwand.packing.blocks import search_blocks
from ellwand.packing.bound import lower_bound
from ellwand.packing.few import MOST_PIECES, pack_few
from ellwand.packing.free import pack_free
from ellwand.packing.halt import Halt
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Effort, Packing, Problem, Progress, Result, Scope, Watch
from ellwand.packing.rotary import first_packing, pack_rotary

__all__ = ["UnsoundPackingError", "solve"]

MOSTLY_DIFFERENT = 1.5  # pieces an item, below which bands of equal ones are rare
_FEW = "all layouts of so few items were looked through"


class UnsoundPackingError(AssertionError):
    """The judge found faults in a packing: an error of this program, never of its user."""


def solve(
    problem: Problem,
    *,
    effort: Effort,
    seed: int = 0,
    watch: Watch | None = None,
    bound: Bound | None = None,
    enough: int = 0,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
) -> Result:
    """Pack a problem, and say how far the packing can be from the least length.

    Parameters
    ----------
    problem
        What to pack into what; sizes in whole grid cells.
    effort
        How much work is done; equal input, effort and seed give an equal packing, unless a clock or `stop` ends it.
    seed
        Of the random choices.
    watch
        Is told of each better length, and of the bound.
    bound
        Its lower bound, where the caller has worked it out already.
    enough
        A length below which the caller has no use for a shorter one: the search ends when it is met.
    seconds
        By the clock, after which the best so far is taken; None for no clock.
    stop
        Asked now and then whether to end with the best so far. There is always one: the first layout is made
        whatever it says.

    Raises
    ------
    UnsoundPackingError
        If the judge refuses the packing.
    """
    halt = Halt.after(seconds, stop)
    search = _Search(problem, bound or lower_bound(problem), effort, seed, _falling(watch), halt, enough)
    packing, method = search.run()
    faults = judge(problem, packing, search.bound)
    if faults:
        raise UnsoundPackingError("; ".join(faults))
    settled = search.settled or packing.length <= search.bound.length
    return Result(packing=packing, bound=search.bound, method=method, settled=settled)


@dataclass(slots=True)
class _Search:
    """All searches that may help with one problem, and the bound as far as it is known."""

    problem: Problem
    bound: Bound
    effort: Effort
    seed: int
    watch: Watch | None
    halt: Halt
    enough: int = 0
    settled: bool = False

    @property
    def least(self) -> int:
        """The length that is aimed at."""
        return max(self.bound.length, self.enough)

    def run(self) -> tuple[Packing, str]:
        """The shortest packing, and what found it; no search runs once the bound is met, or what is enough."""
        if not self.problem.pieces:
            return Packing(places=(), length=0), "nothing to pack"
        if self.problem.hindered:
            return self._around()
        if self.problem.pieces <= MOST_PIECES:
            return self._look_through(), "every layout"
        if self._all_differ:
            best, method = first_packing(self.problem, self.halt), "strips"
            self._tell(best, method)
        else:
            best, method = self._rotary(Effort.QUICK), "bands"
        for name, search in self._further():
            if best.length <= self.least or self.settled or self.halt.now:
                break
            packing = search(best)
            if packing.length < best.length:
                best, method = packing, name
                self._tell(best, method)
        return best, method

    def _around(self) -> tuple[Packing, str]:
        """All stocks at once where items have phases; else those with blocked parts, then the rest in the others."""
        least = self.bound.length
        numbers = [n for n, stock in enumerate(self.problem.stocks) if self.problem.phased or stock.free is not None]
        filled = fill_around(self.problem, numbers, least=least, effort=self.effort, seed=self.seed, halt=self.halt)
        if self.problem.phased:
            self._tell(filled, "in phase")
            return filled, "in phase"
        rest, known = rest_of(self.problem, filled)
        search = _Search(rest, lower_bound(rest), self.effort, self.seed, self._relayed(), self.halt)
        packing, method = search.run()
        return joined(filled, packing, known), f"round blocked parts, {method}"

    def _relayed(self) -> Watch | None:
        """The watch for searches that are told another bound than that of the whole problem."""
        watch = self.watch
        if watch is None:
            return None
        return lambda progress: watch(replace(progress, bound=self.bound.length))

    def _look_through(self) -> Packing:
        """The best packing of few items, which raises the bound to its length."""
        packing, complete = pack_few(self.problem, self.halt)
        if complete and packing.length > self.bound.length:
            self.bound = Bound(length=packing.length, theorem=_FEW, searched=self.problem.scope)
        self._tell(packing, "every layout")
        return packing

    def _further(self) -> Iterator[tuple[str, Callable[[Packing], Packing]]]:
        """What may shorten a quick layout of bands: more of the same, deeper cuts, or any arrangement.

        Little effort first, so that whoever ends a search early has something of each. Of equal effort bands come
        first; but blocks where hardly any items are equal, or with the most effort, since bands gain early.
        """
        efforts = list(Effort)
        for effort in efforts[: efforts.index(self.effort) + 1]:
            if not self.problem.guillotine:
                yield "free", partial(self._free, effort)
            straight: list[tuple[str, Callable[[Packing], Packing]]] = []
            if effort is not Effort.QUICK or self._all_differ:
                straight.append(("bands", partial(self._bands, effort)))
            if self.problem.scope is Scope.GUILLOTINE:
                straight.append(("blocks", partial(self._blocks, effort)))
            yield from reversed(straight) if effort is Effort.PROOF or self._all_differ else straight

    @property
    def _all_differ(self) -> bool:
        """Whether blocks alone may lay the items, and hardly any of these are equal."""
        alike = self.problem.pieces / len(self.problem.items)
        return self.problem.scope is Scope.GUILLOTINE and alike < MOSTLY_DIFFERENT

    def _rotary(self, effort: Effort) -> Packing:
        least, watch = self.least, self._relayed()
        return pack_rotary(self.problem, bound=least, effort=effort, seed=self.seed, watch=watch, halt=self.halt)

    def _bands(self, effort: Effort, _: Packing) -> Packing:
        return self._rotary(effort)

    def _free(self, effort: Effort, best: Packing) -> Packing:
        least, seed, halt = self.least, self.seed, self.halt
        packing, settled = pack_free(
            self.problem, best, bound=least, effort=effort, seed=seed, watch=self._relayed(), halt=halt
        )
        self.settled = settled and (least == self.bound.length or packing.length > least)
        return packing

    def _blocks(self, effort: Effort, best: Packing) -> Packing:
        least, watch = self.least, self._relayed()
        return search_blocks(
            self.problem, best, bound=least, effort=effort, seed=self.seed, watch=watch, halt=self.halt
        )

    def _tell(self, best: Packing, method: str) -> None:
        if self.watch is not None:
            self.watch(Progress(length=best.length, bound=self.bound.length, method=method))


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
