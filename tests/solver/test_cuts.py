"""From places to straight cuts and the offcuts they leave."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.cuts import NotGuillotineError, cut_tree, cuts_of, offcuts_of
from ellwand.model import Cut, Offcut, Placed


def place(name: str, x: int, y: int, across: int, along: int) -> Placed:
    """A piece where it lies, unturned."""
    f = Fraction
    return Placed(piece=name, x=f(x), y=f(y), across=f(across), along=f(along), turned=False)


def told(cut: Cut) -> tuple[int, str, int, int, int, int]:
    """A cut as plain numbers."""
    return cut.step, cut.direction.value, int(cut.at), int(cut.start), int(cut.end), cut.depth


def size(offcut: Offcut) -> tuple[int, int, int, int]:
    """An offcut as plain numbers."""
    return int(offcut.x), int(offcut.y), int(offcut.across), int(offcut.along)


def test_strip_then_sub_cut_then_trim() -> None:
    """Two strips, the second with a trim.

    y 9 ┌────┬────┬──────┐
        │ b  │ b  │ left │  b is 4 × 3 in a strip of 4: trimmed
      5 ├────┴───┬┴──────┤
        │   a    │ left  │
      0 └────────┴───────┘ x 12
    """
    placed = [place("a", 0, 0, 7, 5), place("b", 0, 5, 4, 4), place("b", 4, 5, 4, 3)]

    tree = cut_tree(Fraction(12), Fraction(9), placed, stages=3, whole=False)

    assert [told(cut) for cut in cuts_of(tree)] == [
        (1, "across", 5, 0, 12, 1),
        (2, "along", 7, 0, 5, 2),
        (3, "along", 4, 5, 9, 2),
        (4, "along", 8, 5, 9, 2),
        (5, "across", 8, 4, 8, 3),
    ]
    assert [size(offcut) for offcut in offcuts_of(tree, Fraction(3))] == [(7, 0, 5, 5), (8, 5, 4, 4)]


def test_strips_beside_lengthwise_pieces_count_from_one_again() -> None:
    """Two borders along the selvage; the rest of the width is a cloth of its own.

    y 8 ┌─┬─┬────┐
        │ │ │ c  │
      4 │b│b├──┬─┤
        │ │ │d │ │
      0 └─┴─┴──┴─┘ x 8
    """
    placed = [place("b", 0, 0, 2, 8), place("b", 2, 0, 2, 8), place("d", 4, 0, 3, 4), place("c", 4, 4, 4, 4)]

    tree = cut_tree(Fraction(8), Fraction(8), placed, stages=3, whole=False)

    assert [told(cut) for cut in cuts_of(tree)] == [
        (1, "along", 2, 0, 8, 2),
        (2, "along", 4, 0, 8, 2),
        (3, "across", 4, 4, 8, 1),
        (4, "along", 7, 0, 4, 2),
    ]


def test_a_rectangle_may_be_cut_along_first() -> None:
    """Two columns of unlike stacks are bands once x and y are exchanged; a bolt may not be cut so."""
    placed = [
        place("a", 0, 0, 4, 5), place("b", 0, 5, 3, 4),
        place("c", 4, 0, 5, 4), place("d", 4, 4, 4, 5),
    ]  # fmt: skip

    tree = cut_tree(Fraction(9), Fraction(9), placed, stages=3, whole=True)

    assert [told(cut)[1] for cut in cuts_of(tree)] == ["along", "across", "along", "across", "along"]
    with pytest.raises(NotGuillotineError):
        cut_tree(Fraction(9), Fraction(9), placed, stages=3, whole=False)


@pytest.mark.parametrize("stages", [3, None])
def test_a_length_is_cut_off_first(stages: int | None) -> None:
    """Two stacks from a length: the rest is cut off, and is no offcut.

    y 9 ┌──────────┐
        │  rest    │
      5 ├────┬──┬──┤
        │ a  │b │  │
      0 └────┴──┴──┘ x 10
    """
    placed = [place("a", 0, 0, 4, 5), place("b", 4, 0, 2, 5)]

    tree = cut_tree(Fraction(10), Fraction(9), placed, stages=stages, whole=False)

    assert [told(cut) for cut in cuts_of(tree)] == [
        (1, "across", 5, 0, 10, 1), (2, "along", 4, 0, 5, 2), (3, "along", 6, 0, 5, 2),
    ]  # fmt: skip
    assert [size(offcut) for offcut in offcuts_of(tree, Fraction(4))] == [(6, 0, 4, 5)]
    assert [part.rest for part in tree.parts] == [False, True]


def test_the_rest_is_cut_off_before_the_strips() -> None:
    """Two strips and a gap between them, from a length of 12: the first cut is at 9."""
    placed = [place("a", 0, 0, 10, 3), place("a", 0, 6, 10, 3)]

    tree = cut_tree(Fraction(10), Fraction(12), placed, stages=3, whole=False)

    assert [int(cut.at) for cut in cuts_of(tree)] == [9, 3, 6]
    assert [size(offcut) for offcut in offcuts_of(tree, Fraction(3))] == [(0, 3, 10, 3)]


def test_a_rectangle_and_a_length_used_up_have_no_rest() -> None:
    """What lies beyond the last piece of a rectangle is an offcut of it."""
    placed = [place("a", 0, 0, 10, 5)]

    rectangle = cut_tree(Fraction(10), Fraction(9), placed, stages=3, whole=True)
    used_up = cut_tree(Fraction(10), Fraction(5), placed, stages=3, whole=False)

    assert [size(offcut) for offcut in offcuts_of(rectangle, Fraction(4))] == [(0, 5, 10, 4)]
    assert cuts_of(used_up) == ()
    assert not used_up.rest


def test_a_pinwheel_cannot_be_cut_from_edge_to_edge() -> None:
    """Five pieces round a middle.

    ┌──┬─────┐
    │  ├──┬──┤
    │  │  │  │
    ├──┴──┤  │
    └─────┴──┘
    """
    placed = [
        place("a", 0, 0, 2, 1), place("b", 2, 0, 1, 2), place("c", 1, 2, 2, 1),
        place("d", 0, 1, 1, 2), place("e", 1, 1, 1, 1),
    ]  # fmt: skip

    with pytest.raises(NotGuillotineError):
        cut_tree(Fraction(3), Fraction(3), placed, stages=None, whole=True)


def test_any_number_of_stages_cuts_on() -> None:
    """A layout of four stages is refused at three and cut when any number is allowed."""
    # strip of 6; column 0..5 holds 5 × 2 below, and above it 2 × 4 beside 3 × 3 (which needs a fourth cut)
    placed = [place("a", 0, 0, 5, 2), place("b", 0, 2, 2, 4), place("c", 2, 2, 3, 3), place("d", 5, 0, 2, 6)]
    more = [*placed, place("e", 7, 0, 5, 2), place("f", 7, 2, 2, 4), place("g", 9, 2, 3, 4), place("h", 12, 0, 2, 6)]

    tree = cut_tree(Fraction(14), Fraction(6), more, stages=None, whole=False)

    assert max(cut.depth for cut in cuts_of(tree)) == 5
    assert len(cuts_of(tree)) == 8
