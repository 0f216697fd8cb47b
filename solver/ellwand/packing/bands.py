"""The most valuable band of every height and every width at once, by dynamic programming.

A bounded knapsack over the width (Gilmore & Gomory 1965, strips of two stages), with stacks of one
width as its objects, so that each band has three stages. The demand bounds how often a stack is used;
two kinds of stack that hold the same item may still exceed it together, so callers trim.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations_with_replacement

import numpy as np
from numpy.typing import NDArray

from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.patterns import Band, Shape, Stack

__all__ = ["Budget", "Floats", "Table", "band_heights", "best_filling", "price_bands"]

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]


@dataclass(slots=True)
class Budget:
    """Work that may still be done, in steps of the dynamic programme: equal on every machine; `halt` ends it early."""

    left: float
    halt: Halt = NEVER

    def spend(self, work: float) -> None:
        """Take `work` off what is left."""
        self.left -= work

    @property
    def over(self) -> bool:
        """Whether all work is spent, or a halt came."""
        return self.left <= 0 or self.halt.now


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pile:
    """Stacks of one width, a different one for each band height (row)."""

    shapes: tuple[Shape, ...]
    counts: Counts  # rows x shapes
    value: Floats  # per row
    copies: Counts  # per row


@dataclass(frozen=True, slots=True, kw_only=True)
class _Step:
    pile: _Pile
    size: int
    taken: NDArray[np.bool_]  # rows x (width + 1 - shift)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Values of the best bands: a row for each height, a column for each width from 0."""

    heights: Counts
    value: Floats
    steps: list[_Step] = field(repr=False)

    def band(self, row: int, width: int) -> Band:
        """The best band of that height and width, its tallest stacks first."""
        stacks = []
        for step in reversed(self.steps):
            shift = step.size * step.pile.shapes[0].w
            if width >= shift and step.taken[row, width - shift]:
                width -= shift
                parts = zip(step.pile.shapes, step.pile.counts[row].tolist(), strict=True)
                stack = Stack(parts=tuple((shape, count) for shape, count in parts if count))
                stacks += [stack] * step.size
        stacks.sort(key=lambda stack: (-stack.h, -stack.w))
        return Band(h=max((stack.h for stack in stacks), default=0), stacks=tuple(stacks))


def band_heights(shapes: Sequence[Shape], demand: Sequence[int], most: int) -> list[int]:
    """Heights worth trying: each shape alone, then two and three on each other, at most `most` of these.

    Sums of more than one shape are kept small first: two low bands do what one high band does,
    unless the stacks in it mix.
    """
    shapes = [shape for shape in shapes if demand[shape.item]]
    single = sorted({shape.h for shape in shapes})
    if len(single) > most:  # evenly spread, the tallest among them: others lie in bands a little too high
        return single[-1 :: -(len(single) // most + 1)][::-1]
    sums = {sum(pick) for size in (2, 3) for pick in combinations_with_replacement(single[:12], size)}
    room = max(0, most - len(single))
    return sorted({*single, *sorted(sums - set(single))[:room]})


def price_bands(
    shapes: Sequence[Shape],
    heights: Sequence[int],
    width: int,
    demand: Sequence[int],
    price: Sequence[float],
    budget: Budget,
) -> Table:
    """Find the band of greatest value for each of `heights` and each width up to `width`."""
    rows = np.array(heights, dtype=np.int64)
    best = np.zeros((len(rows), width + 1))
    steps: list[_Step] = []
    for pile in _piles(shapes, rows, width, demand, price):
        shape_width = pile.shapes[0].w
        left, size = np.minimum(pile.copies, width // shape_width), 1
        while (largest := int(left.max(initial=0))) > 0:
            take = np.minimum(left, size)
            # rows differ in how many copies the demand leaves: one step for each different number
            for number in np.unique(take).tolist() if largest < size or left.min() < size else [size]:
                if number:
                    _step(best, steps, pile, number, take == number)
            left = left - take
            size *= 2
    budget.spend(len(steps) * (1 + best.size / 6000))
    return Table(heights=rows, value=best, steps=steps)


def best_filling(table: Table, width: int, height: int) -> Floats:
    """The most value of bands that wide in each height up to `height` (an unbounded knapsack)."""
    best = np.zeros(height + 1)
    for h, value in zip(table.heights.tolist(), table.value[:, width].tolist(), strict=True):
        size = 1
        while size * h <= height:
            np.maximum(best[size * h :], best[: height + 1 - size * h] + size * value, out=best[size * h :])
            size *= 2
    return best


def _step(best: Floats, steps: list[_Step], pile: _Pile, size: int, rows: NDArray[np.bool_]) -> None:
    shift = size * pile.shapes[0].w
    gain = np.where(rows, pile.value * size, -1.0)[:, None]
    with_it = best[:, : best.shape[1] - shift] + gain
    target = best[:, shift:]
    taken = with_it > target
    np.copyto(target, with_it, where=taken)
    steps.append(_Step(pile=pile, size=size, taken=taken))


def _piles(
    shapes: Sequence[Shape], rows: Counts, width: int, demand: Sequence[int], price: Sequence[float]
) -> list[_Pile]:
    classes: dict[int, list[Shape]] = {}
    for shape in shapes:
        if demand[shape.item] and price[shape.item] > 0 and shape.w <= width and shape.h <= rows[-1]:
            classes.setdefault(shape.w, []).append(shape)
    piles = []
    for group in classes.values():
        pure = [_pure(shape, rows, demand[shape.item], price[shape.item]) for shape in group]
        piles += pure
        piles += [rest for pile in pure if (rest := _rest(pile, demand)) is not None]
        if len(group) > 1:
            piles += _mixed(group, rows, demand, price, pure)
    return piles


def _pure(shape: Shape, rows: Counts, demand: int, price: float) -> _Pile:
    """As many of one shape as the height holds."""
    counts = np.minimum(rows // shape.h, demand)
    copies = np.where(counts > 0, demand // np.maximum(counts, 1), 0)
    return _Pile(shapes=(shape,), counts=counts[:, None], value=counts * price, copies=copies)


def _rest(pile: _Pile, demand: Sequence[int]) -> _Pile | None:
    """What full stacks leave of the demand, as one lower stack."""
    counts = pile.counts[:, 0]
    rest = demand[pile.shapes[0].item] - counts * pile.copies
    if not rest.any():
        return None
    price = pile.value / np.maximum(counts, 1)
    return _Pile(shapes=pile.shapes, counts=rest[:, None], value=rest * price, copies=(rest > 0).astype(np.int64))


def _mixed(
    group: Sequence[Shape], rows: Counts, demand: Sequence[int], price: Sequence[float], pure: Sequence[_Pile]
) -> list[_Pile]:
    """The best stack of several shapes of one width, where it beats each alone (a knapsack over the height)."""
    tallest = int(rows[-1])
    value, counts = np.zeros(tallest + 1), np.zeros((tallest + 1, len(group)), dtype=np.int64)
    for column, shape in enumerate(group):
        left, size = min(demand[shape.item], tallest // shape.h), 1
        while left > 0:
            take = min(left, size)
            shift = take * shape.h
            if shift <= tallest:
                with_it = value[:-shift] + take * price[shape.item]
                better = with_it > value[shift:]
                moved = counts[:-shift][better]
                moved[:, column] += take
                counts[shift:][better] = moved
                np.copyto(value[shift:], with_it, where=better)
            left, size = left - take, size * 2
    single = np.max([pile.value for pile in pure], axis=0)
    mix_value, mix_counts = value[rows], counts[rows]
    wanted = np.array([demand[shape.item] for shape in group])
    copies = (wanted // np.maximum(mix_counts, 1) + np.where(mix_counts, 0, wanted.sum())).min(axis=1)
    copies = np.where(mix_value > single, copies, 0)
    if not copies.any():
        return []
    return [_Pile(shapes=tuple(group), counts=mix_counts, value=mix_value, copies=copies)]
