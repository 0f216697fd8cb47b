"""What is packed, into what, and the answer. Whole numbers only.

x runs along a stock's width, y along its length; the open stock has no end.
A layout is *guillotine* when straight cuts, each from edge to edge of what it divides, free every item.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum

__all__ = [
    "Bound", "Effort", "Item", "Packing", "Phase", "Place", "Problem", "Progress", "Result", "Scope", "Status", "Stock",
    "Watch", "Weights", "reach",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """Where along one side of a stock an item may begin: at (start + n * repeat) / parts cells, n = 0, 1, 2 ….

    What falls between two cells is rounded to the nearer one, so that nothing adds up; `start` is less than `repeat`,
    and `repeat` a cell at least.
    """

    start: int
    repeat: int
    parts: int = 1

    def next(self, least: int) -> int:
        """The first such cell from `least` up."""
        number = max(0, -(-(2 * self.parts * least - self.parts - 2 * self.start) // (2 * self.repeat)))
        return (2 * (self.start + number * self.repeat) + self.parts) // (2 * self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A rectangle wanted `demand` times; `turnable` if it may lie a quarter turned.

    `phase_x` and `phase_y` say where its lower left corner may lie in every stock, None for anywhere. An item that
    has one is not turnable, and fits the open stock at one of these places.
    """

    w: int
    h: int
    demand: int
    turnable: bool
    phase_x: Phase | None = None
    phase_y: Phase | None = None

    @property
    def phased(self) -> bool:
        """Whether it may not begin just anywhere."""
        return self.phase_x is not None or self.phase_y is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One physical rectangle to cut from; the open stock has `h` None.

    Parameters
    ----------
    either_way
        Whether the first cuts may run along it as well as across. The open stock's run across, whatever it says.
    free
        Of a stock with blocked parts, the area that is not blocked, in square cells. Items lie freely in it, even
        where `guillotine` asks for straight cuts in the other stocks. None for an ordinary stock.
    blocked
        Rectangles (x, y, w, h) in which nothing may lie, disjoint and within the stock. They may cover a little more
        than `free` leaves out, where edges are slanted.
    """

    w: int
    h: int | None
    either_way: bool = True
    free: int | None = None
    blocked: tuple[tuple[int, int, int, int], ...] = ()


class Scope(Enum):
    """Layouts that a problem allows, or that a bound speaks of; each holds those named after it."""

    FREE = "any layout"
    GUILLOTINE = "straight cuts in any number of stages"
    THREE_STAGES = "straight cuts in three stages"


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Place all items so that the open stock is used over the least length.

    Parameters
    ----------
    items
        Different from each other; every one fits the open stock's width some way round.
    stocks
        Each physical sheet on its own, the open stock last (always there, exactly one).
    guillotine
        Whether only straight edge-to-edge cuts are allowed; not where an item has a phase.
    stages
        With `guillotine`: 3 for strip, sub-cut and trim (see `judge`), None for any number.
    """

    items: tuple[Item, ...]
    stocks: tuple[Stock, ...]
    guillotine: bool
    stages: int | None

    @property
    def scope(self) -> Scope:
        """The layouts that are allowed."""
        if not self.guillotine:
            return Scope.FREE
        return Scope.GUILLOTINE if self.stages is None else Scope.THREE_STAGES

    @property
    def phased(self) -> bool:
        """Whether some item may not begin just anywhere."""
        return any(item.phased for item in self.items)

    @property
    def hindered(self) -> bool:
        """Whether some stock has blocked parts, or some item a phase: neither can be pushed to the lower left."""
        return self.phased or any(stock.free is not None for stock in self.stocks)

    @property
    def pieces(self) -> int:
        """How many items are wanted, copies counted."""
        return sum(item.demand for item in self.items)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Item number `item` on stock number `stock`, its lower left corner at (x, y)."""

    item: int
    stock: int
    x: int
    y: int
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """Where everything lies, and the length of the open stock that it takes."""

    places: tuple[Place, ...]
    length: int


def reach(problem: Problem, places: Iterable[Place]) -> int:
    """How far items that lie at `places` reach along the open stock."""
    items, last = problem.items, len(problem.stocks) - 1
    tops = (p.y + (items[p.item].w if p.turned else items[p.item].h) for p in places if p.stock == last)
    return max(tops, default=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """Whole-number weights of the bar relaxation that prove a lower bound.

    Parameters
    ----------
    axis
        ``"across"``: every horizontal line through a stock is a bar that holds side by side the sizes it crosses.
        ``"along"``: the same for vertical lines.
    value
        Pairs (size, weight): how much an item's size along the bar is worth.
    """

    axis: str
    value: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """No packing of the problem takes less than `length` of the open stock.

    Parameters
    ----------
    theorem
        What proves it, in words.
    weights
        Let a judge prove it again, for every layout. None: `length` is the tallest item that fits no sheet, or 0,
        or see `searched`.
    searched
        Every layout of this scope was looked through, and none is shorter; a judge looks through them again. The
        bound says nothing of wider scopes.
    """

    length: int
    theorem: str
    weights: Weights | None = None
    searched: Scope | None = None

    @property
    def scope(self) -> Scope:
        """The layouts of which it speaks."""
        return self.searched or Scope.FREE


class Status(Enum):
    """How a search ended; OPTIMAL is derived from bound and length, never set."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"


class Effort(Enum):
    """How much work is done, the same on every machine."""

    QUICK = "quick"
    CAREFUL = "careful"
    PROOF = "proof"


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """A moment of a search: the best length so far, the bound, and what runs."""

    length: int
    bound: int
    method: str


Watch = Callable[[Progress], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """A judged packing with its bound and how it was found.

    `settled`: a search came to its end without a shorter one. Where the bound does not meet the packing, that is a
    search's word alone, which no judge has proved again.
    """

    packing: Packing
    bound: Bound
    method: str
    settled: bool = False

    @property
    def status(self) -> Status:
        """OPTIMAL when the bound meets the packing."""
        return Status.OPTIMAL if self.bound.length >= self.packing.length else Status.FEASIBLE
