"""Layouts by straight cuts in three stages."""

from __future__ import annotations

from random import Random

import pytest

from ellwand.packing.bound import lower_bound
from ellwand.packing.judge import judge
from ellwand.packing.problem import Effort, Item, Packing, Problem, Progress, Stock
from ellwand.packing.rotary import pack_rotary


def problem(*items: tuple[int, int, int, bool], sheets: tuple[tuple[int, int], ...] = (), width: int = 1) -> Problem:
    """Items as width, height, number, turnable; the open stock's width last."""
    return Problem(
        items=tuple(Item(w=w, h=h, demand=demand, turnable=turnable) for w, h, demand, turnable in items),
        stocks=(*(Stock(w=w, h=h) for w, h in sheets), Stock(w=width, h=None)),
        guillotine=True,
        stages=3,
    )


def quilt(seed: int) -> Problem:
    """Cloth for an invented quilt, in eighths of an inch: blocks, sashes, two pairs of borders, full-width strips."""
    random = Random(seed)
    width, block, strip = random.randrange(320, 346), random.choice([60, 76, 84, 100]), random.choice([16, 20, 24])
    across, down, border = random.randrange(3, 7), random.randrange(4, 8), random.choice([20, 36, 52])
    along, beside = down * block + (down - 1) * strip, across * block + (across - 1) * strip
    sizes = {
        (block, block, across * down, True),
        (random.randrange(20, block), random.randrange(20, block), random.choice([8, 16, 24]), random.random() < 0.7),
        (strip, block, across * (down - 1), random.random() < 0.5),
        (strip + 4, strip + 4, random.randrange(9, 40), True),
        (border, along + 2 * border, 2, False),
        (border, beside + 2 * border + 1, 2, False),
        (width, random.choice([18, 20, 25]), random.randrange(4, 9), False),
    }
    return problem(*sorted(sizes), width=width)


def packed(given: Problem, effort: Effort = Effort.QUICK, seed: int = 0) -> Packing:
    """A packing that the judge has passed."""
    bound = lower_bound(given)
    packing = pack_rotary(given, bound=bound.length, effort=effort, seed=seed)

    assert judge(given, packing, bound) == ()
    return packing


@pytest.mark.parametrize(
    ("given", "length"),
    [
        # Source: trade-facts M8, forum post: 63 squares 9 1/2 from 42 in take 152 in; in eighths
        (problem((76, 76, 63, True), width=336), 1216),
        # Source: trade-facts M9, shop article: 300 rectangles 3 × 2, grain locked, from 40 in: 24 strips of 2
        (problem((24, 16, 300, False), width=320), 384),
        # derived from M9 with the grain free: 15 strips of 3
        (problem((24, 16, 300, True), width=320), 360),
        # Source: trade-facts M11, forum tutorial: 168 squares 5 from 40 in take 105 in
        (problem((40, 40, 168, True), width=320), 840),
        # derived from M11 and four lengthwise borders: 160 in by hand, 159 possible
        (problem((40, 40, 168, True), (40, 832, 4, False), width=320), 1272),
        # Source: trade-facts M13, forum thread: 26 in by whole strips; 24 in is possible (derived)
        (problem((32, 32, 52, True), (24, 24, 20, True), width=352), 192),
    ],
)
def test_trade_checks(given: Problem, length: int) -> None:
    """What quilters work out by hand is found at the least effort, or bettered."""
    assert packed(given).length == length


@pytest.mark.parametrize(
    ("side", "number"),
    # Source: trade-facts M15, chart by M. Hohn 2002: squares from 36 in of 44 in cloth; in eighths
    [(16, 396), (20, 238), (24, 168), (32, 99), (40, 56), (48, 42), (64, 20), (80, 12), (96, 9)],
)
def test_squares_from_a_yard(side: int, number: int) -> None:
    """A yard gives just so many squares: one more asks for another strip."""
    assert packed(problem((side, side, number, True), sheets=((352, 288),), width=352)).length == 0
    assert packed(problem((side, side, number + 1, True), sheets=((352, 288),), width=352)).length == side


@pytest.mark.parametrize(
    ("side", "number"),
    # Source: trade-facts M16, chart by M. Hohn 2002: squares from a fat quarter of 18 × 22; in eighths
    [(16, 99), (20, 56), (24, 42), (32, 20), (40, 12), (48, 9)],
)
def test_squares_from_fat_quarters(side: int, number: int) -> None:
    """Three fat quarters give three times as much, and a fourth is left whole."""
    packing = packed(problem((side, side, 3 * number, True), sheets=((176, 144),) * 4, width=352))

    assert packing.length == 0
    assert len({place.stock for place in packing.places}) == 3


@pytest.mark.parametrize(("length", "number"), [(72, 20), (144, 40), (216, 60), (288, 80)])
def test_squares_from_washed_cloth(length: int, number: int) -> None:
    """Four-inch squares from usable 43 in, one inch lost in squaring (Source: trade-facts M17, shop hand-out)."""
    given = problem((32, 32, number, True), sheets=((344, length - 8),), width=344)

    assert packed(given).length == 0


def test_slab_takes_long_strips_and_squares_beside_them() -> None:
    """Long strips lie side by side, squares fill the zone: without it, 2000 would be needed for the strips alone."""
    given = problem((20, 500, 4, False), (40, 40, 60, True), width=280)

    assert packed(given).length == 500


def test_sheet_may_be_cut_along() -> None:
    """Two columns, each cut into pieces of different widths, fill a sheet whose first cut runs along it (derived)."""
    sizes = ((4, 10, 1), (2, 11, 2), (5, 8, 1), (3, 13, 1), (2, 13, 1))
    given = problem(*((w, h, demand, False) for w, h, demand in sizes), sheets=((9, 21),), width=9)

    assert packed(given).length == 0


def test_sheets_are_used_before_the_open_stock() -> None:
    """What sheets hold is not cut from the open stock, and as few of them as can be are cut into."""
    given = problem((10, 10, 13, True), sheets=((25, 25), (40, 30), (12, 12)), width=50)

    packing = packed(given)

    assert packing.length == 0
    assert len({place.stock for place in packing.places}) == 2


def test_counts_cost_nothing() -> None:
    """Thirty-two thousand pieces of eight kinds are packed like three hundred."""
    given = problem(*((40 + 7 * kind, 30 + 11 * kind, 4000, kind % 2 == 0) for kind in range(8)), width=344)

    packing = pack_rotary(given, bound=0, effort=Effort.QUICK, seed=0)

    area = sum(item.w * item.h * item.demand for item in given.items)
    assert len(packing.places) == 32_000
    assert packing.length * 344 < 1.05 * area


@pytest.mark.parametrize("seed", range(12))
def test_quilts_are_sound_and_near_their_bound(seed: int) -> None:
    """Quilt-like problems pass the judge, mostly within 5 % of the bound, and no worse than 12 %."""
    given = quilt(seed)

    assert packed(given).length <= 1.12 * lower_bound(given).length


def test_mean_gap_of_quilts() -> None:
    """Over twelve quilts the least effort stays within 5 % of the bound on average (measured: 4.2 %)."""
    gaps = [packed(quilt(seed)).length / lower_bound(quilt(seed)).length - 1 for seed in range(12)]

    assert sum(gaps) / len(gaps) < 0.05


def test_careful_is_no_worse_than_quick() -> None:
    """More work pays on average."""
    quick = [packed(quilt(seed)).length for seed in range(3)]
    careful = [packed(quilt(seed), Effort.CAREFUL).length for seed in range(3)]

    assert sum(careful) <= sum(quick)


def test_same_seed_same_packing() -> None:
    """Equal input, effort and seed give an equal packing."""
    assert packed(quilt(3), seed=7) == packed(quilt(3), seed=7)


def test_progress_only_gets_better() -> None:
    """Who watches sees lengths that fall, above the bound, the last one that of the packing."""
    seen: list[Progress] = []

    packing = pack_rotary(quilt(5), bound=100, effort=Effort.QUICK, seed=0, watch=seen.append)

    lengths = [progress.length for progress in seen]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[-1] == packing.length
    assert {progress.bound for progress in seen} == {100}


@pytest.mark.parametrize("seed", range(60))
def test_tiny_problems_with_sheets(seed: int) -> None:
    """Anything with up to five kinds of item and six sheets of odd sizes is packed soundly."""
    random = Random(seed)
    width = random.randrange(5, 30)
    items = {
        (random.randint(1, width), random.randint(1, 40), random.random() < 0.5): random.randint(1, 4)
        for _ in range(random.randint(1, 5))
    }
    sheets = [(random.randint(1, 35), random.randint(1, 50)) for _ in range(random.randint(0, 4))]
    given = problem(
        *((w, h, demand, turnable) for (w, h, turnable), demand in items.items()),
        sheets=(*sheets, (width, random.randint(10, 80))),
        width=width,
    )

    assert packed(given).length <= sum(item.h * item.demand for item in given.items)


def test_nothing_wanted_takes_nothing() -> None:
    """An item that is wanted no times is not laid out."""
    assert packed(problem((10, 20, 0, True), (30, 30, 3, True), width=300)).length == 30
