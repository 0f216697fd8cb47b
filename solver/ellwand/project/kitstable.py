"""Reading the ``[kits]`` table: how several copies are cut."""

from __future__ import annotations

from ellwand.lengths import round_up, unit_length
from ellwand.project.basics import Basics
from ellwand.project.kits import USUAL_KITS, Kits
from ellwand.project.table import Table

__all__ = ["read_kits"]

_MOST_LAYERS = 24  # nobody cuts through more by hand
_MOST_STRIPS = 1000
_MILLION = 10**6


def read_kits(table: Table | None, basics: Basics) -> Kits:
    """Read ``[kits]``; what is usual where there is none."""
    if table is None:
        return Kits(square_again=basics.usual("square_again"))
    table.only("layers", "square_again", "strips")
    again = table.length("square_again", basics.usual("square_again"), zero=True)
    return Kits(
        layers=table.count("layers", most=_MOST_LAYERS) if table.has("layers") else None,
        square_again=again if basics.ends(again) else round_up(again, unit_length(basics.unit) / _MILLION),
        strips=table.count("strips", USUAL_KITS.strips, most=_MOST_STRIPS),
    )
