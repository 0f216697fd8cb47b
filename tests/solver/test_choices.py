"""Which ways of making the parts of a fabric are tried, and what none of them can go below."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.choices import Choice, open_choices
from ellwand.errors import NoPlanError
from ellwand.hunt import Hunt
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.quilt.work import work_out
from ellwand.record import sound_document

# A top, mostly of 50 × 40, with borders of 1 in, whose strips are 1 1/2 wide, from cloth with 42 to use; invented.
HEAD = """
[project]
name = "ringed"
[quilt]
[[block]]
name = "top"
finished = [{top}]
"""
BORDER = """
[[border]]
name = "ring {number}"
fabric = "ink"
width = "{width} in"
corners = "butted"
{more}
"""
BACKING = """
[backing]
fabric = "ink"
overhang = "2 in"
"""
FABRIC = """
[fabric.ink]
width = 42
selvage = 0
square_up = 0
{on_hand}
"""
STRIP = Fraction(3, 2)


def ringed(
    borders: int, *, top: str = "50, 40", parts: str = "", more: str = "", width: int = 1, on_hand: str = ""
) -> Project:
    """A quilt with so many borders of one fabric, whose strips may be cut as they like."""
    rings = "".join(BORDER.format(number=number, width=width, more=more) for number in range(borders))
    return parse_project(HEAD.format(top=top) + rings + parts + FABRIC.format(on_hand=on_hand), "ringed.toml")


def least(project: Project, *, as_new: bool = False) -> int:
    """What no way to make the parts of its ink can go below, in marks of the ruler."""
    ink = project.fabrics["ink"]
    return Hunt.start(project, ink, as_new=as_new, effort=Effort.QUICK, watch=None).least


def choices_of(project: Project, *, as_new: bool = False) -> tuple[Choice, ...]:
    """Every choice for the one fabric."""
    return open_choices(project, project.fabrics["ink"], as_new=as_new)


def chosen(choices: tuple[Choice, ...], part: str) -> set[str]:
    """Names of the ways in which a part is made in some choice."""
    return {dict(choice.constructions)[part] for choice in choices}


def smallest_area(borders: int) -> Fraction:
    """Area of all strips of so many borders when none is joined."""
    strips = Fraction(0)
    for number in range(borders):
        across, down = 50 + 2 * number, 40 + 2 * number
        sides, ends = down + Fraction(1, 2), across + 2 + Fraction(1, 2)
        strips += 2 * (sides + ends) * STRIP
    return strips


# combinations


def test_long_strips_may_lie_four_ways() -> None:
    """All along, all across, and the sides one way with the ends the other; each strip across takes one join."""
    choices = choices_of(ringed(1, top="50, 50"))

    assert {dict(choice.constructions)["ring 0"]: choice.joins for choice in choices} == {
        "lengthwise": 0,
        "crosswise, joined": 4,
        "sides lengthwise, top and bottom crosswise, joined": 2,
        "sides crosswise, top and bottom lengthwise, joined": 2,
    }


def test_equal_ways_are_one() -> None:
    """Sides of 40 1/2 go across the cloth in one piece, and may be turned: two ways are left, for the ends alone."""
    choices = choices_of(ringed(1))

    assert {dict(choice.constructions)["ring 0"]: choice.joins for choice in choices} == {
        "sides in one piece, top and bottom lengthwise": 0,
        "crosswise, joined": 2,
    }


def test_sixty_four_combinations_are_all_tried() -> None:
    """Three borders, every strip longer than the cloth is wide: four ways each."""
    choices = choices_of(ringed(3, top="50, 50"))

    assert len({choice.constructions for choice in choices}) == len(choices) == 64
    assert all(len(chosen(choices, f"ring {number}")) == 4 for number in range(3))


def test_of_more_combinations_parts_with_equal_choices_choose_alike() -> None:
    """Four borders with four ways each and a backing with two others: eight of 512."""
    choices = choices_of(ringed(4, top="50, 46", parts=BACKING))

    assert len(choices) == 8
    assert len(chosen(choices, "backing")) == 2
    assert len(chosen(choices, "ring 0")) == 4
    for choice in choices:
        ways = dict(choice.constructions)
        assert len({ways[f"ring {number}"] for number in range(4)}) == 1


LENGTHWISE = '[binding]\nfabric = "ink"\ngrain = "{grain}"\nextra = 4\nshortest = 0\n'


def test_a_binding_of_many_ways_leaves_other_parts_theirs() -> None:
    """Two borders with four ways each, a backing with two and a binding with more: equal borders choose alike."""
    project = ringed(2, top="50, 46", parts=BACKING + LENGTHWISE.format(grain="any"))
    choices = choices_of(project)

    bindings = chosen(choices, "binding")
    assert len(bindings) == 12
    assert {"crosswise, joined", "lengthwise", "4 equal strips, joined"} < bindings
    assert len(chosen(choices, "ring 0")) == 4
    assert len(chosen(choices, "backing")) == 2
    assert len(choices) == 4 * 2 * 12


def test_where_they_are_too_many_every_other_way_is_left_out() -> None:
    """Inner borders of two ways and outer ones of four, a backing of two, a binding of many: each keeps a choice."""
    project = ringed(4, top="50, 39", parts=BACKING + LENGTHWISE.format(grain="any") + "strip = 2")
    ways = {part.name: {option.name for option in part.options} for part in work_out(project).parts}
    choices = choices_of(project)

    assert len(ways["ring 0"]) * len(ways["ring 3"]) * len(ways["backing"]) * len(ways["binding"]) > 192 >= len(choices)
    for name in ("ring 0", "ring 3", "backing", "binding"):
        assert len(chosen(choices, name)) > 1
        assert chosen(choices, name) <= ways[name]
    assert len(chosen(choices, "binding")) < len(ways["binding"])
    bound = least(project)
    assert bound <= min(choice.bound.length for choice in choices)


def test_of_combinations_left_out_only_the_area_is_promised() -> None:
    """Eight borders have too many: the bound is the area of strips without a join, though every choice needs more."""
    project = ringed(8)
    choices = choices_of(project)

    bound = least(project)

    marks = smallest_area(8) / 42 * 8
    assert bound == -(-marks.numerator // marks.denominator)
    assert bound < min(choice.bound.length for choice in choices)


def test_cloth_on_hand_is_taken_off_that_area() -> None:
    """A length of 10 in carries 420 square inches of it; without it, as new, it does not."""
    project = ringed(8, on_hand="on_hand = [ { length = 10 } ]")

    owner = least(project)
    reader = least(project, as_new=True)

    assert reader - owner == 10 * 8


def test_where_all_are_tried_the_least_of_their_bounds_holds() -> None:
    """One border: the least bound of its choices, no less."""
    project = ringed(1)
    choices = choices_of(project)

    bound = least(project)

    assert bound == min(choice.bound.length for choice in choices)
    assert len({choice.bound.length for choice in choices}) > 1


def test_eight_borders_of_one_fabric_are_planned() -> None:
    """So many combinations are cut down to a number that can be tried, and the plan is sound."""
    plan = make_plan(ringed(8), effort=Effort.QUICK)

    assert len(plan.fabrics[0].constructions) == 8
    assert sound_document(plan)["fabrics"][0]["steps"] == plan.fabrics[0].steps


# widths of strips


def test_strips_may_be_cut_to_the_width_of_a_narrower_cloth() -> None:
    """A rectangle of 30 × 18 on hand: joined strips of the bolt's 42, or all of 30, which the choice says."""
    project = ringed(1, on_hand="on_hand = [ { width = 30, length = 18 } ]")

    ways = chosen(choices_of(project), "ring 0")

    as_new = {"sides in one piece, top and bottom lengthwise", "crosswise, joined"}
    assert ways - as_new == {
        "crosswise, joined, of strips cut to 30 in",
        "sides in one piece, top and bottom crosswise, joined, of strips cut to 30 in",
        "sides crosswise, top and bottom lengthwise, joined, of strips cut to 30 in",
    }
    assert chosen(choices_of(project, as_new=True), "ring 0") == as_new


def test_only_what_is_cut_to_that_width_says_so() -> None:
    """Equal strips along the selvage are as long as they are, whatever other strips are cut to."""
    parts = LENGTHWISE.format(grain="lengthwise")
    choices = choices_of(ringed(1, parts=parts, on_hand="on_hand = [ { width = 30, length = 18 } ]"))

    assert any("cut to 30 in" in name for name in chosen(choices, "ring 0"))
    assert not any("cut to" in name for name in chosen(choices, "binding"))


@pytest.mark.parametrize("on_hand", ["{ width = 5, length = 18 }", "{ width = 60, length = 18 }", "{ length = 18 }"])
def test_other_cloth_on_hand_brings_no_ways(on_hand: str) -> None:
    """Too narrow for the shortest bit, wider than the bolt, or as wide: strips are cut to the bolt's width alone."""
    with_it, without = ringed(1, on_hand=f"on_hand = [ {on_hand} ]"), ringed(1)

    assert chosen(choices_of(with_it), "ring 0") == chosen(choices_of(without), "ring 0")


def test_a_width_on_which_a_part_cannot_be_made_is_left_out() -> None:
    """Binding is joined from strips of 12 in at the least: a rectangle of 5 in gives none, and that is no refusal."""
    bound = '[binding]\nfabric = "ink"\n'

    (choice,) = choices_of(ringed(0, parts=bound, on_hand="on_hand = [ { width = 5, length = 18 } ]"))

    assert choice.constructions == (("binding", "crosswise, joined"),)


# no way


def test_a_way_that_does_not_go_is_passed_over() -> None:
    """No joins are allowed, so strips longer than the cloth is wide are cut along it."""
    choices = choices_of(ringed(1, more="joins = 0"))

    assert chosen(choices, "ring 0") == {"sides in one piece, top and bottom lengthwise"}


def test_no_plan_only_where_no_way_goes() -> None:
    """A border wider than the cloth goes in no way, and the first refusal is told."""
    with pytest.raises(NoPlanError, match=r"^ringed\.toml: ring 0/top: .*1 1/2 in missing"):
        choices_of(ringed(1, width=43))
