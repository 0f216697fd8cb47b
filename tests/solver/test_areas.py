"""Where the cloth goes, on small layouts worked out by hand; all cloth is invented."""

from __future__ import annotations

from dataclasses import astuple
from fractions import Fraction

import pytest

from ellwand.areas import area_of, shrinkage_of, sum_areas
from ellwand.assign import Job, assign, lay_out
from ellwand.model import Area, Layout
from ellwand.packing.problem import Packing, Place
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out

TEXT = """
[project]
name = "patches"
keep = {keep}
layout = "{style}"
[[piece]]
name = "patch"
fabric = "oat"
cut = [{across}, 10]
count = {count}
grain = "lengthwise"
[fabric.oat]
{fabric}
"""
MARKS = 8  # to the inch

# Washing leaves 49 of 50 across, and 48 of them between the selvages.
WASHED = 'width = 50\nwash = true\nshrinks = ["4 %", "2 %"]\nsold_by = "12 in"'
PLAIN = "width = 44"


def job(fabric: str, *, across: int = 10, count: int = 1, keep: int = 4, style: str = "rotary") -> Job:
    """So many patches of `across` × 10 to be cut from the one fabric."""
    text = TEXT.format(fabric=fabric, across=across, count=count, keep=keep, style=style)
    project = parse_project(text, "oat.toml")
    (part,) = work_out(project).parts
    return assign(project, project.fabrics["oat"], part.pieces, as_new=False)


def side_by_side(job: Job, stock: int) -> Layout:
    """All patches in one row at the squared end of one cloth."""
    (item,) = job.problem.items
    places = tuple(Place(item=0, stock=stock, x=n * item.w, y=0, turned=False) for n in range(item.demand))
    bought = stock == len(job.cloths)
    (layout,) = lay_out(job, Packing(places=places, length=10 * MARKS if bought else 0))
    return layout


def area(pieces: str, offcuts: str, scrap: str, selvage: str, squaring: str, rounding: str) -> Area:
    """Square inches as decimals."""
    parts = {"pieces": pieces, "offcuts": offcuts, "scrap": scrap}
    lost = {"selvage": selvage, "squaring": squaring, "rounding": rounding}
    return Area(**{name: Fraction(value) for name, value in {**parts, **lost}.items()})


@pytest.mark.parametrize("style", ["rotary", "free"])
@pytest.mark.parametrize(("keep", "offcuts", "scrap"), [(8, "80", "0"), (9, "0", "80")], ids=["kept", "too small"])
def test_cloth_to_buy_is_washed_squared_and_rounded_to_the_step(
    style: str, keep: int, offcuts: str, scrap: str
) -> None:
    """Four patches of 10 × 10 beside 8 × 10 left; 12 in are bought, 11.52 when washed, and 10 1/2 of them used."""
    layout = side_by_side(job(WASHED, count=4, keep=keep, style=style), 0)

    # 11.52 × 1 of selvage; 1/2 × 48 of squaring; (11.52 - 10.5) × 48 more than needed.
    assert area_of([layout]) == area("400", offcuts, scrap, "11.52", "24", "48.96")
    assert area_of([layout]).taken == Fraction("11.52") * 49


def test_both_ends_are_squared() -> None:
    """1/2 in at each end is 1 in over the usable width; what is bought beyond that is that much less."""
    layout = side_by_side(job(PLAIN + '\nsquare_up_ends = 2\nsold_by = "12 in"'), 0)

    assert area_of([layout]) == area("100", "330", "0", "12", "43", "43")
    assert area_of([layout]).taken == 12 * 44


def test_a_length_on_hand_is_taken_up_to_its_last_piece() -> None:
    """Two patches of a length of 30 take 10 1/2 of it, squaring included, over all of its width."""
    layout = side_by_side(job(PLAIN + "\non_hand = [ { length = 30 } ]", count=2), 0)

    assert area_of([layout]) == area("200", "230", "0", "10.5", "21.5", "0")
    assert area_of([layout]).taken == Fraction("10.5") * 44


def test_a_rectangle_is_taken_whole() -> None:
    """One patch of 21 × 18 with a selvage, 1/2 in squared: 10 1/2 × 10 beside it and 20 1/2 × 7 1/2 above are kept."""
    rectangle = '{ width = 21, length = 18, selvages = 1, square_up = "1/2 in" }'
    layout = side_by_side(job(f"{PLAIN}\non_hand = [ {rectangle} ]"), 0)

    assert area_of([layout]) == area("100", "258.75", "0", "9", "10.25", "0")
    assert area_of([layout]).taken == 21 * 18


def test_what_the_ruler_cannot_use_is_scrap_lengthwise_and_selvage_crosswise() -> None:
    """A rectangle of 21.1 × 18.1 can be used for 21 × 18: the tenth across counts as edge, the tenth along as scrap."""
    layout = side_by_side(job(PLAIN + "\non_hand = [ { width = 21.1, length = 18.1 } ]"), 0)

    assert area_of([layout]) == area("100", "278", "2.1", "1.81", "0", "0")
    assert area_of([layout]).taken == Fraction("21.1") * Fraction("18.1")


def test_areas_add_up_part_by_part() -> None:
    """A length and a rectangle together are the sum of each; no cloth is no area."""
    wanted = job(PLAIN + "\non_hand = [ { length = 30 }, { width = 21, length = 18 } ]")
    layouts = [side_by_side(wanted, 0), side_by_side(wanted, 1)]

    both = area_of(layouts)

    assert both == sum_areas([area_of([layout]) for layout in layouts])
    assert both == area("200", "608", "0", "10.5", "21.5", "0")
    assert sum_areas([]) == area_of([]) == area("0", "0", "0", "0", "0", "0")


def test_waste_is_scrap_selvage_and_squaring_of_what_is_taken() -> None:
    """80 + 11.52 + 24 of 564.48 is 20.46 %; what is bought beyond the need is no waste, and nothing wastes nothing."""
    layout = side_by_side(job(WASHED, count=4, keep=9), 0)

    assert str(area_of([layout]).waste_percent) == "20.5"
    assert area_of([]).waste_percent == 0


# shrinkage


def test_cloth_to_buy_shrinks_in_both_directions() -> None:
    """12 × 50 in the shop is 11.52 × 49 on the table."""
    wanted = job(WASHED)

    assert shrinkage_of(wanted.fabric, [side_by_side(wanted, 0)]) == 12 * 50 - Fraction("11.52") * 49


@pytest.mark.parametrize(
    ("cloth", "washed", "shrinkage"),
    [
        ("{ length = 30 }", False, "32.375"),  # 10 1/2 × 49 taken, of 10.9375 × 50 before
        ("{ length = 30, washed = true }", True, "0"),
        ("{ length = 20, width = 25, washed = false }", False, "29.6"),  # 19.2 × 24.5 of 20 × 25
        ("{ length = 20, width = 25 }", True, "0"),  # a rectangle is as measured, unless it says otherwise
    ],
)
def test_cloth_marked_washed_shrinks_no_more(cloth: str, washed: bool, shrinkage: str) -> None:
    """Only what is still to be washed loses area."""
    wanted = job(f"{WASHED}\non_hand = [ {cloth} ]")
    layout = side_by_side(wanted, 0)

    assert layout.cloth.washed is washed
    assert shrinkage_of(wanted.fabric, [layout]) == Fraction(shrinkage)


def test_cloth_that_is_never_washed_never_shrinks() -> None:
    """What it would lose in the wash is written, and does not count without wash = true."""
    wanted = job('width = 44\nshrinks = ["4 %", "2 %"]\non_hand = [ { length = 30, washed = false } ]')

    assert shrinkage_of(wanted.fabric, [side_by_side(wanted, 0)]) == 0
    assert side_by_side(wanted, 0).used == Fraction("10.5")


def test_shrinkage_adds_up_over_cloths() -> None:
    """One washed and one unwashed cloth: that of the unwashed one; no area part is changed by it."""
    wanted = job(f"{WASHED}\non_hand = [ {{ length = 30 }}, {{ length = 30, washed = true }} ]")
    layouts = [side_by_side(wanted, 0), side_by_side(wanted, 1)]

    assert shrinkage_of(wanted.fabric, layouts) == Fraction("32.375")
    assert astuple(area_of(layouts[:1])) == astuple(area_of(layouts[1:]))
