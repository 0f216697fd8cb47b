"""The judge of plans: an honest plan is sound, and each kind of dishonesty is told in its own words."""

from __future__ import annotations

import json
from copy import deepcopy
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from ellwand.verdict import judge_plan

# Two cloths of ink, washed at 5 % × 2 %; one of oat, cut free from a length on hand. All invented.
#
#   ink 2, to buy, 42 × 20          ink 1, on hand, 21 × 18     oat 1, 42 × 10 of a length
#   +--+--+----+----+---+--+--+     +----------------+          +-----+------------------+
#   |  |  | bg | bg |pkt|  |  |     |                |          |label|                  |
#   |  |  +----+----+---+--+  |     +------+---------+          +-----+------------------+
#   |l |l | bg | bg | bg   |  |     | bg   |         |
#   +--+--+----+----+------+--+     +------+---------+
PLAN = Path(__file__).with_name("honest_plan.json").read_text(encoding="utf-8")
INK = "fabrics.0"
OAT = "fabrics.1"
ON_HAND = f"{INK}.cloths.0"
TO_BUY = f"{INK}.cloths.1"
LENGTH = f"{OAT}.cloths.0"
POCKET = {"piece": "pocket", "x": 0, "y": 0, "across": 6, "along": 8, "turned": True}


def honest() -> Any:
    """A plan that keeps every promise."""
    return json.loads(PLAN, parse_float=Fraction)


def step_in(value: Any, key: str) -> Any:
    """What stands at `key`, a list's number or a table's key."""
    return value[int(key)] if isinstance(value, list) else value[key]


def changed(*changes: tuple[str, Any]) -> Any:
    """The honest plan with other values at some paths, such as ``fabrics.0.needed``."""
    plan = honest()
    for path, value in changes:
        *parents, last = path.split(".")
        parent = plan
        for key in parents:
            parent = step_in(parent, key)
        parent[int(last) if isinstance(parent, list) else last] = deepcopy(value)
    return plan


def test_honest_plan_is_sound() -> None:
    """Tests that the plan has no fault, whatever exact kind its numbers are of."""
    assert judge_plan(honest()) == ()
    assert judge_plan(json.loads(PLAN, parse_float=Decimal)) == ()


LIES: dict[str, tuple[list[tuple[str, Any]], str]] = {
    # pieces
    "too few placed": ([("pieces.0.count", 7)], 'Piece "lantern/bg" is placed 6 times, not 7.'),
    "of an unknown fabric": (
        [("pieces.3.fabric", "sand")],
        'Piece "label" is of fabric "sand", which is not in the plan.',
    ),
    "on another fabric": (
        [(f"{LENGTH}.placed.0.piece", "pocket")],
        'Fabric "oat": piece "pocket" is not one of its pieces.',
    ),
    "shrunk piece": (
        [(f"{TO_BUY}.placed.2.across", Fraction("9.875"))],
        'Piece "lantern/bg" at 8 in, 0 in is 9.875 in by 10 in, not 10 in by 10 in.',
    ),
    "sides swapped without a turn": (
        [(f"{TO_BUY}.placed.7.turned", False)],
        'Piece "pocket" at 28 in, 10 in is 6 in by 8 in, not 8 in by 6 in.',
    ),
    "turned though it may not": (
        [("pieces.2.turnable", False)],
        'Piece "pocket" at 28 in, 10 in is turned, and may not be.',
    ),
    # places
    "outside across": (
        [(f"{LENGTH}.placed.0.x", 38)],
        'Cloth "oat 1": piece "label" at 38 in, 0 in leaves the cloth.',
    ),
    "outside below": (
        [(f"{ON_HAND}.placed.0.y", -1)],
        'Cloth "ink 1": piece "lantern/bg" at 0 in, -1 in leaves the cloth.',
    ),
    "outside along": (
        [(f"{ON_HAND}.placed.0.y", 9)],
        'Cloth "ink 1": piece "lantern/bg" at 0 in, 9 in leaves the cloth.',
    ),
    "overlap": (
        [(f"{TO_BUY}.placed.3.x", 17)],
        'Cloth "ink 2": piece "lantern/bg" at 8 in, 0 in and piece "lantern/bg" at 17 in, 0 in overlap.',
    ),
    # offcuts
    "offcut over a piece": (
        [(f"{TO_BUY}.offcuts.1.x", 33)],
        'Cloth "ink 2": piece "pocket" at 28 in, 10 in and the offcut at 33 in, 10 in overlap.',
    ),
    "offcut counted twice": (
        [(f"{TO_BUY}.offcuts.1", {"x": 38, "y": 8, "across": 4, "along": 10})],
        'Cloth "ink 2": the offcut at 38 in, 0 in and the offcut at 38 in, 8 in overlap.',
    ),
    "offcut outside": ([(f"{TO_BUY}.offcuts.0.x", 39)], 'Cloth "ink 2": the offcut at 39 in, 0 in leaves the cloth.'),
    "offcut from what is not cut off": (
        [(f"{LENGTH}.offcuts.0", {"x": 0, "y": 10, "across": 37, "along": 10})],
        'Cloth "oat 1": the offcut at 0 in, 10 in leaves the cloth.',
    ),
    "scrap as an offcut": (
        [(f"{TO_BUY}.offcuts.1.across", Fraction("3.875"))],
        'Cloth "ink 2": the offcut at 34 in, 10 in has a side under 4 in: it is scrap.',
    ),
    # needed and bound
    "needed below the layout": (
        [(f"{INK}.needed", 19)],
        'Fabric "ink": 19 in needed, but the cloth to buy is 20 in long.',
    ),
    "nothing needed though cloth is bought": (
        [(f"{INK}.needed", 0)],
        'Fabric "ink": 0 in needed, but the cloth to buy is 20 in long.',
    ),
    "cloth to buy that goes on": (
        [(f"{TO_BUY}.along", 21)],
        'Cloth "ink 2": it is 21 in along, but its last piece ends at 20 in.',
    ),
    "bound above needed": ([(f"{INK}.bound", 21)], 'Fabric "ink": the bound 21 in is above the 20 in needed.'),
    "proven falsely": (
        [(f"{INK}.proven", True)],
        'Fabric "ink": 20 in needed is said to be proven; the bound says otherwise.',
    ),
    "proven concealed": (
        [(f"{OAT}.proven", False)],
        'Fabric "oat": 0 in needed is not said to be proven; the bound says otherwise.',
    ),
    "bought proven concealed": (
        [(f"{INK}.bought_proven", False)],
        'Fabric "ink": 22.5 in bought is not said to be proven; the bound says otherwise.',
    ),
    "bound buys otherwise": (
        [(f"{INK}.bound_bought", 18)],
        'Fabric "ink": the bound would let 22.5 in be bought, not 18 in.',
    ),
    "bound without a proof": (
        [(f"{INK}.bound", Fraction("20.125"))],
        'Fabric "ink": its proof does not show that 20.125 in at least are needed.',
    ),
    "bound where the cloth on hand will do": (
        [(f"{OAT}.bound", Fraction("0.125"))],
        'Fabric "oat": its proof does not show that 0.125 in at least are needed.',
    ),
    "cloth on hand kept from the proof": (
        [(f"{INK}.proof.cloths", [])],
        'Fabric "ink": its proof leaves out cloth on hand that is used, 21 in by 18 in.',
    ),
    "rectangle on hand that is a length in the proof": (
        [(f"{INK}.proof.lengths", [[168, 144]])],
        'Fabric "ink": its proof takes a rectangle for a length, 21 in by 18 in.',
    ),
    "other cloth on hand in the proof": (
        [(f"{INK}.proof.cloths", [[168, 143]])],
        'Fabric "ink": its proof leaves out cloth on hand that is used, 21 in by 18 in.',
    ),
    # sizes of cloths
    "cloth too wide": (
        [(f"{TO_BUY}.across", 43)],
        'Cloth "ink 2": it is 43 in across, where 42 in can be used.',
    ),
    "usable width above the width": (
        [(f"{INK}.usable_width", Fraction("43.125"))],
        'Fabric "ink": 43.125 in can be used of a cloth that is 43.12 in wide.',
    ),
    "unwashed width": ([(f"{TO_BUY}.width", 44)], 'Cloth "ink 2": washed, it is 43.12 in wide, not 44 in.'),
    "unwashed length": (
        [(f"{TO_BUY}.length", Fraction("22.5"))],
        'Fabric "ink": washed, the cloth to buy is 21.375 in long, not 22.5 in.',
    ),
    "no squaring": ([(f"{TO_BUY}.squaring", 0)], 'Cloth "ink 2": squaring takes 0.5 in of it, not 0 in.'),
    "cloth to buy washed already": ([(f"{TO_BUY}.washed", True)], 'Cloth "ink 2": cloth to buy is not washed yet.'),
    "length on hand wider than it was measured": (
        [(f"{LENGTH}.width", 44)],
        'Cloth "oat 1": measured 43 in wide, it is 43 in once washed, not 44 in.',
    ),
    "cloth to buy narrower than its fabric": (
        [(f"{TO_BUY}.width", 42)],
        'Cloth "ink 2": washed, it is 43.12 in wide, not 42 in.',
    ),
    "length on hand that grows": (
        [(f"{LENGTH}.along", Fraction("30.125"))],
        'Cloth "oat 1": 30 in of its length can be used, not 30.125 in.',
    ),
    "rectangle cut short": (
        [(f"{ON_HAND}.along", 17)],
        'Cloth "ink 1": 18 in of its length can be used, not 17 in.',
    ),
    "bought as a rectangle": (
        [(f"{TO_BUY}.whole", True)],
        'Cloth "ink 2": cloth to buy is a length, not a rectangle taken whole.',
    ),
    "on hand beyond its size": (
        [(f"{ON_HAND}.length", 17)],
        'Cloth "ink 1": 21 in across and 18 in along can be used, but it is only 21 in by 17 in, squaring included.',
    ),
    "used without squaring": ([(f"{LENGTH}.used", 10)], 'Cloth "oat 1": 10.5 in of it are used, not 10 in.'),
    "rectangle used in part": ([(f"{ON_HAND}.used", 10)], 'Cloth "ink 1": 18 in of it are used, not 10 in.'),
    # bought and cost
    "bought too little": (
        [(f"{INK}.steps", 4), (f"{INK}.bought", 18)],
        'Fabric "ink": 4 steps bought; squared up and washed, that leaves less than is needed: it takes 5.',
    ),
    "bought too much": (
        [(f"{INK}.steps", 6), (f"{INK}.bought", 27)],
        'Fabric "ink": 6 steps bought, and 5 would do.',
    ),
    "bought is not the steps": (
        [(f"{INK}.bought", 22)],
        'Fabric "ink": 22 in bought, but 5 steps of the shop are 22.5 in.',
    ),
    "cheaper than it is": ([(f"{INK}.cost", Fraction("7.45"))], 'Fabric "ink": the cost is 7.50, not 7.45.'),
    "cost without a price": ([(f"{OAT}.cost", 3)], 'Fabric "oat": price and cost must both be given, or neither.'),
    # areas
    "less scrap": ([(f"{INK}.area.scrap", 2)], 'Fabric "ink": the area of scrap is 12 square in, not 2 square in.'),
    "parts do not add up": (
        [(f"{INK}.area.scrap", 2)],
        'Fabric "ink": the parts of the area add up to 1289.69 square in, not to what is taken.',
    ),
    "negative scrap": (
        [(f"{INK}.area.scrap", -8), (f"{INK}.area.offcuts", 418)],
        'Fabric "ink": the area of scrap is below 0.',
    ),
    "offcuts larger than they are": (
        [(f"{INK}.area.offcuts", 410), (f"{INK}.area.scrap", 0)],
        'Fabric "ink": the area of offcuts is 398 square in, not 410 square in.',
    ),
    "pieces larger than they are": (
        [(f"{INK}.area.pieces", 820), (f"{INK}.area.scrap", 0)],
        'Fabric "ink": the area of pieces is 808 square in, not 820 square in.',
    ),
    "less taken": (
        [(f"{OAT}.taken", 430), (f"{OAT}.area.squaring", Fraction("-0.5"))],
        'Fabric "oat": 451.5 square in of cloth are taken, not 430 square in.',
    ),
    "shrinkage concealed": (
        [(f"{INK}.shrinkage", 0)],
        'Fabric "ink": 68.31 square in are lost in washing, not 0 square in.',
    ),
    "shrinkage a cent off": (
        [(f"{INK}.shrinkage", Fraction("68.32"))],
        'Fabric "ink": 68.31 square in are lost in washing, not 68.32 square in.',
    ),
    "still to be washed": (
        # 21 × 18 in / (0.95 × 0.98) less 21 × 18 in, with the 68.31 of the cloth to buy
        [(f"{ON_HAND}.washed", False)],
        'Fabric "ink": 96.33 square in are lost in washing, not 68.31 square in.',
    ),
    "measured larger than it was": (
        [(f"{ON_HAND}.measured", [22, 18])],
        'Cloth "ink 1": measured 22 in wide, it is 22 in once washed, not 21 in.',
    ),
    "measured as washed": (
        [(f"{TO_BUY}.measured", [44, Fraction("21.375")])],
        'Cloth "ink 2": measured 21.375 in long, it is 20.30625 in once washed, not 21.375 in.',
    ),
    "less left of a length": (
        [(f"{OAT}.left.0.along", 10)],
        'Fabric "oat": 20 in is left of cloth "oat 1", not 10 in.',
    ),
    "nothing told of what is left": (
        [(f"{OAT}.left", [])],
        'Fabric "oat": 20 in is left of cloth "oat 1", not nothing.',
    ),
    "more left than there was": (
        [(f"{INK}.left", [{"id": "ink 3", "across": 21, "along": 18}])],
        'Fabric "ink": the cloths that are left are not those on hand without those that are cut into.',
    ),
    "an untouched cloth forgotten": (
        [(f"{OAT}.proof.cloths", [[336, 240], [80, 80]])],
        'Fabric "oat": the cloths that are left are not those on hand without those that are cut into.',
    ),
    "something missing of what can be bought": (
        [(f"{INK}.missing", {"across": 1, "along": 1, "placed": []})],
        'Fabric "ink": nothing is missing.',
    ),
    "missing cloth without its pieces": (
        [(f"{INK}.buy", False), (f"{INK}.missing", {"across": 1, "along": 1, "placed": []})],
        'Fabric "ink": the missing cloth does not hold the pieces that have no place.',
    ),
    "missing cloth too small": (
        [(f"{INK}.buy", False), (f"{INK}.missing", {"across": 6, "along": 7, "placed": [POCKET]})],
        'Fabric "ink": missing cloth: piece "pocket" at 0 in, 0 in leaves the cloth.',
    ),
    "missing cloth with pieces on each other": (
        [(f"{INK}.buy", False), (f"{INK}.missing", {"across": 6, "along": 8, "placed": [POCKET, POCKET]})],
        'Fabric "ink": missing cloth: piece "pocket" at 0 in, 0 in and piece "pocket" at 0 in, 0 in overlap.',
    ),
    "less waste": ([(f"{INK}.waste_percent", Fraction("3.4"))], 'Fabric "ink": 4.4 % are wasted, not 3.4 %.'),
    # cuts
    "cuts in a free layout": (
        [(f"{LENGTH}.cuts", [{"step": 1, "axis": "along", "at": 5, "from": [0, 10], "depth": 2}])],
        'Cloth "oat 1": a free layout has no cuts.',
    ),
    "cut that stops short": (
        [(f"{TO_BUY}.cuts.3.from", [8, 37])],
        'Cloth "ink 2": cut 4 does not run from edge to edge of what lies on the mat.',
    ),
    "cut through two parts": (
        [(f"{TO_BUY}.cuts.4.from", [0, 20])],
        'Cloth "ink 2": cut 5 does not run from edge to edge of what lies on the mat.',
    ),
    "cut along an edge": (
        [(f"{TO_BUY}.cuts.1.at", 4)],
        'Cloth "ink 2": cut 2 does not run from edge to edge of what lies on the mat.',
    ),
    "cut beside the piece": (
        [(f"{TO_BUY}.cuts.9.at", Fraction("18.125"))],
        'Cloth "ink 2": the cuts do not free piece "pocket" at 28 in, 10 in.',
    ),
    "no cuts": ([(f"{ON_HAND}.cuts", [])], 'Cloth "ink 1": the cuts do not free piece "lantern/bg" at 0 in, 0 in.'),
    "steps out of order": (
        [(f"{TO_BUY}.cuts.3.step", 11)],
        'Cloth "ink 2": cut 5 does not run from edge to edge of what lies on the mat.',
    ),
    "two first steps": ([(f"{ON_HAND}.cuts.1.step", 1)], 'Cloth "ink 1": two cuts have the same step.'),
    "a fourth stage": (
        [(f"{TO_BUY}.cuts.9.depth", 4)],
        'Cloth "ink 2": cut 10 is of stage 4, and 3 are allowed.',
    ),
    "a stage that is not its own": (
        [(f"{TO_BUY}.cuts.9.depth", 2)],
        'Cloth "ink 2": cut 10 is not of stage 2.',
    ),
    "a cloth of its own within such": (
        [(f"{TO_BUY}.cuts.9.depth", 1)],
        'Cloth "ink 2": cut 10 is not of stage 1.',
    ),
    # the whole
    "same piece twice": ([("pieces.2.id", "inner/left")], '2 pieces have the id "inner/left".'),
    "same fabric twice": ([(f"{OAT}.id", "ink")], '2 fabrics have the id "ink".'),
    "same cloth twice": ([(f"{LENGTH}.id", "ink 1")], '2 cloths have the id "ink 1".'),
}


@pytest.mark.parametrize("name", LIES)
def test_lie_is_told(name: str) -> None:
    """Tests that one false value is told in its own words."""
    changes, fault = LIES[name]

    assert fault in judge_plan(changed(*changes))


MALFORMED: dict[str, tuple[tuple[str, Any], str]] = {
    "another format": (("format", 2), "The plan's format is not 1, the only one known here."),
    "another unit": (("unit", "mm"), "The plan's unit is 'mm', where in or cm is wanted."),
    "no ruler": (("ruler", 0), "The plan's ruler is 0, where a length above 0 is wanted."),
    "number as text": ((f"{INK}.needed", "20"), "The plan's fabrics[0].needed is '20', where a number is wanted."),
    "number as truth": ((f"{INK}.needed", True), "The plan's fabrics[0].needed is True, where a number is wanted."),
    "float": ((f"{INK}.needed", 20.0), "The plan's fabrics[0].needed is 20.0, where a number is wanted."),
    "not a number": (
        (f"{INK}.needed", Decimal("NaN")),
        "The plan's fabrics[0].needed is NaN, where a number of a sensible size is wanted.",
    ),
    "beyond measure": (
        (f"{INK}.needed", Decimal("1e999999")),
        "The plan's fabrics[0].needed is 1E+999999, where a number of a sensible size is wanted.",
    ),
    "beyond measure, whole": (
        (f"{INK}.steps", 10**13),
        "The plan's fabrics[0].steps is 10000000000000, where a number of a sensible size is wanted.",
    ),
    "off the ruler": (
        (f"{TO_BUY}.placed.0.x", Fraction("0.0625")),
        "The plan's fabrics[0].cloths[1].placed[0].x is 1/16, where a length on the ruler is wanted.",
    ),
    "below zero": ((f"{INK}.bound", -1), "The plan's fabrics[0].bound is -1, where a length is wanted."),
    "negative squaring": ((f"{INK}.squaring", -1), "The plan's fabrics[0].squaring is -1, where a length is wanted."),
    "piece without size": (("pieces.0.along", 0), "The plan's pieces[0].along is 0, where a length above 0 is wanted."),
    "sold by nothing": ((f"{INK}.sold_by", 0), "The plan's fabrics[0].sold_by is 0, where a length above 0 is wanted."),
    "half a piece": (
        ("pieces.0.count", Fraction(1, 2)),
        "The plan's pieces[0].count is 1/2, where a whole number from 1 up is wanted.",
    ),
    "truth as a number": ((f"{INK}.proven", 0), "The plan's fabrics[0].proven is 0, where true or false is wanted."),
    "id as a number": (("pieces.0.id", 7), "The plan's pieces[0].id is 7, where a text is wanted."),
    "list as text": (("pieces", "none"), "The plan's pieces is 'none', where a list is wanted."),
    "table as a number": (("pieces.0", 4), "The plan's pieces[0] is 4, where a table of keys is wanted."),
    "three ends": (
        (f"{ON_HAND}.cuts.0.from", [0, 5, 21]),
        "The plan's fabrics[0].cloths[0].cuts[0].from is [0, 5, 21], where a list of 2 is wanted.",
    ),
    "shrinks away": (
        (f"{INK}.shrinks", [1, 0]),
        "The plan's fabrics[0].shrinks[0] is 1, where a share from 0 to under 1 is wanted.",
    ),
    "no way to cut": (
        (f"{ON_HAND}.cuts.0.axis", "askew"),
        "The plan's fabrics[0].cloths[0].cuts[0].axis is 'askew', where across or along is wanted.",
    ),
    "proof askew": (
        (f"{INK}.proof.axis", "askew"),
        "The plan's fabrics[0].proof.axis is 'askew', where across or along is wanted.",
    ),
    "negative weight": (
        (f"{INK}.proof.weights", [[80, -1]]),
        "The plan's fabrics[0].proof.weights[0][1] is -1, where a whole number from 0 up is wanted.",
    ),
    "weight without a size": (
        (f"{INK}.proof.weights", [[5]]),
        "The plan's fabrics[0].proof.weights[0] is [5], where a list of 2 is wanted.",
    ),
    "cloth without a side": (
        (f"{INK}.proof.cloths", [[168, 0]]),
        "The plan's fabrics[0].proof.cloths[0][1] is 0, where a whole number from 1 up is wanted.",
    ),
    "a flaw of two corners": (
        (f"{ON_HAND}.flaws", [[[0, 0], [1, 1]]]),
        "The plan's fabrics[0].cloths[0].flaws[0] is [[0, 0], [1, 1]], "
        "where a list of three corners or more is wanted.",
    ),
    "an odd cloth without an area": (
        (f"{INK}.proof.odd", [[168, 144]]),
        "The plan's fabrics[0].proof.odd[0] is [168, 144], where a list of 3 is wanted.",
    ),
}


@pytest.mark.parametrize("name", MALFORMED)
def test_malformed_plan_names_the_key(name: str) -> None:
    """Tests that a value of a wrong kind is one fault that says where it stands."""
    change, fault = MALFORMED[name]

    assert judge_plan(changed(change)) == (fault,)


def tables(value: Any, path: tuple[str, ...] = ()) -> list[tuple[tuple[str, ...], str]]:
    """Every key of every table of a document, with the path to its table."""
    if isinstance(value, list):
        return [found for number, entry in enumerate(value) for found in tables(entry, (*path, str(number)))]
    if not isinstance(value, dict):
        return []
    return [
        found for key, entry in value.items() for found in [(path, key), *tables(entry, (*path, key))]
    ]  # fmt: skip


def test_every_key_is_missed() -> None:
    """Tests that whichever key is left out, the one fault names it."""
    plan = honest()
    for path, key in tables(plan):
        lacking = deepcopy(plan)
        parent = lacking
        for step in path:
            parent = step_in(parent, step)
        del parent[key]
        (fault,) = judge_plan(lacking)

        where = "".join(f"[{step}]" if step.isdigit() else f".{step}" for step in (*path, key)).lstrip(".")
        assert fault == f"The plan lacks the key {where}."


def test_deeper_cuts_with_any_stages() -> None:
    """Tests that a fourth stage is fine where any number is allowed, and a stage that goes back is not."""
    deep = [("stages", "any"), (f"{TO_BUY}.cuts.9.depth", 7)]
    deep += [(f"{TO_BUY}.cuts.{number}.depth", 3 if number == 3 else 4) for number in range(3, 9)]

    assert judge_plan(changed(*deep)) == ()
    assert 'Cloth "ink 2": cut 10 is not of stage 4.' in judge_plan(changed(*deep, (f"{TO_BUY}.cuts.9.depth", 4)))


def test_second_cloth_of_its_own_in_a_strip() -> None:
    """Tests that only one sub-cut of a strip may be cut from stage 1 again."""
    again = (f"{TO_BUY}.cuts.2", {"step": 3, "axis": "along", "at": 38, "from": [0, 20], "depth": 2})
    rest = {"step": 11, "axis": "across", "at": 10, "from": [38, 42], "depth": 1}
    plan = changed(again)
    plan["fabrics"][0]["cloths"][1]["cuts"].append(rest)

    assert judge_plan(plan) == ('Cloth "ink 2": cut 11 is not of stage 1.',)


def test_rectangle_may_be_cut_along_first() -> None:
    """Tests that strips of a rectangle may run along, of cloth to buy across only."""
    first = {"step": 1, "axis": "along", "at": 10, "from": [0, 18], "depth": 1}
    second = {"step": 2, "axis": "across", "at": 10, "from": [0, 10], "depth": 2}
    along = changed(
        (f"{ON_HAND}.cuts", [first, second]),
        (
            f"{ON_HAND}.offcuts",
            [{"x": 10, "y": 0, "across": 11, "along": 18}, {"x": 0, "y": 10, "across": 10, "along": 8}],
        ),
    )

    assert judge_plan(along) == ()
    assert 'Cloth "ink 2": cut 1 is not of stage 1.' in judge_plan(changed((f"{TO_BUY}.cuts.0.depth", 1)))


# The label's cloth cut with a rotary cutter. The lie frees it as well, but leaves the rest of the length in two.
OFF = {"step": 1, "axis": "across", "at": 10, "from": [0, 42], "depth": 1}
SUB = {"step": 2, "axis": "along", "at": 5, "from": [0, 10], "depth": 2}
ALL_ALONG = {"step": 1, "axis": "along", "at": 5, "from": [0, 30], "depth": 2}
TRIM = {"step": 2, "axis": "across", "at": 10, "from": [0, 5], "depth": 3}


def test_cuts_free_pieces_from_a_whole_length() -> None:
    """Tests that a length on hand lies on the mat whole, and that its rest stays in one."""
    rotary = (f"{OAT}.layout", "rotary")

    assert judge_plan(changed(rotary, (f"{LENGTH}.cuts", [OFF, SUB]))) == ()
    assert judge_plan(changed(rotary, (f"{LENGTH}.cuts", [SUB | {"step": 1}]))) == (
        'Cloth "oat 1": cut 1 does not run from edge to edge of what lies on the mat.',
    )
    assert judge_plan(changed(rotary, (f"{LENGTH}.cuts", [ALL_ALONG, TRIM]))) == (
        'Cloth "oat 1": the cuts do not leave the rest, from 10 in on, as it is.',
    )


def test_length_used_to_its_end_has_no_rest() -> None:
    """Tests that nothing is cut off where the last piece ends with the cloth."""
    short = [(f"{LENGTH}.along", 10), (f"{LENGTH}.length", Fraction("10.5")), (f"{OAT}.proof.cloths", [[336, 80]])]
    short += [(f"{LENGTH}.measured", [43, Fraction("10.5")]), (f"{OAT}.left", [])]

    assert judge_plan(changed(*short, (f"{OAT}.layout", "rotary"), (f"{LENGTH}.cuts", [SUB | {"step": 1}]))) == ()


def test_second_cloth_to_buy_is_bought_too() -> None:
    """Tests that the lengths of all cloths to buy make up what is bought."""
    plan = honest()
    plan["fabrics"][0]["cloths"].append(deepcopy(plan["fabrics"][0]["cloths"][1]) | {"id": "ink 3"})

    assert 'Fabric "ink": washed, the cloth to buy is 21.375 in long, not 42.75 in.' in judge_plan(plan)


# With a strip of 4 by 40 in on hand besides, the long pieces prove nothing. What their area proves: 808 square in less
# 360 (20 by 18 of the rectangle, the largest sums of sizes) less 160 are 288, 6.9 in of 42; and of less than 10 in
# nothing but the pocket could be cut.
STRIP = {"id": "ink 3", "across": 4, "along": 40}
SECOND = {"id": "ink 4", "across": 21, "along": 18}
WEIGHED = [
    (f"{INK}.proof.axis", "across"),
    (f"{INK}.proof.weights", [[32, 32], [48, 48], [64, 64], [80, 80]]),
    (f"{INK}.proof.cloths", [[168, 144], [32, 320]]),
    (f"{INK}.left", [STRIP]),
    (f"{INK}.bound", 10),
    (f"{INK}.bound_bought", Fraction("13.5")),
    (f"{INK}.bought_proven", False),
]
UNPROVED: dict[str, list[tuple[str, Any]]] = {
    "a mark too much": [(f"{INK}.bound", Fraction("10.125"))],
    "no weights": [(f"{INK}.proof.weights", [])],
    "a size left out": [(f"{INK}.proof.weights", [[32, 32], [48, 48], [64, 64]])],
    "the long pieces alone": [(f"{INK}.proof.weights", [[32, 1]])],
    "no axis": [(f"{INK}.proof.axis", None)],
    "another rectangle on hand": [
        (f"{INK}.proof.cloths", [[168, 144], [32, 320], [168, 144]]),
        (f"{INK}.left", [STRIP, SECOND]),
    ],
}


def test_bound_proved_by_weights_is_sound() -> None:
    """Tests that weights prove the bound, and every smaller one."""
    assert judge_plan(changed(*WEIGHED)) == ()
    assert judge_plan(changed(*WEIGHED, (f"{INK}.bound", 9))) == ()


@pytest.mark.parametrize("name", UNPROVED)
def test_weights_that_prove_less_are_told(name: str) -> None:
    """Tests that a bound above what its weights prove is told, and nothing else."""
    plan = changed(*WEIGHED, *UNPROVED[name])

    (fault,) = judge_plan(plan)

    shown = float(plan["fabrics"][0]["bound"])
    assert fault == f'Fabric "ink": its proof does not show that {shown:.10g} in at least are needed.'


@pytest.mark.parametrize("junk", [None, [], {}, "", -1, [[]]], ids=repr)
def test_junk_is_a_fault_and_never_a_traceback(junk: object) -> None:
    """Tests that what does not belong at a key is never taken for sound, whichever key it is."""
    nothing = {"price", "cost", "outline", "axis", "repeat", "missing"}
    fine = (
        nothing
        if junk is None
        else {"flaws", "cuts", "offcuts", "weights", "lengths", "odd", "left"}
        if junk == []
        else set()
    )
    for path, key in tables(honest()):
        if key not in fine:
            assert judge_plan(changed((".".join((*path, key)), junk))), (path, key)
