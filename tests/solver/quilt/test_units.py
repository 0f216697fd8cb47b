"""Laws: no inch is special; inches and centimetres agree; sizes are rounded up once."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.model import Piece, Quilt
from laws.quilts import QUILTS, Made, in_centimetres, in_inches, worked_out

_LAW = settings(deadline=None, derandomize=True, max_examples=100)
_FINE = Fraction(1, 64)


@_LAW
@given(made=QUILTS, scale=st.integers(2, 5))
def test_a_larger_inch_makes_larger_pieces(made: Made, scale: int) -> None:
    """All lengths times `scale`, those of the cloth, the shop and the ruler too, make the same pieces that much larger.

    Of a bias binding too: (a² − 4·seam·a)/strip grows with the strip.
    """
    small = worked_out(made)
    large = worked_out(made, ruler=f"{scale}/64 in", write=in_inches(scale))
    assert [part.name for part in small.parts] == [part.name for part in large.parts]
    for part, larger in zip(small.parts, large.parts, strict=True):
        assert [_scaled(piece, scale) for piece in part.pieces] == [_scaled(piece, 1) for piece in larger.pieces]
        for option, other in zip(part.options, larger.options, strict=True):
            assert (option.name, option.joins) == (other.name, other.joins)
            assert [_scaled(piece, scale) for piece in option.pieces] == [_scaled(piece, 1) for piece in other.pieces]


def _scaled(piece: Piece, scale: int) -> tuple[str, Fraction, Fraction, int, bool, bool]:
    size = piece.across * scale, piece.along * scale
    return piece.id, *size, piece.count, piece.turnable, piece.open_form


@_LAW
@given(made=QUILTS, scale=st.integers(2, 5))
def test_a_larger_inch_on_the_same_ruler(made: Made, scale: int) -> None:
    """On one fine ruler what is not joined is that much larger too, but for what the mark takes: less than `scale`."""
    small, large = worked_out(made), worked_out(made, write=in_inches(scale))
    for piece, larger in _whole_in_both(small, large):
        assert piece.count == larger.count
        for side, other in ((piece.across, larger.across), (piece.along, larger.along)):
            assert 0 <= side * scale - other < scale * _FINE


@_LAW
@given(made=QUILTS)
def test_inches_and_centimetres_agree(made: Made) -> None:
    """One quilt written in inches and in centimetres, on rulers of 1/64 in and 0.1 mm: sizes agree within a mark."""
    inches, centimetres = worked_out(made), worked_out(made, unit="cm", ruler="0.1 mm", write=in_centimetres)
    assert [part.name for part in inches.parts] == [part.name for part in centimetres.parts]
    for piece, other in _whole_in_both(inches, centimetres):
        assert (piece.count, piece.turnable, piece.finished) == (other.count, other.turnable, other.finished)
        assert abs(piece.across - other.across) < _FINE
        assert abs(piece.along - other.along) < _FINE


@_LAW
@given(made=QUILTS)
def test_sizes_are_rounded_up_once(made: Made) -> None:
    """On a coarse ruler a cut size is a mark, and less than one mark over the exact size."""
    coarse = Fraction(1, 2)
    for piece, marked in _whole_in_both(worked_out(made), worked_out(made, ruler="1/2 in")):
        for side, rounded in ((piece.across, marked.across), (piece.along, marked.along)):
            assert (rounded / coarse).denominator == 1
            assert -_FINE < rounded - side < coarse


def _whole_in_both(first: Quilt, second: Quilt) -> Iterator[tuple[Piece, Piece]]:
    """Pieces that neither quilt joins; of joined ones, and squares for bias strip, the sizes hang on each other's."""
    others = {piece.id: piece for part in second.parts for piece in part.pieces}
    for piece in (piece for part in first.parts for piece in part.pieces):
        other = others.get(piece.id)
        if other is not None and not piece.id.rpartition("/")[2].isdecimal():
            yield piece, other
