"""Where a cloth comes from and how large it is: as bought or measured, and as it is cut, washed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from ellwand.cloths import as_measured
from ellwand.lengths import Notation
from ellwand.model import Cloth, FabricPlan, Layout, Piece, Plan, Source
from ellwand.project.tables import Fabric
from ellwand_cli.views.lays import lay_of, lay_source
from ellwand_cli.views.typeset import printable

__all__ = [
    "MISSING", "as_laid", "as_told", "cloth_length", "cloth_name", "cloth_source", "cloth_title", "is_missing",
    "selvages", "shelf_mark", "to_wash", "width_words",
]  # fmt: skip

MISSING = "MISSING: this cloth is not there"


def is_missing(answer: FabricPlan, cloth: Cloth) -> bool:
    """Whether `cloth` stands for what is not on hand and may not be bought."""
    return cloth.source is Source.BUY and not answer.fabric.buy


def to_wash(answer: FabricPlan, cloth: Cloth) -> bool:
    """Whether `cloth` is still to be washed before it is cut."""
    return answer.fabric.wash and not cloth.washed


def selvages(answer: FabricPlan, cloth: Cloth) -> int:
    """How many selvages are lost at the sides of `cloth`; what rounding alone takes is none."""
    selvage = answer.fabric.selvage
    return min(2, int((cloth.width - cloth.across) // selvage)) if selvage else 0


def as_told(answer: FabricPlan, layout: Layout) -> Layout:
    """`layout` as sheets show it: of a missing cloth nothing is left to keep."""
    return replace(layout, offcuts=()) if is_missing(answer, layout.cloth) else layout


def as_laid(piece: Piece, layouts: Sequence[Layout]) -> tuple[Fraction, Fraction]:
    """Size of `piece` as it lies, where all of it lie alike; else as it is listed."""
    sizes = {
        (placed.across, placed.along) for layout in layouts for placed in layout.placed if placed.piece == piece.id
    }
    return sizes.pop() if len(sizes) == 1 else (piece.across, piece.along)


def cloth_title(answer: FabricPlan, layout: Layout) -> str:
    """The cloth by its name, and what fabric that is."""
    note = f" – {answer.fabric.note}" if answer.fabric.note else ""
    lead = f"{MISSING}  ·  " if is_missing(answer, layout.cloth) else ""
    return printable(f"{lead}{cloth_name(layout.cloth)}{note}")


def cloth_name(cloth: Cloth) -> str:
    """A cloth by its name, and how to find it: "ink 1 (K7, blue box, lot 12)"."""
    mark = shelf_mark(cloth)
    return f"{cloth.id} ({mark})" if mark else cloth.id


def shelf_mark(cloth: Cloth) -> str:
    """The short id that is pinned on a cloth of the ledger, where it is kept, and its dye lot."""
    lot = f"lot {cloth.lot}" if cloth.lot else ""
    return ", ".join(filter(None, (cloth.ledger, cloth.place, lot)))


def cloth_source(plan: Plan, answer: FabricPlan, layout: Layout) -> str:
    """Where a cloth comes from and how large it is: "to buy 1 3/4 yd · 43 in wide, 57 1/2 in needed"."""
    notation, cloth = plan.project.notation, layout.cloth
    lay = lay_of(answer, layout)
    if lay is not None:
        return lay_source(answer, lay, notation)
    width, length = as_measured(answer.fabric, cloth)
    if cloth.whole:
        washed = f"; after washing {notation.pair(cloth.across, cloth.along)} to use" if to_wash(answer, cloth) else ""
        shape = "odd shape, " if cloth.outline else ""
        return f"on hand  ·  {shape}{notation.pair(width, length)}{washed}"
    washed = f"; after washing {notation.near(cloth.width)} wide" if to_wash(answer, cloth) else ""
    wide = f"{notation.near(width)} wide{washed}"
    if is_missing(answer, cloth):
        return f"short {notation.show(cloth.along)}  ·  {wide}"
    if cloth.source is Source.BUY:
        return f"to buy {cloth_length(length, notation)}  ·  {wide}, {notation.show(cloth.along)} needed"
    squared = " once squared" if cloth.squaring else ""
    used = f"{notation.show(layout.used - cloth.squaring)} used{squared}"
    return f"on hand {cloth_length(length, notation)}  ·  {wide}, {used}"


def width_words(fabric: Fabric, notation: Notation) -> str:
    """A fabric's width: "44 in wide; ≈ 43 1/8 in after washing"."""
    washed = fabric.width * (1 - fabric.shrinks[1])
    after = f"; {notation.near(washed)} after washing" if fabric.wash else ""
    return f"{notation.show(fabric.width)} wide{after}"


def cloth_length(length: Fraction, notation: Notation) -> str:
    """A length in yards or metres, or as it is where that would only be near."""
    text = notation.cloth(length)
    return notation.near(length) if text.startswith("≈") else text
