"""A plan as a document: every number exact, and no document of an unsound plan."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from ellwand.lengths import Notation, unit_length
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out
from ellwand.record import (
    UnsoundPlanError,
    dumps,
    near_number,
    pieces_document,
    plan_document,
    sound_document,
)
from ellwand.verdict import judge_plan

CM = unit_length("cm")

# Patches with millimetres in them, from a bolt and a rectangle that are still to be washed; invented.
METRIC = """
[project]
name = "patches"
unit = "cm"
[[piece]]
name = "patch"
fabric = "oat"
cut = [10.1, 20.3]
count = 35
grain = "lengthwise"
[fabric.oat]
width = 109.3
selvage = 0.7
wash = true
shrinks = ["3 %", "2 %"]
price = 12.9
on_hand = [ { length = 33.3, width = 54.7, selvages = 1, washed = false } ]
"""

# The same idea in inches, with a metric shop; invented.
ABROAD = """
[project]
name = "patches"
[[piece]]
name = "patch"
fabric = "oat"
cut = ["3 3/8", "5 1/8"]
count = 70
[fabric.oat]
width = 43
wash = true
shrinks = ["3 %", "2 %"]
sold_by = "10 cm"
price = 12.9
on_hand = [ { length = "12 1/8 in" } ]
"""

LOOSE = """
[project]
name = "loose"
stages = "any"
[[piece]]
name = "patch"
fabric = "oat"
cut = [5, 60]
[fabric.oat]
width = 43
"""


# A pieced block and a hooped one, measured a little wide; invented.
SQUARES = """
[project]
name = "squares"
[quilt]
across = 2
down = 1
measured = ["12 1/8", 6]
[[block]]
name = "plain"
count = 1
finished = [6, 6]
[[block.piece]]
name = "hill"
fabric = "oat"
patch = "half-square"
finished = [3, 3]
count = 4
[[block.piece]]
name = "field"
fabric = "oat"
patch = "square"
finished = [3, 3]
count = 2
[[block]]
name = "kite"
count = 1
finished = [6, 6]
hoop = [7, 7]
[[block.piece]]
name = "ground"
fabric = "oat"
[fabric.oat]
width = 43
"""


def planned(text: str) -> Plan:
    """The quick plan of a text."""
    return make_plan(parse_project(text, "some.toml"), effort=Effort.QUICK)


def read_back(document: dict[str, Any]) -> Any:
    """A document written as text and read with exact numbers."""
    return json.loads(dumps(document), parse_float=Fraction)


def moved(plan: Plan, change: dict[str, Any]) -> Plan:
    """The plan with its first placed piece tampered with."""
    (answer,) = plan.fabrics
    first, *others = answer.layouts
    placed = (replace(first.placed[0], **change), *first.placed[1:])
    return replace(plan, fabrics=(replace(answer, layouts=(replace(first, placed=placed), *others)),))


# exact numbers


@pytest.mark.parametrize("text", [METRIC, ABROAD], ids=["cm", "in"])
def test_every_number_is_read_back_as_it_was(text: str) -> None:
    """Lengths of each cloth, piece, cut and offcut, in the unit, without the least error."""
    plan = planned(text)
    unit = unit_length(plan.project.unit)
    (answer,), (told,) = plan.fabrics, read_back(plan_document(plan))["fabrics"]

    assert told["needed"] * unit == answer.needed > 0
    assert told["bound"] * unit == answer.bound
    assert told["bought"] * unit == answer.bought
    assert told["usable_width"] * unit == answer.usable_width
    assert len(told["cloths"]) == len(answer.layouts) == 2
    for cloth, layout in zip(told["cloths"], answer.layouts, strict=True):
        for key in ("across", "along", "width", "length", "squaring"):
            assert cloth[key] * unit == getattr(layout.cloth, key)
        assert cloth["used"] * unit == layout.used
        for key in ("x", "y", "across", "along"):
            assert [item[key] * unit for item in cloth["placed"]] == [getattr(item, key) for item in layout.placed]
            assert [item[key] * unit for item in cloth["offcuts"]] == [getattr(item, key) for item in layout.offcuts]
        assert [cut["at"] * unit for cut in cloth["cuts"]] == [cut.at for cut in layout.cuts]
        assert [tuple(end * unit for end in cut["from"]) for cut in cloth["cuts"]] == [
            (cut.start, cut.end) for cut in layout.cuts
        ]


@pytest.mark.parametrize("text", [METRIC, ABROAD], ids=["cm", "in"])
def test_areas_of_washed_cloth_are_exact_and_add_up(text: str) -> None:
    """3 % and 2 % of odd sizes give many places, and none of them is lost."""
    plan = planned(text)
    square = unit_length(plan.project.unit) ** 2
    (answer,), (told,) = plan.fabrics, read_back(plan_document(plan))["fabrics"]

    assert {name: area * square for name, area in told["area"].items()} == {
        name: getattr(answer.area, name) for name in told["area"]
    }
    assert sum(told["area"].values()) == told["taken"]
    assert told["taken"] * square == answer.area.taken


def test_tenths_stand_as_they_are_written() -> None:
    """10.1 cm is 10.1 in the text, not a float's neighbour of it, and 2 % of 109.3 leaves 107.114 to the last place."""
    text = dumps(plan_document(planned(METRIC)))

    assert '"across": 10.1,' in text
    assert '"along": 20.3,' in text
    assert '"width": 107.114,' in text
    assert '"usable_width": 105.7,' in text
    assert "00000000" not in text
    assert "99999999" not in text


def test_metric_figures_by_hand() -> None:
    """5 patches fit in the rectangle, 30 in three rows of 10 on the bolt: 60.9 cm, 7 steps."""
    (told,) = read_back(plan_document(planned(METRIC)))["fabrics"]

    # The rectangle: 54.7 × 0.98 - 0.7 = 52.906 across; 33.3 × 0.97 = 32.301 along; in whole millimetres 52.9 × 32.3.
    assert [(cloth["across"], cloth["along"]) for cloth in told["cloths"]] == [
        (Fraction("52.9"), Fraction("32.3")),
        (Fraction("105.7"), Fraction("60.9")),
    ]
    assert told["needed"] == Fraction("60.9")
    # (60.9 + 1) / 0.97 = 63.8…; 70 cm are bought, 67.9 × 107.114 when washed.
    assert (told["steps"], told["bought"], told["cost"]) == (7, 70, Fraction("9.03"))
    bolt, rectangle = Fraction("67.9") * Fraction("107.114"), Fraction("32.301") * Fraction("53.606")
    assert told["taken"] == bolt + rectangle
    before = 70 * Fraction("109.3") + Fraction("33.3") * Fraction("54.7")
    assert told["shrinkage"] == round(before - bolt - rectangle, 2)
    assert told["shrinks"] == [Fraction("0.03"), Fraction("0.02")]
    # As they are on hand and in the shop, before washing; the cloths' own sizes are the washed ones.
    assert [cloth["measured"] for cloth in told["cloths"]] == [
        [Fraction("54.7"), Fraction("33.3")],
        [Fraction("109.3"), 70],
    ]


def test_a_shop_step_in_a_foreign_unit() -> None:
    """10 cm do not end as inches: the step is told near, up at the ninth place; what is bought is down on the ruler."""
    plan = planned(ABROAD)
    (told,) = read_back(sound_document(plan))["fabrics"]

    assert told["sold_by"] == Fraction("3.937007875")
    exact = told["steps"] * 10 / Fraction("2.54")
    assert told["bought"] == exact * 8 // 1 / 8
    assert told["bought"] >= (told["needed"] + told["squaring"]) / Fraction("0.97")
    # Prices are for a yard of 91.44 cm.
    assert told["cost"] == round(Fraction("12.9") * told["steps"] * 10 / Fraction("91.44"), 2)


@pytest.mark.parametrize(
    ("unit", "length", "number"),
    [
        ("in", Fraction(17, 8), "2.125"),
        ("in", Fraction(1, 3), "0.333333334"),
        ("in", unit_length("mm"), "0.039370079"),
        ("cm", unit_length("mm"), "0.1"),
        ("cm", Fraction(1, 8), "0.3175"),
        ("cm", Fraction(1, 3), "0.846666667"),
        ("in", Fraction(0), "0"),
    ],
)
def test_a_near_number_is_never_less(unit: str, length: Fraction, number: str) -> None:
    """Exact where the decimal ends, else up at the ninth place."""
    near = near_number(Notation(unit), length)

    assert near == Decimal(number)
    assert Fraction(near) * unit_length(unit) >= length


def test_text_keeps_every_place_and_every_letter() -> None:
    """Decimals beyond a float's reach and letters beyond ASCII are written as they are; the text ends its line."""
    number = Decimal("0.1234567890123456789012345")

    text = dumps({"name": "Küchenglück", "number": number})

    assert text == '{\n "name": "Küchenglück",\n "number": 0.1234567890123456789012345\n}\n'


# what is not there


def test_what_a_plan_lacks_is_null() -> None:
    """No quilt, no price, no bars in the proof: null, and any number of stages by its word."""
    document = read_back(plan_document(planned(LOOSE)))
    (told,) = document["fabrics"]

    assert document["sizes"] is None
    assert document["stages"] == "any"
    assert (told["price"], told["cost"], told["proof"]["axis"]) == (None, None, None)
    assert told["shrinks"] == [0, 0]
    assert told["needed"] == told["bound"] == 60


def test_three_stages_are_a_number() -> None:
    """The default is written as 3."""
    assert read_back(plan_document(planned(METRIC)))["stages"] == 3


def test_washed_is_a_fact_of_each_cloth() -> None:
    """A cloth marked washed keeps its size, one of the same fabric beside it shrinks, and both say which they are."""
    text = (
        '[project]\nname = "Bag"\n[[piece]]\nname = "flap"\nfabric = "oat"\ncut = [42, 30]\ncount = 2\n'
        "[fabric.oat]\nwidth = 50\nselvage = 0\nsquare_up = 0\nwash = true\n"
        'shrinks = ["10 %", "4 %"]\non_hand = [{ length = 40, washed = true }, { length = 40 }]\n'
    )
    (told,) = read_back(sound_document(planned(text)))["fabrics"]

    assert [(cloth["washed"], cloth["length"], cloth["measured"]) for cloth in told["cloths"]] == [
        (True, 40, [48, 40]),
        (False, 36, [50, 40]),
    ]
    # Derived: 30 in of 48 washed are 30 / 0.9 of 50 unwashed.
    assert told["shrinkage"] == round(Fraction(30 * 50) / Fraction("0.9") - 30 * 48, 2)


def test_cloth_of_a_fabric_that_is_not_washed_is_not_said_to_be_washed() -> None:
    """What nobody washed does not turn into washed cloth on its way into the plan."""
    (told,) = read_back(plan_document(planned(LOOSE + "on_hand = [{ length = 90 }]\n")))["fabrics"]

    assert [cloth["washed"] for cloth in told["cloths"]] == [False]


def test_shrinkage_that_does_not_happen_is_not_told() -> None:
    """A share without wash = true counts for nothing, and is 0 in the document."""
    text = LOOSE.replace("width = 43", 'width = 43\nshrinks = ["3 %", "2 %"]')
    (told,) = read_back(plan_document(planned(text)))["fabrics"]

    assert told["shrinks"] == [0, 0]
    assert told["shrinkage"] == 0


def test_pieces_before_any_cloth() -> None:
    """Each piece with its sum and its place; a loose piece has no finished size, and there is no quilt to measure."""
    project = parse_project(METRIC, "some.toml")

    assert read_back(pieces_document(project, work_out(project))) == {
        "pieces": [
            {
                "id": "patch",
                "fabric": "oat",
                "across": Fraction("10.1"),
                "along": Fraction("20.3"),
                "count": 35,
                "turnable": False,
                "finished": None,
                "why": "cut as given, 10.1 × 20.3 cm",
                "where": "as its own pattern says",
            }
        ],
        "sizes": None,
    }


def test_sizes_on_the_way_beside_the_pieces() -> None:
    """Blocks and centre as planned, then the plan's own sizes, which follow the centre as it was measured."""
    project = parse_project(SQUARES, "some.toml")
    told = read_back(pieces_document(project, work_out(project)))

    # Blocks of 6 + 2 × 1/4; 2 × 6 = 12 across as planned, 12 1/8 as measured; edge seams of 1/4 all round.
    assert told["sizes"] == {
        "blocks": [
            {"name": "plain", "count": 1, "trimmed": [Fraction("6.5")] * 2, "finished": [6, 6]},
            {"name": "kite", "count": 1, "stitched": [6, 6], "trimmed": [Fraction("6.5")] * 2, "finished": [6, 6]},
        ],
        "planned": [12, 6],
        "centre": [Fraction("12.125"), 6],
        "finished": [Fraction("12.125"), 6],
        "raw": [Fraction("12.625"), Fraction("6.5")],
        "bound": [Fraction("12.625"), Fraction("6.5")],
    }


def test_what_is_done_after_cutting_is_told_where_there_is_something() -> None:
    """A square that is cut on says so; one that is sewn as it is has no such key."""
    project = parse_project(SQUARES, "some.toml")
    told = {piece["id"]: piece for piece in read_back(pieces_document(project, work_out(project)))["pieces"]}

    assert told["plain/hill"]["after"].startswith("cut once on the diagonal")
    assert "after" not in told["plain/field"]
    assert told["plain/field"]["where"]


# the judge


@pytest.mark.parametrize("text", [METRIC, ABROAD, LOOSE], ids=["cm", "in", "loose"])
def test_a_sound_plan_is_handed_out(text: str) -> None:
    """The judged document is the plain one, and written and read back it is sound too."""
    plan = planned(text)

    assert sound_document(plan) == plan_document(plan)
    assert judge_plan(read_back(sound_document(plan))) == ()


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"x": Fraction(500)}, "leaves the cloth"),
        ({"x": Fraction(1, 8)}, "overlap"),
        ({"across": Fraction(1)}, "is 1 in by 3.375 in, not 5.125 in by 3.375 in"),
        ({"turned": False}, "is 5.125 in by 3.375 in, not 3.375 in by 5.125 in"),
        ({"piece": "other"}, "is placed 69 times, not 70"),
    ],
    ids=["out of the cloth", "over another", "cut too small", "turned unsaid", "another's name"],
)
def test_a_plan_that_was_tampered_with_is_not(change: dict[str, Any], fault: str) -> None:
    """One placed piece that is moved, shrunk or misnamed is a bug of ours: no document, but the judge's words."""
    with pytest.raises(UnsoundPlanError, match=fault):
        sound_document(moved(planned(ABROAD), change))


def test_a_plan_that_claims_what_it_cannot_prove_is_not() -> None:
    """A bound whose weights are lost is no bound."""
    plan = planned(METRIC)
    (answer,) = plan.fabrics
    boast = replace(answer, proof=replace(answer.proof, axis="", weights=()))

    with pytest.raises(UnsoundPlanError, match=r"its proof does not show that 60\.9 cm at least are needed"):
        sound_document(replace(plan, fabrics=(boast,)))
