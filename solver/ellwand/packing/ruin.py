"""Layouts with any number of stages made shorter: parts of a layout are ruined and filled anew, again and again.

The goal is one step below the best length. A layout of that length that leaves items over is changed at random (some
parts are taken out; all gaps are filled again with blocks, smallest gap first, largest block mostly first), and a
change is kept unless it leaves more over than there was some hundred turns ago. When nothing is left over, the goal
is lowered.

References
----------
Gardeyn and Wauters (2022), A goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing problem
with guillotine constraints; Burke and Bykov (2017), The late acceptance hill-climbing heuristic.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from ellwand.packing.blockset import BlockSet
from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Packing, Problem, Scope
from ellwand.packing.staged import StagedTree
from ellwand.packing.tree import Part, Tree

__all__ = ["Budget", "Goal", "ruin_and_fill"]

LOOK = 50  # turns between looks at the budget
LEAST, MOST = 0.15, 0.5  # shares of the area that one turn takes out
CHILD, CLIMB = 0.3, 0.5  # chances to take a child out, not a part; to take out the part around it
OVERLOOK, MATCH, ASIDE, OTHER_GAP = 0.3, 0.2, 0.15, 0.1  # chances to leave the rule: next block; ...

_Gap = tuple[int, int, int, int, Part]  # falling area, serial number, width, height, part


@dataclass(slots=True)
class Budget:
    """Blocks that may still be laid; `halt` ends the search early."""

    steps: int
    halt: Halt = NEVER

    @property
    def over(self) -> bool:
        """Whether to end."""
        return self.steps <= 0 or self.halt.now


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """To be shorter than `length`, at best `least` long, in so many `steps`.

    `late` is the number of turns after which a change is compared with what was then.
    """

    length: int
    least: int
    late: int
    steps: int


def ruin_and_fill(
    problem: Problem, blocks: BlockSet, goal: Goal, budget: Budget, random: Random, tell: Callable[[int], None]
) -> Packing | None:
    """The shortest packing that reaches the goal, or None; `tell` hears of each length on the way."""
    kind = StagedTree if problem.scope is Scope.THREE_STAGES else Tree
    tree = kind(problem, blocks, goal.length - 1)
    search = _Search(tree, random, budget, goal.late, budget.steps - goal.steps)
    best: Packing | None = None
    while search.reach():
        best = tree.packing()
        tell(best.length)
        if best.length <= goal.least:
            break
        tree.shorten(best.length - 1)
    return best


@dataclass(slots=True)
class _Search:
    """One layout under change, until only `last` steps of the budget are left."""

    tree: Tree
    random: Random
    budget: Budget
    late: int
    last: int

    def reach(self) -> bool:
        """Lay everything within the length that the tree has, if that can be done."""
        tree, budget = self.tree, self.budget
        tree.begin()
        self._fill(tree.parts)
        tree.keep()
        missing = tree.missing
        earlier, turn = [missing] * self.late, 0
        while missing and budget.steps > self.last and not (turn % LOOK == 0 and budget.over):
            tree.begin()
            budget.steps -= 1
            self._ruin()
            self._fill(tree.parts)
            left = tree.missing
            if left <= max(missing, earlier[turn]):
                missing = left
                tree.keep()
            else:
                tree.undo()
            earlier[turn] = missing
            turn = (turn + 1) % self.late
        return not missing

    def _ruin(self) -> None:
        """Take out parts at random, up to a share of the area that is drawn anew each turn."""
        tree, chance = self.tree, self.random.random
        parts = tree.parts
        whole = sum(root.w * root.h for root in tree.roots)
        want = whole * (LEAST + (MOST - LEAST) * chance())
        for _ in range(20):
            part = parts[int(chance() * len(parts))]
            if tree.is_gone(part):
                continue
            if part.up is None or chance() < CHILD:
                if not part.children:
                    continue
                part = part.children[int(chance() * len(part.children))]
            while part.up is not None and part.up.up is not None and chance() < CLIMB and _area(part.up) <= want:
                part = part.up
            if part.block >= 0 or _area(part) <= 2 * want:
                want -= _area(part)
                tree.take_out(part)
            if want <= 0:
                break

    def _fill(self, parts: list[Part]) -> None:
        """Fill all gaps: smallest first, the largest block that fits, the larger rest kept whole; mostly."""
        tree, blocks, chance = self.tree, self.tree.blocks, self.random.random
        up_to_w, up_to_h, wanted, left = blocks.up_to_w, blocks.up_to_h, blocks.wanted, tree.left
        available = (1 << len(blocks.blocks)) - 1
        for item, count in enumerate(left):
            available &= wanted[item][count]
        gaps: list[_Gap] = []
        for serial, part in enumerate(parts):
            if part.gap and not tree.is_gone(part):
                w, h = part.free
                if available & part.only & up_to_w[w] & up_to_h[h]:
                    gaps.append((-w * h, serial, w, h, part))
        gaps.sort()
        serial = len(parts)
        while gaps and available:
            _, _, w, h, part = gaps.pop(int(chance() * len(gaps)) if chance() < OTHER_GAP else -1)
            fits = available & part.only & up_to_w[w] & up_to_h[h]
            if not fits:
                continue
            number = self._choose(fits, w, h)
            block = blocks.blocks[number]
            along = ((w - block.w) * h >= w * (h - block.h)) != (chance() < ASIDE)
            for gap in tree.put(part, number, along):
                w, h = gap.free
                insort(gaps, (-w * h, serial, w, h, gap))
                serial += 1
            for item, _ in block.uses:
                available &= wanted[item][left[item]]
            self.budget.steps -= 1

    def _choose(self, fits: int, w: int, h: int) -> int:
        """The largest block that fits, or one that matches a side, or sometimes another."""
        chance = self.random.random
        if chance() < MATCH:
            fits = fits & self.tree.blocks.matching(w, h) or fits
        lowest = fits & -fits
        while chance() < OVERLOOK and (fits := fits ^ lowest):
            lowest = fits & -fits
        return lowest.bit_length() - 1


def _area(part: Part) -> int:
    return part.w * part.h
