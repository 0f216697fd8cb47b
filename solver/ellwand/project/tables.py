"""The nouns of a project file, one class a table, all lengths in inches and exact.

They hold what the user asked for, checked and with defaults filled in; what follows from it is worked
out in :mod:`ellwand.quilt`. Pairs are across × down as the thing hangs in the quilt.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.project.clothtables import Fabric, OnHand, Polygon, Shelf, Stocked, Way
from ellwand.project.kits import USUAL_KITS, Kits

__all__ = [
    "Backing", "Batting", "Binding", "Block", "BlockPiece", "Border", "Corners", "Cut", "Fabric", "Grain", "Join",
    "Kits", "LoosePiece", "Margins", "Matched", "Mixed", "Mixing", "OnHand", "Panels", "Patch", "PatchShape",
    "Polygon", "Project", "Sashing", "Setting", "Share", "Shelf", "Sleeve", "Stabiliser", "Stocked", "StripGrain",
    "Style", "Taken", "Way",
]  # fmt: skip


Matched = tuple[Fraction | None, Fraction | None]  # across, along; None: anywhere
Share = tuple[int, int]  # so many of so many, in all blocks of a kind together


class Style(Enum):
    """How pieces are cut out of the cloth."""

    ROTARY = "rotary"  # straight cuts, each from edge to edge of what lies on the mat
    FREE = "free"  # any arrangement, cut with scissors


class Grain(Enum):
    """How a piece lies on the grain; its down side is meant where it does not say otherwise."""

    LENGTHWISE = "lengthwise"
    CROSSWISE = "crosswise"
    EITHER = "either"


class Corners(Enum):
    """How a border's corners are made."""

    MITRED = "mitred"
    BUTTED = "butted"
    CORNERSTONES = "cornerstones"  # a square of cloth in each corner


class Cut(Enum):
    """Which way a border's strips are cut from the cloth."""

    LENGTHWISE = "lengthwise"
    CROSSWISE = "crosswise"
    BEST = "best"


class Panels(Enum):
    """Which way a backing's panels hang, and with them the seams between their selvages."""

    LENGTHWISE = "lengthwise"  # down the quilt
    CROSSWISE = "crosswise"  # across it
    BEST = "best"


class StripGrain(Enum):
    """How binding strips lie on the grain."""

    CROSSWISE = "crosswise"
    LENGTHWISE = "lengthwise"
    BIAS = "bias"  # at 45 degrees, cut from squares
    ANY = "any"  # crosswise or lengthwise, of any length from the shortest up


class PatchShape(Enum):
    """What a pieced patch is, and with it how it is cut."""

    SQUARE = "square"
    RECTANGLE = "rectangle"
    HALF_SQUARE = "half-square"  # triangles of which two make a square
    QUARTER_SQUARE = "quarter-square"  # triangles of which four make a square
    GEESE = "geese"  # flying geese, four at a time: one large square and four small ones


class Join(Enum):
    """How two strips are sewn end to end."""

    DIAGONAL = "diagonal"  # loses the strip's cut width
    STRAIGHT = "straight"  # loses two seams


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """What a piece has beyond what it covers, on each side."""

    top: Fraction
    right: Fraction
    bottom: Fraction
    left: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockPiece:
    """One layer of a block (``[[block.piece]]``); `phase` is where in the print's repeat its lower left corner lies.

    Exactly one of `covers` (share of the stitched size), `size` (stitched) and `cut` is given.
    """

    name: str
    fabric: str
    covers: tuple[Fraction, Fraction] | None = None
    size: tuple[Fraction, Fraction] | None = None
    cut: tuple[Fraction, Fraction] | None = None
    margins: Margins
    count: int = 1
    grain: Grain | None = None  # None: the default of its fabric's way
    turned: bool = False
    phase: Matched | None = None
    spare: int = 0  # so many more are wished for, in all
    share: Share | None = None  # not in the file: where several fabrics give it, what this one gives


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A pieced patch of a block (``[[block.piece]]`` with `patch`).

    Parameters
    ----------
    finished
        Of the patch, across × down: of triangles, the square that two or four of them make.
    seam
        On all its edges.
    count
        Patches in one block.
    yields
        Patches that one cut square gives.
    sky
        Of geese, the fabric of the small triangles.
    share
        Not in the file: where several fabrics give it, what this one gives, in cut pieces.
    """

    name: str
    fabric: str
    shape: PatchShape
    finished: tuple[Fraction, Fraction]
    seam: Fraction
    count: int = 1
    yields: int = 1
    grain: Grain | None = None
    sky: str | None = None
    spare: int = 0  # patches wished for besides, in all
    share: Share | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A kind of block (``[[block]]``); finished is seam line to seam line."""

    name: str
    count: int
    finished: tuple[Fraction, Fraction]
    seam: Fraction
    trim: Fraction
    hoop: tuple[Fraction, Fraction] | None = None
    frame: tuple[Fraction, Fraction] | None = None
    hoopings: int = 1
    pieces: tuple[BlockPiece, ...] = ()
    patches: tuple[Patch, ...] = ()

    @property
    def hooped(self) -> bool:
        """Whether it is stitched in a hoop, as far as the file tells."""
        return self.hoop is not None or self.frame is not None

    @property
    def stitched(self) -> tuple[Fraction, Fraction]:
        """Size to its stitched edge: finished + 2·seam − 2·trim."""
        across, down = (side + 2 * self.seam - 2 * self.trim for side in self.finished)
        return across, down

    @property
    def trimmed(self) -> tuple[Fraction, Fraction]:
        """Size to which it is trimmed after stitching: finished + 2·seam."""
        across, down = (side + 2 * self.seam for side in self.finished)
        return across, down


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How blocks are set (``[quilt]``): across × down, straight or on their points.

    On point there are (across − 1) × (down − 1) more between them, and `triangles` is the fabric that fills the edge.
    `measured` is the sewn centre as measured, from seam line to seam line.
    """

    across: int
    down: int
    on_point: bool = False
    triangles: str | None = None
    measured: tuple[Fraction, Fraction] | None = None

    @property
    def blocks(self) -> int:
        """How many blocks fill it."""
        between = (self.across - 1) * (self.down - 1) if self.on_point else 0
        return self.across * self.down + between


@dataclass(frozen=True, slots=True, kw_only=True)
class Sashing:
    """Strips between the blocks (``[sashing]``); `width` is finished.

    Without `cornerstones`, a fabric, the strips between rows run through. `outside`: there are some round the edge too.
    """

    width: Fraction
    fabric: str
    cornerstones: str | None = None
    outside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Stabiliser:
    """Sheets for hooping (``[stabiliser]``), one a hooping and layer.

    `overlap` is what joined sheets lie on each other; None: a sheet is never joined.
    """

    fabric: str
    margin: Fraction
    layers: int = 1
    overlap: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LoosePiece:
    """A piece that the quilt does not explain (``[[piece]]``); `cut` is across × down."""

    name: str
    fabric: str
    cut: tuple[Fraction, Fraction]
    count: int
    grain: Grain | None = None
    phase: Matched | None = None
    spare: int = 0  # so many more are wished for, whatever the copies


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """A border (``[[border]]``), from the inside out; `width` is finished, `extra` in all on each strip."""

    name: str
    width: Fraction
    fabric: str
    corners: Corners
    seam: Fraction  # of its inner line
    cut: Cut
    join: Join
    shortest: Fraction
    joins: int | None  # most joins in one strip; None: as few as the width needs
    extra: Fraction
    sewn_together: bool = False  # with the border inside it, before mitring
    cornerstones: str | None = None  # the fabric of its corners; None: its own


@dataclass(frozen=True, slots=True, kw_only=True)
class Binding:
    """The binding (``[binding]``); `extra` in all on the run."""

    fabric: str
    strip: Fraction
    seam: Fraction
    extra: Fraction
    join: Join
    shortest: Fraction
    grain: StripGrain = StripGrain.CROSSWISE


@dataclass(frozen=True, slots=True, kw_only=True)
class Backing:
    """The backing (``[backing]``); `overhang` beyond the raw edge on each side."""

    fabric: str
    overhang: Fraction
    seam: Fraction
    panels: Panels


@dataclass(frozen=True, slots=True, kw_only=True)
class Batting:
    """The batting (``[batting]``); `under` is all, borders or none."""

    fabric: str
    overhang: Fraction
    under: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sleeve:
    """The sleeve to hang a quilt by (``[sleeve]``): finished `depth`, `seam` along it, `extra` beyond the edge."""

    fabric: str
    depth: Fraction
    seam: Fraction
    extra: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """How many of something one fabric gives, in one quilt: of a kind of block (`blocks`), of a piece, or 1 for all."""

    name: str
    fabric: str
    count: int
    blocks: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixed:
    """What came of a mix: which fabric took what."""

    mix: Fabric
    taken: tuple[Taken, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixing:
    """What came of all mixes of a project.

    `least` is what the fabrics that they name cannot go below together, however the pieces are divided: what these
    cost where all that may be bought have a price (`priced`), else inches as sold.
    """

    mixes: tuple[Mixed, ...]
    fabrics: tuple[str, ...]
    priced: bool
    least: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A whole project file, checked.

    `source` is the file's name, for messages. `fabrics` holds only fabrics, by their id, in the file's order.
    `sizes` are the same design in other sizes, each a project of its own; `size` is the name of such a one, else "".
    Once it is settled what is cut of which fabric, `fabrics` has no mixes, and `mixing` says what came of them.
    """

    source: str
    name: str
    unit: str  # "in" or "cm"
    ruler: Fraction
    seam: Fraction
    style: Style
    stages: int | None  # None: any number
    keep: Fraction
    copies: int
    kits: Kits = USUAL_KITS
    setting: Setting | None
    blocks: tuple[Block, ...]
    sashing: Sashing | None = None
    stabiliser: Stabiliser | None
    pieces: tuple[LoosePiece, ...]
    borders: tuple[Border, ...]
    binding: Binding | None
    backing: Backing | None
    batting: Batting | None
    sleeve: Sleeve | None = None
    fabrics: Mapping[str, Fabric]
    size: str = ""
    sizes: tuple[Project, ...] = ()
    mixing: Mixing | None = None

    @property
    def notation(self) -> Notation:
        """How this project's lengths are shown."""
        return Notation(self.unit)
