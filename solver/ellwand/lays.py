"""Which lays to cut copies from: how many kits in a ply, how many plies, and what else takes the rest.

A *ply* is a length of cloth that holds whole kits; equal plies lie on each other in a *lay*, and are cut at one go.
Every way takes one size of ply as far as it goes, or as far as full layers go, and one more size for what is left.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from ellwand.assign import Job, lay_out
from ellwand.bolts import bolt_room, fill
from ellwand.cloths import purchase
from ellwand.lengths import round_up
from ellwand.model import Cloth, Direction, Layout
from ellwand.packing.problem import Result
from ellwand.project.kits import Kits
from ellwand.project.tables import Fabric

__all__ = ["OnHandPlies", "Ply", "Spread", "best_spreads", "make_ply", "near"]

_NEAR = Fraction(1, 100)  # of what is bought: so much more is worth fewer cuts
_LITTLE = Fraction(6)  # inches: and so is that, of a short length


@dataclass(frozen=True, slots=True, kw_only=True)
class Ply:
    """A ply that holds so many whole `kits`; `again` is what it loses when it is squared again between strips."""

    kits: int
    result: Result
    layout: Layout
    again: Fraction

    @property
    def takes(self) -> Fraction:
        """All length that it takes, squaring included."""
        return self.layout.cloth.length

    @property
    def strips(self) -> frozenset[Fraction]:
        """The widths of its strips."""
        tree = self.layout.tree
        if tree is None:
            return frozenset()
        return frozenset(part.along for part in (tree.parts if tree.direction is Direction.ACROSS else (tree,)))

    @property
    def cuts(self) -> int:
        """Cuts that it takes, or pieces to cut out of a free layout."""
        return len(self.layout.cuts) or len(self.layout.placed)


def make_ply(job: Job, result: Result, kits: int) -> Ply:
    """The ply that a packing of so many kits makes.

    Every ply is squared up once, for folds and layers never lie quite true; and again after so many strips.
    """
    (layout,) = lay_out(job, result.packing)
    again = squared_again(layout, job.project.kits)
    cloth = layout.cloth
    squaring = cloth.squaring + again
    cloth = replace(cloth, squaring=squaring, length=cloth.along + squaring)
    return Ply(kits=kits, result=result, layout=replace(layout, cloth=cloth, used=cloth.along + squaring), again=again)


def squared_again(layout: Layout, kits: Kits) -> Fraction:
    """Length lost to make the end true again: once for every so many cuts across the whole width."""
    edges = (Fraction(0), layout.cloth.across)
    whole = sum(cut.direction is Direction.ACROSS and (cut.start, cut.end) == edges for cut in layout.cuts)
    return whole // kits.strips * kits.square_again


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHandPlies:
    """So many plies of one kind, by its number, on end on a cloth on hand; the first begins at `start`."""

    cloth: Cloth
    kind: int
    count: int
    start: Fraction
    pitch: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """One way to cut all copies.

    Parameters
    ----------
    plies
        Each kind with how many there are of it.
    layers
        How many lie on each other at the most.
    on_hand
        Plies on cloth on hand.
    bolts
        For every bolt to buy, how many of each kind are cut off it.
    steps
        That are bought.
    """

    plies: tuple[tuple[Ply, int], ...]
    layers: int
    on_hand: tuple[OnHandPlies, ...]
    bolts: tuple[tuple[int, ...], ...]
    steps: int

    @property
    def needed(self) -> Fraction:
        """Length of the plies that are bought."""
        counts = [sum(bolt) for bolt in zip(*self.bolts, strict=True)] if self.bolts else []
        pairs = zip(self.plies, counts, strict=bool(counts))
        return sum((count * ply.layout.cloth.along for (ply, _), count in pairs), Fraction(0))

    @property
    def merit(self) -> tuple[int, int, int, int, int, Fraction]:
        """How few bolts, different lays, different strips and cuts there are; then what is bought; the longest ply."""
        strips = sum(len(ply.strips) for ply, _ in self.plies)
        cuts = sum(ceil(count / self.layers) * ply.cuts for ply, count in self.plies)
        return len(self.bolts), len(self.plies), strips, cuts, self.steps, max(ply.takes for ply, _ in self.plies)


def best_spreads(
    fabric: Fabric, plies: Mapping[int, Ply], on_hand: Sequence[Cloth], *, copies: int, layers: int, ruler: Fraction
) -> list[Spread]:
    """Every way to cut `copies` that buys little more than the least, the one with the least work first.

    None needs more than one kit's ply so many times. Nothing where no ply goes on a bolt.

    Parameters
    ----------
    plies
        By how many kits they hold.
    on_hand
        Lengths of the full width, filled first.
    """
    room = bolt_room(fabric, ruler)
    usable = {kits: ply for kits, ply in plies.items() if room is None or ply.takes <= room}
    found = [
        _spread(fabric, [(usable[kits], count) for kits, count in counts], on_hand, layers=layers, ruler=ruler)
        for counts in dict.fromkeys(_counts(copies, layers, sorted(usable)))
    ]
    if not found:
        return []
    simple = min(found, key=lambda spread: (len(spread.plies), spread.plies[0][0].kits))
    within = [spread for spread in found if spread.needed <= simple.needed]
    least = min(spread.steps for spread in within)
    return sorted((spread for spread in within if spread.steps <= near(least, fabric)), key=lambda spread: spread.merit)


def near(steps: int, fabric: Fabric) -> int:
    """The most shop steps that are nearly as few as `steps`: what is worth fewer cuts."""
    return steps + floor(max(steps * _NEAR, _LITTLE / fabric.sold_by))


def _counts(copies: int, layers: int, sizes: Sequence[int]) -> Iterator[tuple[tuple[int, int], ...]]:
    """How many plies of which sizes hold so many copies: one size, or a smaller one for what is left."""
    for kits in sizes:
        most = copies // kits
        if most < layers and kits > sizes[0]:
            continue
        for count in {most, most // layers * layers} - {0}:
            left = copies - count * kits
            if not left:
                yield ((kits, count),)
            yield from (
                ((kits, count), (other, left // other))
                for other in sizes
                if left and other < kits and left % other == 0
            )


def _spread(
    fabric: Fabric, plies: Sequence[tuple[Ply, int]], on_hand: Sequence[Cloth], *, layers: int, ruler: Fraction
) -> Spread:
    held = tuple(_on_hand(plies, on_hand, ruler))
    left = [count - sum(some.count for some in held if some.kind == kind) for kind, (_, count) in enumerate(plies)]
    lengths = [(ply.takes, count) for (ply, _), count in zip(plies, left, strict=True)]
    bolts = fill(lengths, bolt_room(fabric, ruler)) if any(left) else ()
    squaring = fabric.square_up * fabric.square_up_ends
    pairs = [zip(lengths, bolt, strict=True) for bolt in bolts]
    taken = [sum((length * count for (length, _), count in some), Fraction(0)) for some in pairs]
    steps = sum(purchase(fabric, length - squaring, ruler).steps for length in taken)
    return Spread(plies=tuple(plies), layers=layers, on_hand=held, bolts=bolts, steps=steps)


def _on_hand(plies: Sequence[tuple[Ply, int]], cloths: Sequence[Cloth], ruler: Fraction) -> Iterator[OnHandPlies]:
    """Plies on lengths on hand, the longest first: each holds one kind, the first of which one has room."""
    left = [count for _, count in plies]
    for cloth in sorted(cloths, key=lambda cloth: -cloth.along):
        for kind, (ply, _) in enumerate(plies):
            start, pitch = round_up(ply.again, ruler), round_up(ply.takes, ruler)
            count = min(left[kind], floor((cloth.along - start - ply.layout.cloth.along) / pitch) + 1)
            if count > 0:
                left[kind] -= count
                yield OnHandPlies(cloth=cloth, kind=kind, count=count, start=start, pitch=pitch)
                break
