"""Many plans that differ in one border's width: their rows, their cost, and what is not packed again."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

import ellwand.packing.parallel
from ellwand.compare import Comparison, compare_values, values_between
from ellwand.costs import total_cost
from ellwand.errors import InputError, NoPlanError
from ellwand.model import Plan
from ellwand.packing.problem import Effort, Problem, Progress, Result
from ellwand.packing.solve import solve
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.project.vary import Varied, border_key, parse_varied, spelt_key
from ellwand.record import dumps
from ellwand_cli.views.comparison import comparison_document

# A border of ink round blocks of oat; a strip is its finished width and 1/2 in of seams. Invented.
FRAMED = """
[project]
name = "framed"
unit = "{unit}"
[quilt]
across = 2
down = 2
[[block]]
name = "top"
finished = ["6 in", "6 in"]
[[block.piece]]
name = "ground"
fabric = "oat"
[[border]]
name = "edge"
fabric = "ink"
width = "2 in"
seam = "1/4 in"
corners = "butted"
cut = "lengthwise"
[fabric.ink]
width = "43 in"
price = 8
[fabric.oat]
width = "43 in"
price = 8
"""

# Two fabrics, of which 12 in each are needed; invented.
POCKETS = """
[project]
name = "pockets"
[[piece]]
name = "pocket"
fabric = "ink"
cut = [12, 12]
[[piece]]
name = "lining"
fabric = "oat"
cut = [12, 12]
[fabric.ink]
width = 43
square_up = 0
sold_by = "1 yd"
{ink}
[fabric.oat]
width = 43
square_up = 0
sold_by = "1 yd"
{oat}
"""
ENOUGH = "on_hand = [ { length = 12 } ]"


def project(text: str = FRAMED, unit: str = "in") -> Project:
    """The project of a text."""
    return parse_project(text.replace("{unit}", unit), "some.toml")


def varied(text: str = FRAMED, unit: str = "in", border: str = "edge") -> Varied:
    """The framed quilt, of which the width of a border varies."""
    return parse_varied(text.replace("{unit}", unit), "some.toml", border_key(border))


def compared(*widths: str, border: str = "edge", unit: str = "in", text: str = FRAMED) -> Comparison:
    """A quick comparison of finished widths in inches."""
    return compare_values(varied(text, unit, border), [Fraction(width) for width in widths], effort=Effort.QUICK)


def pockets(ink: str, oat: str) -> Plan:
    """The plan of POCKETS' two fabrics."""
    text = POCKETS.replace("{ink}", ink).replace("{oat}", oat)
    return make_plan(parse_project(text, "pockets.toml"), effort=Effort.QUICK)


# widths


@pytest.mark.parametrize(
    ("first", "last", "step", "widths"),
    [
        ("1", "2", "1/2", ["1", "3/2", "2"]),  # the last is met
        ("1", "2", "2/5", ["1", "7/5", "9/5"]),  # the last is stepped over
        ("1", "4/3", "1/9", ["1", "10/9", "11/9", "4/3"]),  # met, though no float would
        ("2", "2", "1", ["2"]),
        ("2", "5/2", "1", ["2"]),  # the step is more than the range
        ("0", "1", "1", ["0", "1"]),  # from none: an overhang, say
    ],
)
def test_widths_go_up_to_and_with_the_last(first: str, last: str, step: str, widths: list[str]) -> None:
    """Exact steps from the first; nothing beyond the last."""
    assert values_between(Fraction(first), Fraction(last), Fraction(step)) == tuple(map(Fraction, widths))


@pytest.mark.parametrize(("first", "last", "step"), [(-1, 2, 1), (2, 1, 1), (1, 2, 0), (1, 2, -1)])
def test_an_empty_range_is_refused(first: int, last: int, step: int) -> None:
    """Nothing is less than none, and no step leads nowhere."""
    with pytest.raises(InputError, match=r"^values: there is no value from --from to --to in steps of --step\.$"):
        values_between(Fraction(first), Fraction(last), Fraction(step))


def test_two_hundred_widths_are_the_most() -> None:
    """One more is refused with its number."""
    assert len(values_between(Fraction(1), Fraction(200), Fraction(1))) == 200
    with pytest.raises(InputError, match=r"^values: 201 values are too many\. At most 200\.$"):
        values_between(Fraction(1), Fraction(201), Fraction(1))


# rows


def test_each_width_has_the_plan_of_its_own_project() -> None:
    """Rows come in the order of the widths, and each is what planning that project alone would give."""
    comparison = compared("1", "3/2", "2")

    assert comparison.border == "edge"
    assert [row.value for row in comparison.rows] == [1, Fraction(3, 2), 2]
    assert [row.plan.project.borders[0].width for row in comparison.rows] == [1, Fraction(3, 2), 2]
    alone = make_plan(project(), effort=Effort.QUICK)
    assert comparison.rows[2].plan.fabrics == alone.fabrics
    assert comparison.rows[2].plan.sizes == alone.sizes


def test_a_row_sums_its_fabrics() -> None:
    """Cost and area of the whole quilt, part by part."""
    (row,) = compared("2").rows
    ink, oat = row.plan.fabrics

    assert row.cost == (ink.cost or 0) + (oat.cost or 0) > max(ink.cost or 0, oat.cost or 0)
    assert row.area.pieces == ink.area.pieces + oat.area.pieces
    assert row.area.taken == ink.area.taken + oat.area.taken


def test_only_the_named_border_changes() -> None:
    """Another border of the same fabric keeps its width."""
    second = '[[border]]\nname = "rim"\nfabric = "ink"\nwidth = "1 in"\n[fabric.ink]'

    (row,) = compared("3", border="edge", text=FRAMED.replace("[fabric.ink]", second)).rows

    assert [entry.width for entry in row.plan.project.borders] == [3, 1]


def test_unchanged_fabrics_are_not_packed_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three widths: the border's fabric is packed for each, the blocks' once; so at the edges, on narrower cloth."""
    calls: list[Problem] = []

    def counted(problem: Problem, **options: object) -> Result:
        calls.append(problem)
        return solve(problem, **options)  # type: ignore[arg-type]  # handed on as they came

    monkeypatch.setattr(ellwand.packing.parallel, "solve", counted)
    comparison = compared("1", "3/2", "2")
    rows = comparison.rows

    oat = [row.plan.fabrics[1] for row in rows]
    assert [answer.fabric.id for answer in oat] == ["oat"] * 3
    assert oat[0].layouts == oat[1].layouts == oat[2].layouts
    assert len(calls) == len(set(calls))
    full = 42 * 8  # marks of the whole usable width; the edges keep 1/4 in of it
    assert len([problem for problem in calls if problem.stocks[-1].w == full]) == 3 + 1
    assert [len(problem.items) for problem in calls if problem.stocks[-1].w == full - 2].count(1) == 1  # the blocks


def test_whoever_watches_is_told_width_and_fabric() -> None:
    """Every width and each of its fabrics is told, with a bound that is no more than the length."""
    told: list[tuple[Fraction, str, Progress]] = []

    compare_values(
        varied(),
        [Fraction(1), Fraction(2)],
        effort=Effort.QUICK,
        watch=lambda width, fabric, progress: told.append((width, fabric, progress)),
    )

    assert {(width, fabric) for width, fabric, _ in told} == {
        (Fraction(width), name) for width in (1, 2) for name in ("ink", "oat")
    }
    assert all(progress.bound <= progress.length for _, _, progress in told)


def test_as_new_is_handed_on() -> None:
    """The cloth on hand is left out when a printed pattern is compared."""
    text = FRAMED.replace("[fabric.ink]", '[fabric.ink]\non_hand = [ { length = "3 yd" } ]')

    owner = compare_values(varied(text), [Fraction(2)], effort=Effort.QUICK)
    reader = compare_values(varied(text), [Fraction(2)], effort=Effort.QUICK, as_new=True)

    assert owner.rows[0].plan.fabrics[0].needed == 0
    assert reader.rows[0].plan.fabrics[0].needed > 0


# edges


def along(key: str, *values: str) -> Comparison:
    """A quick comparison of the framed quilt along any value."""
    changing = parse_varied(FRAMED.replace("{unit}", "in"), "some.toml", spelt_key(key))
    return compare_values(changing, [Fraction(value) for value in values], effort=Effort.QUICK)


def test_edges_fall_where_wider_cloth_needs_less() -> None:
    """Strips of 2 1/2 in, 1/4 in to spare, 1 in of selvages: four beside each other on 11 1/4 in, three, two, one."""
    edges = [edge for edge in along("fabric.ink.width", "5", "12").edges if edge.answer.fabric.id == "ink"]

    assert [edge.value for edge in edges] == [Fraction(45, 4), Fraction(35, 4), Fraction(25, 4), 5]
    assert [edge.beyond for edge in edges] == [Fraction(89, 8), Fraction(69, 8), Fraction(49, 8), None]


@pytest.mark.parametrize(
    ("key", "values"), [("fabric.ink.sold_by", ("9/2", "9", "36")), ("fabric.ink.price", ("8", "9", "10"))]
)
def test_what_is_the_shops_alone_has_no_edges(key: str, values: tuple[str, ...]) -> None:
    """Along a price, or the step of sale, no layout changes; the rows still tell what is bought."""
    comparison = along(key, *values)

    assert comparison.edges == ()
    assert [row.plan.fabrics[0].needed for row in comparison.rows] == [comparison.rows[0].plan.fabrics[0].needed] * 3
    assert len({row.cost for row in comparison.rows}) > 1


# refusals


def test_a_border_that_is_not_there() -> None:
    """The refusal says which there are."""
    with pytest.raises(InputError, match=r'^some\.toml: has no border "hem"\. It has: "edge"\.$'):
        compared("1", border="hem")


def test_a_quilt_without_borders() -> None:
    """The refusal says that there is none."""
    bare = POCKETS.replace("{ink}", "").replace("{oat}", "")
    with pytest.raises(InputError, match=r'^bag\.toml: has no border "edge"\. It has: none\.$'):
        parse_varied(bare, "bag.toml", border_key("edge"))


def test_an_impossible_width_names_the_border_and_the_width() -> None:
    """A strip of 43 1/2 in does not go on 42; the widths before it are no help."""
    with pytest.raises(NoPlanError) as caught:
        compared("2", "43")

    assert str(caught.value).startswith('border "edge" at 43 in: some.toml: ')
    assert "1 1/2 in missing" in str(caught.value)
    assert caught.value.hint
    assert caught.value.exit_code == 1


# cost


def test_cost_is_the_sum_of_what_is_bought() -> None:
    """A yard of each, at 8 and 9.50."""
    assert total_cost(pockets("price = 8", "price = 9.5")) == Decimal("17.50")


@pytest.mark.parametrize(
    ("ink", "oat"),
    [
        ("price = 8", ""),  # bought without a price
        ("", ""),
        ("price = 8", "price = 9\nbuy = false"),  # not to be had
        (f"price = 8\n{ENOUGH}", "buy = false"),
    ],
)
def test_no_cost_where_one_is_unknown(ink: str, oat: str) -> None:
    """A bought fabric without a price, or one that cannot be had, makes the sum unknown."""
    assert total_cost(pockets(ink, oat)) is None


@pytest.mark.parametrize(
    ("ink", "oat", "cost"),
    [
        ("price = 8", ENOUGH, "8.00"),  # what is not bought needs no price
        ("price = 8", f"{ENOUGH}\nbuy = false", "8.00"),  # and may be sold out
        (ENOUGH, ENOUGH, "0.00"),
        ("price = 0", "price = 9", "9.00"),  # a gift is a price too
    ],
)
def test_what_is_not_bought_costs_nothing(ink: str, oat: str, cost: str) -> None:
    """Only bought cloth is paid for."""
    assert total_cost(pockets(ink, oat)) == Decimal(cost)
    assert str(total_cost(pockets(ink, oat))) == cost


def test_no_fabrics_cost_nothing() -> None:
    """The sum of nothing is 0.00."""
    assert str(total_cost(replace(pockets("", ""), fabrics=()))) == "0.00"


# the document


@pytest.mark.parametrize(
    ("unit", "width", "told"),
    [
        ("in", "20/25.4", "0.787401575"),  # 20 mm do not end as inches: up at the ninth place
        ("in", "4/3", "1.333333334"),  # a step of 1/3 in
        ("in", "3/2", "1.5"),
        ("cm", "20/25.4", "2"),
        ("cm", "1/3", "0.846666667"),
    ],
)
def test_a_foreign_width_is_told_near(unit: str, width: str, told: str) -> None:
    """The width in the document is a decimal number of the project's unit, exact where it ends."""
    top, _, bottom = width.partition("/")
    exact = Fraction(top) / Fraction(bottom)
    comparison = compare_values(varied(unit=unit), [exact], effort=Effort.QUICK)

    document = json.loads(dumps(comparison_document(comparison)), parse_float=Fraction)
    (row,) = document["rows"]

    assert (document["format"], document["border"]) == (1, "edge")
    assert row["width"] == Fraction(told)


def test_the_document_is_exact_at_a_foreign_width() -> None:
    """At 20 mm needed and areas are those of the plan, and the fabrics' areas sum to the row's."""
    comparison = compare_values(varied(), [Fraction("20") / Fraction("25.4")], effort=Effort.QUICK)
    (row,) = json.loads(dumps(comparison_document(comparison)), parse_float=Fraction)["rows"]
    (plan,) = (entry.plan for entry in comparison.rows)

    assert [told["needed"] for told in row["fabrics"]] == [answer.needed for answer in plan.fabrics]
    assert [told["taken"] for told in row["fabrics"]] == [answer.area.taken for answer in plan.fabrics]
    for part in ("pieces", "offcuts", "scrap", "taken"):
        assert row[part] == sum(told[part] for told in row["fabrics"])
    assert row["cost"] == comparison.rows[0].cost
