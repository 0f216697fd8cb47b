"""The quilt's sizes on the way: sewn centre, inside the binding's seam, raw edge, bound."""

from __future__ import annotations

from fractions import Fraction

from ellwand.model import Pair, Sizes
from ellwand.project.tables import Project
from ellwand.quilt.pieces import grow

__all__ = ["edge_seam", "measure", "round_the_quilt", "seam_warnings"]


def measure(project: Project) -> Sizes | None:
    """The sizes of the project's quilt, or None where it is a list of pieces without a quilt.

    Each border adds its finished width on both sides; the raw edge lies the binding's seam outside the finished size.
    Batting is trimmed level with the raw edge, so bound and raw are the same.
    """
    if project.setting is None:
        return None
    across, down = project.blocks[0].finished
    centre = project.setting.across * across, project.setting.down * down
    finished = grow(centre, sum((border.width for border in project.borders), Fraction(0)))
    raw = grow(finished, edge_seam(project))
    return Sizes(centre=centre, finished=finished, raw=raw, bound=raw)


def edge_seam(project: Project) -> Fraction:
    """Seam of the quilt's outer edge: the binding's, or the project's where nothing binds it."""
    return project.binding.seam if project.binding else project.seam


def round_the_quilt(project: Project, sizes: Sizes, overhang: Fraction) -> tuple[Pair, str]:
    """Size of a sheet that lies under the whole quilt, `overhang` beyond its raw edge on each side, and the sum."""
    size = grow(sizes.raw, overhang)
    pair = project.notation.pair
    return size, f"raw edge {pair(*sizes.raw)} + 2 × {project.notation.bare(overhang)} overhang = {pair(*size)}"


def seam_warnings(project: Project) -> tuple[str, ...]:
    """What to do where the line round the blocks is sewn with another seam than the blocks are cut for."""
    line = project.borders[0].seam if project.borders else edge_seam(project)
    if project.setting is None or line == project.blocks[0].seam:
        return ()
    show = project.notation.show
    gap = project.blocks[0].seam - line
    start = f"round the blocks the seam is {show(line)}, and they are trimmed for {show(project.blocks[0].seam)}"
    if gap > 0:
        return (f"{start}: trim {show(gap)} off the sewn centre all round.",)
    return (f"{start}: leave {show(-gap)} more on the outer sides of the outer blocks.",)
