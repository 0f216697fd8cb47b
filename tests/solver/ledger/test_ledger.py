"""What a ledger does with fabrics and cloths, and its history."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from ellwand.ledger import Find, Kind, Ledger, OwnedCloth, OwnedFabric, Selvage
from ellwand.ledger.ids import number_of, short_id
from ellwand.ledger.problems import DamagedLedgerError, LedgerError, NotInLedgerError
from ellwand.project.tables import Polygon, Way
from solver.ledger.owned import BOLT, INK, ODD, QUARTER, opened, stocked

FULL_FABRIC = OwnedFabric(
    name="reeds",
    fibre="linen and cotton",
    colours=("green", "ochre"),
    width=Fraction(1000, 7),
    selvage=Fraction(3, 8),
    way=Way.ONE_WAY,
    repeat=(Fraction(0), Fraction(24)),
    shrinks=(Fraction(5, 100), Fraction(1, 300)),
    price=Fraction("12.90"),
    priced_by="m",
    sold_by=Fraction(500, 127),
    picture="reeds.jpg",
)
FULL_CLOTH = replace(
    ODD,
    fabric="reeds",
    flaws=(((Fraction(1), Fraction(1, 3)), (Fraction(2), Fraction(1)), (Fraction(1), Fraction(2))),),
    count=3,
    lot="dye 12",
    selvages=(Selvage.RIGHT,),
    trimmed=True,
    place="blue box",
    since=date(2025, 2, 28),
    note="from the fair",
)


def test_all_of_a_fabric_and_a_cloth_comes_back_exactly(tmp_path: Path) -> None:
    """Every field is read as it was written, thirds and sevenths of an inch too, from the file alone."""
    with opened(tmp_path / "ledger.sqlite") as ledger:
        ledger.add_fabric(FULL_FABRIC)
        given = ledger.add_cloth(FULL_CLOTH)

    with opened(tmp_path / "ledger.sqlite") as again:
        assert again.fabrics() == (FULL_FABRIC,)
        assert again.cloths() == (replace(FULL_CLOTH, id="A1"),) == (given,)
        assert again.cloth(" a1 ") == given


def corners(*places: tuple[int, int]) -> Polygon:
    """A shape."""
    return tuple((Fraction(x), Fraction(y)) for x, y in places)


CROSSED = corners((0, 0), (20, 15), (20, 0), (0, 15))
BESIDE, ON_IT = corners((50, 1), (51, 1), (50, 2)), corners((1, 1), (2, 1), (1, 2))
NEGATIVE = (*ODD.outline[:-1], (Fraction(-1), Fraction(9))) if ODD.outline else ()


def test_every_change_is_undone_last_first(tmp_path: Path) -> None:
    """Add, edit, rename, remove, spoil and import each leave an entry, and undo takes them back one by one."""
    with opened(tmp_path / "ledger.sqlite") as ledger:
        states = [ledger.state_text()]
        changes: list[Callable[[], object]] = [
            lambda: ledger.add_fabric(INK),
            lambda: ledger.add_cloth(BOLT),
            lambda: ledger.edit_cloth("A1", replace(BOLT, along=Fraction(29))),
            lambda: ledger.edit_fabric("ink", replace(INK, name="night")),
            lambda: ledger.take_in([INK], [QUARTER, ODD]),
            lambda: ledger.spoil("a patch cut too short", cloth="b1"),
            lambda: ledger.spoil("a patch, burnt"),
            lambda: ledger.remove_cloth("A1"),
            lambda: ledger.remove_fabric("night"),
        ]
        for change in changes:
            change()
            states.append(ledger.state_text())
            assert ledger.check() == ()
        acts = [entry.act for entry in ledger.history()][::-1]

        assert acts == ["add", "add", "edit", "edit", "import", "spoil", "spoil", "remove", "remove"]
        assert ledger.cloth("B1").count == 1
        for before in states[-2::-1]:
            ledger.undo()
            assert ledger.state_text() == before
            assert ledger.check() == ()
        assert states[0] == ""
        assert all(entry.undone for entry in ledger.history())
        with pytest.raises(LedgerError, match="there is nothing to undo"):
            ledger.undo()


def test_a_renamed_fabric_keeps_its_cloths(tmp_path: Path) -> None:
    """Cloths follow their fabric's new name."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.edit_fabric("ink", replace(INK, name="night"))

        assert {cloth.fabric for cloth in ledger.cloths()} == {"night"}


def test_an_id_is_never_given_twice(tmp_path: Path) -> None:
    """Not after a removal, nor after an undo; a cloth that comes back has its own again."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        assert [cloth.id for cloth in ledger.cloths()] == ["A1", "B1", "C1"]
        ledger.remove_cloth("C1")
        assert ledger.add_cloth(ODD).id == "D1"
        ledger.undo()
        ledger.undo()
        assert [cloth.id for cloth in ledger.cloths()] == ["A1", "B1", "C1"]
        assert ledger.add_cloth(ODD).id == "E1"


def test_cloth_that_comes_in_with_an_id_keeps_it(tmp_path: Path) -> None:
    """What has none gets one that nobody has; after an undo the same sheet can be taken in again."""
    with opened(tmp_path / "ledger.sqlite") as ledger:
        for _ in range(2):
            given = ledger.take_in([INK], [BOLT, replace(BOLT, id="D2"), replace(QUARTER, id="A1"), QUARTER])
            ids = [cloth.id for cloth in given]
            assert ids[1:3] == ["D2", "A1"]
            assert len(set(ids)) == 4
            assert ledger.check() == ()
            with pytest.raises(LedgerError, match="cloth D2: the ledger has one with this id already"):
                ledger.take_in([], [BOLT, replace(BOLT, id="D2")])
            with pytest.raises(LedgerError, match=r"cloth Y9{9}: it has an id that is none of Ellwand's"):
                ledger.take_in([], [replace(BOLT, id="Y999999999")])
            assert len(ledger.cloths()) == 4
            ledger.undo()


def test_an_edit_of_what_has_changed_meanwhile_is_refused(tmp_path: Path) -> None:
    """Whoever looked at a cloth before another program cut it does not make it long again."""
    with stocked(tmp_path / "ledger.sqlite") as ledger, opened(tmp_path / "ledger.sqlite") as other:
        cloth, fabric = ledger.cloth("A1"), ledger.fabric("ink")
        other.edit_cloth("A1", replace(cloth, along=Fraction(9)), was=cloth)
        other.edit_fabric("ink", replace(fabric, price=Fraction(12)), was=fabric)

        with pytest.raises(LedgerError, match="cloth A1: it has been changed by another program meanwhile"):
            ledger.edit_cloth("A1", replace(cloth, place="drawer"), was=cloth)
        with pytest.raises(LedgerError, match='fabric "ink": it has been changed by another program meanwhile'):
            ledger.edit_fabric("ink", replace(fabric, fibre="linen"), was=fabric)

        assert ledger.cloth("A1").along == 9


def test_short_ids_are_all_different_and_cannot_be_misread() -> None:
    """A letter that is like no digit, then a number; both ways they agree."""
    ids = [short_id(number) for number in range(5000)]

    assert len(set(ids)) == 5000
    assert [number_of(short) for short in ids] == list(range(5000))
    assert not {short[0] for short in ids} & set("IOQZ0123456789")


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda ledger: ledger.add_fabric(INK), 'fabric "ink": the ledger has one of this name already.'),
        (lambda ledger: ledger.remove_fabric("ink"), 'fabric "ink": there is still cloth of it (3 in the ledger).'),
        (lambda ledger: ledger.remove_fabric("sea"), 'fabric "sea": the ledger has none of this name.'),
        (lambda ledger: ledger.cloth("K7"), "cloth K7: the ledger has none with this id."),
        (lambda ledger: ledger.remove_cloth("I1"), "cloth I1: the ledger has none with this id."),
        (lambda ledger: ledger.add_cloth(replace(BOLT, fabric="sea")), 'fabric "sea": the ledger has none of this'),
        (lambda ledger: ledger.add_cloth(replace(BOLT, count=0)), 'cloth of "ink": 0 of it are none.'),
        (lambda ledger: ledger.add_cloth(replace(BOLT, along=Fraction(0))), "its size must be more than 0."),
        (lambda ledger: ledger.add_cloth(replace(ODD, along=Fraction(9))), "its outline must reach as far"),
        (lambda ledger: ledger.add_cloth(replace(ODD, outline=None)), "an odd shape has an outline"),
        (lambda ledger: ledger.add_fabric(replace(INK, name=" ")), "fabric: it has no name."),
        (lambda ledger: ledger.add_fabric(replace(INK, name="x", selvage=Fraction(22))), "nothing between the selv"),
        (lambda ledger: ledger.edit_fabric("ink", replace(INK, sold_by=Fraction(0))), "it is sold by must be"),
        (lambda ledger: ledger.edit_cloth("A1", replace(BOLT, fabric="sea")), 'fabric "sea": the ledger has none'),
        (lambda ledger: ledger.take_in([], [BOLT, replace(BOLT, along=Fraction(-1))]), "size must be more than 0."),
        (lambda ledger: ledger.take_in([replace(INK, name="x"), INK], []), "has one of this name already."),
        (lambda ledger: ledger.spoil("a patch", cloth="a1"), "cloth A1: it is a length, and what is spoiled of it is "
         "not all of it. Shorten it with an edit."),
        (lambda ledger: ledger.add_cloth(replace(ODD, outline=NEGATIVE)), "its outline reaches below 0. Count from"),
        (lambda ledger: ledger.add_cloth(replace(BOLT, across=Fraction(60))), "it is 60 in wide, and its fabric only "
         "43 in. At most a tenth more."),
        (lambda ledger: ledger.add_cloth(replace(BOLT, across=Fraction(1))), "leaves nothing beside its selvages."),
        (lambda ledger: ledger.add_cloth(replace(ODD, outline=CROSSED)), "the edges of the outline cross or touch."),
        (lambda ledger: ledger.add_cloth(replace(BOLT, flaws=(BESIDE,))), "a flaw begins 50 in across and 1 in "
         "along, and none of it lies on the cloth."),
        (lambda ledger: ledger.add_cloth(replace(BOLT, flaws=(ON_IT,) * 51)), "51 flaws are too many. At most 50."),
        (lambda ledger: ledger.add_cloth(replace(BOLT, note="a\nb")), "its note has signs in it that cannot be seen."),
        (lambda ledger: ledger.add_cloth(replace(BOLT, place="x" * 501)), "its place is longer than 500 letters."),
        (lambda ledger: ledger.add_fabric(replace(INK, name="x" * 81)), "its name is longer than 80 letters."),
        (lambda ledger: ledger.add_fabric(replace(INK, name="x", fibre=" rayon")), "its fibre starts or ends with"),
        (lambda ledger: ledger.edit_fabric("ink", replace(INK, width=Fraction(30))), "cloth A1: it is 43 in wide, and "
         "its fabric only 30 in."),
    ],
)  # fmt: skip
def test_what_has_no_sense_is_refused_whole(tmp_path: Path, change: Callable[[Ledger], object], told: str) -> None:
    """A sentence, and neither the cloth nor the history has changed."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        before = ledger.state_text(), ledger.history()

        with pytest.raises(LedgerError) as caught:
            change(ledger)

        assert told in str(caught.value)
        assert (ledger.state_text(), ledger.history()) == before


def test_the_deep_check_finds_what_was_changed_behind_its_back(tmp_path: Path) -> None:
    """A row that was changed without the history, or holds no cloth, is told; and undo does not build on it."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.db.execute("UPDATE cloth SET along = '-4' WHERE id = 'A1'")

        assert ledger.check() == (
            "The rows of cloth are not what the history makes them.",
            "cloth A1: its size must be more than 0.",
        )
        before = ledger.state_text()
        with pytest.raises(LedgerError, match="does not fit what is in the ledger"):
            ledger.undo()
        assert ledger.state_text() == before
        ledger.db.execute("UPDATE cloth SET along = '30', id = 'I9' WHERE id = 'A1'")
        assert "Cloth I9 has an id that was not given." in ledger.check()


DAMAGE: list[tuple[str, Callable[[Ledger], object], str]] = [
    ("UPDATE cloth SET along = '1/0' WHERE id = 'A1'", Ledger.cloths,
     'cloth A1: its row cannot be read ("1/0" is no number).'),
    ("UPDATE cloth SET along = 'rubbish' WHERE id = 'A1'", lambda ledger: ledger.remove_cloth("A1"),
     'cloth A1: its row cannot be read ("rubbish" is no number).'),
    ("UPDATE cloth SET outline = '{' WHERE id = 'C1'", lambda ledger: ledger.cloth("C1"),
     "cloth C1: its row cannot be read (Expecting"),
    ("UPDATE cloth SET flaws = '[[3]]' WHERE id = 'C1'", lambda ledger: ledger.cloth("C1"),
     "cloth C1: its row cannot be read ("),
    ("UPDATE cloth SET kind = 'sail', since = 'once' WHERE id = 'C1'", Ledger.cloths,
     "cloth C1: its row cannot be read ('sail' is not a valid Kind)."),
    ("UPDATE fabric SET width = ''", Ledger.fabrics, 'fabric "ink": its row cannot be read ("" is no number).'),
    ("UPDATE change SET after = '{]' WHERE step = 2", Ledger.undo,
     "entry 1 of the history: what it changed of a cloth cannot be read."),
    ("UPDATE change SET after = '7' WHERE step = 0", Ledger.undo,
     "entry 1 of the history: what it changed of a fabric cannot be read."),
    ("UPDATE change SET after = '{\"along\": \"3\"}' WHERE step = 3", Ledger.undo,
     "entry 1 of the history: what it changed of a cloth cannot be read."),
    ("UPDATE history SET at = 'some day'", Ledger.history, "entry 1 of the history: its row cannot be read (Invalid"),
    ("DELETE FROM ids", lambda ledger: ledger.add_cloth(BOLT), "ledger: it has forgotten how many ids were given."),
]  # fmt: skip


@pytest.mark.parametrize(("damage", "act", "told"), DAMAGE)
def test_a_damaged_row_is_told_in_a_sentence(
    tmp_path: Path, damage: str, act: Callable[[Ledger], object], told: str
) -> None:
    """By what reads it, and by the deep check, which goes on to the other rows; nothing is changed."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.db.execute(damage)
        before = ledger.state_text()

        with pytest.raises(DamagedLedgerError) as caught:
            act(ledger)

        assert str(caught.value).startswith(told)
        assert ledger.state_text() == before
        ledger.db.execute("UPDATE cloth SET id = 'I9' WHERE id = 'B1'")
        faults = ledger.check()
        assert "Cloth I9 has an id that was not given." in faults
        assert any(fault.startswith(told) or "ids were given is forgotten" in fault for fault in faults)


# finding


def found(ledger: Ledger, **find: object) -> list[str]:
    """Ids of what is found."""
    return [cloth.id for cloth in ledger.cloths(Find(**find))]  # type: ignore[arg-type]


def test_cloth_is_found_by_fabric_colour_and_size(tmp_path: Path) -> None:
    """Each filter leaves what fits it, and all of them together what fits all."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.add_fabric(replace(INK, name="sand", colours=("ochre",)))
        ledger.add_cloth(replace(QUARTER, fabric="sand"))

        assert found(ledger) == ["A1", "B1", "C1", "D1"]
        assert found(ledger, fabric="sand") == ["D1"]
        assert found(ledger, colour="Blue") == ["A1", "B1", "C1"]
        assert found(ledger, colour="blu") == []
        assert found(ledger, colour="dark blue") == ["A1", "B1", "C1"]
        assert found(ledger, colour="light blue") == []
        assert found(ledger, at_least=(Fraction(18), Fraction(21))) == ["A1", "B1", "D1"]
        assert found(ledger, at_least=(Fraction(21), Fraction(18)), fabric="sand") == ["D1"]
        assert found(ledger, at_least=(Fraction(42), Fraction(30))) == ["A1"]
        assert found(ledger, at_least=(Fraction(43), Fraction(30))) == []  # its selvages are in the way


@pytest.mark.parametrize(
    ("size", "fits"),
    [((20, 9), True), ((9, 20), True), ((12, 15), True), ((15, 12), True), ((13, 15), False), ((20, 10), False)],
)
def test_a_rectangle_must_fit_inside_an_outline(tmp_path: Path, size: tuple[int, int], fits: bool) -> None:
    """The odd shape is 20 × 15 with a corner cut off from (0, 9) to (8, 15): 12 are left at the top (derived)."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        at_least = (Fraction(size[0]), Fraction(size[1]))

        assert ("C1" in found(ledger, at_least=at_least)) == fits


def test_an_odd_cloth_does_not_lose_its_selvages_twice(tmp_path: Path) -> None:
    """Its outline leaves them outside, so all of its 20 × 9 beside the cut corner is there (derived)."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.edit_cloth("C1", replace(ODD, selvages=tuple(Selvage), trimmed=False))

        assert ledger.cloth("C1").selvages_to_lose == 0
        assert "C1" in found(ledger, at_least=(Fraction(20), Fraction(9)))


@pytest.mark.parametrize("way", [Way.ONE_WAY, Way.STRIPE])
def test_a_rectangle_is_not_turned_on_a_print_with_a_way(tmp_path: Path, way: Way) -> None:
    """The fat quarters are 21 across and 18 along."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.edit_fabric("ink", replace(INK, way=way))

        assert "B1" in found(ledger, at_least=(Fraction(21), Fraction(18)))
        assert "B1" not in found(ledger, at_least=(Fraction(18), Fraction(21)))


def test_a_rectangle_must_lie_clear_of_flaws(tmp_path: Path) -> None:
    """A stain across the middle leaves what is on either side of it."""
    stain = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 8), (21, 8), (21, 9), (0, 9)))
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.edit_cloth("B1", replace(QUARTER, flaws=(stain,)))

        assert "B1" in found(ledger, at_least=(Fraction(9), Fraction(21)))
        assert "B1" not in found(ledger, at_least=(Fraction(19, 2), Fraction(10)))


def test_twenty_thousand_cloths_go_in_and_are_found(tmp_path: Path) -> None:
    """A large import is one entry, listed by size and fabric, and undone at once."""
    fabrics = [replace(INK, name=f"fabric {number}") for number in range(20)]
    cloths = [
        OwnedCloth(
            fabric=f"fabric {number % 20}",
            kind=Kind.RECTANGLE,
            across=Fraction(5 + number % 40),
            along=Fraction(8 + number % 33, 3),
        )
        for number in range(20_000)
    ]
    with opened(tmp_path / "ledger.sqlite") as ledger:
        given = ledger.take_in(fabrics, cloths)

        assert len({cloth.id for cloth in given}) == len(ledger.cloths()) == 20_000
        large = ledger.cloths(Find(fabric="fabric 3", at_least=(Fraction(20), Fraction(10))))
        wide = [cloth for cloth in given if cloth.fabric == "fabric 3"]
        assert list(large) == [
            cloth for cloth in wide if max(cloth.across, cloth.along) >= 20 and min(cloth.across, cloth.along) >= 10
        ]
        assert large
        assert ledger.check() == ()
        ledger.undo()
        assert ledger.state_text() == ""


def test_what_is_asked_for_in_vain_says_so(tmp_path: Path) -> None:
    """A fabric that is not there is told by name."""
    with stocked(tmp_path / "ledger.sqlite") as ledger, pytest.raises(NotInLedgerError, match='fabric "sea"'):
        ledger.fabric("sea")
