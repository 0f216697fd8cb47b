"""Bands, stacks and zones."""

from __future__ import annotations

import pytest

from ellwand.packing.patterns import (
    Band,
    Cutting,
    Layout,
    Run,
    Shape,
    Stack,
    Zone,
    counts_of,
    merge,
    shapes_of,
    to_packing,
    trim,
)
from ellwand.packing.problem import Item, Place, Problem, Stock

SQUARE = Shape(item=0, turned=False, w=3, h=3)
STRIP = Shape(item=1, turned=False, w=2, h=7)


def slab(rows: int) -> Layout:
    """One long strip, and beside it so many bands of two squares."""
    band = Band(h=3, stacks=(Stack(parts=((SQUARE, 1),)),) * 2)
    zone = Zone(w=6, runs=(Run(band=band, count=rows),))
    runs = (Run(band=Band(h=7, stacks=(Stack(parts=((STRIP, 1),)),), zone=zone), count=1),)
    return Layout(cuttings=(Cutting(stock=0, swapped=False, runs=runs),))


def test_zone_is_right_of_the_stacks() -> None:
    """A zone's bands lie on each other, right of what stands beside them."""
    places = to_packing(slab(2)).places

    assert places[0] == Place(item=1, stock=0, x=0, y=0, turned=False)
    assert [(place.x, place.y) for place in places[1:]] == [(2, 0), (5, 0), (2, 3), (5, 3)]


def test_swapped_cutting_exchanges_x_and_y() -> None:
    """A sheet that is cut the other way round has its bands along y."""
    runs = (Run(band=Band(h=7, stacks=(Stack(parts=((STRIP, 1),)),) * 2), count=1),)
    layout = Layout(cuttings=(Cutting(stock=0, swapped=True, runs=runs),))

    assert [(place.x, place.y) for place in to_packing(layout).places] == [(0, 0), (0, 2)]


def test_counts_include_zones() -> None:
    """What lies in a zone is counted as often as its slab is used."""
    assert counts_of([Run(band=slab(2).cuttings[0].runs[0].band, count=5)], 2) == [20, 5]


def test_trim_drops_surplus_and_shrinks_the_length() -> None:
    """Bands beyond the demand vanish, and the length is that of what remains."""
    band = Band(h=3, stacks=(Stack(parts=((SQUARE, 1),)),) * 2)
    layout = Layout(cuttings=(Cutting(stock=0, swapped=False, runs=(Run(band=band, count=9),)),))

    trimmed = trim(layout, [5])

    assert counts_of(trimmed.cuttings[0].runs, 1) == [5]
    assert trimmed.length == 9


def test_trim_refuses_a_layout_that_makes_too_few() -> None:
    """Nobody may forget an item."""
    with pytest.raises(AssertionError, match="not laid out"):
        trim(slab(2), [5, 1])


def test_merge_joins_equal_neighbours() -> None:
    """Runs of one band that follow each other are one run."""
    band = Band(h=3, stacks=(Stack(parts=((SQUARE, 1),)),))

    assert merge([Run(band=band, count=2), Run(band=band, count=3)]) == (Run(band=band, count=5),)


def test_shapes_are_all_ways_to_lie() -> None:
    """A turnable oblong lies in two ways, a square in one, an item that is not wanted in none."""
    items = (
        Item(w=2, h=5, demand=1, turnable=True),
        Item(w=3, h=3, demand=1, turnable=True),
        Item(w=4, h=1, demand=0, turnable=True),
    )
    problem = Problem(items=items, stocks=(Stock(w=9, h=None),), guillotine=True, stages=3)

    assert [(shape.w, shape.h, shape.turned) for shape in shapes_of(problem, False)] == [
        (2, 5, False),
        (5, 2, True),
        (3, 3, False),
    ]
    assert [(shape.w, shape.h) for shape in shapes_of(problem, True)] == [(5, 2), (2, 5), (3, 3)]
