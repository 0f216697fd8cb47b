"""The parts of the search by straight cuts: greedy, slabs, linear programme, whole numbers, spared sheets."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from ellwand.packing.bands import Budget, best_filling, price_bands
from ellwand.packing.construct import construct, deepen, demand_of, length_of, open_case, put_together, start
from ellwand.packing.exact import choose_bands
from ellwand.packing.greedy import Room, Shop, fill_rooms
from ellwand.packing.levels import Master, dive
from ellwand.packing.patterns import counts_of, shapes_of
from ellwand.packing.problem import Item, Problem, Stock
from ellwand.packing.sheets import spare_sheets
from ellwand.packing.slabs import Setup, next_slabs, rest_of, rooms_of

# Four strips of 20 × 500 and 60 squares of 40 on a width of 280: one slab of 500 holds them all.
LONG = Problem(
    items=(Item(w=20, h=500, demand=4, turnable=False), Item(w=40, h=40, demand=60, turnable=True)),
    stocks=(Stock(w=280, h=None),),
    guillotine=True,
    stages=3,
)
# Squares of 4 and of 3 on a width of 11: bands of 4 + 4 + 3 and 3 + 3 + 3.
SMALL = Problem(
    items=(Item(w=4, h=4, demand=8, turnable=True), Item(w=3, h=3, demand=7, turnable=True)),
    stocks=(Stock(w=11, h=None),),
    guillotine=True,
    stages=3,
)
PLAIN = Setup(order=(0,), swapped=(False,))


def shop(problem: Problem, work: float = 1e9) -> Shop:
    """What a search over the problem needs."""
    return Shop(
        shapes=shapes_of(problem, False),
        swapped=shapes_of(problem, True),
        area=tuple(item.w * item.h for item in problem.items),
        heights=20,
        budget=Budget(left=work),
    )


def sheets(*sizes: tuple[int, int], number: int) -> Problem:
    """Squares of 10 and these sheets, then an open stock of 50."""
    stocks = (*(Stock(w=w, h=h) for w, h in sizes), Stock(w=50, h=None))
    return Problem(items=(Item(w=10, h=10, demand=number, turnable=True),), stocks=stocks, guillotine=True, stages=3)


def test_greedy_fills_rooms_in_their_order() -> None:
    """A room takes what fits its length, the open one takes the rest."""
    rooms = (Room(w=11, h=9), Room(w=11, h=None))

    first, last = fill_rooms(shop(SMALL), rooms, [8, 7], [16.0, 9.0])

    made = [counts_of(filled.runs, 2) for filled in (first, last)]
    assert [sum(column) for column in zip(*made, strict=True)] == [8, 7]
    assert sum(run.band.h * run.count for run in first.runs) <= 9


def test_greedy_turns_a_sheet_for_what_it_holds() -> None:
    """Two columns, each cut into pieces of different widths, are bands only with x and y exchanged."""
    sizes = [(4, 10, 1), (2, 11, 2), (5, 8, 1), (3, 13, 1), (2, 13, 1)]
    items = tuple(Item(w=w, h=h, demand=demand, turnable=False) for w, h, demand in sizes)
    stocks = (Stock(w=9, h=21), Stock(w=9, h=None))
    problem = Problem(items=items, stocks=stocks, guillotine=True, stages=3)
    price = [float(item.w * item.h) for item in items]

    filled = fill_rooms(shop(problem), (Room(w=9, h=21, swapped=None), Room(w=9, h=None)), demand_of(problem), price)

    assert filled[0].room.swapped
    assert filled[1].runs == ()


def test_copies_are_filled_alike() -> None:
    """A room of two copies takes two of everything that its bands hold."""
    first, last = fill_rooms(shop(SMALL), (Room(w=11, h=4, copies=2), Room(w=11, h=None)), [8, 7], [16.0, 9.0])

    made = [2 * one + other for one, other in zip(counts_of(first.runs, 2), counts_of(last.runs, 2), strict=True)]
    assert made == [8, 7]


def test_slabs_hold_one_to_all_of_the_long_items() -> None:
    """Every number of long strips side by side is offered, never the squares."""
    slabs = [setup.slabs[-1] for setup in next_slabs(PLAIN, shop(LONG), LONG.stocks, demand_of(LONG))]

    single = [slab for slab in slabs if slab.stacks[0].h == 500]
    assert {(len(slab.stacks), slab.copies) for slab in single} == {(4, 1), (3, 1), (2, 1), (2, 2), (1, 1), (1, 4)}
    assert min(slab.h for slab in single) == 500


def test_slabs_hold_long_items_end_to_end() -> None:
    """Two and two of four long strips are offered as columns of twice their length, too."""
    slabs = [setup.slabs[-1] for setup in next_slabs(PLAIN, shop(LONG), LONG.stocks, demand_of(LONG))]

    double = [slab for slab in slabs if slab.stacks[0].h == 1000]
    assert {(len(slab.stacks), slab.copies) for slab in double} == {(2, 1), (1, 1), (1, 2)}


def test_slabs_are_a_little_longer_where_bands_beside_them_ask_for_it() -> None:
    """Squares of 40 fill 500 to 480, and 520 wholly (derived): 13 bands of 40."""
    slabs = [setup.slabs[-1] for setup in next_slabs(PLAIN, shop(LONG), LONG.stocks, demand_of(LONG))]

    assert {slab.h for slab in slabs if slab.stacks[0].h == 500} == {500, 520}


def test_a_slab_ends_where_its_last_band_does() -> None:
    """A slab that was made longer than its strips for bands that did not come is as long as the strips."""
    offered = next_slabs(PLAIN, shop(LONG), LONG.stocks, demand_of(LONG))
    setup = next(setup for setup in offered if (setup.slabs[0].h, len(setup.slabs[0].stacks)) == (520, 4))
    filled = fill_rooms(shop(LONG), rooms_of(setup, LONG.stocks), [0, 12], [1.0, 1600.0])

    layout = put_together(replace(LONG, items=(LONG.items[0], replace(LONG.items[1], demand=12))), setup, filled).layout

    assert layout.length == 500


def test_best_filling_is_a_knapsack_of_whole_bands() -> None:
    """Bands of 4 (worth 16 a square) and of 3 (9 a square) in 11: heights add up, fractions do not count."""
    shapes = shapes_of(SMALL, swapped=False)
    table = price_bands(shapes, [3, 4], 11, [8, 7], [16.0, 9.0], Budget(left=1000))

    four, three = 2 * 16.0 + 9.0, 3 * 9.0
    assert best_filling(table, 11, 12).tolist() == [0, 0, 0, three, four, four, 54, 68, 82, 82, 95, 109, 123]


def test_slab_takes_its_items_and_leaves_a_zone() -> None:
    """The zone is what the strips leave of the width, and the open room comes last."""
    offered = next_slabs(PLAIN, shop(LONG), LONG.stocks, demand_of(LONG))
    setup = next(setup for setup in offered if setup.slabs[0].h == 500)

    assert rest_of(setup, demand_of(LONG)) == [0, 60]
    assert rooms_of(setup, LONG.stocks) == (Room(w=200, h=500), Room(w=280, h=None))
    assert length_of(setup, LONG) == 500


def test_cases_with_slabs_promise_what_they_keep() -> None:
    """The slab of all four strips promises 500 and is laid out in 500."""
    tools = shop(LONG)
    begun = [open_case(LONG, tools, PLAIN)]

    best = deepen(construct(LONG, tools, begun, keep=1, grown=10, reserve=0), LONG, tools, heights=50, reserve=0)[0]

    assert best.promise == 500
    assert put_together(LONG, best.setup, dive(best.master, 2)).layout.length == 500


def test_linear_programme_reaches_the_best_mix() -> None:
    """Fractions of bands take no less than the area needs, and no more than the best whole bands."""
    master = Master(shop=shop(SMALL), rooms=(Room(w=11, h=None),), demand=[8, 7])

    assert (8 * 16 + 7 * 9) / 11 <= master.generate(50, 20) <= 19


def test_diving_makes_all_and_random_diving_too() -> None:
    """Whatever is drawn, the demand is met, and after a restart again."""
    rooms = (Room(w=11, h=None),)
    master = Master(shop=shop(SMALL), rooms=rooms, demand=[8, 7])
    master.generate(50, 20)
    for random in (None, Random(1), Random(2)):
        layout = put_together(SMALL, PLAIN, dive(master, 2, random)).layout
        master.restart(rooms, [8, 7])
        master.solve()

        assert layout.length >= 19


def test_diving_without_budget_ends_greedily() -> None:
    """Spent work never leaves an item out."""
    tools = shop(SMALL, work=1)
    case = open_case(SMALL, tools, PLAIN)

    assert counts_of(put_together(SMALL, PLAIN, dive(case.master, 2)).layout.cuttings[0].runs, 2) == [8, 7]
    assert tools.budget.over


def test_whole_numbers_meet_the_goal_or_say_no() -> None:
    """19 can be had from the bands, 18 cannot."""
    case = open_case(SMALL, shop(SMALL), PLAIN)
    for number in range(5):
        case.master.enrich(Random(number), 20, 5.0)
    case.master.solve()

    chosen = choose_bands(case.master, 20, 0, 1.0)

    assert chosen is not None
    assert put_together(SMALL, PLAIN, chosen).layout.length == 19
    assert choose_bands(case.master, 19, 0, 1.0) is None


def test_needless_sheet_is_spared() -> None:
    """Thirteen squares spread over three sheets fit two of them."""
    problem = sheets((20, 20), (20, 30), (40, 30), number=13)
    tools = shop(problem)
    setup = Setup(order=(0, 1, 2, 3), swapped=(False,) * 4)
    spread = put_together(problem, setup, fill_rooms(tools, rooms_of(setup, problem.stocks), [13], [100.0]))
    assert spread.merit[:2] == (0, 3)

    assert spare_sheets(problem, tools, spread).merit[:2] == (0, 2)


def test_start_prefers_fewer_sheets() -> None:
    """Of filling from the largest or the smallest sheet on, the better comes first."""
    problem = sheets((20, 20), (20, 30), (40, 30), number=13)

    assert start(problem, shop(problem))[0].merit[:2] == (0, 2)
