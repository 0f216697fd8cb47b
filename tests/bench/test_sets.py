"""The sets of the benchmarks: the same everywhere, and what they say they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import pytest

from bench.literature import beasley_like, berkey_wang_like, published
from bench.records import fingerprint
from bench.sets import FAMILIES, Instance, kits, puzzle, puzzles, quilts
from ellwand.packing.bound import lower_bound
from ellwand.packing.judge import judge

EVERY: list[tuple[Callable[[str], Iterable[Instance]], int]] = [
    (quilts, 30),
    (kits, 10),
    (puzzles, 10),
    (beasley_like, 8),
    (berkey_wang_like, 10),
]


@pytest.mark.parametrize(("made", "count"), EVERY)
def test_sets_are_the_same_each_time(made: Callable[[str], Iterable[Instance]], count: int) -> None:
    """A set is made alike again, and its families share no problem."""
    first, held_out = (list(made(family)) for family in FAMILIES)

    assert first == list(made("tuning"))
    problems = {fingerprint(one.problem) for one in (*first, *held_out)}
    assert len(first) == len(held_out) == count
    assert len(problems) == len({one.name for one in (*first, *held_out)}) == 2 * count


def test_sets_are_the_same_on_every_machine() -> None:
    """The fingerprints of a few problems, as they were on the machine where they were first made."""
    some = [next(iter(made(family))) for made, _ in EVERY for family in FAMILIES]

    assert [fingerprint(one.problem) for one in some] == [
        "963e984608fe", "4e710505a1af", "40b59635674d", "36d9a3340c11", "a2fd72bcbc46",
        "819f02423310", "0dc30c228144", "5c6efe365954", "92624e4033d8", "501f24eb0aaa",
    ]  # fmt: skip


@pytest.mark.parametrize("family", FAMILIES)
def test_quilts_are_of_the_stated_size(family: str) -> None:
    """Quilts have 60 to 250 pieces and kits 800 to 32 000; all of them fit the cloth's width."""
    made = [*quilts(family), *kits(family)]

    sizes = [one.pieces for one in made]
    assert all(60 <= size <= 250 for size in sizes[:30])
    assert all(800 <= size <= 32_000 for size in sizes[30:])
    assert all(
        item.w <= one.problem.stocks[0].w or (item.turnable and item.h <= one.problem.stocks[0].w)
        for one in made
        for item in one.problem.items
    )


def test_every_other_quilt_has_borders() -> None:
    """Quilts of even number have four long strips of a border's width that may not turn; the others have none."""
    for one in quilts("tuning"):
        strips = [item for item in one.problem.items if item.w in (24, 32, 40, 52, 64) and item.h >= 148]
        bordered = int(one.name[-3:]) % 2 == 0
        assert sum(item.demand for item in strips if not item.turnable) == (4 if bordered else 0)


@pytest.mark.parametrize("turnable", [False, True])
@pytest.mark.parametrize("pieces", [15, 31, 45])
def test_puzzles_have_their_optimum(pieces: int, turnable: bool) -> None:
    """The rectangle that a puzzle was cut from is a layout by straight cuts, and its pieces' area allows no shorter."""
    problem, packing = puzzle(f"any name, {pieces}", pieces, turnable=turnable)

    bound = lower_bound(problem)
    assert bound.length == packing.length
    assert judge(problem, packing, bound) == ()
    assert len({frozenset((item.w, item.h)) for item in problem.items}) == pieces


def test_puzzles_are_of_the_stated_size() -> None:
    """Ten puzzles, from 15 pieces to 45, each of which is there once."""
    assert [one.pieces for one in puzzles("held out")] == [15, 18, 21, 25, 28, 31, 35, 38, 41, 45]
    assert all(item.demand == 1 for one in puzzles("held out") for item in one.problem.items)


# Source: Hopper and Turton 2001, as many pieces as their paper says; trade-facts A1 to A4 for the others
PIECES = {"c1-p1": 16, "c1-p2": 17, "c1-p3": 16, "c2-p1": 25, "c2-p2": 25, "c3-p1": 28, "t1a": 17, "gcut01": 10}


@pytest.mark.parametrize("one", [*published()], ids=lambda one: one.name)
def test_published_numbers_are_typed_right(one: Instance) -> None:
    """Those cut from a rectangle fill it exactly; none needs more than fits in its least length."""
    area = sum(item.w * item.h * item.demand for item in one.problem.items)

    filled = one.least * one.problem.stocks[0].w
    assert (area == filled) if one.group.startswith("Hopper") else (area < filled)
    assert one.pieces == {**PIECES, "cgcut1": 16}[one.name]


def test_a_published_strip_has_its_least_length() -> None:
    """The engine proves the published least length of gcut01, far above what its area fills."""
    (one,) = (one for one in published() if one.name == "gcut01")

    # Source: trade-facts A1 for the pieces; collected results of Kenmochi 2009 and others: length 1016
    assert lower_bound(one.problem).length == one.least == 1016
