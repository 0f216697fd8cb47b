"""Borders and bindings of copies, joined from bits of any lengths: what is left is used, no join is in a mitre."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from ellwand.choices import open_choices
from ellwand.leastrun import is_flexible
from ellwand.model import FabricPlan, Piece, Plan
from ellwand.packing.halt import Halt
from ellwand.packing.problem import Effort
from ellwand.plan import finish_plans, start_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.record import sound_document
from ellwand.search import Means

# A top of 60 × 60 with a border 3 wide, and a panel of the same cloth, 42 of it to use; invented.
RINGED = """
[project]
name = "ringed"
copies = {copies}
[quilt]
[[block]]
name = "top"
finished = {top}
[[border]]
name = "inner"
fabric = "ink"
width = 3
corners = "{corners}"
cornerstones = "oat"
join = "straight"
cut = "{cut}"
{border}
{pieces}
[fabric.ink]
width = 42
selvage = 0
square_up = 0
{cloth}
[fabric.oat]
width = 42
"""
PIECE = '[[piece]]\nname = "{name}"\nfabric = "ink"\ncut = {size}\ncount = {count}\ngrain = "lengthwise"\n'
PANEL = PIECE.format(name="panel", size="[11, 28]", count=1)
LOSS = Fraction(1, 2)  # of a straight join


def ringed(
    pieces: str = PANEL,
    *,
    cut: str = "best",
    top: str = "[60, 60]",
    corners: str = "cornerstones",
    border: str = "",
    cloth: str = "",
    copies: int = 1,
) -> Project:
    """A project of a top with a border, and loose pieces."""
    text = RINGED.format(pieces=pieces, cut=cut, top=top, corners=corners, border=border, cloth=cloth, copies=copies)
    return parse_project(text if corners == "cornerstones" else text.replace('cornerstones = "oat"\n', ""), "r.toml")


def planned(project: Project) -> FabricPlan:
    """The plan of its ink, all ways open but looked at quickly; both judges agree to it."""
    means = Means(effort=Effort.QUICK, seed=0, halt=Halt(), workers=1, memory={})
    (plan,) = finish_plans([start_plan(project, as_new=False, effort=Effort.PROOF, watch=None)], means)
    return ink(plan)


def ink(plan: Plan) -> FabricPlan:
    """What a sound plan says of its ink."""
    sound_document(plan)
    return next(answer for answer in plan.fabrics if answer.fabric.id == "ink")


def bits(answer: FabricPlan, side: str) -> list[Fraction]:
    """Lengths of the bits that one side of the border is joined from, in the order of their numbers."""
    return [piece.across for piece in border(answer) if piece.id.startswith(f"inner/{side}")]


def border(answer: FabricPlan) -> list[Piece]:
    """The border's pieces."""
    return [piece for piece in answer.pieces if piece.id.startswith("inner/")]


def is_fitted(answer: FabricPlan) -> bool:
    """Whether the border was fitted to what is left."""
    return "fitted" in dict(answer.constructions).get("inner", "")


# what is left


def test_a_border_is_made_of_what_a_panel_leaves() -> None:
    """Beside a panel of 11 × 28 lie eight strips of 31, 3 1/2 wide: two make 61 1/2, and a side is 60 1/2.

    A strip from selvage to selvage does not lie there, nor one of 60 1/2. Area and heights of 3 1/2 say 28 at least:
    308 of the panel and 4 × 61 × 3 1/2 on 42 are 27 2/3.
    """
    answer = planned(ringed())

    for side in ("left", "right", "top", "bottom"):
        assert bits(answer, side) == [31, 30]
    assert answer.needed == answer.bound == 28
    assert dict(answer.constructions)["inner"] == "crosswise, fitted to what is left, joined"
    for cut in ("crosswise", "lengthwise"):
        assert planned(ringed(cut=cut)).needed > 28


def test_its_pieces_tell_their_sum() -> None:
    """The first bit tells how both reach, the second that it is of what is left; both lie crosswise."""
    first, second = (piece for piece in border(planned(ringed())) if piece.id.startswith("inner/left"))

    assert (first.id, second.id) == ("inner/left/1", "inner/left/2")
    assert first.why.endswith("; 31 + 30 less 1 × 1/2 for joins = 60 1/2 in")
    assert second.why == "as inner/left/1; from what is left, 30 in"
    assert not first.turnable
    assert not second.turnable


@pytest.mark.parametrize(
    "asked",
    [{"cut": "crosswise"}, {"cut": "lengthwise"}, {"cloth": 'way = "one-way"'}, {"copies": 2}],
    ids=["crosswise", "lengthwise", "one-way cloth", "two copies"],
)
def test_only_borders_that_may_be_cut_any_way_are_fitted(asked: dict[str, str]) -> None:
    """With a way asked for, a cloth with a way, or copies, the strips are cut as ever."""
    project = ringed(**asked)  # type: ignore[arg-type]

    assert not any(map(is_flexible, open_choices(project, project.fabrics["ink"], as_new=True, at_length=True)))


def test_borders_are_fitted_with_the_most_effort_only() -> None:
    """Tests that nobody waits for what few gain by: the same ways are open without it, none of them to be fitted."""
    project = ringed()
    brief, all_ways = (
        open_choices(project, project.fabrics["ink"], as_new=True, at_length=at_length) for at_length in (False, True)
    )

    assert [choice.constructions for choice in brief] == [choice.constructions for choice in all_ways]
    assert (any(map(is_flexible, brief)), any(map(is_flexible, all_ways))) == (False, True)


def test_no_bit_is_shorter_than_the_shortest() -> None:
    """Where no bit may be shorter than 31, two bits of 31 are taken; where it is 32, none that lies there."""
    longer = planned(ringed(border="shortest = 31"))

    assert [bits(longer, side) for side in ("left", "top")] == [[31, 31]] * 2
    assert planned(ringed(border="shortest = 32")).needed > 28


def test_no_more_joins_are_made_than_are_allowed() -> None:
    """Beside panels of 22 on 42, strips of 20 take three joins for 60 1/2; with joins = 1 they are not taken."""
    panel = PIECE.format(name="panel", size="[22, 56]", count=1)

    assert len(bits(planned(ringed(panel)), "left")) == 4
    assert len(bits(planned(ringed(panel, border="joins = 1")), "left")) <= 2


# mitres


def joins(lengths: list[Fraction]) -> list[tuple[Fraction, Fraction]]:
    """From where to where each join reaches, from the middle of the joined strip."""
    middle = (sum(lengths) - (len(lengths) - 1) * LOSS) / 2
    ends = [sum(lengths[:number]) - number * LOSS - middle for number in range(1, len(lengths))]
    return [(end, end + LOSS) for end in ends]


@pytest.mark.parametrize("number", range(16))
def test_no_join_is_in_a_mitre(number: int) -> None:
    """Pinned from its middle, all joins of a mitred strip lie within the side that it is sewn to; each is reached.

    Where cloth is to be had in parts of 1/8 yd, fitted strips buy no more than others.
    """
    random = Random(number)
    top = (random.randint(44, 70), random.randint(44, 70))
    pieces = "".join(
        PIECE.format(name=f"p{at}", size=[random.randint(8, 24), random.randint(6, 30)], count=random.randint(1, 3))
        for at in range(2)
    )
    asked = {"top": str(list(top)), "corners": "mitred"}

    answer = planned(ringed(pieces, **asked))  # type: ignore[arg-type]

    for side, length in zip(("top", "left"), top, strict=True):
        lengths = bits(answer, side)
        if is_fitted(answer) and len(lengths) > 1:
            assert sum(lengths) - (len(lengths) - 1) * LOSS >= length + 6
            assert all(-length <= 2 * start and 2 * end <= length for start, end in joins(lengths))
    assert answer.bound <= answer.needed
    assert all(answer.steps <= planned(ringed(pieces, cut=cut, **asked)).steps for cut in ("crosswise", "lengthwise"))  # type: ignore[arg-type]


# copies

BOUND = """
[project]
name = "bound"
copies = {copies}
[quilt]
[[block]]
name = "top"
finished = [50, 60]
[binding]
fabric = "ink"
grain = "any"
extra = "20.5 in"
[fabric.ink]
width = 42
selvage = 0
square_up = 0
"""
PANELS = PIECE.format(name="a", size="[30, 40]", count=1) + PIECE.format(name="b", size="[34, 30]", count=1)


def test_every_copy_has_a_binding_of_its_own() -> None:
    """Beside the panels of two copies lie three strips of 140 and one of 80, in all 500.

    One binding of 242 1/2 takes 140 + 105, the other 140, the 80 and some of the 35 that are left of 140.
    """
    answer = planned(parse_project(BOUND.format(copies=2) + PANELS, "bound.toml"))

    assert answer.needed == answer.bound == 140
    for copy in ("1", "2"):
        strips = [piece for piece in answer.pieces if piece.id.startswith(f"binding/{copy}/")]
        lengths = [max(piece.across, piece.along) for piece in strips for _ in range(piece.count)]
        assert sum(lengths) - (len(lengths) - 1) * Fraction(5, 2) >= Fraction(485, 2)
        assert {piece.where for piece in strips} == {f"round the edge of copy {copy}"}


def test_many_copies_are_bound_alike() -> None:
    """Up to twelve copies are fitted, more are not."""
    fitted = []
    for copies in (12, 13):
        project = parse_project(BOUND.format(copies=copies), "bound.toml")
        fitted.append(any(map(is_flexible, open_choices(project, project.fabrics["ink"], as_new=True))))

    assert fitted == [True, False]
