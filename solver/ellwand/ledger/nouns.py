"""The nouns of the ledger: fabrics and cloths that somebody owns, and what became of them.

All lengths are inches and exact. Across runs from selvage to selvage, along runs along the selvage, as everywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum
from fractions import Fraction

from ellwand.model import Offcut, Pair
from ellwand.project.tables import Polygon, Way

__all__ = [
    "BoughtCloth", "Entry", "FabricTaking", "Find", "Kind", "OwnedCloth", "OwnedFabric", "Selvage", "TakenCloth",
    "Taking", "Used",
]  # fmt: skip


class Kind(Enum):
    """What a cloth is, and with it how it is taken from."""

    LENGTH = "length"  # of the full width, cut from its end; the rest stays
    RECTANGLE = "rectangle"  # a fat quarter, an offcut: taken whole
    ODD = "odd"  # has an outline; taken whole


class Selvage(Enum):
    """Which edge of a cloth is selvage, its along side standing upright."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnedFabric:
    """A fabric in the ledger.

    Parameters
    ----------
    name
        Its own in the ledger.
    fibre
        What it is made of, in the owner's words.
    colours
        Words to find it by, in small letters.
    width, selvage
        Selvage to selvage as measured, before washing; what is lost at each edge.
    repeat
        After how much its print begins again, across and along; 0 where it does not.
    shrinks
        Shares lost in washing, lengthwise and crosswise.
    price, priced_by
        Of one `priced_by` of it, ``yd`` or ``m``.
    sold_by
        The shop's step.
    picture
        Path of a picture, or "".
    """

    name: str
    fibre: str = ""
    colours: tuple[str, ...] = ()
    width: Fraction
    selvage: Fraction = Fraction(1, 2)
    way: Way = Way.ANY
    repeat: Pair | None = None
    shrinks: Pair = (Fraction(0), Fraction(0))
    price: Fraction | None = None
    priced_by: str = "yd"
    sold_by: Fraction = Fraction(9, 2)
    picture: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnedCloth:
    """A cloth in the ledger, or `count` alike, as measured.

    Parameters
    ----------
    id
        Its short id, to pin on it; "" until the ledger gives it one.
    fabric
        Name of its fabric in the ledger.
    across, along
        Its size with all that is on it; of an odd shape how far its outline reaches.
    outline, flaws
        Corners as in a project's cloth on hand: from the left edge of what can be used and from the squared end.
    washed
        Whether it was measured after washing.
    lot
        Dye lot, or "".
    selvages, trimmed
        Which edges are selvage, and whether the selvage is cut off there, so that `across` is without it; an outline
        leaves it outside in any case.
    place
        Where it is kept.
    since
        When it came, if known.
    """

    id: str = ""
    fabric: str
    kind: Kind
    across: Fraction
    along: Fraction
    outline: Polygon | None = None
    flaws: tuple[Polygon, ...] = ()
    count: int = 1
    washed: bool = False
    lot: str = ""
    selvages: tuple[Selvage, ...] = ()
    trimmed: bool = False
    place: str = ""
    since: date | None = None
    note: str = ""

    @property
    def selvages_to_lose(self) -> int:
        """How many edges still have a selvage that `across` counts in; an outline leaves selvages outside."""
        return 0 if self.trimmed or self.outline else len(self.selvages)


@dataclass(frozen=True, slots=True, kw_only=True)
class Find:
    """Which cloths are asked for; what is None does not matter.

    Parameters
    ----------
    fabric
        A fabric's name.
    at_least
        A rectangle of this size, across and along, fits on it; either way round, unless its fabric's print has a way.
    colour
        Colour words, all of which its fabric has.
    """

    fabric: str | None = None
    at_least: Pair | None = None
    colour: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenCloth:
    """A cloth of the ledger that a plan cuts, in the plan's sizes: washed.

    Parameters
    ----------
    id
        Its short id in the ledger.
    width, length
        The whole cloth as the plan found it.
    across
        What can be used of the width.
    used
        Length that is used up, squaring and all; all of it where it is taken whole.
    squaring
        Of `used`, what squaring takes.
    """

    id: str
    width: Fraction
    length: Fraction
    across: Fraction
    used: Fraction
    squaring: Fraction
    whole: bool
    outline: Polygon | None
    flaws: tuple[Polygon, ...]
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtCloth:
    """Cloth that a plan buys, washed: its full `width`, what is usable `across`, `rest` beyond need, its offcuts."""

    width: Fraction
    across: Fraction
    rest: Fraction
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricTaking:
    """What a plan takes of one fabric.

    Parameters
    ----------
    fabric
        Its name in the plan.
    name
        The name of its fabric in the ledger.
    digest
        Tells this fabric's plan from every other.
    shrinks
        Shares lost in washing before cutting, lengthwise and crosswise; 0 where it is not washed.
    """

    fabric: str
    name: str
    digest: str
    shrinks: Pair
    taken: tuple[TakenCloth, ...]
    bought: tuple[BoughtCloth, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """What a plan takes out of the ledger and puts back into it.

    `exact` is how near (inches) the plan's lengths are to those in the ledger; `keep` the shortest side worth keeping.
    """

    project: str
    unit: str
    keep: Fraction
    exact: Fraction
    fabrics: tuple[FabricTaking, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """What `use` did: the ids of cloths that are gone, that are shorter or fewer now, and the new cloths."""

    gone: tuple[str, ...]
    less: tuple[str, ...]
    new: tuple[OwnedCloth, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A line of the history: what was done, when (UTC), and when it was undone, if it was."""

    number: int
    at: datetime
    act: str
    summary: str
    undone: datetime | None
