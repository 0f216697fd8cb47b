"""Sewing, simulated: what pieces make when every seam takes its allowance.

Nothing here knows how sizes are worked out. Shapes are polygons whose edges move inward by their seams; strips are sewn
end to end and to what is there; what comes out is measured. Lengths are inches.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import hypot

from ellwand.model import Construction, Part, Piece, Quilt

__all__ = [
    "MARK", "assert_sewn", "half_square", "mark_up", "part", "quarter_square", "rectangle", "sewn", "strip", "take",
]  # fmt: skip

MARK = Fraction(1, 64)  # of the ruler
_NEARLY = 1e-9
Point = tuple[float, float]


def sewn(corners: Sequence[Point], seams: Sequence[float]) -> list[float]:
    """Sides of a polygon after each edge has given its seam; corners against the clock, each edge after its corner.

    A negative seam is one that is put on again.
    """
    lines = [_moved(*edge, seam) for edge, seam in zip(_edges(corners), seams, strict=True)]
    crossings = [_crossing(lines[at - 1], lines[at]) for at in range(len(lines))]
    return [hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in _edges(crossings)]


def _edges(corners: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))


def _moved(start: Point, end: Point, seam: float) -> tuple[Point, Point]:
    """The line of an edge, moved to the inside by its seam: a point of it and its direction."""
    along, up = end[0] - start[0], end[1] - start[1]
    length = hypot(along, up)
    return (start[0] - up / length * seam, start[1] + along / length * seam), (along, up)


def _crossing(first: tuple[Point, Point], second: tuple[Point, Point]) -> Point:
    (x1, y1), (u1, v1) = first
    (x2, y2), (u2, v2) = second
    step = ((x2 - x1) * v2 - (y2 - y1) * u2) / (u1 * v2 - v1 * u2)
    return x1 + step * u1, y1 + step * v1


def rectangle(piece: Piece, seam: Fraction) -> list[float]:
    """Sides of a rectangle with a seam on all its edges, sewn."""
    across, down = float(piece.across), float(piece.along)
    return sewn([(0, 0), (across, 0), (across, down), (0, down)], [float(seam)] * 4)[:2]


def half_square(side: Fraction, *, leg: Fraction, long: Fraction) -> tuple[float, float]:
    """Leg and long side of a triangle, sewn: a square cut once on the diagonal, `leg` and `long` its edges' seams."""
    width = float(side)
    legs = sewn([(0, 0), (width, 0), (0, width)], [float(leg), float(long), float(leg)])
    return legs[0], legs[1]


def quarter_square(side: Fraction, *, leg: Fraction, long: Fraction) -> tuple[float, float]:
    """Leg and long side of a triangle, sewn: a square cut twice on the diagonal."""
    width = float(side)
    sides = sewn([(0, 0), (width, 0), (width / 2, width / 2)], [float(long), float(leg), float(leg)])
    return sides[1], sides[0]


def assert_sewn(sides: Iterable[float], wanted: Iterable[float], *, stretch: float = 1) -> None:
    """Sewn sides are as wanted, or as much longer as a cut size that was marked up may make them."""
    for side, asked in zip(sides, wanted, strict=True):
        assert -_NEARLY <= side - asked < stretch * MARK


def mark_up(length: Fraction) -> Fraction:
    """The first mark of the ruler that is not before `length`."""
    return -(-length // MARK) * MARK


def part(quilt: Quilt, name: str) -> Part:
    """The part of that name."""
    (found,) = (part for part in quilt.parts if part.name == name)
    return found


def strip(option: Construction, name: str, *, join: str, seam: Fraction) -> tuple[Fraction, Fraction, list[Fraction]]:
    """Width and length of a long strip after its bits are sewn end to end, and the bits' lengths."""
    bits = [piece for piece in option.pieces if piece.id == name or _is_bit(piece, name)]
    (first, *_) = bits
    across_the_cloth = not first.turnable and option.name.startswith(("crosswise", "as it hangs"))
    if first.id == name:
        width, length = (first.along, first.across) if across_the_cloth else (first.across, first.along)
        return width, length, [length]
    (width,) = {bit.along for bit in bits}
    loss = width if join == "diagonal" else 2 * seam
    lengths = [bit.across for bit in bits]
    return width, sum(lengths) - (len(bits) - 1) * loss, lengths


def _is_bit(piece: Piece, name: str) -> bool:
    return piece.id.startswith(f"{name}/") and piece.id.removeprefix(f"{name}/").isdecimal()


def take(pool: Counter[Piece], across: Fraction, down: Fraction) -> None:
    """Take a piece of that cut size, as it hangs, from those that are cut; one that may be turned lies either way."""
    hangs = (across, down)
    pool[next(piece for piece in pool if pool[piece] and hangs in _lies(piece))] -= 1


def _lies(piece: Piece) -> list[tuple[Fraction, Fraction]]:
    sizes = [(piece.across, piece.along), (piece.along, piece.across)]
    return sizes if piece.turnable else sizes[:1]
