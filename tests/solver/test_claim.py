"""Claims put to the test: what they forgive, and why they fail."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.claim import Claim, try_claims
from ellwand.errors import InputError
from ellwand.packing.problem import Effort
from ellwand.project.read import parse_project
from ellwand.record import plan_document
from ellwand.shortage import limited, unplaced, usable_length
from ellwand.slack import NO_SLACK, USUAL_SLACK
from ellwand.verdict import judge_plan

# Three rows of four backgrounds leave 2 in beside them; the border takes the whole width. Invented.
SHEET = """
[project]
name = "sheet"
[[piece]]
name = "background"
fabric = "ink"
cut = [10, 10]
count = 12
[[piece]]
name = "patch"
fabric = "ink"
cut = [2, 2]
[[piece]]
name = "top border"
fabric = "ink"
cut = [42, 4]
grain = "lengthwise"
[[piece]]
name = "lining"
fabric = "oat"
cut = [20, 20]
[fabric.ink]
width = 43
square_up = 0
[fabric.oat]
width = 43
on_hand = [ { length = "2 yd" } ]
[fabric.spare]
width = 43
"""
PROJECT = parse_project(SHEET, "sheet.toml")

# Pockets lie beside side borders of 50 1/2 in where these are cut whole; cut crosswise and joined, more of them go on.
# Invented.
POCKETS = """
[project]
name = "pockets"
[quilt]
across = 5
down = 5
[[block]]
name = "top"
finished = [10, 10]
[[block.piece]]
name = "ground"
fabric = "oat"
[[piece]]
name = "pocket"
fabric = "ink"
cut = [40, 10]
count = {count}
grain = "lengthwise"
[[border]]
name = "edge"
width = "3 1/2 in"
fabric = "ink"
corners = "butted"
[fabric.ink]
width = 43
[fabric.oat]
width = 43
"""


def pockets(count: int) -> Claim:
    """2 yd for a border and so many pockets."""
    project = parse_project(POCKETS.format(count=count), "pockets.toml")
    _, (claim,) = try_claims(project, {"ink": Fraction(72)}, slack=NO_SLACK, effort=Effort.QUICK)
    return claim


def test_what_a_claim_forgives() -> None:
    """34 in hold all: 2 in × 28 in of it are free, which 14 patches fill; nothing larger goes there."""
    _, (claim,) = try_claims(PROJECT, {"ink": Fraction(34)}, slack=NO_SLACK, effort=Effort.QUICK)

    assert claim.holds
    assert claim.forgiven is not None
    spoiled = {entry.pieces: (entry.copies, entry.proven) for entry in claim.forgiven.spoiled}
    assert spoiled == {("background",): (0, True), ("patch",): (14, True), ("top border",): (0, True)}
    assert claim.forgiven.width == 42  # the border is as wide
    assert claim.forgiven.width_proven
    assert set(claim.forgiven.shrinks) == {0}


def test_copies_go_on_however_the_rest_is_made() -> None:
    """Four pockets do, the border made as it has to be then, and five never: one more each time one less is cut."""
    claims = {count: pockets(count) for count in range(1, 6)}
    forgiven = {count: claim.forgiven for count, claim in claims.items() if claim.forgiven is not None}
    spoiled = {
        count: (entry.copies, entry.proven)
        for count, found in forgiven.items()
        for entry in found.spoiled
        if entry.pieces == ("pocket",)
    }
    ways = {claims[count].answer.constructions for count in forgiven}

    assert claims[5].refuted
    assert spoiled == {1: (3, True), 2: (2, True), 3: (1, True), 4: (0, True)}
    assert len(ways) > 1  # the way that is best for one pocket is not the one that holds four


def test_cloth_of_two_marks_is_no_proof() -> None:
    """Where every width was tried that there is, nothing proves that less would not do."""
    tiny = """
    [project]
    name = "tiny"
    [[piece]]
    name = "dot"
    fabric = "ink"
    cut = ["1/8 in", "1/8 in"]
    [fabric.ink]
    width = 2
    selvage = 0
    """
    project = parse_project(tiny, "tiny.toml")
    _, (claim,) = try_claims(project, {"ink": Fraction(9)}, slack=NO_SLACK, effort=Effort.QUICK)

    assert claim.forgiven is not None
    assert (claim.forgiven.width, claim.forgiven.width_proven) == (Fraction(1, 4), False)


def test_the_slack_is_kept() -> None:
    """With 1/4 in to spare across, the border of 42 in does not go on 42 in: the same words as a plan's."""
    with pytest.raises(Exception, match="top border") as caught:
        try_claims(PROJECT, {"ink": Fraction(34)}, slack=USUAL_SLACK, effort=Effort.QUICK)

    assert getattr(caught.value, "exit_code", None) == 1


def test_a_claim_that_fails_names_what_is_left_over() -> None:
    """30 in leave no room for some piece, whatever the layout; the judge accepts the plan that is shown."""
    plan, (claim,) = try_claims(PROJECT, {"ink": Fraction(30)}, slack=NO_SLACK, effort=Effort.QUICK)

    assert (claim.holds, claim.refuted, claim.forgiven) == (False, True, None)
    assert claim.answer.needed - claim.usable == 4
    assert sum(unplaced(claim.answer, claim.usable).values()) >= 1
    assert claim.enough == 36  # 8 steps of 1/8 yd
    assert not judge_plan(plan_document(plan))


def test_cloth_on_hand_is_left_out() -> None:
    """A printed pattern cannot lean on it."""
    _, (claim,) = try_claims(PROJECT, {"oat": Fraction(18)}, effort=Effort.QUICK)

    assert not claim.holds
    assert claim.enough == Fraction(45, 2)


@pytest.mark.parametrize(("length", "holds"), [(72, True), (32, False)])
def test_a_claim_is_of_one_length_wherever_bolts_end(length: int, holds: bool) -> None:
    """Tests that a bolt of one yard is no matter for what a printed length of two would do."""
    project = parse_project(SHEET.replace("square_up = 0", 'square_up = 0\nbolt = "1 yd"'), "sheet.toml")

    _, (claim,) = try_claims(project, {"ink": Fraction(length)}, slack=NO_SLACK, effort=Effort.QUICK)

    assert claim.holds == holds


def test_several_claims_come_in_the_files_order() -> None:
    """Each has its own answer."""
    _, claims = try_claims(PROJECT, {"oat": Fraction(36), "ink": Fraction(36)}, slack=NO_SLACK, effort=Effort.QUICK)

    assert [(claim.fabric.id, claim.holds) for claim in claims] == [("ink", True), ("oat", True)]


@pytest.mark.parametrize("name", ["brass", "spare"])
def test_a_fabric_that_is_not_used_is_refused(name: str) -> None:
    """The refusal says which are."""
    with pytest.raises(
        InputError, match=rf'^sheet\.toml: cuts nothing from a fabric "{name}"\. It has: "ink", "oat"\.$'
    ):
        try_claims(PROJECT, {name: Fraction(36)})


def test_the_length_that_can_be_used() -> None:
    """What is left of 2 yd once 5 % are washed out and 1/2 in is squared: 67.9 in, down to the ruler."""
    text = SHEET.replace("[fabric.spare]", '[fabric.flannel]\nwash = true\nshrinks = ["5 %", "0 %"]')
    fabric = limited(parse_project(text, "sheet.toml").fabrics["flannel"], Fraction(72))

    assert usable_length(fabric, 1, Fraction(1, 8)) == Fraction(543, 8)
    assert usable_length(fabric, 0, Fraction(1, 8)) == 0
