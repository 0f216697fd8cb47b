"""A design in several sizes: what is bought for each, with which slack, in yards and in metres."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

import ellwand.packing.parallel
from ellwand.cloths import purchase
from ellwand.costs import add_costs
from ellwand.errors import InputError, NoPlanError
from ellwand.lengths import parse_length
from ellwand.materials import Materials, SizePlan, plan_sizes, shop_lengths
from ellwand.model import FabricPlan
from ellwand.packing.problem import Effort, Problem, Progress, Result
from ellwand.packing.solve import solve
from ellwand.project.read import parse_project
from ellwand.project.tables import Fabric, Project
from ellwand.record import plan_document
from ellwand.slack import NO_SLACK, Slack, spared, usual_slack
from ellwand.verdict import judge_plan

F = Fraction

# Three sizes of a bag's pieces and a quilt of hoop-stitched blocks; invented.
DESIGN = """
[project]
name = "Sandpiper"
copies = {copies}
[quilt]
across = 2
down = 2
[[block]]
name = "piper"
finished = [6, 6]
hoop = ["180 mm", "180 mm"]
frame = ["230 mm", "240 mm"]
[[block.piece]]
name = "ground"
fabric = "ink"
margin = "1 in"
[[block.piece]]
name = "flap"
fabric = "brass"
covers = [1, 0.5]
margin = {{ top = "3/4 in", bottom = "1/4 in", left = "1/4 in", right = "1/4 in" }}
[stabiliser]
fabric = "film"
margin = "1 in"
[binding]
fabric = "brass"
[fabric.ink]
width = 43
price = 8
buy = false
on_hand = [ {{ length = "5 yd" }} ]
[fabric.brass]
width = 43
{brass}
[fabric.film]
width = 12
selvage = 0
grain = "none"
square_up = 0
sold_by = "1 yd"
price = 2
[[size]]
name = "middle"
[[size]]
name = "again"
[[size]]
name = "small"
hoop = ["130 mm", "130 mm"]
frame = ["160 mm", "170 mm"]
finished = [5, 5]
"""

# Eight kinds of piece that do not go together well; invented.
SCRAPS = """
[project]
name = "Scraps"
[[piece]]
name = "scrap 1"
fabric = "f"
cut = [4.5, 11.5]
count = 1
[[piece]]
name = "scrap 2"
fabric = "f"
cut = [6.5, 4.25]
count = 4
[[piece]]
name = "scrap 3"
fabric = "f"
cut = [14.5, 9.5]
count = 4
[[piece]]
name = "scrap 4"
fabric = "f"
cut = [12.75, 8.5]
count = 2
[[piece]]
name = "scrap 5"
fabric = "f"
cut = [4, 10.25]
count = 1
[[piece]]
name = "scrap 6"
fabric = "f"
cut = [8.5, 9.25]
count = 5
[[piece]]
name = "scrap 7"
fabric = "f"
cut = [14.5, 14.75]
count = 1
[[piece]]
name = "scrap 8"
fabric = "f"
cut = [13.5, 9.5]
count = 3
[fabric.f]
width = 43
sold_by = "{step}"
[[size]]
name = "one"
"""


def design(copies: int = 1, brass: str = "price = 10") -> Project:
    """The design for so many kits."""
    return parse_project(DESIGN.format(copies=copies, brass=brass), "sandpiper.toml")


def materials(project: Project, slack: Slack | None = None) -> Materials:
    """Its sizes, planned quickly."""
    return plan_sizes(project, slack=slack, effort=Effort.QUICK)


def answer(size: SizePlan, fabric: str) -> FabricPlan:
    """The plan of one fabric."""
    return next(found for found in size.plan.fabrics if found.fabric.id == fabric)


def cloth(**keys: object) -> Fabric:
    """A fabric of which nothing is lost unless `keys` say so."""
    lines = "".join(f"{key} = {value}\n" for key, value in {"selvage": 0, "square_up": 0, **keys}.items())
    text = f'[project]\nname = "n"\n[[piece]]\nname = "p"\nfabric = "f"\ncut = [1, 1]\n[fabric.f]\nwidth = 42\n{lines}'
    return parse_project(text, "f.toml").fabrics["f"]


def yards_and_metres(fabric: Fabric, needed: str, unit: str = "in") -> tuple[Fraction, Fraction]:
    """What to buy: a number of yards and one of metres."""
    found = shop_lengths(fabric, parse_length(needed, unit="in"), unit, F(1, 8))
    return found.yards / 36, found.metres / parse_length("1 m", unit="in")


def test_every_size_is_a_sound_plan_of_its_own() -> None:
    """Three sizes in the file's order, each a plan that the judge of documents finds no fault with."""
    found = materials(design())

    assert [size.project.size for size in found.sizes] == ["middle", "again", "small"]
    assert [judge_plan(plan_document(size.plan)) for size in found.sizes] == [(), (), ()]


def test_margins_and_fold_over_widths_do_not_grow() -> None:
    """A block 1 in smaller: the flap that covers its lower half is 1 in narrower and 1/2 in lower, no more."""
    middle, _, small = materials(design()).sizes
    flaps = [
        next(piece for piece in answer(size, "brass").pieces if piece.id == "piper/flap") for size in (middle, small)
    ]

    # 6 + 2 × 1/4 = 6 1/2 and 3 + 3/4 + 1/4 = 4; with the block's trim equal to its seam, stitched is finished
    assert [(piece.across, piece.along) for piece in flaps] == [(F(13, 2), 4), (F(11, 2), F(7, 2))]


def test_cloth_on_hand_is_left_out_and_all_may_be_bought() -> None:
    """Ink of which five yards lie there and no more is to be had is bought for whoever makes the pattern."""
    middle = materials(design()).sizes[0]

    assert answer(middle, "ink").needed > 0
    assert answer(middle, "ink").enough
    assert all(layout.cloth.source.value == "buy" for layout in answer(middle, "ink").layouts)


def test_equal_problems_are_packed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A size that differs in nothing but its name costs no packing of its own."""
    packed: list[Problem] = []

    def counted(problem: Problem, **keys: object) -> Result:
        packed.append(problem)
        return solve(problem, **keys)  # type: ignore[arg-type]

    monkeypatch.setattr(ellwand.packing.parallel, "solve", counted)
    project = design()
    materials(project)
    all_three = len(packed)
    packed.clear()
    materials(replace(project, sizes=(project.sizes[0], project.sizes[2])))

    assert all_three == len(packed) > 0


@pytest.mark.parametrize(("step", "efforts"), [("1 yd", {"quick"}), ("1/8 yd", {"quick", "careful"})])
def test_nobody_looks_on_where_less_cannot_be_bought(
    step: str, efforts: set[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A quick look needs 48 3/4 in, not proven the least: enough where cloth is sold by the yard, not by its eighth."""
    tried: set[str] = set()

    def noted(problem: Problem, *, effort: Effort, **keys: object) -> Result:
        tried.add(effort.value)
        return solve(problem, effort=effort, **keys)  # type: ignore[arg-type]

    monkeypatch.setattr(ellwand.packing.parallel, "solve", noted)
    found = plan_sizes(parse_project(SCRAPS.format(step=step), "scraps.toml"))
    (size,) = found.sizes

    assert tried == efforts
    assert judge_plan(plan_document(size.plan)) == ()


def test_whoever_watches_is_told_of_each_size() -> None:
    """The watch hears the size's name with the fabric's."""
    heard: set[tuple[str, str]] = set()

    def watch(size: str, fabric: str, _: Progress) -> None:
        heard.add((size, fabric))

    plan_sizes(design(), effort=Effort.QUICK, watch=watch)

    assert heard == {(size, fabric) for size in ("middle", "again", "small") for fabric in ("ink", "brass", "film")}


def test_slack_is_kept_of_woven_cloth_alone() -> None:
    """1/4 in of the width and 1/2 in of the length go, of cloth without grain nothing."""
    project = spared(design(), usual_slack("in"))
    ink, film = project.fabrics["ink"], project.fabrics["film"]

    # design: 1/4 in across and 1/2 in along; 43 − 2 × 1/2 = 42 to use, and 1/2 in to square up
    assert (ink.between_selvages, ink.square_up) == (F(167, 4), F(1))
    assert (film.between_selvages, film.square_up) == (F(12), F(0))
    assert usual_slack("in").along == F(1, 2)
    assert usual_slack("cm") == Slack(across=parse_length("7 mm", unit="cm"), along=parse_length("14 mm", unit="cm"))


def test_what_is_told_with_slack_holds_on_a_narrower_bolt() -> None:
    """The length bought with slack is enough where the bolt is 1/4 in narrower and nothing is kept."""
    project = design()
    narrow = parse_project(DESIGN.format(copies=1, brass="").replace("width = 43", "width = 42.75"), "narrow.toml")

    told, real = materials(project), materials(narrow, NO_SLACK)

    for size, other in zip(told.sizes, real.sizes, strict=True):
        for found in size.plan.fabrics:
            assert other.bought(answer(other, found.fabric.id)).yards <= size.bought(found).yards


def test_the_usable_width_is_told_without_the_slack() -> None:
    """What heads the table is what the cloth has; the layout is narrower by the slack."""
    middle = materials(design()).sizes[0]

    assert middle.usable_width(answer(middle, "ink")) == 42
    assert answer(middle, "ink").usable_width == F(167, 4)


def test_a_piece_that_only_the_slack_keeps_out_says_so() -> None:
    """A strip as wide as its cloth goes without slack; with it, the sentence says how to have none."""
    text = (
        '[project]\nname = "n"\n[[piece]]\nname = "band"\nfabric = "f"\ncut = [42, 3]\ngrain = "lengthwise"\n'
        '[fabric.f]\nwidth = 43\n[[size]]\nname = "one"\n'
    )
    project = parse_project(text, "n.toml")

    with pytest.raises(NoPlanError) as caught:
        materials(project)

    assert caught.value.where == 'n.toml: size "one": band'
    assert str(caught.value).endswith("1/4 in of the width is kept as slack; with --slack 0 it goes.")
    assert materials(project, NO_SLACK).sizes[0].plan.fabrics[0].needed == 3


def test_a_piece_that_nothing_lets_in_is_told_without_slack() -> None:
    """Where the cloth itself is too narrow, its own width is told."""
    text = (
        '[project]\nname = "n"\n[[piece]]\nname = "band"\nfabric = "f"\ncut = [43, 50]\n'
        '[fabric.f]\nwidth = 43\n[[size]]\nname = "one"\n'
    )

    with pytest.raises(NoPlanError, match="f can be used for 42 in"):
        materials(parse_project(text, "n.toml"))


def test_a_design_without_sizes_is_refused() -> None:
    """There is nothing to tell of, and the sentence says what to add."""
    with pytest.raises(InputError) as caught:
        materials(replace(design(), sizes=()))

    assert str(caught.value) == (
        'sandpiper.toml: has no [[size]]. Add one for each hoop, with its name: [[size]] and below it name = "5 × 7".'
    )


def test_k3_washed_cloth_is_divided_in_yards_and_in_metres() -> None:
    """4 yd of washed cloth at 10 % take 4.44 yd: 4 1/2 yd in sixteenths, where 4.40 would have been 4 7/16."""
    # Source: ISO 5077 and arithmetic (K3); 4.44 yd × 0.9144 = 4.064 m (U1, NBS Circular 572 Addendum)
    shrinking = {"wash": "true", "shrinks": '["10 %", "0 %"]'}

    assert yards_and_metres(cloth(sold_by='"1/16 yd"', **shrinking), "4 yd")[0] == F(9, 2)
    assert yards_and_metres(cloth(sold_by='"1 cm"', **shrinking), "4 yd", "cm")[1] == F("4.07")


def test_u1_u2_metres_are_not_made_of_yards() -> None:
    """37 in are 1 1/8 yd in eighths and 1 m in steps of 10 cm, since 37 in is 0.9398 m; 1 1/8 yd would be 1.1 m."""
    # Source: NBS Circular 572 Addendum, L. V. Judson, 1960 (U1); arithmetic of U1 (U2)
    assert yards_and_metres(cloth(), "37 in") == (F(9, 8), F(1))
    assert [yards_and_metres(cloth(), f"{eighths * F(9, 2)} in")[0] for eighths in range(1, 9)] == [
        F(eighths, 8) for eighths in range(1, 9)
    ]


@pytest.mark.parametrize(
    ("step", "unit", "yards", "metres"),
    [
        ("1 yd", "in", F(2), F("1.1")),  # the yards' step is the file's, the metres' the usual one
        ("1 yd", "cm", F(2), F("1.1")),
        ("50 cm", "in", F(5, 4), F("1.5")),  # and the other way round: 41 in are 1.139 yd and 1.041 m
        ("25 in", "in", F(50, 36), F("1.1")),  # neither yards nor whole centimetres: the project's own unit
    ],
)
def test_a_step_belongs_to_one_of_the_shops(step: str, unit: str, yards: Fraction, metres: Fraction) -> None:
    """A shop's step given in yards says nothing of metres, and the other way round."""
    # derived: 41 in = 1.1389 yd = 1.0414 m (U1)
    assert yards_and_metres(cloth(sold_by=f'"{step}"'), "41 in", unit) == (yards, metres)


def test_what_is_bought_is_the_plans_own_where_the_step_is() -> None:
    """In the project's own shops the table and the plan say the same."""
    for size in materials(design()).sizes:
        for found in size.plan.fabrics:
            assert size.bought(found).yards == found.steps * found.fabric.sold_by
            assert purchase(found.fabric, found.needed, F(1, 8)).steps == found.steps


def test_h2_a_sheet_is_the_frame_and_an_inch_on_each_side() -> None:
    """One sheet a hooping: 230 × 240 mm and 1 in all round is 11 1/16 × 11 7/16 in, on the ruler 11 1/8 × 11 1/2 in."""
    # common practice, no source (H2); 25.4 mm to the inch (U1, NBS Circular 572 Addendum)
    middle = materials(design()).sizes[0]
    (sheet,) = answer(middle, "film").pieces

    assert (sheet.across, sheet.along, sheet.count) == (F(89, 8), F(23, 2), 4)
    assert answer(middle, "film").needed == 4 * F(89, 8)  # 11 1/2 of the roll's 12 across, one below the other


def test_costs_roll_up_per_size_and_per_kit() -> None:
    """A size's cost is the sum of its fabrics', and a kit's the share of it."""
    for size in materials(design(copies=3)).sizes:
        costs = [found.cost for found in size.plan.fabrics]
        total = sum((cost for cost in costs if cost is not None), Decimal(0))

        assert size.cost is not None
        assert (size.cost.total, size.cost.copies, size.cost.unpriced) == (total, 3, ())
        assert abs(3 * size.cost.each - total) <= Decimal("0.015")


def test_a_fabric_without_a_price_is_named() -> None:
    """The rest is added up all the same."""
    middle = materials(design(brass="")).sizes[0]

    assert middle.cost is not None
    assert middle.cost.unpriced == ("brass",)
    assert middle.cost.total == sum(found.cost for found in middle.plan.fabrics if found.cost is not None)


def test_without_any_price_there_is_no_cost() -> None:
    """Nothing is said of costs that nobody gave."""
    assert add_costs([replace(found, cost=None) for found in materials(design()).sizes[0].plan.fabrics], 1) is None
