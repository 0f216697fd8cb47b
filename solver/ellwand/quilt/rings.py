"""Where each border lies: what it is sewn to, what lies outside it, and the size of its four strips.

A seam belongs to the line where two parts meet, and both raw edges get it: a strip's cut width is its finished
width, the seam of its inner line and the seam of its outer line.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ellwand.lengths import ROOT_2, round_down, round_up
from ellwand.model import Pair, Sizes
from ellwand.project.tables import Border, Corners, Project
from ellwand.quilt.pieces import grow, sum_text
from ellwand.quilt.sizes import edge_seam

__all__ = ["SIDES", "Ring", "is_upright", "rings"]

SIDES = ("top", "bottom", "left", "right")
_TWINS = {"bottom": "top", "right": "left"}  # cut alike


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A border where it lies in the quilt.

    Parameters
    ----------
    inside
        Finished size of what it is sewn to.
    outer_seam
        Seam of its outer line.
    last
        The border whose length its strips take: itself, or the outermost of those sewn together before mitring.
    side
        Finished size that the innermost of those is sewn to.
    widths
        Finished widths from `side` out to `last`, and with it.
    last_seam
        Seam of the outer line of `last`.
    """

    project: Project
    border: Border
    inside: Pair
    outer_seam: Fraction
    last: Border
    side: Pair
    widths: tuple[Fraction, ...]
    last_seam: Fraction

    @property
    def is_mitred(self) -> bool:
        """Whether its corners are mitred."""
        return self.border.corners is Corners.MITRED

    @property
    def has_cornerstones(self) -> bool:
        """Whether there are squares in its corners."""
        return self.border.corners is Corners.CORNERSTONES

    @property
    def exact_width(self) -> Fraction:
        """Cut width of its strips before rounding."""
        return self.border.width + self.border.seam + self.outer_seam

    @property
    def width(self) -> Fraction:
        """Cut width of its strips."""
        return round_up(self.exact_width, self.project.ruler)

    @property
    def least_extra(self) -> Fraction:
        """Extra without which a mitred strip is short: 2·(outer seam + √2·mitre seam). Common practice, no source."""
        return 2 * (self.last_seam + ROOT_2 * self.project.seam)

    @property
    def exact_cornerstone(self) -> Pair:
        """Cut size of its cornerstones before rounding: across, the seam that joins one to a strip is the project's."""
        return self.border.width + self.project.seam + self.outer_seam, self.exact_width

    @property
    def cornerstone_terms(self) -> tuple[str, str]:
        """The sums behind the cut size of its cornerstones."""
        return self._with_seams(self.project.seam), self._with_seams(self.border.seam)

    def exact_run(self, side: str) -> Fraction:
        """Cut length of the strip of `side` before rounding."""
        axis = _axis(side)
        if self.is_mitred:
            return self.side[axis] + 2 * sum(self.widths) + self.last.extra
        return self.inside[axis] + 2 * self._beyond(side) + 2 * self._end_seam(side) + self.border.extra

    def run(self, side: str) -> Fraction:
        """Cut length of the strip of `side`."""
        return round_up(self.exact_run(side), self.project.ruler)

    def reach_of_mitre(self, side: str) -> Fraction:
        """How far from a strip's end its mitre begins; 0 without a mitre."""
        return (self.exact_run(side) - self.inside[_axis(side)]) / 2 if self.is_mitred else Fraction(0)

    def finished(self, side: str) -> Pair:
        """Finished size of the strip of `side`, across × down; a mitred one at its longer edge."""
        long = self.inside[_axis(side)] + 2 * (self.border.width if self.is_mitred else self._beyond(side))
        return (long, self.border.width) if _axis(side) == 0 else (self.border.width, long)

    def why(self, side: str) -> str:
        """The sums behind the cut width and length of the strip of `side`; what two strips share is told once."""
        if side in _TWINS:
            return f"as {self.border.name}/{_TWINS[side]}"
        if side != SIDES[0]:
            return f"width as {self.border.name}/{SIDES[0]}; {self._length_why(side)}"
        width = sum_text(self.project.notation, self._with_seams(self.border.seam), self.exact_width, self.width)
        return f"width {width}; {self._length_why(side)}"

    def _with_seams(self, inner: Fraction) -> str:
        """The sum of its finished width, a seam and that of its outer line."""
        bare = self.project.notation.bare
        return f"{bare(self.border.width)} + {bare(inner)} + {bare(self.outer_seam)} seams"

    def _beyond(self, side: str) -> Fraction:
        """How far a strip that is not mitred goes past what it is sewn to: butted ones run across the sides."""
        return self.border.width if _axis(side) == 0 and not self.has_cornerstones else Fraction(0)

    def _end_seam(self, side: str) -> Fraction:
        """Seam at the ends of a strip that is not mitred."""
        if _axis(side) == 1:
            return self.border.seam
        return self.project.seam if self.has_cornerstones else self.outer_seam

    def _length_why(self, side: str) -> str:
        terms = self._mitred_terms(side) if self.is_mitred else self._straight_terms(side)
        length = sum_text(self.project.notation, terms, self.exact_run(side), self.run(side))
        return f"length {length}{self._spare()}"

    def _mitred_terms(self, side: str) -> str:
        bare = self.project.notation.bare
        widths = " + ".join(bare(width) for width in self.widths)
        borders = f"{widths} border" if len(self.widths) == 1 else f"({widths}) borders"
        return f"{bare(self.side[_axis(side)])} side + 2 × {borders} + {bare(self.last.extra)} extra"

    def _straight_terms(self, side: str) -> str:
        bare = self.project.notation.bare
        beyond = f" + 2 × {bare(self.border.width)} border" if self._beyond(side) else ""
        extra = f" + {bare(self.border.extra)} extra" if self.border.extra else ""
        return f"{bare(self.inside[_axis(side)])} side{beyond} + 2 × {bare(self._end_seam(side))} seam{extra}"

    def _spare(self) -> str:
        """What is left over at each end, or nothing."""
        spare = (self.last.extra - self.least_extra) / 2 if self.is_mitred else self.border.extra / 2
        spare = round_down(spare, self.project.ruler)
        return f", {self.project.notation.show(spare)} spare at each end" if spare > 0 else ""


def is_upright(side: str) -> bool:
    """Whether the strip of `side` runs down the quilt."""
    return side in ("left", "right")


def _axis(side: str) -> int:
    """Direction in which the strip of `side` runs: 0 across, 1 down."""
    return 1 if is_upright(side) else 0


def rings(project: Project, sizes: Sizes) -> tuple[Ring, ...]:
    """The project's borders where they lie, from the inside out."""
    borders = project.borders
    seams = (*(border.seam for border in borders[1:]), edge_seam(project))
    inside = [sizes.centre]
    for border in borders:
        inside.append(grow(inside[-1], border.width))
    found = []
    for number, border in enumerate(borders):
        first, last = _sewn_together(borders, number)
        ring = Ring(
            project=project,
            border=border,
            inside=inside[number],
            outer_seam=seams[number],
            last=borders[last],
            side=inside[first],
            widths=tuple(border.width for border in borders[first : last + 1]),
            last_seam=seams[last],
        )
        found.append(ring)
    return tuple(found)


def _sewn_together(borders: tuple[Border, ...], number: int) -> tuple[int, int]:
    """First and last of the borders that are sewn to border `number` before mitring."""
    first = last = number
    while borders[first].sewn_together:
        first -= 1
    while last + 1 < len(borders) and borders[last + 1].sewn_together:
        last += 1
    return first, last
