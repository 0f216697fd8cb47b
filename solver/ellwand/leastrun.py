"""What a strip that is joined from bits of any lengths needs at the least, beside the other pieces of its cloth.

Two theorems hold for every layout, straight cuts or not. *The other pieces* need no less when more lies beside them.
And *bars*, as in :mod:`ellwand.packing.bound`: lines in one direction, a mark apart, over all cloth. Give each size of
another piece across the lines a weight, and each mark of a bit the same weight c. Bits joined to a run of length R, n
of them with a loss of l at each join, are R + (n - 1) l long together; one that lies along the lines weighs c times its
length on as many lines as it is wide, one that lies across them c times its width on as many as it is long. Either way
all bits together weigh c times their area, whatever their lengths are. A line carries at most the best choice of other
pieces and, in what these leave of it, bits: all of that where it is no less than the shortest bit may be, else whole
widths of bits. A length is refuted when its lines cannot carry what all pieces weigh.

No bit is longer than the bolt is wide, than the length itself or than a cloth on hand; so there are at least so many.
A refuted length refutes every shorter one: there are less lines or shorter ones, and bits are more. With sizes for
weights and c = 1 this is the bound by area. Other weights are those that prove the bounds of certain lists of bits.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from ellwand.assign import Job, assign
from ellwand.choices import Choice
from ellwand.model import Piece, Run
from ellwand.packing.bound import ACROSS, lower_bound
from ellwand.packing.problem import Item

__all__ = ["is_flexible", "least_bits", "least_fitted", "same_cloths"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weights:
    """Weights of sizes across the lines, all in marks; `each` is that of a mark of a bit."""

    across: bool
    sizes: tuple[tuple[int, int], ...]
    each: int

    def of(self, size: int) -> int:
        """Weight of a size; 0 where none is told."""
        return next((weight for told, weight in self.sizes if told == size), 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """The other pieces of a fabric, and its run."""

    job: Job
    run: Run

    def marks(self, length: Fraction) -> int:
        """A length in marks, up."""
        return ceil(length / self.job.project.ruler)


def is_flexible(choice: Choice) -> bool:
    """Whether some part may be joined from bits of any lengths."""
    return any(part.run for part, _ in choice.made)


def same_cloths(job: Job, pieces: Sequence[Piece]) -> Job:
    """Other pieces on the cloths of `job`."""
    return assign(job.project, job.fabric, pieces, as_new=not job.cloths)


def least_bits(run: Run, longest: Fraction) -> int:
    """The least number of bits none of which is longer than `longest`."""
    return 1 if run.length <= longest else ceil((run.length - run.loss) / (longest - run.loss))


def least_fitted(choices: Sequence[Choice]) -> int | None:
    """A length in marks of the ruler that no choice can go below whatever the lengths of its bits.

    None where no part may be joined from bits of any lengths. Of the `choices` only the other parts count.
    """
    alike: dict[frozenset[Piece], list[Choice]] = {}
    for choice in filter(is_flexible, choices):
        alike.setdefault(frozenset(_others(choice)), []).append(choice)
    cases = {key: _case(some[0]) for key, some in alike.items()}
    least = {key: _by_area(case) for key, case in cases.items()}
    open_cases = set(cases)
    while open_cases:  # only the lowest bound matters: it alone is raised, until the lowest is one that was
        lowest = min(least, key=lambda key: least[key])
        if lowest not in open_cases:
            break
        open_cases.remove(lowest)
        for weights in _weights(cases[lowest], alike[lowest]):
            least[lowest] = _raised(cases[lowest], weights, least[lowest])
    return min(least.values(), default=None)


def _others(choice: Choice) -> list[Piece]:
    return [piece for part, way in choice.made if part.run is None for piece in way.pieces]


def _case(choice: Choice) -> _Case:
    (run,) = (part.run for part, _ in choice.made if part.run)
    return _Case(job=same_cloths(choice.job, _others(choice)), run=run)


def _by_area(case: _Case) -> int:
    problem = case.job.problem
    sides = tuple({(side, side) for item in problem.items for side in (item.w, item.h)})
    least = lower_bound(problem).length
    return _raised(case, _Weights(across=True, sizes=sides, each=1), least)


def _weights(case: _Case, choices: Sequence[Choice]) -> Iterator[_Weights]:
    """Weights worth trying: of every list of bits that was bounded, with what they make of a bit's mark.

    Two lists more are all of short bits, which fill lines as well as any.
    """
    width, ruler = case.marks(case.run.width), case.job.project.ruler
    others = case.job.pieces
    lists = [(_bits(choice), choice.bound) for choice in choices]
    for length in {case.run.width, max(case.run.width, case.run.shortest)}:
        bits = case.run.pieces((length,) * ceil(case.run.length / length))
        lists.append((bits, lower_bound(same_cloths(case.job, [*others, *bits]).problem)))
    found: dict[_Weights, None] = {}
    for bits, bound in lists:
        sizes = bound.weights.value if bound.weights else ()
        lengths = {int(side / ruler) for piece in bits for side in (piece.across, piece.along)} | {width}
        for each in {Fraction(weight, size) for size, weight in sizes if size in lengths and weight}:
            scaled = tuple((size, weight * each.denominator) for size, weight in sizes)
            across = bound.weights is not None and bound.weights.axis == ACROSS
            found[_Weights(across=across, sizes=scaled, each=each.numerator)] = None
    yield from found


def _bits(choice: Choice) -> tuple[Piece, ...]:
    return tuple(piece for part, way in choice.made if part.run for piece in way.pieces)


def _raised(case: _Case, weights: _Weights, low: int) -> int:
    """`low`, or the least length that `weights` do not refute if that is longer."""
    high = low
    while _is_refuted(case, weights, high):
        low, high = high + 1, 2 * high + 1
    while low < high:
        middle = (low + high) // 2
        if _is_refuted(case, weights, middle):
            low = middle + 1
        else:
            high = middle
    return low


def _is_refuted(case: _Case, weights: _Weights, length: int) -> bool:
    """Whether the lines of all cloth, with `length` to buy, cannot carry what the pieces weigh."""
    *sheets, bolt = case.job.problem.stocks
    stocks = [(sheet.w, sheet.h or 0) for sheet in sheets] + ([(bolt.w, length)] if length else [])
    longest = max((side for stock in stocks for side in stock), default=0) * case.job.project.ruler
    if longest < case.run.length and longest <= case.run.loss:
        return True
    bits = least_bits(case.run, longest)
    area = case.marks(case.run.length + (bits - 1) * case.run.loss) * case.marks(case.run.width)
    load = weights.each * area + sum(_weight(item, weights, stocks) for item in case.job.problem.items)
    lines = Counter(stock if weights.across else stock[::-1] for stock in stocks)
    return load > sum(count * square * _most(case, weights, line) for (line, square), count in lines.items())


def _ways(item: Item) -> set[tuple[int, int]]:
    return {(item.w, item.h), (item.h, item.w)} if item.turnable else {(item.w, item.h)}


def _weight(item: Item, weights: _Weights, stocks: Sequence[tuple[int, int]]) -> int:
    """What all of an item weigh at the least, as they may lie; nothing, where they fit nowhere."""
    found = [
        weights.of(w) * h if weights.across else weights.of(h) * w
        for w, h in _ways(item)
        if any(w <= across and h <= along for across, along in stocks)
    ]
    return min(found, default=0) * item.demand


def _most(case: _Case, weights: _Weights, line: int) -> int:
    """The most that one line carries: a bounded knapsack of the other pieces, and bits in what these leave."""
    copies: Counter[int] = Counter()
    for item in case.job.problem.items:
        for size in {way[not weights.across] for way in _ways(item)}:
            copies[size] += item.demand
    best = [0] * (line + 1)  # by what is taken of the line
    for size, count in copies.items():
        weight = weights.of(size)
        for some in _shares(min(count, line // size) if weight else 0):
            step, more = some * size, some * weight
            best[step:] = [max(without, less + more) for without, less in zip(best[step:], best, strict=False)]
    least, width = case.marks(min(case.run.shortest, case.run.length)), case.marks(case.run.width)
    rests = range(line, -1, -1)
    return max(
        other + weights.each * (rest if rest >= least else rest // width * width)
        for other, rest in zip(best, rests, strict=True)
    )


def _shares(copies: int) -> Iterator[int]:
    """Numbers that make up any count to `copies`: 1, 2, 4 … and what is left."""
    some = 1
    while copies > 0:
        yield min(some, copies)
        copies -= some
        some *= 2
