"""Layouts round blocked parts: nothing lies on them, all that fits is found, and bounds count what is free."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from ellwand.packing.around import fill_around
from ellwand.packing.bound import lower_bound
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Effort, Item, Packing, Phase, Place, Problem, Scope, Stock, Weights
from ellwand.packing.solve import solve

NO_BOUND = Bound(length=0, theorem="")


def hindered(blocked: tuple[tuple[int, int, int, int], ...], *, w: int = 6, h: int = 6) -> Stock:
    """A stock with these parts blocked."""
    return Stock(w=w, h=h, free=w * h - sum(part[2] * part[3] for part in blocked), blocked=blocked)


def problem_of(items: tuple[Item, ...], *stocks: Stock, guillotine: bool = False, wide: int = 10) -> Problem:
    """Items on stocks and an open stock."""
    stages = 3 if guillotine else None
    return Problem(items=items, stocks=(*stocks, Stock(w=wide, h=None)), guillotine=guillotine, stages=stages)


def random_problem(random: Random) -> Problem:
    """Up to twelve items, and two stocks with up to three blocked cells each."""
    items = {(random.randint(1, 5), random.randint(1, 5), random.random() < 0.5) for _ in range(4)}
    stocks = []
    for _ in range(2):
        w, h = random.randint(4, 9), random.randint(4, 9)
        cells = random.sample([(x, y, 1, 1) for x in range(w) for y in range(h)], random.randint(1, 3))
        stocks.append(hindered(tuple(cells), w=w, h=h))
    wanted = tuple(Item(w=w, h=h, demand=random.randint(1, 3), turnable=turnable) for w, h, turnable in sorted(items))
    return problem_of(wanted, *stocks, guillotine=random.random() < 0.5)


@pytest.mark.parametrize("seed", range(40))
def test_random_layouts_are_sound(seed: int) -> None:
    """Whatever is blocked, the judge finds nothing to blame, and the bound is not above the length."""
    problem = random_problem(Random(seed))

    result = solve(problem, effort=Effort.QUICK)

    assert judge(problem, result.packing, result.bound) == ()
    assert result == solve(problem, effort=Effort.QUICK)


def corners(problem: Problem, item: Item, stock: Stock) -> Iterator[tuple[int, int, bool]]:
    """Every place of an item on a stock, either way, that keeps clear of what is blocked."""
    for turned in {False, item.turnable}:
        w, h = (item.h, item.w) if turned else (item.w, item.h)
        for x in range(stock.w - w + 1):
            for y in range((stock.h or 0) - h + 1):
                if all(x >= a + c or a >= x + w or y >= b + d or b >= y + h for a, b, c, d in stock.blocked):
                    yield x, y, turned


@pytest.mark.parametrize("seed", range(60))
def test_a_single_item_is_placed_where_it_fits_at_all(seed: int) -> None:
    """One item goes on a blocked stock if and only if some place of all is clear; derived: all places are tried."""
    random = Random(seed)
    cells = random.sample([(x, y, 1, 1) for x in range(6) for y in range(6)], 5)
    item = Item(w=random.randint(2, 5), h=random.randint(2, 5), demand=1, turnable=random.random() < 0.5)
    problem = problem_of((item,), hindered(tuple(cells)))

    length = solve(problem, effort=Effort.QUICK).packing.length

    assert (length == 0) == any(corners(problem, item, problem.stocks[0]))


def test_a_stock_with_a_hole_is_filled_round_it() -> None:
    """Four items that fit a frame round a hole in one way alone lie there; derived: their area is all that is free."""
    items = (Item(w=4, h=2, demand=4, turnable=True),)
    problem = problem_of(items, hindered(((2, 2, 2, 2),)), guillotine=True)

    result = solve(problem, effort=Effort.QUICK)

    assert result.packing.length == 0
    assert {place.stock for place in result.packing.places} == {0}


def test_the_most_area_is_found_to_fit() -> None:
    """A square of 16 cells keeps two strips of 12 each out; the strips are laid, though they are smaller."""
    square, strip = Item(w=4, h=4, demand=1, turnable=False), Item(w=6, h=2, demand=3, turnable=False)
    problem = problem_of((square, strip), hindered(((0, 2, 1, 1),), h=5))

    filled = fill_around(problem, (0,), least=0, effort=Effort.QUICK, seed=0)

    assert sum(problem.items[place.item].w * problem.items[place.item].h for place in filled.places) == 24


def test_the_judge_sees_what_lies_on_a_blocked_part() -> None:
    """An item beside a blocked part is fine; one cell further it is told."""
    problem = problem_of((Item(w=2, h=2, demand=1, turnable=False),), hindered(((2, 2, 2, 2),)))
    beside, on = (Packing(places=(Place(item=0, stock=0, x=x, y=2, turned=False),), length=0) for x in (0, 1))

    assert judge(problem, beside, NO_BOUND) == ()
    assert judge(problem, on, NO_BOUND) == ("Item 0 at (1, 2) lies on a blocked part of stock 0, at (2, 2).",)


def test_layouts_round_blocked_parts_need_no_straight_cuts() -> None:
    """A pinwheel is refused on a stock for straight cuts, and fine where parts are blocked."""
    items = (Item(w=3, h=1, demand=2, turnable=False), Item(w=1, h=3, demand=2, turnable=False))
    spots = ((0, 0, 0), (0, 1, 3), (1, 3, 0), (1, 0, 1))
    wheel = Packing(places=tuple(Place(item=i, stock=0, x=x, y=y, turned=False) for i, x, y in spots), length=0)
    plain, round_hole = Stock(w=4, h=4), hindered(((1, 1, 2, 2),), w=4, h=4)

    faults = judge(problem_of(items, plain, guillotine=True), wheel, NO_BOUND)

    assert faults == ("No edge-to-edge cuts free the items on stock 0.",)
    assert judge(problem_of(items, round_hole, guillotine=True), wheel, NO_BOUND) == ()


def test_the_bound_counts_what_is_free() -> None:
    """Items of 100 cells on a stock with 60 free leave 40 for an open stock 10 wide: 4 at the least, not 0."""
    problem = problem_of((Item(w=5, h=2, demand=10, turnable=False),), hindered(((0, 0, 4, 10),), w=10, h=10))
    whole = problem_of(problem.items, Stock(w=10, h=10))

    assert lower_bound(problem).length == 4
    assert lower_bound(whole).length == 0


def test_the_judge_counts_what_is_free() -> None:
    """The area proves a bound of 4, and no more; the judge says so by itself."""
    problem = problem_of((Item(w=5, h=2, demand=10, turnable=False),), hindered(((0, 0, 4, 10),), w=10, h=10))
    packing = solve(problem, effort=Effort.QUICK).packing
    area = Weights(axis="across", value=((5, 5),))

    assert judge(problem, packing, Bound(length=4, theorem="", weights=area)) == ()
    freer = replace(problem, stocks=(replace(problem.stocks[0], free=80), problem.stocks[1]))
    assert judge(freer, packing, Bound(length=4, theorem="", weights=area)) == (
        "Nothing proves that 4 is the least length possible.",
    )


def test_a_search_of_layouts_is_no_proof_round_blocked_parts() -> None:
    """The judge refuses a bound by search where parts are blocked."""
    problem = problem_of((Item(w=2, h=2, demand=1, turnable=False),), hindered(((0, 0, 6, 5),)))
    packing = solve(problem, effort=Effort.QUICK).packing

    faults = judge(problem, packing, Bound(length=2, theorem="", searched=Scope.FREE))

    assert faults == ("A search of all layouts knows nothing of blocked parts and phases.",)


def phased(w: int, h: int, *, x: Phase | None = None, y: Phase | None = None, demand: int = 1) -> Item:
    """An item that begins where its phases say."""
    return Item(w=w, h=h, demand=demand, turnable=False, phase_x=x, phase_y=y)


@pytest.mark.parametrize("seed", range(40))
def test_random_phased_layouts_are_sound(seed: int) -> None:
    """The judge finds every phased item in its place, on blocked stocks and the open one."""
    random, problem = Random(seed), random_problem(Random(seed))
    phases = [Phase(start=random.randint(0, 7), repeat=8, parts=random.choice((1, 3))) for _ in problem.items]
    items = tuple(
        replace(item, turnable=False, phase_y=phase, phase_x=phase if phase.start < 3 else None)
        for item, phase in zip(problem.items, phases, strict=True)
    )
    more = Item(w=2, h=7, demand=2, turnable=True)
    problem = replace(problem, items=(*items, more), guillotine=False, stages=None)

    result = solve(problem, effort=Effort.QUICK)

    assert judge(problem, result.packing, result.bound) == ()
    assert result == solve(problem, effort=Effort.QUICK)


@pytest.mark.parametrize("parts", [1, 2, 3, 7])
def test_the_next_place_in_phase(parts: int) -> None:
    """`next` finds the first rounded place from each cell up; derived: all places are written out."""
    phase = Phase(start=4, repeat=8 * parts + 1, parts=parts)
    places = [int(Fraction(4 + n * (8 * parts + 1), parts) + Fraction(1, 2)) for n in range(12)]

    for least in range(60):
        assert phase.next(least) == min(place for place in places if place >= least)


def test_rounding_does_not_add_up() -> None:
    """Thirty items a repeat of 8 1/3 apart end within half a cell of 29 repeats; derived."""
    problem = problem_of((phased(10, 8, y=Phase(start=0, repeat=25, parts=3), demand=30),))

    result = solve(problem, effort=Effort.QUICK)

    assert abs(result.packing.length - (29 * Fraction(25, 3) + 8)) <= Fraction(1, 2)


def test_the_least_phased_length_of_all() -> None:
    """The shortest of all layouts of up to three phased items is found; derived: every set of places is tried."""
    for seed in range(25):
        random = Random(seed)
        phase = Phase(start=random.randint(0, 3), repeat=4)
        items = tuple(
            phased(random.randint(2, 5), random.randint(1, 4), y=random.choice((phase, None))) for _ in range(3)
        )
        problem = problem_of(tuple(dict.fromkeys(items)), wide=6)

        length = solve(problem, effort=Effort.QUICK).packing.length

        assert least_length(problem, length) == length


def least_length(problem: Problem, top: int) -> int:
    """The least length of all layouts up to `top`, by trying every place of every item."""
    wide = problem.stocks[-1].w
    places = [
        [(x, y, item.w, item.h) for y in range(top) for x in range(wide - item.w + 1) if in_phase(item, y)]
        for item in problem.items
    ]
    best = top

    def lay(number: int, laid: list[tuple[int, int, int, int]], length: int) -> None:
        nonlocal best
        if length >= best:
            return
        if number == len(places):
            best = length
            return
        for x, y, w, h in places[number]:
            if all(x >= a + c or a >= x + w or y >= b + d or b >= y + h for a, b, c, d in laid):
                lay(number + 1, [*laid, (x, y, w, h)], max(length, y + h))

    lay(0, [], 0)
    return best


def in_phase(item: Item, y: int) -> bool:
    """Whether an item may begin at `y`."""
    return item.phase_y is None or (y - item.phase_y.start) % item.phase_y.repeat == 0


def test_the_judge_sees_what_is_out_of_phase() -> None:
    """Half a cell off is rounding, more is told, in either direction."""
    half = Phase(start=1, repeat=12, parts=2)  # 0.5, 6.5, 12.5 …
    problem = problem_of((phased(2, 2, x=half, y=half),))

    def faults(x: int, y: int) -> tuple[str, ...]:
        return judge(problem, Packing(places=(Place(item=0, stock=0, x=x, y=y, turned=False),), length=y + 2), NO_BOUND)

    assert faults(0, 1) == faults(1, 0) == faults(7, 6) == ()
    assert faults(2, 7) == ("Item 0 at (2, 7) is out of phase in x.",)
    assert faults(1, 5) == ("Item 0 at (1, 5) is out of phase in y.",)
