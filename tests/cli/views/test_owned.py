"""The ledger's cloths as text and drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch

from ellwand.ledger import Kind, OwnedCloth, Selvage, Used
from ellwand.lengths import Notation
from ellwand.project.tables import Way
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.owned import cloths_text, fabrics_text, in_short, used_text
from ellwand_cli.views.ownedcloth import owned_figure
from solver.ledger.owned import BOLT, INK, ODD, QUARTER

INCHES, METRES = Notation("in"), Notation("cm")
HOSTILE = "$x_{1}$ <b>&amp; \U0001f9f5 " + "very-long-name-" * 12
STAIN = tuple((Fraction(x), Fraction(y)) for x, y in ((3, 5), (9, 5), (9, 7), (3, 7)))
DRAWN: dict[str, OwnedCloth] = {
    "a length": replace(BOLT, id="K7"),
    "a long length": replace(BOLT, id="K7", along=Fraction(900), flaws=(STAIN,)),
    "a fat quarter": replace(QUARTER, id="K7", selvages=(Selvage.LEFT,)),
    "an offcut, its selvage cut off": replace(QUARTER, id="K7", selvages=(Selvage.LEFT,), trimmed=True),
    "an odd shape with a stain": replace(ODD, id="K7", flaws=(STAIN,)),
    "a sliver": replace(QUARTER, id="K7", across=Fraction(1, 2), along=Fraction(40)),
    "hostile words": replace(QUARTER, id="K7", lot=HOSTILE, place=HOSTILE),
    "a rest that no decimal can say": replace(BOLT, id="K7", along=Fraction(2000, 97)),
}


@pytest.mark.parametrize("cloth", DRAWN.values(), ids=DRAWN)
@pytest.mark.parametrize("notation", [INCHES, METRES], ids=["in", "cm"])
def test_every_word_of_a_drawing_can_be_read(
    cloth: OwnedCloth, notation: Notation, faults: Callable[[Figure], list[str]]
) -> None:
    """None is small, clipped or meets another, whatever the cloth."""
    fabric = replace(INK, way=Way.ONE_WAY, fibre=HOSTILE if cloth.lot == HOSTILE else "cotton")

    assert faults(owned_figure(cloth, fabric, notation)) == []


def corners(figure: Figure, label: str) -> list[tuple[float, float]]:
    """Where the lines under a label begin."""
    (lines,) = [group for group in figure.findobj(PathPatch) if group.get_label() == label]
    assert isinstance(lines, PathPatch)
    return [(float(x), float(y)) for x, y in np.asarray(lines.get_path().vertices)[::2]]


def test_an_outline_and_its_flaws_are_drawn_to_scale() -> None:
    """Corner by corner, one scale for all: 20 across from the first corner to the second (as entered)."""
    figure = owned_figure(DRAWN["an odd shape with a stain"], INK, INCHES)
    assert ODD.outline is not None

    edge, flaw = corners(figure, "outline"), corners(figure, "flaws")

    scale = (edge[1][0] - edge[0][0]) / 20
    for shape, drawn in ((ODD.outline, edge), (STAIN, flaw)):
        expected = [(edge[0][0] + float(x) * scale, edge[0][1] + float(y) * scale) for x, y in shape]
        assert np.allclose(drawn, expected)


def test_equal_cloths_make_equal_files() -> None:
    """A drawing is the same on every day."""
    one, other = (figure_bytes(owned_figure(DRAWN["a length"], INK, INCHES), "svg") for _ in range(2))

    assert one == other


def test_a_cloth_in_one_line() -> None:
    """What there is to know of it, in yards where it is a length."""
    assert in_short(replace(BOLT, id="K7", along=Fraction(81), place="box"), INCHES) == (
        "length  ·  43 in × 2 1/4 yd  ·  not washed  ·  lot A7  ·  box"
    )
    assert in_short(QUARTER, METRES) == "2 alike  ·  rectangle  ·  ≈ 53.3 × ≈ 45.7 cm  ·  washed  ·  drawer"
    assert in_short(replace(BOLT, along=Fraction(2000, 97)), INCHES).startswith("length  ·  43 in × ≈ 20 5/8 in")


def test_wide_signs_do_not_shift_the_columns() -> None:
    """A sign that a terminal shows two columns wide counts as two."""
    cloths = [replace(QUARTER, id="A1", lot="藍", note="x"), replace(QUARTER, id="B1", lot="ab", note="y")]
    lines = cloths_text(cloths, INCHES, sought=False).splitlines()

    assert lines[1].rindex("x") + 1 == lines[2].rindex("y")


def test_without_anything_there_is_a_sentence() -> None:
    """No cloth, no fabric, nothing left of a plan."""
    assert cloths_text([], INCHES, sought=True) == "No cloth of that kind.\n"
    assert cloths_text([], INCHES, sought=False) == "No cloth yet. To add some: ellwand cloth add --help\n"
    assert fabrics_text([], [], INCHES) == "No fabric yet.\n"
    assert used_text(Used(gone=("A1",), less=(), new=()), INCHES) == "Cut up: A1.\nNo offcut is left.\n"


def test_control_signs_do_not_reach_the_terminal() -> None:
    """A ledger that another program wrote may hold any."""
    cloth = replace(QUARTER, id="A1", fabric="ink\x1b[31m", kind=Kind.RECTANGLE, note="one\ntwo")

    assert "\x1b" not in cloths_text([cloth], INCHES, sought=False)
    assert len(cloths_text([cloth], INCHES, sought=False).splitlines()) == 2
