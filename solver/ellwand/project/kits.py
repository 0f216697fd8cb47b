"""The noun of a project file's ``[kits]`` table."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["USUAL_KITS", "USUAL_LAYERS", "Kits"]

USUAL_LAYERS = 4  # as many as a 45 mm blade cuts as a rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Kits:
    """How several copies are cut (``[kits]``).

    Parameters
    ----------
    layers
        How many layers lie on each other at the most; None: four, where that takes little more cloth.
    square_again
        Length lost to make the end true again, inches.
    strips
        After so many strips.
    """

    layers: int | None = None
    square_again: Fraction = Fraction(1, 4)
    strips: int = 8


USUAL_KITS = Kits()
