"""Which fabric of a mix gives what: least is bought, whatever else is there, and it is said how sure that is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import product
from math import ceil

import pytest

from ellwand.costs import Mixture, add_mixed
from ellwand.errors import InputError, NoPlanError
from ellwand.fit import fit_border
from ellwand.mixing import settle
from ellwand.model import Piece, Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.vary import border_key, parse_varied
from ellwand.record import plan_document, sound_document

# Squares of 10 in, four side by side on cloth of 40 in, sold row by row: everything can be counted by hand.
HEAD = """
[project]
name = "Squares"
"""
PIECE = """
[[piece]]
name = "{name}"
fabric = "{fabric}"
cut = [10, 10]
count = {count}
"""
FABRIC = """
[fabric.{name}]
width = 40
selvage = 0
square_up = 0
sold_by = 10
{more}
"""
MIX = """
[fabric.dark]
any_of = ["ink", "navy", "slate"]
"""
NAMES = ("ink", "navy", "slate")
NONE: Mapping[str, int] = {}
PRICES = {"ink": 9, "navy": 7, "slate": 8}


def squares(count: int, own: Mapping[str, int], hand: Mapping[str, int], price: Mapping[str, int] | None = None) -> str:
    """A project: so many squares of the mix, some of each fabric itself, rows on hand, and prices of a yard."""
    text = HEAD + PIECE.format(name="patch", fabric="dark", count=count)
    text += "".join(PIECE.format(name=f"own {name}", fabric=name, count=own[name]) for name in NAMES if own.get(name))
    for name in NAMES:
        cloth = f"on_hand = [{{ length = {10 * hand[name]}, square_up = 0 }}]" if hand.get(name) else ""
        cost = f"price = {price[name]}" if price else ""
        text += FABRIC.format(name=name, more=f"{cloth}\n{cost}")
    return text + MIX


def planned(text: str, *, as_new: bool = False) -> Plan:
    """The plan of a project file, looked at quickly."""
    return make_plan(parse_project(text, "mix.toml"), effort=Effort.QUICK, as_new=as_new)


def pieces_of(plan: Plan) -> list[Piece]:
    """All pieces of a plan."""
    return [piece for answer in plan.fabrics for piece in answer.pieces]


def given(plan: Plan) -> dict[str, int]:
    """How much each fabric gives of what is called ``patch``."""
    return {piece.fabric: piece.count for piece in pieces_of(plan) if piece.id.startswith("patch")}


def mixture_of(plan: Plan) -> Mixture:
    """What is told of the mixes of a plan that has some."""
    mixture = add_mixed(plan)
    assert mixture is not None
    return mixture


def divisions(count: int) -> Iterator[tuple[int, ...]]:
    """Every way to give so many squares to three fabrics."""
    return (each for each in product(range(count + 1), repeat=3) if sum(each) == count)


CASES = [
    (9, NONE, {"ink": 1, "navy": 1}, None),
    (9, NONE, {"ink": 2, "navy": 1}, None),
    (7, {"ink": 2, "navy": 3}, NONE, None),
    (7, {"ink": 2, "navy": 3, "slate": 1}, {"slate": 1}, None),
    (13, {"navy": 6}, {"navy": 1, "slate": 1}, None),
    (6, NONE, NONE, PRICES),
    (6, {"ink": 3}, NONE, PRICES),
    (11, {"ink": 3, "slate": 1}, {"slate": 1}, {"ink": 9, "navy": 7, "slate": 2}),
]


@pytest.mark.parametrize(("count", "own", "hand", "price"), CASES)
def test_no_division_lets_less_be_bought(
    count: int, own: Mapping[str, int], hand: Mapping[str, int], price: Mapping[str, int] | None
) -> None:
    """All divisions are counted by hand (derived): rows of four, those on hand off, at their price."""
    worth = price or dict.fromkeys(NAMES, 36)

    def paid(name: str, number: int) -> Fraction:
        rows = max(0, ceil((number + own.get(name, 0)) / 4) - hand.get(name, 0))
        return rows * 10 * Fraction(worth[name], 36)

    least = min(sum((paid(*one) for one in zip(NAMES, each, strict=True)), Fraction(0)) for each in divisions(count))
    plan = planned(squares(count, own, hand, price))

    assert mixture_of(plan).bought == least
    assert mixture_of(plan).least <= least
    assert sum(given(plan).values()) == count
    assert sound_document(plan)["mixed"]["proven"] == mixture_of(plan).proven


def test_cloth_on_hand_is_used_before_any_is_bought() -> None:
    """A row of each is on hand: they take eight squares, nothing is bought, and no other division does better."""
    plan = planned(squares(8, NONE, {"ink": 1, "slate": 1}))

    assert given(plan) == {"ink": 4, "slate": 4}
    assert [piece.id for piece in pieces_of(plan)] == ["patch/ink", "patch/slate"]
    assert [answer.steps for answer in plan.fabrics] == [0, 0]
    assert mixture_of(plan).proven


def test_what_one_fabric_can_give_is_not_divided() -> None:
    """Nothing is bought either way, so all comes from the fabric that holds it all, under the name it has."""
    plan = planned(squares(6, NONE, {"ink": 1, "navy": 2}))

    assert [(piece.id, piece.fabric) for piece in pieces_of(plan)] == [("patch", "navy")]


def test_as_new_leaves_the_cloth_on_hand_out() -> None:
    """A printed pattern buys it all of the fabric that stands first, where none is cheaper."""
    plan = planned(squares(6, NONE, {"navy": 2}), as_new=True)

    assert given(plan) == {"ink": 6}
    assert plan.fabrics[0].bought == 20


def test_of_fabrics_with_prices_the_cheaper_is_bought() -> None:
    """The price counts, not the place in the mix; proven, since two rows of any are the least."""
    plan = planned(squares(6, NONE, NONE, PRICES))

    assert given(plan) == {"navy": 6}


def test_a_fabric_that_is_not_to_be_had_gives_what_there_is() -> None:
    """Of ink there is a row and no more; the rest is bought of another."""
    plan = planned(squares(6, NONE, {"ink": 1}).replace("square_up = 0 }]", "square_up = 0 }]\nbuy = false"))

    assert given(plan) == {"ink": 4, "navy": 2}
    assert all(answer.enough for answer in plan.fabrics)


def test_where_none_is_to_be_had_the_least_is_missing() -> None:
    """Two rows are on hand for nine squares: a row is missing, and nothing is claimed of other divisions."""
    plan = planned(squares(9, NONE, {"ink": 1, "navy": 1}).replace("sold_by = 10", "sold_by = 10\nbuy = false"))

    assert sum(answer.needed for answer in plan.fabrics) == 10
    assert not mixture_of(plan).proven


def test_a_fabric_too_narrow_for_a_piece_does_not_give_it() -> None:
    """A square of 10 in does not go on ink of 9 in, so navy gives it, though ink stands first."""
    text = squares(6, NONE, NONE).replace("[fabric.ink]\nwidth = 40", "[fabric.ink]\nwidth = 9")

    assert given(planned(text)) == {"navy": 6}


def test_a_fabric_whose_bolts_are_too_short_for_a_piece_does_not_give_it() -> None:
    """Tests that a piece of 10 by 45 in comes from the one fabric that is had in longer lengths than a yard."""
    text = HEAD + PIECE.format(name="patch", fabric="dark", count=1).replace("[10, 10]", "[45, 10]")
    text += "".join(FABRIC.format(name=name, more="" if name == "navy" else 'bolt = "1 yd"') for name in NAMES) + MIX

    assert given(planned(text)) == {"navy": 1}


def test_a_piece_too_wide_for_every_fabric_is_refused() -> None:
    """With the sentence that a single fabric would get."""
    with pytest.raises(NoPlanError) as caught:
        planned(squares(6, NONE, NONE).replace("width = 40", "width = 9"))

    sentence = "mix.toml: patch: is cut 10 in wide, and ink can be used for 9 in. 1 in missing."
    assert str(caught.value).startswith(sentence)


def test_pieces_hang_on_a_one_way_print_and_may_turn_on_another() -> None:
    """Four of five strips of 40 × 10 hang on what there is of a one-way print; the fifth may turn on navy."""
    text = squares(5, NONE, {"ink": 4}).replace("cut = [10, 10]", "cut = [40, 10]")
    text = text.replace("square_up = 0 }]", "square_up = 0 }]\nbuy = false")

    pieces = pieces_of(planned(text.replace("[fabric.ink]", '[fabric.ink]\nway = "one-way"')))

    assert {(piece.fabric, piece.count, piece.turnable) for piece in pieces} == {("ink", 4, False), ("navy", 1, True)}


QUILT = """
[project]
name = "Whole"
[quilt]
across = 4
down = 1
[[block]]
name = "tail"
finished = [9.5, 9.5]
[[block.piece]]
name = "ground"
fabric = "dark"
[[block.piece]]
name = "wing"
fabric = "dark"
patch = "square"
finished = [9.5, 9.5]
"""
ROWS = "".join(FABRIC.format(name=name, more="on_hand = [{ length = 10, square_up = 0 }]") for name in NAMES)


def test_whole_blocks_come_from_one_fabric_each() -> None:
    """A row of four squares of each fabric is on hand: both squares of a block lie on the same."""
    plan = planned(QUILT + ROWS + MIX + "whole_blocks = true\n")
    counts = Counter({piece.id: piece.count for piece in pieces_of(plan)})

    assert counts == {f"tail/{name}/{part}": 2 for name in ("ink", "navy") for part in ("ground", "wing")}
    assert mixture_of(plan).bought == 0
    assert sound_document(plan)["mixed"]["mixes"][0]["whole_blocks"]


def test_a_binding_comes_from_one_fabric() -> None:
    """However little is on hand of each, its strips are all alike."""
    plan = planned(QUILT + '[binding]\nfabric = "dark"\n' + ROWS + MIX)

    assert len({piece.fabric for piece in pieces_of(plan) if piece.id.startswith("binding")}) == 1
    assert len({piece.fabric for piece in pieces_of(plan)}) > 1


def test_each_copy_takes_the_same() -> None:
    """Shares are of one copy: the pieces of all are so many times as many."""
    text = squares(3, NONE, {"ink": 1}).replace('name = "Squares"', 'name = "Squares"\ncopies = 4')

    plan = planned(text)
    shares = {one["fabric"]: one["count"] for one in sound_document(plan)["mixed"]["mixes"][0]["taken"]}

    assert given(plan) == {name: 4 * count for name, count in shares.items()}
    assert mixture_of(plan).bought == 20


def test_a_project_without_mixes_stays_as_it_is() -> None:
    """Nothing is there to settle, and the plan says nothing of mixes."""
    project = parse_project(squares(3, NONE, NONE).replace('fabric = "dark"', 'fabric = "ink"'), "mix.toml")

    assert settle(project, as_new=False, effort=Effort.QUICK, memory={}) is project
    assert "mixed" not in plan_document(make_plan(project, effort=Effort.QUICK))


def test_an_unused_mix_and_its_fabrics_are_told() -> None:
    """Nobody asks for them; a fabric of a mix that is used is not told, though another gave it all."""
    text = squares(3, NONE, NONE)

    assert planned(text).warnings == ()
    assert planned(text.replace('fabric = "dark"', 'fabric = "ink"')).warnings == (
        "fabric navy is used by nothing.",
        "fabric slate is used by nothing.",
        "fabric dark is used by nothing.",
    )


def test_fit_asks_for_one_fabric() -> None:
    """A question about each fabric by itself is refused with the way out."""
    border = '[[border]]\nname = "outer"\nwidth = 2\nfabric = "ink"\n'

    with pytest.raises(InputError) as caught:
        fit_border(parse_varied(QUILT + border + ROWS + MIX, "mix.toml", border_key("outer")), stated={})

    assert str(caught.value) == (
        'mix.toml: fabric "dark": any_of: fit asks about each fabric by itself, and cannot while a piece may be of '
        "several. Let ellwand plan choose, and write the fabrics that it took instead of the mix."
    )


def test_shares_stand_in_the_order_of_the_mix() -> None:
    """The file's order is that of its any_of, whatever was found first; a divided patch still fills its block."""
    text = QUILT.replace('[[block.piece]]\nname = "ground"\nfabric = "dark"\n', "")
    rows = ROWS.replace("length = 10", "length = 20, width = 10", 1).replace("length = 10,", "length = 10, width = 10,")
    plan = planned(text + rows + MIX)

    assert [(one.fabric, one.count) for one in mixture_of(plan).mixing.mixes[0].taken] == [
        ("ink", 2),
        ("navy", 1),
        ("slate", 1),
    ]
    assert [piece.where for piece in pieces_of(plan)] == [
        f"4 tail blocks, {given} of the 4 cut for all of these" for given in (2, 1, 1)
    ]
    assert plan.warnings == ()
