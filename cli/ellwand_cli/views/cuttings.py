"""What each strip of a cloth becomes, equal ones gathered wherever they lie: the cut list before it has words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable
from dataclasses import dataclass
from fractions import Fraction

from ellwand.model import Direction, Region

__all__ = ["Cutting", "Names", "cutting_of", "pieces_of"]

Names = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """A size of cloth, of which there may be several, and what it becomes.

    Parameters
    ----------
    names
        Where it is a piece: the pieces that all of this size become, with their numbers. Equal cuts of several
        pieces (the left border and the right) are one cutting with several names.
    direction, parts
        Where it is cut on: the direction, and the parts of each with their numbers, in the picture's order.
        Neither names nor parts: waste.
    """

    across: Fraction
    along: Fraction
    names: Names = ()
    direction: Direction | None = None
    parts: tuple[tuple[Cutting, int], ...] = ()

    @property
    def waste(self) -> bool:
        """Whether nothing is made of it."""
        return not self.names and not self.parts

    def measure(self, direction: Direction) -> Fraction:
        """Its size where cuts in `direction` divide."""
        return self.along if direction is Direction.ACROSS else self.across

    @property
    def useful(self) -> tuple[tuple[Cutting, int], ...]:
        """Its parts without waste."""
        return tuple((part, count) for part, count in self.parts if not part.waste)

    @property
    def piece(self) -> Cutting | None:
        """The one piece that it is, or is trimmed to."""
        if self.names:
            return self
        if len(self.useful) == 1 and self.useful[0][1] == 1:
            return self.useful[0][0].piece
        return None

    @property
    def is_zone(self) -> bool:
        """Whether its parts are cut on in their turn: a cloth of its own."""
        return self.piece is None and any(part.piece is None for part, _ in self.useful)


def cutting_of(*regions: Region) -> Cutting:
    """What `regions` become, which are cut alike; what stays as it is left out."""
    first = regions[0]
    pieces = Counter(region.piece.piece for region in regions if region.piece is not None)
    alike: dict[Hashable, list[Region]] = {}
    for part in (part for region in regions for part in region.parts if not part.rest):
        alike.setdefault(_shape(part), []).append(part)
    return Cutting(
        across=first.across,
        along=first.along,
        names=tuple(pieces.items()),
        direction=first.direction,
        parts=tuple((cutting_of(*group), len(group) // len(regions)) for group in alike.values()),
    )


def _shape(region: Region) -> Hashable:
    """Equal for regions that are cut alike, whatever the pieces are called and in whatever order they lie."""
    inner = Counter(_shape(part) for part in region.parts)
    return region.across, region.along, region.piece is not None, region.direction, frozenset(inner.items())


def pieces_of(cutting: Cutting) -> Counter[str]:
    """How many of each piece all of a cutting make."""
    total = Counter(dict(cutting.names))
    for part, _ in cutting.parts:
        total += pieces_of(part)
    return total
