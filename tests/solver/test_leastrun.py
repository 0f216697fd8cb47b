"""The bound for several runs: never more than the best of all lists of bits, packed one by one."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations_with_replacement, product
from random import Random

import pytest

from ellwand.assign import assign
from ellwand.choices import Choice
from ellwand.leastrun import least_bits, least_fitted
from ellwand.model import Construction, Direction, Part, Piece, Role, Run
from ellwand.packing.bound import lower_bound
from ellwand.packing.problem import Effort
from ellwand.packing.solve import solve
from ellwand.project.read import parse_project

# Cloth 7 wide, on a ruler of whole inches; invented.
SMALL = """
[project]
name = "small"
ruler = 1
[[piece]]
name = "p"
fabric = "ink"
cut = [2, 2]
[fabric.ink]
width = 7
selvage = 0
square_up = 0
{on_hand}
"""
WIDTH = 7


def piece(name: str, across: int, along: int, *, count: int = 1, turnable: bool = False) -> Piece:
    """A piece, in inches."""
    return Piece(
        id=name,
        fabric="ink",
        role=Role.LOOSE,
        across=Fraction(across),
        along=Fraction(along),
        count=count,
        turnable=turnable,
        why="as given",
    )


def run(name: str, width: int, length: int, *, loss: int, shortest: int, turns: bool) -> Run:
    """A run whose bits lie crosswise, or either way."""

    def bits(lengths: tuple[Fraction, ...]) -> tuple[Piece, ...]:
        return tuple(
            piece(f"{name}/{number}", int(bit), width, turnable=turns) for number, bit in enumerate(lengths, 1)
        )

    return Run(
        width=Fraction(width),
        length=Fraction(length),
        loss=Fraction(loss),
        shortest=Fraction(shortest),
        ways=tuple(Direction) if turns else (Direction.ACROSS,),
        pieces=bits,
    )


def choice_of(runs: tuple[Run, ...], others: tuple[Piece, ...], on_hand: str) -> Choice:
    """A choice of one part, its runs joined as from selvage to selvage."""
    lengths = tuple(next(lists(run, WIDTH)) for run in runs)
    pieces = (*others, *(bit for run, bits in zip(runs, lengths, strict=True) for bit in run.pieces(bits)))
    way = Construction(name="made", joins=0, pieces=pieces, runs=runs, bits=lengths, fixed=others)
    project = parse_project(SMALL.format(on_hand=on_hand), "small.toml")
    job = assign(project, project.fabrics["ink"], pieces, as_new=False)
    part = Part(name="part", fabric="ink", options=(way,), pieces=pieces)
    return Choice(constructions=(), joins=0, job=job, bound=lower_bound(job.problem), made=((part, way),))


def lists(run: Run, longest: int) -> Iterator[tuple[Fraction, ...]]:
    """Every list of up to three bits that reaches the run and of which no bit could be shorter, the fewest first."""
    for number in range(1, 4):
        sizes = range(longest, int(run.shortest) - 1 if number > 1 else 0, -1)
        for bits in combinations_with_replacement(map(Fraction, sizes), number):
            over = run.over(bits)
            if over == 0 or (over > 0 and set(bits) == {run.shortest}):
                yield bits


def least_found(choice: Choice, longest: int) -> int:
    """The least length for any lists of bits of up to three each, every one packed."""
    ((_, way),) = choice.made
    found = []
    for bits in product(*(lists(run, longest) for run in way.runs)):
        pieces = [*way.fixed, *(bit for run, some in zip(way.runs, bits, strict=True) for bit in run.pieces(some))]
        job = assign(choice.job.project, choice.job.fabric, pieces, as_new=False)
        result = solve(job.problem, effort=Effort.QUICK, seed=0, bound=lower_bound(job.problem))
        found.append(result.packing.length)
    return min(found)


@pytest.mark.parametrize("number", range(6))
def test_the_bound_is_no_more_than_the_best_of_all_lists(number: int) -> None:
    """Two short runs beside a piece or two: crosswise or either way, with a sheet on hand or not."""
    random = Random(number)
    turns = number % 2 == 1
    runs = tuple(
        run(str(at), random.randint(1, 2), random.randint(8, 9), loss=1, shortest=random.randint(3, 4), turns=turns)
        for at in range(2)
    )
    others = (piece("p", random.randint(2, 5), random.randint(2, 4), count=random.randint(1, 2), turnable=True),)
    choice = choice_of(runs, others, random.choice(["", "on_hand = [ { width = 4, length = 3 } ]"]))

    least = least_fitted([choice])

    assert least is not None
    assert 0 < least <= least_found(choice, WIDTH)


def test_runs_add_up() -> None:
    """Two runs of 13, no join's loss, 1 and 2 wide: 13 + 26 on 7 are 5 4/7, and heights of 1 and 2 say 6."""
    runs = (run("a", 1, 13, loss=0, shortest=2, turns=False), run("b", 2, 13, loss=0, shortest=2, turns=False))

    assert least_fitted([choice_of(runs, (), "")]) == 6


def test_crosswise_bits_reach_sums_of_their_heights() -> None:
    """A run of 16 on 7 and 3 wide fills 6 6/7 by area; two rows are 6, three are 9."""
    runs = (run("a", 3, 16, loss=0, shortest=2, turns=False),)

    assert least_fitted([choice_of(runs, (), "")]) == 9


def test_crosswise_bits_are_no_longer_than_the_cloth_is_wide() -> None:
    """Either way, a run of 13 on 7 is one bit along a long cloth; crosswise it is two at the least, a loss of 1 more.

    With 14 it fills 2 of 7, alone 13 are 1 6/7.
    """
    longer = run("a", 1, 13, loss=1, shortest=2, turns=False)

    assert least_bits(longer, Fraction(7)) == 2
    assert least_fitted([choice_of((longer, longer), (), "")]) == 4
