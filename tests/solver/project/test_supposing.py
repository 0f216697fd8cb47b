"""A project with other cloth on hand than its file lists."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.errors import InputError
from ellwand.lengths import unit_length
from ellwand.project.read import parse_project
from ellwand.project.supposing import suppose
from ellwand.project.tables import OnHand

F = Fraction
TEXT = """
[project]
name = "Bag"
unit = "UNIT"
[[piece]]
name = "pocket"
fabric = "oat"
cut = [8, 8]
[fabric.oat]
width = 110
square_up_ends = 2
square_up = 1
on_hand = [{ length = 50 }, { length = 9, width = 9 }]
[fabric."a = b"]
width = 110
on_hand = [{ length = 7 }]
"""


def supposed(*wishes: str, unit: str = "in") -> dict[str, tuple[OnHand, ...]]:
    """The cloth on hand of every fabric."""
    project = suppose(parse_project(TEXT.replace("UNIT", unit), "bag.toml"), wishes, "--what-if")
    return {name: fabric.on_hand for name, fabric in project.fabrics.items()}


def test_what_is_supposed_takes_the_place_of_what_is_listed() -> None:
    """A length of the full width, unwashed, with both selvages and both ends to square; other fabrics stay."""
    cloth = OnHand(length=F(54), selvages=2, washed=False, square_up=F(2))

    assert supposed("oat = 1 1/2 yd")["oat"] == (cloth,)
    assert supposed("oat = 1 1/2 yd")["a = b"] == supposed()["a = b"]
    assert len(supposed()["oat"]) == 2


def test_several_lengths_of_one_fabric_and_none() -> None:
    """Each counts as a cloth; a length of 0 is no cloth; a name may have an equals sign in it."""
    assert [cloth.length for cloth in supposed("oat=9", "oat = 1 ft")["oat"]] == [9, 12]
    assert supposed("oat = 0")["oat"] == ()
    assert [cloth.length for cloth in supposed("a = b = 3")["a = b"]] == [3]


def test_a_bare_number_is_in_the_projects_unit() -> None:
    """And a foreign one is taken down to a millionth of it, as in the file."""
    (bare, foreign) = supposed("oat = 40", "oat = 1/7 yd", unit="cm")["oat"]

    assert bare.length == 40 * unit_length("cm")
    assert F(36, 7) - unit_length("cm") / 10**6 < foreign.length < F(36, 7)


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        ("oat", '--what-if: "oat" is no fabric with a length. Write a fabric and a length: "oat = 1 1/2 yd".'),
        ("= 3", '--what-if: "= 3" is no fabric with a length. Write a fabric and a length: "oat = 1 1/2 yd".'),
        ("oats = 3", '--what-if: there is no fabric "oats". Did you mean "oat"?'),
        ("oat = tall", '--what-if: oat: cannot read "tall" as a length. Try 2 1/2 in, 2.5 in or 64 mm.'),
        ("oat =", '--what-if: oat: cannot read "" as a length. Try 2 1/2 in, 2.5 in or 64 mm.'),
        ("oat = 1000 yd", '--what-if: oat: "1000 yd" is too long. A length is at most 10000 in.'),
    ],
)
def test_what_cannot_be_supposed(wish: str, said: str) -> None:
    """One sentence: what was found, and what would be right."""
    with pytest.raises(InputError) as caught:
        supposed(wish)

    assert str(caught.value) == said
