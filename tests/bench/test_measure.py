"""Measuring: what counts when, what the judge refuses, and what the tables make of it."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from time import perf_counter

import pytest

from bench.chart import mean_gaps
from bench.contestants import CONTESTANTS
from bench.measure import Run, _unpickled, judged, keep, kept, run, takes_part
from bench.sets import Instance, strip
from bench.tables import Results, behind, bought, ends, gaps
from bench.telling import Event, Outcome, contest
from ellwand.packing.bound import lower_bound
from ellwand.packing.problem import Bound, Packing, Place, Problem

# Two squares of 10 side by side, a third above them: 20 long, and no shorter
THREE = Instance(name="three", group="squares", family="tuning", problem=strip(25, {(10, 10, False): 3}), step=12)
SOUND = Packing(
    places=tuple(Place(item=0, stock=0, x=x, y=y, turned=False) for x, y in ((0, 0), (10, 0), (0, 10))), length=20
)
OVERLAPPING = Packing(places=tuple(Place(item=0, stock=0, x=x, y=0, turned=False) for x in (0, 5, 15)), length=10)


def told(packing: Packing | None, bound: Bound | None = None) -> list[Event | Outcome]:
    """30 after half a second, the packing's length after two, then its end."""
    last = [Event(seconds=2.0, length=packing.length)] if packing else []
    outcome = Outcome(seconds=2.5, packing=packing, bound=bound, megabytes=50.0)
    return [Event(seconds=0.5, length=30), *last, outcome]


def test_a_length_counts_from_when_it_was_told() -> None:
    """At each moment the shortest length told so far counts, and none before the first."""
    measured = judged(THREE, "proof", told(SOUND, lower_bound(THREE.problem)))

    assert [measured.by(seconds) for seconds in (0.2, 1.0, 2.0, 10.0)] == [None, 30, 20, 20]
    assert (measured.first, measured.length, measured.bound, measured.faults) == (30, 20, 20, ())


def test_a_packing_that_the_judge_refuses_does_not_count() -> None:
    """Neither its length nor anything told on the way to it."""
    measured = judged(THREE, "rectpack", told(OVERLAPPING))

    assert measured.faults
    assert (measured.length, measured.first, measured.by(10.0), measured.bound) == (None, None, None, 0)


def test_a_bound_that_nothing_proves_does_not_count() -> None:
    """The judge proves every bound again."""
    measured = judged(THREE, "proof", told(SOUND, Bound(length=20, theorem="because we say so")))

    assert measured.faults == ("Nothing proves that 20 is the least length possible.",)
    assert measured.bound == 0


def test_a_length_below_the_least_known_is_refused() -> None:
    """What is shorter than a proven optimum shows that the problem or the optimum is typed wrong."""
    known = Instance(name="three", group="squares", family="published", problem=THREE.problem, least=21)

    assert judged(known, "proof", told(SOUND)).faults == ("The length 20 is below the least possible, 21.",)


def test_one_that_was_stopped_has_no_length() -> None:
    """Without a packing at the end there is nothing to judge, and what was told does not count."""
    measured = judged(THREE, "proof", told(SOUND)[:-1])

    assert (measured.seconds, measured.length, measured.by(10.0)) == (None, None, None)


def test_what_is_told_survives_being_cut_off() -> None:
    """All that was written whole is read, whatever follows."""
    out = io.BytesIO()

    def work(problem: Problem, seconds: float, tell: Callable[[int], None]) -> tuple[Packing, None]:
        tell(30)
        tell(20)
        return SOUND, None

    contest(work, THREE.problem, 1.0, perf_counter, out)
    whole = out.getvalue()

    *events, outcome = _unpickled(whole)
    assert [event.length for event in events if isinstance(event, Event)] == [30, 20]
    assert isinstance(outcome, Outcome)
    assert outcome.packing == SOUND
    assert list(_unpickled(whole[:-1])) == events


def test_the_engine_is_measured_in_its_own_process() -> None:
    """The whole way: a new process, its events, its memory, and the judge."""
    measured = run(THREE, "quick", sys.executable)

    assert (measured.length, measured.bound, measured.faults) == (20, 20, ())
    assert measured.seconds is not None
    assert measured.curve[-1][1] == 20


def test_who_is_not_installed_takes_no_part(monkeypatch: pytest.MonkeyPatch) -> None:
    """A Python without the packages is found out beforehand."""
    absent = replace(CONTESTANTS["rectpack"], modules=("a_package_that_nobody_has",))
    monkeypatch.setitem(CONTESTANTS, "rectpack", absent)

    assert takes_part("quick", sys.executable)
    assert not takes_part("rectpack", sys.executable)


def test_runs_are_read_as_they_were_kept(tmp_path: Path) -> None:
    """A file of runs gives back what was put into it, so that a long measurement can go on."""
    file = tmp_path / "runs"
    measured = judged(THREE, "proof", told(SOUND, lower_bound(THREE.problem)))

    assert kept(file) == {}
    keep(file, measured)
    assert kept(file) == {("three", "proof"): measured}


def measured(contestant: str, *curve: tuple[float, int], bound: int = 0) -> Run:
    """A sound run on THREE whose curve ends with the packing's length."""
    return Run(
        instance="three",
        contestant=contestant,
        curve=curve,
        length=curve[-1][1],
        bound=bound,
        seconds=curve[-1][0],
        megabytes=50.0,
        faults=(),
    )


RUNS = [
    measured("quick", (0.1, 25), bound=20),
    measured("careful", (0.5, 22), bound=20),
    measured("proof", (0.1, 30), (12.0, 20), bound=20),
    measured("rectpack", (0.3, 28), (5.0, 24)),
]
RESULTS = Results([THREE], {("three", one.contestant): one for one in RUNS})


def cells(text: str) -> list[list[str]]:
    """The rows of a Markdown table below its head."""
    return [line.strip("|").replace(" | ", "|").strip().split("|") for line in text.splitlines()[2:]]


def test_gaps_are_to_the_best_bound_that_anything_proved() -> None:
    """Each effort at its own mark; the late are said to be late; who did not run has no figure."""
    (row,) = cells(gaps(RESULTS))

    assert row == [
        "squares, tuning (1)", "25.00 (25.0)", "10.00 (10.0)", "50.00 (50.0)",
        "40.00 (40.0); 1 late", "40.00 (40.0)", "20.00 (20.0)", *["not run"] * 3,
    ]  # fmt: skip


def test_what_is_bought_is_compared_in_steps() -> None:
    """In steps of 12, 22 and 24 buy as little as the bound of 20 asks for; 25 and 30 buy more; the late buy nothing."""
    (row,) = cells(bought(RESULTS))

    assert row[1:] == ["0 %", "100 %", "0 %", "0 %", "0 %", "100 %", *["not run"] * 3]


def test_ends_say_what_is_reached_and_what_it_takes() -> None:
    """At the end of a run its last length counts, however late."""
    rows = cells(ends(RESULTS))

    assert [row[1] for row in rows] == ["quick", "careful", "proof", "rectpack"]
    assert rows[2][2:] == [*["50.00 (50.0)"] * 3, "0.00 (0.0)", "100 %", "12.00 (12.0)", "50"]


def test_where_a_peer_is_ahead_is_said() -> None:
    """The engine's longest effort is held against each peer at the last mark."""
    assert cells(behind(RESULTS)) == [["three", "3", "20", "30", "24", "rectpack"]]
    ours = Results([THREE], {("three", "proof"): RUNS[2]})
    assert behind(ours) == "None.\n"


def test_mean_gaps_begin_when_all_have_a_length() -> None:
    """The curve over time starts with the last instance's first length and steps down."""
    curve = mean_gaps(RESULTS, "rectpack")

    assert 0.3 <= curve[0][0] < 0.33
    assert [gap for _, gap in curve] == sorted((gap for _, gap in curve), reverse=True)
    assert curve[0][1] == pytest.approx(40)
    assert curve[-1] == pytest.approx((10, 20))
