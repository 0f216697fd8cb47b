"""Bolts of a limited length: what goes into each, how many there are, and what is bought of each.

No cloth crosses the end of a bolt. Lengths are put into bolts by first-fit decreasing (Johnson, "Near-optimal bin
packing algorithms", 1973): the longest first, each into the first bolt with room for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

from ellwand.assign import Job
from ellwand.cloths import purchase, usable_width, washed_length
from ellwand.lengths import round_down
from ellwand.model import Cloth, Piece
from ellwand.packing.problem import Item
from ellwand.project.tables import Fabric, Project

__all__ = ["Bought", "beyond_bolts", "bolt_room", "buy", "endless", "fill", "holds"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """What is bought for several cloths: shop `steps` in all, their `length` as sold, and the `cloths`, each whole.

    A bolt's last cloth, or the last of all where bolts have no end, has what is bought beyond need.
    """

    steps: int
    length: Fraction
    cloths: tuple[Cloth, ...]


def endless(project: Project) -> Project:
    """`project` on bolts without an end: what is asked of the pieces, not of the bolts that they come off."""
    fabrics = {name: replace(fabric, bolt=None) for name, fabric in project.fabrics.items()}
    return replace(project, fabrics=fabrics)


def holds(fabric: Fabric) -> int | None:
    """Whole shop steps of a bolt; None where it has no end."""
    return None if fabric.bolt is None else floor(fabric.bolt / fabric.sold_by)


def bolt_room(fabric: Fabric, ruler: Fraction) -> Fraction | None:
    """What washing leaves of a bolt's whole shop steps, before any squaring; None where it has no end."""
    steps = holds(fabric)
    if steps is None:
        return None
    return washed_length(fabric, round_down(steps * fabric.sold_by, ruler)) + _squaring(fabric)


def beyond_bolts(job: Job) -> tuple[Piece, ...]:
    """The pieces of a job that go on no bolt, whichever way round."""
    room = bolt_room(job.fabric, job.project.ruler)
    if room is None:
        return ()
    ruler, most = job.project.ruler, room - _squaring(job.fabric)
    width = usable_width(job.fabric, ruler)
    return tuple(
        piece
        for item, kind in zip(job.problem.items, job.kinds, strict=True)
        if not any(across * ruler <= width and along * ruler <= most for across, along in _ways(item))
        for piece in kind
    )


def _ways(item: Item) -> tuple[tuple[int, int], ...]:
    """How an item may lie: across and along."""
    return ((item.w, item.h), (item.h, item.w)) if item.turnable else ((item.w, item.h),)


def fill(lengths: Sequence[tuple[Fraction, int]], room: Fraction | None) -> tuple[tuple[int, ...], ...]:
    """For every bolt, how many of each length are cut off it: first-fit decreasing.

    Parameters
    ----------
    lengths
        Each with how many there are of it; none longer than `room`.
    room
        Of a bolt; None: a single one without an end.
    """
    if room is None:
        return (tuple(count for _, count in lengths),)
    bolts: list[tuple[Fraction, list[int]]] = []
    for number in sorted(range(len(lengths)), key=lambda number: -lengths[number][0]):
        length, count = lengths[number]
        place = 0
        while count:
            if place == len(bolts):
                bolts.append((room, [0] * len(lengths)))
            left, loads = bolts[place]
            some = min(count, floor(left / length))
            loads[number] += some
            bolts[place] = left - some * length, loads
            count, place = count - some, place + 1
    return tuple(tuple(loads) for _, loads in bolts)


def buy(fabric: Fabric, cloths: Sequence[Cloth], ruler: Fraction) -> Bought:
    """Buy `cloths`, each from the bolt whose number it has; `length` of each is what it takes, squaring included."""
    bolts: dict[int | None, list[Cloth]] = {}
    for cloth in cloths:
        bolts.setdefault(cloth.bolt, []).append(cloth)
    kept = 1 - fabric.shrinks[0] if fabric.wash else Fraction(1)
    steps, before, done = 0, Fraction(0), list[Cloth]()
    for some in bolts.values():
        taken = sum((cloth.length for cloth in some), Fraction(0))
        steps += purchase(fabric, taken - _squaring(fabric), ruler).steps
        sold = round_down(steps * fabric.sold_by, ruler)
        last = some[-1]
        spare = (sold - before) * kept - taken
        done += [*some[:-1], replace(last, length=last.length + spare)]
        before = sold
    return Bought(steps=steps, length=before, cloths=tuple(done))


def _squaring(fabric: Fabric) -> Fraction:
    return fabric.square_up * fabric.square_up_ends
