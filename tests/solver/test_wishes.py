"""Tests of wishes: cloth and pieces to spare, and what is kept back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from copy import deepcopy
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from ellwand.errors import InputError
from ellwand.ledger import Kind, Ledger, OwnedCloth, OwnedFabric, Selvage, shelf_at, taking_of
from ellwand.model import FabricPlan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Shelf
from ellwand.quilt.work import work_out
from ellwand.record import dumps, sound_document
from ellwand.verdict import judge_plan

TEXT = """
[project]
name = "Spare"
[[piece]]
name = "pocket"
fabric = "oat"
cut = [10, 10]
count = {count}
{piece}
[fabric.oat]
width = 43
square_up = 0
{fabric}
"""


def planned(count: int, *, piece: str = "", fabric: str = "", shelf: Shelf | None = None) -> FabricPlan:
    """The answer for squares of 10 in, four of which lie side by side."""
    return both(count, piece=piece, fabric=fabric, shelf=shelf)[0]


def both(
    count: int, *, piece: str = "", fabric: str = "", shelf: Shelf | None = None
) -> tuple[FabricPlan, Mapping[str, Any]]:
    """The same with its document, which the judge found sound."""
    project = parse_project(TEXT.format(count=count, piece=piece, fabric=fabric), "spare.toml", shelf)
    plan = make_plan(project, effort=Effort.QUICK)
    return plan.fabrics[0], json.loads(dumps(sound_document(plan)), parse_float=Fraction)


def placed(answer: FabricPlan) -> list[tuple[int, int]]:
    """How many spare pieces were wished for, and placed."""
    assert answer.wishes is not None
    return [(spare.wanted, spare.placed) for spare in answer.wishes.spares]


def test_nothing_is_told_where_nothing_is_wished() -> None:
    """Tests a plain project."""
    assert planned(3).wishes is None


def test_spare_pieces_fill_what_the_others_leave() -> None:
    """Tests that the fourth place of a row goes to a spare piece, and the length stays."""
    answer = planned(7, piece="spare = 1")

    assert placed(answer) == [(1, 1)]
    assert answer.needed == 20  # two rows of four, as without it
    assert answer.proven
    assert sum(item.piece == "pocket/spare" for layout in answer.layouts for item in layout.placed) == 1


def test_spare_pieces_never_cost_a_step() -> None:
    """Tests that as many go as the bought length holds, and the rest is told."""
    fabric = 'sold_by = "15 in"'
    alone, answer = planned(7, fabric=fabric), planned(7, piece="spare = 9", fabric=fabric)

    assert alone.steps == answer.steps == 2  # 20 in of 30 in
    assert placed(answer) == [(9, 5)]  # one beside the seven, four in a row of their own
    assert answer.needed == 30
    assert answer.wishes is not None
    assert answer.wishes.needed == alone.needed == answer.needed_at_least
    assert answer.bought_proven == alone.bought_proven


def test_spare_pieces_come_from_cloth_on_hand() -> None:
    """Tests that a rectangle on hand holds what it can, and nothing is bought for the rest."""
    answer = planned(3, piece="spare = 4", fabric="on_hand = [{ length = 20, width = 20 }, { length = 10, width = 9 }]")

    assert answer.needed == 0
    assert placed(answer) == [(4, 1)]


def test_a_wish_makes_no_job_short() -> None:
    """Tests cloth that is not enough as it is: the wishes are told as they are, and change nothing."""
    fabric = "buy = false\non_hand = [{ length = 20, width = 20 }]\n"
    alone = planned(5, fabric=fabric)
    answer = planned(5, piece="spare = 2", fabric=f'{fabric}keep_back = [10, 10]\nspare = "10 %"')

    assert (alone.enough, answer.enough) == (False, False)
    assert answer.needed == alone.needed
    assert placed(answer) == [(2, 0)]
    assert answer.wishes is not None
    assert not answer.wishes.kept
    assert answer.wishes.honoured == 0


@pytest.mark.parametrize(
    ("count", "share", "bought"),
    [
        (8, "10 %", 22),  # derived: 20 in and a tenth of it, sold by the inch
        (8, "12.5 %", 23),  # derived: 22 1/2 in, up to the inch
        (8, "0 %", 20),
    ],
)
def test_a_share_is_bought_beyond_need(count: int, share: str, bought: int) -> None:
    """Tests that so much more is bought, up to the shop's step, and that the least is told of what is needed."""
    answer = planned(count, fabric=f'spare = "{share}"\nsold_by = "1 in"')

    assert answer.bought == answer.bound_bought == bought
    assert answer.needed == answer.bound == 20


BLOCKS = """
[project]
name = "Patches"
[quilt]
[[block]]
name = "star"
finished = [8, 8]
[[block.piece]]
name = "half"
fabric = "oat"
patch = "half-square"
finished = [4, 4]
count = 4
spare = 3
[[block.piece]]
name = "goose"
fabric = "oat"
patch = "geese"
finished = [8, 4]
sky = "oat"
spare = 1
[fabric.oat]
width = 43
"""


def test_spare_patches_come_in_whole_squares() -> None:
    """Tests triangles, of which a square gives two, and geese, which come four at a time with four squares of sky."""
    pieces = [piece for part in work_out(parse_project(BLOCKS, "star.toml")).parts for piece in part.pieces]

    assert {piece.id: piece.spare for piece in pieces} == {"star/half": 2, "star/goose": 1, "star/goose/sky": 4}


def test_a_share_goes_before_washing_and_squaring() -> None:
    """Tests that what is bought leaves the share once it is washed and squared."""
    fabric = 'spare = "10 %"\nsold_by = "1 in"\nwash = true\nshrinks = ["20 %", "0 %"]\n'

    # derived: 22 in after washing take 22/0.8 = 27.5 in before (ISO 5077: change over length before)
    assert planned(8, fabric=fabric).bought == 28


@pytest.mark.parametrize(
    ("length", "honoured"),
    [
        (21, Fraction(1, 20)),  # derived: a strip of 1 × 20 in beside four squares of 10 in
        (24, Fraction(1, 5)),
        (40, Fraction(1, 2)),
    ],
)
def test_a_share_of_cloth_on_hand_is_told(length: int, honoured: Fraction) -> None:
    """Tests how much of half as much again is left of a strip of cloth."""
    cloth = f"on_hand = [{{ length = {length}, full_width = 21, selvages = 2 }}]"
    answer = planned(4, fabric=f'{cloth}\nspare = "50 %"')

    assert answer.wishes is not None
    assert answer.wishes.honoured == honoured


def test_a_share_of_what_is_bought_beside_cloth_on_hand() -> None:
    """Tests that a tenth of the bought length is enough, small as it is beside pieces on the cloth on hand."""
    fabric = 'spare = "10 %"\nsold_by = 11\non_hand = [{ width = 40, length = 100 }]'

    answer = planned(44, fabric=fabric)

    assert [answer.needed, answer.bought] == [10, 11]
    assert answer.wishes is not None
    assert answer.wishes.honoured == Fraction(1, 10)


def test_a_rectangle_is_kept_back_where_it_is_left() -> None:
    """Tests that nothing is laid out anew where an offcut or the bought length is large enough already."""
    answer = planned(7, fabric="keep_back = [10, 12]\nsold_by = 36")

    assert answer.wishes is not None
    assert answer.wishes.kept
    assert [piece.id for piece in answer.pieces] == ["pocket"]


def test_a_rectangle_wider_than_the_bolt_is_kept_of_wider_cloth_alone() -> None:
    """Tests that what no bolt holds makes no job fail, and comes from a cloth on hand that has it left."""
    wish = "keep_back = [45, 50]"

    none = planned(3, fabric=wish)
    left = planned(3, fabric=f"{wish}\non_hand = [{{ width = 30, length = 10 }}, {{ width = 46, length = 50 }}]")

    assert none.wishes is not None
    assert left.wishes is not None
    assert (none.wishes.kept, left.wishes.kept) == (False, True)


def test_a_rectangle_that_is_kept_back_has_a_place() -> None:
    """Tests that it comes before spare pieces, which would take its place otherwise."""
    answer = planned(7, piece="spare = 1", fabric="keep_back = [10, 10]\nsold_by = 20")

    assert answer.wishes is not None
    assert (answer.wishes.kept, placed(answer), answer.steps) == (True, [(1, 0)], 1)
    assert [piece.id for piece in answer.pieces] == ["pocket", "kept back/oat"]


def test_what_is_kept_back_comes_back_to_the_ledger(tmp_path: Path) -> None:
    """Tests that it is taken out with its cloth and put in as a rectangle of its own."""
    length = OwnedCloth(
        fabric="oat", kind=Kind.LENGTH, across=Fraction(43), along=Fraction(20), selvages=tuple(Selvage)
    )
    place = tmp_path / "ledger.sqlite"
    with Ledger(place) as ledger:
        ledger.take_in([OwnedFabric(name="oat", width=Fraction(43))], [length])
    fabric = 'on_hand = "ledger"\nkeep_back = [10, 10]'
    _, document = both(7, piece="spare = 1", fabric=fabric, shelf=shelf_at(place))

    with Ledger(place) as ledger:
        after = ledger.use(taking_of(document))
        assert ledger.check() == ()

    assert [{cloth.across, cloth.along} for cloth in after.new] == [{Fraction(10)}]


def test_nothing_else_is_called_what_is_kept_back() -> None:
    """Tests a name by which the ledger would take pieces for what comes back to it."""
    text = TEXT.format(count=1, piece="", fabric="").replace('"pocket"', '"kept back"')

    with pytest.raises(InputError) as caught:
        parse_project(text, "spare.toml")

    assert '"kept back"' in str(caught.value)


@pytest.mark.parametrize(
    ("piece", "fabric", "sentence"),
    [
        ("spare = -1", "", 'piece "pocket": spare: -1 cannot be used here. Write a whole number from 0 to 1000.'),
        ("", 'spare = "100 %"', 'fabric "oat": spare: cannot read "100 %" as a percentage. Try 3 % or 2.5 %.'),
        (
            "",
            "spare = 3",
            'fabric "oat": spare: 3 is no percentage. Write it in quotes with its sign: "3 %".',
        ),
        (
            "",
            "keep_back = [10, 3]",
            'fabric "oat": keep_back: 3 in is less than 4 in, below which all is scrap. '
            "Keep a larger piece, or make keep in [project] smaller.",
        ),
    ],
)
def test_a_wish_without_sense_is_refused(piece: str, fabric: str, sentence: str) -> None:
    """Tests each sentence."""
    with pytest.raises(InputError) as caught:
        planned(1, piece=piece, fabric=fabric)

    assert str(caught.value) == f"spare.toml: {sentence}"


def test_a_piece_of_a_mix_has_no_spare() -> None:
    """Tests that a wish is of one fabric."""
    text = TEXT.format(count=1, piece="spare = 1", fabric="").replace('fabric = "oat"', 'fabric = "any"')
    with pytest.raises(InputError) as caught:
        parse_project(f'{text}[fabric.ink]\nwidth = 43\n[fabric.any]\nany_of = ["oat", "ink"]\n', "spare.toml")

    assert str(caught.value) == (
        'spare.toml: piece "pocket": spare: "any" is a mix. Spare pieces are of one fabric. Leave it out.'
    )


LIES: dict[str, tuple[dict[str, Any], str]] = {
    "too many placed": ({"placed": 10}, '10 spare "pocket" are placed, and 9 wished for.'),
    "fewer told": ({"placed": 4}, "the spare pieces are not those that are said to be placed."),
    "none needed": ({"needed": 10}, "10 in needed without spare pieces is below the bound, or above what all need."),
    "a step for them": ({"needed": 20, "sold_by": 10}, "more is bought for spare pieces."),
    "kept in thin air": ({"keep_back": [40, 40], "kept": True}, "nothing is left of the size that is said to be kept"),
    "a share in thin air": ({"honoured": Fraction(1, 2)}, "less is left to spare than it says."),
}


@pytest.mark.parametrize("name", LIES)
def test_the_judge_tells_lies_about_wishes(name: str) -> None:
    """Tests that one false value is told in its own words."""
    _, sound = both(7, piece="spare = 9", fabric='sold_by = "15 in"')
    document = deepcopy(sound)
    changes, fault = LIES[name]
    fabric = document["fabrics"][0]
    for key, value in changes.items():
        place = fabric["wishes"]["pieces"][0] if key == "placed" else fabric if key == "sold_by" else fabric["wishes"]
        place[key] = value

    assert any(fault in told for told in judge_plan(document))
