"""A quilt in centimetres, worked through with a pencil before it was given to the program; the sums stand beside."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import read_project

FILE = Path(__file__).with_name("reed_and_tern.toml")

# id: across, along, count; derived, all of it, from the rules of the arithmetic, and rounded up to the millimetre
PIECES = {
    # stitched 20 + 2·1 − 2·1.2 = 19.6; margin 2.5: 19.6 + 5
    "tern/ground": ("24.6", "24.6", 4),
    # 6 + 2·0.8 by 4.5 + 1.6; two in each of four blocks
    "tern/bird": ("7.6", "6.1", 8),
    # half-square, seam 0.6: 10 + 2·0.6 + √2·0.6 = 10 + 1.2 + 0.8485 = 12.0485;
    # a triangle in each of 4 blocks, 2 a square
    "reed/leaf": ("12.1", "12.1", 2),
    "reed/beside-leaf": ("12.1", "12.1", 2),
    # quarter-square: 10 + 2·0.6 + 2√2·0.6 = 10 + 1.2 + 1.6971 = 12.8971; 2 triangles in each of 4 blocks, 4 a square
    "reed/hour": ("12.9", "12.9", 2),
    "reed/beside-hour": ("12.9", "12.9", 2),
    # 8 geese, four at a time: 2 large squares by the quarter-square's rule for 10 …
    "reed/goose": ("12.9", "12.9", 2),
    # … and 4 small ones for each by the half-square's for 5: 5 + 1.2 + 0.8485 = 7.0485
    "reed/goose/sky": ("7.1", "7.1", 8),
    # 10 + 2·0.6 by 5 + 1.2
    "reed/bar": ("11.2", "6.2", 4),
    # 5 + 1.2; two in each of four blocks
    "reed/stone": ("6.2", "6.2", 8),
    # long side 20·√2 = 28.2843, seam 0.7 on it (the rim's), 1 on the legs (the blocks'):
    # 28.2843 + 1.4 + 2√2 = 28.2843 + 1.4 + 2.8284 = 32.5127; 2·1 + 2·2 = 6 triangles, 4 a square
    "triangle/side": ("32.6", "32.6", 2),
    # legs 20/√2 = 14.1421, seam 0.7 on them and 1 on the long side: 14.1421 + 1.4 + 1.4142 = 16.9563; 4, 2 a square
    "triangle/corner": ("17", "17", 2),
    # rim: width 3 + 0.7 + 0.8 = 4.5; round the measured 56.8 × 84.5, sewn on by itself:
    # top 56.8 + 2·3 + 12 = 74.8, left 84.5 + 6 + 12 = 102.5; from selvage to selvage (108 can be used)
    "rim/top": ("74.8", "4.5", 1),
    "rim/bottom": ("74.8", "4.5", 1),
    "rim/left": ("102.5", "4.5", 1),
    "rim/right": ("102.5", "4.5", 1),
    # field: width 9 + 0.8 + 0.9 = 10.7; round 62.8 × 90.5. Left: 90.5 + 2·0.8 = 92.1, along the selvage as it hangs;
    # top between the cornerstones, joined to them with 0.6: 62.8 + 2·0.6 = 64, across the cloth
    "field/top": ("64", "10.7", 1),
    "field/bottom": ("64", "10.7", 1),
    "field/left": ("10.7", "92.1", 1),
    "field/right": ("10.7", "92.1", 1),
    # across 9 + 0.6 + 0.9, down 9 + 0.8 + 0.9
    "field/cornerstone": ("10.5", "10.7", 4),
    # run 2·(82.6 + 110.3) + 35 = 420.8. A square of side a gives (a² − 4·0.6·a)/6.5; joined, each after the first
    # loses 6.5. One: 53.5 gives 420.6 and 53.6 gives 422.2, so 53.6. Two: 38.4 gives 2·212.68 − 6.5 = 418.9 and
    # 38.5 gives 2·213.82 − 6.5 = 421.1, so 38.5. Three: 31.9, which buys no less than two (see FABRICS). Four of
    # 28 are 112 and no longer lie side by side.
    "binding/1": ("38.5", "38.5", 2),
    # 82.6 + 16 = 98.6 by 110.3 + 16 = 126.3, turned: 126.3 of 146.2 across
    "backing/1": ("98.6", "126.3", 1),
    # 82.6 + 10 by 110.3 + 10
    "batting": ("92.6", "120.3", 1),
    # 82.6 + 4 by 2·9 + 2·0.7
    "sleeve": ("86.6", "19.4", 1),
}

# usable width, needed, bought
FABRICS = {
    # 110 − 2·1 = 108; 4·24.6 = 98.4 side by side; + 1 = 25.6
    "dawn": ("108", "24.6", "30"),
    # all in one row, since no two stack in less than 12.2; birds unturned 8·7.6 + 8·6.2 = 110.4 > 108, so turned:
    # 8·6.1 + 49.6 = 98.4, and 7.6 long; + 1
    "clay": ("108", "7.6", "10"),
    # on 55 × 50: 4 of 12.9 (51.6 × 12.9); 2 of 12.1 and 4 bars in 2 columns (46.6 × 12.4); 4 cornerstones (42 × 10.7)
    "fern": ("108", "0", "0"),
    # 2·12.1 + 2·12.9 + 8·7.1 = 106.8 side by side; + 1 = 13.9
    "mist": ("108", "12.9", "20"),
    # 2·32.6 + 2·17 = 99.2; + 1 = 33.6
    "night": ("108", "32.6", "40"),
    # no two strips share a row of 108: 4·4.5 = 18; along the selvage the longest alone is 102.5. (18 + 1)/0.95 = 20
    "sand": ("108", "18", "20"),
    # 2·10.7 = 21.4 for the sides; top and bottom one above the other on the other 86.6; + 1 = 93.1
    "meadow": ("108", "92.1", "100"),
    # + 1: 39.5. Three squares need 31.9, + 1 = 32.9 → 40 as well, for one join more; one needs 53.6, + 1 → 60
    "coal": ("108", "38.5", "40"),
    # 152·0.975 = 148.2, − 2 = 146.2; 126.3 + 19.4 = 145.7 side by side. (98.6 + 1)/0.96 = 103.75
    "linen": ("146.2", "98.6", "110"),
    # 92.6 × 120.3 goes on 115 × 152
    "fleece": ("220", "0", "0"),
}


def centimetres(text: str) -> Fraction:
    """Centimetres as inches, of 2.54 each."""
    return Fraction(text) * 50 / 127


@pytest.fixture(scope="module")
def plan() -> Plan:
    """The program's answer."""
    return make_plan(read_project(FILE), effort=Effort.QUICK)


def test_sizes_on_the_way(plan: Plan) -> None:
    """Centre as measured, inside the binding, raw edge, bound."""
    assert plan.sizes is not None
    # the plan says 2·28.284 = 56.57 by 3·28.284 = 84.85; what was measured counts
    assert plan.sizes.centre == (centimetres("56.8"), centimetres("84.5"))
    # 2·(3 + 9) more
    assert plan.sizes.finished == (centimetres("80.8"), centimetres("108.5"))
    # 2·0.9 more, the binding's seam
    assert plan.sizes.raw == plan.sizes.bound == (centimetres("82.6"), centimetres("110.3"))


def test_every_piece(plan: Plan) -> None:
    """Each piece's cut size and how many; and no piece besides. What may be turned may stand either way round."""
    pieces = [piece for fabric in plan.fabrics for piece in fabric.pieces]
    wanted = {
        name: ((centimetres(across), centimetres(along)), count) for name, (across, along, count) in PIECES.items()
    }

    assert {piece.id for piece in pieces} == set(wanted)
    for piece in pieces:
        size, count = wanted[piece.id]
        ways = {size, size[::-1]} if piece.turnable else {size}
        assert (piece.across, piece.along) in ways, piece.id
        assert piece.count == count, piece.id


def test_what_hangs_is_not_turned(plan: Plan) -> None:
    """The print of the field stays upright, so its strips alone keep their place on the cloth."""
    kept = {piece.id for fabric in plan.fabrics for piece in fabric.pieces if not piece.turnable}

    assert kept == {"field/top", "field/bottom", "field/left", "field/right"}


def test_what_is_needed_and_bought(plan: Plan) -> None:
    """Each fabric's usable width, the least that is still to be cut from new cloth, and the shop's steps."""
    found = {answer.fabric.id: (answer.usable_width, answer.needed, answer.bought) for answer in plan.fabrics}

    assert found == {name: tuple(map(centimetres, texts)) for name, texts in FABRICS.items()}


def test_it_is_known_to_be_the_least(plan: Plan) -> None:
    """No fabric could be bought in less."""
    assert [answer.fabric.id for answer in plan.fabrics if not answer.bought_proven] == []


def test_what_it_says_besides(plan: Plan) -> None:
    """Patches with 0.6 on all sides in blocks that are joined with 1; the triangles alone meet the rim's 0.7."""
    (warning,) = plan.warnings

    assert warning.startswith("block reed: patches")
    assert "0.6 cm" in warning
    assert "1 cm" in warning
