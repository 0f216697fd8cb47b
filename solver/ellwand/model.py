"""The nouns between pieces and their plan: cloths, layouts, answers. Inches, exact, nothing ever changed.

On cloth, x and `across` run from the left selvage's inner edge, y and `along` along it from the squared end.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from ellwand.pieces import Construction, Direction, Pair, Part, Piece, Quilt, Role, Run, Sizes
from ellwand.project.tables import Fabric, Polygon, Project
from ellwand.reckoning import Area, Looser, Proof, Spare, Wishes

__all__ = [
    "Area", "Cloth", "Construction", "Cut", "Direction", "FabricPlan", "Lay", "Layout", "Left", "Looser", "Missing",
    "Offcut", "Pair", "Part", "Piece", "Placed", "Plan", "Proof", "Quilt", "Region", "Role", "Run", "Sizes", "Source",
    "Spare", "Together", "Wishes",
]  # fmt: skip


class Source(Enum):
    """Where a cloth comes from."""

    BUY = "buy"
    ON_HAND = "on hand"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """One physical cloth as it is cut (washed, squared, selvages off).

    Parameters
    ----------
    across, along
        What can be used of it, on the ruler. `along` of cloth to buy is what is needed.
    width, length
        The whole cloth, washed, selvages and squaring included. `length` of cloth to buy is what is bought.
    squaring
        Length lost at its ends.
    washed
        Whether it was washed before it was measured.
    whole
        Whether it is taken whole (a rectangle, an odd shape) or only up to its last piece (a length).
    bolt
        Number of the bolt that it is cut off, where bolts have an end.
    outline, flaws
        Edge of an odd shape, None for a rectangle; what must not be used. Corners are counted as places are.
    ledger, lot, place
        Its short id in the ledger, its dye lot and where it is kept; "" where there is none.
    """

    id: str
    source: Source
    across: Fraction
    along: Fraction
    width: Fraction
    length: Fraction
    squaring: Fraction
    washed: bool
    whole: bool
    bolt: int | None = None
    outline: Polygon | None = None
    flaws: tuple[Polygon, ...] = ()
    ledger: str = ""
    lot: str = ""
    place: str = ""

    @property
    def odd(self) -> bool:
        """Whether pieces are laid on it freely, in every project: it has an outline or flaws."""
        return self.outline is not None or bool(self.flaws)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A piece where it lies; `across` and `along` as it lies."""

    piece: str
    x: Fraction
    y: Fraction
    across: Fraction
    along: Fraction
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A straight cut: its line runs `direction`, at y (across) or x (along), from `start` to `end`.

    `depth` is its stage (1 strip, 2 sub-cut, 3 trim); what is left beside lengthwise pieces counts from 1 again.
    """

    step: int
    direction: Direction
    at: Fraction
    start: Fraction
    end: Fraction
    depth: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A rectangle of cloth in the tree of cuts: a piece, waste, or cut on into `parts`.

    `parts` lie in order of y where `direction` is ACROSS, else in order of x, and fill the region. `rest` is what
    stays as it is of a length on hand: the last part of the whole, neither waste nor offcut.
    """

    x: Fraction
    y: Fraction
    across: Fraction
    along: Fraction
    depth: int = 0  # stage of the cut that freed it
    piece: Placed | None = None
    direction: Direction | None = None
    parts: tuple[Region, ...] = ()
    rest: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A leftover rectangle worth keeping."""

    x: Fraction
    y: Fraction
    across: Fraction
    along: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Where the pieces of one cloth lie, how they are cut, and what is left.

    `used` is up to the far edge of the last piece with squaring for a bolt or a length, all of a rectangle.
    `tree` is None for a free layout, whose `cuts` are empty too; so is every layout of a cloth with outline or flaws.
    `lay` is the number of the lay of which it is a ply, from 1; of a length on hand that is so many `plies` on end.
    """

    cloth: Cloth
    used: Fraction
    placed: tuple[Placed, ...]
    offcuts: tuple[Offcut, ...]
    tree: Region | None = None
    cuts: tuple[Cut, ...] = ()
    lay: int | None = None
    plies: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """Equal plies of cloth, each of which holds whole kits, to be cut in layers.

    Parameters
    ----------
    kits
        How many each ply holds.
    plies
        How many there are.
    layers
        How many lie on each other at the most.
    layout
        Of one ply; its cloth's `length` is all that a ply takes, and `squaring` what it loses.
    again
        Of that squaring, what it takes to make the end true again between strips.
    """

    kits: int
    plies: int
    layers: int
    layout: Layout
    again: Fraction

    @property
    def times(self) -> int:
        """How often the full layers are cut."""
        return self.plies // self.layers

    @property
    def rest(self) -> int:
        """Layers of the last time, where these are fewer."""
        return self.plies % self.layers

    @property
    def cuts(self) -> int:
        """Cuts through layers in all; of a free layout, pieces that are cut out through layers."""
        each = len(self.layout.cuts) or len(self.layout.placed)
        return each * (self.times + (self.rest > 0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """What the same pieces take where all copies are packed as one, not in layers: as in `FabricPlan`, and cuts."""

    needed: Fraction
    bought: Fraction
    cuts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What stays as it is of a cloth on hand, as it can be cut: all of it, or a length beyond its last piece.

    `ledger` is its short id there, "" where the project lists it itself; `odd` as of its cloth.
    """

    id: str
    ledger: str = ""
    across: Fraction
    along: Fraction
    untouched: bool
    odd: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """The smallest cloth found that would hold the pieces for which there is no place, as it can be cut."""

    across: Fraction
    along: Fraction
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricPlan:
    """The answer for one fabric.

    Parameters
    ----------
    constructions
        What was chosen for parts that are joined or could be made in several ways: part's name, construction's name.
    needed
        Least length found still to buy, squared end to last piece; 0 when the cloth on hand is enough.
    bound
        No layout of the project's style, on the same cloth on hand, can need less.
    bought
        What to buy, as sold: unwashed, in the shop's steps.
    bound_bought
        What `bound` alone would let one buy.
    shrinkage
        Unwashed less washed area of what is taken, beside `area`.
    method
        What found the layout, in plain words.
    cut_short
        The search was ended early, and more of it might have found better.
    looser
        With ever more freedom to cut, where that was looked at: where less might be bought by it.
    left
        What stays of the cloth on hand.
    missing
        Where no more may be bought and the cloth on hand is not enough: what would hold the rest.
    lays
        Where copies are cut in layers: every ply is one of the `layouts`, or part of one on hand.
    together
        Then, what it would take otherwise.
    wishes
        What became of the wishes for it, if there are some.
    """

    fabric: Fabric
    pieces: tuple[Piece, ...]
    constructions: tuple[tuple[str, str], ...]
    usable_width: Fraction
    needed: Fraction
    bound: Fraction
    steps: int
    bought: Fraction
    bound_bought: Fraction
    cost: Decimal | None
    area: Area
    shrinkage: Fraction
    layouts: tuple[Layout, ...]
    proof: Proof
    method: str
    cut_short: bool = False
    looser: tuple[Looser, ...] = ()
    left: tuple[Left, ...] = ()
    missing: Missing | None = None
    lays: tuple[Lay, ...] = ()
    together: Together | None = None
    wishes: Wishes | None = None

    @property
    def shown(self) -> tuple[Layout, ...]:
        """Every layout to be drawn and told once: one ply of each lay, then what is no ply."""
        return (*(lay.layout for lay in self.lays), *(layout for layout in self.layouts if layout.lay is None))

    @property
    def needed_at_least(self) -> Fraction:
        """Length still to buy for the pieces that must be; `needed` may hold spare ones besides."""
        return self.wishes.needed if self.wishes else self.needed

    @property
    def matched(self) -> bool:
        """Whether some pieces are cut to match; then all are laid freely, whatever the project says."""
        return any(piece.phase for piece in self.pieces)

    @property
    def proven(self) -> bool:
        """Whether `needed` is the least."""
        return self.bound == self.needed

    @property
    def bought_proven(self) -> bool:
        """Whether no layout would let less be bought."""
        return self.bound_bought == self.bought

    @property
    def enough(self) -> bool:
        """Whether the cloth on hand does, or more may be bought."""
        return self.needed == 0 or self.fabric.buy


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The answer for a project; `as_new`: the cloth on hand was left out."""

    project: Project
    sizes: Sizes | None
    fabrics: tuple[FabricPlan, ...]
    warnings: tuple[str, ...]
    effort: str
    seed: int
    seconds: float
    as_new: bool = False
