from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from ellwand.model import Plan
from ellwand_cli.views.cutlist import cut_list


def test_strips_are_told_with_their_sums(named_plan: Callable[[str], Plan]) -> None:
    """The ruler is set once a measure, to the longest cuts first; sums end in what is left of each source."""
    plan = named_plan("metric")
    answer = plan.fabrics[0]

    assert cut_list(plan, answer, answer.layouts[0]) == (
        "to buy 1.9 m  ·  110 cm wide, 185 cm needed",
        "Sizes are across the width × along the selvage. Parts that are cut up further have letters: A, B, C.",
        "1. Square up the cloth: 1.27 cm of its length is there to trim its end straight.",
        "2. Trim off both selvages, 2.6 cm altogether: 107.4 cm of width to use.",
        "3. Measure out 150 cm with a tape along both edges, and mark a line: two rulers of 60 cm are shorter.",
        "   a. Cut 1 length A (107.4 × 150 cm) off the cloth, folded once: 150 of 188.7 cm, 38.7 left.",
        "4. Set the ruler to 6.5 cm.",
        "   a. Cut 4 rand (6.5 × 150 cm) from A, folded twice: 4 × 6.5 = 26 of 107.4 cm, 81.4 left.",
        "5. Set the ruler to 7 cm.",
        "   a. Cut 5 strips B (107.4 × 7 cm) off the cloth, folded once: 5 × 7 = 35 of 38.7 cm, 3.7 left, which "
        "stays as it is.",
        "6. Set the ruler to 25 cm.",
        "   a. Cut 3 strips C (25 × 150 cm) from A, folded twice: 3 × 25 = 75 of 81.4 cm, 6.4 left.",
        "   b. Cut 9 hintergrund (25 × 25 cm) from 3 C, 3 from each: 3 × 25 = 75 of 150 cm, 75 left.",
        "7. Measure out 100 cm, more than a ruler of 60 cm: fold the cloth evenly, or lay two rulers end to end.",
        "   a. Cut 5 binding/1 (100 × 7 cm) from 5 B, 1 from each: 100 of 107.4 cm, 7.4 left.",
        "This takes 5 settings of the ruler, as few as can be, and 27 cuts; piece by piece it would be 13 settings and "
        "27 cuts.",
        "Offcuts worth keeping: 3 of 25 × 75 cm.",
    )


def test_what_comes_after_cutting_is_noted(named_plan: Callable[[str], Plan]) -> None:
    """The advice of a piece is a note without number."""
    plan = named_plan("long bolt")
    answer = plan.fabrics[0]

    assert "lantern/background: trim to 9 × 9 in after stitching." in cut_list(plan, answer, answer.layouts[0])


def test_a_free_layout_lists_places(named_plan: Callable[[str], Plan]) -> None:
    """Without straight cuts every piece is told by its lower left corner."""
    plan = named_plan("free")
    answer = plan.fabrics[0]
    steps = cut_list(plan, answer, answer.layouts[0])

    assert steps[-2] == "4. Cut 6 a (10 × 10 in), at (0; 0), (10; 0), (20; 0), (30; 0), (0; 10), (10; 10)."
    assert "in inches" in steps[4]
    assert "across from the left selvage's inner edge" in steps[4]


def test_cloth_on_hand_says_how_much_stays(named_plan: Callable[[str], Plan]) -> None:
    """Of 200 in squared by 1/2 in, two panels of 84 in are cut off before the selvages are trimmed: 31 1/2 in stays."""
    plan = named_plan("backing")
    answer = plan.fabrics[0]
    lines = cut_list(plan, answer, answer.layouts[0])

    assert lines[0] == "on hand 200 in  ·  43 in wide, 168 in used once squared"
    assert lines[3] == (
        "2. Cut 168 in off the cloth, measured from the squared end; 31 1/2 in of it stays as it is, selvages on."
    )
    assert lines[4].startswith("3. Trim off both selvages")


def test_equal_strips_of_several_names_are_one_step(named_plan: Callable[[str], Plan]) -> None:
    """Strips of one size and cut alike are gathered, wherever they lie, and their pieces are all named."""
    plan = named_plan("joined")
    lines = cut_list(plan, plan.fabrics[0], plan.fabrics[0].layouts[0])

    assert lines[8:11] == (
        "5. Set the ruler to 3 in.",
        "   a. Cut 4 pieces (42 × 3 in) off the cloth, folded once: 4 × 3 = 12 of 15 in, 3 left. They are frame/top/1, "
        "2 × binding/1 and frame/left/1.",
        "   b. What is left of the cloth is 1 strip B (42 × 3 in).",
    )


def test_joins_are_told_strip_by_strip(named_plan: Callable[[str], Plan]) -> None:
    """The parts of a strip are paired; the rest of the advice is said once of whole strips."""
    plan = named_plan("joined")
    lines = cut_list(plan, plan.fabrics[0], plan.fabrics[0].layouts[0])

    assert lines[-4:] == (
        "frame/top (J1): join frame/top/1 and frame/top/2 end to end on the diagonal.",
        "binding (J2): join 2 × binding/1 end to end on the diagonal.",
        "frame/left (J3): join frame/left/1 and frame/left/2 end to end on the diagonal.",
        "frame/top and frame/left: cut long now.",
    )


def test_what_is_cut_on_the_diagonal_and_strips_joined_several_times(named_plan: Callable[[str], Plan]) -> None:
    """Squares say how they are cut on; of three equal sashes each is joined from its two bits; corners say nothing."""
    plan = named_plan("pieced")
    lines = cut_list(plan, plan.fabrics[0], plan.fabrics[0].layouts[0])
    notes = [line for line in lines[2:] if not line[0].isdigit() and line[0] != " "]

    assert notes[1:4] == [
        "sash/level (J1), 3 such strips: for each join sash/level/1 and sash/level/2 end to end on the diagonal.",
        "triangle/side: cut twice on the diagonal, 4 triangles from a square.",
        "triangle/corner: cut once on the diagonal.",
    ]
    assert not [line for line in notes if "cornerstone" in line]


def test_cloth_to_be_washed_is_washed_first(named_plan: Callable[[str], Plan]) -> None:
    """43 in and 18 in shrink by 2 % and 5 % (ISO 5077: change over length before); both figures are told."""
    plan = washed(named_plan("many"))
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    lines = cut_list(plan, answer, layout)
    bought = plan.project.notation.show(answer.bought)

    assert lines[0].startswith(f"to buy {plan.project.notation.cloth(answer.bought)}  ·  43 in wide; after washing")
    assert lines[2].startswith(
        f"1. Wash and press the cloth first: 43 in wide and {bought} long as bought, ≈ 42 1/8 in"
    )
    assert lines[2].endswith("long after washing.")


def washed(plan: Plan) -> Plan:
    """`plan` with its first fabric still to be washed; widths and lengths of its cloth are those after washing."""
    answer = plan.fabrics[0]
    fabric = replace(answer.fabric, wash=True, shrinks=(Fraction(1, 20), Fraction(1, 50)))
    layouts = tuple(
        replace(
            layout,
            cloth=replace(
                layout.cloth,
                washed=False,
                width=layout.cloth.width * Fraction(49, 50),
                length=layout.cloth.length * Fraction(19, 20),
            ),
        )
        for layout in answer.layouts
    )
    return replace(plan, fabrics=(replace(answer, fabric=fabric, layouts=layouts), *plan.fabrics[1:]))


def test_missing_cloth_is_no_purchase(named_plan: Callable[[str], Plan]) -> None:
    """Cloth that may not be bought is headed as missing, and nothing of it is kept or left."""
    plan = named_plan("metric")
    answer = plan.fabrics[0]
    answer = replace(answer, fabric=replace(answer.fabric, buy=False))
    lines = cut_list(plan, answer, answer.layouts[0])

    assert lines[:2] == ("MISSING: this cloth is not there", "short 185 cm  ·  110 cm wide")
    assert not [line for line in lines if "worth keeping" in line or "to buy" in line]


def test_rounding_is_no_selvage(named_plan: Callable[[str], Plan]) -> None:
    """A rectangle without selvages that washing left between two marks has nothing to trim off."""
    plan = named_plan("fat quarter")
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    layout = replace(layout, cloth=replace(layout.cloth, width=layout.cloth.across + Fraction(1, 16)))

    assert not [line for line in cut_list(plan, answer, layout) if "selvages" in line]
