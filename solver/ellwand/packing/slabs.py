"""Slabs: long items side by side along the stock, and crosswise bands in the zone beside them.

Every choice of one slab is tried as a whole layout, then further slabs on top of the best of these.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ellwand.packing.greedy import Filled, Room, Shop
from ellwand.packing.patterns import Band, Cutting, Layout, Run, Shape, Stack, Zone, counts_of, merge, trim
from ellwand.packing.problem import Stock

__all__ = ["Setup", "Slab", "lay_out", "next_slabs", "rest_of", "rooms_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """A band with a zone, cut `copies` times from stock number `stock`."""

    stock: int
    stacks: tuple[Stack, ...]
    copies: int

    @property
    def h(self) -> int:
        """Length of stock that one copy takes."""
        return max(stack.h for stack in self.stacks)

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
                runs.append(Run(band=Band(h=slab.h, stacks=slab.stacks, zone=zone), count=slab.copies))
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
    """All slabs of one or two kinds of long item that leave a zone beside them."""
    wanted = [shape for shape in shapes if left[shape.item] and shape.w <= width]
    low = _usual_height(wanted, left)
    long = sorted((shape for shape in wanted if shape.h >= 2 * low), key=lambda shape: (-shape.h, shape.w, shape.item))
    for shape in long:
        for stacks in _side_by_side(shape, long, width, left):
            used = counts_of([Run(band=Band(h=shape.h, stacks=stacks), count=1)], len(left))
            most = min(left[item] // count for item, count in enumerate(used) if count)
            if height is not None:
                most = min(most, height // shape.h)
            for copies in sorted({1, most} - {0}) if most else []:
                yield Slab(stock=number, stacks=stacks, copies=copies)


def _usual_height(shapes: Sequence[Shape], left: Sequence[int]) -> float:
    """The items' shorter sides, on average over the area: what bands are high without slabs, about."""
    area = {shape.item: (shape.w * shape.h * left[shape.item], min(shape.w, shape.h)) for shape in shapes}
    return sum(weight * side for weight, side in area.values()) / max(1, sum(weight for weight, _ in area.values()))


def _side_by_side(shape: Shape, long: Sequence[Shape], width: int, left: Sequence[int]) -> Iterator[tuple[Stack, ...]]:
    """One to many of a shape, alone or with as many as possible of one a little lower."""
    one = Stack(parts=((shape, 1),))
    for count in range(min(left[shape.item], width // shape.w, 8), 0, -1):
        room = width - count * shape.w
        if room:
            yield (one,) * count
        for other in long:
            if (
                other.item != shape.item
                and 4 * other.h >= 3 * shape.h
                and (other.h, -other.item) < (shape.h, -shape.item)
            ):
                most = min(left[other.item], room // other.w)
                for beside in sorted({1, most // 2, most} - {0}, reverse=True):
                    if room > beside * other.w:
                        yield (one,) * count + (Stack(parts=((other, 1),)),) * beside
