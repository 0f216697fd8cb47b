"""The bounds: known values, and never above the exact least on hundreds of tiny problems."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from numpy.typing import NDArray

import ellwand.packing.bars
from ellwand.packing.bars import Pattern, Rack
from ellwand.packing.bound import lower_bound
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, Stock

# Beasley (1985), gcut1. Length × width.
GCUT1 = "167×184 114×118 167×152 83×140 70×86 143×166 120×160 66×148 87×141 69×165"
# Hopper (2000), T1a, and Hopper and Turton (2000), C1-P1: strips without waste. Width × length.
T1A = (
    "82×38 37×13 81×22 16×25 21×64 29×55 52×178 98×39 102×37 46×103 29×86 10×37 63×26 50×11 13×40 60×29 119×20"
)  # fmt: skip
C1P1 = "2×12 7×12 8×6 3×6 3×5 5×5 3×12 3×7 5×7 2×6 3×2 4×2 3×4 4×4 9×2 11×2"


def strip(
    width: int, sizes: list[tuple[int, int]], *, turnable: bool = False, sheets: tuple[tuple[int, int], ...] = ()
) -> Problem:
    """A problem with one item for each different size, as often as it is named."""
    return Problem(
        items=tuple(Item(w=w, h=h, demand=sizes.count((w, h)), turnable=turnable) for w, h in dict.fromkeys(sizes)),
        stocks=(*(Stock(w=w, h=h) for w, h in sheets), Stock(w=width, h=None)),
        guillotine=False,
        stages=None,
    )


def read(text: str) -> list[tuple[int, int]]:
    """Sizes from a list such as ``82×38 37×13``."""
    return [(int(w), int(h)) for w, h in (size.split("×") for size in text.split())]


def flat(sizes: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Sizes with their sides swapped."""
    return [(h, w) for w, h in sizes]


@pytest.mark.parametrize(
    ("problem", "length"),
    [
        # 63 squares, 4 side by side: 16 rows (derived)
        (strip(336, [(76, 76)] * 63, turnable=True), 1216),
        # 13 side by side: 24 rows of 16, though the area fills 360 only (derived)
        (strip(320, [(24, 16)] * 300), 384),
        # 20 turned side by side, and 320 × 360 is filled without waste (derived)
        (strip(320, [(24, 16)] * 300, turnable=True), 360),
        # Source: Hopper 2000, T1a; Hopper & Turton 2000, C1-P1: nothing is wasted, so the least is the area's length
        (strip(200, read(T1A)), 200),
        (strip(20, read(C1P1), turnable=True), 20),
        # Source: published least lengths of free layouts, collected by Kenmochi 2009, Arahori 2012, Wei & Liu 2011
        (strip(250, flat(read(GCUT1))), 1016),
        # one on the sheet and three side by side (derived)
        (strip(10, [(3, 14)] * 4, sheets=((3, 14),)), 14),
        # the sheet holds all four (derived)
        (strip(10, [(3, 4)] * 4, sheets=((6, 8),)), 0),
        # in 6, a line along holds 3 + 3 or one 4, so four columns of 2, but three have room; in 7 they do (derived)
        (strip(7, [(2, 3)] * 2 + [(2, 4)] * 3), 7),
    ],
)
def test_known_lengths(problem: Problem, length: int) -> None:
    """Tests that bounds reach values that are known or easily worked out."""
    assert lower_bound(problem).length == length


def test_bound_without_any_item() -> None:
    """Tests that nothing needs nothing."""
    assert lower_bound(strip(10, [])) == Bound(length=0, theorem="no item needs the open stock for sure")


def test_item_that_is_not_wanted() -> None:
    """Tests that an item with demand 0 lengthens nothing, and that the judge proves nothing by it."""
    problem = Problem(
        items=(Item(w=3, h=90, demand=0, turnable=False), Item(w=3, h=4, demand=3, turnable=False)),
        stocks=(Stock(w=9, h=None),),
        guillotine=True,
        stages=3,
    )
    bound = lower_bound(problem)
    places = tuple(Place(item=1, stock=0, x=x, y=0, turned=False) for x in (0, 3, 6))
    packing = Packing(places=places, length=4)

    assert bound.length == 4
    assert judge(problem, packing, bound) == ()
    assert judge(problem, packing, Bound(length=90, theorem="longest")) == (
        "The bound 90 is above the packing's length 4.",
        "Nothing proves that 90 is the least length possible.",
    )


def tiny(number: int) -> Problem:
    """A random problem of at most four copies, in stocks of a few cells."""
    draw = random.Random(number)
    width = draw.randint(2, 6)
    sizes = [(draw.randint(1, width), draw.randint(1, 4)) for _ in range(draw.randint(1, 3))]
    sizes += draw.choices(sizes, k=draw.randint(0, 4 - len(sizes)))
    sheets = tuple((draw.randint(1, 4), draw.randint(1, 4)) for _ in range(draw.choice((0, 0, 1, 2))))
    return strip(width, sizes, turnable=draw.random() < 0.5, sheets=sheets)


def least(problem: Problem) -> Packing:
    """The shortest packing, free, by exhaustive search."""
    for length in range(sum(max(item.w, item.h) * item.demand for item in problem.items) + 1):
        stocks = [(stock.w, length if stock.h is None else stock.h) for stock in problem.stocks]
        places = fill(problem, stocks)
        if places is not None:
            return Packing(places=places, length=length)
    raise AssertionError("a strip of all items on top of each other is long enough")


def lying_at(
    problem: Problem, stocks: list[tuple[int, int]], stock: int, x: int, y: int
) -> Iterator[tuple[Place, int]]:
    """Every way for an item to lie at a cell of a finite stock, with the bits of the cells it covers."""
    width, height = stocks[stock]
    for number, item in enumerate(problem.items):
        for turned in (False, True) if item.turnable else (False,):
            w, h = (item.h, item.w) if turned else (item.w, item.h)
            if x + w <= width and y + h <= height:
                row = ((1 << w) - 1) << x
                covered = sum(row << (y + up) * width for up in range(h))
                yield Place(item=number, stock=stock, x=x, y=y, turned=turned), covered


def fill(problem: Problem, stocks: list[tuple[int, int]]) -> tuple[Place, ...] | None:
    """Places in finite stocks, or None: cell by cell, from below, each is waste or a free item's lower left corner."""

    @cache
    def rest(stock: int, taken: int, left: tuple[int, ...]) -> tuple[Place, ...] | None:
        if not any(left):
            return ()
        if stock == len(stocks):
            return None
        w, h = stocks[stock]
        cell = (~taken & (taken + 1)).bit_length() - 1
        if cell >= w * h:
            return rest(stock + 1, 0, left)
        x, y = cell % w, cell // w
        for place, covered in lying_at(problem, stocks, stock, x, y):
            if left[place.item] and not covered & taken:
                fewer = tuple(count - (item == place.item) for item, count in enumerate(left))
                found = rest(stock, taken | covered, fewer)
                if found is not None:
                    return (place, *found)
        return rest(stock, taken | 1 << cell, left)

    return rest(0, 0, tuple(item.demand for item in problem.items))


@pytest.mark.parametrize("hundred", range(5))
def test_bound_is_never_above_the_least(hundred: int) -> None:
    """Tests a hundred tiny problems at a time: the judge accepts the shortest packing with its bound."""
    met = 0
    for number in range(100 * hundred, 100 * hundred + 100):
        problem = tiny(number)
        packing, bound = least(problem), lower_bound(problem)
        assert judge(problem, packing, bound) == (), problem
        met += bound.length == packing.length

    assert met >= 80


def test_bound_of_many_sizes_takes_little_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tests that a kit of 8 sizes, 35 000 pieces and two sorts of sheets takes few knapsacks."""
    steps: list[int] = []

    def counted(sizes: tuple[int, ...], rack: Rack, worth: NDArray[Any]) -> tuple[float, Pattern]:
        steps.append(rack.work(sizes))
        return best_fill(sizes, rack, worth)

    best_fill = ellwand.packing.bars._fill
    monkeypatch.setattr(ellwand.packing.bars, "_fill", counted)
    sizes = [(80, 80, 42), (52, 52, 168), (36, 20, 84), (28, 608, 2), (28, 700, 2), (320, 20, 9), (100, 60, 7)]
    problem = Problem(
        items=tuple(Item(w=w, h=h, demand=count * 100, turnable=True) for w, h, count in sizes),
        stocks=(*[Stock(w=168, h=144)] * 6, Stock(w=200, h=300), Stock(w=336, h=None)),
        guillotine=True,
        stages=3,
    )
    lower_bound(problem)

    assert 0 < sum(steps) < 300_000  # cells looked at; one knapsack over the sheets of sold length takes thousands
