"""Bands, stacks and zones: how a stock is cut, kept as patterns and how often each is used.

A stock is cut across into bands, a band along into stacks, a stack across into items::

    +-----+-----+---+--------+
    | A   | A   | C |  zone: |
    +-----+-----+---+  bands |   one band; its zone is cut
    | A   | B   | C |  of its|   as a stock of its own
    +-----+-----+---+  own   |
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from ellwand.packing.problem import Packing, Place, Problem

__all__ = [
    "Band", "Cutting", "Layout", "Run", "Shape", "Stack", "Zone", "counts_of", "merge", "shapes_of", "to_packing",
    "trim", "within",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """An item as it lies in a room: `turned` against its own w and h on the stock."""

    item: int
    turned: bool
    w: int
    h: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Shapes of one width above each other, each so many times."""

    parts: tuple[tuple[Shape, int], ...]

    @property
    def w(self) -> int:
        """Width of the stack."""
        return self.parts[0][0].w

    @property
    def h(self) -> int:
        """Height of all its items together."""
        return sum(shape.h * count for shape, count in self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Stacks side by side from the left, and at most one zone right of them."""

    h: int
    stacks: tuple[Stack, ...]
    zone: Zone | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A part of a band that is cut into bands of its own."""

    w: int
    runs: tuple[Run, ...]

    @property
    def h(self) -> int:
        """Height that its bands take."""
        return sum(run.band.h * run.count for run in self.runs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One band, used `count` times in a row."""

    band: Band
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """How one stock is cut; `swapped` if x and y change places."""

    stock: int
    swapped: bool
    runs: tuple[Run, ...]

    @property
    def h(self) -> int:
        """Length of the stock that the bands take (its width where swapped)."""
        return sum(run.band.h * run.count for run in self.runs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How all stocks are cut; the open stock is the last."""

    cuttings: tuple[Cutting, ...]

    @property
    def length(self) -> int:
        """Length of the open stock that is used."""
        return self.cuttings[-1].h

    @property
    def merit(self) -> tuple[int, int, int]:
        """Less is better: open length, stocks cut into, length used on sheets."""
        used = [cutting for cutting in self.cuttings if cutting.runs]
        return self.length, len(used), sum(cutting.h for cutting in used[:-1])


def shapes_of(problem: Problem, swapped: bool) -> tuple[Shape, ...]:
    """All ways the items may lie, seen along the axes of a room (`swapped`: with x and y exchanged)."""
    shapes = []
    for number, item in enumerate(problem.items):
        for turned in (False, True) if item.turnable and item.w != item.h else (False,):
            w, h = (item.h, item.w) if turned != swapped else (item.w, item.h)
            if item.demand:
                shapes.append(Shape(item=number, turned=turned, w=w, h=h))
    return tuple(shapes)


def _parts_of(runs: Iterable[Run], times: int = 1) -> Iterable[tuple[Shape, int]]:
    for run in runs:
        for stack in run.band.stacks:
            for shape, count in stack.parts:
                yield shape, count * run.count * times
        if run.band.zone is not None:
            yield from _parts_of(run.band.zone.runs, run.count * times)


def counts_of(runs: Iterable[Run], kinds: int) -> list[int]:
    """How often each of `kinds` items occurs in the runs."""
    counts = [0] * kinds
    for shape, count in _parts_of(runs):
        counts[shape.item] += count
    return counts


def within(band: Band, left: list[int]) -> Band:
    """Cut the band down to what `left` still wants, and take that off `left`."""
    stacks = []
    for stack in band.stacks:
        parts = []
        for shape, count in stack.parts:
            take = min(count, left[shape.item])
            left[shape.item] -= take
            if take:
                parts.append((shape, take))
        if parts:
            stacks.append(Stack(parts=tuple(parts)))
    zone = band.zone and Zone(w=band.zone.w, runs=_trim_runs(band.zone.runs, left))
    if zone is not None and not zone.runs:
        zone = None
    return Band(h=max([zone.h if zone else 0, *(stack.h for stack in stacks)]), stacks=tuple(stacks), zone=zone)


def trim(layout: Layout, demand: Sequence[int]) -> Layout:
    """Drop what is made beyond the demand, and the bands and lengths that this frees.

    Raises
    ------
    AssertionError
        If the layout makes less than is wanted.
    """
    left = list(demand)
    cuttings = tuple(
        Cutting(stock=cutting.stock, swapped=cutting.swapped, runs=_trim_runs(cutting.runs, left))
        for cutting in layout.cuttings
    )
    if any(left):
        raise AssertionError(f"items not laid out: {left}")
    return Layout(cuttings=cuttings)


def _trim_runs(runs: Iterable[Run], left: list[int]) -> tuple[Run, ...]:
    """Keep what `left` still wants (and take it off), the best filled bands first."""
    kept: list[Run] = []
    for run in sorted(runs, key=_waste):
        wanted = run.count
        counts = counts_of([Run(band=run.band, count=1)], len(left))
        full = min([wanted, *(left[item] // count for item, count in enumerate(counts) if count)])
        if full:
            kept.append(Run(band=run.band, count=full))
            left[:] = [have - full * count for have, count in zip(left, counts, strict=True)]
        for _ in range(wanted - full):
            band = within(run.band, left)
            if not band.h:
                break
            kept.append(Run(band=band, count=1))
    return tuple(kept)


def _waste(run: Run) -> float:
    """Reach of the band over what lies in it; a slab comes first, that its zone keeps what belongs there."""
    if run.band.zone is not None:
        return 0.0
    area = sum(shape.w * shape.h * count for stack in run.band.stacks for shape, count in stack.parts)
    return run.band.h / area if area else float("inf")


def to_packing(layout: Layout) -> Packing:
    """Expand the patterns to places."""
    places: list[Place] = []
    for cutting in layout.cuttings:
        _walk(cutting.runs, 0, 0, _placer(cutting, places))
    return Packing(places=tuple(places), length=layout.length)


def _placer(cutting: Cutting, places: list[Place]) -> Callable[[Shape, int, int], None]:
    def put(shape: Shape, x: int, y: int) -> None:
        across, along = (y, x) if cutting.swapped else (x, y)
        places.append(Place(item=shape.item, stock=cutting.stock, x=across, y=along, turned=shape.turned))

    return put


def _walk(runs: Iterable[Run], x: int, y: int, put: Callable[[Shape, int, int], None]) -> None:
    for run in runs:
        for _ in range(run.count):
            _walk_band(run.band, x, y, put)
            y += run.band.h


def _walk_band(band: Band, x: int, y: int, put: Callable[[Shape, int, int], None]) -> None:
    for stack in band.stacks:
        top = y
        for shape, count in stack.parts:
            for _ in range(count):
                put(shape, x, top)
                top += shape.h
        x += stack.w
    if band.zone is not None:
        _walk(band.zone.runs, x, y, put)


def merge(runs: Iterable[Run]) -> tuple[Run, ...]:
    """Join runs of the same band that follow each other."""
    return tuple(
        Run(band=band, count=sum(run.count for run in group)) for band, group in groupby(runs, key=lambda run: run.band)
    )
