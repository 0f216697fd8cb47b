"""Backing: one piece where the cloth is wide enough, else panels sewn side by side or one below the other."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import round_down
from ellwand.model import Part, Role, Sizes
from ellwand.project.fabrics import hangs
from ellwand.project.tables import Backing, Panels, Project
from ellwand.quilt.panels import Sheet, allowed_panels, fits_whole, made_of, sheet_part
from ellwand.quilt.sizes import round_the_quilt

__all__ = ["backing_parts", "backing_warnings"]

_NEARLY = 2  # inches by which a backing misses one panel less for it to be worth telling


def backing_parts(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    """The backing, where there is one, with each direction of seams that it allows.

    Raises
    ------
    NoPlanError
        Its cloth is too narrow for panels.
    """
    if project.backing is None:
        return ()
    return (sheet_part(project, _sheet(project, project.backing, sizes)),)


def _sheet(project: Project, backing: Backing, sizes: Sizes) -> Sheet:
    size, terms = round_the_quilt(project, sizes, backing.overhang)
    return Sheet(
        name="backing",
        whole_id="backing/1",
        fabric=backing.fabric,
        role=Role.BACKING,
        size=size,
        loss=2 * backing.seam,
        seam_word="seam",
        directions=_directions(project, backing),
        terms=terms,
        count=project.copies,
        where="back of the quilt",
        after=f"sew the panels together with a seam of {project.notation.show(backing.seam)}, selvages cut off",
    )


def _directions(project: Project, backing: Backing) -> tuple[Panels, ...]:
    """The ways its panels may hang; cloth with a top and bottom hangs upright, so its seams run down the quilt."""
    fabric = project.fabrics[backing.fabric]
    if hangs(fabric):
        return (Panels.LENGTHWISE,)
    if backing.panels is Panels.BEST:
        return (Panels.LENGTHWISE, Panels.CROSSWISE)
    return (backing.panels,)


def backing_warnings(project: Project, sizes: Sizes) -> tuple[str, ...]:
    """Backings that miss one panel less by little, and the largest overhang that saves it."""
    backing = project.backing
    if backing is None:
        return ()
    sheet = _sheet(project, backing, sizes)
    if fits_whole(project, sheet):
        return ()
    return tuple(
        text
        for direction, widths in allowed_panels(project, sheet).items()
        for text in _nearly(project, backing, sizes, direction, widths)
    )


def _nearly(
    project: Project, backing: Backing, sizes: Sizes, direction: Panels, widths: tuple[Fraction, ...]
) -> tuple[str, ...]:
    sheet = _sheet(project, backing, sizes)
    axis, narrower = (0, "narrower") if direction is Panels.LENGTHWISE else (1, "shorter")
    fewer = sum(widths[:-1], Fraction(0)) - (len(widths) - 2) * sheet.loss
    overhang = round_down((fewer - sizes.raw[axis]) / 2, project.ruler)
    if sheet.size[axis] - fewer >= _NEARLY or overhang < 0:
        return ()
    show = project.notation.show
    missing = show(2 * (backing.overhang - overhang))
    return (
        f"backing: were it {missing} {narrower} (an overhang of {show(overhang)} instead of "
        f"{show(backing.overhang)}), it would take one panel less that way: "
        f"{made_of(sheet, direction, len(widths) - 1)}.",
    )
