"""The front door: which way of making each part is chosen, what is proven of it, and what it costs."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

import ellwand.packing.parallel
from ellwand.model import FabricPlan
from ellwand.packing.problem import Bound, Effort, Problem, Progress, Result
from ellwand.packing.solve import solve
from ellwand.plan import Memory, make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project

# Four butted strips of 2 1/2, two 50 1/2 long and two 54 1/2, from cloth with 42 to use; invented.
FRAMED = """
[project]
name = "framed"
[quilt]
[[block]]
name = "top"
finished = [50, 50]
[[border]]
name = "edge"
fabric = "ink"
width = 2
corners = "butted"
cut = "{cut}"
[fabric.ink]
width = 42
selvage = 0
square_up = 0
sold_by = "{sold_by}"
"""

# A backing that takes two panels and one seam whichever way they hang; invented.
BACKED = """
[project]
name = "backed"
[quilt]
[[block]]
name = "top"
finished = [{across}, {down}]
[backing]
fabric = "ink"
overhang = 0
seam = "1/2 in"
panels = "best"
[fabric.ink]
width = 42
selvage = 0
square_up = 0
sold_by = "5 yd"
"""

# The same pieces from two fabrics of the same width; invented.
TWINS = """
[project]
name = "twins"
[[piece]]
name = "left"
fabric = "ink"
cut = [5, 7]
count = 9
[[piece]]
name = "right"
fabric = "oat"
cut = [5, 7]
count = 9
[fabric.ink]
width = 43
[fabric.oat]
width = 43
"""

# Two pockets, 20 in of cloth; invented.
POCKETS = """
[project]
name = "pockets"
unit = "{unit}"
[[piece]]
name = "pocket"
fabric = "oat"
cut = ["30 in", "10 in"]
count = 2
grain = "lengthwise"
[fabric.oat]
width = "43 in"
square_up = 0
{fabric}
"""


def project(text: str) -> Project:
    """The project of a text."""
    return parse_project(text, "some.toml")


def only(text: str, *, as_new: bool = False, effort: Effort = Effort.QUICK) -> FabricPlan:
    """The plan of a text's one fabric."""
    (answer,) = make_plan(project(text), effort=effort, as_new=as_new).fabrics
    return answer


def framed(cut: str, sold_by: str, effort: Effort = Effort.QUICK) -> FabricPlan:
    """The plan of FRAMED."""
    return only(FRAMED.format(cut=cut, sold_by=sold_by), effort=effort)


def pockets(fabric: str, *, unit: str = "in", as_new: bool = False) -> FabricPlan:
    """The plan of POCKETS, which needs 20 in when nothing is on hand."""
    return only(POCKETS.format(unit=unit, fabric=fabric), as_new=as_new)


# the order of aims


@pytest.mark.parametrize("effort", [Effort.QUICK, Effort.CAREFUL])
def test_least_bought_comes_before_fewest_joins(effort: Effort) -> None:
    """Joined strips save 4 shop steps against whole ones, so they are joined."""
    answer = framed("best", "1/4 yd", effort)

    assert answer.constructions == (("edge", "crosswise, joined"),)
    assert answer.needed == 15
    assert answer.steps == 2
    assert framed("lengthwise", "1/4 yd").steps == 7


@pytest.mark.parametrize("effort", [Effort.QUICK, Effort.CAREFUL])
def test_fewest_joins_come_before_least_needed(effort: Effort) -> None:
    """Where both ways buy one step, the strips stay whole, though that needs 39 1/2 in more."""
    answer = framed("best", "2 yd", effort)

    assert answer.constructions == (("edge", "lengthwise"),)
    assert (answer.needed, answer.steps) == (Fraction(109, 2), 1)


@pytest.mark.parametrize(
    ("across", "down", "seam"), [("64", "77.5", "across"), ("77.5", "64", "down")], ids=["tall", "wide"]
)
def test_least_needed_settles_the_rest(across: str, down: str, seam: str) -> None:
    """One step and one seam either way: the panels hang where they need 129 in, not 156."""
    # Source: forum thread (P6), for the first of the two.
    answer = only(BACKED.format(across=across, down=down))

    assert answer.constructions == (("backing", f"2 panels, seam {seam} the quilt"),)
    assert answer.needed == 129
    assert answer.steps == 1


# what is proven


def test_the_bound_is_the_least_of_all_ways_also_of_those_skipped() -> None:
    """Whole strips are chosen and joined ones never packed, and still joined ones could need less."""
    answer = framed("best", "2 yd")
    whole, joined = framed("lengthwise", "2 yd"), framed("crosswise", "2 yd")

    assert whole.bound == Fraction(109, 2)
    assert answer.bound == joined.bound == 15
    assert not answer.proven
    assert answer.bought_proven


def test_a_way_that_could_be_no_better_is_not_packed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the two ways only the whole strips are packed: joined ones would have joins and buy no less."""
    calls = count_solves(monkeypatch)

    framed("best", "2 yd")

    assert len(calls) == 1


def count_solves(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Problem, Effort]]:
    """The problem and effort of each packing from now on."""
    seen: list[tuple[Problem, Effort]] = []

    def counted(problem: Problem, **options: object) -> Result:
        effort = options["effort"]
        assert isinstance(effort, Effort)
        seen.append((problem, effort))
        return solve(problem, **options)  # type: ignore[arg-type]  # handed on as they came

    monkeypatch.setattr(ellwand.packing.parallel, "solve", counted)
    return seen


# A border and a backing beside pieces that leave gaps, so that bounds alone do not settle which way is best; invented.
GAPPY = """
[project]
name = "gappy"
[quilt]
[[block]]
name = "top"
finished = [50, 50]
[[border]]
name = "edge"
fabric = "ink"
width = 5
corners = "butted"
[backing]
fabric = "ink"
[[piece]]
name = "flap"
fabric = "ink"
cut = [7, 9]
count = 14
[[piece]]
name = "tab"
fabric = "ink"
cut = ["4 1/2", 6]
count = 9
[fabric.ink]
width = 43
sold_by = "1/8 in"
"""


def test_the_best_of_the_ways_packed_is_the_plan() -> None:
    """Where every mark of the ruler is a shop step, the least needed is the least bought."""
    memory: Memory = {}

    (answer,) = make_plan(project(GAPPY), effort=Effort.QUICK, memory=memory).fabrics

    lengths = {result.packing.length for result in memory.values()}
    assert len(lengths) > 1
    assert answer.needed == min(lengths) * Fraction(1, 8)


def test_only_the_most_promising_ways_get_more_than_a_quick_look(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the ways that are packed quickly, three are packed again with all the effort that is wanted."""
    efforts: list[Effort] = []

    def quick(problem: Problem, *, effort: Effort, seed: int, bound: Bound, **_: object) -> Result:
        efforts.append(effort)
        return solve(problem, effort=Effort.QUICK, seed=seed, bound=bound)

    monkeypatch.setattr(ellwand.packing.parallel, "solve", quick)
    only(GAPPY, effort=Effort.PROOF)

    assert efforts.count(Effort.PROOF) == 3
    assert efforts == [Effort.QUICK] * (len(efforts) - 3) + [Effort.PROOF] * 3
    assert len(efforts) > 6


# memory


class Notebook(dict[tuple[Problem, Effort, int, int], Result]):
    """A memory that counts what is written into it."""

    written = 0

    def __setitem__(self, key: tuple[Problem, Effort, int, int], value: Result) -> None:
        self.written += 1
        super().__setitem__(key, value)


def test_a_problem_met_twice_is_solved_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two fabrics with the same pieces are one problem; both get its layout."""
    calls, memory = count_solves(monkeypatch), Notebook()

    ink, oat = make_plan(project(TWINS), effort=Effort.QUICK, memory=memory).fabrics

    assert len(calls) == memory.written == len(memory) == 1
    assert ink.needed == oat.needed == 10
    assert [len(answer.layouts[0].placed) for answer in (ink, oat)] == [9, 9]


def test_a_memory_serves_the_next_plan_of_the_same_seed_and_effort(monkeypatch: pytest.MonkeyPatch) -> None:
    """The second plan packs nothing; another seed, or more effort, is packed for itself."""
    calls = count_solves(monkeypatch)
    memory: Memory = Notebook()
    first = make_plan(project(TWINS), effort=Effort.QUICK, memory=memory)

    assert make_plan(project(TWINS), effort=Effort.QUICK, memory=memory).fabrics == first.fabrics
    assert len(calls) == 1
    make_plan(project(TWINS), effort=Effort.QUICK, seed=1, memory=memory)
    assert len(calls) == 2
    make_plan(project(TWINS), effort=Effort.CAREFUL, memory=memory)
    assert [effort for _, effort in calls[2:]] == [Effort.CAREFUL]


def test_plans_without_a_memory_share_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is kept from one plan to the next unless a memory is handed in."""
    calls = count_solves(monkeypatch)

    make_plan(project(TWINS), effort=Effort.QUICK)
    make_plan(project(TWINS), effort=Effort.QUICK)

    assert len(calls) == 2


def test_whoever_watches_is_told_the_fabric() -> None:
    """A search that moves is told by its fabric's name, with a bound below the length."""
    told: list[tuple[str, Progress]] = []

    make_plan(project(TWINS), effort=Effort.QUICK, watch=lambda fabric, progress: told.append((fabric, progress)))

    assert {fabric for fabric, _ in told} == {"ink", "oat"}  # oat is the same problem, and not searched again
    assert all(progress.bound <= progress.length for _, progress in told)


# what it costs


@pytest.mark.parametrize(
    ("sold_by", "price", "steps", "cost"),
    [
        ("1/8 yd", "12.50", 5, "7.81"),  # 5/8 of 12.50 is 7.8125
        ("1/8 yd", "0.1", 5, "0.06"),  # 0.0625
        ("1/4 yd", "0.02", 3, "0.02"),  # 0.015: half a hundredth goes up
        ("1/4 yd", "0.06", 3, "0.05"),  # 0.045: and so it does after an even one
        ("10 cm", "12.50", 6, "8.20"),  # 60 of 91.44 cm, 8.2021
        ("7 in", "9", 3, "5.25"),  # 21 of 36 in
    ],
)
def test_cost_is_steps_times_price_to_a_hundredth(sold_by: str, price: str, steps: int, cost: str) -> None:
    """Two pockets need 20 in; prices are for a yard whatever the step."""
    answer = pockets(f'sold_by = "{sold_by}"\nprice = {price}')

    assert answer.steps == steps
    assert answer.cost == Decimal(cost)
    assert answer.cost.as_tuple().exponent == -2


def test_prices_are_for_a_metre_in_centimetre_projects() -> None:
    """20 in are 50.8 cm, six steps of 10 cm: 0.6 of the metre's price."""
    answer = pockets("price = 12.50", unit="cm")

    assert (answer.steps, answer.cost) == (6, Decimal("7.50"))


def test_without_a_price_there_is_no_cost() -> None:
    """None, not nothing."""
    assert pockets("").cost is None


# cloth on hand


def test_as_new_leaves_the_cloth_on_hand_out() -> None:
    """A printed pattern speaks to people who have none of it."""
    on_hand = "price = 9\non_hand = [ { length = 12 } ]"

    owner, reader = pockets(on_hand), pockets(on_hand, as_new=True)

    assert owner.needed == 10
    assert reader.needed == 20
    assert [layout.cloth.source.value for layout in owner.layouts] == ["on hand", "buy"]
    assert [layout.cloth.source.value for layout in reader.layouts] == ["buy"]
    assert reader.proof.cloths == ()


def test_cloth_that_is_enough_buys_nothing() -> None:
    """Nothing is needed, bought or paid, and that is proven."""
    answer = pockets("price = 9\non_hand = [ { length = 20 } ]\nbuy = false")

    assert answer.needed == answer.bought == 0
    assert (answer.steps, answer.cost) == (0, Decimal(0))
    assert (answer.proven, answer.bought_proven, answer.enough) == (True, True, True)


def test_what_may_not_be_bought_is_planned_as_though_it_could() -> None:
    """The plan says what is missing, and that it is not enough."""
    answer = pockets("on_hand = [ { length = 12 } ]\nbuy = false")

    assert answer.needed == 10
    assert not answer.enough
