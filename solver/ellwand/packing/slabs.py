"""Slabs: long items side by side along the stock, and crosswise bands in the zone beside them.

Every choice of one slab is tried as a whole layout, then further slabs on top of the best of these.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from ellwand.packing.greedy import Filled, Room, Shop
from ellwand.packing.patterns import Band, Cutting, Layout, Run, Shape, Stack, Zone, counts_of, merge, trim
from ellwand.packing.problem import Stock

__all__ = ["Setup", "Slab", "lay_out", "next_slabs", "rest_of", "rooms_of"]

MOST_LONGER = 3  # lengths of a slab beyond that of its stacks


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """A band `h` long with a zone, cut `copies` times from stock number `stock`; no stack is longer."""

    stock: int
    h: int
    stacks: tuple[Stack, ...]
    copies: int

    @property
    def w(self) -> int:
        """Width of its long items."""
        return sum(stack.w for stack in self.stacks)

    @property
    def runs(self) -> tuple[Run, ...]:
        """The long items alone, as bands."""
        return (Run(band=Band(h=self.h, stacks=self.stacks), count=self.copies),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """The stocks in the order in which they are filled (the open one last), and the slabs cut from them first.

    `swapped` says of each stock whether it is cut the other way round; None leaves that to the greedy.
    """

    order: tuple[int, ...]
    swapped: tuple[bool | None, ...]
    slabs: tuple[Slab, ...] = ()


def rest_of(setup: Setup, demand: Sequence[int]) -> list[int]:
    """What the slabs' long items leave of the demand."""
    long = counts_of([run for slab in setup.slabs for run in slab.runs], len(demand))
    return [want - have for want, have in zip(demand, long, strict=True)]


def rooms_of(setup: Setup, stocks: Sequence[Stock]) -> tuple[Room, ...]:
    """For each stock in order the zones of its slabs, then what they leave of it."""
    rooms = []
    for number in setup.order:
        stock = stocks[number]
        slabs = [slab for slab in setup.slabs if slab.stock == number]
        rooms += [Room(w=stock.w - slab.w, h=slab.h, copies=slab.copies) for slab in slabs]
        if stock.h is None:
            rooms.append(Room(w=stock.w, h=None))
        else:
            used = sum(slab.h * slab.copies for slab in slabs)
            rooms.append(Room(w=stock.w, h=stock.h - used, swapped=setup.swapped[number]))
    return tuple(rooms)


def lay_out(setup: Setup, stocks: Sequence[Stock], filled: Sequence[Filled], demand: Sequence[int]) -> Layout:
    """Put slabs and filled rooms together, and drop what is made beyond the demand."""
    rooms = iter(filled)
    cuttings: list[Cutting | None] = [None] * len(stocks)
    for number in setup.order:
        runs = []
        for slab in setup.slabs:
            if slab.stock == number:
                zone = Zone(w=stocks[number].w - slab.w, runs=merge(next(rooms).runs))
                h = max([zone.h, *(stack.h for stack in slab.stacks)])  # its bands may not fill all of the slab
                runs.append(Run(band=Band(h=h, stacks=slab.stacks, zone=zone), count=slab.copies))
        rest = next(rooms)
        cuttings[number] = Cutting(stock=number, swapped=bool(rest.room.swapped), runs=merge([*runs, *rest.runs]))
    return trim(Layout(cuttings=tuple(cutting for cutting in cuttings if cutting is not None)), demand)


def next_slabs(setup: Setup, shop: Shop, stocks: Sequence[Stock], demand: Sequence[int]) -> Iterator[Setup]:
    """The setup with one slab more, in every way worth trying, the longest first."""
    left = rest_of(setup, demand)
    seen = set()
    for number in setup.order:
        stock = stocks[number]
        if setup.swapped[number]:
            continue
        height = stock.h and stock.h - sum(slab.h * slab.copies for slab in setup.slabs if slab.stock == number)
        if (stock.w, height) not in seen:
            seen.add((stock.w, height))
            for slab in _slabs(number, stock.w, height, shop.shapes, left):
                yield replace(setup, slabs=(*setup.slabs, slab))


def _slabs(number: int, width: int, height: int | None, shapes: Sequence[Shape], left: Sequence[int]) -> Iterator[Slab]:
    """All slabs of one or two kinds of stacks of long items that leave a zone beside them."""
    wanted = [shape for shape in shapes if left[shape.item] and shape.w <= width]
    low = _usual_height(wanted, left)
    short = [shape for shape in wanted if shape.h < 2 * low]
    stacks = list(_long_stacks([shape for shape in wanted if shape.h >= 2 * low], left))
    for stack in stacks:
        for chosen in _side_by_side(stack, stacks, width, left):
            used = counts_of([Run(band=Band(h=stack.h, stacks=chosen), count=1)], len(left))
            least = min(left[item] // count for item, count in enumerate(used) if count)
            beside = width - sum(one.w for one in chosen)
            for h in _lengths(stack.h, {shape.h for shape in short if shape.w <= beside}):
                most = least if height is None else min(least, height // h)
                for copies in sorted({1, most} - {0}) if most else []:
                    yield Slab(stock=number, h=h, stacks=chosen, copies=copies)


def _long_stacks(long: Sequence[Shape], left: Sequence[int]) -> Iterator[Stack]:
    """Stacks of one long item or two of one width end to end, the longest first."""
    found = [Stack(parts=((shape, 1),)) for shape in long]
    for number, lower in enumerate(long):
        for upper in long[number:]:
            if lower.w == upper.w and left[lower.item] > (lower.item == upper.item):
                parts = ((lower, 2),) if lower == upper else ((lower, 1), (upper, 1))
                found.append(Stack(parts=parts))
    yield from sorted(found, key=lambda stack: (-stack.h, stack.w, [shape.item for shape, _ in stack.parts]))


def _lengths(least: int, heights: Collection[int]) -> Iterator[int]:
    """The least length, and some a little longer that bands of one height fill, or one band of another with them."""
    sums = {
        other + -(-(least - other) // height) * height
        for height in heights
        for other in (0, *heights)
        if other <= least
    }
    yield least
    yield from sorted(length for length in sums if length > least)[:MOST_LONGER]


def _usual_height(shapes: Sequence[Shape], left: Sequence[int]) -> float:
    """The items' shorter sides, on average over the area: what bands are high without slabs, about."""
    area = {shape.item: (shape.w * shape.h * left[shape.item], min(shape.w, shape.h)) for shape in shapes}
    return sum(weight * side for weight, side in area.values()) / max(1, sum(weight for weight, _ in area.values()))


def _side_by_side(
    stack: Stack, stacks: Sequence[Stack], width: int, left: Sequence[int]
) -> Iterator[tuple[Stack, ...]]:
    """One to many of a stack, alone or with as many as possible of one that is a little shorter and of other items."""
    items = {shape.item for shape, _ in stack.parts}
    for count in range(min(_available(stack, left), width // stack.w, 8), 0, -1):
        room = width - count * stack.w
        if room:
            yield (stack,) * count
        for other in stacks:
            differs = items.isdisjoint(shape.item for shape, _ in other.parts)
            if differs and 4 * other.h >= 3 * stack.h and _rank(other) < _rank(stack):
                most = min(_available(other, left), room // other.w)
                for beside in sorted({1, most // 2, most} - {0}, reverse=True):
                    if room > beside * other.w:
                        yield (stack,) * count + (other,) * beside


def _available(stack: Stack, left: Sequence[int]) -> int:
    return min(left[shape.item] // count for shape, count in stack.parts)


def _rank(stack: Stack) -> tuple[int, int]:
    return stack.h, -min(shape.item for shape, _ in stack.parts)
