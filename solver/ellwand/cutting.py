"""How what was packed is cut off the cloth that is bought: in lays of several copies, or off bolts that have an end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.assign import Job, lay_on, lay_out
from ellwand.bolts import buy
from ellwand.cloths import purchase
from ellwand.lays import Spread
from ellwand.model import Cloth, Lay, Layout, Placed, Source, Together
from ellwand.packing.problem import Packing

__all__ = ["Cutting", "all_in_one", "in_lays", "over_bolts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """The layouts of every cloth, and what is bought for them: shop `steps`, and their length as sold."""

    layouts: tuple[Layout, ...]
    steps: int
    bought: Fraction
    lays: tuple[Lay, ...] = ()
    together: Together | None = None

    @property
    def needed(self) -> Fraction:
        """Length still to buy, of all cloths together."""
        return sum((it.cloth.along for it in self.layouts if it.cloth.source is Source.BUY), Fraction(0))


def all_in_one(job: Job, packing: Packing) -> Cutting:
    """All that is bought is one length."""
    bought = purchase(job.fabric, packing.length * job.project.ruler, job.project.ruler)
    return Cutting(layouts=lay_out(job, packing), steps=bought.steps, bought=bought.length)


def over_bolts(job: Job, bolts: Job, packing: Packing) -> Cutting:
    """What is bought comes off several bolts; in `bolts`, the job that was packed, they are among the stocks."""
    held = lay_out(bolts, packing)
    kept = [layout for layout in held if layout.cloth.source is Source.ON_HAND]
    new = [layout for layout in held if layout.cloth.source is Source.BUY]
    return _bought(job, kept, [_off(job, layout, number) for number, layout in enumerate(new, 1)])


def in_lays(job: Job, spread: Spread, together: Together) -> Cutting:
    """Every ply of a spread on its cloth; `job` is that of all copies, with the cloth on hand."""
    lays = tuple(
        Lay(
            kits=ply.kits,
            plies=count,
            layers=min(spread.layers, count),
            layout=_renamed(ply.layout, f"{job.fabric.id}, lay {number}"),
            again=ply.again,
        )
        for number, (ply, count) in enumerate(spread.plies, 1)
    )
    on_hand = [
        replace(
            lay_on(job, some.cloth, list(_on_end(lays[some.kind].layout, some.count, some.start, some.pitch))),
            lay=some.kind + 1,
            plies=some.count,
        )
        for some in spread.on_hand
    ]
    off = list(_plies(job, lays, spread.bolts))
    return replace(_bought(job, on_hand, off), lays=lays, together=together)


def _plies(job: Job, lays: Sequence[Lay], bolts: Sequence[Sequence[int]]) -> Iterator[Layout]:
    """Every ply to buy, bolt after bolt, with a name of its own."""
    cloths = 1 + sum(entry.count for entry in job.fabric.on_hand)
    for bolt, counts in enumerate(bolts, 1):
        for number, (lay, count) in enumerate(zip(lays, counts, strict=True), 1):
            for _ in range(count):
                named = _renamed(lay.layout, f"{job.fabric.id} {cloths}")
                cloth = replace(named.cloth, bolt=bolt if job.fabric.bolt else None)
                yield replace(named, cloth=cloth, lay=number)
                cloths += 1


def _on_end(layout: Layout, count: int, start: Fraction, pitch: Fraction) -> Iterator[Placed]:
    for number in range(count):
        yield from (replace(placed, y=placed.y + start + number * pitch) for placed in layout.placed)


def _bought(job: Job, kept: Sequence[Layout], new: Sequence[Layout]) -> Cutting:
    """Layouts on hand and on new cloth, whose cloths are as long as they must be, with what is bought for these."""
    bought = buy(job.fabric, [layout.cloth for layout in new], job.project.ruler)
    off = (replace(layout, cloth=cloth) for layout, cloth in zip(new, bought.cloths, strict=True))
    return Cutting(layouts=(*kept, *off), steps=bought.steps, bought=bought.length)


def _off(job: Job, layout: Layout, number: int) -> Layout:
    """A layout as it is cut off bolt `number`, its cloth no longer than it must be."""
    squaring = job.fabric.square_up * job.fabric.square_up_ends
    along = max(item.y + item.along for item in layout.placed)
    cloths = sum(entry.count for entry in job.fabric.on_hand)
    cloth: Cloth = replace(
        layout.cloth,
        id=f"{job.fabric.id} {cloths + number}",
        source=Source.BUY,
        along=along,
        length=along + squaring,
        squaring=squaring,
        bolt=number,
    )
    return lay_on(job, cloth, layout.placed)


def _renamed(layout: Layout, name: str) -> Layout:
    return replace(layout, cloth=replace(layout.cloth, id=name))
