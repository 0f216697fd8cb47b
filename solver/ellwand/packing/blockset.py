"""Blocks: rectangles made of items that straight cuts take apart, and quick questions about them.

A block is a grid of one item, or two blocks that share a side (exactly, or with a little waste).
Sets of blocks are Python integers read as bits, so that "the largest block that fits here and is still wanted"
costs two `and`s of a few hundred bytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ellwand.packing.bits import UpTo, as_long, to_bits
from ellwand.packing.problem import Item, Place, Problem

__all__ = ["Block", "BlockSet", "Pair", "Repeat", "Sizes", "make_blocks"]

Sizes = Sequence[tuple[int, int]]  # width and height of each rectangle to fill


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """`columns` times `rows` of one item."""

    item: int
    turned: bool
    columns: int
    rows: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two blocks, the second beside the first or stacked on it."""

    first: Block
    second: Block
    beside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A rectangle of items: its size, the items' area, what it takes (pairs item, count) and how it is made.

    `columns` are the widths of the columns of items of one width in which it can be cut first; None if it cannot.
    """

    w: int
    h: int
    area: int
    uses: tuple[tuple[int, int], ...]
    columns: tuple[int, ...] | None
    made: Repeat | Pair

    def places(self, items: tuple[Item, ...], stock: int, x: int, y: int) -> Iterator[Place]:
        """Place every item of the block when its lower left corner lies at (x, y)."""
        if isinstance(self.made, Pair):
            first, beside = self.made.first, self.made.beside
            yield from first.places(items, stock, x, y)
            yield from self.made.second.places(items, stock, x + first.w * beside, y + first.h * (not beside))
            return
        made, step_x, step_y = self.made, self.w // self.made.columns, self.h // self.made.rows
        for column in range(made.columns):
            for row in range(made.rows):
                at_x, at_y = x + column * step_x, y + row * step_y
                yield Place(item=made.item, stock=stock, x=at_x, y=at_y, turned=made.turned)


def _counts(most: int, thin: bool) -> list[int]:
    """Numbers of rows to try: all, or ever fewer of the large ones."""
    if not thin:
        return list(range(1, most + 1))
    tried = [1] if most else []
    while tried and tried[-1] < most:
        tried.append(min(most, max(tried[-1] + 1, tried[-1] * 5 // 4)))
    return tried


def _grids(problem: Problem, sizes: Sizes, thin: bool) -> Iterator[Block]:
    for number, item in enumerate(problem.items):
        for turned in (False, True) if item.turnable and item.w != item.h else (False,):
            w, h = (item.h, item.w) if turned else (item.w, item.h)
            widest = min(item.demand, max((a // w for a, b in sizes if b >= h), default=0))
            for columns in _counts(widest, thin):
                tallest = max((b // h for a, b in sizes if a >= columns * w), default=0)
                for rows in _counts(min(item.demand // columns, tallest), thin):
                    count = columns * rows
                    made = Repeat(item=number, turned=turned, columns=columns, rows=rows)
                    area, uses = item.w * item.h * count, ((number, count),)
                    yield Block(w=w * columns, h=h * rows, area=area, uses=uses, columns=(w,) * columns, made=made)


@dataclass(slots=True)
class _Table:
    """The blocks found so far, their numbers in arrays in which partners are looked up, at most `limit`."""

    limit: int
    columnar: bool
    demand: NDArray[np.int32]
    blocks: list[Block] = field(default_factory=list)
    size: NDArray[np.int64] = field(init=False)  # rows w, h, area
    need: NDArray[np.int32] = field(init=False)  # a row for each item
    seen: set[tuple[int, int, tuple[tuple[int, int], ...]]] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.size = np.zeros((3, self.limit), np.int64)
        self.need = np.zeros((len(self.demand), self.limit), np.int32)

    def add(self, block: Block) -> None:
        """Keep a block unless its equal is there already, or there is no room."""
        key = block.w, block.h, block.uses
        at = len(self.blocks)
        if key in self.seen or at == self.limit:
            return
        self.seen.add(key)
        self.blocks.append(block)
        self.size[:, at] = block.w, block.h, block.area
        for item, count in block.uses:
            self.need[item, at] = count

    def partners(self, at: int, beside: bool, sizes: Sizes, fill: int) -> list[int]:
        """Blocks up to number `at` that with it make a rectangle filled to `fill` percent which fits somewhere."""
        w, h, area = self.size[:, : at + 1]
        joined_w = w + w[at] if beside else np.maximum(w, w[at])
        joined_h = np.maximum(h, h[at]) if beside else h + h[at]
        good = (area + area[at]) * 100 >= joined_w * joined_h * fill
        good &= np.logical_or.reduce([(joined_w <= a) & (joined_h <= b) for a, b in sizes])
        for item, count in self.blocks[at].uses:
            good &= self.need[item, : at + 1] + count <= self.demand[item]
        return [int(number) for number in np.flatnonzero(good)]


def _joined(first: Block, second: Block, beside: bool) -> Block:
    uses = dict(first.uses)
    for item, count in second.uses:
        uses[item] = uses.get(item, 0) + count
    return Block(
        w=first.w + second.w if beside else max(first.w, second.w),
        h=max(first.h, second.h) if beside else first.h + second.h,
        area=first.area + second.area,
        uses=tuple(sorted(uses.items())),
        columns=_columns(first, second, beside),
        made=Pair(first=first, second=second, beside=beside),
    )


def _columns(first: Block, second: Block, beside: bool) -> tuple[int, ...] | None:
    if first.columns is None or second.columns is None:
        return None
    if beside:
        return first.columns + second.columns
    return first.columns if first.columns == second.columns else None


def _merge(table: _Table, sizes: Sizes, fill: int) -> None:
    """Join blocks with blocks until nothing new comes or the table is full."""
    at = 0
    while at < len(table.blocks) < table.limit:
        for beside in (True, False):
            for partner in table.partners(at, beside, sizes, fill):
                first, second = table.blocks[at], table.blocks[partner]
                if not table.columnar or _columns(first, second, beside) is not None:
                    table.add(_joined(first, second, beside))
        at += 1


def make_blocks(
    problem: Problem, sizes: Sizes, *, limit: int, fills: Sequence[int], columnar: bool = False
) -> list[Block]:
    """Make blocks that fit one of `sizes`: grids, then merges filled to each of `fills` percent in turn.

    Repeats take at most half of `limit` unless even a thinned choice of them is more. With `columnar`, only blocks
    of columns are made.
    """
    grids = list(_grids(problem, sizes, thin=False))
    if len(grids) > limit // 2:
        grids = list(_grids(problem, sizes, thin=True))
    demand = np.array([item.demand for item in problem.items], np.int32)
    table = _Table(limit=max(limit, len(grids)), columnar=columnar, demand=demand)
    for grid in sorted(grids, key=lambda grid: -grid.area):
        table.add(grid)
    for fill in fills:
        _merge(table, sizes, fill)
    return table.blocks


class BlockSet:
    """Blocks in falling order of area, and for each question the set of blocks that answer it, as bits.

    Bit number i stands for `blocks[i]`, so the lowest bit of a set is its largest block.
    """

    def __init__(self, blocks: Sequence[Block], demand: Sequence[int]) -> None:
        self.blocks = blocks
        w = np.array([block.w for block in blocks], np.int64)
        h = np.array([block.h for block in blocks], np.int64)
        need = np.zeros((len(demand), len(blocks)), np.int32)
        for number, block in enumerate(blocks):
            for item, count in block.uses:
                need[item, number] = count
        self.up_to_w, self.up_to_h = UpTo(w), UpTo(h)
        self.alike: dict[tuple[int, ...], int] = {}  # blocks of the same columns
        for number, block in enumerate(blocks):
            if block.columns is not None:
                self.alike[block.columns] = self.alike.get(block.columns, 0) | 1 << number
        self._as_wide, self._as_high = as_long(w), as_long(h)
        self.wanted = [
            [to_bits(row <= left) for left in range(most + 1)] for row, most in zip(need, demand, strict=True)
        ]

    def fitting(self, w: int, h: int) -> int:
        """The set of blocks that fit into w x h."""
        return self.up_to_w[w] & self.up_to_h[h]

    def matching(self, w: int, h: int) -> int:
        """The set of blocks that are exactly w wide or h high."""
        return self._as_wide.get(w, 0) | self._as_high.get(h, 0)
