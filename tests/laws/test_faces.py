"""The front of random quilts: faces cover it once, and are as many as the pieces that are cut for them."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from shapely import Polygon, union_all

from ellwand.model import Role
from ellwand.quilt.faces import Face, faces
from ellwand.quilt.work import work_out
from laws.quilts import QUILTS, Made, project_of


def area(face: Face) -> Fraction:
    """Area inside the edge, exact, by the shoelace sum."""
    corners = (*face.corners, face.corners[0])
    return abs(sum((x * v - u * y for (x, y), (u, v) in pairwise(corners)), Fraction(0))) / 2


@settings(deadline=None, derandomize=True, max_examples=60)
@given(QUILTS)
def test_faces_cover_the_quilt_once(made: Made) -> None:
    """Areas add up to the whole, exactly, and no two faces lie on each other."""
    project = project_of(made)
    quilt = work_out(project)
    assert quilt.sizes is not None

    found = faces(project, quilt.sizes)

    whole = quilt.sizes.bound if project.binding else quilt.sizes.finished
    assert sum(map(area, found)) == whole[0] * whole[1]
    assert abs(union_all([Polygon(face.corners) for face in found]).area - float(whole[0] * whole[1])) < 1e-6


@settings(deadline=None, derandomize=True, max_examples=60)
@given(QUILTS)
def test_the_room_to_write_in_lies_inside(made: Made) -> None:
    """Every face holds its room."""
    project = project_of(made)
    quilt = work_out(project)
    assert quilt.sizes is not None

    for face in faces(project, quilt.sizes):
        x, y, w, h = map(float, face.room)
        assert w > 0 < h
        room = Polygon([(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
        assert room.difference(Polygon(face.corners)).area < 1e-9


@settings(deadline=None, derandomize=True, max_examples=60)
@given(QUILTS)
def test_there_are_as_many_faces_as_pieces(made: Made) -> None:
    """Sashes, border strips and cornerstones are seen as often as they are cut; blocks fill the setting."""
    project = project_of(made)
    quilt = work_out(project)
    assert quilt.sizes is not None
    assert project.setting is not None

    seen = Counter(face.name for face in faces(project, quilt.sizes) if not face.is_block)
    pieces = [piece for part in quilt.parts for piece in part.pieces if piece.role in (Role.SASHING, Role.BORDER)]
    cut = {piece.id: piece.count // project.copies for piece in pieces if not piece.id.rpartition("/")[2].isdigit()}

    assert {name: seen[name] for name in cut} == cut
    assert sum(face.is_block for face in faces(project, quilt.sizes)) == project.setting.blocks
