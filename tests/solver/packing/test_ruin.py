"""Trees of straight cuts that change and change back, and the search that ruins and fills them."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from random import Random

import pytest

from ellwand.packing.blockset import BlockSet, make_blocks
from ellwand.packing.halt import Halt
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Problem, Stock
from ellwand.packing.ruin import Budget, Goal, ruin_and_fill
from ellwand.packing.staged import StagedTree
from ellwand.packing.tree import Part, Tree

NO_BOUND = Bound(length=0, theorem="")
ITEMS = ((4, 6, 5, True), (3, 9, 4, False), (5, 5, 6, True), (2, 14, 3, True))


def small(sheets: tuple[tuple[int, int], ...] = ()) -> Problem:
    """Four kinds of item for a stock 20 wide, any number of stages."""
    items = tuple(Item(w=w, h=h, demand=demand, turnable=turnable) for w, h, demand, turnable in ITEMS)
    stocks = (*(Stock(w=w, h=h) for w, h in sheets), Stock(w=20, h=None))
    return Problem(items=items, stocks=stocks, guillotine=True, stages=None)


def blocks_of(problem: Problem) -> BlockSet:
    """Blocks of the items, the largest first; of columns where the problem has three stages."""
    sizes = [(stock.w, stock.h or 60) for stock in problem.stocks]
    blocks = make_blocks(problem, sizes, limit=300, fills=(100,), columnar=problem.stages == 3)
    blocks.sort(key=lambda block: -block.area)
    return BlockSet(blocks, [item.demand for item in problem.items])


def fill(tree: Tree, random: Random) -> None:
    """Lay blocks that fit into gaps, each drawn at random, until none fits."""
    while True:
        fitting = [
            (part, number)
            for part in gaps(tree)
            for number, block in enumerate(tree.blocks.blocks)
            if block.w <= part.free[0]
            and block.h <= part.free[1]
            and part.only >> number & 1
            and all(amount <= tree.left[item] for item, amount in block.uses)
        ]
        if not fitting:
            return
        part, number = random.choice(fitting)
        list(tree.put(part, number, random.random() < 0.5))


def gaps(tree: Tree) -> list[Part]:
    """All parts of a tree with a gap."""
    found, parts = [], list(tree.roots)
    while parts:
        part = parts.pop()
        parts += part.children
        found += [part] if part.block < 0 and part.gap else []
    return found


def laid(problem: Problem, packing: Packing) -> Problem:
    """The problem, had only been wanted what is laid."""
    counts = [sum(place.item == number for place in packing.places) for number in range(len(problem.items))]
    items = tuple(
        Item(w=item.w, h=item.h, demand=amount, turnable=item.turnable)
        for item, amount in zip(problem.items, counts, strict=True)
    )
    return replace(problem, items=items)


@pytest.mark.parametrize(("kind", "stages"), [(Tree, None), (StagedTree, 3)])
@pytest.mark.parametrize("seed", range(20))
def test_what_is_laid_can_be_cut(seed: int, kind: type[Tree], stages: int | None) -> None:
    """However parts are put in, taken out and cut off, the rest is a layout and what it lacks is known."""
    random, problem = Random(seed), replace(small(sheets=((12, 11),)), stages=stages)
    tree = kind(problem, blocks_of(problem), 30)
    for length in (30, 26, 21, 9, 0):
        tree.shorten(length)
        fill(tree, random)
        tree.keep()
        tree.begin()
        tree.take_out(random.choice([part for part in tree.parts if part.up] or tree.roots[0].children))
        packing = tree.packing()

        assert judge(laid(problem, packing), packing, NO_BOUND) == ()
        assert packing.length <= length
        missing = [item.demand - sum(p.item == n for p in packing.places) for n, item in enumerate(problem.items)]
        assert tree.left == missing
        assert tree.missing == sum(lack * i.w * i.h for lack, i in zip(missing, problem.items, strict=True))


@pytest.mark.parametrize("seed", range(10))
def test_changes_are_undone(seed: int) -> None:
    """After parts were taken out and others put in, the tree is again what it was."""
    random, problem = Random(seed), small()
    tree = Tree(problem, blocks_of(problem), 25)
    fill(tree, random)
    tree.keep()
    before, left = tree.packing(), list(tree.left)

    tree.begin()
    tree.take_out(random.choice([part for part in tree.parts if part.up]))
    fill(tree, random)
    tree.undo()

    assert tree.packing() == before
    assert tree.left == left


def test_the_goal_falls_until_nothing_is_wasted() -> None:
    """Four squares and a frame of strips: lengths fall to the area's, each is told, and the search ends there."""
    items = tuple(Item(w=w, h=h, demand=n, turnable=True) for w, h, n in ((10, 10, 4), (2, 20, 2), (2, 24, 2)))
    problem = Problem(items=items, stocks=(Stock(w=24, h=None),), guillotine=True, stages=None)
    budget, told = Budget(steps=20_000), list[int]()

    goal = Goal(length=40, least=24, late=50, steps=20_000)
    packing = ruin_and_fill(problem, blocks_of(problem), goal, budget, Random(0), told.append)

    # derived: 4 * 100 + 2 * 40 + 2 * 48 = 24 * 24, short strips beside the squares and long ones across them
    assert packing is not None
    assert judge(problem, packing, NO_BOUND) == ()
    assert packing.length == 24
    assert told == sorted(told, reverse=True)
    assert told[-1] == 24
    assert budget.steps > 0


def test_three_stages_need_more_than_four() -> None:
    """A row of two squares beside a strip, another strip across them, and all that beside a third strip: four stages.

    What ends a search of three stages is judged as such, and is longer.
    """
    sizes = ((10, 10, 4), (2, 20, 1), (3, 22, 1), (4, 25, 1))
    items = tuple(Item(w=w, h=h, demand=n, turnable=False) for w, h, n in (*sizes, (22, 2, 1), (25, 3, 1)))
    deep = Problem(items=items, stocks=(Stock(w=29, h=None),), guillotine=True, stages=None)
    lengths = []
    for problem in (deep, replace(deep, stages=3)):
        goal = Goal(length=60, least=25, late=50, steps=8000)
        packing = ruin_and_fill(problem, blocks_of(problem), goal, Budget(steps=8000), Random(0), lambda _: None)
        assert packing is not None
        assert judge(problem, packing, NO_BOUND) == ()
        lengths.append(packing.length)

    # derived: squares and strips fill 22 x 22, 25 x 25 and 29 x 25 one after another, without waste
    assert lengths[0] == 25
    assert lengths[1] > 25


def test_a_goal_out_of_reach_ends_with_the_steps() -> None:
    """Nothing is shorter than the area; the search gives up after the steps that it may take."""
    problem, budget = small(), Budget(steps=3000)

    goal = Goal(length=19, least=0, late=50, steps=1000)

    # derived: 120 + 108 + 150 + 84 of area in a width of 20 take more than 23
    assert ruin_and_fill(problem, blocks_of(problem), goal, budget, Random(0), lambda _: None) is None
    assert 1900 < budget.steps <= 2000


def test_a_halt_ends_the_search() -> None:
    """Who asks for an end gets it, long before the steps are spent."""
    asked = count()
    budget = Budget(steps=10**9, halt=Halt(stop=lambda: next(asked) > 3))

    goal = Goal(length=19, least=0, late=50, steps=10**9)

    assert ruin_and_fill(small(), blocks_of(small()), goal, budget, Random(0), lambda _: None) is None
