"""Records of lengths: what is worse, what is better, and what becomes of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.measure import Run
from bench.records import PATH, Records, compare, fingerprint, load, save, updated
from bench.sets import FAMILIES, kits, puzzles, quilts, strip

PROBLEMS = {
    "apron": strip(40, {(10, 20, False): 3}),
    "bag": strip(40, {(10, 20, True): 3}),
}
RECORDS: Records = {"apron": {"problem": fingerprint(PROBLEMS["apron"]), "quick": 30, "careful": 20}}


def reached(length: int | None, instance: str = "apron", contestant: str = "careful") -> Run:
    """A run that ended with this length."""
    return Run(
        instance=instance,
        contestant=contestant,
        curve=(),
        length=length,
        bound=0,
        seconds=1.0,
        megabytes=None,
        faults=(),
    )


def test_an_equal_length_is_neither_worse_nor_better() -> None:
    """What is on record may be reached again without a word."""
    comparison = compare(RECORDS, PROBLEMS, [reached(20), reached(30, contestant="quick")])

    assert (comparison.worse, comparison.better, comparison.new) == ((), (), ())


@pytest.mark.parametrize("length", [21, None])
def test_a_longer_one_or_none_is_worse(length: int | None) -> None:
    """A run fails that ends with more than the record, or with nothing sound."""
    comparison = compare(RECORDS, PROBLEMS, [reached(length)])

    assert comparison.worse == (f"apron, careful: the record is 20, now {length}.",)
    assert comparison.better == comparison.new == ()


def test_a_shorter_one_is_better() -> None:
    """Progress is noticed, so that the record is raised."""
    comparison = compare(RECORDS, PROBLEMS, [reached(19)])

    assert comparison.better == ("apron, careful: the record is 20, now 19.",)
    assert comparison.worse == comparison.new == ()


def test_each_effort_has_its_own_record() -> None:
    """A quick length is held against quick ones only."""
    comparison = compare(RECORDS, PROBLEMS, [reached(25, contestant="quick"), reached(25, "bag", contestant="quick")])

    assert comparison.better == ("apron, quick: the record is 30, now 25.",)
    assert comparison.new == ("bag, quick: no record of this problem; now 25.",)


@pytest.mark.parametrize("contestant", ["rectpack", "proof"])
def test_peers_and_what_the_clock_ends_have_no_record(contestant: str) -> None:
    """What other packers reach is not ours to keep, and what a clock ends differs from machine to machine."""
    comparison = compare(RECORDS, PROBLEMS, [reached(99, contestant=contestant)])

    assert (comparison.worse, comparison.better, comparison.new) == ((), (), ())
    assert updated(RECORDS, PROBLEMS, [reached(1, contestant=contestant)]) == RECORDS


def test_a_problem_that_changed_has_no_record() -> None:
    """A length of another problem under the same name says nothing."""
    changed = {"apron": PROBLEMS["bag"]}

    assert compare(RECORDS, changed, [reached(99)]).new == ("apron, careful: no record of this problem; now 99.",)
    assert updated(RECORDS, changed, [reached(99)]) == {
        "apron": {"problem": fingerprint(PROBLEMS["bag"]), "careful": 99}
    }


def test_records_only_become_shorter() -> None:
    """Better and new lengths are put on record; worse ones and failures are not, and nothing else is touched."""
    runs = [reached(19), reached(31, contestant="quick"), reached(None, "bag", contestant="quick"), reached(7, "bag")]

    raised = updated(RECORDS, PROBLEMS, runs)

    assert raised == {
        "apron": {"problem": fingerprint(PROBLEMS["apron"]), "quick": 30, "careful": 19},
        "bag": {"problem": fingerprint(PROBLEMS["bag"]), "careful": 7},
    }
    assert RECORDS["apron"]["careful"] == 20


def test_records_are_read_as_they_were_written(tmp_path: Path) -> None:
    """A file of records keeps all of them; one that is not there holds none."""
    file = tmp_path / "records.json"

    assert load(file) == {}
    save(RECORDS, file)
    assert load(file) == RECORDS


def test_the_records_are_of_the_sets() -> None:
    """Every record of an invented set is of the very problem that the set has now."""
    problems = {
        one.name: one.problem for made in (quilts, kits, puzzles) for family in FAMILIES for one in made(family)
    }

    kept = {name: lengths["problem"] for name, lengths in load(PATH).items() if name in problems}

    assert kept
    assert kept == {name: fingerprint(problems[name]) for name in kept}
