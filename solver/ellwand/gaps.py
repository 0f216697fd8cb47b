"""Gaps that a layout leaves, and strips that can be cut from them.

Each gap gives strips of one direction, side by side. Those in the last strips down a cloth may be one gap::

    +------+------------+---+
    |      |            |   |  bands, the fuller first: the gaps at their ends
    | .... +------------+---+
    |      |      |         |  these two gathered: lengthwise strips as long as both bands
    +------+--+---+     ....|
    |      |  |             |
    +------+--+-------------+
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.assign import Job, lay_out
from ellwand.model import Direction, Layout, Placed, Region, Run
from ellwand.offcuts import free_offcuts
from ellwand.packing.problem import Packing, reach

__all__ = ["Bit", "Gap", "fewest", "gap_sets", "gathered", "without"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A rectangle of a stock in which nothing lies, and the directions that strips may be cut from it in."""

    stock: int
    x: Fraction
    y: Fraction
    across: Fraction
    along: Fraction
    ways: tuple[Direction, ...] = tuple(Direction)

    def has(self, bit: Bit) -> bool:
        """Whether `bit` lies in it."""
        inside = self.x <= bit.x < self.x + self.across and self.y <= bit.y < self.y + self.along
        return bit.stock == self.stock and inside

    def bits(self, run: Run, way: Direction) -> list[Bit]:
        """Strips as long as the gap, side by side; none where they are too short to be joined."""
        crosswise = way is Direction.ACROSS
        length, room = (self.across, self.along) if crosswise else (self.along, self.across)
        if length < run.shortest or length <= run.loss:
            return []
        steps = [number * run.width for number in range(int(room / run.width))]
        spots = [(self.x, self.y + step) if crosswise else (self.x + step, self.y) for step in steps]
        return [Bit(stock=self.stock, x=x, y=y, length=length, way=way) for x, y in spots]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A strip where it would lie."""

    stock: int
    x: Fraction
    y: Fraction
    length: Fraction
    way: Direction


def gathered(job: Job, packing: Packing) -> Packing:
    """`packing`, the bands of each cloth in another order: the fuller ones first, so that gaps at their ends adjoin."""
    ruler, moves = job.project.ruler, dict[tuple[int, int], int]()
    for stock, layout in _layouts(job, packing).items():
        low = 0
        for band in sorted(_bands(layout), key=_used, reverse=True):
            marks = range(int(band.y / ruler), int((band.y + band.along) / ruler))
            moves |= {(stock, y): low - marks.start for y in marks}
            low += len(marks)
    places = tuple(replace(place, y=place.y + moves.get((place.stock, place.y), 0)) for place in packing.places)
    return Packing(places=places, length=reach(job.problem, places))


def gap_sets(job: Job, packing: Packing, narrowest: Fraction) -> Iterator[list[Gap]]:
    """Gaps that do not overlap: as the cuts leave them, or with those at the ends of some bands of one cloth as one.

    Of free layouts those narrower than `narrowest` are left out. Cloth with flaws has none.
    """
    layouts = _layouts(job, packing)
    cloths = dict(enumerate(job.cloths))
    whole = [
        Gap(stock=stock, x=Fraction(0), y=Fraction(0), across=cloth.across, along=cloth.along)
        for stock, cloth in cloths.items()
        if stock not in layouts and job.problem.stocks[stock].free is None
    ]
    plain = {stock: list(_left(job, stock, layout, narrowest)) for stock, layout in layouts.items()}
    yield [*whole, *(gap for gaps in plain.values() for gap in gaps)]
    for stock, layout in layouts.items():
        others = [gap for other, gaps in plain.items() if other != stock for gap in gaps]
        bands = _bands(layout)
        for start in range(len(bands) - 1):
            yield [*whole, *others, *_with_one(stock, plain[stock], bands[start:], layout.cloth.across)]


def fewest(gaps: Sequence[Gap], run: Run, need: Fraction) -> list[Bit]:
    """The fewest bits that bring `need`, joins taken off; none where the gaps do not give as much.

    Of each gap are taken the longest strips, or those that bring most. The last bit is the shortest that does.
    """
    found = [_taken(_directed(gaps, run, rule), run, need) for rule in (_longest, _most)]
    return min((bits for bits in found if bits), key=len, default=[])


def without(gaps: Sequence[Gap], bits: Sequence[Bit], width: Fraction, *, ends: bool) -> list[Gap]:
    """What `bits` of that `width`, taken of the `gaps` side by side, leave of these, with `ends` of shorter ones."""
    left = []
    for gap in gaps:
        inside = [bit for bit in bits if gap.has(bit)]
        if not inside:
            left.append(gap)
            continue
        taken, last = len(inside) * width, min(inside, key=lambda bit: bit.length)
        if last.way is Direction.ACROSS:
            left.append(replace(gap, y=gap.y + taken, along=gap.along - taken))
            end = replace(gap, x=gap.x + last.length, y=last.y, across=gap.across - last.length, along=width)
        else:
            left.append(replace(gap, x=gap.x + taken, across=gap.across - taken))
            end = replace(gap, x=last.x, y=gap.y + last.length, across=width, along=gap.along - last.length)
        left += [end] if ends else []
    return left


def _longest(bits: Sequence[Bit], _: Run) -> Fraction:
    return bits[0].length


def _most(bits: Sequence[Bit], run: Run) -> Fraction:
    return len(bits) * (bits[0].length - run.loss)


def _directed(gaps: Sequence[Gap], run: Run, rule: Callable[[Sequence[Bit], Run], Fraction]) -> list[Bit]:
    """Bits of all gaps, each cut in the direction that is best by `rule`; the longest first."""
    bits: list[Bit] = []
    for gap in gaps:
        ways = [found for way in gap.ways if way in run.ways and (found := gap.bits(run, way))]
        if ways:
            _, best = max((rule(found, run), -number) for number, found in enumerate(ways))
            bits += ways[-best]
    return sorted(bits, key=lambda bit: -bit.length)


def _taken(bits: Sequence[Bit], run: Run, need: Fraction) -> list[Bit]:
    """The longest of `bits` until one more brings the rest: the shortest that does."""
    for number, longest in enumerate(bits):
        if longest.length - run.loss >= need:
            enough = [bit for bit in bits[number:] if bit.length - run.loss >= need]
            last = next(bit for bit in enough if bit.length == enough[-1].length)
            return [*bits[:number], last]
        need -= longest.length - run.loss
    return []


def _layouts(job: Job, packing: Packing) -> dict[int, Layout]:
    """The layouts of cloth without flaws, by the number of its stock."""
    numbers = {cloth.id: stock for stock, cloth in enumerate(job.cloths)}
    found = {numbers.get(layout.cloth.id, len(job.cloths)): layout for layout in lay_out(job, packing)}
    return {stock: layout for stock, layout in found.items() if job.problem.stocks[stock].free is None}


def _left(job: Job, stock: int, layout: Layout, narrowest: Fraction) -> Iterator[Gap]:
    """The gaps of one layout."""
    if not job.problem.guillotine:
        for gap in free_offcuts(layout.cloth.across, layout.cloth.along, layout.placed, narrowest):
            yield Gap(stock=stock, x=gap.x, y=gap.y, across=gap.across, along=gap.along)
    elif layout.tree is not None:
        for leaf, cut in _leaves(layout.tree, None):
            # What the last cuts that are allowed have freed is cut on in their direction only.
            ways = (cut,) if cut and job.project.stages == leaf.depth else tuple(Direction)
            yield Gap(stock=stock, x=leaf.x, y=leaf.y, across=leaf.across, along=leaf.along, ways=ways)


def _leaves(region: Region, cut: Direction | None) -> Iterator[tuple[Region, Direction | None]]:
    """Regions in which nothing lies, with the direction of the cuts that freed them."""
    if not region.parts and region.piece is None:
        yield region, cut
    for part in region.parts:
        yield from _leaves(part, region.direction)


def _bands(layout: Layout) -> list[Region]:
    """Strips that a cloth is first cut in across, without what stays as it is."""
    tree = layout.tree
    if tree is None or tree.direction is not Direction.ACROSS:
        return []
    return [part for part in tree.parts if not part.rest]


def _used(band: Region) -> Fraction:
    """How far its pieces reach."""
    return max((item.x + item.across for item in _placed(band)), default=Fraction(0))


def _placed(region: Region) -> Iterator[Placed]:
    if region.piece is not None:
        yield region.piece
    for part in region.parts:
        yield from _placed(part)


def _with_one(stock: int, gaps: Sequence[Gap], bands: Sequence[Region], width: Fraction) -> list[Gap]:
    """`gaps` of a cloth, those at the ends of its last `bands` being one."""
    x, y = max(map(_used, bands)), bands[0].y
    if x == width:
        return []
    one = Gap(stock=stock, x=x, y=y, across=width - x, along=sum((band.along for band in bands), Fraction(0)))
    clipped = [
        replace(gap, across=min(gap.across, x - gap.x)) if one.y <= gap.y < one.y + one.along else gap for gap in gaps
    ]
    return [one, *(gap for gap in clipped if gap.across > 0)]
