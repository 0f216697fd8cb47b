"""Bias strips: parallelograms cut from squares.

A square is cut once on the diagonal, the two triangles are sewn to a parallelogram, this is sewn to a tube, and the
tube is cut round and round into one strip. Its two seams are as long as the square, and each takes two allowances::

    strip × length = a² − 4·seam·a
"""

from __future__ import annotations

from fractions import Fraction
from math import floor, isqrt

from ellwand.lengths import ROOT_2, round_up

__all__ = ["bias_length", "bias_square"]


def bias_length(side: Fraction, *, strip: Fraction, seam: Fraction) -> Fraction:
    """Length of bias strip of cut width `strip` that a square of `side` gives.

    Examples
    --------
    >>> bias_length(Fraction(20), strip=Fraction(2), seam=Fraction(1, 4))
    Fraction(190, 1)
    """
    return (side * side - 4 * seam * side) / strip


def bias_square(length: Fraction, *, strip: Fraction, seam: Fraction, ruler: Fraction) -> Fraction:
    """Side on the `ruler` of the least square that gives `length` of bias strip.

    It is no smaller than one whose parallelogram, half the diagonal high, is as high as the strip is wide.

    Examples
    --------
    >>> bias_square(Fraction(250), strip=Fraction(2), seam=Fraction(0), ruler=Fraction(1))
    Fraction(23, 1)
    """
    seams, marks = 2 * seam, (length * strip + 4 * seam * seam) / ruler**2
    side = (floor(seams / ruler) + isqrt(floor(marks))) * ruler  # at most two marks less than 2·seam + √(…)
    while bias_length(side, strip=strip, seam=seam) < length:
        side += ruler
    return max(side, round_up(ROOT_2 * strip, ruler))
