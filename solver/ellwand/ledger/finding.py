"""Which cloths are large enough for a rectangle."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ellwand.ledger.nouns import Find, OwnedCloth, OwnedFabric
from ellwand.model import Cloth, Pair, Source
from ellwand.outlines import BAND, lost_parts
from ellwand.project.tables import Way

__all__ = ["fits", "wanted"]

_RULER = Fraction(1, 8)  # to which odd shapes and flaws are looked at


def wanted(cloth: OwnedCloth, fabric: OwnedFabric, find: Find) -> bool:
    """Whether a cloth is one of those asked for."""
    if find.fabric is not None and find.fabric != fabric.name:
        return False
    if find.colour is not None and not set(find.colour.lower().split()) <= set(fabric.colours):
        return False
    return find.at_least is None or fits(cloth, fabric, find.at_least)


def fits(cloth: OwnedCloth, fabric: OwnedFabric, size: Pair) -> bool:
    """Whether a rectangle fits on a cloth as it is, selvages off; either way round, unless its print has a way.

    Odd shapes and flaws are looked at in eighths of an inch: what is told to fit fits, and what fits by less than
    that may be missed.
    """
    across = cloth.across - cloth.selvages_to_lose * fabric.selvage
    turned = size[::-1] if fabric.way is Way.ANY else size
    ways = [(w, h) for w, h in {size, turned} if w <= across and h <= cloth.along]
    if not ways or not (cloth.outline or cloth.flaws):
        return bool(ways)
    parts = _lost(cloth, across)
    end, top = int(across / _RULER), int(cloth.along / _RULER)
    return any(_has_room(parts, (end, top), (_marks(w), _marks(h))) for w, h in ways)


def _lost(cloth: OwnedCloth, across: Fraction) -> tuple[tuple[int, int, int, int], ...]:
    as_cut = Cloth(
        id="", source=Source.ON_HAND, across=across, along=cloth.along, width=across, length=cloth.along,
        squaring=Fraction(0), washed=True, whole=True, outline=cloth.outline, flaws=cloth.flaws,
    )  # fmt: skip
    return lost_parts(as_cut, _RULER, BAND)


def _marks(length: Fraction) -> int:
    return -(-length // _RULER)


def _has_room(parts: tuple[tuple[int, int, int, int], ...], edge: tuple[int, int], size: tuple[int, int]) -> bool:
    """Whether a rectangle fits clear of parts; one that does can be moved down until it lies on one, or on the edge."""
    lows = {0, *(y + h for _, y, _, h in parts)}
    return any(
        _has_gap([(x, x + w) for x, y, w, h in parts if y < low + size[1] and low < y + h], edge[0], size[0])
        for low in lows
        if low + size[1] <= edge[1]
    )


def _has_gap(taken: Iterable[tuple[int, int]], end: int, width: int) -> bool:
    """Whether between stretches that are taken there is one that is free and wide enough."""
    free = 0
    for start, stop in [*sorted(taken), (end, end)]:
        if start - free >= width:
            return True
        free = max(free, stop)
    return False
