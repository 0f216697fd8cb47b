"""Bindings whose strips have any lengths: what is left is used, the run is reached, and the bound holds."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from ellwand.choices import open_choices
from ellwand.leastrun import least_fitted
from ellwand.model import FabricPlan, Piece
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.record import sound_document

# A top with its binding, and loose pieces of the same cloth, 42 of it to use; invented.
BOUND = """
[project]
name = "bound"
copies = {copies}
layout = "{layout}"
[quilt]
[[block]]
name = "top"
finished = {top}
{pieces}
[binding]
fabric = "ink"
grain = "{grain}"
extra = "{extra} in"
shortest = "{shortest} in"
[fabric.ink]
width = 42
selvage = 0
square_up = 0
{on_hand}
"""
PIECE = '[[piece]]\nname = "{name}"\nfabric = "ink"\ncut = {size}\ncount = {count}\ngrain = "{grain}"\n'
WIDTH = LOSS = Fraction(5, 2)  # of a diagonal join
PANELS = PIECE.format(name="a", size="[30, 40]", count=1, grain="lengthwise") + PIECE.format(
    name="b", size="[34, 30]", count=1, grain="lengthwise"
)


def bound(
    pieces: str,
    *,
    grain: str = "any",
    top: str = "[50, 60]",
    extra: str = "20.5",
    shortest: int = 12,
    copies: int = 1,
    layout: str = "rotary",
    on_hand: str = "",
) -> Project:
    """A project of a bound top and loose pieces."""
    return parse_project(
        BOUND.format(
            pieces=pieces, grain=grain, top=top, extra=extra, shortest=shortest, copies=copies, layout=layout,
            on_hand=on_hand,
        ),
        "bound.toml",
    )  # fmt: skip


def planned(project: Project) -> FabricPlan:
    """The plan of its one fabric, after a quick look; both judges agree to it."""
    plan = make_plan(project, effort=Effort.QUICK)
    sound_document(plan)
    (fabric,) = plan.fabrics
    return fabric


def strips(answer: FabricPlan) -> dict[Fraction, int]:
    """Lengths of the binding's strips, and how many of each."""
    found = [piece for piece in answer.pieces if piece.id.startswith("binding")]
    return {_length(piece): piece.count for piece in found}


def _length(piece: Piece) -> Fraction:
    return piece.along if piece.across == WIDTH else piece.across


def reach(lengths: dict[Fraction, int]) -> Fraction:
    """Length of the strips once they are joined."""
    return sum((length * count for length, count in lengths.items()), -LOSS * (sum(lengths.values()) - 1))


# what is left


def test_leftovers_make_the_whole_binding() -> None:
    """Beside panels of 30 and 34 on 42 lie three strips of 70 and one of 40: 250 less 3 joins, all of 242 1/2.

    Equal strips, or strips from selvage to selvage, need cloth beyond the panels' 70.
    """
    answer = planned(bound(PANELS))

    assert strips(answer) == {Fraction(70): 3, Fraction(40): 1}
    assert answer.needed == answer.bound == 70
    assert dict(answer.constructions) == {"binding": "4 strips fitted to what is left, joined"}
    for grain in ("crosswise", "lengthwise"):
        assert planned(bound(PANELS, grain=grain)).needed > 70


def test_pieces_tell_how_the_strips_were_found() -> None:
    """The first strip tells the sum, a further one that it comes from what is left; each that it is joined."""
    first, second = (piece for piece in planned(bound(PANELS)).pieces if piece.id.startswith("binding"))

    assert (first.id, second.id) == ("binding/1", "binding/2")
    assert "3 × 70 + 40 less 3 × 2 1/2 for joins = 242 1/2 in" in first.why
    assert second.why == "as binding/1; from what is left, 40 in"
    assert first.after == second.after == "join end to end on the diagonal"


def test_a_shortest_bit_is_kept_to() -> None:
    """Where no bit may be shorter than 45, the strip of 40 is not taken."""
    answer = planned(bound(PANELS, shortest=45))

    assert min(strips(answer)) >= 45
    assert answer.needed > 70


def test_cloth_on_hand_gives_strips_too() -> None:
    """Two lengths of 10 give eight strips from selvage to selvage, seven of them are enough: nothing is bought."""
    answer = planned(bound("", on_hand="on_hand = [ { length = 10, count = 2 } ]"))

    assert answer.needed == 0
    assert reach(strips(answer)) >= Fraction(485, 2)


def test_free_layouts_leave_strips_too() -> None:
    """With scissors the same strips lie beside the same panels."""
    answer = planned(bound(PANELS, layout="free"))

    assert answer.needed == answer.bound == 70


# laws


def random_pieces(random: Random) -> str:
    """A few kinds of pieces, from small patches to panels."""
    return "".join(
        PIECE.format(
            name=f"p{number}",
            size=[random.choice([4.5, 8.5, 10, 12.5, 16]), random.choice([5, 8.5, 10.5, 15])],
            count=random.randint(2, 14),
            grain="either",
        )
        for number in range(random.randint(1, 3))
    )


@pytest.mark.parametrize("number", range(12))
def test_the_run_is_reached_with_no_more_cloth(number: int) -> None:
    """Joined strips reach the run, none is too short, no more is bought than for full widths, the bound holds."""
    random = Random(number)
    pieces = random_pieces(random)
    top = [random.randint(20, 70), random.randint(20, 70)]
    on_hand = random.choice(["", "on_hand = [ { width = 18, length = 21, count = 2 } ]"])

    answer = planned(bound(pieces, top=str(top), extra="14", on_hand=on_hand))

    lengths = strips(answer)
    assert reach(lengths) >= 2 * (sum(top) + 1) + 14
    assert min(lengths) >= 12
    assert answer.bound <= answer.needed
    assert answer.steps <= planned(bound(pieces, top=str(top), extra="14", on_hand=on_hand, grain="crosswise")).steps


# the bound


def least(project: Project) -> Fraction | None:
    """What no way with strips of any lengths can go below, in inches."""
    fabric = project.fabrics["ink"]
    marks = least_fitted(open_choices(project, fabric, as_new=False))
    return None if marks is None else marks * project.ruler


def test_joins_that_must_be_count() -> None:
    """A run of 100 takes three bits of at most 42, so two joins: 105 × 2 1/2 on 42 is 6 1/4 of cloth."""
    assert least(bound("", top="[15, 27.5]", extra="13")) == Fraction(25, 4)


def test_cloth_on_hand_counts() -> None:
    """Two strips of 42 from a length of 5 leave 2 × 2 1/2 × 42 less to buy; 52 1/2 sq in on 42 are 1 1/4."""
    on_hand = "on_hand = [ { length = 5 } ]"

    assert least(bound("", top="[15, 27.5]", extra="13", on_hand=on_hand)) == Fraction(5, 4)


def test_other_pieces_count() -> None:
    """Panels that cannot lie side by side need 70 alone; 242 1/2 of binding fit beside them by area."""
    assert least(bound(PANELS)) == 70


def test_a_single_strip_is_not_joined() -> None:
    """A run that the width holds is no matter of joins, and not fitted."""
    assert least(bound("", top="[5, 5]", extra="14")) is None


def test_narrow_gaps_carry_nothing() -> None:
    """Beside two squares of 20 on 42 no strip lies: six of them and a run of 100 fill more than their area, 63 1/2.

    Give a square 22 and a mark of a strip its size: two squares are 44, one and a strip of the rest 44, strips alone
    42. So (6 × 20 × 22 + 262 1/2) ÷ 44 at least are needed, which is 66 on the ruler; whole weights lose a little.
    """
    squares = PIECE.format(name="a", size="[20, 20]", count=6, grain="either")

    length = least(bound(squares, top="[15, 27.5]", extra="13"))

    assert length is not None
    assert Fraction(131, 2) < length <= 66
