"""Few items: the engine's search, the judge's and a third one, cell by cell, agree on what is shortest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product
from random import Random

import pytest

from ellwand.packing.few import MOST_PIECES, pack_few
from ellwand.packing.halt import Halt
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Effort, Item, Problem, Scope, Status, Stock
from ellwand.packing.refute import exists_shorter
from ellwand.packing.solve import solve

SCOPES = {Scope.FREE: (False, None), Scope.GUILLOTINE: (True, None), Scope.THREE_STAGES: (True, 3)}
Boxes = tuple[tuple[int, int, int, int], ...]  # left, low, right, high


def problem_of(
    sizes: list[tuple[int, int, bool]], width: int, sheets: tuple[Stock, ...] = (), scope: Scope = Scope.FREE
) -> Problem:
    """Items as width, height, turnable."""
    guillotine, stages = SCOPES[scope]
    items = (
        Item(w=w, h=h, demand=sizes.count((w, h, turnable)), turnable=turnable)
        for w, h, turnable in dict.fromkeys(sizes)
    )
    return Problem(items=tuple(items), stocks=(*sheets, Stock(w=width, h=None)), guillotine=guillotine, stages=stages)


def random_problem(number: int, scope: Scope, *, side: int, pieces: int) -> Problem:
    """At most `pieces` items of random sides, fixed or turned, in no, one or two sheets and an open stock."""
    draw = Random(number)
    width = draw.randint(3, side + 1)
    sizes = [
        (draw.randint(1, width), draw.randint(1, side), turnable)
        for turnable in draw.choice(((True,), (False,), (True, False)))
        for _ in range(draw.randint(1, 3))
    ]
    sizes = (sizes + draw.choices(sizes, k=2))[: draw.randint(2, pieces)]
    sheets = tuple(
        Stock(w=draw.randint(1, side), h=draw.randint(1, side), either_way=draw.random() < 0.7)
        for _ in range(draw.choice((0, 0, 1, 2)))
    )
    return problem_of(sizes, width, sheets, scope)


# A third search, of its own: straight cuts at every cell, and free layouts cell by cell. It knows no normal patterns,
# no lists of sizes and no corners.

Ways = frozenset[tuple[int, int]]  # widths and heights in which an item may lie
Items = tuple[Ways, ...]  # those wanted, in a fixed order


def without(items: Items) -> Iterator[tuple[Items, Items]]:
    """Every part of the items, but for none, and the rest."""
    for chosen in product((True, False), repeat=len(items)):
        if any(chosen):
            yield (
                tuple(item for item, taken in zip(items, chosen, strict=True) if taken),
                tuple(item for item, taken in zip(items, chosen, strict=True) if not taken),
            )


def flipped(items: Items) -> Items:
    """The same with x and y swapped."""
    return tuple(frozenset((h, w) for w, h in ways) for ways in items)


@cache
def deep(items: Items, w: int, h: int) -> bool:
    """Whether cuts from edge to edge, as many as one likes, free the items from a rectangle."""
    if len(items) == 1:
        return any(x <= w and y <= h for x, y in items[0])
    if sum(x * y for (x, y), *_ in map(tuple, items)) > w * h:
        return False
    for part, rest in without(items):
        if rest and items[0] in part:
            if any(deep(part, x, h) and deep(rest, w - x, h) for x in range(1, w)):
                return True
            if any(deep(part, w, y) and deep(rest, w, h - y) for y in range(1, h)):
                return True
    return False


@cache
def strips(items: Items, w: int, h: int, zone: bool = True) -> bool:
    """Whether strips across, of which each may hold a zone if `zone`, hold the items."""
    if not items or strip(items, w, h, zone):
        return True
    splits = [split for split in without(items) if split[1]]
    return any(strip(part, w, y, zone) and strips(rest, w, h - y, zone) for part, rest in splits for y in range(1, h))


@cache
def strip(items: Items, w: int, h: int, zone: bool) -> bool:
    """Whether columns of one strip hold the items."""
    if not items or stack(items, w, h) or (zone and strips(items, w, h, False)):
        return True
    return any(
        (stack(part, x, h) and strip(rest, w - x, h, zone))
        or (zone and strips(part, x, h, False) and strip(rest, w - x, h, False))
        for part, rest in without(items)
        if rest
        for x in range(1, w)
    )


def stack(items: Items, w: int, h: int) -> bool:
    """Whether items of one width lie on each other in a rectangle."""
    return any(
        all(any(x == common for x, _ in ways) for ways in items)
        and sum(min(y for x, y in ways if x == common) for ways in items) <= h
        for common in range(1, w + 1)
    )


@cache
def loose(items: Items, w: int, h: int, taken: int = 0) -> bool:
    """Whether the items have room on the cells that are not `taken`: each free cell is waste or a corner of one."""
    if not items:
        return True
    cell = (~taken & (taken + 1)).bit_length() - 1
    x, y = cell % w, cell // w
    if y >= h or sum(a * b for (a, b), *_ in map(tuple, items)) > w * h - taken.bit_count():
        return False
    for ways in set(items):
        rest = list(items)
        rest.remove(ways)
        for a, b in ways:
            covered = sum(((1 << a) - 1) << x + (y + up) * w for up in range(b))
            inside = x + a <= w and y + b <= h
            if inside and not covered & taken and loose(tuple(rest), w, h, taken | covered):
                return True
    return loose(items, w, h, taken | 1 << cell)


def holds(problem: Problem, items: Items, stock: Stock, h: int) -> bool:
    """Whether a stock of height `h` can hold the items."""
    if problem.scope is Scope.FREE:
        return loose(items, stock.w, h)
    if problem.scope is Scope.GUILLOTINE:
        return deep(items, stock.w, h)
    either = stock.h is not None and stock.either_way
    return strips(items, stock.w, h) or (either and strips(flipped(items), h, stock.w))


def least(problem: Problem) -> int:
    """The least length of the open stock, by trying all there is."""
    every = (item for item in problem.items for _ in range(item.demand))
    left = {tuple(frozenset({(i.w, i.h), (i.h, i.w)} if i.turnable else {(i.w, i.h)}) for i in every)}
    *sheets, last = problem.stocks
    for sheet in sheets:
        left |= {
            rest
            for items in left
            for part, rest in without(items)
            if sheet.h is not None and holds(problem, part, sheet, sheet.h)
        }
    longest = sum(max(item.w, item.h) * item.demand for item in problem.items)
    return next(n for n in range(longest + 1) if any(not items or holds(problem, items, last, n) for items in left))


@pytest.mark.parametrize("scope", Scope)
@pytest.mark.parametrize("part", range(4))
def test_three_searches_agree(scope: Scope, part: int) -> None:
    """Tests 200 problems a scope: the length is the least, the judge accepts it as such and refutes any other."""
    sheets = deep_ones = 0
    for number in range(50 * part, 50 * part + 50):
        problem = random_problem(number, scope, side=6, pieces=MOST_PIECES)
        packing, complete = pack_few(problem)
        bound = Bound(length=packing.length, theorem="", searched=scope)

        assert complete
        assert packing.length == least(problem), problem
        assert judge(problem, packing, bound) == (), problem
        assert exists_shorter(problem, packing.length + 1)
        sheets += len(problem.stocks) > 1
        deep_ones += problem.pieces == MOST_PIECES

    assert sheets > 10
    assert deep_ones > 5


# +-----+--+
# |  3  |  |   side by side or on each other, no such five are as low as this, in the width of all of it
# +--+--+ 4|
# |  | 5|  |
# | 2+--+--+
# |  |  1  |
# +--+-----+
def pinwheel(number: int) -> tuple[list[tuple[int, int, bool]], int, int]:
    """The five rectangles of a random one, some turned to hide it, with its width and height."""
    draw = Random(number)
    left, right, low, high = (draw.randint(1, 3) for _ in range(4))
    mid_w, mid_h = draw.randint(1, 2), draw.randint(1, 2)
    sizes = [
        *((mid_w + right, low), (left, low + mid_h), (left + mid_w, high), (right, mid_h + high), (mid_w, mid_h)),
    ]
    turnable = draw.random() < 0.5
    turned = [size[::-1] if turnable and draw.random() < 0.5 else size for size in sizes]
    return [(w, h, turnable) for w, h in turned], left + mid_w + right, low + mid_h + high


@pytest.mark.parametrize("part", range(4))
def test_pinwheels(part: int) -> None:
    """Tests 100 problems whose free layout has no waste: it is found, and what straight cuts need at the least."""
    longer = 0
    for number in range(25 * part, 25 * part + 25):
        sizes, width, height = pinwheel(number)
        free, cut = (problem_of(sizes, width, scope=scope) for scope in (Scope.FREE, Scope.GUILLOTINE))
        packing, complete = pack_few(free)

        # derived: the area fills the rectangle
        assert (packing.length, complete) == (height, True)
        assert judge(free, packing, Bound(length=height, theorem="", searched=Scope.FREE)) == ()
        assert pack_few(cut)[0].length == least(cut)
        longer += least(cut) > height

    assert longer > 5


@pytest.mark.parametrize("scope", Scope)
def test_larger_sides_and_more_sheets(scope: Scope) -> None:
    """Tests that the two searches of the program agree where cells are too many to try."""
    for number in range(20):
        draw = Random(number)
        sizes = [(draw.randint(20, 99), draw.randint(20, 160), draw.random() < 0.5) for _ in range(MOST_PIECES)]
        sheets = tuple(Stock(w=draw.randint(40, 120), h=draw.randint(40, 120)) for _ in range(draw.choice((0, 1, 5))))
        problem = problem_of(sizes, draw.randint(160, 240), sheets, scope)
        packing, _ = pack_few(problem)

        assert judge(problem, packing, Bound(length=packing.length, theorem="", searched=scope)) == ()
        assert packing.length == 0 or exists_shorter(problem, packing.length + 1)


def test_wider_scopes_are_never_longer() -> None:
    """Tests that each scope holds the next, and that deeper cuts save something where two zones lie in one band."""
    for number in range(100):
        lengths = {scope: pack_few(random_problem(number, scope, side=9, pieces=5))[0].length for scope in Scope}
        assert lengths[Scope.FREE] <= lengths[Scope.GUILLOTINE] <= lengths[Scope.THREE_STAGES]

    # derived: the judge's test draws the layout of 6
    zones = [(4, 3, False), (3, 3, False), (4, 2, False), (5, 4, False)]
    cuts = {scope: pack_few(problem_of(zones, 9, scope=scope))[0].length for scope in Scope}
    assert cuts == {Scope.FREE: 6, Scope.GUILLOTINE: 6, Scope.THREE_STAGES: 7}


def test_fewest_sheets_of_equal_lengths() -> None:
    """Tests that what one sheet holds is not spread over three."""
    squares = [(4, 4, True)] * 4
    problem = problem_of(squares, 9, (Stock(w=4, h=8), Stock(w=4, h=8), Stock(w=8, h=8)))
    packing, _ = pack_few(problem)

    assert packing.length == 0
    assert {place.stock for place in packing.places} == {2}


@pytest.mark.parametrize("scope", Scope)
def test_solve_proves_the_best_of_few(scope: Scope) -> None:
    """Tests that five rectangles whose area bound is not met are solved and proven by looking through all layouts."""
    problem = problem_of([(5, 6, True), (4, 7, False), (6, 3, True), (5, 5, True), (3, 4, False)], 9, scope=scope)
    result = solve(problem, effort=Effort.QUICK)

    assert result.method == "every layout"
    assert (result.status, result.settled) == (Status.OPTIMAL, True)
    assert result.bound.scope in (scope, Scope.FREE)
    assert result.packing.length == least(problem)


def test_a_search_that_is_stopped_proves_nothing() -> None:
    """Tests that the layout is whole all the same."""
    problem = problem_of([(3, 1, False), (3, 1, False), (1, 3, False), (1, 3, False), (2, 2, False)], 4)
    packing, complete = pack_few(problem, Halt(stop=lambda: True))

    assert (packing.length, complete) == (5, False)
    assert judge(problem, packing, Bound(length=0, theorem="")) == ()


# A pinwheel of five takes 4, straight cuts need 5.
PINWHEEL = problem_of([(3, 1, False), (3, 1, False), (1, 3, False), (1, 3, False), (2, 2, False)], 4)


def test_judge_refuses_a_search_of_another_scope() -> None:
    """Tests that what holds for straight cuts is not claimed of free layouts."""
    packing, _ = pack_few(replace(PINWHEEL, guillotine=True))
    claimed = Bound(length=5, theorem="", searched=Scope.GUILLOTINE)

    assert judge(replace(PINWHEEL, guillotine=True), packing, claimed) == ()
    assert judge(PINWHEEL, packing, claimed) == (
        "The bound speaks of straight cuts in any number of stages, the problem of any layout.",
    )


def test_judge_refuses_a_search_that_missed_a_layout() -> None:
    """Tests that a length is not the least because someone says so."""
    packing, _ = pack_few(replace(PINWHEEL, guillotine=True))

    assert judge(PINWHEEL, packing, Bound(length=5, theorem="", searched=Scope.FREE)) == (
        "A layout shorter than 5 exists.",
    )


def test_judge_refuses_a_search_of_too_many() -> None:
    """Tests that the judge takes nobody's word where it cannot look through all layouts itself."""
    problem = problem_of([(2, 3, False)] * 6, 4)
    packing = solve(problem, effort=Effort.QUICK).packing

    assert judge(problem, packing, Bound(length=9, theorem="", searched=Scope.FREE)) == (
        "Layouts of 6 items are too many to look through them again.",
    )
