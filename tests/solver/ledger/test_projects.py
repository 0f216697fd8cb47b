"""Tests of projects that draw on the ledger: what they take from it, and plans of its cloth."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from ellwand.errors import InputError
from ellwand.ledger import Ledger, OwnedCloth, OwnedFabric, Selvage, Used, shelf_at, taking_of
from ellwand.ledger.nouns import Kind
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.supposing import suppose
from ellwand.project.tables import Fabric, Project, Stocked, Way
from ellwand.record import dumps, sound_document
from solver.ledger.owned import BOLT, INK, ODD, QUARTER, opened

CENTIMETRE = Fraction(50, 127)  # inches
SKY = OwnedFabric(
    name="night sky",
    fibre="cotton",
    width=Fraction(44),
    selvage=Fraction(3, 8),
    way=Way.STRIPE,
    repeat=(Fraction(0), Fraction(12)),
    shrinks=(Fraction(4, 100), Fraction(1, 100)),
    price=Fraction(10),
    priced_by="m",
    sold_by=Fraction(9),
)
TEXT = """
[project]
name = "{name}"
unit = "{unit}"
[[piece]]
name = "patch"
fabric = "ink"
cut = {cut}
count = {count}
[fabric.ink]
{fabric}
"""


def read(
    path: Path, fabric: str, unit: str = "in", cut: str = "[6, 7]", count: int = 10, name: str = "some"
) -> Project:
    """A project of patches of one fabric, drawing on the ledger at `path`."""
    text = TEXT.format(name=name, unit=unit, cut=cut, count=count, fabric=fabric)
    return parse_project(text, "some.toml", shelf_at(path))


def ink(path: Path, fabric: str, unit: str = "in") -> Fabric:
    """Its fabric."""
    return read(path, fabric, unit).fabrics["ink"]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A ledger with two fabrics, and cloth of one of them."""
    place = tmp_path / "ledger.sqlite"
    with opened(place) as ledger:
        ledger.take_in([INK, SKY], [BOLT, QUARTER, ODD])
    return place


def planned(project: Project) -> tuple[Plan, Mapping[str, Any]]:
    """A quick plan and its document, found sound."""
    plan = make_plan(project, effort=Effort.QUICK)
    return plan, json.loads(dumps(sound_document(plan)), parse_float=Fraction)


def used(path: Path, document: Mapping[str, Any]) -> Used:
    """The plan's cloth taken out of the ledger."""
    with opened(path) as ledger:
        return ledger.use(taking_of(document))


def test_a_fabric_takes_all_that_is_not_said(path: Path) -> None:
    """Tests each thing that a fabric of the ledger brings along, by another name too."""
    fabric = ink(path, 'ledger = "night sky"')

    assert (fabric.id, fabric.ledger, fabric.note) == ("ink", "night sky", "cotton")
    assert (fabric.width, fabric.selvage, fabric.way) == (SKY.width, SKY.selvage, Way.STRIPE)
    assert (fabric.repeat, fabric.shrinks, fabric.sold_by) == (SKY.repeat, SKY.shrinks, SKY.sold_by)
    assert fabric.price == Fraction(10) * Fraction(9144, 10000)  # Source: a yard is 0.9144 m exactly (NIST, SP 811)
    assert not fabric.wash


def test_what_the_table_says_goes_first(path: Path) -> None:
    """Tests each key beside a ledger that says otherwise."""
    said = 'width = 42\nselvage = 1\nway = "any"\nshrinks = ["1 %", "0 %"]\nprice = 3\nsold_by = 36\nis = "mine"'
    fabric = ink(path, f'ledger = "night sky"\nrepeat = [5, 5]\n{said}')

    assert (fabric.width, fabric.selvage, fabric.way) == (Fraction(42), Fraction(1), Way.ANY)
    assert (fabric.shrinks, fabric.price, fabric.sold_by) == (
        (Fraction(1, 100), Fraction(0)),
        Fraction(3),
        Fraction(36),
    )
    assert (fabric.note, fabric.repeat) == ("mine", (Fraction(5), Fraction(5)))


@pytest.mark.parametrize("key", ['on_hand = "ledger"', 'ledger = "ink"', 'ledger = "ink"\non_hand = "ledger"'])
def test_cloth_comes_with_its_facts(path: Path, key: str) -> None:
    """Tests a length, rectangles and an odd shape: size, washed or not, id and place."""
    bolt, quarters, odd = ink(path, key).on_hand

    assert (bolt.ledger, bolt.lot, bolt.width) == ("A1", "A7", None)
    assert bolt.full_width == 43
    assert bolt.length == 30
    assert (bolt.selvages, bolt.washed, bolt.square_up) == (2, False, Fraction(1, 2))
    assert (quarters.ledger, quarters.place, quarters.count) == ("B1", "drawer", 2)
    assert (quarters.width, quarters.length) == (Fraction(21), Fraction(18))
    assert (quarters.selvages, quarters.washed) == (0, True)
    assert (odd.ledger, odd.outline, odd.width, odd.length) == ("C1", ODD.outline, ODD.across, ODD.along)


def test_no_cloth_can_be_taken_and_none_beside_it(path: Path) -> None:
    """Tests an empty list, and one with some cloth in it."""
    assert ink(path, 'ledger = "ink"\non_hand = []').on_hand == ()
    with pytest.raises(InputError) as caught:
        ink(path, 'ledger = "ink"\non_hand = [{ length = 9 }]')

    assert str(caught.value) == (
        'some.toml: fabric "ink": on_hand: the cloth of "ink" is taken from the ledger, and some is listed here too. '
        "Enter all of it in the ledger, or leave the key ledger out."
    )


@pytest.mark.parametrize(
    ("fabric", "sentence"),
    [
        (
            'ledger = "nigt sky"',
            'fabric "ink": ledger: the ledger has no fabric "nigt sky". Did you mean "night sky"?',
        ),
        ('ledger = ""', 'fabric "ink": ledger: "" is empty. Use plain letters.'),
    ],
)
def test_a_fabric_that_is_not_there_is_named(path: Path, fabric: str, sentence: str) -> None:
    """Tests a slip of the pen, and no name at all."""
    with pytest.raises(InputError) as caught:
        ink(path, fabric)

    assert str(caught.value) == f"some.toml: {sentence}"


def test_a_missing_ledger_is_not_begun(tmp_path: Path) -> None:
    """Tests that a place without a ledger stays as it is, and an empty ledger says so."""
    nowhere = tmp_path / "none" / "ledger.sqlite"
    with pytest.raises(InputError, match="there is no ledger here"):
        ink(nowhere, 'on_hand = "ledger"')
    assert not nowhere.parent.exists()

    Ledger(tmp_path / "empty.sqlite").close()
    with pytest.raises(InputError, match=r'has no fabric "ink"\. It is empty'):
        ink(tmp_path / "empty.sqlite", 'on_hand = "ledger"')


def test_who_does_not_ask_opens_no_ledger() -> None:
    """Tests a project that lists its own cloth."""

    def never() -> Mapping[str, Stocked]:
        raise AssertionError("nobody asked")

    text = TEXT.format(name="own", unit="in", cut="[6, 7]", count=1, fabric="width = 43\non_hand = [{ length = 9 }]")

    assert parse_project(text, "own.toml", never).fabrics["ink"].ledger == ""


@pytest.mark.parametrize(
    ("cloth", "sentence"),
    [
        (replace(ODD, count=21), "21 with an outline or flaws are too many; at most 20 alike can be laid out"),
        (
            replace(BOLT, flaws=(tuple((Fraction(x), Fraction(y)) for x, y in ((0, -1), (1, 0), (0, 1))),)),
            "a flaw reaches below 0",
        ),
    ],
)
def test_cloth_that_cannot_be_laid_out_is_named(tmp_path: Path, cloth: OwnedCloth, sentence: str) -> None:
    """Tests shapes in the ledger that no layout can be made on."""
    place = tmp_path / "ledger.sqlite"
    with opened(place) as ledger:
        ledger.take_in([INK], [cloth])

    with pytest.raises(InputError) as caught:
        ink(place, 'on_hand = "ledger"')

    assert str(caught.value) == (
        f'some.toml: fabric "ink": on_hand: cloth A1 of the ledger: {sentence}. Correct it in the ledger.'
    )


def test_a_plan_of_the_ledgers_cloth_is_used_and_planned_again(path: Path) -> None:
    """Tests the whole way: plan, take the cloth out, and plan the next project from what came back."""
    plan, document = planned(read(path, 'on_hand = "ledger"\nwash = true', count=40))
    (fabric,) = document["fabrics"]
    ids = {cloth["id"]: cloth["ledger"] for cloth in fabric["cloths"]}
    after = used(path, document)

    assert fabric["ledger"] == "ink"
    assert plan.fabrics[0].needed == 0
    assert set(ids.values()) <= {"A1", "B1", "C1"}
    assert set(after.gone) | set(after.less) == set(ids.values())

    again, next_document = planned(read(path, 'on_hand = "ledger"\nwash = true', count=4, cut="[4, 4]", name="next"))
    (fabric,) = next_document["fabrics"]
    owned = [cloth.ledger for cloth in again.fabrics[0].fabric.on_hand]

    assert {cloth.id for cloth in after.new} <= set(owned)
    assert again.fabrics[0].needed == 0
    assert {cloth["ledger"] for cloth in fabric["cloths"]} <= set(owned)
    used(path, next_document)
    with opened(path) as ledger:
        assert ledger.check() == ()


def test_washed_is_a_fact_of_each_cloth_of_the_ledger(path: Path) -> None:
    """Tests that the bolt shrinks and the washed quarters do not, though they are of one fabric that will be washed."""
    _, document = planned(read(path, 'on_hand = "ledger"\nwash = true', count=40))
    cloths = {cloth["ledger"]: cloth for cloth in document["fabrics"][0]["cloths"]}

    # Source: ISO 5077, change over length before; the shares are the ledger's 3 % and 2 %
    assert (cloths["A1"]["length"], cloths["A1"]["width"]) == (Fraction("29.1"), Fraction("42.14"))
    assert (cloths["B1"]["length"], cloths["B1"]["width"], cloths["B1"]["washed"]) == (18, 21, True)


def test_unwashed_cloth_keeps_its_size_where_nobody_washes(path: Path) -> None:
    """Tests that the ledger's shrinkage counts only where the project says that its fabric is washed."""
    plan, _ = planned(read(path, 'on_hand = "ledger"', count=40))

    assert {layout.cloth.length for layout in plan.fabrics[0].layouts if layout.cloth.ledger == "A1"} == {30}


@pytest.mark.parametrize("unit", ["in", "cm"])
def test_cloth_measured_in_another_unit_can_be_used(tmp_path: Path, unit: str) -> None:
    """Tests that a plan's decimal numbers are near enough to the ledger's exact lengths to take the cloth out."""
    metric = replace(INK, width=110 * CENTIMETRE, selvage=CENTIMETRE)
    bolt = replace(BOLT, across=109 * CENTIMETRE, along=90 * CENTIMETRE)
    odd = replace(ODD, across=50 * CENTIMETRE, along=40 * CENTIMETRE)
    corners = ((0, 0), (50, 0), (50, 40), (11, 40))
    outline = tuple((x * CENTIMETRE, y * CENTIMETRE) for x, y in corners)
    place = tmp_path / "ledger.sqlite"
    with opened(place) as ledger:
        ledger.take_in([metric], [bolt, replace(odd, outline=outline)])
    cut = "[6, 7]" if unit == "in" else "[15, 18]"

    _, document = planned(read(place, 'on_hand = "ledger"\nwash = true', unit=unit, cut=cut, count=20))

    cut_into = {cloth["ledger"] for cloth in document["fabrics"][0]["cloths"]}
    after = used(place, document)
    assert cut_into == {"A1", "B1"} == {*after.gone, *after.less}


def narrow(path: Path, across: str) -> None:
    """A ledger with 43 in fabric and one length of other width."""
    bolt = replace(BOLT, across=Fraction(across), along=Fraction(40), selvages=tuple(Selvage))
    with opened(path) as ledger:
        ledger.take_in([INK], [bolt])


def test_a_narrower_length_holds_no_piece_of_the_full_width(tmp_path: Path) -> None:
    """Tests that a length half an inch narrower than its fabric is laid out at its own width."""
    place = tmp_path / "ledger.sqlite"
    narrow(place, "42.5")

    wide, _ = planned(read(place, 'on_hand = "ledger"', cut="[42, 5]", count=2))
    fits, _ = planned(read(place, 'on_hand = "ledger"', cut="[41.5, 5]", count=2))

    assert wide.fabrics[0].needed == 10
    assert fits.fabrics[0].needed == 0
    assert [(layout.cloth.across, layout.cloth.width) for layout in fits.fabrics[0].layouts] == [
        (Fraction("41.5"), Fraction("42.5"))
    ]


BOUND = """
[project]
name = "bound"
[quilt]
[[block]]
name = "middle"
finished = [30, 40]
[[block.piece]]
name = "top"
fabric = "oat"
[binding]
fabric = "ink"
[fabric.oat]
width = 43
[fabric.ink]
on_hand = "ledger"
"""


def test_joined_strips_are_cut_to_a_narrower_length(tmp_path: Path) -> None:
    """Tests that a binding comes from a length that is narrower than the fabric, when that holds all its strips."""
    place = tmp_path / "ledger.sqlite"
    narrow(place, "42.5")

    plan, _ = planned(parse_project(BOUND, "bound.toml", shelf_at(place)))
    answer = next(answer for answer in plan.fabrics if answer.fabric.id == "ink")

    assert answer.needed == 0
    assert max(placed.across for layout in answer.layouts for placed in layout.placed) == Fraction("41.5")


def test_a_project_can_suppose_other_cloth(path: Path) -> None:
    """Tests that what somebody supposes is none of the ledger's, and is not taken from it."""
    project = suppose(read(path, 'on_hand = "ledger"', count=4), ["ink = 1 yd"], "--what-if")
    _, document = planned(project)

    assert [cloth["ledger"] for cloth in document["fabrics"][0]["cloths"]] == [None]
    assert document["fabrics"][0]["ledger"] == "ink"


def test_lengths_of_a_file_have_their_own_width() -> None:
    """Tests the key for those who keep no ledger, on washed cloth and unwashed."""
    text = TEXT.format(
        name="own",
        unit="in",
        cut="[6, 7]",
        count=40,
        fabric='width = 43\nwash = true\nshrinks = ["3 %", "2 %"]\n'
        "on_hand = [{ length = 20, full_width = 42.5 }, { length = 20, full_width = 42.5, washed = true }]",
    )
    plan, _ = planned(parse_project(text, "own.toml"))
    widths = [layout.cloth.width for layout in plan.fabrics[0].layouts if layout.cloth.source.value == "on hand"]

    assert widths == [Fraction("41.65"), Fraction("42.5")]  # Source: ISO 5077; 42.5 less 2 %


def test_kinds_of_cloth_are_told_apart(path: Path) -> None:
    """Tests that only a length has a width of its own beside the fabric's."""
    with opened(path) as ledger:
        kinds = [cloth.kind for cloth in ledger.cloths()]

    assert [entry.full_width is not None for entry in ink(path, 'on_hand = "ledger"').on_hand] == [
        kind is Kind.LENGTH for kind in kinds
    ]
