"""Gaps of a layout: where they are, how bands are put in order, and which strips are taken from them."""

from __future__ import annotations

from fractions import Fraction

from ellwand.assign import Job, assign
from ellwand.gaps import Gap, fewest, gap_sets, gathered
from ellwand.model import Direction, Piece, Role, Run
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Packing, Place
from ellwand.project.read import parse_project

# Two pieces and cloth with 40 to use; invented.
CLOTH = """
[project]
name = "two"
layout = "{layout}"
[[piece]]
name = "p"
fabric = "ink"
cut = [30, 10]
[fabric.ink]
width = 40
selvage = 0
square_up = 0
{on_hand}
"""
NO_CLAIM = Bound(length=0, theorem="")
MARKS = 8  # in an inch


def piece(name: str, across: int, along: int) -> Piece:
    """A loose piece."""
    return Piece(
        id=name,
        fabric="ink",
        role=Role.LOOSE,
        across=Fraction(across),
        along=Fraction(along),
        count=1,
        turnable=False,
        why="as given",
    )


def job_of(*pieces: Piece, layout: str = "rotary", on_hand: str = "") -> Job:
    """The packing problem of `pieces`."""
    project = parse_project(CLOTH.format(layout=layout, on_hand=on_hand), "two.toml")
    return assign(project, project.fabrics["ink"], pieces, as_new=False)


def run(length: int, *, shortest: int = 5) -> Run:
    """A run of strips 2 wide, 2 lost at each join."""
    return Run(
        width=Fraction(2), length=Fraction(length), loss=Fraction(2), shortest=Fraction(shortest), pieces=lambda _: ()
    )


def two_bands(job: Job) -> Packing:
    """A piece of 30 × 10 below one of 34 × 20."""
    stock = len(job.cloths)
    below = Place(item=0, stock=stock, x=0, y=0, turned=False)
    above = Place(item=1, stock=stock, x=0, y=10 * MARKS, turned=False)
    return Packing(places=(below, above), length=30 * MARKS)


PAIR = (piece("a", 30, 10), piece("b", 34, 20))


def gap(x: int, y: int, across: int, along: int, *ways: Direction) -> Gap:
    """A gap of the first stock."""
    return Gap(
        stock=0,
        x=Fraction(x),
        y=Fraction(y),
        across=Fraction(across),
        along=Fraction(along),
        ways=ways or tuple(Direction),
    )


def test_fuller_bands_come_first() -> None:
    """The bands change places, and the packing is as sound as it was."""
    job = job_of(*PAIR)

    tidy = gathered(job, two_bands(job))

    assert [(place.item, place.y) for place in tidy.places] == [(0, 20 * MARKS), (1, 0)]
    assert judge(job.problem, tidy, NO_CLAIM) == ()


def test_gaps_at_the_ends_are_two_or_one() -> None:
    """Beside 34 and 30 on 40: 6 × 20 and 10 × 10, or 6 × 30 and what is left of the wider one."""
    job = job_of(*PAIR)

    apart, together = gap_sets(job, gathered(job, two_bands(job)), Fraction(2))

    assert apart == [gap(34, 0, 6, 20), gap(30, 20, 10, 10)]
    assert together == [gap(34, 0, 6, 30), gap(30, 20, 4, 10)]


def test_the_last_cuts_leave_one_way_only() -> None:
    """What lies on top of a piece in its column is cut across, as the column is."""
    job = job_of(piece("a", 30, 10), piece("b", 10, 6))
    places = (
        Place(item=0, stock=0, x=0, y=0, turned=False),
        Place(item=1, stock=0, x=30 * MARKS, y=0, turned=False),
    )

    (gaps,) = gap_sets(job, Packing(places=places, length=10 * MARKS), Fraction(2))

    assert gaps == [gap(30, 6, 10, 4, Direction.ACROSS)]


def test_cloth_that_is_not_cut_into_is_a_gap() -> None:
    """A rectangle on hand that the packing leaves alone."""
    job = job_of(*PAIR, on_hand="on_hand = [ { width = 9, length = 12 } ]")

    apart, *_ = gap_sets(job, two_bands(job), Fraction(2))

    assert apart[0] == gap(0, 0, 9, 12)


def test_free_layouts_have_gaps() -> None:
    """The largest rectangle first: all that is left beside the wider piece."""
    job = job_of(*PAIR, layout="free")

    (gaps,) = gap_sets(job, two_bands(job), Fraction(2))

    assert gaps[0] == gap(34, 0, 6, 30)


def test_the_longest_strips_are_taken_first() -> None:
    """A run of 36: a strip of 30 brings 28 beyond the join; of 10 and 14, either of which brings the rest, the 10."""
    bits = fewest([gap(0, 0, 2, 10), gap(2, 0, 2, 30), gap(4, 0, 2, 14)], run(36), Fraction(36 - 2))

    assert [bit.length for bit in bits] == [30, 10]


def test_a_gap_gives_what_brings_most_where_the_longest_do_not_reach() -> None:
    """Of 7 × 8, three strips of 8 bring 18, four of 7 bring 20."""
    square = [gap(0, 0, 7, 8)]

    lengthwise, crosswise = fewest(square, run(20), Fraction(18)), fewest(square, run(22), Fraction(20))

    assert [bit.length for bit in lengthwise] == [8, 8, 8]
    assert {bit.way for bit in lengthwise} == {Direction.ALONG}
    assert [bit.length for bit in crosswise] == [7, 7, 7, 7]
    assert {bit.way for bit in crosswise} == {Direction.ACROSS}
    assert fewest(square, run(23), Fraction(21)) == []


def test_short_strips_are_left() -> None:
    """None is shorter than the shortest allowed."""
    assert fewest([gap(0, 0, 4, 8)], run(6, shortest=9), Fraction(4)) == []
