"""No cloth is made and none is lost: areas before and after, over any sequence of uses and undos."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.ledger import Kind, Ledger, OwnedCloth, Used, taking_of
from ellwand.model import FabricPlan, Source
from ellwand.outlines import area_of_polygon
from ellwand.project.tables import Polygon
from solver.ledger.owned import BOLT, INK, Wish, opened, planned, stocked

WISHES = st.builds(
    Wish,
    name=st.sampled_from(("patches", "flags")),
    across=st.sampled_from((5, 9)),
    along=st.sampled_from((6, 11)),
    count=st.sampled_from((2, 9, 25)),
)
STEPS = st.lists(st.one_of(WISHES, st.just("undo"), st.just("measure")), min_size=1, max_size=4)
FEW = settings(max_examples=25, deadline=None, derandomize=True)


@contextmanager
def anew() -> Iterator[Ledger]:
    """A stocked ledger of its own."""
    with TemporaryDirectory() as folder, stocked(Path(folder) / "ledger.sqlite") as ledger:
        yield ledger


def area(cloths: Iterable[OwnedCloth]) -> Fraction:
    """Of all of them as measured, flaws included."""
    areas = [
        cloth.count * (area_of_polygon(cloth.outline) if cloth.outline else cloth.across * cloth.along)
        for cloth in cloths
    ]
    return sum(areas, Fraction(0))


def bought_area(answer: FabricPlan) -> Fraction:
    """Cloth that a plan buys, unwashed."""
    return answer.bought * INK.width if any(lay.cloth.source is Source.BUY for lay in answer.layouts) else Fraction(0)


def rest_of_bought(used: Used) -> Fraction:
    """What a plan buys beyond need, where it goes into the ledger."""
    return area(new for new in used.new if new.kind is Kind.LENGTH and "bought" in new.note)


def use(ledger: Ledger, wish: Wish) -> None:
    """Plan a wish with what is there, take it, and weigh what became of the cloth."""
    plan, document = planned(ledger, wish)
    before = area(ledger.cloths())
    used = ledger.use(taking_of(document))
    (answer,) = plan.fabrics
    parts, rest = answer.area, rest_of_bought(used)
    lost = parts.pieces + parts.scrap + parts.selvage + parts.squaring + parts.rounding - rest + answer.shrinkage

    assert before + bought_area(answer) == area(ledger.cloths()) + lost
    assert 0 <= rest <= parts.rounding + parts.selvage
    offcuts = area(new for new in used.new if new.kind is Kind.RECTANGLE)
    assert offcuts == parts.offcuts
    assert all(new.washed and new.fabric == "ink" for new in used.new if new.kind is Kind.RECTANGLE)


@pytest.mark.parametrize("times", [1, 2, 3])
def test_a_metric_plan_takes_cloth_that_was_measured_in_inches(tmp_path: Path, times: int) -> None:
    """Plans in centimetres, of a rest whose inches no decimal can write: areas agree to the last fraction."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        ledger.remove_cloth("C1")
        for number in range(times):
            use(ledger, Wish(name=f"plan {number}", across=15, along=13, count=5, unit="cm"))

        assert ledger.cloth("A1").along.denominator % 97 == 0
        assert ledger.check() == ()


def measure_again(ledger: Ledger) -> None:
    """Correct the last cloth: it came out a little smaller."""
    last = ledger.cloths()[-1]
    if last.kind is not Kind.ODD:
        ledger.edit_cloth(last.id, replace(last, along=last.along * Fraction(7, 8)))


@FEW
@given(steps=STEPS)
def test_cloth_is_conserved_and_undo_gives_every_state_back(steps: list[Wish | str]) -> None:
    """Area before = pieces + offcuts + scrap + selvage + squaring + shrinkage + what is left; undo is exact."""
    with anew() as ledger:
        states = [ledger.state_text()]
        for step in steps:
            if isinstance(step, Wish):
                use(ledger, step)
            elif step == "undo" and len(states) > 1:
                ledger.undo()
                assert ledger.state_text() == states.pop(-2)
                states.pop()
            elif step == "measure":
                measure_again(ledger)
            if standing(ledger) > len(states):
                states.append(ledger.state_text())
            else:
                states = [*states, ledger.state_text()][: standing(ledger)]
            assert ledger.check() == ()
        while len(states) > 1:
            states.pop()
            ledger.undo()
            assert ledger.state_text() == states[-1]


def standing(ledger: Ledger) -> int:
    """How many entries of the history stand."""
    return sum(entry.undone is None for entry in ledger.history())


def rectangle(x: Fraction | int, y: Fraction | int, across: int, along: Fraction | int) -> Polygon:
    """Corners of a rectangle."""
    x, y = Fraction(x), Fraction(y)
    return ((x, y), (x + across, y), (x + across, y + along), (x, y + along))


def flawed(path: Path, *flaws: Polygon) -> Ledger:
    """A ledger of one washed bolt, 30 in long, with flaws."""
    ledger = opened(path)
    ledger.take_in([INK], [replace(BOLT, washed=True, flaws=flaws)])
    return ledger


def test_a_length_with_a_flaw_keeps_what_lies_beyond_the_cut(tmp_path: Path) -> None:
    """A flaw before the cut goes with the pieces; one beyond it is counted from the new end, squared or not."""
    near, far = rectangle(0, 1, 2, 1), rectangle(0, 28, 2, 1)
    with flawed(tmp_path / "ledger.sqlite", near, far) as ledger:
        plan, document = planned(ledger, Wish(across=6, along=7, count=6))

        ledger.use(taking_of(document))

        (layout,) = plan.fabrics[0].layouts
        rest = ledger.cloth("A1")
        assert rest.along == 30 - layout.used
        assert layout.cloth.squaring == Fraction(1, 2)
        assert rest.flaws == (rectangle(0, 28 - layout.used, 2, 1 + layout.cloth.squaring),)


def test_no_later_plan_cuts_through_a_flaw_of_a_rest(tmp_path: Path) -> None:
    """A stain stays where it is on the cloth, 14 in from the first end as it came, however often that is cut back."""
    stain = rectangle(0, Fraction(27, 2), 43, 1)  # counted from the squared end, and squaring takes 1/2 in
    with flawed(tmp_path / "ledger.sqlite", stain) as ledger:
        begins = Fraction(0)  # how far from that first end the length now begins
        for number, along in enumerate((5, 4, 4, 2)):
            plan, document = planned(ledger, Wish(name=f"plan {number}", across=9, along=along, count=4))
            (layout,) = plan.fabrics[0].layouts
            low = begins + layout.cloth.squaring
            lies = [(low + placed.y, low + placed.y + placed.along) for placed in layout.placed]

            ledger.use(taking_of(document))

            assert all(end <= 14 or start >= 15 for start, end in lies)
            begins += layout.used
            for squaring in (0, Fraction(1, 4), Fraction(1, 2)):  # of the next plan: all of the stain is known to it
                for flaw in ledger.cloth("A1").flaws:
                    assert min(y for _, y in flaw) <= max(14 - begins - squaring, Fraction(0))
                    assert max(y for _, y in flaw) >= 15 - begins - squaring
            assert ledger.cloth("A1").flaws or begins >= 15
        assert begins > 15


def test_offcuts_know_their_cloth(tmp_path: Path) -> None:
    """Offcuts of a length keep its lot and the edges at which they touch its selvages, which are off."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        for other in ledger.cloths()[1:]:
            ledger.remove_cloth(other.id)
        (bolt,) = ledger.cloths()
        plan, document = planned(ledger, Wish(across=9, along=6, count=3))

        used = ledger.use(taking_of(document))

        (layout,) = plan.fabrics[0].layouts
        assert used.less == (bolt.id,)
        assert [(new.across, new.along) for new in used.new] == [(cut.across, cut.along) for cut in layout.offcuts]
        assert used.new
        for new, cut in zip(used.new, layout.offcuts, strict=True):
            edges = [edge.value for edge in new.selvages]
            assert ("left" in edges) == (cut.x == 0)
            assert ("right" in edges) == (cut.x + cut.across == layout.cloth.across)
            assert (new.lot, new.trimmed, new.washed, new.selvages_to_lose) == ("A7", True, True, 0)


@pytest.mark.parametrize("count", [1, 2])
def test_rectangles_alike_go_one_by_one(tmp_path: Path, count: int) -> None:
    """Of two fat quarters under one id as many go as the plan cuts into."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        _, quarter, _ = ledger.cloths()
        for other in ledger.cloths():
            if other.id != quarter.id:
                ledger.remove_cloth(other.id)
        _, document = planned(ledger, Wish(across=20, along=17, count=count))

        used = ledger.use(taking_of(document))

        left = [cloth.count for cloth in ledger.cloths() if cloth.id == quarter.id]
        assert left == [1] * (count == 1)
        assert used.gone == (quarter.id,) * (count == 2)
