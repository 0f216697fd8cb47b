"""Leftover rectangles between the pieces of a free layout."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from ellwand.model import Offcut, Placed
from ellwand.offcuts import free_offcuts


def place(x: int, y: int, across: int, along: int) -> Placed:
    """A piece where it lies."""
    f = Fraction
    return Placed(piece="p", x=f(x), y=f(y), across=f(across), along=f(along), turned=False)


def test_the_largest_is_taken_first() -> None:
    """An L of cloth round one piece gives its longer arm whole, then the rest."""
    offcuts = free_offcuts(Fraction(10), Fraction(6), [place(0, 0, 4, 4)], Fraction(2))

    sizes = [" ".join(map(str, (offcut.x, offcut.y, offcut.across, offcut.along))) for offcut in offcuts]
    assert sizes == ["4 0 6 6", "0 4 4 2"]


def test_scrap_is_no_offcut() -> None:
    """What is narrower than `keep` is not told."""
    assert free_offcuts(Fraction(10), Fraction(6), [place(0, 0, 9, 6)], Fraction(2)) == ()


rectangles = st.builds(place, st.integers(0, 9), st.integers(0, 9), st.integers(1, 6), st.integers(1, 6))


@given(st.lists(rectangles, max_size=6), st.integers(1, 4))
def test_offcuts_are_empty_disjoint_and_none_is_missed(placed: list[Placed], keep: int) -> None:
    """Cell by cell: offcuts touch neither pieces nor each other, and leave no square of side `keep` free."""
    offcuts = free_offcuts(Fraction(12), Fraction(12), placed, Fraction(keep))
    things: list[Placed | Offcut] = [*placed, *offcuts]
    covered = [cell for thing in things for cell in cells(thing)]
    taken = set(covered)

    assert len(covered) - len([c for p in placed for c in cells(p)]) == len({c for o in offcuts for c in cells(o)})
    assert all(not set(cells(offcut)) & {c for p in placed for c in cells(p)} for offcut in offcuts)
    assert all(
        any((x + i, y + j) in taken for i in range(keep) for j in range(keep))
        for x in range(13 - keep)
        for y in range(13 - keep)
    )


def cells(thing: Placed | Offcut) -> list[tuple[int, int]]:
    """Unit cells of a 12 × 12 cloth that `thing` covers."""
    return [
        (x, y)
        for x in range(int(thing.x), min(12, int(thing.x + thing.across)))
        for y in range(int(thing.y), min(12, int(thing.y + thing.along)))
    ]
