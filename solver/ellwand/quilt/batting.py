"""Batting: a sheet under the whole quilt, or a frame under its borders alone."""

from __future__ import annotations

from fractions import Fraction

from ellwand.model import Construction, Pair, Part, Piece, Role, Sizes
from ellwand.project.tables import Batting, Panels, Project
from ellwand.quilt.panels import Sheet, sheet_part
from ellwand.quilt.pieces import cut_size, lie, part_in_one_way, require_fit, told
from ellwand.quilt.rings import SIDES
from ellwand.quilt.sizes import edge_seam, round_the_quilt

__all__ = ["batting_parts", "batting_warnings"]

_PLACES = {"top": "above", "bottom": "below", "left": "left of", "right": "right of"}


def batting_parts(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    """The batting, where the quilt needs any beside what its blocks carry.

    Raises
    ------
    NoPlanError
        A strip of it is wider than its roll.
    """
    batting = project.batting
    if batting is None or batting.under == "none":
        return ()
    if batting.under == "all":
        return (sheet_part(project, _sheet(project, batting, sizes)),)
    return (_frame(project, batting, sizes),) if project.borders else ()


def _sheet(project: Project, batting: Batting, sizes: Sizes) -> Sheet:
    size, terms = round_the_quilt(project, sizes, batting.overhang)
    return Sheet(
        name="batting",
        whole_id="batting",
        fabric=batting.fabric,
        role=Role.BATTING,
        size=size,
        loss=Fraction(0),
        seam_word="join",
        directions=(Panels.LENGTHWISE, Panels.CROSSWISE),
        terms=terms,
        count=project.copies,
        where="under the whole quilt",
        after="butt the panels edge to edge and whip them together, without a seam",
    )


def _frame(project: Project, batting: Batting, sizes: Sizes) -> Part:
    """Four strips round the sewn centre, whose blocks carry their own batting.

    ::

        +--+-----------+--+
        |  |    top    |  |    each from the centre's seam line to the overhang;
        |  +-----------+  |    left and right over the whole height, top and
        |  |  centre   |  |    bottom between them, butted without a seam
        |  +-----------+  |
        |  |  bottom   |  |
        +--+-----------+--+
    """
    pieces = tuple(_strip(project, batting, sizes, side) for side in SIDES)
    return part_in_one_way("batting", Construction(name="frame", joins=0, pieces=pieces))


def _strip(project: Project, batting: Batting, sizes: Sizes, side: str) -> Piece:
    width = _frame_width(project, batting)
    upright = side in ("left", "right")
    exact = (width, sizes.raw[1] + 2 * batting.overhang) if upright else (sizes.centre[0], width)
    cut = cut_size(exact, project.ruler)
    lies = lie(project.fabrics[batting.fabric], cut, None)
    return require_fit(
        project,
        Piece(
            id=f"batting/{side}",
            fabric=batting.fabric,
            role=Role.BATTING,
            across=lies.across,
            along=lies.along,
            count=project.copies,
            turnable=lies.turnable,
            why=_strip_why(project, batting, sizes, upright=upright) + _rounding(project, exact, cut),
            after="butt against the centre's batting and the strips beside it, without a seam",
            where=f"under the borders {_PLACES[side]} the centre",
        ),
    )


def _frame_width(project: Project, batting: Batting) -> Fraction:
    """From the centre's seam line, where the blocks' own batting ends, to the overhang."""
    borders = sum((border.width for border in project.borders), Fraction(0))
    return borders + edge_seam(project) + batting.overhang


def _strip_why(project: Project, batting: Batting, sizes: Sizes, *, upright: bool) -> str:
    notation = project.notation
    bare = notation.bare
    borders = " + ".join(bare(border.width) for border in project.borders)
    terms = (
        f"from the centre's seam line: {borders} border + {bare(edge_seam(project))} seam "
        f"+ {bare(batting.overhang)} overhang"
    )
    width = told(terms, notation.show(_frame_width(project, batting)))
    if not upright:
        return f"{width} wide; between the side strips, {notation.show(sizes.centre[0])} as the centre"
    terms = f"raw edge {bare(sizes.raw[1])} + 2 × {bare(batting.overhang)}"
    return f"{width} wide; {told(terms, notation.show(sizes.raw[1] + 2 * batting.overhang))} long"


def _rounding(project: Project, exact: Pair, cut: Pair) -> str:
    return "" if exact == cut else f"; on the ruler {project.notation.pair(*cut)}"


def batting_warnings(project: Project) -> tuple[str, ...]:
    """Batting that is asked for under borders where there are none, or that leaves parts of the centre without."""
    if project.batting is None or project.batting.under != "borders":
        return ()
    if not project.borders:
        return ("batting: it is asked for under the borders alone, and there are none, so no batting is cut.",)
    bare = _between_blocks(project)
    return (
        (f"batting: it lies under the borders alone, and {bare} in the centre have none under them.",) if bare else ()
    )


def _between_blocks(project: Project) -> str:
    """What fills the centre beside the blocks, which carry their own batting; or nothing."""
    if project.sashing:
        return "the sashes"
    return "the setting triangles" if project.setting and project.setting.on_point else ""
