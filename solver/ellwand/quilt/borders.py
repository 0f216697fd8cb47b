"""Borders: four strips each, cornerstones where there are some, and the ways they may be cut from the cloth."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import round_down, round_up
from ellwand.model import Part, Piece, Role, Sizes
from ellwand.project.tables import Project
from ellwand.quilt.pieces import cut_size, lie, part_of, require_fit, sums_text
from ellwand.quilt.rings import SIDES, Ring, is_upright, rings
from ellwand.quilt.strips import Strip, join_loss
from ellwand.quilt.ways import StripSet, lies_lengthwise, part_of_strips

__all__ = ["border_parts", "border_warnings"]

_PLACES = {"top": "top", "bottom": "bottom", "left": "left side", "right": "right side"}


def border_parts(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    """A part for every border, from the inside out, and one for the cornerstones of those that have some.

    Raises
    ------
    NoPlanError
        A border can be cut in none of the ways that it allows, or its cornerstones are wider than their cloth.
    """
    return tuple(
        part
        for ring in rings(project, sizes)
        for part in (part_of_strips(_strips(ring)), *((_cornerstones(ring),) if ring.has_cornerstones else ()))
    )


def _strips(ring: Ring) -> StripSet:
    return StripSet(
        project=ring.project,
        name=ring.border.name,
        fabric=ring.project.fabrics[ring.border.fabric],
        strips=tuple(_strip(ring, side) for side in SIDES),
        cut=ring.border.cut,
        joins=ring.border.joins,
    )


def _strip(ring: Ring, side: str) -> Strip:
    project, border = ring.project, ring.border
    loss = join_loss(border.join, ring.width, project.seam)
    return Strip(
        id=f"{border.name}/{side}",
        fabric=border.fabric,
        role=Role.BORDER,
        upright=is_upright(side),
        width=ring.width,
        run=ring.run(side),
        exact=ring.exact_run(side),
        count=project.copies,
        finished=ring.finished(side),
        why=ring.why(side),
        after=_after(ring),
        where=f"{_PLACES[side]} of the {border.name} border",
        join=border.join,
        loss=loss,
        shortest=round_up(border.shortest, project.ruler),
        mitre=round_up(ring.reach_of_mitre(side) + loss, project.ruler) if ring.is_mitred else Fraction(0),
    )


def _after(ring: Ring) -> str:
    """What is done with a strip: how it comes to its length, by what it has to spare and whether that is measured."""
    spare = (ring.last if ring.is_mitred else ring.border).extra
    setting = ring.project.setting
    if setting is not None and setting.measured:
        return "cut long; to length when it is sewn on" if spare else ""
    if spare:
        return "cut long now; to length after the sewn centre is measured"
    return "nothing to spare: measure the sewn centre before it is cut"


def _cornerstones(ring: Ring) -> Part:
    project, border = ring.project, ring.border
    fabric = border.cornerstones or border.fabric
    cut = cut_size(ring.exact_cornerstone, project.ruler)
    lies = lie(project.fabrics[fabric], cut, None)
    piece = Piece(
        id=f"{border.name}/cornerstone",
        fabric=fabric,
        role=Role.BORDER,
        across=lies.across,
        along=lies.along,
        count=4 * project.copies,
        turnable=lies.turnable,
        finished=(border.width, border.width),
        why=sums_text(project.notation, ring.cornerstone_terms, ring.exact_cornerstone, cut),
        after=_sewn_to(ring),
        where=f"corners of the {border.name} border",
    )
    return part_of(require_fit(project, piece))


def _sewn_to(ring: Ring) -> str:
    return f"sew to both ends of {ring.border.name}/top and {ring.border.name}/bottom"


def border_warnings(project: Project, sizes: Sizes) -> tuple[str, ...]:
    """Mitres that will be short, and borders too wide for four to lie side by side."""
    found = rings(project, sizes)
    return (*(text for ring in found for text in _short_mitre(ring)), *(text for ring in found for text in _wide(ring)))


def _short_mitre(ring: Ring) -> tuple[str, ...]:
    if not ring.is_mitred or ring.border is not ring.last or ring.border.extra >= ring.least_extra:
        return ()
    show = ring.project.notation.show
    return (
        f"border {ring.border.name}: {show(ring.border.extra)} extra is too little for its mitres: "
        f"their seams take {show(round_up(ring.least_extra, ring.project.ruler))}.",
    )


def _wide(ring: Ring) -> tuple[str, ...]:
    """What it costs, and how it is saved, that four strips no longer lie side by side along the selvage."""
    strips = _strips(ring)
    if not lies_lengthwise(strips) or 4 * ring.width <= strips.usable or ring.width > strips.usable:
        return ()
    show, bare = ring.project.notation.show, ring.project.notation.bare
    lengths = _lengths_taken(strips)
    each = " for each quilt" if ring.project.copies > 1 else ""
    return (
        f"border {ring.border.name}: its strips are {show(ring.width)} wide, more than a quarter of the "
        f"{show(strips.usable)} that {strips.fabric.id} can be used for: four no longer lie side by side. "
        f"Cut lengthwise they take {len(lengths)} lengths{each}, at most "
        f"{' + '.join(map(bare, lengths[:-1]))} + {show(lengths[-1])}, "
        f"instead of one of {show(lengths[0])}{_narrower(ring, strips)}.",
    )


def _lengths_taken(strips: StripSet) -> list[Fraction]:
    """Lengths of cloth for the strips lengthwise, as many side by side as its width holds, the longest first."""
    runs = sorted((strip.run for strip in strips.strips), reverse=True)
    return runs[:: int(strips.usable / strips.strips[0].width)]


def _narrower(ring: Ring, strips: StripSet) -> str:
    """The finished width up to which four would lie side by side, if there is one."""
    width = round_down(strips.usable / 4, ring.project.ruler) - ring.border.seam - ring.outer_seam
    return f"; up to a finished width of {ring.project.notation.show(width)} one would do" if width > 0 else ""
