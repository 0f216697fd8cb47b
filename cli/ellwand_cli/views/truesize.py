"""A layout in true size for projectors and cutting machines: what is drawn, on which layer, in the project's unit.

x runs from the left selvage's inner edge, y from the squared end, both in inches or both in centimetres. Every piece
of a layout is there, however many there are, and nothing is drawn but lines and names: a machine cuts what it is given.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ellwand.lengths import Notation, unit_length
from ellwand.model import FabricPlan, Layout, Offcut, Pair, Piece, Placed, Plan
from ellwand_cli.views.arrange import survey
from ellwand_cli.views.diagonals import cut_on_lines
from ellwand_cli.views.palette import numbers
from ellwand_cli.views.pen import Box
from ellwand_cli.views.typeset import drawn_width, printable

__all__ = ["Layer", "Mark", "Name", "test_side", "true_marks", "true_names"]

_HEIGHTS = tuple(Fraction(height) for height in ("1", "1/2", "1/4", "1/8"))  # of letters, inches; 1/8 in are 9 points


class Layer(Enum):
    """A layer's name in the files; a machine is told to cut the pieces alone."""

    CLOTH = "Cloth"
    SELVAGES = "Selvages"
    PIECES = "Pieces"
    DIAGONALS = "Cut afterwards"
    OFFCUTS = "Offcuts"
    FLAWS = "Flaws"
    TEST = "Test square"
    NAMES = "Names"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A line through `corners`, closed or not, counted in the unit."""

    layer: Layer
    corners: tuple[Pair, ...]
    closed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """Words centred at a point, their letters so high; `upright` ones read from below."""

    text: str
    middle: Pair
    height: Fraction
    upright: bool


def true_marks(plan: Plan, answer: FabricPlan, layout: Layout) -> tuple[Mark, ...]:
    """Every line of a layout, in the project's unit."""
    notation = plan.project.notation
    pieces = {piece.id: piece for piece in answer.pieces}
    marks = [*_cloth(answer, layout)]
    marks += [_rectangle(Layer.OFFCUTS, offcut) for offcut in layout.offcuts]
    for placed in layout.placed:
        marks.append(_rectangle(Layer.PIECES, placed))
        marks += _diagonals(pieces[placed.piece], placed)
    return (*(_in_units(mark, notation) for mark in marks), _test_square(plan.project.unit))


def test_side(unit: str) -> Fraction:
    """Side of the square to measure after printing, cutting or projecting: 4 in or 10 cm."""
    return Fraction(4 if unit == "in" else 10)


def _test_square(unit: str) -> Mark:
    """It lies below the squared end, a quarter of its side away from it."""
    side = test_side(unit)
    low, high = -side * 5 / 4, -side / 4
    corners = ((Fraction(0), low), (side, low), (side, high), (Fraction(0), high))
    return Mark(layer=Layer.TEST, corners=corners)


def _cloth(answer: FabricPlan, layout: Layout) -> Iterator[Mark]:
    """The cloth that can be used, up to where it is, its selvages and its flaws."""
    edges = survey(answer, layout).edges
    zero = Fraction(0)
    usable = _corners(zero, zero, edges.usable, edges.extent)
    yield Mark(layer=Layer.CLOTH, corners=layout.cloth.outline or usable)
    for start, width in ((-edges.selvage_left, edges.selvage_left), (edges.usable, edges.selvage_right)):
        if width > 0 and layout.cloth.outline is None:
            yield Mark(layer=Layer.SELVAGES, corners=_corners(start, zero, width, edges.extent))
    for flaw in layout.cloth.flaws:
        yield Mark(layer=Layer.FLAWS, corners=flaw)


def _diagonals(piece: Piece, placed: Placed) -> Iterator[Mark]:
    """The lines on which a square is cut afterwards; their ends are corners and middles of it, as shares exact."""
    for ends in cut_on_lines(piece, Box(0.0, 0.0, 1.0, 1.0)):
        corners = tuple(
            (placed.x + Fraction(x) * placed.across, placed.y + Fraction(y) * placed.along) for x, y in ends
        )
        yield Mark(layer=Layer.DIAGONALS, corners=corners, closed=False)


def _rectangle(layer: Layer, box: Placed | Offcut) -> Mark:
    return Mark(layer=layer, corners=_corners(box.x, box.y, box.across, box.along))


def _corners(x: Fraction, y: Fraction, across: Fraction, along: Fraction) -> tuple[Pair, ...]:
    return (x, y), (x + across, y), (x + across, y + along), (x, y + along)


def _in_units(mark: Mark, notation: Notation) -> Mark:
    corners = tuple((notation.in_units(x), notation.in_units(y)) for x, y in mark.corners)
    return Mark(layer=mark.layer, corners=corners, closed=mark.closed)


def true_names(plan: Plan, layout: Layout) -> tuple[Name, ...]:
    """Every piece's name where it fits in letters of an eighth of an inch or more, else its number, else nothing."""
    number, scale = numbers(plan), 1 / unit_length(plan.project.unit)
    known: dict[Placed, tuple[str, Fraction, bool] | None] = {}
    names = []
    for placed in layout.placed:
        kind = Placed(piece=placed.piece, x=Fraction(0), y=Fraction(0), across=placed.across, along=placed.along,
                      turned=False)  # fmt: skip
        if kind not in known:
            known[kind] = _lettering(placed, (printable(placed.piece), str(number[placed.piece])))
        found = known[kind]
        if found:
            text, height, upright = found
            middle = (placed.x + placed.across / 2) * scale, (placed.y + placed.along / 2) * scale
            names.append(Name(text=text, middle=middle, height=height * scale, upright=upright))
    return tuple(names)


def _lettering(placed: Placed, texts: tuple[str, ...]) -> tuple[str, Fraction, bool] | None:
    """The first of `texts` that fits its piece, how high its letters are, and whether they stand upright."""
    upright = placed.along > placed.across
    long, short = (placed.along, placed.across) if upright else (placed.across, placed.along)
    for text in texts:
        width = drawn_width(text, 72.0) / 72  # inches, in letters of an inch
        for height in _HEIGHTS:
            if width * float(height) <= 0.9 * float(long) and 2 * height <= short:
                return text, height, upright
    return None
