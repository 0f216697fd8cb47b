"""Odd shapes and flaws: what is lost of them, against shapely; and plans on them, judged from their documents."""

from __future__ import annotations

from fractions import Fraction
from math import atan2
from random import Random

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from ellwand.areas import area_of
from ellwand.cloths import cloths_on_hand
from ellwand.model import Cloth, Layout, Plan, Source
from ellwand.outlines import BAND, area_of_polygon, free_area, lost_parts
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Polygon
from ellwand.record import plan_document
from ellwand.verdict import judge_plan

EIGHTH = Fraction(1, 8)
PROJECT = """
[project]
name = "Remnants"
layout = "{layout}"
[[piece]]
name = "leaf"
fabric = "moss"
cut = [4, 5]
count = {count}
[[piece]]
name = "pad"
fabric = "moss"
cut = [6, 9]
count = 3
grain = "lengthwise"
[fabric.moss]
width = 43
wash = true
shrinks = ["4 %", "2 %"]
on_hand = [
  {{ outline = [[0, 0], [20, 0], [20, 12], [7, 22], [0, 22]], flaws = [{{ x = 3, y = 4, across = 1, along = 2 }}] }},
  {{ length = "18 in", flaws = [{{ outline = [[10, 3], [13, 5], [11, 8]] }}] }},
  {{ length = 9, width = 9, count = 2 }},
]
"""


def ring(random: Random, count: int, size: int) -> Polygon:
    """A shape whose corners lie round its middle, so that no edges cross; on the sixteenths of an inch."""
    points = {(Fraction(random.randint(0, size), 16), Fraction(random.randint(0, size), 16)) for _ in range(count)}
    x, y = (sum(values, Fraction(0)) / len(points) for values in zip(*points, strict=True))
    return tuple(sorted(points, key=lambda point: atan2(point[1] - y, point[0] - x)))


def corners(*points: tuple[int, int]) -> Polygon:
    """Corners in whole inches."""
    return tuple((Fraction(x), Fraction(y)) for x, y in points)


def shape(polygon: Polygon) -> shapely.Polygon:
    """The same for shapely."""
    return shapely.Polygon([(float(x), float(y)) for x, y in polygon])


def cloth_of(outline: Polygon | None, flaws: tuple[Polygon, ...], side: Fraction = Fraction(10)) -> Cloth:
    """A cloth on hand of this outline, or a square."""
    return Cloth(
        id="moss 1",
        source=Source.ON_HAND,
        across=side,
        along=side,
        width=side,
        length=side,
        squaring=Fraction(0),
        washed=True,
        whole=True,
        outline=outline,
        flaws=flaws,
    )


def random_cloth(seed: int) -> Cloth:
    """A cloth with a random outline and a random flaw, valid both."""
    random = Random(seed)
    while True:
        outline, flaw = ring(random, random.randint(3, 7), 160), ring(random, 3, 60)
        if all(len(polygon) > 2 and shape(polygon).is_valid for polygon in (outline, flaw)):
            return cloth_of(outline, (flaw,))


def usable(cloth: Cloth) -> BaseGeometry:
    """What can be used of a cloth."""
    assert cloth.outline is not None
    return shape(cloth.outline).difference(shapely.union_all([shape(flaw) for flaw in cloth.flaws]))


def boxes(cloth: Cloth, band: Fraction) -> list[shapely.Polygon]:
    """Its lost parts in inches."""
    parts = lost_parts(cloth, EIGHTH, band)
    return [shapely.box(x / 8, y / 8, (x + w) / 8, (y + h) / 8) for x, y, w, h in parts]


@pytest.mark.parametrize("seed", range(30))
def test_what_is_lost_covers_all_that_cannot_be_used(seed: int) -> None:
    """The lost parts are disjoint, and nothing that can be cut is outside the shape; shapely's word."""
    cloth = random_cloth(seed)
    square = shapely.box(0, 0, 10, 10)

    for band in (BAND, Fraction(1, 2)):
        lost = boxes(cloth, band)
        left = square.difference(shapely.union_all(lost))

        assert shapely.union_all(lost).area == pytest.approx(sum(box.area for box in lost))
        assert left.difference(usable(cloth).buffer(1e-9)).area == pytest.approx(0)


@pytest.mark.parametrize("seed", range(30))
def test_at_most_an_eighth_is_lost_at_slanted_edges(seed: int) -> None:
    """Every square mark that is wholly usable is free in bands of a mark; derived: each is looked at."""
    cloth = random_cloth(seed)
    lost = shapely.union_all(boxes(cloth, BAND))
    shapely.prepare(lost)
    good = usable(cloth).buffer(-1e-9)
    shapely.prepare(good)

    marks = [shapely.box(x / 8, y / 8, (x + 1) / 8, (y + 1) / 8) for x in range(80) for y in range(80)]
    wasted = [mark for mark in marks if good.contains(mark.buffer(-1e-6)) and lost.intersection(mark).area > 1e-6]

    assert wasted == []


@pytest.mark.parametrize("seed", range(10))
def test_the_free_area_is_never_too_small(seed: int) -> None:
    """It is shapely's area in square marks, rounded up."""
    cloth = random_cloth(seed)

    assert 0 <= free_area(cloth, EIGHTH) - usable(cloth).area * 64 <= 1.01


def test_straight_edges_lose_nothing() -> None:
    """An L of ruler marks and a rectangular flaw are blocked exactly, as three parts however coarse the bands."""
    ell = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)))
    flaw = tuple((Fraction(x, 4), Fraction(y, 4)) for x, y in ((4, 4), (6, 4), (6, 6), (4, 6)))

    parts = lost_parts(cloth_of(ell, (flaw,)), EIGHTH, Fraction(5))

    assert set(parts) == {(8, 8, 4, 4), (32, 32, 48, 48)}


def test_area_of_a_shape() -> None:
    """A right triangle has half of its rectangle, whichever way round its corners are named."""
    triangle = ((Fraction(0), Fraction(0)), (Fraction(7), Fraction(0)), (Fraction(0), Fraction(5, 2)))

    assert area_of_polygon(triangle) == area_of_polygon(triangle[::-1]) == Fraction(35, 4)


def plan_of(layout: str, count: int) -> Plan:
    """The project above."""
    return make_plan(parse_project(PROJECT.format(layout=layout, count=count), "r.toml"), effort=Effort.QUICK)


@pytest.mark.parametrize("count", [10, 60, 90])
@pytest.mark.parametrize("layout", ["rotary", "free"])
def test_plans_on_odd_cloth_are_sound(layout: str, count: int) -> None:
    """The verdict finds no fault; only cloth without an outline or flaws has cuts, and that in rotary projects."""
    plan = plan_of(layout, count)
    (answer,) = plan.fabrics

    assert judge_plan(plan_document(plan)) == ()
    assert any(found.cloth.odd for found in answer.layouts)
    for found in answer.layouts:
        assert (found.tree is not None) == (layout == "rotary" and not found.cloth.odd)
        assert found.tree is not None or found.cuts == ()


def used(plan: Plan) -> list[Layout]:
    """Layouts of cloth with an outline or flaws."""
    return [layout for layout in plan.fabrics[0].layouts if layout.cloth.odd]


def test_offcuts_of_odd_cloth_can_be_kept() -> None:
    """No offcut reaches beyond an outline or over a flaw; shapely's word."""
    layouts = used(plan_of("free", 10))
    offcuts = [(layout.cloth, offcut) for layout in layouts for offcut in layout.offcuts]

    assert offcuts
    for cloth, offcut in offcuts:
        x, y = float(offcut.x), float(offcut.y)
        box = shapely.box(x, y, x + float(offcut.across), y + float(offcut.along))
        if cloth.outline is not None:
            assert shape(cloth.outline).buffer(1e-9).contains(box)
        assert all(shape(flaw).intersection(box).area == pytest.approx(0) for flaw in cloth.flaws)


def test_an_odd_shape_is_taken_whole() -> None:
    """What is taken of it is the area within its outline, and a flaw is scrap; derived: 20 x 22 less a corner."""
    (layout,) = [layout for layout in plan_of("free", 10).fabrics[0].layouts if layout.cloth.outline]
    pieces = sum(item.across * item.along for item in layout.placed)
    offcuts = sum(offcut.across * offcut.along for offcut in layout.offcuts)

    area = area_of([layout])

    assert layout.used == 22
    assert area.taken == 20 * 22 - Fraction(13 * 10, 2)
    assert area.scrap == area.taken - pieces - offcuts
    assert area.selvage + area.squaring == 0


def test_flaws_shrink_with_their_cloth() -> None:
    """Cloth still to be washed shrinks with its flaws, 4 % along and 2 % across; an odd shape counts as washed."""
    project = parse_project(PROJECT.format(layout="free", count=1), "r.toml")

    odd, length, *_ = cloths_on_hand(project.fabrics["moss"], project.ruler)

    assert odd.outline == corners((0, 0), (20, 0), (20, 12), (7, 22), (0, 22))
    shrunk = tuple((x * Fraction("0.98"), y * Fraction("0.96")) for x, y in corners((10, 3), (13, 5), (11, 8)))
    assert length.flaws == (shrunk,)


def test_corners_in_another_unit_are_put_to_a_thousandth() -> None:
    """10 cm in an inch project are 3.937 in: to the thousandth, so that the plan can say them as a decimal number."""
    text = PROJECT.format(layout="free", count=1).replace("[7, 22]", '["10 cm", 22]')

    cloth = parse_project(text, "r.toml").fabrics["moss"].on_hand[0]

    assert cloth.outline is not None
    assert cloth.outline[3] == (Fraction("3.937"), Fraction(22))


def test_a_corner_named_twice_is_one() -> None:
    """A ring that is closed by its first corner is the same shape."""
    text = PROJECT.format(layout="free", count=1)
    closed = text.replace("[0, 22]]", "[0, 22], [0, 22], [0, 0]]")

    assert closed != text
    assert parse_project(closed, "r.toml") == parse_project(text, "r.toml")
