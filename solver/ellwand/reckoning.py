"""What is reckoned of a plan: where the cloth went, and why no layout can need less."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

__all__ = ["Area", "Looser", "Proof", "Spare", "Wishes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """Where the taken cloth went, square inches, exact."""

    pieces: Fraction
    offcuts: Fraction
    scrap: Fraction
    selvage: Fraction
    squaring: Fraction
    rounding: Fraction  # bought beyond what is needed

    @property
    def taken(self) -> Fraction:
        """All cloth taken."""
        return self.pieces + self.offcuts + self.scrap + self.selvage + self.squaring + self.rounding

    @property
    def waste_percent(self) -> Decimal:
        """Scrap, selvage and squaring as a share of `taken`, to 0.1 %."""
        lost = self.scrap + self.selvage + self.squaring
        share = 1000 * lost / self.taken if self.taken else Fraction(0)
        return Decimal(round(share)).scaleb(-1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """Why no layout can need less: a theorem, and the whole-number weights with which it can be proved again.

    It speaks of the construction chosen. `weights` are pairs (size in marks of the ruler, weight), along bars that
    run `axis` (see :class:`ellwand.packing.problem.Weights`); without an axis the tallest piece alone is the proof.
    `cloths` are (across, along) in marks of every cloth on hand that could be used, `lengths` those of them that are
    cut across first; `odd` are those with an outline or flaws, with the square marks that can be used of each.
    `searched`: the pieces are few, and every layout of the project's style was looked through.
    """

    theorem: str
    axis: str = ""
    weights: tuple[tuple[int, int], ...] = ()
    cloths: tuple[tuple[int, int], ...] = ()
    lengths: tuple[tuple[int, int], ...] = ()
    odd: tuple[tuple[int, int, int], ...] = ()
    searched: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Looser:
    """What the same pieces take by `straight` cuts in any number of levels, or else freely; as in `FabricPlan`."""

    straight: bool
    needed: Fraction
    bound: Fraction
    bought: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """Spare pieces of a kind: how many are wished for, and how many found room."""

    piece: str
    wanted: int
    placed: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What became of the wishes for a fabric, for none of which but `share` more is bought.

    Parameters
    ----------
    needed
        Length still to buy for the pieces that must be, without any spare ones.
    share, honoured
        Part of what is needed that is wished to spare, and how much of it there is.
    spares
        Pieces of which some more are wished for.
    kept
        Whether the rectangle that is to be kept back is left; None where none is.
    """

    needed: Fraction
    share: Fraction
    honoured: Fraction
    spares: tuple[Spare, ...]
    kept: bool | None
