"""The nouns of what is cut: pieces, the ways to make a part of them, the quilt. Inches, exact, nothing ever changed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction

from ellwand.project.tables import Matched

__all__ = [
    "Construction", "Direction", "Pair", "Part", "Piece", "Quilt", "Role", "Run", "Sizes", "kept_id", "spare_id",
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
    spare
        So many more are wished for, where the cloth has room for them.
    is_spare
        It is one of those, placed besides.
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
    spare: int = 0
    is_spare: bool = False
    open_form: bool = False  # how it is cut is chosen later: `along` is its run, `across` its width


def spare_id(piece: str) -> str:
    """What the spare pieces of a kind are called."""
    return f"{piece}/spare"


def kept_id(fabric: str) -> str:
    """What the rectangle is called that is kept back of a fabric."""
    return f"kept back/{fabric}"


class Direction(Enum):
    """Direction of a straight cut."""

    ACROSS = "across"  # from selvage to selvage, at one y
    ALONG = "along"  # along the selvage, at one x


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A strip that may be joined from bits of any lengths.

    Parameters
    ----------
    width, length
        Cut width of its bits, and what they must reach once they are joined.
    loss
        Length that one join takes.
    shortest
        No joined bit is shorter, on the ruler.
    ways
        How its bits may lie on the cloth: their length across it, along it, or either.
    mitre
        Length from each end in which no join may lie, where it is pinned from its middle; 0 for none.
    most_joins
        As many are allowed; None: any number.
    pieces
        What is cut for bits of such lengths, the longest first.
    """

    width: Fraction
    length: Fraction
    loss: Fraction
    shortest: Fraction
    ways: tuple[Direction, ...] = tuple(Direction)
    mitre: Fraction = Fraction(0)
    most_joins: int | None = None
    pieces: Callable[[tuple[Fraction, ...]], tuple[Piece, ...]] = field(compare=False)

    def over(self, lengths: Sequence[Fraction]) -> Fraction:
        """What joined bits of `lengths` reach beyond the run."""
        return sum(lengths) - (len(lengths) - 1) * self.loss - self.length

    def allows(self, lengths: Sequence[Fraction]) -> bool:
        """Whether bits of `lengths` reach, none is too short, no join is in a mitre, and there are not too many.

        What they are longer than the run lies half at each end.
        """
        over, joins = self.over(lengths), len(lengths) - 1
        return (
            over >= 0
            and (not joins or min(lengths) >= max(self.shortest, self.mitre + over / 2 if self.mitre else 0))
            and (self.most_joins is None or joins <= self.most_joins)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """One way to make a part.

    Parameters
    ----------
    name
        "lengthwise", "crosswise, joined" …
    joins
        In all.
    runs
        Those of its strips that may besides be joined from bits of any lengths; all its joins are in these.
    bits
        Lengths in which this way cuts each of the `runs`.
    fixed
        Its other pieces, where there are `runs`.
    fitted
        What it is called once the bits of its runs are of other lengths; ``{}`` stands for how many strips these are.
    at_length
        Whether its runs are fitted with the most effort only: few gain by it, and it takes long.
    """

    name: str
    joins: int
    pieces: tuple[Piece, ...]
    runs: tuple[Run, ...] = ()
    bits: tuple[tuple[Fraction, ...], ...] = ()
    fixed: tuple[Piece, ...] = ()
    fitted: str = ""
    at_length: bool = False

    @property
    def others(self) -> tuple[Piece, ...]:
        """All pieces but those of its runs."""
        return self.fixed if self.runs else self.pieces


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of the quilt from one fabric, with every way it may be made (at least one).

    `pieces` is how the part stands before a way is chosen: the only way's pieces, or whole strips in open form.
    """

    name: str
    fabric: str
    options: tuple[Construction, ...]
    pieces: tuple[Piece, ...]


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
