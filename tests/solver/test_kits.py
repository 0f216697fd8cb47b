"""Kits in lays: whole kits in every ply, least work for little cloth, and a document that its judge accepts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import FabricPlan, Plan, Source
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import plan_document, sound_document
from ellwand.verdict import judge_plan

WREN = """
[project]
name = "Wren mats"
copies = {copies}
{project}
[quilt]
across = 2
down = 2
[[block]]
name = "wren"
count = 4
finished = [8, 8]
  [[block.piece]]
  name = "ground"
  fabric = "ink"
  cut = [9, 9]
[[border]]
name = "edge"
width = 3
fabric = "ink"
corners = "butted"
[fabric.ink]
width = 43
{ink}
{kits}
"""


def wren(copies: int, *, ink: str = "", kits: str = "", project: str = "") -> Plan:
    """A plan of so many mats, all of one fabric; invented."""
    text = WREN.format(copies=copies, ink=ink, kits=kits, project=project)
    return make_plan(parse_project(text, "wren.toml"), effort=Effort.QUICK)


def told(answer: FabricPlan) -> list[tuple[int, int, int]]:
    """Of every lay: kits in a ply, plies, layers."""
    return [(lay.kits, lay.plies, lay.layers) for lay in answer.lays]


@pytest.mark.parametrize("copies", [4, 7, 28])
def test_the_lays_hold_every_kit_whole(copies: int) -> None:
    """Tests that plies are alike, hold whole kits, and add up; and that the judge finds no fault."""
    plan = wren(copies)
    (answer,) = plan.fabrics
    one = Counter({piece.id: piece.count // copies for piece in answer.pieces})

    assert sum(lay.kits * lay.plies for lay in answer.lays) == copies
    for layout in answer.layouts:
        assert layout.lay is not None
        lay = answer.lays[layout.lay - 1]
        assert layout.placed == lay.layout.placed
        assert Counter(placed.piece for placed in layout.placed) == Counter(
            {piece: count * lay.kits for piece, count in one.items()}
        )
    assert sound_document(plan)["fabrics"][0]["lays"] != []


def test_layers_may_cost_a_tenth_and_no_more() -> None:
    """Tests that without a word on layers little more is bought than for all kits laid as one, and told how much."""
    (answer,) = wren(28).fabrics

    assert answer.together is not None
    assert answer.bought * 10 <= answer.together.bought * 11
    assert sum(lay.cuts for lay in answer.lays) < answer.together.cuts


@pytest.mark.parametrize("copies", [2, 3])
def test_few_copies_take_no_more_cloth_for_layers(copies: int) -> None:
    """Tests that two or three copies are cut in layers only where as little is bought as without."""
    told_one = "[kits]\nlayers = 1"
    (free,), (one,) = wren(copies).fabrics, wren(copies, kits=told_one).fabrics

    assert free.bought <= one.bought
    assert one.lays == ()


def test_layers_that_are_told_are_cut() -> None:
    """Tests that two copies are cut in two layers where the file says so, and six in lays of at most two."""
    (two,) = wren(2, kits="[kits]\nlayers = 2").fabrics
    (six,) = wren(6, kits="[kits]\nlayers = 2").fabrics

    assert told(two) == [(1, 2, 2)]
    assert all(lay.layers <= 2 for lay in six.lays)


def test_squaring_again_after_so_many_strips() -> None:
    """Tests that every ply loses 1/2 in at its end, and 1/4 in after every second strip where the file says so."""
    (usual,) = wren(8, kits="[kits]\nlayers = 4").fabrics
    (often,) = wren(8, kits="[kits]\nlayers = 4\nstrips = 1").fabrics
    (never,) = wren(8, kits="[kits]\nlayers = 4\nsquare_again = 0\nstrips = 1").fabrics

    assert [lay.layout.cloth.squaring - lay.again for lay in (*usual.lays, *often.lays)] == [Fraction(1, 2)] * (
        len(usual.lays) + len(often.lays)
    )
    for lay in often.lays:
        assert lay.layout.tree is not None
        assert lay.again == (len(lay.layout.tree.parts) - 1) * Fraction(1, 4)
    assert [lay.again for lay in never.lays] == [0] * len(never.lays)
    assert often.area.squaring == sum(layout.cloth.squaring for layout in often.layouts) * 42


def test_a_kits_borders_come_from_one_bolt() -> None:
    """Tests that no ply is on two bolts, so that all four strips of a kit's border come off one."""
    (answer,) = wren(28, ink='bolt = "5 yd"').fabrics

    edges = {piece.id for piece in answer.pieces if piece.id.startswith("edge/")}
    per_bolt: dict[int | None, Counter[str]] = {}
    for layout in answer.layouts:
        per_bolt.setdefault(layout.cloth.bolt, Counter()).update(
            placed.piece for placed in layout.placed if placed.piece in edges
        )

    assert len(per_bolt) > 1
    assert all(len(set(counts.values())) == 1 and set(counts) == edges for counts in per_bolt.values())


def test_what_is_cut_off_a_bolt_goes_on_it() -> None:
    """Tests that the plies of each bolt, squaring included, are no longer than a bolt."""
    (answer,) = wren(28, ink='bolt = "5 yd"').fabrics

    taken: Counter[int | None] = Counter()
    for layout in answer.layouts:
        taken[layout.cloth.bolt] += layout.cloth.along + layout.cloth.squaring  # type: ignore[assignment]

    assert max(taken.values()) <= 5 * 36


def test_few_kits_off_a_bolt_without_lays() -> None:
    """Tests that copies laid as one on a bolt that has an end give a sound plan too."""
    plan = wren(2, ink='bolt = "15 yd"', kits="[kits]\nlayers = 1")

    assert {layout.cloth.bolt for layout in plan.fabrics[0].layouts} == {1}
    assert judge_plan(plan_document(plan)) == ()


def test_a_kit_longer_than_a_bolt_is_refused() -> None:
    """Tests the sentence where one kit takes more than a bolt has."""
    with pytest.raises(NoPlanError) as caught:
        wren(28, ink='bolt = "3/8 yd"', kits="[kits]\nlayers = 4")

    assert "more than the 13 1/2 in of a bolt" in str(caught.value)


def test_lengths_on_hand_hold_plies_and_rectangles_stay() -> None:
    """Tests that as many plies as go on a length on hand are cut from it, and fat quarters are left as they are."""
    hand = 'on_hand = [{ length = "4 yd" }, { width = 21, length = 18, count = 2 }]'
    plan = wren(28, ink=hand, kits="[kits]\nlayers = 4")
    (answer,) = plan.fabrics
    (here,) = [layout for layout in answer.layouts if layout.cloth.source is Source.ON_HAND]
    lay = answer.lays[(here.lay or 1) - 1]

    assert here.plies >= 1
    assert len(here.placed) == here.plies * len(lay.layout.placed)
    assert here.plies == (here.cloth.along + Fraction(1, 2)) // lay.layout.cloth.length
    assert [left.untouched for left in answer.left if left.across == 21] == [True, True]
    assert judge_plan(plan_document(plan)) == ()


def test_a_length_narrower_than_a_ply_holds_none() -> None:
    """Tests that a ply laid for 42 in is not cut from a length of which 29 in can be used, and is from one of 44."""
    hand = 'on_hand = [{ length = "4 yd", full_width = 30 }, { length = "4 yd", full_width = 45 }]'
    plan = wren(28, ink=hand, kits="[kits]\nlayers = 4")
    (answer,) = plan.fabrics
    here = [layout.cloth for layout in answer.layouts if layout.cloth.source is Source.ON_HAND]

    assert [cloth.across for cloth in here] == [44]
    assert judge_plan(plan_document(plan)) == ()


def test_nobody_needs_more_than_so_many_single_kits() -> None:
    """Tests the law: the kits need no more than each by itself; and no less than the bound of all as one."""
    (one,) = wren(1).fabrics
    (many,) = wren(28).fabrics

    assert many.bound <= many.needed <= 28 * one.needed


def _more_copies(document: Any) -> None:
    document["copies"] += 4


def _other_ply(document: Any) -> None:
    cloth = document["fabrics"][0]["cloths"][-1]
    first, last = cloth["placed"][0], cloth["placed"][-1]
    first["piece"], last["piece"] = last["piece"], first["piece"]


def _fewer_plies(document: Any) -> None:
    document["fabrics"][0]["lays"][0]["plies"] -= 1


def _other_lay(document: Any) -> None:
    document["fabrics"][0]["cloths"][0]["lay"] = 9


def _no_lay(document: Any) -> None:
    document["fabrics"][0]["cloths"][0]["lay"] = None


def _other_layers(document: Any) -> None:
    document["fabrics"][0]["lays"][0]["times"] += 1


def _shorter_bolt(document: Any) -> None:
    document["fabrics"][0]["bolt"] = 100


def _no_bolt(document: Any) -> None:
    document["fabrics"][0]["cloths"][0]["bolt"] = None


def _endless(document: Any) -> None:
    document["fabrics"][0]["bolt"] = None


def _less_squaring(document: Any) -> None:
    document["kits"]["strips"] = 1


def _nothing_together(document: Any) -> None:
    document["fabrics"][0]["together"] = None


def _less_together(document: Any) -> None:
    document["fabrics"][0]["together"]["needed"] = 1


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (_more_copies, "its lays hold 28 kits, not 32."),
        (_other_ply, "its plies are not alike."),
        (_fewer_plies, "plies are on its cloths, not"),
        (_other_lay, "a cloth is of a lay that is not told."),
        (_no_lay, "a cloth is of no lay, where kits are cut in lays."),
        (_other_layers, "are not"),
        (_shorter_bolt, "are cut off it."),
        (_no_bolt, "some cloth to buy is of no bolt."),
        (_endless, "its cloths have bolts, and it has none of a limited length."),
        (_less_squaring, "squaring takes"),
        (_less_together, "all kits together are said to need 1 in, less than the bound."),
        (_nothing_together, "nothing is told of all kits together."),
    ],
)
def test_the_judge_finds_each_dishonesty(change: Callable[[Any], None], fault: str) -> None:
    """Tests that a document of lays with one thing wrong is refused for it."""
    document = plan_document(wren(28, ink='bolt = "5 yd"'))
    assert judge_plan(document) == ()

    change(document)

    assert [found for found in judge_plan(document) if fault in found] != []
