"""What strips that are joined from bits of any lengths need at the least, beside the other pieces of their cloth.

Two theorems hold for every layout, straight cuts or not. *The other pieces* need no less when more lies beside them.
And *bars*, as in :mod:`ellwand.packing.bound`: lines in one direction, a mark apart, over all cloth. Give each size of
another piece across the lines a weight, and each mark of a bit of run r a weight c(r). Bits joined to a run of length
R, n of them with a loss of l at each join, are at least R + (n - 1) l long together; one that lies along the lines
weighs c(r) times its length on as many lines as it is wide, one that lies across them c(r) times its width on as many
as it is long. Either way all bits of a run together weigh c(r) times their area, whatever their lengths are.

What one line carries at the most: some other pieces, some bits that lie across it, each as wide as its run is, and some
that lie along it. Of these last, let r be the run of the greatest c among them. They are together as long as some
length L, no shorter than the shortest bit of r may be, and weigh no more than c(r) L; so with t marks taken by what
lies otherwise, the best of c(r) times the rest of the line, over the runs whose shortest bit goes into that rest, is
no less than what they weigh. A run whose bits lie one way only counts in that way only. A length is refuted when its
lines cannot carry what all pieces weigh.

No bit is longer than the cloth in the direction in which it lies; so there are at least so many of each run. A refuted
length refutes every shorter one: there are less lines or shorter ones, and bits are more. With sizes for weights and
every c = 1 this is the bound by area. Other weights are those that prove the bounds of certain lists of bits. Joins
kept out of mitres, or told to be few, only leave less ways to choose the bits.

Where bits lie crosswise only, *normal patterns* hold too: pieces pushed down as far as they go reach a sum of their
heights, and a bit is as high as its run is wide, whatever its length; so the bound is rounded up to the next such sum.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, lcm

from ellwand.assign import Job, assign
from ellwand.choices import Choice
from ellwand.model import Direction, Piece, Run
from ellwand.packing.bars import shortest_sum
from ellwand.packing.bound import ACROSS, lower_bound
from ellwand.packing.problem import Bound, Item

__all__ = ["beside", "is_flexible", "least_bits", "least_fitted", "number_of_runs", "same_cloths"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weights:
    """Weights of sizes across the lines, all in marks; `each` has that of a mark of a bit, for every run."""

    across: bool
    sizes: tuple[tuple[int, int], ...]
    each: tuple[int, ...]

    def of(self, size: int) -> int:
        """Weight of a size; 0 where none is told."""
        return next((weight for told, weight in self.sizes if told == size), 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """The other pieces of a fabric, and its runs."""

    job: Job
    runs: tuple[Run, ...]

    def marks(self, length: Fraction) -> int:
        """A length in marks, up."""
        return ceil(length / self.job.project.ruler)


def is_flexible(choice: Choice) -> bool:
    """Whether some part may be joined from bits of any lengths."""
    return any(way.runs for _, way in choice.made)


def number_of_runs(choice: Choice) -> int:
    """How many strips of it may be joined from bits of any lengths."""
    return len(_runs(choice))


def beside(choice: Choice) -> tuple[frozenset[Piece], frozenset[Run]]:
    """What `choice` has beside the bits of its runs, and these: choices alike in both differ in the bits only."""
    return frozenset(_others(choice)), frozenset(_runs(choice))


def same_cloths(job: Job, pieces: Sequence[Piece]) -> Job:
    """Other pieces on the cloths of `job`."""
    return assign(job.project, job.fabric, pieces, as_new=not job.cloths)


def least_bits(run: Run, longest: Fraction) -> int:
    """The least number of bits none of which is longer than `longest`."""
    return 1 if run.length <= longest else ceil((run.length - run.loss) / (longest - run.loss))


def least_fitted(choices: Sequence[Choice]) -> int | None:
    """A length in marks of the ruler that no choice can go below whatever the lengths of its bits.

    None where no part may be joined from bits of any lengths. Of the `choices` only what is beside these counts.
    """
    alike: dict[tuple[frozenset[Piece], frozenset[Run]], list[Choice]] = {}
    for choice in filter(is_flexible, choices):
        alike.setdefault(beside(choice), []).append(choice)
    cases = {key: _case(some[0]) for key, some in alike.items()}
    least = {key: _by_area(case) for key, case in cases.items()}
    open_cases = set(cases)
    while open_cases:  # only the lowest bound matters: it alone is raised, until the lowest is one that was
        lowest = min(least, key=lambda key: least[key])
        if lowest not in open_cases:
            break
        open_cases.remove(lowest)
        for weights in _weights(cases[lowest], alike[lowest]):
            least[lowest] = _normal(cases[lowest], _raised(cases[lowest], weights, least[lowest]))
    return min(least.values(), default=None)


def _others(choice: Choice) -> list[Piece]:
    return [piece for _, way in choice.made for piece in way.others]


def _runs(choice: Choice) -> tuple[Run, ...]:
    return tuple(run for _, way in choice.made for run in way.runs)


def _case(choice: Choice) -> _Case:
    return _Case(job=same_cloths(choice.job, _others(choice)), runs=_runs(choice))


def _by_area(case: _Case) -> int:
    problem = case.job.problem
    sides = tuple({(side, side) for item in problem.items for side in (item.w, item.h)})
    least = lower_bound(problem).length
    return _normal(case, _raised(case, _Weights(across=True, sizes=sides, each=(1,) * len(case.runs)), least))


def _normal(case: _Case, length: int) -> int:
    """The least length that pieces pushed down can reach, and that is at least `length`."""
    if any(Direction.ALONG in run.ways for run in case.runs):
        return length
    width = case.job.problem.stocks[-1].w
    heights: Counter[int] = Counter()
    for item in case.job.problem.items:
        for height in {h for w, h in _ways(item) if w <= width}:
            heights[height] += item.demand
    for run in case.runs:
        heights[case.marks(run.width)] = length // case.marks(run.width) + 1
    return shortest_sum(heights, length)


def _weights(case: _Case, choices: Sequence[Choice]) -> Iterator[_Weights]:
    """Weights worth trying: of every list of bits that was bounded, with what they make of a bit's mark.

    Two lists more are all of short bits, which fill lines as well as any.
    """
    found: dict[_Weights, None] = {}
    for lists, bound in _bounded(case, choices):
        sizes = bound.weights.value if bound.weights else ()
        across = bound.weights is not None and bound.weights.axis == ACROSS
        shares = [_shares_of(case, run, bits, sizes) for run, bits in zip(case.runs, lists, strict=True)]
        for number in range(max(map(len, shares))):
            each = [share[min(number, len(share) - 1)] for share in shares]
            scale = lcm(*(share.denominator for share in each))
            scaled = tuple((size, weight * scale) for size, weight in sizes)
            found[_Weights(across=across, sizes=scaled, each=tuple(int(share * scale) for share in each))] = None
    yield from found


def _bounded(case: _Case, choices: Sequence[Choice]) -> Iterator[tuple[list[tuple[Fraction, ...]], Bound]]:
    """Lengths of the bits of each run, with the bound of all pieces."""
    for choice in choices:
        yield [bits for _, way in choice.made for bits in way.bits], choice.bound
    for is_short in (True, False):
        lists = []
        for run in case.runs:
            length = run.width if is_short else max(run.width, run.shortest)
            lists.append((length,) * ceil(run.length / length))
        pieces = [piece for run, bits in zip(case.runs, lists, strict=True) for piece in run.pieces(bits)]
        yield lists, lower_bound(same_cloths(case.job, [*case.job.pieces, *pieces]).problem)


def _shares_of(case: _Case, run: Run, bits: Sequence[Fraction], sizes: Sequence[tuple[int, int]]) -> list[Fraction]:
    """What the weights of `sizes` make of a mark of a bit, the greatest first; 0 where they make nothing."""
    lengths = {case.marks(length) for length in (*bits, run.width)}
    found = {Fraction(weight, size) for size, weight in sizes if size in lengths and weight}
    return sorted(found, reverse=True) or [Fraction(0)]


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
    load = sum(_weight(item, weights, stocks) for item in case.job.problem.items)
    for run, each in zip(case.runs, weights.each, strict=True):
        sides = [stock[way is Direction.ALONG] for stock in stocks for way in run.ways]
        longest = max(sides, default=0) * case.job.project.ruler
        if longest < run.length and longest <= run.loss:
            return True
        bits = least_bits(run, longest)
        load += each * case.marks(run.length + (bits - 1) * run.loss) * case.marks(run.width)
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
    """The most that one line carries: a knapsack of other pieces and bits across it, bits along what these leave."""
    copies: Counter[int] = Counter()
    for item in case.job.problem.items:
        for size in {way[not weights.across] for way in _ways(item)}:
            copies[size] += item.demand
    loads = Counter({(size, weights.of(size)): count for size, count in copies.items()})
    along = Direction.ACROSS if weights.across else Direction.ALONG
    open_rest: dict[int, int] = {}  # by the shortest bit that lies along the line: what a mark of it weighs
    for run, each in dict.fromkeys(zip(case.runs, weights.each, strict=True)):
        width, least = case.marks(run.width), case.marks(min(run.shortest, run.length))
        if along in run.ways:
            open_rest[least] = max(each, open_rest.get(least, 0))
        if set(run.ways) - {along}:
            loads[width, each * width] = line // width
    best = _knapsack(line, loads)
    return max(
        [best[line]]
        + [best[line - rest] + each * rest for least, each in open_rest.items() for rest in range(least, line + 1)]
    )


def _knapsack(line: int, loads: Mapping[tuple[int, int], int]) -> list[int]:
    """The greatest weight, for every length up to `line`, of what goes into it; `loads` counts (size, weight)."""
    best = [0] * (line + 1)
    for (size, weight), count in loads.items():
        for some in _shares(min(count, line // size) if weight else 0):
            step, more = some * size, some * weight
            best[step:] = [max(without, less + more) for without, less in zip(best[step:], best, strict=False)]
    return best


def _shares(copies: int) -> Iterator[int]:
    """Numbers that make up any count to `copies`: 1, 2, 4 … and what is left."""
    some = 1
    while copies > 0:
        yield min(some, copies)
        copies -= some
        some *= 2
