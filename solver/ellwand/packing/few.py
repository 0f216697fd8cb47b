"""Few items: every layout is looked through, so that the best is found and proven to be the best.

*Straight cuts.* What is cut from one rectangle has a list of sizes (width, height) that hold it and none of which
holds another. Two such lists side by side, or on each other, give the list of both together; over all ways to split
a set of items in two this makes every layout that straight cuts can free. With three stages the same is done level
by level: stacks, rows of stacks, zones, rows with at most one zone, and these on each other (see `judge`).

*Free.* Any two rectangles lie beside or above each other. A pair of sequences says for all of them at once which way,
and the least width and height that keep to it follow; all pairs of sequences are tried, item by item, cut off
where they get too wide or too high. For three rectangles straight cuts are enough: of their three pairs two are
parted in the same direction, and then one line parts one rectangle from the others.

*Several stocks.* Which sets of items a stock can hold is known from that, and a dynamic programme over the sets does
the rest.

References
----------
Stockmeyer (1983), Optimal orientations of cells in slicing floorplan designs (lists of sizes). Murata, Fujiyoshi,
Nakatake and Kajitani (1996), VLSI module placement based on rectangle-packing by the sequence-pair.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Packing, Place, Problem, Scope, Stock

__all__ = ["MOST_PIECES", "pack_few"]

MOST_PIECES = 5

_Box = tuple[int, int, int, bool]  # number of the piece, x, y, turned
_Pieces = tuple[tuple[tuple[int, int, bool], ...], ...]  # for each piece the ways it may lie: w, h, turned


@dataclass(frozen=True, slots=True)
class _Layout:
    """Pieces in a rectangle of this size."""

    w: int
    h: int
    boxes: tuple[_Box, ...]

    def beside(self, other: _Layout) -> _Layout:
        """The other one to the right of this."""
        moved = tuple((piece, x + self.w, y, turned) for piece, x, y, turned in other.boxes)
        return _Layout(self.w + other.w, max(self.h, other.h), self.boxes + moved)

    def under(self, other: _Layout) -> _Layout:
        """The other one on top of this."""
        moved = tuple((piece, x, y + self.h, turned) for piece, x, y, turned in other.boxes)
        return _Layout(max(self.w, other.w), self.h + other.h, self.boxes + moved)

    def swapped(self) -> _Layout:
        """The same with x and y swapped."""
        return _Layout(self.h, self.w, tuple((piece, y, x, turned) for piece, x, y, turned in self.boxes))


_Layouts = tuple[_Layout, ...]
_NOTHING = _Layout(0, 0, ())


def _smallest(layouts: Iterable[_Layout]) -> _Layouts:
    """Those whose rectangle holds no other's, the narrowest first."""
    kept: list[_Layout] = []
    for layout in sorted(layouts, key=lambda layout: (layout.w, layout.h)):
        if not kept or layout.h < kept[-1].h:
            kept.append(layout)
    return tuple(kept)


def _parts(pieces: int) -> Iterator[tuple[int, int]]:
    """Every way to split a set, given as bits, in two; the first part may be all of it, and is never empty."""
    part = pieces
    while part:
        yield part, pieces ^ part
        part = (part - 1) & pieces


@dataclass(slots=True)
class _Cuts:
    """The smallest layouts of every set of pieces by straight cuts; each method asks for one level of them."""

    pieces: _Pieces
    known: dict[tuple[str, int], _Layouts] = field(default_factory=dict)

    def get(self, kind: Callable[[int], Iterable[_Layout]], pieces: int) -> _Layouts:
        """`kind` of layouts of a set, worked out once."""
        key = (kind.__name__, pieces)
        if key not in self.known:
            self.known[key] = _smallest(kind(pieces))
        return self.known[key]

    def any_stages(self, pieces: int) -> Iterator[_Layout]:
        """Two sets of layouts beside or on each other, again and again."""
        for part, rest in _parts(pieces):
            if part > rest > 0:
                for one in self.get(self.any_stages, part):
                    for other in self.get(self.any_stages, rest):
                        yield from (one.beside(other), one.under(other))
        if pieces & (pieces - 1) == 0:
            yield from self.stacks(pieces)

    def stacks(self, pieces: int) -> Iterator[_Layout]:
        """Pieces of one width on each other."""
        ways = [(number, lying) for number, lying in enumerate(self.pieces) if pieces >> number & 1]
        for width in {w for _, lying in ways for w, _, _ in lying}:
            stack: _Layout | None = _NOTHING
            for number, lying in ways:
                lowest = min(((h, turned) for w, h, turned in lying if w == width), default=None)
                if stack is None or lowest is None:
                    stack = None
                    break
                stack = stack.under(_Layout(width, lowest[0], ((number, 0, 0, lowest[1]),)))
            if stack is not None:
                yield stack

    def rows(self, pieces: int) -> Iterator[_Layout]:
        """Stacks beside each other."""
        yield from self._beside(self.stacks, self.rows, pieces)

    def zones(self, pieces: int) -> Iterator[_Layout]:
        """Rows on each other."""
        yield from self._on(self.rows, self.zones, pieces)

    def zoned_rows(self, pieces: int) -> Iterator[_Layout]:
        """A zone and beside it a row; either may be missing."""
        yield from self.get(self.rows, pieces)
        yield from self._beside(self.zones, self.rows, pieces)

    def three_stages(self, pieces: int) -> Iterator[_Layout]:
        """Rows with zones on each other."""
        yield from self._on(self.zoned_rows, self.three_stages, pieces)

    def _beside(
        self, first: Callable[[int], Iterable[_Layout]], then: Callable[[int], Iterable[_Layout]], pieces: int
    ) -> Iterator[_Layout]:
        for part, rest in _parts(pieces):
            for one in self.get(first, part):
                yield from (one.beside(other) for other in self.get(then, rest)) if rest else (one,)

    def _on(
        self, first: Callable[[int], Iterable[_Layout]], then: Callable[[int], Iterable[_Layout]], pieces: int
    ) -> Iterator[_Layout]:
        for part, rest in _parts(pieces):
            for one in self.get(first, part):
                yield from (one.under(other) for other in self.get(then, rest)) if rest else (one,)


@dataclass(slots=True)
class _Sequences:
    """All free layouts of some pieces no wider than `width`: the least high that is lower than `best`.

    None is lower than `least`.
    """

    pieces: _Pieces
    order: tuple[int, ...]
    width: int
    least: int
    best: int
    halt: Halt
    lying: list[tuple[int, int, bool]] = field(default_factory=list)
    found: _Layout | None = None

    def search(self) -> _Layout | None:
        """The layout, None if there is none."""
        self._insert((), ())
        return self.found

    def _insert(self, down: tuple[int, ...], up: tuple[int, ...]) -> None:
        """Insert the next piece at every spot of both sequences, of which `up` runs from the lower left."""
        new = len(up)
        if new == len(self.order):
            width, height, corners = self._compact(down, up)
            self.best = height
            boxes = ((self.order[n], *corners[n], self.lying[n][2]) for n in range(new))
            self.found = _Layout(width, height, tuple(boxes))
            return
        ways = self.pieces[self.order[new]]
        first = self._first(up, new, ways)
        for way in ways:
            self.lying.append(way)
            for at in range(first, new + 1):
                longer = (*up[:at], new, *up[at:])
                for place in range(new + 1):
                    other = (*down[:place], new, *down[place:])
                    if self.best <= self.least or self.halt.now:
                        return
                    width, height, _ = self._compact(other, longer)
                    if width <= self.width and height < self.best:
                        self._insert(other, longer)
            self.lying.pop()

    def _first(self, up: tuple[int, ...], new: int, ways: tuple[tuple[int, int, bool], ...]) -> int:
        """Where in `up` a piece may come at the earliest.

        Equal pieces keep their order, for they can be swapped. So do the first two if they have no equals, for the
        layout can be mirrored.
        """
        lone = [n for n in self.order[:2] if sum(self.pieces[m] == self.pieces[n] for m in self.order) == 1]
        after = {n for n in range(new) if self.pieces[self.order[n]] == ways or (new == 1 and len(lone) == 2)}
        return max((at + 1 for at, n in enumerate(up) if n in after), default=0)

    def _compact(self, down: tuple[int, ...], up: tuple[int, ...]) -> tuple[int, int, dict[int, tuple[int, int]]]:
        """Width, height and corners: what comes earlier in both lies left, what is earlier in `up` only, below."""
        at = {n: spot for spot, n in enumerate(down)}
        corners: dict[int, tuple[int, int]] = {}
        width = height = 0
        for n in up:
            x = y = 0
            for m, (left, low) in corners.items():
                if at[m] < at[n]:
                    x = max(x, left + self.lying[m][0])
                else:
                    y = max(y, low + self.lying[m][1])
            corners[n] = (x, y)
            width, height = max(width, x + self.lying[n][0]), max(height, y + self.lying[n][1])
        return width, height, corners


@dataclass(slots=True)
class _Holder:
    """Which sets of the pieces a stock can hold, and how."""

    scope: Scope
    cuts: _Cuts
    across: _Cuts  # the same with x and y swapped
    halt: Halt
    known: dict[tuple[int, int, int | None, bool], _Layout | None] = field(default_factory=dict)

    def hold(self, pieces: int, stock: Stock) -> _Layout | None:
        """The lowest layout of `pieces` in a stock; any that fits, if that has a height; None if there is none."""
        key = (pieces, stock.w, stock.h, stock.either_way)
        if key not in self.known:
            self.known[key] = self._hold(pieces, stock)
        return self.known[key]

    def _hold(self, pieces: int, stock: Stock) -> _Layout | None:
        top = stock.h
        fitting = [one for one in self._cut(pieces, stock) if one.w <= stock.w and (top is None or one.h <= top)]
        best = min(fitting, key=lambda one: one.h, default=None)
        if self.scope is not Scope.FREE or pieces.bit_count() < 4 or (best and top is not None):
            return best
        return self._free(pieces, stock, best) or best

    def _cut(self, pieces: int, stock: Stock) -> Iterator[_Layout]:
        if self.scope is not Scope.THREE_STAGES:
            yield from self.cuts.get(self.cuts.any_stages, pieces)
            return
        yield from self.cuts.get(self.cuts.three_stages, pieces)
        if stock.h is not None and stock.either_way:
            yield from (one.swapped() for one in self.across.get(self.across.three_stages, pieces))

    def _free(self, pieces: int, stock: Stock, best: _Layout | None) -> _Layout | None:
        """A free layout lower than `best` or than the stock's height allows."""
        all_pieces = self.cuts.pieces
        area = {n: w * h for n, ((w, h, _), *_) in enumerate(all_pieces) if pieces >> n & 1}
        highest = sum(max(h for _, h, _ in all_pieces[n]) for n in area)
        above = best.h if best else 1 + (highest if stock.h is None else stock.h)
        least = -(-sum(area.values()) // stock.w)
        if least >= above:
            return None
        order = tuple(sorted(area, key=lambda n: (-area[n], n)))
        return _Sequences(all_pieces, order, stock.w, least, above, self.halt).search()


def pack_few(problem: Problem, halt: Halt = NEVER) -> tuple[Packing, bool]:
    """The best packing of at most `MOST_PIECES` items: shortest, then on the fewest sheets.

    Parameters
    ----------
    problem
        What to pack; its scope says which layouts are looked through.
    halt
        Ends the search early.

    Returns
    -------
    tuple of Packing and bool
        The packing, and whether nothing was left out: then none of the problem's scope is shorter.

    Examples
    --------
    >>> from ellwand.packing.problem import Item
    >>> items = (Item(w=3, h=1, demand=2, turnable=True), Item(w=2, h=2, demand=1, turnable=False))
    >>> problem = Problem(items=items, stocks=(Stock(w=4, h=None),), guillotine=True, stages=3)
    >>> packing, proven = pack_few(problem)
    >>> packing.length, proven
    (3, True)
    """
    numbers = [number for number, item in enumerate(problem.items) for _ in range(item.demand)]
    pieces = tuple(_ways(problem, number) for number in numbers)
    swapped = tuple(tuple((h, w, turned) for w, h, turned in ways) for ways in pieces)
    holder = _Holder(problem.scope, _Cuts(pieces), _Cuts(swapped), halt)
    everything = (1 << len(pieces)) - 1
    taken: dict[int, tuple[tuple[int, _Layout], ...]] = {0: ()}  # pieces on sheets, and how, on the fewest
    for stock, sheet in enumerate(problem.stocks[:-1]):
        for before, layouts in list(taken.items()):
            for part, _ in _parts(everything ^ before):
                held = holder.hold(part, sheet)
                if held and len(layouts) + 1 < len(taken.get(before | part, problem.stocks)):
                    taken[before | part] = (*layouts, (stock, held))
    best = min(_ended(problem, holder, everything, taken), key=lambda layouts: (layouts[-1][1].h, len(layouts)))
    places = (
        Place(item=numbers[piece], stock=stock, x=x, y=y, turned=turned)
        for stock, layout in best
        for piece, x, y, turned in layout.boxes
    )
    return Packing(places=tuple(places), length=best[-1][1].h), problem.scope is not Scope.FREE or not halt.now


def _ways(problem: Problem, number: int) -> tuple[tuple[int, int, bool], ...]:
    item = problem.items[number]
    upright = (item.w, item.h, False)
    return (upright, (item.h, item.w, True)) if item.turnable and item.w != item.h else (upright,)


def _ended(
    problem: Problem, holder: _Holder, everything: int, taken: dict[int, tuple[tuple[int, _Layout], ...]]
) -> Iterator[tuple[tuple[int, _Layout], ...]]:
    """Every choice of pieces on sheets, ended by the layout of the others on the open stock."""
    last = len(problem.stocks) - 1
    for before, layouts in taken.items():
        rest = everything ^ before
        held = holder.hold(rest, problem.stocks[-1]) if rest else _NOTHING
        if held:
            yield (*layouts, (last, held))
