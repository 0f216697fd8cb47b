"""A packing of larger items holds smaller ones."""

from __future__ import annotations

from ellwand.packing.carry import carry
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, Stock

ITEMS = (Item(w=4, h=6, demand=2, turnable=False), Item(w=3, h=3, demand=1, turnable=True))
PLACES = (
    Place(item=0, stock=0, x=0, y=0, turned=False),
    Place(item=0, stock=0, x=4, y=0, turned=False),
    Place(item=1, stock=0, x=8, y=0, turned=False),
)
PACKING = Packing(places=PLACES, length=6)


def problem(*items: Item, width: int = 11, stages: int | None = None) -> Problem:
    """Items on one open stock, cut straight."""
    return Problem(items=items, stocks=(Stock(w=width, h=None),), guillotine=True, stages=stages)


def test_smaller_items_lie_in_the_corners_of_larger_ones() -> None:
    """The layout is sound, and as long as its own items reach."""
    smaller = problem(Item(w=4, h=5, demand=2, turnable=False), Item(w=2, h=3, demand=1, turnable=True))

    carried = carry(PACKING, problem(*ITEMS), smaller)

    assert carried is not None
    assert carried.length == 5
    assert judge(smaller, carried, Bound(length=0, theorem="")) == ()


def test_a_turnable_item_is_turned_into_a_place() -> None:
    """6 × 4 goes into 4 × 6 once it is turned."""
    turned = problem(Item(w=6, h=4, demand=2, turnable=True))

    carried = carry(PACKING, problem(*ITEMS), turned)

    assert carried is not None
    assert all(place.turned for place in carried.places)


def test_what_is_larger_or_one_more_is_not_carried() -> None:
    """No place holds a wider item, and none is left for a fourth."""
    assert carry(PACKING, problem(*ITEMS), problem(Item(w=5, h=6, demand=1, turnable=False))) is None
    assert carry(PACKING, problem(*ITEMS), problem(Item(w=1, h=1, demand=4, turnable=False))) is None


def test_a_narrower_stock_refuses() -> None:
    """The judge sees a place outside."""
    assert carry(PACKING, problem(*ITEMS), problem(*ITEMS, width=10)) is None


def test_other_stocks_refuse() -> None:
    """A packing of one stock says nothing of two."""
    two = Problem(items=ITEMS, stocks=(Stock(w=9, h=9), Stock(w=11, h=None)), guillotine=True, stages=None)

    assert carry(PACKING, problem(*ITEMS), two) is None


def test_a_column_that_would_need_a_further_stage_refuses() -> None:
    """Items of one width in a column shrink to different ones: no three stages of cuts yield that beside a zone."""
    column = (
        Item(w=6, h=3, demand=1, turnable=False),
        Item(w=6, h=2, demand=1, turnable=False),
        Item(w=5, h=5, demand=1, turnable=False),
    )
    places = tuple(
        Place(item=item, stock=0, x=x, y=y, turned=False) for item, x, y in ((0, 0, 0), (1, 0, 3), (2, 6, 0))
    )
    shrunk = (replaced(column[0], 4), column[1], column[2])

    carried = carry(Packing(places=places, length=5), problem(*column, stages=3), problem(*shrunk, stages=3))

    # A band's one zone may still hold such a column; a second one cannot be.
    assert carried is not None
    twice = tuple(Item(w=item.w, h=item.h, demand=2, turnable=False) for item in column[:2])
    there = tuple(
        Place(item=item, stock=0, x=x, y=y, turned=False) for item, x, y in ((0, 0, 0), (1, 0, 3), (0, 6, 2), (1, 6, 0))
    )
    both = (replaced(twice[0], 4), twice[1])
    wide = Packing(places=there, length=5)
    assert carry(wide, problem(*twice, width=12, stages=3), problem(*both, width=12, stages=3)) is None


def replaced(item: Item, width: int) -> Item:
    """`item` of another width."""
    return Item(w=width, h=item.h, demand=item.demand, turnable=item.turnable)
