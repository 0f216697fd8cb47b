"""Bias binding: parallelograms cut from squares."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.errors import NoPlanError
from ellwand.lengths import ROOT_2
from ellwand.model import Construction, Part, Quilt
from ellwand.quilt.bias import bias_length, bias_square

_Of = Callable[..., Quilt]
_EIGHTH = Fraction(1, 8)


def _bias(keys: str) -> str:
    return f'[binding]\nfabric = "oat"\ngrain = "bias"\n{keys}\n'


def _part(quilt: Quilt) -> Part:
    (part,) = quilt.parts
    return part


def _squares(option: Construction) -> tuple[str, int]:
    (piece,) = option.pieces
    assert piece.across == piece.along
    return str(piece.across), piece.count


@pytest.mark.parametrize(("seam", "length"), [("0", 200), ("1/4", 190)])
def test_length_from_a_square(seam: str, length: int) -> None:
    """A square of 20 gives 200 in of 2-in strip without its seams, 190 with two of 1/4 in."""
    # Source: sewing forum thread 680 (B9): 400/2; with two 1/4-in seams (400 − 4·1/4·20)/2
    assert bias_length(Fraction(20), strip=Fraction(2), seam=Fraction(seam)) == length


def test_square_for_a_length() -> None:
    """250 in of 2-in bias from a square of 23; 10 yd of 3-in bias from one of 34, its seams counted."""
    # Source: sewing forum thread 680 (B10): √500 = 22.36 → 23, seams not counted
    inch = Fraction(1)
    assert bias_square(Fraction(250), strip=Fraction(2), seam=Fraction(0), ruler=inch) == 23
    # Source: shop article (B11): √1080 = 32.86 → 34, 1 in added for seams; here two seams of 1/4: 33.37
    assert bias_square(Fraction(360), strip=Fraction(3), seam=Fraction(1, 4), ruler=inch) == 34
    assert bias_square(Fraction(360), strip=Fraction(3), seam=Fraction(0), ruler=inch) == 33


def test_a_wide_strip_needs_a_high_parallelogram() -> None:
    """4 in of a strip of 10 is an area of 40, and still takes a square whose half diagonal is 10: 14 1/4."""
    # derived: the parallelogram of a square a is a/√2 high; 10·√2 = 14.14
    assert bias_square(Fraction(4), strip=Fraction(10), seam=Fraction(0), ruler=_EIGHTH) == Fraction(57, 4)


def test_twenty_inches_are_five_strips_not_eight() -> None:
    """A bias strip of 2 1/2 takes 3.54 in along the selvage: a square of 20 gives 5 of them, 28.28 in long each."""
    # Source: derived (B12): 2.5·√2 = 3.54; the trap of section 9, "20 in of cloth gives 8 bias strips of 2 1/2"
    assert round(Fraction(5, 2) * ROOT_2, 2) == Fraction("3.54")
    strips = bias_length(Fraction(20), strip=Fraction(5, 2), seam=Fraction(0)) / (20 * ROOT_2)
    assert int(strips) == int(20 / (Fraction(5, 2) * ROOT_2)) == 5


_LENGTHS = st.integers(1, 8000).map(lambda eighths: Fraction(eighths, 8))


@settings(deadline=None, derandomize=True)
@given(length=_LENGTHS, strip=st.integers(4, 40).map(lambda eighths: Fraction(eighths, 8)), seam=st.integers(0, 8))
def test_it_is_the_least_square_on_the_ruler(length: Fraction, strip: Fraction, seam: int) -> None:
    """It gives the length; one mark less does not, unless the parallelogram would be lower than the strip is wide."""
    allowance = Fraction(seam, 16)
    side = bias_square(length, strip=strip, seam=allowance, ruler=_EIGHTH)
    assert (side / _EIGHTH).denominator == 1
    assert bias_length(side, strip=strip, seam=allowance) >= length
    less = side - _EIGHTH
    assert bias_length(less, strip=strip, seam=allowance) < length or less / ROOT_2 < strip


def test_binding_from_squares(of_centre: _Of) -> None:
    """The run of 2·(50 + 60) + 10 = 230 in, 2 in wide: one square, or up to three more of them, joined."""
    part = _part(of_centre("[49.5, 59.5]", _bias("strip = 2\nextra = 10"), basics="copies = 2"))
    # derived (B9): (22² − 22)/2 = 231; (15 7/8² − 15 7/8)/2 = 118.1, twice less 2 = 234.1 (15 3/4: 230.3 ≥ 230)
    assert [(option.name, option.joins, *_squares(option)) for option in part.options] == [
        ("bias, from 1 square", 0, "22", 2),
        ("bias, from 2 squares, joined", 2, "63/4", 4),
        ("bias, from 3 squares, joined", 4, "13", 6),
        ("bias, from 4 squares, joined", 6, "91/8", 8),
    ]
    (whole,) = part.pieces
    assert (whole.id, str(whole.across), str(whole.along), whole.count, whole.open_form) == (
        "binding", "2", "230", 2, True,
    )  # fmt: skip
    assert whole.why == (
        "2 × (50 + 60) bound edge + 10 extra = 230 in; in strips from bias squares; "
        "folded double it shows 3/8 in a side, if shared evenly"
    )


def test_what_is_told(of_centre: _Of) -> None:
    """The sum, how a square becomes a strip, how strips are joined, and where it goes."""
    one, two, *_ = _part(of_centre("[49.5, 59.5]", _bias("strip = 2\nextra = 10"))).options
    (square,) = one.pieces
    assert square.why == (
        "2 × (50 + 60) bound edge + 10 extra = 230 in; "
        "a square of 22 in gives (22 × 22 − 4 × 1/4 × 22) ÷ 2, 231 in; "
        "folded double it shows 3/8 in a side, if shared evenly"
    )
    assert square.after == (
        "cut once on the diagonal, the halves sewn to a parallelogram; lines drawn along its bias edges, 2 in apart, "
        "sewn to a tube one line on, cut along the line: 231 in from a square"
    )
    assert square.where == "round the edge"
    assert two.pieces[0].why == (
        "2 × (50 + 60) bound edge + 10 extra = 230 in; a square of 15 3/4 in gives "
        "(15 3/4 × 15 3/4 − 4 × 1/4 × 15 3/4) ÷ 2, about 116 1/8 in; "
        "2 of them less 1 × 2 for joins, about 230 1/4 in; folded double it shows 3/8 in a side, if shared evenly"
    )
    assert two.pieces[0].after.endswith("about 116 1/8 in from a square; join end to end on the diagonal")


def test_as_few_squares_as_go_on_the_cloth(of_centre: _Of) -> None:
    """A square of 22 in does not go on 20 in: two do."""
    names = [
        option.name for option in _part(of_centre("[49.5, 59.5]", _bias("strip = 2\nextra = 10"), usable="20")).options
    ]
    assert names[0] == "bias, from 2 squares, joined"
    assert len(names) == 4


def test_the_shortest_bit_holds(of_centre: _Of) -> None:
    """Squares whose strip is shorter are not offered; where no others go on the cloth it is refused."""
    keys = 'strip = 2\nextra = 10\nshortest = "100 in"'
    options = _part(of_centre("[49.5, 59.5]", _bias(keys))).options
    # derived: two squares give 116 in each, three less than 100
    assert [option.name for option in options] == ["bias, from 1 square", "bias, from 2 squares, joined"]
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[49.5, 59.5]", _bias(keys), usable="14")
    assert str(refusal.value) == (
        "trial.toml: binding: a square of 14 in, as wide as oat can be used for, gives too little bias strip of 2 in: "
        "no bit of it may be shorter than 100 in. Take a wider cloth or another grain, or lower shortest."
    )


def test_cloth_narrower_than_its_seams(of_centre: _Of) -> None:
    """Squares of four seams or less give nothing."""
    with pytest.raises(NoPlanError, match=r"too little bias strip of 2 in\. Take a wider cloth or another grain\.$"):
        of_centre("[20, 20]", _bias("strip = 2\nshortest = 0"), usable="1")


def test_straight_joins_of_bias_strips(of_centre: _Of) -> None:
    """They lose two seams instead of the strip's width."""
    options = _part(of_centre("[49.5, 59.5]", _bias('strip = 2\nextra = 10\njoin = "straight"'))).options
    # derived: each of two gives (230 + 1/2)/2 = 115 1/4: (15 3/4² − 15 3/4)/2 = 116.2, (15 5/8² − 15 5/8)/2 = 114.3
    assert _squares(options[1]) == ("63/4", 2)
    assert options[1].pieces[0].why.split("; ")[2] == "2 of them less 1 × 1/2 for joins, about 231 3/4 in"
