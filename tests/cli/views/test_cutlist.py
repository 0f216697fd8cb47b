from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from fractions import Fraction

from ellwand.cuts import cut_tree
from ellwand.model import Placed, Plan
from ellwand_cli.views.cutlist import cut_list
from ellwand_cli.views.cuttings import cutting_of, pieces_of


def test_every_piece_is_produced(plan: Plan) -> None:
    """The structured cuttings make every placed piece as often as it lies there."""
    for answer in plan.fabrics:
        for layout in answer.layouts:
            if layout.tree is not None:
                assert pieces_of(cutting_of(layout.tree)) == Counter(placed.piece for placed in layout.placed)


def test_parts_fill_their_strip(plan: Plan) -> None:
    """The parts of a cutting, waste included, have its area."""

    def check(cutting: object) -> None:
        parts = getattr(cutting, "parts")  # noqa: B009
        if parts:
            area = sum(part.across * part.along * count for part, count in parts)
            assert area == cutting.across * cutting.along  # type: ignore[attr-defined]
        for part, _ in parts:
            check(part)

    for answer in plan.fabrics:
        for layout in answer.layouts:
            if layout.tree is not None:
                check(cutting_of(layout.tree))


def test_strips_are_told_with_their_sums(named_plan: Callable[[str], Plan]) -> None:
    """Equal strips are one step; lengthwise pieces come first; the sum ends in what is left."""
    plan = named_plan("metric")
    answer = plan.fabrics[0]

    assert cut_list(plan, answer, answer.layouts[0]) == (
        "1. Square up the cloth: 1.27 cm of its length is reckoned for that.",
        "2. Keep clear of the selvages and trim them off: 2.6 cm altogether, 107.4 cm of width to use.",
        "3. Cut 1 strip 150 cm × 107.4 cm. Divide it lengthwise into 4 rand (6.5 × 150 cm) and 3 parts of 25 cm to "
        "cut on: 4 × 6.5 + 3 × 25 = 101 of 107.4 cm, 6.4 left. Cut each 25 × 150 cm into 3 hintergrund (25 × 25 cm): "
        "3 × 25 = 75 of 150 cm, 75 left.",
        "4. Cut 5 strips 7 cm × 107.4 cm. Sub-cut each into 1 binding/1 (100 × 7 cm): 100 of 107.4 cm, 7.4 left.",
        "Borders: cut them long now, and to length only when the sewn centre has been measured.",
        "Offcuts worth keeping: 3 of 25 × 75 cm.",
    )


def test_what_comes_after_cutting_is_noted(named_plan: Callable[[str], Plan]) -> None:
    """The advice of a piece is a note without number."""
    plan = named_plan("long bolt")
    answer = plan.fabrics[0]

    assert "lantern/background: trim to 9 × 9 in after stitching." in cut_list(plan, answer, answer.layouts[0])


def test_equal_strips_group_wherever_they_lie() -> None:
    """Two strips with the same pieces in another order are one kind of cutting."""
    f = Fraction
    row = [("a", 3), ("b", 2)]
    placed = [
        Placed(piece=name, x=f(x), y=f(y), across=f(width), along=f(5), turned=False)
        for y, order in ((0, row), (5, row[::-1]))
        for (name, width), x in zip(order, (0, order[0][1]), strict=True)
    ]
    cutting = cutting_of(cut_tree(f(6), f(10), placed, stages=3, whole=False))

    assert [count for _, count in cutting.parts] == [2]


def test_a_zone_beside_long_pieces_is_cut_as_a_cloth_of_its_own() -> None:
    """Strips beside a lengthwise piece are steps that name the cloth they come from."""
    f = Fraction
    placed = [
        Placed(piece="border", x=f(0), y=f(0), across=f(4), along=f(50), turned=False),
        *(
            Placed(piece="block", x=f(4 + 9 * column), y=f(9 * row), across=f(9), along=f(9), turned=False)
            for row in range(5)
            for column in range(4)
        ),
    ]
    tree = cut_tree(f(42), f(50), placed, stages=3, whole=False)

    assert pieces_of(cutting_of(tree)) == {"border": 1, "block": 20}


def test_a_free_layout_lists_places(named_plan: Callable[[str], Plan]) -> None:
    """Without straight cuts every piece is told by its lower left corner."""
    plan = named_plan("free")
    answer = plan.fabrics[0]
    steps = cut_list(plan, answer, answer.layouts[0])

    assert steps[-2] == "4. Cut 6 a (10 × 10 in), at (0; 0), (10; 0), (20; 0), (30; 0), (0; 10), (10; 10)."
    assert "in inches" in steps[2]


def test_cloth_on_hand_says_how_much_stays(named_plan: Callable[[str], Plan]) -> None:
    """A length on hand is cut off only as far as it is used: two panels of 84 and 1/2 in of squaring from 200 in."""
    plan = named_plan("backing")
    answer = plan.fabrics[0]

    assert "3. Cut 168 1/2 in off the cloth; 31 1/2 in of it stays as it is." in cut_list(
        plan, answer, answer.layouts[0]
    )
