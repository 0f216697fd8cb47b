"""The quilt's sizes on the way: sewn centre, inside the binding's seam, raw edge, bound."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import ROOT_2
from ellwand.model import Pair, Sizes
from ellwand.project.tables import Project, Setting
from ellwand.quilt.pieces import grow

__all__ = [
    "centre_seam",
    "edge_seam",
    "measure",
    "measured_warnings",
    "planned_centre",
    "round_the_quilt",
    "seam_warnings",
]

_OFF = Fraction(1, 4)  # inches by which a measured centre may differ from the plan without a word


def measure(project: Project) -> Sizes | None:
    """The sizes of the project's quilt, or None where it is a list of pieces without a quilt.

    A centre that was measured counts as it was measured. Each border adds its finished width on both sides; the raw
    edge lies the binding's seam outside the finished size. Batting is trimmed level with the raw edge, so bound and raw
    are the same.
    """
    if project.setting is None:
        return None
    centre = project.setting.measured or planned_centre(project, project.setting)
    finished = grow(centre, sum((border.width for border in project.borders), Fraction(0)))
    raw = grow(finished, edge_seam(project))
    return Sizes(centre=centre, finished=finished, raw=raw, bound=raw)


def planned_centre(project: Project, setting: Setting) -> Pair:
    """Size of the centre, seam line to seam line, as its blocks, sashes and setting triangles make it.

    On point each block takes its diagonal, finished × √2, both ways (the side of a setting triangle; on-point chart).
    """
    across, down = project.blocks[0].finished
    if setting.on_point:
        return setting.across * across * ROOT_2, setting.down * down * ROOT_2
    if project.sashing is None:
        return setting.across * across, setting.down * down
    more = 1 if project.sashing.outside else -1  # sashes than blocks
    width = project.sashing.width
    return (
        setting.across * across + (setting.across + more) * width,
        setting.down * down + (setting.down + more) * width,
    )


def edge_seam(project: Project) -> Fraction:
    """Seam of the quilt's outer edge: the binding's, or the project's where nothing binds it."""
    return project.binding.seam if project.binding else project.seam


def centre_seam(project: Project) -> Fraction:
    """Seam of the line round the centre: the first border's, or the edge's where there is none."""
    return project.borders[0].seam if project.borders else edge_seam(project)


def round_the_quilt(project: Project, sizes: Sizes, overhang: Fraction) -> tuple[Pair, str]:
    """Size of a sheet that lies under the whole quilt, `overhang` beyond its raw edge on each side, and its terms."""
    terms = f"raw edge {project.notation.pair(*sizes.raw)} + 2 × {project.notation.bare(overhang)} overhang"
    return grow(sizes.raw, overhang), terms


def seam_warnings(project: Project) -> tuple[str, ...]:
    """What to do where the line round the centre is sewn with another seam than the blocks at it are cut for.

    Sashes and setting triangles are cut for the seams of their lines; blocks have one seam on all four sides.
    """
    gap = _blocks_seam_at_the_edge(project) - centre_seam(project)
    if gap == 0:
        return ()
    show = project.notation.show
    start = (
        f"round the blocks the seam is {show(centre_seam(project))}, "
        f"and they are trimmed for {show(project.blocks[0].seam)}"
    )
    if gap < 0:
        return (f"{start}: leave {show(-gap)} more on the outer sides of the outer blocks, and in their margins.",)
    if project.sashing:
        return (f"{start}: trim {show(gap)} off the outer sides of the outer blocks; sashes are cut for it.",)
    return (f"{start}: trim {show(gap)} off the sewn centre all round.",)


def _blocks_seam_at_the_edge(project: Project) -> Fraction:
    """Seam that the centre's raw edge is cut for: the blocks', unless something else lies between them and the line.

    Round blocks on point lie triangles, whose long sides make the edge; the blocks reach it with their points alone.
    """
    setting = project.setting
    inside = setting is None or setting.on_point or (project.sashing is not None and project.sashing.outside)
    return centre_seam(project) if inside else project.blocks[0].seam


def measured_warnings(project: Project) -> tuple[str, ...]:
    """Sides of a measured centre that are far from the plan, and what may be the reason."""
    setting = project.setting
    if setting is None or setting.measured is None:
        return ()
    planned = planned_centre(project, setting)
    sides = zip(("across", "down"), setting.measured, planned, strict=True)
    return tuple(_off(project, side, measured, plan) for side, measured, plan in sides if abs(measured - plan) > _OFF)


def _off(project: Project, side: str, measured: Fraction, plan: Fraction) -> str:
    show = project.notation.show
    seams = 2 * _blocks_seam_at_the_edge(project)
    text = (
        f"quilt: the centre is measured {show(measured)} {side}, and {show(plan)} as planned: "
        f"what is sewn round it is cut to {show(measured)}."
    )
    if abs(measured - plan - seams) > _OFF:
        return text
    return f"{text} If this is from raw edge to raw edge, take two seams, {show(seams)}, off."
