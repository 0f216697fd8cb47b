"""The judge: every kind of wrong packing is told, sound ones pass. y grows upwards in the drawings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import product

import pytest

import ellwand.packing.judge
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, Stock, Weights

NO_BOUND = Bound(length=0, theorem="")
Rectangle = tuple[int, int, int, int]  # x, y, w, h


def layout(
    rectangles: Iterable[Rectangle],
    *,
    width: int,
    sheet: int | None = None,
    guillotine: bool = True,
    stages: int | None = None,
) -> tuple[Problem, Packing]:
    """Rectangles as a packing, in the open stock or, where its height is given, in a sheet of the same width."""
    drawn = tuple(rectangles)
    items = tuple(dict.fromkeys((w, h) for *_, w, h in drawn))
    counts = [(w, h) for *_, w, h in drawn]
    problem = Problem(
        items=tuple(Item(w=w, h=h, demand=counts.count((w, h)), turnable=False) for w, h in items),
        stocks=(*([Stock(w=width, h=sheet)] if sheet else []), Stock(w=width, h=None)),
        guillotine=guillotine,
        stages=stages,
    )
    places = tuple(Place(item=items.index((w, h)), stock=0, x=x, y=y, turned=False) for x, y, w, h in drawn)
    return problem, Packing(places=places, length=0 if sheet else max(y + h for _, y, _, h in drawn))


# +--+--+---+
# |1 |1 |   |   2 is turned
# +--+--+ 2 |
# |  0  |   |
# +-----+---+
TIGHT = Problem(
    items=(
        Item(w=6, h=2, demand=1, turnable=False),
        Item(w=3, h=2, demand=2, turnable=False),
        Item(w=4, h=3, demand=1, turnable=True),
    ),
    stocks=(Stock(w=2, h=3), Stock(w=9, h=None)),
    guillotine=True,
    stages=3,
)
PLACES = (
    Place(item=0, stock=1, x=0, y=0, turned=False),
    Place(item=1, stock=1, x=0, y=2, turned=False),
    Place(item=1, stock=1, x=3, y=2, turned=False),
    Place(item=2, stock=1, x=6, y=0, turned=True),
)
AREA = Bound(length=4, theorem="area", weights=Weights(axis="across", value=((3, 3), (4, 4), (6, 6))))


def faults(*places: Place, length: int = 4, bound: Bound = AREA) -> tuple[str, ...]:
    """The judge's faults in a packing of `TIGHT`."""
    return judge(TIGHT, Packing(places=places, length=length), bound)


def test_sound_packing_has_no_faults() -> None:
    """Tests that a tight packing and its area bound pass."""
    assert faults(*PLACES) == ()


def test_missing_item() -> None:
    """Tests that a missing copy is told."""
    assert faults(*PLACES[:2], PLACES[3]) == ("Item 1 is placed 1 times, not 2.",)


def test_item_too_often() -> None:
    """Tests that an extra copy is told even where it has room."""
    extra = replace(PLACES[1], y=4)

    assert faults(*PLACES, extra, length=6) == ("Item 1 is placed 3 times, not 2.",)


@pytest.mark.parametrize("wrong", [{"item": 3}, {"item": -1}, {"stock": 2}, {"stock": -1}])
def test_unknown_numbers(wrong: dict[str, int]) -> None:
    """Tests that items and stocks that do not exist are told."""
    stray = Place(**{"item": 0, "stock": 1, "x": 0, "y": 9, "turned": False} | wrong)  # type: ignore[arg-type]

    assert faults(*PLACES, stray) == (f"There is no item {stray.item} or no stock {stray.stock}.",)


def test_turned_item_that_may_not_turn() -> None:
    """Tests that only turnable items may turn."""
    moved = (replace(PLACES[0], y=4), *PLACES[1:3], PLACES[3])
    turned = replace(PLACES[1], turned=True, x=0, y=0)

    assert faults(*moved[:1], turned, *moved[2:], length=6) == ("Item 1 at (0, 0) is turned, and may not be.",)


@pytest.mark.parametrize(("number", "x", "y"), [(1, -1, 2), (3, 7, 0), (0, 0, -1)])
def test_item_outside_the_open_stock(number: int, x: int, y: int) -> None:
    """Tests that no side of the open stock may be passed."""
    moved = [replace(place, x=x, y=y) if at == number else place for at, place in enumerate(PLACES)]

    assert f"Item {moved[number].item} at ({x}, {y}) leaves stock 1." in faults(*moved)


def test_item_outside_a_sheet() -> None:
    """Tests that a sheet ends at its height: 3 wide on a sheet of 2."""
    moved = (*PLACES[:2], replace(PLACES[2], stock=0, x=0, y=0), PLACES[3])

    assert faults(*moved) == ("Item 1 at (0, 0) leaves stock 0.",)


def test_overlap() -> None:
    """Tests that two items on the same spot are told, and where."""
    moved = (*PLACES[:2], replace(PLACES[2], x=1), PLACES[3])

    assert faults(*moved) == ("Items 1 and 1 overlap at (1, 2) on stock 1.",)


@pytest.mark.parametrize("length", [3, 5])
def test_wrong_length(length: int) -> None:
    """Tests that the length said must be where the items end."""
    assert f"The packing ends at 4, not at {length}." in faults(*PLACES, length=length)


def test_bound_above_the_length() -> None:
    """Tests that a bound above the packing is refused, and that its weights do not prove it."""
    assert faults(*PLACES, bound=replace(AREA, length=5)) == (
        "The bound 5 is above the packing's length 4.",
        "Nothing proves that 5 is the least length possible.",
    )


@pytest.mark.parametrize(
    "weights",
    [
        None,  # the longest item is 3 at least, not 4
        Weights(axis="across", value=((6, 6),)),  # leaves the others out
        Weights(axis="across", value=((3, 3), (4, 4), (6, 6), (9, -5))),  # a negative weight
        Weights(axis="askew", value=((3, 3), (4, 4), (6, 6))),
        Weights(axis="along", value=((3, 1),)),
    ],
)
def test_bound_that_its_weights_do_not_prove(weights: Weights | None) -> None:
    """Tests that a true bound with a wrong proof is refused."""
    assert faults(*PLACES, bound=replace(AREA, weights=weights)) == (
        "Nothing proves that 4 is the least length possible.",
    )


def test_bound_of_the_longest_item() -> None:
    """Tests that the longest item that fits no sheet needs no weights: 4 by 3 lies flat at best."""
    assert faults(*PLACES, bound=Bound(length=3, theorem="longest")) == ()


def test_bound_rounded_to_a_sum_of_heights() -> None:
    """Tests normal patterns: the area 13 × 2 × 3 fills 7.8 of width 10, and heights of 3 end at 9."""
    problem, packing = layout(((x, y, 2, 3) for y, x in product((0, 3, 6), (0, 2, 4, 6, 8))), width=10)
    problem = replace(problem, items=(replace(problem.items[0], demand=13),))
    packing = replace(packing, places=packing.places[:13])
    area = Weights(axis="across", value=((2, 2),))

    assert judge(problem, packing, Bound(length=9, theorem="", weights=area)) == ()


def test_every_move_of_a_tight_packing_is_caught() -> None:
    """Tests that moving any one item by one, anywhere, is a fault."""
    for number, (dx, dy) in product(range(len(PLACES)), ((1, 0), (-1, 0), (0, 1), (0, -1))):
        moved = list(PLACES)
        moved[number] = replace(moved[number], x=moved[number].x + dx, y=moved[number].y + dy)

        assert faults(*moved), moved


# +-----+--+
# |  3  |  |
# +--+--+ 4|
# |  | 5|  |
# | 2+--+--+
# |  |  1  |
# +--+-----+
PINWHEEL = [(2, 0, 5, 2), (0, 0, 2, 5), (0, 5, 5, 2), (5, 2, 2, 5), (2, 2, 3, 3)]


def test_pinwheel_is_not_guillotine() -> None:
    """Tests that a pinwheel is refused with any number of stages, and fine where cuts are free."""
    assert judge(*layout(PINWHEEL, width=7), NO_BOUND) == ("No edge-to-edge cuts free the items on stock 0.",)
    assert judge(*layout(PINWHEEL, width=7, guillotine=False), NO_BOUND) == ()


# one zone            two zones
# +--+--+--+--+       +---+-------+
# |  |  |  |  |       |   |       |
# |  +--+  |  |       +---++      |
# |  |  |  |  |       |    +------+
# |  +--+--+  |       |    |      |
# |  |     |  |       |    |      |
# +--+-----+--+       +----+------+
THREE = {
    "one stack": [(0, 0, 3, 2), (0, 2, 3, 4)],
    "stacks beside each other": [(0, 0, 3, 6), (3, 0, 4, 3), (3, 3, 4, 2), (7, 1, 2, 4)],
    "waste anywhere": [(1, 1, 3, 2), (1, 5, 3, 1), (6, 2, 2, 5), (0, 9, 9, 1)],
    "one zone": [(0, 0, 2, 9), (2, 0, 4, 3), (2, 3, 2, 2), (4, 3, 2, 6), (2, 6, 2, 3), (6, 0, 3, 8)],
    "a zone that holds a stack": [(0, 0, 2, 9), (2, 0, 4, 3), (2, 3, 2, 6), (4, 3, 2, 2), (4, 6, 2, 2), (6, 0, 3, 8)],
    # both ends of the zone are no stacks; they share the line at 3
    "a zone in two parts": [(0, 0, 4, 3), (0, 3, 3, 3), (4, 0, 3, 3), (4, 3, 4, 3), (8, 0, 1, 6)],
}
DEEPER = {
    # the part at the left has its line at 3, that at the right at 2: two zones in one band
    "two zones": [(0, 0, 4, 3), (0, 3, 3, 3), (4, 0, 3, 2), (4, 2, 5, 4)],
    # in the zone 2..8 beside a full stack, the band 0..6 holds 4..8, which is again no stack
    "a zone in a zone": [(0, 0, 2, 9), (2, 0, 2, 6), (4, 0, 4, 2), (4, 2, 2, 4), (6, 2, 2, 4), (2, 6, 6, 3)],
}


@pytest.mark.parametrize("name", THREE)
def test_three_stages(name: str) -> None:
    """Tests layouts that strip, sub-cut and trim free."""
    assert judge(*layout(THREE[name], width=9, stages=3), NO_BOUND) == ()


@pytest.mark.parametrize("name", DEEPER)
def test_more_than_three_stages(name: str) -> None:
    """Tests that deeper layouts are refused at three stages and accepted at any."""
    assert judge(*layout(DEEPER[name], width=9, stages=3), NO_BOUND) == (
        "Stock 0 takes more than three stages of cuts.",
    )
    assert judge(*layout(DEEPER[name], width=9), NO_BOUND) == ()


def test_sheet_may_be_cut_along_first() -> None:
    """Tests that what is two zones in the open stock is two columns of a sheet."""
    sheet = layout(DEEPER["two zones"], width=9, sheet=6, stages=3)

    assert judge(*sheet, NO_BOUND) == ()


def test_sheet_that_is_cut_across_first() -> None:
    """Tests that the same layout is refused on a sheet whose first cuts run across only, with limited stages."""
    problem, packing = layout(DEEPER["two zones"], width=9, sheet=6, stages=3)
    across = replace(problem, stocks=(replace(problem.stocks[0], either_way=False), problem.stocks[1]))

    assert judge(across, packing, NO_BOUND) == ("Stock 0 takes more than three stages of cuts.",)
    assert judge(replace(across, stages=None), packing, NO_BOUND) == ()
    assert judge(replace(across, guillotine=False), packing, NO_BOUND) == ()


def test_thousands_of_places_are_judged_with_little_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tests that each of 30 000 places is held against its two neighbours alone, and one that is moved is found."""
    looks: list[None] = []

    def counted(one: object, other: object) -> bool:
        looks.append(None)
        return share_x(one, other)  # type: ignore[arg-type]  # handed on as they came

    share_x = ellwand.packing.judge._share_x
    monkeypatch.setattr(ellwand.packing.judge, "_share_x", counted)
    grid = [(4 * x, 3 * y, 4, 3) for x, y in product(range(30), range(1000))]
    problem, packing = layout(grid, width=120, stages=3)
    moved = replace(packing, places=(replace(packing.places[0], x=1), *packing.places[1:]))
    sound, wrong = judge(problem, packing, NO_BOUND), judge(problem, moved, NO_BOUND)

    assert (sound, len(wrong)) == ((), 1)
    assert 30_000 <= len(looks) <= 2 * 2 * 30_000
