"""A fabric whose pieces all come from one cloth or one dye lot: whether one on hand holds them, and nothing mixed."""

from __future__ import annotations

from itertools import product
from math import ceil

import pytest

from ellwand.cloths import single_sources
from ellwand.errors import InputError
from ellwand.model import FabricPlan, Source
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import plan_document, sound_document
from ellwand.verdict import judge_plan

# Squares of 10 in, four side by side on cloth of 40 in, sold row by row: everything can be counted by hand.
FILE = """
[project]
name = "Squares"
[[piece]]
name = "patch"
fabric = "ink"
cut = [10, 10]
count = {count}
[fabric.ink]
width = 40
selvage = 0
square_up = 0
sold_by = 10
same_cloth = true
on_hand = [{cloths}]
"""


def squares(count: int, *cloths: tuple[int, str]) -> str:
    """So many squares, and lengths on hand of so many rows, each of a lot or of none."""
    lots = (f"{{ length = {10 * rows}, square_up = 0{f', lot = {lot!r}' if lot else ''} }}" for rows, lot in cloths)
    return FILE.format(count=count, cloths=", ".join(lots))


def planned(text: str, *, effort: Effort = Effort.QUICK, as_new: bool = False) -> FabricPlan:
    """The plan of ink, in a document that the judge finds sound."""
    plan = make_plan(parse_project(text, "lots.toml"), effort=effort, as_new=as_new)
    assert sound_document(plan)["fabrics"][0]["same_cloth"]
    return plan.fabrics[0]


def used(answer: FabricPlan) -> list[str]:
    """The cloths that are cut into."""
    return [layout.cloth.id for layout in answer.layouts]


LOTS = ("", "A", "B")


@pytest.mark.parametrize("lots", list(product(LOTS, repeat=3)), ids="/".join)
@pytest.mark.parametrize("count", [4, 11, 13, 17])
def test_one_source_or_new_cloth(count: int, lots: tuple[str, ...]) -> None:
    """Counted by hand (derived): lengths of one, two and two rows; a lot's rows together, a cloth of none alone."""
    cloths = tuple(zip((1, 2, 2), lots, strict=True))
    together = [sum(rows for rows, of in cloths if of == lot) for lot in LOTS if lot]
    most = max([*together, *(rows for rows, lot in cloths if not lot)])

    answer = planned(squares(count, *cloths))

    assert answer.needed == (0 if 4 * most >= count else 10 * ceil(count / 4))
    assert answer.proven
    assert len({lots[int(id[4:]) - 1] for id in used(answer)}) == 1 if answer.needed == 0 else used(answer) == ["ink 4"]


def test_never_a_mixture() -> None:
    """Three rows on hand in two lengths of no lot hold twelve squares, and yet three rows are bought for nine."""
    answer = planned(squares(9, (2, ""), (1, "")))

    assert [layout.cloth.source for layout in answer.layouts] == [Source.BUY]
    assert answer.needed == answer.bought == 30
    assert planned(squares(8, (2, ""), (1, ""))).needed == 0


def test_without_it_the_cloths_are_used_together() -> None:
    """The same with the key left out: nothing is bought."""
    project = parse_project(squares(9, (2, ""), (1, "")).replace("same_cloth = true\n", ""), "lots.toml")

    assert make_plan(project, effort=Effort.QUICK).fabrics[0].needed == 0


def test_the_smallest_source_that_does_is_taken() -> None:
    """Larger ones stay whole for later; what is left speaks of the source alone."""
    answer = planned(squares(6, (5, ""), (2, "A"), (3, "")))

    assert used(answer) == ["ink 2"]
    assert answer.left == ()


def test_of_cloths_alike_one_is_looked_at() -> None:
    """Twenty fat quarters are one source, a lot of theirs another."""
    cloths = '{ length = 18, width = 21, count = 20 }, { length = 9, width = 9, lot = "A", count = 3 }'
    project = parse_project(squares(3).replace("on_hand = []", f"on_hand = [{cloths}]"), "lots.toml")

    assert [source.only for source in single_sources(project.fabrics["ink"], project.ruler)] == [
        (21, 22, 23),
        (1,),
    ]


def test_as_new_asks_for_one_length() -> None:
    """Nothing on hand is looked at."""
    answer = planned(squares(4, (2, "A")), as_new=True)

    assert used(answer) == ["ink 2"]
    assert answer.bought == 10


def test_a_fabric_that_is_not_to_be_had_is_short_of_all() -> None:
    """No length holds all nine, and none may be bought: the missing cloth would hold them all."""
    answer = planned(squares(9, (2, ""), (2, "")).replace("same_cloth", "buy = false\nsame_cloth"))

    assert not answer.enough
    assert answer.missing is not None
    assert len(answer.missing.placed) == 9


def test_every_effort_holds_to_it() -> None:
    """A binding that may be joined from anything fits one length, and only there."""
    quilt = '[quilt]\nacross = 1\ndown = 1\n[[block]]\nname = "b"\nfinished = [20, 20]\n[binding]\nfabric = "ink"\n'
    text = squares(2, (2, ""), (1, "A")).replace("[fabric.ink]", quilt + 'grain = "any"\n[fabric.ink]')

    answer = planned(text, effort=Effort.PROOF)

    assert answer.needed == 0
    assert used(answer) == ["ink 1"]


def test_a_lot_is_a_short_text() -> None:
    """A number is none."""
    with pytest.raises(InputError) as caught:
        parse_project(squares(2, (2, "A")).replace("'A'", "7"), "lots.toml")

    assert str(caught.value) == (
        'lots.toml: fabric "ink": on_hand 1: lot: 7 is no text. Write text in quotes: "a name".'
    )


def test_a_plan_that_mixes_lots_is_told() -> None:
    """The judge reads the lots of the cloths that are cut into."""
    document = plan_document(make_plan(parse_project(squares(7, (1, "A"), (1, "A")), "lots.toml"), effort=Effort.QUICK))
    told = 'Fabric "ink": its pieces come neither from one cloth nor from one dye lot.'

    assert judge_plan(document) == ()
    document["fabrics"][0]["cloths"][0]["lot"] = "B"
    assert told in judge_plan(document)
    document["fabrics"][0]["cloths"][0]["lot"] = document["fabrics"][0]["cloths"][1]["lot"] = None
    assert told in judge_plan(document)
