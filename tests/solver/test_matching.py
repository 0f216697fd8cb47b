"""Prints with a repeat: what is read, what is refused, and where pieces come to lie."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from ellwand.errors import InputError, NoPlanError
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.record import dumps, plan_document, sound_document
from ellwand.verdict import judge_plan

PROJECT = """
[project]
name = "Stripes and roses"
{head}
[[piece]]
name = "motif"
fabric = "rose"
cut = [6, 6]
count = 7
{piece}
[[piece]]
name = "strip"
fabric = "rose"
cut = ["2 1/2 in", 20]
count = 5
[fabric.rose]
width = 43
{fabric}
[[fabric.rose.on_hand]]
{on_hand}
"""

PLACE = (Fraction(3), Fraction(2))


def project_of(
    piece: str = "phase = [3, 2]",
    fabric: str = "repeat = [8, 9]",
    head: str = "",
    on_hand: str = "length = 14\nwidth = 18",
) -> Project:
    """The project above."""
    return parse_project(PROJECT.format(piece=piece, fabric=fabric, head=head, on_hand=on_hand), "roses.toml")


def planned(project: Project) -> Plan:
    """A quick plan."""
    return make_plan(project, effort=Effort.QUICK)


def corners(plan: Plan, name: str = "motif") -> list[tuple[Fraction, Fraction]]:
    """Where the pieces of a name lie."""
    (answer,) = plan.fabrics
    return [(item.x, item.y) for layout in answer.layouts for item in layout.placed if item.piece == name]


@pytest.mark.parametrize("layout", ["rotary", "free"])
def test_motifs_lie_in_their_place_in_the_repeat(layout: str) -> None:
    """On cloth on hand and to buy, whatever the layout; the fabric is told to be laid freely; the verdict agrees."""
    plan = planned(project_of(head=f'layout = "{layout}"'))
    document = sound_document(plan)

    assert len(corners(plan)) == 7
    assert {(x % 8, y % 9) for x, y in corners(plan)} == {PLACE}
    assert {layout.cloth.source.value for layout in plan.fabrics[0].layouts} == {"on hand", "buy"}
    assert document["fabrics"][0]["layout"] == "free"
    assert [piece.get("phase") for piece in document["pieces"]] == [[3, 2], None]
    assert document["fabrics"][0]["repeat"] == [8, 9]


@pytest.mark.parametrize("phase", ['["any", 2]', "[0, 2]", "[3, 2]"])
def test_one_direction_may_be_free(phase: str) -> None:
    """With "any" across, or no repeat across, only the places along match."""
    fabric = "repeat = [8, 9]" if phase != "[0, 2]" else "repeat = [0, 9]"
    plan = planned(project_of(piece=f"phase = {phase}", fabric=fabric))

    assert judge_plan(plan_document(plan)) == ()
    assert {y % 9 for _, y in corners(plan)} == {2}
    assert ({x % 8 for x, _ in corners(plan)} == {3}) == (phase == "[3, 2]")


def test_flaws_and_matching_go_together() -> None:
    """On an odd shape with a flaw the motifs match, inside the outline and off the flaw; the verdict agrees."""
    shape = (
        "outline = [[0, 0], [30, 0], [30, 20], [9, 32], [0, 32]]\nflaws = [{ x = 12, y = 3, across = 1, along = 1 }]"
    )
    plan = planned(project_of(on_hand=shape))

    assert judge_plan(plan_document(plan)) == ()
    assert (Fraction(11), Fraction(2)) not in corners(plan)
    assert plan.fabrics[0].layouts[0].cloth.odd
    assert {(x % 8, y % 9) for x, y in corners(plan)} == {PLACE}


def test_a_repeat_between_the_marks_does_not_drift() -> None:
    """A repeat of 8.37 in is off by half a mark of 1/8 in at the most, at every repeat; derived."""
    plan = planned(project_of(piece='phase = ["any", 0]', fabric="repeat = [0, 8.37]"))
    sixteenth = Fraction(1, 16)

    assert judge_plan(plan_document(plan)) == ()
    offs = [y % Fraction("8.37") for _, y in corners(plan)]
    assert all(min(off, Fraction("8.37") - off) <= sixteenth for off in offs)


def test_a_repeat_in_another_unit() -> None:
    """32 cm in an inch project are 12.598 in: to the thousandth, so that the plan can say them."""
    project = project_of(fabric='repeat = [8, "32 cm"]')

    assert project.fabrics["rose"].repeat == (Fraction(8), Fraction("12.598"))
    assert judge_plan(plan_document(planned(project))) == ()


def test_a_layer_of_a_block_may_match() -> None:
    """A block's piece has its phase from the file, with its place told in the sum."""
    text = """
    [project]
    name = "Roses"
    [quilt]
    [[block]]
    name = "rose"
    finished = [8, 8]
    [[block.piece]]
    name = "ground"
    fabric = "rose"
    margin = 1
    phase = ["any", "1 1/2 in"]
    [fabric.rose]
    width = 43
    repeat = [0, 12]
    """
    plan = planned(parse_project(text, "r.toml"))
    (piece,) = plan.fabrics[0].pieces

    assert (piece.phase, piece.turnable) == ((None, Fraction(3, 2)), False)
    assert piece.why.endswith("; matched: its lower left corner 1 1/2 in along in the repeat")
    assert corners(plan, "rose/ground") == [(Fraction(0), Fraction(3, 2))]


SENTENCES = {
    "beyond the repeat": (
        "phase = [3, 9]",
        "phase: 9 in is not within the repeat, which is 9 in along. Take the repeat off as often as it goes.",
    ),
    "no pair": (
        "phase = 3",
        "phase: 3 is no pair. Write two values in brackets, across first, then along: [3, 5].",
    ),
    "three values": (
        'phase = [3, "any", 5]',
        "phase: a list is no pair. Write two values in brackets, across first, then along: [3, 5].",
    ),
    "anywhere": ('phase = ["any", "any"]', "phase: it lets the piece lie anywhere. Leave it out."),
    "either grain": (
        'phase = [3, 2]\ngrain = "either"',
        "grain: a piece that matches cannot lie either way. Leave it out, or choose one way.",
    ),
}


@pytest.mark.parametrize("name", SENTENCES)
def test_a_phase_that_makes_no_sense_is_refused(name: str) -> None:
    """Each with what is wrong and what to write."""
    keys, sentence = SENTENCES[name]

    with pytest.raises(InputError) as caught:
        project_of(piece=keys)

    assert str(caught.value) == f'roses.toml: piece "motif": {sentence}'


def test_a_phase_where_the_print_does_not_repeat() -> None:
    """It is refused unless it is 0."""
    with pytest.raises(InputError) as caught:
        project_of(fabric="repeat = [0, 9]")

    assert str(caught.value) == (
        'roses.toml: piece "motif": phase: the print does not repeat across. Write 0 or any there.'
    )


def test_a_patch_has_no_phase() -> None:
    """Patches are cut from squares of their own, and say so."""
    text = PROJECT.format(piece="", fabric="repeat = [8, 9]", head="", on_hand="length = 9") + (
        '[quilt]\n[[block]]\nname = "b"\nfinished = [8, 8]\n[[block.piece]]\nname = "p"\nfabric = "rose"\n'
        'patch = "square"\nfinished = [8, 8]\nphase = [3, 2]\n'
    )

    with pytest.raises(InputError, match=r'phase: "patch" says already how the piece is cut'):
        parse_project(text, "roses.toml")


def test_a_match_beyond_the_width_is_no_plan() -> None:
    """A piece that would begin 40 in across, 6 in wide, does not go on 42 in."""
    project = project_of(piece="phase = [40, 2]", fabric="repeat = [41, 9]")

    with pytest.raises(NoPlanError) as caught:
        planned(project)

    assert str(caught.value) == (
        "roses.toml: motif: begins 40 in across in the repeat and is 6 in wide. rose can be used for 42 in. "
        "Change its phase, or take a wider cloth."
    )


def test_a_matched_piece_keeps_the_way_it_is_cut() -> None:
    """It is not turned, unless its grain is crosswise: then it always is."""
    for keys, cut in (("phase = [3, 2]", (4, 6)), ('phase = [3, 2]\ngrain = "crosswise"', (6, 4))):
        text = PROJECT.format(piece=keys, fabric="repeat = [8, 9]", head="", on_hand="length = 9")
        plan = planned(parse_project(text.replace("cut = [6, 6]", "cut = [4, 6]"), "roses.toml"))
        piece = plan.fabrics[0].pieces[0]

        assert [piece.across, piece.along] == list(cut)
        assert not piece.turnable


def document() -> Any:
    """A sound plan as it is written."""
    return json.loads(dumps(plan_document(planned(project_of()))), parse_float=Fraction)


def moved(plan: Any, key: str, by: Fraction) -> str:
    """Move the first motif of a plan document; its name and place after that."""
    placed = next(item for item in plan["fabrics"][0]["cloths"][-1]["placed"] if item["piece"] == "motif")
    placed[key] = placed[key] + by
    return f'Piece "motif" at {float(placed["x"]):g} in, {float(placed["y"]):g} in'


@pytest.mark.parametrize(("key", "direction"), [("x", "across"), ("y", "along")])
def test_the_verdict_tells_what_does_not_match(key: str, direction: str) -> None:
    """A piece an eighth beyond its place is told, with how far it is off."""
    plan = document()
    name = moved(plan, key, Fraction(1, 8))

    fault = f"{name} does not match {direction}: it is 0.125 in beyond its place in the repeat."
    assert fault in judge_plan(plan)


def test_the_verdict_wants_a_repeat() -> None:
    """A piece cannot match without one, nor turned."""
    plan = document()
    plan["fabrics"][0]["repeat"] = None
    assert any(fault.endswith('is to match, and fabric "rose" has no repeat.') for fault in judge_plan(plan))

    plan = document()
    placed = next(item for item in plan["fabrics"][0]["cloths"][-1]["placed"] if item["piece"] == "motif")
    placed["turned"] = True
    assert any(fault.endswith("is turned, and cannot match so.") for fault in judge_plan(plan))
