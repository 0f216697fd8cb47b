"""The nouns of a plan document as its judge sees them, lengths counted in marks of its ruler."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

__all__ = [
    "PRICED_BY", "Area", "Cloth", "Corner", "Cut", "Fabric", "Kits", "Lay", "Left", "Missing", "Mix", "Mixed", "Phase",
    "Piece", "Placed", "Plan", "Proof", "Rectangle", "Shape", "Taken", "Together", "Wishes",
]  # fmt: skip

PRICED_BY = {"in": 36, "cm": 100}  # a yard, a metre
Corner = tuple[Fraction, Fraction]  # across and along, in marks
Shape = tuple[Corner, ...]
Phase = tuple[Fraction | None, Fraction | None]  # across and along, in marks; None: anywhere


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A rectangle on a cloth, in marks."""

    x: int
    y: int
    across: int
    along: int

    @property
    def right(self) -> int:
        """Its far edge across."""
        return self.x + self.across

    @property
    def end(self) -> int:
        """Its far edge along."""
        return self.y + self.along

    @property
    def area(self) -> int:
        """Square marks."""
        return self.across * self.along


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """An entry of ``pieces``; `phase` is where in the print's repeat its lower left corner lies."""

    id: str
    fabric: str
    across: int
    along: int
    count: int
    turnable: bool
    phase: Phase | None = None
    spare: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """An entry of ``placed``."""

    piece: str
    turned: bool
    at: Rectangle


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """An entry of ``cuts``."""

    step: int
    across: bool
    at: int
    start: int
    end: int
    depth: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """An entry of ``cloths``; lengths that are not cut to need not be on the ruler."""

    id: str
    buy: bool
    across: int
    along: int
    used: Fraction
    whole: bool
    washed: bool
    width: Fraction
    length: Fraction
    squaring: Fraction
    lot: str
    measured: tuple[Fraction, Fraction]
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Rectangle, ...]
    outline: Shape | None = None
    flaws: tuple[Shape, ...] = ()
    bolt: int | None = None
    lay: int | None = None
    plies: int = 1

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """Its outline, if any, and its flaws."""
        return self.flaws if self.outline is None else (self.outline, *self.flaws)

    @property
    def odd(self) -> bool:
        """Whether it is laid freely whatever the project asks for."""
        return bool(self.shapes)

    @property
    def edge(self) -> int:
        """The far edge of its last piece."""
        return max((placed.at.end for placed in self.placed), default=0)

    @property
    def taken_along(self) -> int:
        """Usable length that is taken: all of a rectangle, else up to the last piece."""
        return self.along if self.whole else self.edge

    @property
    def rest(self) -> Rectangle | None:
        """What stays as it is of a length on hand."""
        if self.buy or self.taken_along >= self.along:
            return None
        return Rectangle(x=0, y=self.edge, across=self.across, along=self.along - self.edge)


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """The parts of ``area``, in square marks."""

    pieces: Fraction
    offcuts: Fraction
    scrap: Fraction
    selvage: Fraction
    squaring: Fraction
    rounding: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """An entry's ``proof``: pairs (size, weight) and their axis, if any, and every cloth on hand (across, along).

    `searched`: every layout was looked through; of the cloths, `lengths` are those that are cut across first.
    `odd` are the cloths with an outline or flaws: across, along, and the square marks that can be used.
    """

    axis: str | None
    weights: tuple[tuple[int, int], ...]
    cloths: tuple[tuple[int, int], ...]
    searched: bool = False
    lengths: tuple[tuple[int, int], ...] = ()
    odd: tuple[tuple[int, int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """An entry of ``lays``: equal plies of whole kits; `squaring` and `takes` need not be on the ruler."""

    number: int
    kits: int
    plies: int
    layers: int
    times: int
    rest: int
    along: int
    squaring: Fraction
    takes: Fraction
    cuts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """A fabric's ``together``: what all copies take as one."""

    needed: int
    bought: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Kits:
    """The plan's ``kits``: what squaring again takes, after so many strips."""

    square_again: Fraction
    strips: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """An entry of ``left``: what stays of a cloth on hand."""

    id: str
    across: int
    along: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A fabric's ``missing``: a cloth that would hold the pieces without a place, and where."""

    across: int
    along: int
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """A fabric's ``wishes``; `pieces` are (piece, wanted, placed)."""

    needed: int
    honoured: Fraction
    pieces: tuple[tuple[str, int, int], ...]
    keep_back: tuple[int, int] | None
    kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric:
    """An entry of ``fabrics``; `sold_by` and `squaring` in marks, shares and prices as they stand."""

    id: str
    width: Fraction
    usable_width: int
    rotary: bool
    repeat: Corner | None
    needed: int
    bound: int
    proven: bool
    proof: Proof
    steps: int
    sold_by: Fraction
    squaring: Fraction
    shrinks: tuple[Fraction, Fraction]
    bought: int
    bound_bought: int
    bought_proven: bool
    price: Fraction | None
    cost: Fraction | None
    taken: Fraction
    area: Area
    shrinkage: Fraction
    waste_percent: Fraction
    buy: bool
    same_cloth: bool
    spare: Fraction
    wishes: Wishes | None
    left: tuple[Left, ...]
    missing: Missing | None
    cloths: tuple[Cloth, ...]
    bolt: Fraction | None = None
    lays: tuple[Lay, ...] = ()
    together: Together | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """An entry of a mix's ``taken``."""

    name: str
    fabric: str
    count: int
    blocks: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """An entry of ``mixes``."""

    id: str
    any_of: tuple[str, ...]
    taken: tuple[Taken, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixed:
    """The document's ``mixed``, and its ``copies``; `bought` and `least` are prices if `by_cost`, else in its unit."""

    copies: int
    fabrics: tuple[str, ...]
    by_cost: bool
    bought: Fraction
    least: Fraction
    proven: bool
    mixes: tuple[Mix, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole document."""

    unit: str
    ruler: Fraction
    stages: int | None
    keep: Fraction
    pieces: tuple[Piece, ...]
    fabrics: tuple[Fabric, ...]
    copies: int = 1
    kits: Kits | None = None
    mixed: Mixed | None = None

    def show(self, marks: int | Fraction) -> str:
        """A length in the plan's unit."""
        return f"{float(marks * self.ruler):.10g} {self.unit}"

    def where(self, placed: Placed) -> str:
        """A piece and its place."""
        return f'piece "{placed.piece}" at {self.show(placed.at.x)}, {self.show(placed.at.y)}'

    @property
    def priced_by(self) -> Fraction:
        """A yard or a metre, in marks."""
        return PRICED_BY[self.unit] / self.ruler
