"""Sheets whose first cuts run across only: the search keeps to it."""

from __future__ import annotations

from dataclasses import replace

from ellwand.packing.problem import Effort, Item, Problem, Stock
from ellwand.packing.solve import solve

# +---+-------+   Cut along first, these are two columns of a sheet; cut across first, two zones in one band, which
# |   |       |   three stages do not reach. (What does not go on the sheet goes on the open stock.)
# +---++      |
# |    +------+
# |    |      |
# +----+------+
COLUMNS = Problem(
    items=tuple(Item(w=w, h=h, demand=1, turnable=False) for w, h in ((4, 3), (3, 3), (3, 2), (5, 4))),
    stocks=(Stock(w=9, h=6), Stock(w=9, h=None)),
    guillotine=True,
    stages=3,
)


def test_sheet_that_may_be_cut_either_way_holds_all() -> None:
    """Tests that the open stock stays whole where the sheet may be cut along first."""
    assert solve(COLUMNS, effort=Effort.QUICK).packing.length == 0


def test_sheet_that_is_cut_across_first_holds_less() -> None:
    """Tests that the judge, which knows the rule, passes what is found, and that it takes more."""
    across = replace(COLUMNS, stocks=(Stock(w=9, h=6, either_way=False), COLUMNS.stocks[1]))

    assert solve(across, effort=Effort.QUICK).packing.length > 0
    assert solve(across, effort=Effort.CAREFUL).packing.length > 0
