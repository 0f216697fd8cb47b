"""Guillotine layouts of three stages or any number: items joined to blocks, these laid by ruining and filling anew."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from random import Random

from ellwand.packing.blockset import Block, BlockSet, make_blocks
from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Effort, Packing, Problem, Progress, Scope, Watch
from ellwand.packing.reduce import reduce
from ellwand.packing.ruin import Budget, Goal, ruin_and_fill
from ellwand.packing.windows import shorten_windows

__all__ = ["search_blocks"]

MOST_PIECES = 1200  # beyond that, so many at a time
MOST_BLOCKS = 3000
QUICK_BLOCKS = 1000  # where many pieces are equal
STEPS = {Effort.QUICK: 9000, Effort.CAREFUL: 350_000, Effort.PROOF: 2_500_000}  # blocks laid
ROUND = 50_000  # steps until a search begins anew, with another order of the blocks
STAGED = 3  # of so many rounds, one keeps to three stages
LATE = (300, 100, 1000)  # turns after which a change is judged, round by round
FILLS = (100, 95)  # percent of a merged block that items must fill: first no waste, then a little
LOOSE_FILLS = (100, 95, 80, 50, 0)  # so few items allow every merge
FEW_PIECES = 7


def _ordered(blocks: Sequence[Block], demand: Sequence[int], random: Random | None) -> BlockSet:
    """Largest first; with `random`, as though areas were up to a tenth smaller, so that others come first."""
    sizes = [block.area * (1 - random.random() / 10 if random else 1) for block in blocks]
    order = sorted(range(len(blocks)), key=lambda number: (-sizes[number], blocks[number].w))
    return BlockSet([blocks[number] for number in order], demand)


def search_blocks(
    problem: Problem,
    incumbent: Packing,
    *,
    bound: int,
    effort: Effort,
    seed: int = 0,
    watch: Watch | None = None,
    halt: Halt = NEVER,
) -> Packing:
    """Look for a guillotine packing, with as many stages as the problem allows, that is shorter than one known.

    Parameters
    ----------
    problem
        What to pack; by straight cuts, even if it allows others.
    incumbent
        The packing to beat; it is returned where none is found.
    bound
        No packing is shorter; the search ends when it is met.
    effort
        How many blocks are laid in all. Equal input, effort and seed give an equal packing.
    seed
        Of the random choices.
    watch
        Is told of each better length.
    halt
        Asked now and then whether to end with what there is.
    """
    if incumbent.length <= bound or halt.now:
        return incumbent

    def tell(length: int) -> None:
        if watch is not None:
            watch(Progress(length=length, bound=bound, method="blocks"))

    random, turns = Random(seed), count()
    if problem.pieces <= MOST_PIECES:
        search = _Search(problem, _limit(problem, effort), Budget(steps=STEPS[effort], halt=halt), random, tell)
        return search.run(incumbent, bound, 0)

    def shorten(window: Problem, known: Packing, least: int) -> Packing:
        search = _Search(window, MOST_BLOCKS, Budget(steps=ROUND, halt=halt), random, lambda _: None)
        return search.run(known, least, next(turns))

    rounds = STEPS[effort] // ROUND
    return shorten_windows(
        problem, incumbent, bound, pieces=MOST_PIECES, rounds=rounds, random=random, shorten=shorten, tell=tell
    )


def _limit(problem: Problem, effort: Effort) -> int:
    """How many blocks are made."""
    many_equal = problem.pieces >= 4 * len(problem.items)
    return QUICK_BLOCKS if effort is Effort.QUICK and many_equal else MOST_BLOCKS


@dataclass(slots=True)
class _Search:
    """Rounds of one search, with at most `limit` blocks."""

    problem: Problem
    limit: int
    budget: Budget
    random: Random
    tell: Callable[[int], None]
    made: dict[Scope, list[Block]] = field(default_factory=dict)

    def run(self, incumbent: Packing, bound: int, turn: int) -> Packing:
        """The incumbent, or a shorter packing; rounds begin anew, the first one is number `turn`."""
        small, grid = reduce(self.problem)
        best: Packing | None = None
        length, least = -(-incumbent.length // grid.y), -(-bound // grid.y)
        while length > least and not self.budget.over:
            # three stages find what is hard to come by at random, even where more are allowed
            given = replace(small, guillotine=True, stages=3) if turn % STAGED == 1 else small
            goal = Goal(length=length, least=least, late=LATE[turn % len(LATE)], steps=ROUND)
            blocks = self._blocks(given, length, shaken=turn > 0)
            packing = ruin_and_fill(given, blocks, goal, self.budget, self.random, lambda h: self.tell(h * grid.y))
            if packing is not None:
                best, length = packing, packing.length
            turn += 1
        return incumbent if best is None else grid.restore(best)

    def _blocks(self, problem: Problem, length: int, *, shaken: bool) -> BlockSet:
        """The largest blocks first; or `shaken`, as though areas were up to a tenth smaller."""
        if problem.scope not in self.made:
            sizes = [(stock.w, length if stock.h is None else stock.h) for stock in problem.stocks]
            fills = LOOSE_FILLS if problem.pieces <= FEW_PIECES else FILLS
            columnar = problem.scope is Scope.THREE_STAGES
            self.made[problem.scope] = make_blocks(problem, sizes, limit=self.limit, fills=fills, columnar=columnar)
        return _ordered(
            self.made[problem.scope], [item.demand for item in problem.items], self.random if shaken else None
        )
