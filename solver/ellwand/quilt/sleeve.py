"""Sleeve: a tube along the top of the back, to hang the quilt by."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import round_up
from ellwand.model import Part, Role, Sizes
from ellwand.project.tables import Join, Project, Sleeve
from ellwand.quilt.pieces import strip_width, sum_text
from ellwand.quilt.strips import Strip, join_loss
from ellwand.quilt.ways import StripSet, part_of_strips

__all__ = ["sleeve_parts"]


def sleeve_parts(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    """The sleeve, where there is one: (bound edge + extra) × (2·depth + 2·seam), as a show of quilts asks for.

    Nobody sees which way its print runs.

    Raises
    ------
    NoPlanError
        Its cloth is too narrow for it.
    """
    sleeve = project.sleeve
    if sleeve is None:
        return ()
    strips = StripSet(
        project=project,
        name="sleeve",
        fabric=project.fabrics[sleeve.fabric],
        strips=(_strip(project, sleeve, sizes.bound[0]),),
        keeps_its_way=False,
    )
    return (part_of_strips(strips),)


def _strip(project: Project, sleeve: Sleeve, edge: Fraction) -> Strip:
    """The sleeve's one strip; no bit of a joined one is shorter than the tube is deep."""
    width, run = 2 * sleeve.depth + 2 * sleeve.seam, edge + sleeve.extra
    cut = round_up(width, project.ruler), round_up(run, project.ruler)
    bare = project.notation.bare
    deep = f"2 × {bare(sleeve.depth)} depth + 2 × {bare(sleeve.seam)} seams"
    long = f"{bare(edge)} bound edge + {bare(sleeve.extra)} extra"
    return Strip(
        id="sleeve",
        fabric=sleeve.fabric,
        role=Role.SLEEVE,
        upright=False,
        width=cut[0],
        run=cut[1],
        exact=run,
        count=project.copies,
        why=f"width {sum_text(project.notation, deep, width, cut[0])}; "
        f"length {sum_text(project.notation, long, run, cut[1])}",
        after="hem both ends, sew to a tube along its length",
        where="back of the quilt, along its top edge",
        join=Join.STRAIGHT,
        loss=join_loss(Join.STRAIGHT, cut[0], project.seam),
        shortest=min(round_up(sleeve.depth, project.ruler), strip_width(project, sleeve.fabric)),
    )
