"""Layouts of true size, read back by other readers: every length exact, units stated, layers named plainly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from io import StringIO
from xml.etree import ElementTree

import pytest
from ezdxf import units
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.text import Text
from ezdxf.filemanagement import read

from ellwand.lengths import unit_length
from ellwand.model import Plan
from ellwand_cli.views.machine import true_size_dxf, true_size_svg
from ellwand_cli.views.palette import numbers
from ellwand_cli.views.truesize import Layer
from ellwand_cli.views.typeset import printable

F = Fraction
Shape = tuple[tuple[Fraction, Fraction], ...]
SVG = "{http://www.w3.org/2000/svg}"


def svg_of(plan: Plan) -> ElementTree.Element:
    """The first cloth's SVG, read."""
    answer = plan.fabrics[0]
    return ElementTree.fromstring(true_size_svg(plan, answer, answer.layouts[0]))


def dxf_of(plan: Plan) -> Drawing:
    """The first cloth's DXF, read."""
    answer = plan.fabrics[0]
    return read(StringIO(true_size_dxf(plan, answer, answer.layouts[0]).decode()))


def svg_shapes(root: ElementTree.Element, layer: Layer) -> list[Shape]:
    """The shapes of a layer, counted as on cloth: y up."""
    group = next(one for one in root.iter(f"{SVG}g") if one.findtext(f"{SVG}title") == layer.value)
    points = [one.attrib["points"].split() for one in group if "points" in one.attrib]
    return [tuple((F(x), -F(y)) for x, y in (point.split(",") for point in shape)) for shape in points]


def dxf_shapes(drawing: Drawing, layer: Layer) -> list[Shape]:
    """The shapes of a layer; a decimal is read as it is written."""
    found = [one for one in drawing.modelspace() if isinstance(one, LWPolyline) and one.dxf.layer == layer.value]
    return [tuple((F(str(x)), F(str(y))) for x, y in one.get_points("xy")) for one in found]


def expected(plan: Plan) -> list[Shape]:
    """Corners of the pieces as they lie, in the plan's unit."""
    one = unit_length(plan.project.unit)
    boxes = [(p.x / one, p.y / one, p.across / one, p.along / one) for p in plan.fabrics[0].layouts[0].placed]
    return [((x, y), (x + w, y), (x + w, y + h), (x, y + h)) for x, y, w, h in boxes]


def test_every_piece_is_read_back_exact(plan: Plan) -> None:
    """Both files have every piece where it lies, in its true size, to the last digit."""
    assert Counter(svg_shapes(svg_of(plan), Layer.PIECES)) == Counter(expected(plan))
    assert Counter(dxf_shapes(dxf_of(plan), Layer.PIECES)) == Counter(expected(plan))


@pytest.mark.parametrize(("name", "unit", "code"), [("long bolt", "in", units.IN), ("metric", "cm", units.CM)])
def test_units_are_stated(named_plan: Callable[[str], Plan], name: str, unit: str, code: int) -> None:
    """One user unit of the SVG is an inch or a centimetre; the DXF's header says which its drawing units are."""
    root, drawing = svg_of(named_plan(name)), dxf_of(named_plan(name))

    box = root.attrib["viewBox"].split()
    assert (root.attrib["width"], root.attrib["height"]) == (f"{box[2]}{unit}", f"{box[3]}{unit}")
    assert drawing.units == code
    assert {"in": "in inches", "cm": "in centimetres"}[unit] in (root.findtext(f"{SVG}desc") or "")


@pytest.mark.parametrize(("name", "side"), [("long bolt", 4), ("metric", 10)])
def test_there_is_a_square_to_measure(named_plan: Callable[[str], Plan], name: str, side: int) -> None:
    """The test square is 4 in or 10 cm wide and high, clear of the cloth."""
    for shapes in (svg_shapes(svg_of(named_plan(name)), Layer.TEST), dxf_shapes(dxf_of(named_plan(name)), Layer.TEST)):
        (square,) = shapes
        xs, ys = {x for x, _ in square}, {y for _, y in square}
        assert max(xs) - min(xs) == max(ys) - min(ys) == side
        assert max(ys) < 0


def test_nothing_lies_off_the_page(plan: Plan) -> None:
    """All lines of the SVG lie inside its view box."""
    root = svg_of(plan)

    left, top, w, h = map(F, root.attrib["viewBox"].split())
    corners = [corner for layer in Layer for shape in svg_shapes(root, layer) for corner in shape]
    assert all(left < x < left + w and top < -y < top + h for x, y in corners)


def test_layers_have_plain_names(plan: Plan) -> None:
    """Both files have the layers, and nothing on any other."""
    names = {layer.value for layer in Layer}
    root, drawing = svg_of(plan), dxf_of(plan)

    assert {group.findtext(f"{SVG}title") for group in root.iter(f"{SVG}g")} == names
    assert names <= {layer.dxf.name for layer in drawing.layers}
    assert {entity.dxf.layer for entity in drawing.modelspace()} <= names
    assert drawing.audit().errors == []


def test_names_are_told_and_do_no_harm(named_plan: Callable[[str], Plan]) -> None:
    """Tags and odd signs are words, in letters of at least an eighth of an inch, inside their pieces."""
    plan = named_plan("hostile")
    number = numbers(plan)
    words = {text for one in number for text in (printable(one), str(number[one]))}

    root, drawing = svg_of(plan), dxf_of(plan)
    svg = list(root.iter(f"{SVG}text"))
    dxf = [one for one in drawing.modelspace() if isinstance(one, Text)]
    assert {one.text for one in svg} == {one.dxf.text for one in dxf}
    assert {one.text for one in svg} <= words
    assert "<b>bold</b>" in {one.text for one in svg}
    assert len(svg) == len(plan.fabrics[0].layouts[0].placed)
    assert min(F(one.attrib["font-size"]) for one in svg) >= F(1, 8)
    assert {child.tag.removeprefix(SVG) for child in root.iter()} == {"svg", "title", "desc", "g", "polygon", "text"}


def test_odd_outlines_and_flaws_are_read_back_exact(named_plan: Callable[[str], Plan]) -> None:
    """The cloth's own edge, and what must not be used of it."""
    plan = named_plan("fat quarter")
    outline = ((F(0), F(0)), (F(21), F(0)), (F(21), F(14)), (F(33, 2), F(18)), (F(0), F(18)))
    flaw = ((F(16), F(13)), (F(137, 8), F(13)), (F(16), F(57, 4)))
    answer = plan.fabrics[0]
    layout = answer.layouts[0]
    odd = replace(layout, cloth=replace(layout.cloth, outline=outline, flaws=(flaw,)))
    plan = replace(plan, fabrics=(replace(answer, layouts=(odd,)),))

    root, drawing = svg_of(plan), dxf_of(plan)
    assert svg_shapes(root, Layer.CLOTH) == dxf_shapes(drawing, Layer.CLOTH) == [outline]
    assert svg_shapes(root, Layer.FLAWS) == dxf_shapes(drawing, Layer.FLAWS) == [flaw]
    assert svg_shapes(root, Layer.SELVAGES) == []


def test_lines_to_cut_on_afterwards_are_there(named_plan: Callable[[str], Plan]) -> None:
    """Squares that become triangles have their diagonals, one or two, from corner to corner."""
    plan = named_plan("pieced")
    # derived: 3 squares cut twice and 2 cut once
    lines = svg_shapes(svg_of(plan), Layer.DIAGONALS)

    assert len(lines) == 2 * 3 + 2
    assert lines == dxf_shapes(dxf_of(plan), Layer.DIAGONALS)
    corners = {corner for shape in expected(plan) for corner in shape}
    assert all(end in corners for line in lines for end in line)


def test_equal_layouts_make_equal_files(named_plan: Callable[[str], Plan]) -> None:
    """Neither file has a date or a random name in it."""
    plan = named_plan("metric")
    answer = plan.fabrics[0]

    first, second = ((true_size_svg(plan, answer, answer.layouts[0]), true_size_dxf(plan, answer, answer.layouts[0]))
                     for _ in range(2))  # fmt: skip
    assert first == second
