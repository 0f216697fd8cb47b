"""The judge of packings: works everything out again and shares no code with what found them.

Three-stage guillotine layouts are exactly these. A stock is cut across, at one y over its full width, into bands; a
band is cut along into columns; a column is a stack of items that all have the same x and the same width as they
lie. At most one column of a band may be a zone instead, which is cut as a stock of its own, without a further zone.
Waste may be anywhere. In a sheet that may be cut either way, x and y may be swapped throughout::

    +----+----+--------+
    |    |    |        |  a band: three columns
    +----+----+---+----+
    |   zone  |   |    |  a band: a zone (two bands of two columns) and two stacks
    | +--+    |   +----+
    +-+--+----+---+----+

To split at every line that meets no item is no loss: parts of a stack, a column or a zone are such again. Only what
is no stack within one band must stay together, as its zone.
"""

from __future__ import annotations

from bisect import bisect
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import gcd

from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, Stock, Weights
from ellwand.packing.refute import MOST_REFUTED, exists_shorter

__all__ = ["judge"]

_X, _Y = 0, 1
_SECOND_OPINION = 2000  # places up to which areas of unions are compared too


@dataclass(frozen=True, slots=True)
class _Box:
    """The item of a place as it lies, from `low` (x, y) to `high`."""

    item: int
    low: tuple[int, int]
    high: tuple[int, int]


def judge(problem: Problem, packing: Packing, bound: Bound) -> tuple[str, ...]:
    """Find what is wrong with a packing or with the bound claimed for it.

    Parameters
    ----------
    problem
        What was to be packed.
    packing
        The answer.
    bound
        The length that is said to be proven; it is proved again here, by its weights alone, or where it says that
        all layouts were looked through, by looking through them again.

    Returns
    -------
    tuple of str
        A sentence for each fault; empty for a sound packing.

    Examples
    --------
    >>> from ellwand.packing.problem import Stock
    >>> problem = Problem(
    ...     items=(Item(w=4, h=3, demand=1, turnable=False),), stocks=(Stock(w=5, h=None),), guillotine=True, stages=3
    ... )
    >>> packing = Packing(places=(Place(item=0, stock=0, x=2, y=0, turned=False),), length=4)
    >>> judge(problem, packing, Bound(length=3, theorem=""))
    ('Item 0 at (2, 0) leaves stock 0.', 'The packing ends at 3, not at 4.')
    """
    known = [place for place in packing.places if _is_known(problem, place)]
    layouts: dict[int, list[_Box]] = defaultdict(list)
    for place in known:
        layouts[place.stock].append(_box(problem, place))
    overlaps = [fault for stock, boxes in sorted(layouts.items()) for fault in _overlaps(stock, boxes)]
    return (
        *_unknown(problem, packing),
        *_miscounts(problem, known),
        *_wrong_turns(problem, known),
        *_out_of_phase(problem, known),
        *_outside(problem, layouts),
        *_on_blocked(problem, layouts),
        *(overlaps or _not_cuttable(problem, layouts)),
        *_wrong_length(problem, layouts, packing),
        *_wrong_bound(problem, packing, bound),
    )


def _is_known(problem: Problem, place: Place) -> bool:
    return 0 <= place.item < len(problem.items) and 0 <= place.stock < len(problem.stocks)


def _box(problem: Problem, place: Place) -> _Box:
    item = problem.items[place.item]
    w, h = (item.h, item.w) if place.turned else (item.w, item.h)
    return _Box(place.item, (place.x, place.y), (place.x + w, place.y + h))


def _unknown(problem: Problem, packing: Packing) -> Iterator[str]:
    for place in packing.places:
        if not _is_known(problem, place):
            yield f"There is no item {place.item} or no stock {place.stock}."


def _miscounts(problem: Problem, places: Sequence[Place]) -> Iterator[str]:
    placed = Counter(place.item for place in places)
    for number, item in enumerate(problem.items):
        if placed[number] != item.demand:
            yield f"Item {number} is placed {placed[number]} times, not {item.demand}."


def _wrong_turns(problem: Problem, places: Sequence[Place]) -> Iterator[str]:
    for place in places:
        if place.turned and not problem.items[place.item].turnable:
            yield f"Item {place.item} at ({place.x}, {place.y}) is turned, and may not be."


def _out_of_phase(problem: Problem, places: Sequence[Place]) -> Iterator[str]:
    """Items that begin more than half a cell from where they may."""
    for place in places:
        item = problem.items[place.item]
        for axis, at, phase in (("x", place.x, item.phase_x), ("y", place.y, item.phase_y)):
            if phase is not None:
                off = (at * phase.parts - phase.start) % phase.repeat
                if 2 * min(off, phase.repeat - off) > phase.parts:
                    yield f"Item {place.item} at ({place.x}, {place.y}) is out of phase in {axis}."


def _outside(problem: Problem, layouts: Mapping[int, Sequence[_Box]]) -> Iterator[str]:
    for number, boxes in sorted(layouts.items()):
        stock = problem.stocks[number]
        for box in boxes:
            below = min(box.low) < 0
            beyond = box.high[_X] > stock.w or (stock.h is not None and box.high[_Y] > stock.h)
            if below or beyond:
                yield f"Item {box.item} at {box.low} leaves stock {number}."


def _on_blocked(problem: Problem, layouts: Mapping[int, Sequence[_Box]]) -> Iterator[str]:
    """Items that lie on blocked parts, each pair looked at."""
    for number, boxes in sorted(layouts.items()):
        for x, y, w, h in problem.stocks[number].blocked:
            part = _Box(-1, (x, y), (x + w, y + h))
            for box in boxes:
                if _share_x(box, part) and box.low[_Y] < y + h and y < box.high[_Y]:
                    yield f"Item {box.item} at {box.low} lies on a blocked part of stock {number}, at {part.low}."


def _wrong_length(problem: Problem, layouts: Mapping[int, Sequence[_Box]], packing: Packing) -> Iterator[str]:
    end = max((box.high[_Y] for box in layouts.get(len(problem.stocks) - 1, ())), default=0)
    if packing.length != end:
        yield f"The packing ends at {end}, not at {packing.length}."


def _overlaps(stock: int, boxes: Sequence[_Box]) -> Iterator[str]:
    """Overlaps on one stock: a line sweeps up and keeps the items it meets in order of x."""
    events = sorted(event for n, box in enumerate(boxes) for event in ((box.low[_Y], 1, n), (box.high[_Y], 0, n)))
    line: list[tuple[int, int]] = []
    sound = True
    for _, starts, n in events:
        key = (boxes[n].low[_X], n)
        at = bisect(line, key)
        if not starts:
            if at and line[at - 1] == key:
                del line[at - 1]
            continue
        meets = [boxes[m] for _, m in line[max(at - 1, 0) : at + 1] if _share_x(boxes[n], boxes[m])]
        sound = sound and not meets
        yield from (
            f"Items {boxes[n].item} and {box.item} overlap at {boxes[n].low} on stock {stock}." for box in meets
        )
        if not meets:
            line.insert(at, key)
    if sound and len(boxes) <= _SECOND_OPINION and _covers_less(boxes):
        yield f"Items on stock {stock} cover less than their areas together."


def _share_x(one: _Box, other: _Box) -> bool:
    return one.low[_X] < other.high[_X] and other.low[_X] < one.high[_X]


def _covers_less(boxes: Sequence[_Box]) -> bool:
    """Whether the union of the boxes is smaller than their sum; by another hand, in floats."""
    import shapely  # 0.1 s

    left, bottom = ([box.low[axis] for box in boxes] for axis in (_X, _Y))
    right, top = ([box.high[axis] for box in boxes] for axis in (_X, _Y))
    shapes = shapely.box(left, bottom, right, top)
    return bool(shapely.union_all(shapes).area < shapely.area(shapes).sum() - 0.5)


def _not_cuttable(problem: Problem, layouts: Mapping[int, Sequence[_Box]]) -> Iterator[str]:
    if not problem.guillotine:
        return
    for number, boxes in sorted(layouts.items()):
        if problem.stocks[number].free is not None:
            continue
        if not _is_separable(boxes):
            yield f"No edge-to-edge cuts free the items on stock {number}."
        elif problem.stages is not None and not _in_three_stages(boxes, problem.stocks[number]):
            yield f"Stock {number} takes more than three stages of cuts."


def _is_separable(boxes: Sequence[_Box]) -> bool:
    left = [list(boxes)]
    while left:
        group = left.pop()
        if len(group) == 1:
            continue
        parts = _parts(group, _Y)
        if len(parts) == 1:
            parts = _parts(group, _X)
        if len(parts) == 1:
            return False
        left.extend(parts)
    return True


def _parts(boxes: Iterable[_Box], axis: int) -> list[list[_Box]]:
    """`boxes`, divided at every line square to `axis` that meets none of them."""
    parts: list[list[_Box]] = []
    end = 0
    for box in sorted(boxes, key=lambda box: box.low[axis]):
        if not parts or box.low[axis] >= end:
            parts.append([])
            end = box.high[axis]
        parts[-1].append(box)
        end = max(end, box.high[axis])
    return parts


def _in_three_stages(boxes: Sequence[_Box], stock: Stock) -> bool:
    if _in_bands(boxes):
        return True
    swappable = stock.h is not None and stock.either_way
    return swappable and _in_bands([_Box(box.item, box.low[::-1], box.high[::-1]) for box in boxes])


def _in_bands(boxes: Iterable[_Box], *, zone: bool = True) -> bool:
    """Whether `boxes` are bands of columns, of which one a band may be a zone if `zone`."""
    for band in _parts(boxes, _Y):
        columns = _parts(band, _X)
        mixed = [number for number, column in enumerate(columns) if not _is_stack(column)]
        if not mixed:
            continue
        together = [box for column in columns[mixed[0] : mixed[-1] + 1] for box in column]
        if not zone or not _in_bands(together, zone=False):
            return False
    return True


def _is_stack(column: Sequence[_Box]) -> bool:
    return len({(box.low[_X], box.high[_X]) for box in column}) == 1


def _wrong_bound(problem: Problem, packing: Packing, bound: Bound) -> Iterator[str]:
    if bound.length > packing.length:
        yield f"The bound {bound.length} is above the packing's length {packing.length}."
    if bound.searched is not None:
        yield from _wrong_search(problem, bound)
    elif bound.length > 0 and not _is_proved(problem, bound):
        yield f"Nothing proves that {bound.length} is the least length possible."


def _wrong_search(problem: Problem, bound: Bound) -> Iterator[str]:
    if problem.hindered:
        yield "A search of all layouts knows nothing of blocked parts and phases."
    elif bound.searched is not problem.scope:
        yield f"The bound speaks of {bound.scope.value}, the problem of {problem.scope.value}."
    elif problem.pieces > MOST_REFUTED:
        yield f"Layouts of {problem.pieces} items are too many to look through them again."
    elif bound.length > 0 and exists_shorter(problem, bound.length):
        yield f"A layout shorter than {bound.length} exists."


_Lying = tuple[int, int, int]  # item, width and height as it lies


def _is_proved(problem: Problem, bound: Bound) -> bool:
    """Whether `bound` holds, worked out again: nothing less than it holds all items.

    The longest open stock to refute is the largest sum of heights below the bound, since in some least layout items
    stand on each other or on the edge (normal patterns; the sum is a multiple of their common divisor, too).
    """
    wide = problem.stocks[-1].w
    wanted = [n for n, item in enumerate(problem.items) if item.demand]
    lying = [(n, *shape) for n in wanted for shape in _shapes(problem.items[n])]
    heights: Counter[int] = Counter()
    for n, w, h in lying:
        heights[h] += problem.items[n].demand if w <= wide else 0
    sheets = Counter((stock.w, stock.h, stock.free) for stock in problem.stocks if stock.h is not None)
    finite = [(w, h or 0, count, free) for (w, h, free), count in sheets.items()]
    finite.append((wide, _largest_sum(heights, bound.length - 1), 1, None))
    stocks = [
        _Kind(w, h, count, free, tuple(shape for shape in lying if shape[1] <= w and shape[2] <= h))
        for w, h, count, free in finite
    ]
    placed = {n for stock in stocks for n, _, _ in stock.fitting}
    if len(placed) < len(wanted):
        return True  # an item fits nowhere
    return bound.weights is not None and _breaks(problem, stocks, bound.weights)


def _shapes(item: Item) -> set[tuple[int, int]]:
    return {(item.w, item.h), (item.h, item.w)} if item.turnable else {(item.w, item.h)}


@dataclass(frozen=True, slots=True)
class _Kind:
    """`count` equal stocks, how much of each is free where parts are blocked, and what fits them."""

    w: int
    h: int
    count: int
    free: int | None
    fitting: tuple[_Lying, ...]


def _breaks(problem: Problem, stocks: Sequence[_Kind], weights: Weights) -> bool:
    """Whether the items weigh more, over all bars in a direction, than the bars of all `stocks` can hold.

    What lies between blocked parts weighs no more than the most weight for a cell of an item times the cells either.
    """
    if weights.axis not in ("across", "along") or any(weight < 0 for _, weight in weights.value):
        return False
    if weights.axis == "along":
        stocks = [
            replace(stock, w=stock.h, h=stock.w, fitting=tuple((n, y, x) for n, x, y in stock.fitting))
            for stock in stocks
        ]
    worth = defaultdict(int, weights.value)
    lightest: dict[int, int] = {}
    room = 0
    for stock in stocks:
        sizes: Counter[int] = Counter()
        spans: Counter[int] = Counter()
        for n, size, other in stock.fitting:
            sizes[size] += problem.items[n].demand
            spans[other] += problem.items[n].demand
            weight = worth[size] * other
            lightest[n] = min(lightest.get(n, weight), weight)
        held = _largest_sum(spans, stock.h) * _heaviest_bar(sizes, worth, stock.w)
        if stock.free is not None:
            held = min(held, max((stock.free * worth[size] // size for size in sizes), default=0))
        room += stock.count * held
    return sum(problem.items[n].demand * weight for n, weight in lightest.items()) > room


def _heaviest_bar(sizes: Mapping[int, int], worth: Mapping[int, int], capacity: int) -> int:
    """The most weight of sizes, each at most so often, that together are at most `capacity`."""
    heaviest = {0: 0}  # by sum of sizes
    for size, copies in sizes.items():
        if not worth[size]:
            continue
        for batch in _halves(min(copies, capacity // size)):
            for total, weight in list(heaviest.items()):
                longer = total + batch * size
                if longer <= capacity:
                    heaviest[longer] = max(heaviest.get(longer, 0), weight + batch * worth[size])
    return max(heaviest.values())


def _largest_sum(sizes: Mapping[int, int], top: int) -> int:
    """The largest sum of sizes, each at most so often, that is at most `top`."""
    unit = gcd(*sizes)
    if unit == 0 or top <= 0:
        return 0
    within = (1 << (top // unit + 1)) - 1
    reached = 1  # bit k: k units
    for size, copies in sizes.items():
        for batch in _halves(min(copies, top // size)):
            reached |= (reached << (batch * size // unit)) & within
    return (reached.bit_length() - 1) * unit


def _halves(copies: int) -> Iterator[int]:
    """`copies` as batches, each half of what is left: some of them add up to any smaller number."""
    while copies:
        batch = (copies + 1) // 2
        yield batch
        copies -= batch
