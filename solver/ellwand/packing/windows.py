"""Long layouts made shorter a few bands at a time: so a kit of many thousand pieces costs no more than a hundred.

A line across the open stock that meets no item divides it into bands. Some of these, mostly those that waste most,
are taken together as a small problem of their own; where it can be packed shorter, the new bands take their place.
This rounds down what a linear programme chose, and repairs the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from random import Random

from ellwand.packing.problem import Packing, Place, Problem

__all__ = ["shorten_windows"]

Shorten = Callable[[Problem, Packing, int], Packing]  # problem, incumbent, bound


@dataclass(frozen=True, slots=True, kw_only=True)
class _Band:
    """Places of the open stock from y = 0 on, how high they reach together, and the area left between them."""

    places: tuple[Place, ...]
    h: int
    waste: int


def shorten_windows(
    problem: Problem,
    incumbent: Packing,
    bound: int,
    *,
    pieces: int,
    rounds: int,
    random: Random,
    shorten: Shorten,
    tell: Callable[[int], None],
) -> Packing:
    """Make the open stock's part of a packing shorter.

    Parameters
    ----------
    problem, incumbent
        What is packed, and how.
    bound
        No packing is shorter.
    pieces, rounds
        How many items are taken at a time at most, and how often.
    random
        Chooses the bands, but for the first round, which takes those that waste most.
    shorten
        Is given the bands' items as a problem, their packing, and their bound; returns that packing or a shorter one.
    tell
        Hears of each better length.
    """
    number = len(problem.stocks) - 1
    aside = tuple(place for place in incumbent.places if place.stock != number)
    bands = _bands(problem, (place for place in incumbent.places if place.stock == number))
    for turn in range(rounds):
        if sum(band.h for band in bands) <= bound:
            break
        window, others = _chosen(bands, pieces, random if turn else None)
        length = sum(band.h for band in bands)
        bands = others + _repacked(problem, window, shorten)
        if sum(band.h for band in bands) < length:
            tell(sum(band.h for band in bands))
    places = aside + _stacked(bands)
    return Packing(places=places, length=sum(band.h for band in bands))


def _bands(problem: Problem, places: Iterable[Place]) -> list[_Band]:
    """The places between lines that meet none of them."""
    groups: list[list[Place]] = []
    end = 0
    for place in sorted(places, key=lambda place: place.y):
        if not groups or place.y >= end:
            groups.append([])
        groups[-1].append(place)
        end = max(end, place.y + _height(problem, place))
    return [_band(problem, group) for group in groups]


def _band(problem: Problem, group: Sequence[Place]) -> _Band:
    low = group[0].y
    top = max(place.y + _height(problem, place) for place in group)
    area = sum(problem.items[place.item].w * problem.items[place.item].h for place in group)
    places = tuple(replace(place, y=place.y - low) for place in group)
    return _Band(places=places, h=top - low, waste=(top - low) * problem.stocks[-1].w - area)


def _height(problem: Problem, place: Place) -> int:
    item = problem.items[place.item]
    return item.w if place.turned else item.h


def _chosen(bands: Sequence[_Band], pieces: int, random: Random | None) -> tuple[list[_Band], list[_Band]]:
    """Bands for a window and the others: those that waste most of their area, or with `random` mostly such."""
    share = [band.waste / band.h for band in bands]
    drawn = [value * random.random() ** 2 if random else value for value in share]
    window: list[_Band] = []
    others: list[_Band] = []
    for number in sorted(range(len(bands)), key=lambda number: -drawn[number]):
        fits = len(bands[number].places) <= pieces
        pieces -= len(bands[number].places) * fits
        (window if fits else others).append(bands[number])
    return window, others


def _repacked(problem: Problem, window: Sequence[_Band], shorten: Shorten) -> list[_Band]:
    """The bands of a shorter packing of all that lies in the window, or the window's own."""
    places = _stacked(window)
    counts = [0] * len(problem.items)
    for place in places:
        counts[place.item] += 1
    items = tuple(replace(item, demand=count) for item, count in zip(problem.items, counts, strict=True))
    small = replace(problem, items=items, stocks=problem.stocks[-1:])
    known = Packing(places=tuple(replace(place, stock=0) for place in places), length=sum(band.h for band in window))
    area = sum(item.w * item.h * item.demand for item in items)
    packing = shorten(small, known, -(-area // problem.stocks[-1].w))
    if packing is known:
        return list(window)
    last = len(problem.stocks) - 1
    return _bands(problem, (replace(place, stock=last) for place in packing.places))


def _stacked(bands: Sequence[_Band]) -> tuple[Place, ...]:
    places: list[Place] = []
    y = 0
    for band in bands:
        places += (replace(place, y=place.y + y) for place in band.places)
        y += band.h
    return tuple(places)
