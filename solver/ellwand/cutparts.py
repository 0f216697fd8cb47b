"""What a cloth becomes when it is cut: parts of one size that are cut alike gathered, wherever they lie."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.model import Direction, Region

__all__ = ["CutPart", "Names", "cut_parts", "on_the_mat"]

Names = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """Parts of one size that come from equal sources and are cut alike.

    Parameters
    ----------
    parent
        Number of the part they are cut from; -1 of the cloth itself.
    each
        How many come from each source.
    regions
        All of them, where the picture shows them.
    names
        Where they are pieces: which pieces, and how many of each.
    direction
        Where they are cut on: of the cuts that divide them.
    filled
        Nothing is left of them when their parts are cut off.
    level
        How many sources they have above each other.
    """

    parent: int
    each: int
    regions: tuple[Region, ...]
    names: Names
    direction: Direction | None
    filled: bool
    level: int

    @property
    def across(self) -> Fraction:
        """Size across the width, inches."""
        return self.regions[0].across

    @property
    def along(self) -> Fraction:
        """Size along the selvage, inches."""
        return self.regions[0].along

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.regions)

    def measure(self, direction: Direction) -> Fraction:
        """Size where cuts in `direction` divide, inches."""
        return self.along if direction is Direction.ACROSS else self.across

    def line(self, direction: Direction) -> Fraction:
        """How long a cut in `direction` is, inches."""
        return self.across if direction is Direction.ACROSS else self.along


def cut_parts(tree: Region) -> tuple[CutPart, ...]:
    """Every part of a cloth but waste, the cloth itself first; sources stand before what is cut from them.

    What stays as it is of a length must have been cut off (see `on_the_mat`).
    """
    found: list[CutPart] = []
    shapes = _shapes(tree)
    waiting: list[tuple[int, int, tuple[Region, ...]]] = [(-1, 1, (tree,))]
    while waiting:
        parent, each, regions = waiting.pop(0)
        number = len(found)
        found.append(_part(parent, each, regions, found[parent].level + 1 if number else 0))
        waiting += [(number, len(group) // len(regions), group) for group in _alike(regions, shapes)]
    return tuple(found)


def on_the_mat(tree: Region, spare: Fraction) -> Region:
    """`tree` as it is cut: without what stays as it is of a length on hand, and `spare` inches longer at the end.

    A bolt is longer than its layout by what is bought beyond need.
    """
    parts = tuple(part for part in tree.parts if not part.rest)
    mat = tree
    if len(parts) == 1 < len(tree.parts):
        mat = parts[0]
    elif len(parts) < len(tree.parts):
        mat = replace(tree, parts=parts, along=sum((part.along for part in parts), Fraction(0)))
    if not spare:
        return mat
    rest = replace(mat, y=mat.y + mat.along, along=spare, piece=None, direction=None, parts=())
    strips = mat.parts if mat.direction is Direction.ACROSS else (replace(mat, depth=1),)
    longer = mat.along + spare
    return replace(mat, along=longer, piece=None, direction=Direction.ACROSS, parts=(*strips, rest))


def _part(parent: int, each: int, regions: tuple[Region, ...], level: int) -> CutPart:
    first = regions[0]
    return CutPart(
        parent=parent,
        each=each,
        regions=regions,
        names=tuple(Counter(region.piece.piece for region in regions if region.piece is not None).items()),
        direction=first.direction,
        filled=bool(first.parts) and all(part.piece is not None or part.parts for part in first.parts),
        level=level,
    )


def _alike(regions: Sequence[Region], shapes: dict[int, int]) -> list[tuple[Region, ...]]:
    """The useful parts of equal regions, those that are cut alike together."""
    groups: dict[int, list[Region]] = {}
    for part in (part for region in regions for part in region.parts):
        if part.piece is not None or part.parts:
            groups.setdefault(shapes[id(part)], []).append(part)
    return [tuple(group) for group in groups.values()]


def _shapes(tree: Region) -> dict[int, int]:
    """A number for every region: equal for those that are cut alike, whatever the pieces and their order."""
    numbers: dict[Hashable, int] = {}
    found: dict[int, int] = {}

    def shape(region: Region) -> int:
        inner = Counter(map(shape, region.parts))
        key = region.across, region.along, region.piece is not None, region.direction, frozenset(inner.items())
        found[id(region)] = numbers.setdefault(key, len(numbers))
        return found[id(region)]

    shape(tree)
    return found
