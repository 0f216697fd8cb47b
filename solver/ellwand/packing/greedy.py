"""Fill rooms band by band, always with the band that wastes least for its price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ellwand.packing.bands import Budget, Table, band_heights, price_bands
from ellwand.packing.patterns import Band, Run, Shape, counts_of, within

__all__ = ["Filled", "Room", "Shop", "fill_rooms"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A rectangle to be cut into bands, `copies` times alike.

    Parameters
    ----------
    w, h
        Size along the stock's own axes; `h` None if it has no end.
    swapped
        Whether x and y change places in it; None to choose what holds more.
    """

    w: int
    h: int | None
    swapped: bool | None = False
    copies: int = 1

    @property
    def across(self) -> int:
        """How long its bands are."""
        return self.h if self.swapped and self.h is not None else self.w

    @property
    def along(self) -> int | None:
        """What its bands share, None if it has no end."""
        return self.w if self.swapped else self.h


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """A room and its bands."""

    room: Room
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """What stays the same over a search: how items may lie (also with x and y exchanged), their areas, the effort."""

    shapes: tuple[Shape, ...]
    swapped: tuple[Shape, ...]
    area: tuple[int, ...]
    heights: int
    budget: Budget

    def lying(self, room: Room) -> tuple[Shape, ...]:
        """The shapes as seen in the room."""
        return self.swapped if room.swapped else self.shapes

    def table(self, room: Room, height: int | None, demand: Sequence[int], price: Sequence[float]) -> Table | None:
        """Values of bands for a room of which `height` is left, or None if nothing wanted fits."""
        shapes = [
            shape
            for shape in self.lying(room)
            if demand[shape.item] and shape.w <= room.across and (height is None or shape.h <= height)
        ]
        if not shapes:
            return None
        heights = band_heights(shapes, demand, self.heights)
        if height is not None:
            heights = [h for h in heights if h < height] + [height]
        return price_bands(shapes, heights, room.across, demand, price, self.budget)


def fill_rooms(shop: Shop, rooms: Sequence[Room], demand: Sequence[int], price: Sequence[float]) -> tuple[Filled, ...]:
    """Fill the rooms in their order; the last one has no end and takes what is left."""
    left = list(demand)
    return tuple(_fill_best(shop, room, left, price) for room in rooms)


def _fill_best(shop: Shop, room: Room, left: list[int], price: Sequence[float]) -> Filled:
    if room.swapped is not None:
        return Filled(room=room, runs=_fill(shop, room, left, price))
    tries = []
    for swapped in (False, True):
        rest = list(left)
        turned = replace(room, swapped=swapped)
        runs = _fill(shop, turned, rest, price)
        unplaced = sum(count * area for count, area in zip(rest, shop.area, strict=True))
        tries.append((unplaced, swapped, rest, Filled(room=turned, runs=runs)))
    _, _, left[:], filled = min(tries, key=lambda one: one[:2])
    return filled


def _fill(shop: Shop, room: Room, left: list[int], price: Sequence[float]) -> tuple[Run, ...]:
    """Fill one room and take what it holds off `left`."""
    runs: list[Run] = []
    height = room.along
    while True:
        share = [count // room.copies for count in left]
        table = shop.table(room, height, share, price)
        if table is None:
            return tuple(runs)
        band = _choose(table, room.across, height, share)
        counts = counts_of([Run(band=band, count=1)], len(left))
        times = min(share[item] // count for item, count in enumerate(counts) if count)
        if height is not None:
            times = min(times, height // band.h)
            height -= times * band.h
        runs.append(Run(band=band, count=times))
        left[:] = [have - times * count * room.copies for have, count in zip(left, counts, strict=True)]


def _choose(table: Table, width: int, height: int | None, demand: Sequence[int]) -> Band:
    """The band of most value for its height: of all in the open, of those that fill it best in a room."""
    values = table.value[:, width]
    rates = values / table.heights
    if height is None:
        row = int(np.argmax(rates))
    else:
        row = max(_best_sum(table.heights.tolist(), values.tolist(), height), key=lambda row: (rates[row], row))
    return within(table.band(row, width), list(demand))


def _best_sum(heights: Sequence[int], values: Sequence[float], height: int) -> set[int]:
    """The rows whose heights together fill `height` with the most value (an unbounded knapsack)."""
    best = np.zeros(height + 1)
    steps = []
    for row, (h, value) in enumerate(zip(heights, values, strict=True)):
        size = 1
        while size * h <= height:
            shift = size * h
            with_it = best[:-shift] + size * value
            taken = with_it > best[shift:]
            np.copyto(best[shift:], with_it, where=taken)
            steps.append((row, shift, taken))
            size *= 2
    rows, y = set(), height
    for row, shift, taken in reversed(steps):
        if y >= shift and taken[y - shift]:
            rows.add(row)
            y -= shift
    return rows
