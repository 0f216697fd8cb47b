"""Guillotine layouts with any number of stages: block beam search at a fixed length, the length lowered.

The open stock is cut off at a length; it and the sheets are free rectangles. The smallest free rectangle that can
hold something gets a block in its lower left corner, and one straight cut divides the rest in two. A state of the
search is worth the area that a greedy completion of it fills.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from random import Random

from ellwand.packing.blockset import Block, BlockSet, make_blocks
from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Effort, Packing, Place, Problem
from ellwand.packing.reduce import reduce

__all__ = ["search_blocks"]

MOST_PIECES = 600
MOST_BLOCKS = 3000
STEPS = {Effort.QUICK: 40_000, Effort.CAREFUL: 400_000, Effort.PROOF: 4_000_000}  # blocks laid by greedy completions
WIDTHS = (1, 2, 4, 8, 16, 32, 64, 128, 256)  # of the beam, round by round
FILLS = (100, 95)  # percent of a merged block that items must fill: first no waste, then a little
LOOSE_FILLS = (100, 95, 80, 50, 0)  # so few items allow every merge, which makes the search nearly exact
FEW_PIECES = 7
LARGEST, EXACT = 24, 24  # children tried: the largest blocks, and the largest of those that match a side

Free = tuple[int, int, int, int, int, int]  # area, w, h, x, y, stock: sorts by area
Laid = tuple[int, int, int, int]  # block, stock, x, y


@dataclass(slots=True)
class _Budget:
    """Steps of greedy completions still allowed; `halt` ends them early."""

    steps: int
    halt: Halt = NEVER

    @property
    def over(self) -> bool:
        """Whether to end."""
        return self.steps <= 0 or self.halt.now


@dataclass(frozen=True, slots=True, kw_only=True)
class _State:
    """A layout in the making: free rectangles, how many of each item are left, waste so far, what is laid."""

    free: tuple[Free, ...]
    left: tuple[int, ...]
    waste: int
    laid: tuple[Laid, ...]
    missing: int  # area of the items left
    available: int  # the set of blocks that take no more than what is left


def _rests(place: Free, block: Block, along: bool) -> tuple[Free, ...]:
    """What is free beside and above a block in the corner, after a cut along the stock or one across it."""
    _, w, h, x, y, stock = place
    side, top = w - block.w, h - block.h
    beside_h, above_w = (h, block.w) if along else (block.h, w)
    beside = (side * beside_h, side, beside_h, x + block.w, y, stock)
    above = (above_w * top, above_w, top, x, y + block.h, stock)
    if side and top:
        return beside, above
    return (beside,) if side else (above,) if top else ()


def _complete(blocks: BlockSet, state: _State, budget: _Budget) -> tuple[int, tuple[int, ...], list[Laid]]:
    """Fill greedily: smallest rectangle first, largest block first, the larger rest kept whole."""
    free, left, available = list(state.free), list(state.left), state.available
    up_to_w, up_to_h, wanted = blocks.up_to_w, blocks.up_to_h, blocks.wanted
    area, laid = 0, []
    while free and available:
        place = free.pop(0)
        if not (fits := available & up_to_w[place[1]] & up_to_h[place[2]]):
            continue
        number = (fits & -fits).bit_length() - 1
        block = blocks.blocks[number]
        for item, count in block.uses:
            left[item] -= count
            available &= wanted[item][left[item]]
        along = (place[1] - block.w) * place[2] >= place[1] * (place[2] - block.h)
        for rest in _rests(place, block, along):
            insort(free, rest)
        area += block.area
        laid.append((number, place[5], place[3], place[4]))
    budget.steps -= len(laid) + 1
    return area, tuple(left), laid


def _lay(blocks: BlockSet, state: _State, number: int, rests: Sequence[Free]) -> _State:
    """Put a block into the smallest free rectangle, keep what can still hold something of what it leaves."""
    place, block = state.free[0], blocks.blocks[number]
    left, available = list(state.left), state.available
    for item, count in block.uses:
        left[item] -= count
        available &= blocks.wanted[item][left[item]]
    useful = [rest for rest in rests if available & blocks.fitting(rest[1], rest[2])]
    lost = sum(rest[0] for rest in rests) - sum(rest[0] for rest in useful)
    return _State(
        free=tuple(sorted([*state.free[1:], *useful])),
        left=tuple(left),
        waste=state.waste + lost + block.w * block.h - block.area,
        missing=state.missing - block.area,
        laid=(*state.laid, (number, place[5], place[3], place[4])),
        available=available,
    )


def _largest(chosen: int, most: int) -> Iterator[int]:
    while chosen and most:
        lowest = chosen & -chosen
        yield lowest.bit_length() - 1
        chosen ^= lowest
        most -= 1


def _children(blocks: BlockSet, state: _State, slack: int) -> Iterator[_State]:
    """The states one block further that waste no more than `slack`."""
    free, waste = state.free, state.waste
    while free and not state.available & blocks.fitting(free[0][1], free[0][2]):
        waste += free[0][0]
        free = free[1:]
    if not free or waste > slack:
        return
    state, place = replace(state, free=free, waste=waste), free[0]
    fits = state.available & blocks.fitting(place[1], place[2])
    exact = fits & blocks.matching(place[1], place[2])
    for number in dict.fromkeys([*_largest(exact, EXACT), *_largest(fits, LARGEST)]):
        for rests in {_rests(place, blocks.blocks[number], along): None for along in (True, False)}:
            child = _lay(blocks, state, number, rests)
            if child.waste <= slack:
                yield child


def _beam(blocks: BlockSet, start: _State, slack: int, width: int, budget: _Budget) -> Sequence[Laid] | None:
    """Find blocks that place everything and waste no more than `slack`, or None."""
    states = [start]
    while states and not budget.over:
        best: dict[tuple[tuple[int, ...], tuple[int, ...]], tuple[int, int, _State]] = {}
        for state in states:
            for child in _children(blocks, state, slack):
                area, left, laid = _complete(blocks, child, budget)
                if area == child.missing:
                    return (*child.laid, *laid)
                rank = (child.missing - area, child.waste, child)
                known = best.get((child.left, left))
                if known is None or rank[:2] < known[:2]:
                    best[child.left, left] = rank
        states = [state for _, _, state in sorted(best.values(), key=lambda rank: rank[:2])[:width]]
    return None


def _start(problem: Problem, blocks: BlockSet, length: int) -> tuple[_State, int]:
    """The empty layout with the open stock cut off at `length`, and the area it may waste."""
    sizes = [(stock.w, length if stock.h is None else stock.h) for stock in problem.stocks]
    free = sorted((w * h, w, h, 0, 0, stock) for stock, (w, h) in enumerate(sizes) if w * h)
    missing = sum(item.w * item.h * item.demand for item in problem.items)
    left = tuple(item.demand for item in problem.items)
    state = _State(
        free=tuple(free), left=left, waste=0, laid=(), missing=missing, available=(1 << len(blocks.blocks)) - 1
    )
    return state, sum(w * h for w, h in sizes) - missing


def _packing(problem: Problem, blocks: BlockSet, laid: Sequence[Laid]) -> Packing:
    places: list[Place] = []
    for number, stock, x, y in laid:
        places += blocks.blocks[number].places(problem.items, stock, x, y)
    tops = (
        place.y + (problem.items[place.item].w if place.turned else problem.items[place.item].h)
        for place in places
        if problem.stocks[place.stock].h is None
    )
    return Packing(places=tuple(places), length=max(tops, default=0))


def _ordered(blocks: Sequence[Block], demand: Sequence[int], random: Random | None) -> BlockSet:
    """Largest first; with `random`, as though areas were up to a tenth smaller, so that others come first."""
    sizes = [block.area * (1 - random.random() / 10 if random else 1) for block in blocks]
    order = sorted(range(len(blocks)), key=lambda number: (-sizes[number], blocks[number].w))
    return BlockSet([blocks[number] for number in order], demand)


def _lower(problem: Problem, made: Sequence[Block], best: Packing, bound: int, budget: _Budget, seed: int) -> Packing:
    """Bisect the length between bound and best, again and again with wider beams and other orders of the blocks."""
    demand, random = [item.demand for item in problem.items], Random(seed)
    for width in WIDTHS:
        blocks = _ordered(made, demand, random if width > 1 else None)
        low = bound
        while low < best.length and not budget.over:
            length = low if low == bound else (low + best.length - 1) // 2
            start, slack = _start(problem, blocks, length)
            laid = _beam(blocks, start, slack, width, budget) if slack >= 0 else None
            if laid is None:
                low = length + 1
            else:
                best = _packing(problem, blocks, laid)
    return best


def search_blocks(
    problem: Problem, incumbent: Packing, *, bound: int, effort: Effort, seed: int = 0, halt: Halt = NEVER
) -> Packing:
    """Look for a guillotine packing, with any number of stages, that is shorter than one known.

    Parameters
    ----------
    problem
        What to pack; its `stages` are not heeded.
    incumbent
        The packing to beat; it is returned where none is found, or with more than `MOST_PIECES` items at once.
    bound
        No packing is shorter; the search ends when it is met.
    effort
        How many blocks are laid in all. Equal input, effort and seed give an equal packing.
    seed
        Of the orders in which the blocks are tried.
    halt
        Ends the search early.
    """
    pieces = sum(item.demand for item in problem.items)
    if incumbent.length <= bound or pieces > MOST_PIECES:
        return incumbent
    small, grid = reduce(problem)
    known = Packing(places=(), length=-(-incumbent.length // grid.y))
    sizes = [(stock.w, known.length if stock.h is None else stock.h) for stock in small.stocks]
    fills = LOOSE_FILLS if pieces <= FEW_PIECES and effort is not Effort.QUICK else FILLS
    made = make_blocks(small, sizes, limit=MOST_BLOCKS, fills=fills)
    best = _lower(small, made, known, -(-bound // grid.y), _Budget(steps=STEPS[effort], halt=halt), seed)
    return grid.restore(best) if best is not known else incumbent
