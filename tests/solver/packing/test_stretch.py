"""A packing of smaller items whose lines move apart for larger ones."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.packing.bound import lower_bound
from ellwand.packing.judge import judge
from ellwand.packing.problem import Effort, Item, Packing, Place, Problem, Stock
from ellwand.packing.solve import solve
from ellwand.packing.stretch import stretch

# 0 and 1 on each other, 2 beside them:
#   +----+
#   | 1  |----+
#   +----+ 2  |
#   | 0  |    |
#   +----+----+
ITEMS = (
    Item(w=4, h=3, demand=1, turnable=False),
    Item(w=4, h=4, demand=1, turnable=False),
    Item(w=4, h=6, demand=1, turnable=False),
)
PACKING = Packing(
    places=tuple(Place(item=item, stock=0, x=x, y=y, turned=False) for item, x, y in ((0, 0, 0), (1, 0, 3), (2, 4, 0))),
    length=7,
)


def problem(*items: Item, width: int = 10, stages: int | None = 3) -> Problem:
    """Items on one open stock, cut straight."""
    return Problem(items=items, stocks=(Stock(w=width, h=None),), guillotine=True, stages=stages)


def test_lines_move_apart() -> None:
    """Item 1 follows the end of item 0, item 2 the wider of the two."""
    larger = problem(replace(ITEMS[0], h=5), replace(ITEMS[1], w=5), ITEMS[2])

    stretched = stretch(PACKING, problem(*ITEMS), larger)

    assert stretched is not None
    assert [(place.x, place.y) for place in stretched.places] == [(0, 0), (0, 5), (5, 0)]
    assert stretched.length == 9
    assert judge(larger, stretched, lower_bound(larger)) == ()


def test_what_was_waste_is_used_first() -> None:
    """Item 2 may grow to the end of item 1, and the packing is no longer."""
    stretched = stretch(PACKING, problem(*ITEMS), problem(*ITEMS[:2], replace(ITEMS[2], h=7, w=6)))

    assert stretched is not None
    assert stretched.length == 7


@pytest.mark.parametrize(
    "larger",
    [
        problem(replace(ITEMS[0], w=7), *ITEMS[1:]),  # 7 and 4 are more than 10
        problem(*ITEMS, width=7),
        problem(replace(ITEMS[0], demand=2), *ITEMS[1:]),  # one more has no place
        problem(*ITEMS[:2]),
        replace(problem(*ITEMS), stocks=(Stock(w=4, h=4), Stock(w=10, h=None))),
    ],
)
def test_what_does_not_go_is_refused(larger: Problem) -> None:
    """Too wide, too many, or other stocks."""
    assert stretch(PACKING, problem(*ITEMS), larger) is None


@given(
    sizes=st.lists(st.tuples(st.integers(2, 9), st.integers(2, 9), st.integers(1, 4)), min_size=2, max_size=5),
    more=st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2)), min_size=5, max_size=5),
    stages=st.sampled_from((3, None)),
)
@settings(max_examples=30, deadline=None, derandomize=True)
def test_stretched_layouts_stand_before_the_judge(
    sizes: list[tuple[int, int, int]], more: list[tuple[int, int]], stages: int | None
) -> None:
    """With room enough across, items made higher alone always go: what straight cuts free, they free still."""
    items = [Item(w=w, h=h, demand=count, turnable=False) for w, h, count in sizes]
    smaller = problem(*items, width=20, stages=stages)
    found = solve(smaller, effort=Effort.QUICK).packing
    higher = problem(*(replace(item, h=item.h + 1) for item in items), width=20, stages=stages)
    larger = problem(
        *(replace(item, w=item.w + w, h=item.h + h) for item, (w, h) in zip(items, more, strict=False)),
        width=20,
        stages=stages,
    )

    assert stretch(found, smaller, smaller) is not None
    assert stretch(found, smaller, higher) is not None
    stretched = stretch(found, smaller, larger)
    assert stretched is None or judge(larger, stretched, lower_bound(larger)) == ()
