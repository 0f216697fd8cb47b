"""Free layouts: skyline, straight cuts where they win, CP-SAT where the pieces are few."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from random import Random

import pytest

import ellwand.packing.free
from ellwand.packing.few import pack_few
from ellwand.packing.free import pack_free
from ellwand.packing.freeexact import improve_free
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Effort, Item, Packing, Place, Problem, Progress, Status, Stock
from ellwand.packing.solve import solve

NO_BOUND = Bound(length=0, theorem="")
Size = tuple[int, int]
Box = tuple[int, int, int, int]  # left, low, right, high
T1A = (
    *((82, 38), (37, 13), (81, 22), (16, 25), (21, 64), (29, 55), (52, 178), (98, 39), (102, 37)),
    *((46, 103), (29, 86), (10, 37), (63, 26), (50, 11), (13, 40), (60, 29), (119, 20)),
)


def problem_of(
    sizes: Sequence[Size], *, width: int, turnable: bool, demand: int = 1, sheets: Sequence[Size] = ()
) -> Problem:
    """Rectangles, all different, to lay freely into sheets and an open stock."""
    items = tuple(Item(w=w, h=h, demand=demand, turnable=turnable) for w, h in sorted(set(sizes)))
    stocks = (*(Stock(w=w, h=h) for w, h in sheets), Stock(w=width, h=None))
    return Problem(items=items, stocks=stocks, guillotine=False, stages=None)


def packed(problem: Problem, *, bound: int = 0, effort: Effort = Effort.QUICK) -> int:
    """The length found, once the judge has nothing to say against it."""
    packing, _ = pack_free(problem, bound=bound, effort=effort)
    assert judge(problem, packing, NO_BOUND) == ()
    return packing.length


def packed_fast(problem: Problem) -> int:
    """The length of a quick packing, checked by counting and area alone."""
    packing, _ = pack_free(problem, bound=0, effort=Effort.QUICK)
    assert len(packing.places) == sum(item.demand for item in problem.items)
    return packing.length


def random_sizes(seed: int, pieces: int, largest: int) -> list[Size]:
    """Rectangles with sides from 2 up."""
    random = Random(seed)
    return [(random.randint(2, largest), random.randint(2, largest)) for _ in range(pieces)]


def layouts(sizes: Sequence[Size], width: int, turnable: bool, laid: Sequence[Box] = ()) -> Iterator[int]:
    """The lengths of all layouts in which each rectangle rests left and low on the edge or on earlier ones."""
    if not sizes:
        yield max(high for *_, high in laid)
    for number, size in enumerate(sizes):
        for w, h in {size, size[::-1]} if turnable else {size}:
            for x in {0, *(box[2] for box in laid)}:
                for y in {0, *(box[3] for box in laid)}:
                    free = all(x >= b[2] or b[0] >= x + w or y >= b[3] or b[1] >= y + h for b in laid)
                    if free and x + w <= width:
                        rest = [*sizes[:number], *sizes[number + 1 :]]
                        yield from layouts(rest, width, turnable, [*laid, (x, y, x + w, y + h)])


def test_t1a_reaches_its_optimum() -> None:
    """Seventeen rectangles of no waste that no straight cuts can free."""
    problem = problem_of(T1A, width=200, turnable=False)

    # Source: Hopper, thesis, Cardiff 2000, T1a (trade-facts A3)
    assert packed(problem, bound=200, effort=Effort.CAREFUL) == 200


@pytest.mark.parametrize("turnable", [False, True])
def test_brute_force_agrees_on_four_rectangles(turnable: bool) -> None:
    """CP-SAT closes what is so small, so the optimum is met exactly."""
    for seed in range(4):
        sizes = [(3, 4), *random_sizes(seed, 3, 9)]
        problem = problem_of(sizes, width=11, turnable=turnable)

        # derived: every layout pushed to the lower left, counted out
        assert packed(problem, effort=Effort.CAREFUL) == min(layouts(list(dict.fromkeys(sizes)), 11, turnable))


# +-----+-+
# |  3  | |
# +-+---+ |   each piece but the middle one is 3 x 1; straight cuts free none of them
# | |   |2|
# | | 4 | |
# |1+---+-+
# | |  0  |
# +-+-----+
def test_a_pinwheel_is_found_by_cp_sat_alone() -> None:
    """From a pile of all five, the one way to lay them without waste but for its mirror images."""
    sizes = ((3, 1), (1, 3), (3, 1), (1, 3), (2, 2))
    items = tuple(Item(w=w, h=h, demand=n, turnable=False) for w, h, n in ((3, 1, 2), (1, 3, 2), (2, 2, 1)))
    problem = Problem(items=items, stocks=(Stock(w=4, h=None),), guillotine=False, stages=None)
    heights = accumulate((h for _, h in sizes), initial=0)
    places = (Place(item=i, stock=0, x=0, y=y, turned=False) for i, y in zip((0, 1, 0, 1, 2), heights, strict=False))
    pile = Packing(places=tuple(places), length=sum(h for _, h in sizes))
    best, settled = improve_free(problem, pile, bound=4, effort=Effort.CAREFUL, seed=0)

    # derived: 3 + 3 + 3 + 3 + 4 of area fill 4 x 4
    assert judge(problem, best, NO_BOUND) == ()
    assert (best.length, settled) == (4, True)


def pile(problem: Problem) -> Packing:
    """All items on each other in the open stock, as low as they may lie and still fit it."""
    places, y = [], 0
    for number, item in enumerate(problem.items):
        turned = item.turnable and (item.w > problem.stocks[-1].w or item.w < item.h <= problem.stocks[-1].w)
        for _ in range(item.demand):
            places.append(Place(item=number, stock=len(problem.stocks) - 1, x=0, y=y, turned=turned))
            y += item.w if turned else item.h
    return Packing(places=tuple(places), length=y)


@pytest.mark.parametrize("sheets", [(), ((5, 6),), ((4, 4), (4, 4))])
def test_cp_sat_proves_what_an_exact_search_finds(sheets: Sequence[Size]) -> None:
    """No least layout is lost by normal positions, by order among equals or by leaving mirrored layouts out."""
    for seed in range(25):
        random = Random(seed)
        sizes = [(random.randint(1, 8), random.randint(1, 8)) for _ in range(random.randint(2, 4))]
        sizes = (sizes + random.choices(sizes, k=3))[:5]
        items = tuple(
            Item(w=w, h=h, demand=sizes.count((w, h)), turnable=random.random() < 0.5) for w, h in dict.fromkeys(sizes)
        )
        stocks = (*(Stock(w=w, h=h) for w, h in sheets), Stock(w=random.randint(8, 11), h=None))
        problem = Problem(items=items, stocks=stocks, guillotine=False, stages=None)
        best, settled = improve_free(problem, pile(problem), bound=0, effort=Effort.CAREFUL, seed=0)

        assert judge(problem, best, NO_BOUND) == (), seed
        assert (best.length, settled) == (pack_few(problem)[0].length, True), seed


def test_cp_sat_ends_its_search_of_twelve() -> None:
    """Where area proves nothing, a dozen rectangles are settled, which is no proof: the status stays feasible."""
    sizes = [(4 + 5 * i % 17, 5 + 7 * i % 13) for i in range(12)]
    problem = problem_of(sizes, width=40, turnable=False)
    result = solve(problem, effort=Effort.CAREFUL)

    assert result.settled
    assert result.status is (Status.OPTIMAL if result.bound.length == result.packing.length else Status.FEASIBLE)


def test_an_incumbent_is_never_made_longer() -> None:
    """A free search that begins at a packing without waste gives it back, wherever its places lie."""
    problem = problem_of([(3, 8), (6, 5), (6, 3)], width=10, turnable=False)
    spots = (((3, 8), 0, 0), ((6, 5), 4, 0), ((6, 3), 4, 5))
    numbers = {(item.w, item.h): number for number, item in enumerate(problem.items)}
    places = (Place(item=numbers[size], stock=0, x=x, y=y, turned=False) for size, x, y in spots)
    known = Packing(places=tuple(places), length=8)

    assert pack_free(problem, known, bound=8, effort=Effort.QUICK) == (known, True)


def test_cp_sat_improves_equal_rectangles_and_keeps_to_sheets() -> None:
    """With two sheets beside the open stock nothing crosses a wall, and nothing gets longer."""
    for seed in range(3):
        sizes = [(w + 2, h + 2) for w, h in random_sizes(seed, 5, 12)]
        problem = problem_of(sizes, width=25, turnable=seed % 2 == 1, demand=2, sheets=[(16, 12), (9, 20)])

        assert packed(problem, effort=Effort.CAREFUL) <= packed(problem)


def test_ten_thousand_items_take_few_passes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Kits of eight kinds fill the stock to 98 percent, each item being chosen in a few passes only."""
    choices: list[None] = []

    def counted(order: object, *others: object) -> int:
        choices.append(None)
        return best(order, *others)  # type: ignore[arg-type]  # handed on as they came

    best = ellwand.packing.free._Order.best
    monkeypatch.setattr(ellwand.packing.free._Order, "best", counted)
    sizes = [(12 + 8 * i, 100 - 11 * i) for i in range(8)]
    problem = problem_of(sizes, width=336, turnable=True, demand=1250)
    length = packed_fast(problem)
    area = sum(w * h for w, h in sizes) * 1250

    # derived: area over width
    assert area / 336 <= length <= area / 336 * 1.02
    assert 10_000 <= len(choices) <= 10 * 10_000


def test_what_fits_the_sheets_takes_nothing_of_the_open_stock() -> None:
    """Sheets are filled first, the unfitting one left out."""
    problem = problem_of([(4, 5)], width=9, turnable=True, demand=5, sheets=[(3, 30), (8, 10), (5, 4)])

    assert packed(problem) == 0


def test_progress_is_told_after_each_method() -> None:
    """The lengths never rise, and the last is the packing's, in the caller's units."""
    problem = problem_of([(3 * w, 3 * h) for w, h in random_sizes(3, 18, 12)], width=60, turnable=True)
    told: list[Progress] = []
    packing, _ = pack_free(problem, bound=0, effort=Effort.QUICK, watch=told.append)

    assert [progress.method for progress in told] == ["skyline", "blocks", "exact"]
    assert [progress.length for progress in told] == sorted((progress.length for progress in told), reverse=True)
    assert told[-1].length == packing.length


def test_equal_input_and_seed_give_an_equal_packing() -> None:
    """Twice the same search with CP-SAT in it, to the last place."""
    problem = problem_of(random_sizes(2, 13, 20), width=40, turnable=True)
    one, two = (pack_free(problem, bound=0, effort=Effort.CAREFUL, seed=5) for _ in range(2))

    assert one == two
