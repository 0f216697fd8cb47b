"""Pieces are told apart in grey print and by every colour vision."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from ellwand_cli.views.palette import INK, Swatch, swatch

# Linear red, green and blue as people see them who lack one kind of cone.
# Source: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, IEEE Transactions on Visualization and Computer
# Graphics 15 (2009), tables for severity 1.0.
VISIONS = {
    "full": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "no red": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "no green": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "no blue": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}
# Source: IEC 61966-2-1 (sRGB), its primaries in CIE XYZ, white D65.
XYZ = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
WHITE = (0.9505, 1.0, 1.089)
Colour = tuple[float, ...]


def linear(colour: str) -> Colour:
    """``#rrggbb`` as linear light, 0 to 1 (IEC 61966-2-1)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    return tuple(part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)


def applied(matrix: tuple[Colour, ...], colour: Colour) -> Colour:
    """A colour through a matrix, within what can be shown."""
    return tuple(min(1.0, max(0.0, sum(a * b for a, b in zip(row, colour, strict=True)))) for row in matrix)


def lab(colour: Colour) -> Colour:
    """CIE L*a*b* of linear light (CIE 15)."""
    x, y, z = (
        value ** (1 / 3) if value > 216 / 24389 else (24389 / 27 * value + 16) / 116
        for value in (
            sum(a * b for a, b in zip(row, colour, strict=True)) / white for row, white in zip(XYZ, WHITE, strict=True)
        )
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def apart(one: str, two: str, vision: str) -> float:
    """How different two colours look, CIE 1976; 2.3 is just noticeable (M. Mahy and others, 1994)."""
    a, b = (lab(applied(VISIONS[vision], linear(colour))) for colour in (one, two))
    return float(sum((p - q) ** 2 for p, q in zip(a, b, strict=True)) ** 0.5)


def contrast(one: str, two: str) -> float:
    """Of a grey print, by luminance alone (WCAG 2.1)."""
    low, high = sorted(sum(a * b for a, b in zip(XYZ[1], linear(colour), strict=True)) for colour in (one, two))
    return (high + 0.05) / (low + 0.05)


def looks() -> list[Swatch]:
    """The first 64 kinds."""
    return [swatch(number) for number in range(1, 65)]


def test_all_kinds_differ() -> None:
    """No two of the first 64 have both tint and pattern in common."""
    assert len({(look.tint, look.pattern) for look in looks()}) == 64


@pytest.mark.parametrize("vision", VISIONS)
def test_kinds_of_one_pattern_differ_in_tint_for_every_colour_vision(vision: str) -> None:
    """Where the pattern does not tell two kinds apart, their tints do: four times what is just noticeable."""
    for one, two in combinations(looks(), 2):
        if one.pattern is two.pattern:
            assert apart(one.tint, two.tint, vision) > 4 * 2.3


def test_neighbours_differ_in_grey() -> None:
    """Two kinds in a row have different patterns; so have eight from a fabric's first on."""
    found = looks()

    assert all(one.pattern is not two.pattern for one, two in pairwise(found))
    assert len({look.pattern for look in found[:7]}) == 7


def test_patterns_are_seen_in_grey() -> None:
    """The lines of a pattern are darker than their ground."""
    for look in looks():
        assert contrast(look.line, look.tint) > 1.5


def test_words_are_read_on_every_tint() -> None:
    """At least 7 : 1 (WCAG 2.1, level AAA for text)."""
    for look in looks():
        assert contrast(INK, look.tint) > 7
