"""The search of all fabrics: ended early, in several processes, told of; always a whole plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ellwand.packing.parallel import Crew
from ellwand.packing.problem import Effort, Progress
from ellwand.plan import Memory, make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.record import sound_document

# Three fabrics; no quick layout of the first two meets its bound. Invented.
TRIO = """
[project]
name = "trio"
{pieces}
[fabric.ink]
width = 43
[fabric.oat]
width = 43
[fabric.brass]
width = 43
"""
PIECE = '[[piece]]\nname = "{name}"\nfabric = "{fabric}"\ncut = ["{across}", "{along}"]\ncount = {count}\n'
PIECES = [
    ("flap", "ink", "7", "9 1/4", 5), ("tab", "ink", "12 3/4", "5 1/2", 4), ("side", "ink", "17 1/4", "8", 3),
    ("front", "oat", "13", "9 1/2", 4), ("back", "oat", "8 1/4", "6 3/4", 5), ("strap", "oat", "19 1/2", "4", 3),
    ("bow", "brass", "42", "3", 6),
]  # fmt: skip


# A border and a backing that may be made in several ways, beside pieces that leave gaps; every mark is a shop step.
# Invented.
WAYS = """
[project]
name = "ways"
[quilt]
[[block]]
name = "top"
finished = [50, 50]
[[border]]
name = "edge"
fabric = "ink"
width = 5
corners = "butted"
[backing]
fabric = "ink"
[[piece]]
name = "flap"
fabric = "ink"
cut = [7, 9]
count = 14
[[piece]]
name = "tab"
fabric = "ink"
cut = ["4 1/2", 6]
count = 9
[fabric.ink]
width = 43
sold_by = "1/8 in"
"""


# Five pieces for which no bound but that of looking through all layouts is met; found by trying, invented.
FEW = """
[project]
name = "few"
[[piece]]
name = "front"
fabric = "ink"
cut = ["23 1/4", "5 1/2"]
grain = "lengthwise"
[[piece]]
name = "back"
fabric = "ink"
cut = ["23 3/8", "5 1/8"]
count = 2
grain = "lengthwise"
[[piece]]
name = "side"
fabric = "ink"
cut = ["18 5/8", "12 5/8"]
count = 2
grain = "lengthwise"
[fabric.ink]
width = 43
"""

# A pinwheel: 16 square inches that fill 4 × 4, and no straight cut frees a piece of it; invented.
PINWHEEL = """
[project]
name = "pinwheel"
stages = {stages}
layout = "{layout}"
[[piece]]
name = "level"
fabric = "ink"
cut = [3, 1]
count = 2
grain = "lengthwise"
[[piece]]
name = "upright"
fabric = "ink"
cut = [1, 3]
count = 2
grain = "lengthwise"
[[piece]]
name = "hub"
fabric = "ink"
cut = [2, 2]
[fabric.ink]
width = 4
selvage = 0
square_up = 0
sold_by = "{sold_by}"
"""


@pytest.fixture
def trio() -> Project:
    """TRIO with its pieces."""
    names = ("name", "fabric", "across", "along", "count")
    pieces = "".join(PIECE.format(**dict(zip(names, piece, strict=True))) for piece in PIECES)
    return parse_project(TRIO.format(pieces=pieces), "trio.toml")


class Log(list[tuple[str, Progress]]):
    """Keeps what it is told of each fabric."""

    def hear(self, fabric: str, progress: Progress) -> None:
        """One more entry."""
        self.append((fabric, progress))


# several processes


def test_one_worker_or_two_give_an_equal_plan(trio: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    """Equal plans, equal memories; and processes are used once, for the fabrics that a quick look leaves open."""
    used: list[int] = []
    solve = Crew.solve

    def counted(crew: Crew, tasks, **options):  # type: ignore[no-untyped-def]  # handed on as they came
        used.append(len(tasks))
        return solve(crew, tasks, **options)

    monkeypatch.setattr(Crew, "solve", counted)
    one, two = dict[object, object](), dict[object, object]()
    alone = make_plan(trio, memory=one)  # type: ignore[arg-type]
    assert used == []
    apart = make_plan(trio, memory=two, workers=2)  # type: ignore[arg-type]

    assert replace(apart, seconds=alone.seconds) == alone
    assert two == one
    assert used == [3]
    assert not any(answer.cut_short for answer in alone.fabrics)


@pytest.mark.parametrize(("effort", "fabrics"), [(Effort.QUICK, ("ink", "oat", "brass")), (Effort.CAREFUL, ("brass",))])
def test_no_process_is_started_where_it_would_not_pay(
    trio: Project, monkeypatch: pytest.MonkeyPatch, effort: Effort, fabrics: tuple[str, ...]
) -> None:
    """Not for quick looks, nor where they settle all."""
    monkeypatch.setattr(Crew, "solve", None)
    few = replace(trio, pieces=tuple(piece for piece in trio.pieces if piece.fabric in fabrics))

    plan = make_plan(few, effort=effort, workers=2)

    assert tuple(answer.fabric.id for answer in plan.fabrics) == fabrics


# ended early


@pytest.mark.parametrize("workers", [1, 2])
def test_whoever_stops_at_once_has_a_whole_plan(trio: Project, workers: int) -> None:
    """Every fabric has a sound layout; those that could be better are said to be cut short, and nothing is kept."""
    memory: Memory = {}

    plan = make_plan(trio, effort=Effort.PROOF, memory=memory, stop=lambda: True, workers=workers)

    document = sound_document(plan)
    assert [answer.fabric.id for answer in plan.fabrics] == ["ink", "oat", "brass"]
    assert document["solve"]["cut_short"] == ["ink", "oat"]
    assert {result.settled for result in memory.values()} <= {True}


@pytest.mark.parametrize("workers", [1, 2])
def test_whoever_stops_after_the_first_look_has_the_best_so_far(trio: Project, workers: int) -> None:
    """Once all fabrics were told of, the plan is what was told last of each."""
    log = Log()

    plan = make_plan(
        trio,
        effort=Effort.PROOF,
        watch=log.hear,
        stop=lambda: len({fabric for fabric, _ in log}) == 3,
        workers=workers,
    )

    sound_document(plan)
    told = dict(log)
    assert {answer.fabric.id: answer.needed / trio.ruler for answer in plan.fabrics} == {
        fabric: progress.length for fabric, progress in told.items()
    }
    assert [answer.cut_short for answer in plan.fabrics] == [not answer.proven for answer in plan.fabrics]


def test_a_clock_that_ran_out_leaves_a_whole_plan(trio: Project) -> None:
    """The first layout of every fabric is made though there is no time at all."""
    plan = make_plan(trio, effort=Effort.PROOF, seconds=0)

    assert sound_document(plan)["solve"]["cut_short"] == ["ink", "oat"]


def test_a_clock_that_does_not_run_out_changes_nothing(trio: Project) -> None:
    """With an hour for a quick look, the plan is that without a clock, and not cut short."""
    plan, timed = make_plan(trio, effort=Effort.QUICK), make_plan(trio, effort=Effort.QUICK, seconds=3600)

    assert replace(timed, seconds=plan.seconds) == plan
    assert sound_document(timed)["solve"]["cut_short"] == []


def test_what_was_cut_short_is_searched_again(trio: Project) -> None:
    """A memory from a plan that was stopped does the next plan no harm."""
    memory: Memory = {}
    make_plan(trio, effort=Effort.QUICK, memory=memory, stop=lambda: True)

    later = make_plan(trio, effort=Effort.QUICK, memory=memory)

    assert later.fabrics == make_plan(trio, effort=Effort.QUICK).fabrics


def test_ways_that_were_not_looked_at_leave_a_plan_cut_short() -> None:
    """Stopped at the first way of many, the others are not packed; the bound is that of all."""
    memory: Memory = {}
    project = parse_project(WAYS, "some.toml")

    (stopped,) = make_plan(project, effort=Effort.QUICK, memory=memory, stop=lambda: True).fabrics
    (whole,) = make_plan(project, effort=Effort.QUICK).fabrics

    assert stopped.cut_short
    assert not whole.cut_short
    assert len(memory) <= 1
    assert stopped.bound == whole.bound
    assert stopped.needed >= whole.needed


# progress


def test_the_best_of_a_fabric_is_told_over_all_its_ways() -> None:
    """What is told gets only better though ways take turns, its bound holds for all ways, and the last is the plan."""
    log = Log()
    project = parse_project(WAYS, "some.toml")

    (answer,) = make_plan(project, effort=Effort.QUICK, watch=log.hear).fabrics

    lengths = [progress.length * project.ruler for _, progress in log]
    assert len(lengths) > 1
    assert lengths == sorted(set(lengths), reverse=True)
    assert lengths[-1] == answer.needed
    assert {progress.bound * project.ruler for _, progress in log} == {answer.bound}


def test_the_bound_closes_in() -> None:
    """Where all layouts of a few pieces are looked through, the bound that is told rises to the length."""
    log = Log()
    project = parse_project(FEW, "some.toml")

    (answer,) = make_plan(project, effort=Effort.QUICK, watch=log.hear).fabrics

    assert answer.proven
    assert log[0][1].bound < log[0][1].length
    assert log[-1][1].bound == log[-1][1].length == answer.needed / project.ruler


# more freedom to cut


@pytest.mark.parametrize(
    ("stages", "layout", "sold_by", "effort", "found"),
    [
        ("3", "rotary", "1 in", Effort.CAREFUL, [(True, 5, 5), (False, 4, 4)]),
        ('"any"', "rotary", "1 in", Effort.CAREFUL, [(False, 4, 4)]),
        ("3", "rotary", "5 in", Effort.CAREFUL, []),  # no less could be bought
        ("3", "rotary", "1 in", Effort.QUICK, []),
        ("3", "free", "1 in", Effort.CAREFUL, []),
    ],
)
@pytest.mark.parametrize("workers", [1, 2])
def test_what_more_freedom_to_cut_saves(
    stages: str, layout: str, sold_by: str, effort: Effort, found: list[tuple[bool, int, int]], workers: int
) -> None:
    """Tests a pinwheel (derived), which takes an inch less by scissors, where that could matter in the shop."""
    project = parse_project(PINWHEEL.format(stages=stages, layout=layout, sold_by=sold_by), "pinwheel.toml")

    (answer,) = make_plan(project, effort=effort, looser=True, workers=workers).fabrics

    assert [(one.straight, int(one.needed), int(one.bought)) for one in answer.looser] == found


def test_more_freedom_is_looked_at_only_if_asked() -> None:
    """Tests that nobody waits for what was not asked for."""
    project = parse_project(PINWHEEL.format(stages=3, layout="rotary", sold_by="1 in"), "pinwheel.toml")

    assert make_plan(project).fabrics[0].looser == ()


def test_more_freedom_is_not_looked_at_once_ended() -> None:
    """Tests that whoever ended the search does not wait for it."""
    project = parse_project(PINWHEEL.format(stages=3, layout="rotary", sold_by="1 in"), "pinwheel.toml")

    assert make_plan(project, looser=True, stop=lambda: True).fabrics[0].looser == ()
