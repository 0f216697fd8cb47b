"""A cloth of the ledger as a drawing to scale: its edges, what is selvage, its outline, its flaws."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from ellwand.ledger import OwnedCloth, OwnedFabric, Selvage
from ellwand.lengths import Notation
from ellwand.model import Cloth, Source
from ellwand.project.tables import Way
from ellwand_cli.views.arrange import Arrangement, Outline, Survey, arrange
from ellwand_cli.views.bands import Drawn
from ellwand_cli.views.ground import draw_breaks, draw_ground
from ellwand_cli.views.key import Entry, draw_key, key_height
from ellwand_cli.views.measures import draw_bare_measures
from ellwand_cli.views.owned import cloth_title, in_short
from ellwand_cli.views.palette import BRASS, CLOTH, FLAW, SELVAGE, SOFT, Pattern, Swatch
from ellwand_cli.views.pen import Box, blank_figure, fill, write
from ellwand_cli.views.typeset import printable, shorten

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["owned_figure"]

_TITLE, _MARGIN = 46.0, 14.0
_WIDTH, _TALL = 600.0, 560.0  # points
_BARE = Swatch(tint=CLOTH, line=CLOTH, pattern=Pattern.PLAIN)
_WOVEN = Swatch(tint=SELVAGE, line=SOFT, pattern=Pattern.PLAIN)


def owned_figure(cloth: OwnedCloth, fabric: OwnedFabric, notation: Notation) -> Figure:
    """A figure of one cloth as it was measured, as high as it needs."""
    edges = _edges(cloth, fabric)
    drawn = Drawn(placed=(), offcuts=(), extent=cloth.along, rows=())
    inner = _WIDTH - 2 * _MARGIN
    arrangement = arrange(Survey(edges=edges, drawn=drawn), inner, _TALL)
    entries = _key(cloth, edges)
    key = key_height(entries, inner)
    title, facts = printable(cloth_title(cloth, fabric)), printable(in_short(cloth, notation))
    figure, ax = blank_figure(_WIDTH, arrangement.h + key + _TITLE + 2 * _MARGIN + 6, f"{title}\n{facts}")
    top = arrangement.h + key + _TITLE + _MARGIN + 6
    _draw_title(ax, title, facts, Box(_MARGIN, _MARGIN, inner, top - _MARGIN))
    draw_key(ax, entries, Box(_MARGIN, _MARGIN, inner, key))
    _draw_cloth(ax, cloth, fabric, arrangement, Box(_MARGIN, _MARGIN + key + 6, inner, arrangement.h), notation)
    return figure


def _edges(cloth: OwnedCloth, fabric: OwnedFabric) -> Outline:
    """Its selvages where they are, nothing squared up yet."""
    still_on = () if cloth.trimmed or cloth.outline else cloth.selvages
    left, right = (fabric.selvage if edge in still_on else Fraction(0) for edge in Selvage)
    return Outline(
        usable=cloth.across - left - right,
        selvage_left=left,
        selvage_right=right,
        squaring=Fraction(0),
        far_squaring=Fraction(0),
        extent=cloth.along,
        rest=Fraction(0),
    )


def _draw_title(ax: Axes, title: str, facts: str, box: Box) -> None:
    write(ax, (box.x, box.top - 13), shorten(title, box.w, 13.0, bold=True), 13.0, bold=True)
    write(ax, (box.x, box.top - 28), shorten(facts, box.w, 8.5), 8.5, colour=SOFT)
    fill(ax, [Box(box.x, box.top - 36, 54, 1.6)], BRASS)


def _draw_cloth(
    ax: Axes, cloth: OwnedCloth, fabric: OwnedFabric, arrangement: Arrangement, box: Box, notation: Notation
) -> None:
    usable = arrangement.edges.usable
    bare = Cloth(
        id=cloth.id, source=Source.ON_HAND, across=usable, along=cloth.along, width=cloth.across, length=cloth.along,
        squaring=Fraction(0), washed=cloth.washed, whole=True, outline=cloth.outline, flaws=cloth.flaws,
    )  # fmt: skip
    for band, x, y in arrangement.origins(box):
        draw_ground(ax, arrangement, bare, band, (x, y), _BARE)
        draw_breaks(ax, arrangement, band, (x, y))
        draw_bare_measures(ax, arrangement, band, (x, y), notation, one_way=fabric.way is Way.ONE_WAY)


def _key(cloth: OwnedCloth, edges: Outline) -> tuple[Entry, ...]:
    entries = []
    if edges.width > edges.usable:
        entries.append(Entry(mark="", look=_WOVEN, name="selvage", facts=""))
    if cloth.flaws:
        entries.append(Entry(mark="", look=FLAW, name="flaw, kept clear of", facts=""))
    return tuple(entries)
