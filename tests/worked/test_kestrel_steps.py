"""A quilt in inches, worked through with a pencil before it was given to the program; the sums stand beside."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import read_project

FILE = Path(__file__).with_name("kestrel_steps.toml")

# id: across, along, count. Derived, all of it, from the rules of the arithmetic; what is cut "lengthwise" or from
# selvage to selvage stands as it lies on the cloth.
PIECES = {
    # stitched 7 1/2 + 2·3/8 − 2·3/8 = 7 1/2, 9; margin 1: 7 1/2 + 2 = 9 1/2, 9 + 2 = 11
    "kestrel/ground": ("9 1/2", "11", 6),
    # 3 + 2·3/8 = 3 3/4, 2 1/4 + 2·3/8 = 3; two in each of six blocks
    "kestrel/wing": ("3 3/4", "3", 12),
    # margin = trim 3/8: 7 1/2 + 3/4 = 8 1/4, 9 + 3/4 = 9 3/4, the trimmed block
    "kestrel/batting": ("8 1/4", "9 3/4", 6),
    # stitched 7 1/2 + 2·3/8 − 2·1/4 = 7 3/4, 9 1/4; margin 7/8: 7 3/4 + 1 3/4 = 9 1/2, 9 1/4 + 1 3/4 = 11
    "vane/ground": ("9 1/2", "11", 4),
    # across 7 3/4 + 3/4 + 1 = 9 1/2; down half of 9 1/4 = 4 5/8, + 1/2 + 1/4 = 5 3/8
    "vane/flap": ("9 1/2", "5 3/8", 4),
    # margin = trim 1/4: 7 3/4 + 1/2 = 8 1/4, 9 1/4 + 1/2 = 9 3/4
    "vane/batting": ("8 1/4", "9 3/4", 4),
    # stitched 7 1/2 + 2·3/8 − 2·5/8 = 7, 8 1/2; margin 1 1/4: 7 + 2 1/2 = 9 1/2, 8 1/2 + 2 1/2 = 11
    "step/ground": ("9 1/2", "11", 2),
    # margin = trim 5/8: 7 + 1 1/4 = 8 1/4, 8 1/2 + 1 1/4 = 9 3/4
    "step/batting": ("8 1/4", "9 3/4", 2),
    # sashes: width 1 1/2 + 2·3/8 = 2 1/4. Lines between blocks and sashes take 3/8, the outermost ones 1/4 (fillet).
    # upright, in the middle rows: 9 + 2·3/8 = 9 3/4; 2 a row, 2 such rows
    "sash/upright": ("2 1/4", "9 3/4", 4),
    # upright, in the top and bottom rows: 9 + 3/8 + 1/4 = 9 5/8; 2 a row, 2 such rows
    "sash/upright/edge": ("2 1/4", "9 5/8", 4),
    # level, in the middle column: 7 1/2 + 2·3/8 = 8 1/4; 3 gaps
    "sash/level": ("8 1/4", "2 1/4", 3),
    # level, in the outer columns: 7 1/2 + 3/8 + 1/4 = 8 1/8; 3 gaps, 2 such columns
    "sash/level/edge": ("8 1/8", "2 1/4", 6),
    # 1 1/2 + 2·3/8 = 2 1/4 both ways; 2 × 3 crossings
    "cornerstone": ("2 1/4", "2 1/4", 6),
    # fillet: width 1 + 1/4 + 3/8 = 1 5/8. Sewn together with the frieze, whose 6 in extra its strips take:
    # top 25 1/2 + 2·(1 + 2 1/4) + 6 = 38; left 40 1/2 + 6 1/2 + 6 = 53 = 42 + 12 5/8 − 1 5/8
    "fillet/top": ("38", "1 5/8", 1),
    "fillet/bottom": ("38", "1 5/8", 1),
    "fillet/left/1": ("42", "1 5/8", 1),
    "fillet/left/2": ("12 5/8", "1 5/8", 1),
    "fillet/right/1": ("42", "1 5/8", 1),
    "fillet/right/2": ("12 5/8", "1 5/8", 1),
    # frieze: width 2 1/4 + 3/8 + 1/4 = 2 7/8; the same lengths, along the selvage
    "frieze/top": ("2 7/8", "38", 1),
    "frieze/bottom": ("2 7/8", "38", 1),
    "frieze/left": ("2 7/8", "53", 1),
    "frieze/right": ("2 7/8", "53", 1),
    # surround: width 4 1/2 + 1/4 + 3/8 = 5 1/8; it goes round 25 1/2 + 6 1/2 = 32 by 40 1/2 + 6 1/2 = 47.
    # top 32 + 2·4 1/2 + 6 = 47 = 42 + 5 1/2 − 2·1/4, and 5 1/2 is raised to the 12 that is the shortest bit;
    # left 47 + 9 + 6 = 62 = 42 + 20 1/2 − 1/2
    "surround/top/1": ("42", "5 1/8", 1),
    "surround/top/2": ("12", "5 1/8", 1),
    "surround/bottom/1": ("42", "5 1/8", 1),
    "surround/bottom/2": ("12", "5 1/8", 1),
    "surround/left/1": ("42", "5 1/8", 1),
    "surround/left/2": ("20 1/2", "5 1/8", 1),
    "surround/right/1": ("42", "5 1/8", 1),
    "surround/right/2": ("20 1/2", "5 1/8", 1),
    # run 2·(41 3/4 + 56 3/4) + 14 = 211; a join takes 2 3/4, so each full strip brings 39 1/4:
    # 5 of them 196 1/4, the rest 14 3/4; (5 strips alone reach 5·42 − 4·2 3/4 = 199)
    "binding/1": ("42", "2 3/4", 5),
    "binding/2": ("14 3/4", "2 3/4", 1),
    # 41 3/4 + 2·3 = 47 3/4 by 56 3/4 + 6 = 62 3/4 from a usable 41 7/8 (see FABRICS): seam across the quilt,
    # 62 3/4 = 41 7/8 + 21 7/8 − 2·1/2, both 47 3/4 long; 95 1/2 against 2·62 3/4 = 125 1/2 with the seam down
    "backing/1": ("41 7/8", "47 3/4", 1),
    "backing/2": ("21 7/8", "47 3/4", 1),
    # under the borders, from the centre's seam line: 1 + 2 1/4 + 4 1/2 + 3/8 + 2 = 10 1/8 wide;
    # sides 56 3/4 + 2·2 = 60 3/4 long, top and bottom between them as the centre, 25 1/2
    "batting/top": ("25 1/2", "10 1/8", 1),
    "batting/bottom": ("25 1/2", "10 1/8", 1),
    "batting/left": ("10 1/8", "60 3/4", 1),
    "batting/right": ("10 1/8", "60 3/4", 1),
    # 41 3/4 + 2 = 43 3/4 by 2·4 + 1/2 = 8 1/2; longer than the cloth is wide, so along the selvage
    "sleeve": ("8 1/2", "43 3/4", 1),
    # frame 10 + 2·3/4 = 11 1/2 by 12 + 1 1/2 = 13 1/2, one sheet a block
    "stabiliser/kestrel": ("11 1/2", "13 1/2", 6),
    "stabiliser/vane": ("11 1/2", "13 1/2", 4),
    "stabiliser/step": ("11 1/2", "13 1/2", 2),
}

# usable width, needed, bought
FABRICS = {
    # 44·0.98 = 43.12, − 1 = 42.12, down to 42. On hand 18·0.96 = 17.28, − 1/2 = 16.78, down to 16 3/4: one row of
    # four grounds (4·9 1/2 = 38; a fifth is 47 1/2). Eight more are two rows of 11. (22 + 1/2)/0.96 = 23.44 → 6 eighths
    "dusk": ("42", "22", "27"),
    # flaps 2 × 2 (19 × 10 3/4) and wings 5 × 2 (18 3/4 × 6) on one quarter, the rest on the other
    "rust": ("42", "0", "0"),
    # on hand 13 1/2 − 1/2 = 13; all 17 sashes stand side by side: 17·2 1/4 = 38 1/4, at most 9 3/4 long
    "slate": ("42", "0", "0"),
    # 42; 42; 38; 38; 2·12 5/8 = 25 1/4: no two of the first four share a row, and beside 38 only 4 are left: 5·1 5/8;
    # + 1/2 = 8 5/8 → 2 eighths
    "brass": ("42", "8 1/8", "9"),
    # 4·2 7/8 = 11 1/2 side by side, the longest 53; + 2·1/2 = 54, 12 eighths and no more
    "moss": ("42", "53", "54"),
    # 4 rows of 42; 20 1/2 + 20 1/2; 12 + 12: 6·5 1/8 (233 in of strip are more than 5·42 = 210); + 1/2 → 7 eighths
    "fern": ("42", "30 3/4", "31 1/2"),
    # 6·2 3/4; + 1/2 = 17 → 4 eighths
    "ink": ("42", "16 1/2", "18"),
    # 44·0.97 = 42.68, − 2·3/8 = 41.93, down to 41 7/8. The panels are 47 3/4 each, and 41 7/8 − 21 7/8 = 20 beside
    # the second hold the sleeve. (95 1/2 + 2·1/2)/0.95 = 101.58 → 12 quarters
    "oat": ("41 7/8", "95 1/2", "108"),
    # on 72 × 90: the sides turned, one above the other, 60 3/4 × 20 1/4; top and bottom 51 × 10 1/8; the twelve of
    # the blocks 8 a row, 66 × 19 1/2: 49 7/8 in all
    "batting": ("90", "0", "0"),
    # no two of 11 1/2 or more go on 15; turned, each takes 11 1/2: 12·11 1/2 → 4 yd
    "film": ("15", "138", "144"),
}


def inches(text: str) -> Fraction:
    """A whole number, a fraction, or both."""
    return sum((Fraction(number) for number in text.split()), Fraction(0))


@pytest.fixture(scope="module")
def plan() -> Plan:
    """The program's answer."""
    return make_plan(read_project(FILE), effort=Effort.QUICK)


def test_sizes_on_the_way(plan: Plan) -> None:
    """Centre, inside the binding, raw edge, bound."""
    assert plan.sizes is not None
    # across 3·7 1/2 + 2·1 1/2, down 4·9 + 3·1 1/2
    assert plan.sizes.centre == (inches("25 1/2"), inches("40 1/2"))
    # 2·(1 + 2 1/4 + 4 1/2) = 15 1/2 more
    assert list(plan.sizes.finished) == [41, 56]
    # 2·3/8 more, the binding's seam
    assert plan.sizes.raw == plan.sizes.bound == (inches("41 3/4"), inches("56 3/4"))


def test_every_piece(plan: Plan) -> None:
    """Each piece's cut size as it is to lie, and how many; and no piece besides."""
    found = {piece.id: (piece.across, piece.along, piece.count) for fabric in plan.fabrics for piece in fabric.pieces}

    assert found == {name: (inches(across), inches(along), count) for name, (across, along, count) in PIECES.items()}


def test_what_is_needed_and_bought(plan: Plan) -> None:
    """Each fabric's usable width, the least that is still to be cut from new cloth, and the shop's steps."""
    found = {answer.fabric.id: (answer.usable_width, answer.needed, answer.bought) for answer in plan.fabrics}

    assert found == {name: tuple(map(inches, texts)) for name, texts in FABRICS.items()}


def test_it_is_known_to_be_the_least(plan: Plan) -> None:
    """No fabric could be bought in less."""
    assert [answer.fabric.id for answer in plan.fabrics if not answer.bought_proven] == []


def test_as_a_pattern_would_print_it() -> None:
    """Without the cloth on hand the twelve grounds take three rows of 11: (33 + 1/2)/0.96 = 34.90 → 8 eighths."""
    answers = make_plan(read_project(FILE), effort=Effort.QUICK, as_new=True).fabrics
    dusk = next(answer for answer in answers if answer.fabric.id == "dusk")

    assert [dusk.needed, dusk.bought] == [33, 36]
    assert dusk.cost == 12  # one yard at 12.00


def test_what_it_says_besides(plan: Plan) -> None:
    """The blocks are trimmed for 3/8 and the fillet is sewn on with 1/4: 1/8 has to go. Sashes carry no batting."""
    seams, batting = plan.warnings

    assert "1/4 in" in seams
    assert "3/8 in" in seams
    assert "trim 1/8 in" in seams
    assert batting.startswith("batting:")
    assert "sashes" in batting
