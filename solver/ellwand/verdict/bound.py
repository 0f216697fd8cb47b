"""Judging a fabric's bound: proving again, by the document alone, that no layout needs less cloth.

Suppose that a layout needs less than the bound. Push all pieces towards the squared end and the left selvage as far
as they go; then all that lies on a cloth ends at a sum of its pieces' sizes (normal patterns), so that no cloth need
be longer or wider than the largest such sum it holds. Either some piece fits no cloth then, cloth to buy a mark under
the bound included, or all pieces lie on these cloths. In that case draw all lines of one direction over them, a mark
apart. What a line crosses fits side by side on it, so with weights for sizes it carries at most what the heaviest
such choice weighs; and every mark of a piece's other side is a line that crosses it. Weights that make the pieces
together heavier than all lines can carry refute the layout, and every shorter one with it.

Of cloth with an outline or flaws the whole rectangle is taken, but it carries no more than what can be used of it
could, if every bit of it were taken by the size that weighs most for its length.

Of a few pieces all layouts can be looked through instead (see `few`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import gcd

from ellwand.verdict.few import MOST_PIECES, hold
from ellwand.verdict.shapes import free_area
from ellwand.verdict.tables import Fabric, Piece, Plan, Proof

__all__ = ["is_proved", "wrong_bound"]

_MOST_CELLS, _MOST_SUMS = 10**8, 250_000  # that are looked at; no honest plan comes near
_Lying = tuple[int, int, int]  # number of the piece, its size on the line, its size square to it


def wrong_bound(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Faults in the proof of one fabric's bound."""
    told = Counter(fabric.proof.cloths)
    plain = [cloth for cloth in fabric.cloths if not cloth.buy and not cloth.odd]
    used = Counter((cloth.across, cloth.along) for cloth in plain)
    for across, along in used - told:
        size = f"{plan.show(across)} by {plan.show(along)}"
        yield f'Fabric "{fabric.id}": its proof leaves out cloth on hand that is used, {size}.'
    whole = Counter((cloth.across, cloth.along) for cloth in plain if cloth.whole)
    for across, along in (whole & told) - (told - Counter(fabric.proof.lengths)):
        size = f"{plan.show(across)} by {plan.show(along)}"
        yield f'Fabric "{fabric.id}": its proof takes a rectangle for a length, {size}.'
    yield from _wrong_odd(plan, fabric)
    pieces = [piece for piece in plan.pieces if piece.fabric == fabric.id and not piece.spare]
    searched = fabric.proof.searched and _none_shorter(plan, fabric, pieces)
    if not searched and not is_proved(fabric.bound, pieces, fabric.usable_width, fabric.proof):
        yield f'Fabric "{fabric.id}": its proof does not show that {plan.show(fabric.bound)} at least are needed.'


def _wrong_odd(plan: Plan, fabric: Fabric) -> Iterator[str]:
    """Cloths with an outline or flaws that the proof leaves out, or of which it takes too little to be used."""
    told = sorted(fabric.proof.odd, reverse=True)
    for cloth in (cloth for cloth in fabric.cloths if cloth.odd):
        fitting = [odd for odd in told if odd[:2] == (cloth.across, cloth.along) and odd[2] >= free_area(cloth)]
        if fitting:
            told.remove(fitting[-1])  # the least that will do
        else:
            yield f'Fabric "{fabric.id}": its proof leaves out what can be used of cloth "{cloth.id}".'


def _none_shorter(plan: Plan, fabric: Fabric, pieces: Sequence[Piece]) -> bool:
    """Whether no layout of a few pieces needs less than the bound, all of them looked through; False for many."""
    if sum(piece.count for piece in pieces) > MOST_PIECES or fabric.bound <= 0 or fabric.proof.odd:
        return False
    wanted = [tuple(_ways(piece)) for piece in pieces for _ in range(piece.count)]
    cut_across, sheets = Counter(fabric.proof.lengths), []
    for across, along in fabric.proof.cloths:
        sheets.append((across, along, not cut_across[across, along]))
        cut_across[across, along] -= cut_across[across, along] > 0
    sheets.append((fabric.usable_width, fabric.bound - 1, False))
    return not hold(wanted, sheets, rotary=fabric.rotary, stages=plan.stages)


def is_proved(bound: int, pieces: Sequence[Piece], width: int, proof: Proof) -> bool:
    """Whether `proof` shows that `pieces` need at least `bound` of cloth to buy, `width` across; all in marks.

    Without weights that is the case where a piece fits no cloth on hand and nothing shorter than the bound.
    """
    if bound <= 0:
        return True
    cloths = Counter(proof.cloths)
    cloths[width, bound - 1] += 1
    racks = [_rack(across, along, count, pieces) for (across, along), count in cloths.items()]
    racks += [replace(_rack(across, along, 1, pieces), area=area) for across, along, area in proof.odd]
    held = {number for rack in racks for number, *_ in rack.lying}
    if len(held) < len(pieces):
        return True
    if proof.axis == "along":
        racks = [rack.crossed() for rack in racks]
    return proof.axis is not None and _overloaded(racks, pieces, dict(proof.weights))


@dataclass(frozen=True, slots=True)
class _Rack:
    """`count` equal cloths as lines across them: how long, how many, and the pieces that fit, as they may lie.

    With an outline or flaws only so much `area` can be used.
    """

    line: int
    lines: int
    count: int
    lying: tuple[_Lying, ...]
    area: int | None = None

    def crossed(self) -> _Rack:
        """The same cloths as lines along them."""
        lying = tuple((number, square, size) for number, size, square in self.lying)
        return replace(self, line=self.lines, lines=self.line, lying=lying)


def _rack(across: int, along: int, count: int, pieces: Sequence[Piece]) -> _Rack:
    lying = (
        (number, *way)
        for number, piece in enumerate(pieces)
        for way in _ways(piece)
        if way[0] <= across and way[1] <= along
    )
    return _Rack(across, along, count, tuple(lying))


def _ways(piece: Piece) -> set[tuple[int, int]]:
    """How it may lie: across and along."""
    ways = {(piece.across, piece.along)}
    return ways | {(piece.along, piece.across)} if piece.turnable else ways


def _overloaded(racks: Sequence[_Rack], pieces: Sequence[Piece], weights: Mapping[int, int]) -> bool:
    """Whether the pieces weigh more than all lines can carry."""
    lightest: dict[int, int] = {}
    carried = 0
    for rack in racks:
        sizes: Counter[int] = Counter()
        squares: Counter[int] = Counter()
        for number, size, square in rack.lying:
            sizes[size] += pieces[number].count
            squares[square] += pieces[number].count
            weight = weights.get(size, 0) * square
            lightest[number] = min(weight, lightest.get(number, weight))
        heaviest = _heaviest(sizes, weights, rack.line)
        if heaviest is None:
            return False
        held = heaviest * _largest_sum(squares, rack.lines)
        if rack.area is not None:  # a piece weighs as much for its area as its size does for its length
            held = min(held, max((weights.get(size, 0) * rack.area // size for size in sizes), default=0))
        carried += held * rack.count
    return sum(pieces[number].count * weight for number, weight in lightest.items()) > carried


def _heaviest(sizes: Mapping[int, int], weights: Mapping[int, int], line: int) -> int | None:
    """The most weight of sizes on one line, each at most so often; None where there are too many sums to tell.

    Sums are kept in rising order with the most weight up to each, those that weigh no more than a shorter one left out
    (the bounded knapsack with dominance, as in Kellerer, Pferschy and Pisinger, "Knapsack problems", 2004).
    """
    sums = [(0, 0)]
    for size, copies in sizes.items():
        for some in _shares(min(copies, line // size) if weights.get(size) else 0):
            length, weight = some * size, some * weights[size]
            longer = [(sum_ + length, total + weight) for sum_, total in sums if sum_ + length <= line]
            sums = _undominated(sums + longer)
            if len(sums) > _MOST_SUMS:
                return None
    return sums[-1][1]


def _undominated(sums: list[tuple[int, int]]) -> list[tuple[int, int]]:
    kept: list[tuple[int, int]] = []
    for length, weight in sorted(sums, key=lambda entry: (entry[0], -entry[1])):
        if not kept or weight > kept[-1][1]:
            kept.append((length, weight))
    return kept


def _largest_sum(sizes: Mapping[int, int], top: int) -> int:
    """The largest sum of sizes, each at most so often, up to `top`; or more, where there are too many to look at."""
    step = gcd(*sizes)
    cells = top // step if step else 0
    if cells > _MOST_CELLS:
        return cells * step
    reached = 1  # its bit number n says whether n steps are a sum
    for size, copies in sizes.items():
        for some in _shares(min(copies, top // size)):
            reached |= reached << some * (size // step)
            reached &= (2 << cells) - 1
    return (reached.bit_length() - 1) * step


def _shares(copies: int) -> Iterator[int]:
    """Numbers that make up any count to `copies`: 1, 2, 4 … and what is left."""
    some = 1
    while copies > 0:
        yield min(some, copies)
        copies -= some
        some *= 2
