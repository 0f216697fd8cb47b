r"""Setting triangles: what fills the edge and the corners of a quilt whose blocks stand on their points.

::

    +---------------------+---------    A square cut twice gives four side triangles, their long sides on
    |  corner  /\  side   /\  side      its edges; a square cut once gives two corners, their legs on its
    |        /    \     /    \          edges: the quilt's edge lies on the straight grain all round.
    |      /  block \ /  block
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from ellwand.lengths import ROOT_2
from ellwand.model import Pair, Part, Piece, Role
from ellwand.project.fabrics import hangs
from ellwand.project.tables import Project, Setting
from ellwand.quilt.pieces import cut_size, lie, part_of, require_fit, sum_text
from ellwand.quilt.sizes import centre_seam

__all__ = ["triangle_parts"]

_CORNERS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Filling:
    """The setting triangles of a project, with all that settles their size.

    Parameters
    ----------
    side
        Finished side of a block.
    seam
        Of the lines at the blocks.
    edge
        Seam of the line round the centre.
    """

    project: Project
    setting: Setting
    fabric: str
    side: Fraction
    seam: Fraction
    edge: Fraction

    @property
    def sides(self) -> int:
        """Side triangles of one quilt: at the top and bottom and at the left and right, between the outer blocks."""
        return 2 * (self.setting.across - 1) + 2 * (self.setting.down - 1)


def triangle_parts(project: Project) -> tuple[Part, ...]:
    """A part for the side triangles and one for the corners of a quilt on point.

    Raises
    ------
    NoPlanError
        A square is wider than its cloth.
    """
    setting = project.setting
    if setting is None or setting.triangles is None:
        return ()
    filling = _Filling(
        project=project,
        setting=setting,
        fabric=setting.triangles,
        side=project.blocks[0].finished[0],
        seam=project.blocks[0].seam,
        edge=centre_seam(project),
    )
    cutters: tuple[Callable[[_Filling], Piece], ...] = (_side, _corner) if filling.sides else (_corner,)
    return tuple(part_of(require_fit(project, cutter(filling))) for cutter in cutters)


def _side(filling: _Filling) -> Piece:
    """The square cut twice: long side of a triangle + 2 edge seams + 2√2 of its legs' seams (geometry)."""
    long_side = filling.side * ROOT_2
    exact = long_side + 2 * filling.edge + 2 * ROOT_2 * filling.seam
    return _square(
        filling,
        name="side",
        exact=exact,
        terms=f"{_bare(filling, filling.side)} × √2 long side + 2 × {_bare(filling, filling.edge)} "
        f"+ 2√2 × {_bare(filling, filling.seam)} seams",
        count=_side_squares(filling),
        finished=(long_side, long_side / 2),
        after=f"cut twice on the diagonal, 4 triangles from a square{_side_lie(filling)}",
        where=f"edge of the quilt, on point: {filling.sides} side triangles, 4 from a square",
    )


def _corner(filling: _Filling) -> Piece:
    """The square cut once: leg of a triangle + 2 edge seams + √2 of its long side's seam (geometry)."""
    leg = filling.side * ROOT_2 / 2
    exact = leg + 2 * filling.edge + ROOT_2 * filling.seam
    half = ", half of the squares on one diagonal and half on the other, as the print hangs"
    return _square(
        filling,
        name="corner",
        exact=exact,
        terms=f"{_bare(filling, filling.side)} ÷ √2 leg + 2 × {_bare(filling, filling.edge)} "
        f"+ √2 × {_bare(filling, filling.seam)} seams",
        count=filling.project.copies * _CORNERS // 2,
        finished=(leg, leg),
        after=f"cut once on the diagonal, 2 triangles from a square{half if _keeps_its_way(filling) else ''}",
        where=f"corners of the quilt, on point: {_CORNERS} triangles, 2 from a square",
    )


def _side_squares(filling: _Filling) -> int:
    """How many squares give the side triangles: whole ones for each copy, as kits need them.

    Of cloth that hangs one way a square gives one triangle for each of the four edges.
    """
    copies = filling.project.copies
    if _keeps_its_way(filling):
        return copies * (max(filling.setting.across, filling.setting.down) - 1)
    return copies * ceil(filling.sides / 4)


def _side_lie(filling: _Filling) -> str:
    return ", one for each edge of the quilt as the print hangs" if _keeps_its_way(filling) else ""


def _keeps_its_way(filling: _Filling) -> bool:
    return hangs(filling.project.fabrics[filling.fabric])


def _bare(filling: _Filling, length: Fraction) -> str:
    return filling.project.notation.bare(length)


def _square(
    filling: _Filling, *, name: str, exact: Fraction, terms: str, count: int, finished: Pair, after: str, where: str
) -> Piece:
    project = filling.project
    cut = cut_size((exact, exact), project.ruler)
    lies = lie(project.fabrics[filling.fabric], cut, None)
    return Piece(
        id=f"triangle/{name}",
        fabric=filling.fabric,
        role=Role.TRIANGLE,
        across=lies.across,
        along=lies.along,
        count=count,
        turnable=lies.turnable,
        finished=finished,
        why=sum_text(project.notation, terms, exact, cut[0]),
        after=after,
        where=where,
    )
