"""The nouns of a project file's fabrics and of the cloth on hand in them, all lengths in inches and exact."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

__all__ = ["Fabric", "OnHand", "Polygon", "Shelf", "Stocked", "Way"]

Polygon = tuple[tuple[Fraction, Fraction], ...]  # corners in their order round the edge, the first not repeated


class Way(Enum):
    """What a fabric's print or nap allows."""

    ANY = "any"
    ONE_WAY = "one-way"  # neither turned nor upside down
    STRIPE = "stripe"  # may lie upside down, not turned


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """Cloth on hand, as measured: without `width` a length of the full width, else a rectangle or an odd shape.

    An odd shape has an `outline`, as wide and long as `width` and `length`. Corners of it and of flaws are measured
    from the left edge of what can be used and from the squared end. `full_width` is a length's own, selvage to
    selvage; None: its fabric's. `ledger` is its short id there, "" where the project lists it itself; `lot` is the dye
    lot, "" where it is not told.
    """

    length: Fraction  # along the selvage
    width: Fraction | None = None
    count: int = 1
    selvages: int  # how many of its edges are selvage
    washed: bool
    square_up: Fraction  # lost in all
    outline: Polygon | None = None
    flaws: tuple[Polygon, ...] = ()
    full_width: Fraction | None = None
    ledger: str = ""
    lot: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stocked:
    """What holds of a fabric where a project's table says nothing: what is usual, or what the ledger says of it.

    Parameters
    ----------
    ledger
        Its name in the ledger; "" for a fabric that does not draw on it.
    width
        None: the table must say it.
    price
        Of an inch.
    cloths
        Those of the ledger, as measured; lengths among them are not squared up yet.
    """

    ledger: str = ""
    note: str = ""
    width: Fraction | None = None
    selvage: Fraction
    way: Way = Way.ANY
    repeat: tuple[Fraction, Fraction] | None = None
    shrinks: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    sold_by: Fraction
    price: Fraction | None = None
    cloths: tuple[OnHand, ...] = ()


Shelf = Callable[[], Mapping[str, Stocked]]  # the fabrics of a ledger by name, looked up when somebody asks for one


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric:
    """A fabric (``[fabric.NAME]``); `width` selvage to selvage as measured, before washing."""

    id: str
    note: str = ""  # the key is `is`
    width: Fraction
    selvage: Fraction
    way: Way = Way.ANY
    woven: bool = True  # False: batting, stabiliser, film – no grain
    wash: bool = False
    shrinks: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))  # lengthwise, crosswise
    square_up: Fraction
    square_up_ends: int = 1
    sold_by: Fraction
    price: Fraction | None = None  # for a yard, or a metre in centimetre projects
    on_hand: tuple[OnHand, ...] = ()
    buy: bool = True
    bolt: Fraction | None = None  # as sold, what can be bought in one length; None: as much as is wanted
    repeat: tuple[Fraction, Fraction] | None = None  # of the print as it is cut, across and along; 0: none there
    ledger: str = ""  # its name in the ledger, where it draws on that
    any_of: tuple[str, ...] = ()  # a mix: the fabrics of which each of its pieces may come; all else as the widest's
    whole_blocks: bool = False  # a mix: its pieces of one block come from one fabric
    spare: Fraction = Fraction(0)  # share of what is needed that is bought beyond it
    keep_back: tuple[Fraction, Fraction] | None = (
        None  # a rectangle kept for label and repair, if the cloth has it left
    )
    supposed: bool = False  # not in the file: `on_hand` is what somebody supposes, in place of what the file lists
    same_cloth: bool = False  # all its pieces come from one cloth, or one dye lot
    only: tuple[int, ...] | None = None  # not in the file: numbers of the cloths on hand that are used; None: all
    strips: Fraction | None = None  # not in the file: width joined strips and panels are cut to; None: the usable width

    @property
    def washed_width(self) -> Fraction:
        """Selvage to selvage as it is cut: washed, where it is washed at all."""
        return self.width * (1 - self.shrinks[1]) if self.wash else self.width

    @property
    def between_selvages(self) -> Fraction:
        """Width inside the selvages as it is cut, exact."""
        return self.washed_width - 2 * self.selvage
