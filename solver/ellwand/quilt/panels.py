"""Sheets wider than their cloth, made of panels: side by side (seams down the quilt) or one above the other."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.errors import NoPlanError
from ellwand.model import Construction, Pair, Part, Piece, Role
from ellwand.project.tables import Panels, Project
from ellwand.quilt.pieces import cut_size, lie, size_text, usable
from ellwand.quilt.strips import Splice, merge_equal, splice, spliced_text

__all__ = ["Sheet", "allowed_panels", "fits_whole", "in_one_piece", "made_of", "sheet_part"]


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
        The ways its panels may hang: down it (lengthwise), or across it.
    terms
        The sum that gave `size`.
    after
        What is done with its panels.
    count
        How many are made, with `copies`.
    free
        Whether it may lie any way, whatever its cloth.
    holder
        What its panels go down or across, in messages.
    """

    name: str
    whole_id: str
    fabric: str
    role: Role
    size: Pair
    loss: Fraction
    seam_word: str
    directions: tuple[Panels, ...]
    terms: str
    after: str
    where: str
    count: int
    free: bool = False
    holder: str = "quilt"


def sheet_part(project: Project, sheet: Sheet) -> Part:
    """The part that `sheet` is: in one piece where its cloth is wide enough, and in panels where they save cloth.

    Raises
    ------
    NoPlanError
        Its cloth is too narrow for panels.
    """
    whole = in_one_piece(project, sheet)
    in_one = (Construction(name="whole", joins=0, pieces=(whole,)),) if fits_whole(project, sheet) else ()
    options = in_one + tuple(
        _panelled(project, sheet, direction, widths)
        for direction, widths in _panels(project, sheet, needed=not in_one).items()
        if len(widths) > 1
    )
    pieces = options[0].pieces if len(options) == 1 else (replace(whole, id=sheet.name, open_form=True),)
    return Part(name=sheet.name, fabric=sheet.fabric, options=options, pieces=pieces)


def _panels(project: Project, sheet: Sheet, *, needed: bool) -> dict[Panels, tuple[Fraction, ...]]:
    """The panels of `sheet`; none where its cloth is too narrow for them and they are not `needed`."""
    try:
        return allowed_panels(project, sheet)
    except NoPlanError:
        if needed:
            raise
        return {}


def fits_whole(project: Project, sheet: Sheet) -> bool:
    """Whether the cloth of `sheet` is wide enough for it in one piece."""
    whole = in_one_piece(project, sheet)
    narrowest = min(whole.across, whole.along) if whole.turnable else whole.across
    return narrowest <= usable(project, sheet.fabric)


def in_one_piece(project: Project, sheet: Sheet) -> Piece:
    """The one piece that `sheet` is where its cloth is wide enough."""
    cut = cut_size(sheet.size, project.ruler)
    lies = lie(project.fabrics[sheet.fabric], cut, None)
    return Piece(
        id=sheet.whole_id,
        fabric=sheet.fabric,
        role=sheet.role,
        across=lies.across,
        along=lies.along,
        count=sheet.count,
        turnable=lies.turnable or sheet.free,
        why=size_text(project.notation, sheet.terms, sheet.size, cut),
        where=sheet.where,
    )


def allowed_panels(project: Project, sheet: Sheet) -> dict[Panels, tuple[Fraction, ...]]:
    """Widths of the panels of `sheet` for each way they may hang: full widths of cloth, the last as wide as needed.

    n widths u cover n·u − (n − 1)·loss.

    Raises
    ------
    NoPlanError
        Its cloth is too narrow for panels, whichever way they hang.
    """
    found: dict[Panels, tuple[Fraction, ...]] = {}
    refusals: list[NoPlanError] = []
    for direction in sheet.directions:
        covered = sheet.size[0] if direction is Panels.LENGTHWISE else sheet.size[1]
        run = Splice(name=sheet.name, fabric=sheet.fabric, run=covered, loss=sheet.loss, join_word=sheet.seam_word)
        try:
            found[direction] = splice(project, run)
        except NoPlanError as refusal:
            refusals.append(refusal)
    if not found:
        raise refusals[0]
    return found


def made_of(sheet: Sheet, direction: Panels, number: int) -> str:
    """What a sheet of so many panels is, as one sees it: ``2 panels, seam across the quilt``."""
    if number == 1:
        return "one piece"
    seams = sheet.seam_word if number == 2 else f"{sheet.seam_word}s"
    return f"{number} panels, {seams} {'down' if direction is Panels.LENGTHWISE else 'across'} the {sheet.holder}"


def _panelled(project: Project, sheet: Sheet, direction: Panels, widths: tuple[Fraction, ...]) -> Construction:
    whole = in_one_piece(project, sheet)
    panel = replace(
        whole,
        id=sheet.name,
        along=whole.along if direction is Panels.LENGTHWISE else whole.across,
        turnable=sheet.free or not project.fabrics[sheet.fabric].woven,
        why=f"{whole.why}; panels {spliced_text(widths, sheet.loss, f'{sheet.seam_word}s', project.notation)}",
        after=sheet.after,
    )
    return Construction(
        name=made_of(sheet, direction, len(widths)),
        joins=(len(widths) - 1) * sheet.count,
        pieces=merge_equal(panel, widths, project.notation),
    )
