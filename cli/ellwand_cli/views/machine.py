"""Layouts in true size as SVG and DXF files."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from io import StringIO
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from ellwand.lengths import decimal_of, is_decimal
from ellwand.model import FabricPlan, Layout, Plan
from ellwand_cli.views.origin import cloth_title
from ellwand_cli.views.truesize import Layer, Mark, Name, test_side, true_marks, true_names

if TYPE_CHECKING:
    from ezdxf.document import Drawing

__all__ = ["true_size_dxf", "true_size_svg"]

_COLOURS = {  # of the SVG's lines, and the number of the DXF's colour
    Layer.CLOTH: ("#26242b", 7),
    Layer.SELVAGES: ("#a09b92", 8),
    Layer.PIECES: ("#c00000", 1),
    Layer.DIAGONALS: ("#0060c0", 5),
    Layer.OFFCUTS: ("#008040", 3),
    Layer.FLAWS: ("#c000c0", 6),
    Layer.TEST: ("#b58a2e", 2),
    Layer.NAMES: ("#26242b", 7),
}
_UNITS = {"in": "inches", "cm": "centimetres"}
_MARGIN = Fraction(1, 2)  # units of bare ground round an SVG, so that no line is cut off
_LINE = "0.02"  # width of its lines, in the unit


def true_size_svg(plan: Plan, answer: FabricPlan, layout: Layout) -> bytes:
    """A layout as an SVG file of its true size, one user unit an inch (a centimetre), one group a layer."""
    marks, names = true_marks(plan, answer, layout), true_names(plan, layout)
    unit = plan.project.unit
    xs, ys = zip(*(corner for mark in marks for corner in mark.corners), strict=True)
    left, top = min(xs) - _MARGIN, max(ys) + _MARGIN
    w, h = max(xs) + _MARGIN - left, top - min(ys) + _MARGIN
    root = ElementTree.Element("svg", {
        "xmlns": "http://www.w3.org/2000/svg", "width": f"{_number(w)}{unit}", "height": f"{_number(h)}{unit}",
        "viewBox": f"{_number(left)} {_number(-top)} {_number(w)} {_number(h)}", "role": "img",
    })  # fmt: skip
    ElementTree.SubElement(root, "title").text = f"{plan.project.name}: {cloth_title(answer, layout)}, true size"
    ElementTree.SubElement(root, "desc").text = _told(unit)
    for layer in Layer:
        group = ElementTree.SubElement(root, "g", {"id": layer.value.replace(" ", "-").lower()})
        ElementTree.SubElement(group, "title").text = layer.value
        if layer is Layer.NAMES:
            _add_names(group, names)
        else:
            group.attrib.update({"fill": "none", "stroke": _COLOURS[layer][0], "stroke-width": _LINE})
            _add_lines(group, [mark for mark in marks if mark.layer is layer])
    text = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()


def _told(unit: str) -> str:
    side = test_side(unit)
    return (
        f"True size, in {_UNITS[unit]}. x runs from the left selvage's inner edge, the squared end "
        f"is at the bottom. Measure the test square before anything is cut: {side} × {side} {unit}."
    )


def _add_lines(group: ElementTree.Element, marks: list[Mark]) -> None:
    for mark in marks:
        points = " ".join(f"{_number(x)},{_number(-y)}" for x, y in mark.corners)
        ElementTree.SubElement(group, "polygon" if mark.closed else "polyline", {"points": points})


def _add_names(group: ElementTree.Element, names: tuple[Name, ...]) -> None:
    group.attrib.update({"fill": _COLOURS[Layer.NAMES][0], "font-family": "DejaVu Sans, sans-serif"})
    group.attrib["text-anchor"] = "middle"
    for name in names:
        x, y = _number(name.middle[0]), _number(-name.middle[1])
        place = {"x": x, "y": y, "dy": "0.36em", "font-size": _number(name.height)}
        if name.upright:
            place["transform"] = f"rotate(-90 {x} {y})"
        ElementTree.SubElement(group, "text", place).text = name.text


def _number(value: Fraction) -> str:
    """`value` as a decimal: exact where it ends, which all places and cut sizes do."""
    return f"{decimal_of(value):f}" if is_decimal(value) else f"{float(value):.6f}"


def true_size_dxf(plan: Plan, answer: FabricPlan, layout: Layout) -> bytes:
    """A layout as a DXF file of its true size, one drawing unit an inch (a centimetre), as its header says."""
    from ezdxf import units
    from ezdxf.filemanagement import new

    text = StringIO()
    with _undated():
        document = new("R2010")
        document.units = units.IN if plan.project.unit == "in" else units.CM
        for layer in Layer:
            document.layers.add(layer.value, color=_COLOURS[layer][1])
        _add_entities(document, true_marks(plan, answer, layout), true_names(plan, layout))
        document.write(text)
    return text.getvalue().encode()


@contextmanager
def _undated() -> Iterator[None]:
    """No dates and no random names in the file, so that equal layouts make equal files."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _add_entities(document: Drawing, marks: tuple[Mark, ...], names: tuple[Name, ...]) -> None:
    from ezdxf.enums import TextEntityAlignment

    space = document.modelspace()
    for mark in marks:
        corners = [(float(x), float(y)) for x, y in mark.corners]
        space.add_lwpolyline(corners, close=mark.closed, dxfattribs={"layer": mark.layer.value})
    for name in names:
        turned = {"layer": Layer.NAMES.value, "rotation": 90.0 if name.upright else 0.0}
        entity = space.add_text(name.text, height=float(name.height), dxfattribs=turned)
        entity.set_placement([float(side) for side in name.middle], align=TextEntityAlignment.MIDDLE_CENTER)
