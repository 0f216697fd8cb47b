"""The order of cuts with few settings of the ruler."""

from __future__ import annotations

from fractions import Fraction
from random import Random

from ellwand.cutorder import CutOrder, cut_order, together
from ellwand.cutparts import cut_parts, on_the_mat
from ellwand.cuts import cut_tree
from ellwand.model import Direction, Placed, Region

RULER = Fraction(24)


def place(name: str, x: int, y: int, across: int, along: int) -> Placed:
    """A piece where it lies, unturned."""
    f = Fraction
    return Placed(piece=name, x=f(x), y=f(y), across=f(across), along=f(along), turned=False)


def ordered(across: int, along: int, placed: list[Placed], *, spare: int = 0) -> CutOrder:
    """The order for one cloth, cut in three stages."""
    tree = cut_tree(Fraction(across), Fraction(along), placed, stages=3, whole=False)
    return cut_order(tree, RULER, spare=Fraction(spare))


def measures(order: CutOrder) -> list[int]:
    """What the ruler is set to."""
    return [int(setup.measure) for setup in order.setups]


def test_strips_and_sub_cuts_of_one_measure_are_one_setting() -> None:
    """Squares from strips of their own width: the ruler stays; the strip between them is what is left.

    y 9 ┌──┬──┬──┐
        │ c│ c│ c│   3 × 3 three times in each of two strips, with a strip of 4 between them
      6 ├──┴─┬┴──┤
        │ b  │   │
      2 ├──┬─┴┬──┤ ... the strip of 4 is cut at 5
    """
    placed = [place("c", 3 * n, y, 3, 3) for y in (0, 7) for n in range(3)] + [place("b", 0, 3, 5, 4)]

    order = ordered(9, 10, placed)

    assert measures(order) == [3, 5]
    assert order.fewest
    assert order.piecewise_setups == 4  # 3, 4, 5, and 3 again
    assert order.piecewise_cuts == 7  # the last strip and the last square of each come without a cut


def test_equal_sources_are_cut_together() -> None:
    """Four strips, each cut in six: two moves; folded in half they take three cuts a strip."""
    placed = [place("a", 6 * n, 5 * y, 6, 5) for y in range(4) for n in range(6)]

    order = ordered(40, 20, placed, spare=3)

    assert [(move.source, move.part, move.folds, move.doubled) for move in order.setups[0].moves] == [(0, 1, 1, False)]
    assert [(move.source, move.folds, move.doubled) for move in order.setups[1].moves] == [(1, 0, True)]
    assert order.cuts == 4 + 4 * 3
    assert order.piecewise_cuts == 4 + 4 * 6


def test_lengthwise_borders_come_before_patches() -> None:
    """Whatever is cut along the whole length is cut off before the rest of the width is cut up.

    Source: cutting article of a magazine (X5): lengthwise borders before any patch.
    """
    placed = [
        place("border", 0, 0, 4, 50),
        *(place("block", 4 + 9 * n, 9 * y, 9, 9) for y in range(5) for n in range(4)),
    ]

    order = ordered(42, 50, placed)

    assert measures(order)[0] == 4
    assert order.parts[order.setups[0].moves[0].part].names == (("border", 1),)


def test_the_last_part_of_a_source_used_up_needs_no_cut() -> None:
    """6 of 10 in are cut off; what is left is the 4 in wanted."""
    order = ordered(10, 10, [place("a", 0, 0, 10, 6), place("b", 0, 6, 10, 4)])

    assert [[(move.over, order.cuts_of(move)) for move in setup.moves] for setup in order.setups] == [
        [(False, 1), (True, 0)]
    ]


def test_cloth_bought_beyond_need_is_left_and_not_taken_for_a_strip() -> None:
    """With 2 in more on the bolt both strips are cut off."""
    placed = [place("a", 0, 0, 10, 6), place("b", 0, 6, 10, 4)]

    order = ordered(10, 10, placed, spare=2)

    assert measures(order) == [6, 4]
    assert order.setups[-1].moves[-1].after == 2


def test_a_line_longer_than_four_layers_of_ruler_is_told() -> None:
    """24 in cut 96 in of cloth folded twice (X6, X7: four layers as a rule); a longer line has no fold."""
    for across, folds in ((24, 0), (25, 1), (48, 1), (49, 2), (96, 2), (97, None)):
        order = ordered(across, 3, [place("a", 0, 0, across, 3)], spare=1)

        assert order.setups[0].moves[0].folds == folds


def test_what_stays_of_a_length_is_no_part() -> None:
    """A length of 12 of which 5 are used: the mat has 5."""
    tree = cut_tree(Fraction(10), Fraction(12), [place("a", 0, 0, 4, 5), place("b", 4, 0, 2, 5)], stages=3, whole=False)

    assert on_the_mat(tree, Fraction(0)).along == 5
    assert [part.names for part in cut_parts(on_the_mat(tree, Fraction(0)))] == [(), (("a", 1),), (("b", 1),)]


def test_several_cloths_share_settings() -> None:
    """Both cloths have strips of 10 and of 4, in other orders: two settings do for both."""
    one = ordered(10, 14, [place("a", 0, 0, 10, 10), place("b", 0, 10, 10, 4)], spare=1)
    two = ordered(30, 14, [place("a", 0, 0, 30, 10), place("b", 0, 10, 30, 4)], spare=1)

    shared = together([one, two])

    assert [(int(measure), parts) for measure, parts in shared] == [(10, ((0, 0), (1, 0))), (4, ((0, 1), (1, 1)))]


def test_each_cloth_keeps_its_order_among_the_others() -> None:
    """All set-ups of all cloths are there once, each cloth's in its own order, and no more settings than one by one."""
    random = Random(11)
    orders = [cut_order(_random_tree(random), RULER) for _ in range(5)]

    shared = together(orders)

    for number, order in enumerate(orders):
        places = [place for _, done in shared for one, place in done if one == number]
        measures_there = [measure for measure, done in shared for one, _ in done if one == number]
        assert places == list(range(len(order.setups)))
        assert measures_there == [setup.measure for setup in order.setups]
    assert max(len(order.setups) for order in orders) <= len(shared) < sum(len(order.setups) for order in orders)


def test_no_order_of_measures_does_with_fewer_settings() -> None:
    """Against every order of the measures, of random layouts in strips with few sizes, so that they meet again."""
    random = Random(7)
    for _ in range(60):
        tree = _random_tree(random)
        order = cut_order(tree, RULER)

        assert order.least <= len(order.setups) == _fewest(tree)


def _random_tree(random: Random) -> Region:
    """Strips with columns of stacks, their sizes from four."""
    placed, y = [], 0
    for strip in range(random.randint(2, 4)):
        height, x = random.choice((2, 3, 4, 6)), 0
        for column in range(random.randint(1, 3)):
            width, size = random.choice((2, 3, 4, 6)), random.choice((2, 3, 4, 6))
            placed.append(place(f"{strip}/{column}", x, y, width, min(size, height)))
            x += width
        y += height
    return cut_tree(Fraction(30), Fraction(y + 1), placed, stages=3, whole=True)


def _fewest(tree: Region) -> int:
    """The least number of settings, found by trying words over the measures, the shortest first."""
    parts = cut_parts(tree)
    tasks = [
        (number, part.measure(_way(parts[part.parent].direction)), part.parent)
        for number, part in enumerate(parts)
        if number
    ]
    level = {frozenset(number for number, _, _ in tasks)}
    for settings in range(1, 30):
        level = {_done(tasks, waiting, measure, parts) for waiting in level for measure in {task[1] for task in tasks}}
        if frozenset() in level:
            return settings
    raise AssertionError("no end")


def _way(direction: Direction | None) -> Direction:
    assert direction is not None
    return direction


def _done(
    tasks: list[tuple[int, Fraction, int]], waiting: frozenset[int], measure: Fraction, parts: object
) -> frozenset[int]:
    """What still waits when all that can be has been cut to `measure`; the last of a filled source comes by itself."""
    left = set(waiting)
    while True:
        free = {
            number for number, wanted, parent in tasks if number in left and parent not in left and wanted == measure
        }
        for number, _, parent in tasks:
            siblings = {other for other, _, theirs in tasks if theirs == parent and other in left}
            source, part = parts[parent], parts[number]  # type: ignore[index]
            cut_into = any(other not in left for other, _, theirs in tasks if theirs == parent)
            if number in left and parent not in left and siblings == {number} and cut_into:
                free |= {number} if source.filled and part.each == 1 else set()
        if not free:
            return frozenset(left)
        left -= free
