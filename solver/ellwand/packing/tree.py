"""Layouts by straight cuts as trees that change in place, and undo what was changed last.

A part is a block, or a rectangle whose children lie one after another along one direction; what they leave of it is
its gap. As the order of children is free, all that is left between them is one gap::

    +---------+-----+        +---------------+
    | child   |     |        |      gap      |
    |         | gap |        +---------------+
    +---------+     |        |     child     |
    |  free   |     |        |               |
    +---------+-----+        +---------------+
      beside                   not beside
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from ellwand.packing.blockset import BlockSet
from ellwand.packing.problem import Packing, Place, Problem

__all__ = ["Part", "Tree"]


@dataclass(slots=True, eq=False)
class Part:
    """A rectangle: block number `block`, or (where that is -1) children `beside` each other or on each other.

    `only` is the set of blocks that its gap takes (-1 for all), `zoned` whether it lies in a zone.
    """

    w: int
    h: int
    beside: bool
    gap: int = 0
    up: Part | None = None
    block: int = -1
    children: list[Part] = field(default_factory=list)
    changed: int = -1  # the turn in which it was changed last
    gone: int = -1  # the turn in which it was taken out last
    only: int = -1
    zoned: bool = False

    @property
    def free(self) -> tuple[int, int]:
        """Width and height of the gap."""
        return (self.gap, self.h) if self.beside else (self.w, self.gap)


class Tree:
    """A part for each stock, the open one cut off at a length; how many of each item are not laid yet."""

    def __init__(self, problem: Problem, blocks: BlockSet, length: int) -> None:
        self.problem, self.blocks = problem, blocks
        heights = [length if stock.h is None else stock.h for stock in problem.stocks]
        sizes = zip(problem.stocks, heights, strict=True)
        self.roots = tuple(Part(w=stock.w, h=height, beside=False, gap=height) for stock, height in sizes)
        self.left = [item.demand for item in problem.items]
        self.parts: list[Part] = list(self.roots)  # all that have children or a gap, as they were kept last
        self._areas = [item.w * item.h for item in problem.items]
        self._turn = 0
        self._log: list[tuple[Part, list[Part], int]] = []
        self._left_before = list(self.left)

    @property
    def missing(self) -> int:
        """Area of the items that are not laid."""
        return sum(count * area for count, area in zip(self.left, self._areas, strict=True))

    def begin(self) -> None:
        """Keep the tree as it is: from here on changes can be undone."""
        self._turn += 1
        self._log.clear()
        self._left_before = list(self.left)

    def undo(self) -> None:
        """Take back all changes since `begin`."""
        for part, children, gap in self._log:
            part.children, part.gap = children, gap
        self.left = self._left_before

    def keep(self) -> None:
        """List the parts of the tree as it is now."""
        parts, found = list(self.roots), self.parts
        found.clear()
        while parts:
            part = parts.pop()
            if part.block < 0:
                found.append(part)
                parts += part.children

    def is_gone(self, part: Part) -> bool:
        """Whether a part was taken out since `begin`."""
        return part.gone == self._turn

    def take_out(self, part: Part) -> None:
        """Take a part (no stock) out with all that is in it, and every part that would be empty without it."""
        self._drop(part)
        while (up := part.up) is not None:
            self._note(up)
            up.children.remove(part)
            up.gap += part.w if up.beside else part.h
            if up.children or up.up is None:
                return
            up.gone = self._turn
            part = up

    def put(self, part: Part, number: int, along: bool) -> Iterator[Part]:
        """Put a block into a corner of a part's gap, the first cut along the stock or across; tell new gaps."""
        block = self.blocks.blocks[number]
        for item, count in block.uses:
            self.left[item] -= count
        self._note(part)
        w, h = part.free
        if along != part.beside and (block.h < h if part.beside else block.w < w):
            part.gap = 0
            divided = Part(w, h, along, w if along else h, part)
            part.children.append(divided)
            part = divided
        if part.beside:
            part.gap -= block.w
            child = Part(block.w, h, False, h - block.h, part)
        else:
            part.gap -= block.h
            child = Part(w, block.h, True, w - block.w, part)
        if part.gap:
            yield part
        if child.gap:
            child.children.append(Part(block.w, block.h, False, 0, child, number))
            yield child
        else:
            child.block = number
        part.children.append(child)

    def shorten(self, length: int) -> None:
        """Cut the open stock off at `length`; what reaches beyond is taken out. This cannot be undone."""
        self._shorten(self.roots[-1], self.roots[-1].h - length)
        self.keep()

    def _shorten(self, part: Part, less: int) -> bool:
        """Make a part lower; return whether anything is left of it."""
        if part.block >= 0:
            return False
        part.h -= less
        if part.beside:
            for child in [child for child in part.children if not self._shorten(child, less)]:
                self._drop(child)
                part.children.remove(child)
                part.gap += child.w
            return bool(part.children)
        if part.gap < less and len(part.children) == 1 and part.children[0].beside:
            whole = self._shorten(part.children[0], less - part.gap)
            part.gap = 0 if whole else part.h
            if not whole:
                self._drop(part.children.pop())
            return whole
        part.children.sort(key=lambda child: -child.h)
        while part.gap < less and part.children:
            # the lowest child that makes room enough, else the highest
            enough = [child for child in part.children if part.gap + child.h >= less]
            child = enough[-1] if enough else part.children[0]
            self._drop(child)
            part.children.remove(child)
            part.gap += child.h
        part.gap -= less
        return bool(part.children)

    def _drop(self, part: Part) -> None:
        parts = [part]
        while parts:
            part = parts.pop()
            part.gone = self._turn
            if part.block < 0:
                parts += part.children
            else:
                for item, count in self.blocks.blocks[part.block].uses:
                    self.left[item] += count

    def _note(self, part: Part) -> None:
        if part.changed != self._turn:
            part.changed = self._turn
            self._log.append((part, list(part.children), part.gap))

    def packing(self) -> Packing:
        """Where everything lies."""
        places = [place for stock, root in enumerate(self.roots) for place in self._places(root, stock, 0, 0)]
        return Packing(places=tuple(places), length=_top(self.roots[-1]))

    def _places(self, part: Part, stock: int, x: int, y: int) -> Iterator[Place]:
        if part.block >= 0:
            yield from self.blocks.blocks[part.block].places(self.problem.items, stock, x, y)
        for child in part.children:
            yield from self._places(child, stock, x, y)
            x, y = (x + child.w, y) if part.beside else (x, y + child.h)


def _top(part: Part) -> int:
    """Height of a part up to the end of its highest block."""
    tops = [_top(child) for child in part.children]
    if part.block >= 0 or not tops:
        return part.h if part.block >= 0 else 0
    if part.beside:
        return max(tops)
    return sum(child.h for child in part.children[:-1]) + tops[-1]
