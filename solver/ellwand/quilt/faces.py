"""What one sees of the finished quilt: where blocks, sashes, triangles, borders and binding lie on its front.

Inches, exact, x to the right and y up from the middle of the quilt. Where blocks of several kinds go is for the maker
to say: here they follow one another in the file's order, row by row.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ellwand.model import Pair, Sizes
from ellwand.project.tables import Project, Setting
from ellwand.quilt.rings import SIDES, Ring, rings
from ellwand.quilt.sashing import sash_places
from ellwand.quilt.sizes import planned_centre

__all__ = ["Face", "faces"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One thing that is seen.

    Parameters
    ----------
    name
        Its block's name, or its piece's (``inner/left``, also where that is joined from several).
    corners
        Its edge, corner after corner.
    room
        A rectangle inside it: left, low, width, height.
    """

    name: str
    is_block: bool = False
    corners: tuple[Pair, ...]
    room: tuple[Fraction, Fraction, Fraction, Fraction]


def faces(project: Project, sizes: Sizes) -> tuple[Face, ...]:
    """Everything on the front of `project`'s quilt, from the middle out; together they cover it, once.

    A centre that was measured is drawn as large as it was measured.
    """
    if project.setting is None:
        return ()
    found = [*_centre(project, project.setting, sizes.centre)]
    for ring in rings(project, sizes):
        found += _border(ring)
    if project.binding:
        found += [_mitred("binding", side, sizes.finished, sizes.bound) for side in SIDES]
    return tuple(found)


def _centre(project: Project, setting: Setting, centre: Pair) -> Iterator[Face]:
    planned = planned_centre(project, setting)
    stretch = centre[0] / planned[0], centre[1] / planned[1]
    inner = _on_point(project, setting, planned) if setting.on_point else _straight(project, setting, planned)
    for face in inner:
        x, y, w, h = face.room
        yield Face(
            name=face.name,
            is_block=face.is_block,
            corners=tuple((stretch[0] * u, stretch[1] * v) for u, v in face.corners),
            room=(stretch[0] * x, stretch[1] * y, stretch[0] * w, stretch[1] * h),
        )


def _straight(project: Project, setting: Setting, planned: Pair) -> Iterator[Face]:
    """Blocks in rows and columns, and what is between them."""
    across, down = project.blocks[0].finished
    sash = project.sashing.width if project.sashing else Fraction(0)
    start = sash if project.sashing and project.sashing.outside else Fraction(0)
    names = _block_names(project)
    for row in range(setting.down):
        for column in range(setting.across):
            x, y = start + column * (across + sash), start + row * (down + sash)
            yield _hung(next(names), planned, (x, y), (across, down), is_block=True)
    for place in sash_places(project):
        yield _hung(place.piece, planned, (place.x, place.y), place.size)


def _hung(name: str, planned: Pair, corner: Pair, size: Pair, *, is_block: bool = False) -> Face:
    """A rectangle whose upper left corner is counted from that of the centre."""
    x, y = corner[0] - planned[0] / 2, planned[1] / 2 - corner[1] - size[1]
    return _rectangle(name, (x, y, *size), is_block=is_block)


def _rectangle(name: str, room: tuple[Fraction, Fraction, Fraction, Fraction], *, is_block: bool = False) -> Face:
    x, y, w, h = room
    return Face(name=name, is_block=is_block, corners=((x, y), (x + w, y), (x + w, y + h), (x, y + h)), room=room)


def _block_names(project: Project) -> Iterator[str]:
    for block in project.blocks:
        yield from [block.name] * block.count


def _on_point(project: Project, setting: Setting, planned: Pair) -> Iterator[Face]:
    """Blocks on their points, those between them, and the triangles that fill the edge."""
    names = _block_names(project)
    half = planned[0] / setting.across / 2  # of a block's diagonal
    left, top = -planned[0] / 2, planned[1] / 2
    for inset, less in ((1, 0), (2, 1)):
        for row in range(setting.down - less):
            for column in range(setting.across - less):
                yield _diamond(next(names), left + (2 * column + inset) * half, top - (2 * row + inset) * half, half)
    for column in range(1, setting.across):
        for sign in (1, -1):
            yield _side_triangle((left + 2 * column * half, sign * top), (Fraction(0), -sign * half))
    for row in range(1, setting.down):
        for sign in (1, -1):
            yield _side_triangle((sign * -left, top - 2 * row * half), (-sign * half, Fraction(0)))
    for x, toward in ((left, half), (-left, -half)):
        for y, up in ((top, -half), (-top, half)):
            yield _corner_triangle((x, y), (toward, up))


def _diamond(name: str, x: Fraction, y: Fraction, half: Fraction) -> Face:
    corners = ((x + half, y), (x, y + half), (x - half, y), (x, y - half))
    return Face(name=name, is_block=True, corners=corners, room=(x - half / 2, y - half / 2, half, half))


def _side_triangle(middle: Pair, inward: Pair) -> Face:
    """A triangle whose long side has its `middle` on the edge, and whose right angle points `inward`."""
    (x, y), (u, v) = middle, inward
    tip = (x + u, y + v)
    along = (abs(v), abs(u))
    corners = ((x - along[0], y - along[1]), (x + along[0], y + along[1]), tip)
    low, high = (x - along[0] / 2, y - along[1] / 2), (x + along[0] / 2 + u / 2, y + along[1] / 2 + v / 2)
    return Face(name="triangle/side", corners=corners, room=_between(low, high))


def _corner_triangle(corner: Pair, legs: Pair) -> Face:
    (x, y), (u, v) = corner, legs
    room = _between(corner, (x + u / 2, y + v / 2))
    return Face(name="triangle/corner", corners=((x, y), (x + u, y), (x, y + v)), room=room)


def _between(one: Pair, other: Pair) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """The rectangle between two points."""
    (x, y), (u, v) = one, other
    return min(x, u), min(y, v), abs(u - x), abs(v - y)


def _border(ring: Ring) -> list[Face]:
    name, (across, down), width = ring.border.name, ring.inside, ring.border.width
    outer = across + 2 * width, down + 2 * width
    if ring.is_mitred:
        return [_mitred(f"{name}/{side}", side, ring.inside, outer) for side in SIDES]
    level = across if ring.has_cornerstones else outer[0]
    found = [
        _rectangle(f"{name}/top", (-level / 2, down / 2, level, width)),
        _rectangle(f"{name}/bottom", (-level / 2, -outer[1] / 2, level, width)),
        _rectangle(f"{name}/left", (-outer[0] / 2, -down / 2, width, down)),
        _rectangle(f"{name}/right", (across / 2, -down / 2, width, down)),
    ]
    if ring.has_cornerstones:
        found += [
            _rectangle(f"{name}/cornerstone", (x, y, width, width))
            for y in (down / 2, -outer[1] / 2)
            for x in (-outer[0] / 2, across / 2)
        ]
    return found


def _mitred(name: str, side: str, inner: Pair, outer: Pair) -> Face:
    """A strip between two rectangles, its ends on the lines from corner to corner; the binding's is one for all."""
    (a, b), (c, d) = (inner[0] / 2, inner[1] / 2), (outer[0] / 2, outer[1] / 2)
    sign = 1 if side in ("top", "right") else -1
    if side in ("top", "bottom"):
        corners = ((-c, sign * d), (c, sign * d), (a, sign * b), (-a, sign * b))
        return Face(name=name, corners=corners, room=_between((-a, sign * b), (a, sign * d)))
    corners = ((sign * c, -d), (sign * c, d), (sign * a, b), (sign * a, -b))
    return Face(name=name, corners=corners, room=_between((sign * a, -b), (sign * c, b)))
