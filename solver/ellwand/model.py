"""The nouns between a project and its plan: pieces, cloths, layouts. Inches, exact, nothing ever changed.

On cloth, x and `across` run across the width from the left selvage's inner edge, y and `along` run along
the selvage from the squared end.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from ellwand.project.tables import Fabric, Matched, Polygon, Project
from ellwand.proof import Proof

__all__ = [
    "Area", "Cloth", "Construction", "Cut", "Direction", "FabricPlan", "Layout", "Left", "Missing", "Offcut",
    "Part", "Piece", "Placed", "Plan", "Quilt", "Region", "Role", "Run", "Sizes", "Source",
]  # fmt: skip

Pair = tuple[Fraction, Fraction]


class Role(Enum):
    """What a piece is in the quilt; sheets group and advise by it."""

    BLOCK = "block"
    SASHING = "sashing"
    TRIANGLE = "triangle"
    BORDER = "border"
    BINDING = "binding"
    BACKING = "backing"
    BATTING = "batting"
    STABILISER = "stabiliser"
    SLEEVE = "sleeve"
    LOOSE = "piece"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One kind of cut shape and how many of it.

    Parameters
    ----------
    id
        ``block/piece``, ``inner/top``, ``binding/1`` …
    across, along
        Cut size as it lies on the cloth unturned, on the ruler.
    count
        With `copies`.
    turnable
        Whether it may lie a quarter turned.
    finished
        Size in the finished quilt, across × down, where it has one.
    why
        The sum that gave the cut size, as one line of text.
    after
        What is done with it after cutting ("trim to 9 × 9 in after stitching"), or "".
    where
        Its place in the quilt ("left side of border outer", "2 in each block lantern"), or "".
    phase
        Where in the repeat of the print its lower left corner lies, across and along; None in a direction in which,
        or altogether where, it may lie anywhere.
    """

    id: str
    fabric: str
    role: Role
    across: Fraction
    along: Fraction
    count: int
    turnable: bool
    finished: Pair | None = None
    why: str
    after: str = ""
    where: str = ""
    phase: Matched | None = None
    open_form: bool = False  # how it is cut is chosen later: `along` is its run, `across` its width


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """One way to make a part: its name ("lengthwise", "crosswise, joined"), its joins in all, its pieces."""

    name: str
    joins: int
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A strip that may be joined from bits of any lengths, cut either way of the cloth.

    Parameters
    ----------
    width, length
        Cut width of its bits, and what they must reach once they are joined.
    loss
        Length that one join takes.
    shortest
        No joined bit is shorter, on the ruler.
    pieces
        What is cut for bits of such lengths, the longest first.
    """

    width: Fraction
    length: Fraction
    loss: Fraction
    shortest: Fraction
    pieces: Callable[[tuple[Fraction, ...]], tuple[Piece, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of the quilt from one fabric, with every way it may be made (at least one).

    `pieces` is how the part stands before a way is chosen: the only way's pieces, or whole strips in open form.
    `run` is there where besides it may be joined from bits of any lengths.
    """

    name: str
    fabric: str
    options: tuple[Construction, ...]
    pieces: tuple[Piece, ...]
    run: Run | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """The quilt's sizes on the way, across × down: sewn centre, inside the binding's seam, raw edge, bound."""

    centre: Pair
    finished: Pair
    raw: Pair
    bound: Pair


@dataclass(frozen=True, slots=True, kw_only=True)
class Quilt:
    """All parts of a project, the sizes on the way (None without a quilt), and warnings, a sentence each."""

    sizes: Sizes | None
    parts: tuple[Part, ...]
    warnings: tuple[str, ...] = ()


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
    outline, flaws
        Edge of an odd shape, None for a rectangle; what must not be used. Corners are counted as places are.
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
    outline: Polygon | None = None
    flaws: tuple[Polygon, ...] = ()

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


class Direction(Enum):
    """Direction of a straight cut."""

    ACROSS = "across"  # from selvage to selvage, at one y
    ALONG = "along"  # along the selvage, at one x


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
    """

    cloth: Cloth
    used: Fraction
    placed: tuple[Placed, ...]
    offcuts: tuple[Offcut, ...]
    tree: Region | None = None
    cuts: tuple[Cut, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What stays as it is of a cloth on hand, as it can be cut: all of it, or a length beyond its last piece."""

    id: str
    across: Fraction
    along: Fraction
    untouched: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """The smallest cloth found that would hold the pieces for which there is no place, as it can be cut."""

    across: Fraction
    along: Fraction
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """Where the taken cloth went, square inches, exact."""

    pieces: Fraction
    offcuts: Fraction
    scrap: Fraction
    selvage: Fraction
    squaring: Fraction
    rounding: Fraction  # bought beyond what is needed

    @property
    def taken(self) -> Fraction:
        """All cloth taken."""
        return self.pieces + self.offcuts + self.scrap + self.selvage + self.squaring + self.rounding

    @property
    def waste_percent(self) -> Decimal:
        """Scrap, selvage and squaring as a share of `taken`, to 0.1 %."""
        lost = self.scrap + self.selvage + self.squaring
        share = 1000 * lost / self.taken if self.taken else Fraction(0)
        return Decimal(round(share)).scaleb(-1)


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
    left
        What stays of the cloth on hand.
    missing
        Where no more may be bought and the cloth on hand is not enough: what would hold the rest.
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
    left: tuple[Left, ...] = ()
    missing: Missing | None = None

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
