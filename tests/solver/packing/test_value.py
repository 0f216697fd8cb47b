"""The most valuable sheets: published optima, and every cut tried on small ones."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from random import Random

import pytest

from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, Stock
from ellwand.packing.value import best_limited, best_values

# Source: Beasley 1985, gcut1 (trade-facts A1)
GCUT1 = (
    *((167, 184), (114, 118), (167, 152), (83, 140), (70, 86)),
    *((143, 166), (120, 160), (66, 148), (87, 141), (69, 165)),
)
# Source: Christofides & Whitlock 1977, cgcut1: length, width, copies, value (trade-facts A2)
CGCUT1 = ((8, 4, 2, 66), (3, 7, 1, 35), (8, 2, 3, 24), (3, 4, 5, 17), (3, 3, 2, 11), (3, 2, 2, 8), (2, 1, 1, 2))


def is_sound(items: Sequence[Item], w: int, h: int, places: tuple[Place, ...]) -> bool:
    """Whether the judge passes a layout on one sheet, cut in any number of stages, for the copies that it holds."""
    used = [sum(place.item == number for place in places) for number in range(len(items))]
    wanted = (Item(w=item.w, h=item.h, demand=n, turnable=item.turnable) for item, n in zip(items, used, strict=True))
    stocks = (Stock(w=w, h=h), Stock(w=1, h=None))
    problem = Problem(items=tuple(wanted), stocks=stocks, guillotine=True, stages=None)
    return judge(problem, Packing(places=places, length=0), Bound(length=0, theorem="")) == ()


def brute(items: Sequence[Item], worth: Sequence[int], w: int, h: int, *, limited: bool) -> int:
    """The most value, by every cut at every cell, and every way to share the copies between its two sides."""

    @cache
    def most(w: int, h: int, left: tuple[int, ...]) -> int:
        fitting = (
            value
            for item, value, count in zip(items, worth, left, strict=True)
            for x, y in {(item.w, item.h), (item.h, item.w) if item.turnable else (item.w, item.h)}
            if count and x <= w and y <= h
        )
        best = max(fitting, default=0)
        for one in shares(left):
            other = tuple(a - b for a, b in zip(left, one, strict=True)) if limited else left
            best = max(best, *(most(x, h, one) + most(w - x, h, other) for x in range(1, w)), 0)
            best = max(best, *(most(w, y, one) + most(w, h - y, other) for y in range(1, h)), 0)
        return best

    def shares(left: tuple[int, ...]) -> list[tuple[int, ...]]:
        parts: list[tuple[int, ...]] = [()]
        for count in left:
            parts = [(*part, n) for part in parts for n in range(count + 1)]
        return [part for part in parts if any(part) and part != left] if limited else [left]

    return most(w, h, tuple(item.demand for item in items))


def random_case(seed: int, side: int, copies: int) -> tuple[list[Item], list[int], int, int]:
    """Two or three items with values, and a sheet."""
    draw = Random(seed)
    items = [
        Item(w=draw.randint(1, 5), h=draw.randint(1, 5), demand=draw.randint(1, copies), turnable=draw.random() < 0.5)
        for _ in range(draw.randint(2, 3))
    ]
    worth = [item.w * item.h + draw.randint(0, 4) for item in items]
    return items, worth, draw.randint(3, side), draw.randint(3, side)


@pytest.mark.parametrize(("turnable", "value"), [(False, 56_460), (True, 58_136)])
def test_gcut1(turnable: bool, value: int) -> None:
    """Tests the published optima of one large sheet, and that the layout is worth as much."""
    items = [Item(w=w, h=h, demand=1, turnable=turnable) for w, h in GCUT1]
    values = best_values(items, [w * h for w, h in GCUT1], 250, 250)
    places = values.places(250, 250)

    # Source: Univ. of São Paulo, results of unconstrained guillotine cutting (trade-facts A1)
    assert values.best(250, 250) == value
    assert sum(items[place.item].w * items[place.item].h for place in places) == value
    assert is_sound(items, 250, 250, places)


def test_cgcut1() -> None:
    """Tests the published optimum with limited copies; without limits more is possible."""
    items = [Item(w=w, h=h, demand=copies, turnable=False) for w, h, copies, _ in CGCUT1]
    worth = [value for *_, value in CGCUT1]
    value, places = best_limited(items, worth, 15, 10)

    # Source: Christofides & Whitlock 1977 (trade-facts A2, optimum from memory there)
    assert value == 244
    assert sum(worth[place.item] for place in places) == 244
    assert is_sound(items, 15, 10, places)
    assert all(sum(place.item == n for place in places) <= item.demand for n, item in enumerate(items))
    assert best_values(items, worth, 15, 10).best(15, 10) >= 244


def test_every_size_by_every_cut() -> None:
    """Tests each size up to the sheet's against a search that cuts at every cell, and that its layout is as good."""
    for seed in range(40):
        items, worth, w, h = random_case(seed, 12, 1)
        values = best_values(items, worth, w, h)
        for x, y in ((w, h), (w - 1, h), (w, h - 1), (w // 2, h)):
            places = values.places(x, y)

            assert values.best(x, y) == brute(items, worth, x, y, limited=False), (seed, x, y)
            assert sum(worth[place.item] for place in places) == values.best(x, y)
            assert is_sound(items, x, y, places)


def test_limited_copies_by_every_cut() -> None:
    """Tests sheets with few copies against a search that shares them between the sides of every cut."""
    tighter = 0
    for seed in range(60):
        items, worth, w, h = random_case(seed, 8, 2)
        value, places = best_limited(items, worth, w, h)
        used = [sum(place.item == number for place in places) for number in range(len(items))]

        assert value == brute(items, worth, w, h, limited=True), seed
        assert sum(worth[place.item] for place in places) == value
        assert all(n <= item.demand for n, item in zip(used, items, strict=True))
        assert is_sound(items, w, h, places)
        tighter += value < best_values(items, worth, w, h).best(w, h)

    assert tighter > 10


def test_fractions_as_values() -> None:
    """Tests that prices of a linear programme, which are no whole numbers, are taken apart again."""
    draw = Random(1)
    items = [Item(w=draw.randint(20, 90), h=draw.randint(20, 90), demand=1, turnable=True) for _ in range(8)]
    worth = [item.w * item.h * draw.random() / 7 for item in items]
    values = best_values(items, worth, 344, 400)

    assert sum(worth[place.item] for place in values.places(344, 400)) == pytest.approx(values.best(344, 400))


def test_what_is_worth_nothing_or_not_wanted_is_left_out() -> None:
    """Tests that an empty sheet is the best where nothing fits, is wanted or has a value."""
    items = [Item(w=9, h=1, demand=1, turnable=False), Item(w=1, h=1, demand=0, turnable=False)]

    assert best_limited(items, [3, 4], 5, 5) == (0.0, ())
    assert best_values([Item(w=2, h=2, demand=1, turnable=False)], [0], 5, 5).places(5, 5) == ()
