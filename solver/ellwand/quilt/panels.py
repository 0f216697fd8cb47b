"""Sheets wider than their cloth, made of panels: side by side (lengthwise seams) or one below the other (crosswise)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.errors import NoPlanError
from ellwand.model import Construction, Pair, Part, Piece, Role
from ellwand.project.tables import Panels, Project
from ellwand.quilt.pieces import cut_size, lie, part_in_one_way, usable
from ellwand.quilt.strips import merge_equal, spliced_text, split_run

__all__ = ["Sheet", "fits_whole", "panel_widths", "sheet_part"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A large sheet before it is settled how it is made.

    Parameters
    ----------
    whole_id
        The id of its one piece where it needs no panels.
    size
        Exact size, across × down as it hangs.
    loss
        Width that one seam between panels takes: two seams, or nothing where they are butted edge to edge.
    seam_word
        What a join of panels is called.
    directions
        The directions of seams that it allows.
    after
        What is done with its panels.
    """

    name: str
    whole_id: str
    fabric: str
    role: Role
    size: Pair
    loss: Fraction
    seam_word: str
    directions: tuple[Panels, ...]
    why: str
    after: str


def sheet_part(project: Project, sheet: Sheet) -> Part:
    """The part that `sheet` is, in one piece where its cloth is wide enough.

    Raises
    ------
    NoPlanError
        Its cloth is too narrow for panels.
    """
    whole = _whole(project, sheet)
    if fits_whole(project, sheet):
        return part_in_one_way(sheet.name, Construction(name="whole", joins=0, pieces=(whole,)))
    found = [_panelled(project, sheet, whole, direction) for direction in sheet.directions]
    options = tuple(construction for construction in found if construction is not None)
    if not options:
        raise _too_narrow(project, sheet)
    pieces = options[0].pieces if len(options) == 1 else (replace(whole, id=sheet.name, open_form=True),)
    return Part(name=sheet.name, fabric=sheet.fabric, options=options, pieces=pieces)


def fits_whole(project: Project, sheet: Sheet) -> bool:
    """Whether the cloth of `sheet` is wide enough for it in one piece."""
    return _narrowest(project, sheet) <= usable(project, sheet.fabric)


def _narrowest(project: Project, sheet: Sheet) -> Fraction:
    """The least width that holds `sheet` in one piece."""
    whole = _whole(project, sheet)
    return min(whole.across, whole.along) if whole.turnable else whole.across


def _whole(project: Project, sheet: Sheet) -> Piece:
    lies = lie(project.fabrics[sheet.fabric], cut_size(sheet.size, project.ruler), None)
    return Piece(
        id=sheet.whole_id,
        fabric=sheet.fabric,
        role=sheet.role,
        across=lies.across,
        along=lies.along,
        count=project.copies,
        turnable=lies.turnable,
        why=sheet.why,
    )


def panel_widths(project: Project, sheet: Sheet, direction: Panels) -> tuple[Fraction, ...]:
    """Widths of the panels of `sheet` with seams in `direction`: full widths of cloth, the last as wide as needed.

    n widths u cover n·u − (n − 1)·loss. Empty where a seam takes the whole width of the cloth.
    """
    covered = sheet.size[0] if direction is Panels.LENGTHWISE else sheet.size[1]
    return split_run(covered, usable=usable(project, sheet.fabric), loss=sheet.loss, ruler=project.ruler)


def _panelled(project: Project, sheet: Sheet, whole: Piece, direction: Panels) -> Construction | None:
    widths = panel_widths(project, sheet, direction)
    if not widths:
        return None
    seams = len(widths) - 1
    panel = replace(
        whole,
        id=sheet.name,
        along=whole.along if direction is Panels.LENGTHWISE else whole.across,
        turnable=not project.fabrics[sheet.fabric].woven,
        why=f"{sheet.why}; panels {spliced_text(widths, sheet.loss, 'seams', project.notation)}",
        after=sheet.after,
    )
    return Construction(
        name=f"{seams} {direction.value} {sheet.seam_word}{'s' if seams > 1 else ''}",
        joins=seams * project.copies,
        pieces=merge_equal(panel, widths),
    )


def _too_narrow(project: Project, sheet: Sheet) -> NoPlanError:
    show = project.notation.show
    width = usable(project, sheet.fabric)
    narrowest = _narrowest(project, sheet)
    return NoPlanError(
        where=f"{project.source}: {sheet.name}",
        found=f"is {show(narrowest)} wide, and {sheet.fabric} can be used for {show(width)}, no more than a seam takes",
        wanted=f"{show(narrowest - width)} missing",
        hint=f"Take a wider cloth for it, or check the width of {sheet.fabric}",
    )
