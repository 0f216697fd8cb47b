"""Strips sewn end to end from crosswise cuts: how many, how long each, and the pieces they become.

::

    |<---- usable ---->|<---- usable ---->|<- rest ->|
                    |<>|               |<>|              each join loses `loss`
    |<------------------ run ----------------->|
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from ellwand.errors import NoPlanError
from ellwand.lengths import Notation, round_up
from ellwand.model import Pair, Piece, Role
from ellwand.project.tables import Join, Project
from ellwand.quilt.pieces import strip_width, told

__all__ = [
    "JOIN_WORDS",
    "Splice",
    "Strip",
    "across_cloth",
    "along_cloth",
    "join_loss",
    "joined",
    "merge_equal",
    "splice",
    "spliced_text",
    "split_run",
]

JOIN_WORDS = {Join.DIAGONAL: "join end to end on the diagonal", Join.STRAIGHT: "join end to end, straight across"}
_MOST_PARTS = 200  # of one strip; nobody sews more


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A long strip before it is settled how it is cut.

    Parameters
    ----------
    upright
        Whether it hangs down the quilt, as a side border does, not across it.
    width, run
        Cut size, on the ruler.
    exact
        Its run before rounding.
    join
        How it would be joined.
    loss
        Length that one join takes.
    shortest
        No joined bit is shorter, on the ruler.
    mitre
        Length from each end that its spare, its mitre and a whole join take, on the ruler; 0 without a mitre.
    """

    id: str
    fabric: str
    role: Role
    upright: bool
    width: Fraction
    run: Fraction
    exact: Fraction
    count: int
    finished: Pair | None = None
    why: str
    after: str
    where: str
    join: Join
    loss: Fraction
    shortest: Fraction
    mitre: Fraction = Fraction(0)

    @property
    def least_bit(self) -> Fraction:
        """Least length of a joined bit: none is shorter than the shortest, and no join lies inside a mitre."""
        return max(self.shortest, self.mitre)


def join_loss(join: Join, width: Fraction, seam: Fraction) -> Fraction:
    """Length that one join takes of strips of cut `width`: their width at 45°, two seams when straight."""
    return width if join is Join.DIAGONAL else 2 * seam


@dataclass(frozen=True, slots=True, kw_only=True)
class Splice:
    """A strip that may have to be sewn end to end: its `name` for messages, its `run`, and what its joins ask.

    Parameters
    ----------
    loss
        Length that one join takes.
    join_word
        What a join is called.
    shortest
        No joined bit is shorter.
    """

    name: str
    fabric: str
    run: Fraction
    loss: Fraction
    join_word: str = "join"
    shortest: Fraction = Fraction(0)


def splice(project: Project, strip: Splice) -> tuple[Fraction, ...]:
    """Lengths that `strip` is cut in from the width of its cloth, as :func:`split_run` has it.

    Raises
    ------
    NoPlanError
        A join takes all that a further strip brings, or nearly all; or no strip is as long as the shortest may be.
    """
    width = strip_width(project, strip.fabric)
    fault = _fault(project.notation, strip, width) if strip.run > width else ""
    if fault:
        raise NoPlanError(
            where=f"{project.source}: {strip.name}",
            found=f"{fault}, and {strip.fabric} can be used for {project.notation.show(width)}",
            wanted=f"{project.notation.show(strip.run - width)} missing",
            hint=_way_out(strip, width),
        )
    return split_run(strip.run, usable=width, loss=strip.loss, shortest=strip.shortest, ruler=project.ruler)


def _fault(notation: Notation, strip: Splice, width: Fraction) -> str:
    """Why `strip` cannot be sewn from cloth of usable `width`, or nothing."""
    if width <= strip.loss:
        return f"a {strip.join_word} takes {notation.show(strip.loss)}"
    if width < strip.shortest:
        return f"no bit of it may be shorter than {notation.show(strip.shortest)}"
    number = ceil((strip.run - strip.loss) / (width - strip.loss))
    if number > _MOST_PARTS:
        return f"it would take {number} parts, a {strip.join_word} of {notation.show(strip.loss)} between each two"
    return ""


def _way_out(strip: Splice, width: Fraction) -> str:
    if strip.loss < width < strip.shortest:
        return "Lower shortest, or take a wider cloth"
    if strip.join_word in ("seam", "overlap"):
        return f"Take a wider cloth, or a smaller {strip.join_word}"
    return 'Try join = "straight", or a wider cloth'


def split_run(
    run: Fraction, *, usable: Fraction, loss: Fraction, shortest: Fraction = Fraction(0), ruler: Fraction
) -> tuple[Fraction, ...]:
    """Lengths of the fewest strips that make up `run`: full ones of `usable`, then the rest.

    n strips reach n·usable − (n − 1)·loss. The rest is rounded up to the `ruler` and, where there is a join, is no
    shorter than `shortest` (a longer strip is welcome). Empty where a join loses all that a further strip brings.

    Examples
    --------
    >>> lengths = split_run(Fraction(104), usable=Fraction(42), loss=Fraction(5), ruler=Fraction(1, 8))
    >>> [str(length) for length in lengths]
    ['42', '42', '30']
    """
    if run <= usable:
        return (round_up(run, ruler),)
    if usable <= loss:
        return ()
    full = ceil((run - loss) / (usable - loss)) - 1
    rest = run - full * (usable - loss)
    return *(usable for _ in range(full)), min(usable, round_up(max(rest, shortest), ruler))


def along_cloth(strip: Strip, *, turnable: bool) -> Piece:
    """`strip` whole, its run along the selvage."""
    return _piece(strip, strip.width, strip.run, turnable=turnable)


def across_cloth(strip: Strip, *, turnable: bool) -> Piece:
    """`strip` whole, its run from selvage to selvage."""
    return _piece(strip, strip.run, strip.width, turnable=turnable)


def _piece(strip: Strip, across: Fraction, along: Fraction, *, turnable: bool) -> Piece:
    return Piece(
        id=strip.id,
        fabric=strip.fabric,
        role=strip.role,
        across=across,
        along=along,
        count=strip.count,
        turnable=turnable,
        finished=strip.finished,
        why=strip.why,
        after=strip.after,
        where=strip.where,
    )


def joined(
    strip: Strip, lengths: tuple[Fraction, ...], notation: Notation, *, full: Fraction, rest: str = "the rest"
) -> tuple[Piece, ...]:
    """The pieces that `strip` is joined from, one for each of `lengths`, cut from selvage to selvage.

    A bit as long as `full` is told to be a full width, others to be the `rest`.
    """
    first = f"{strip.why}; {spliced_text(lengths, strip.loss, 'joins', notation)}"
    return tuple(
        Piece(
            id=f"{strip.id}/{number}",
            fabric=strip.fabric,
            role=strip.role,
            across=length,
            along=strip.width,
            count=strip.count,
            turnable=False,
            why=first if number == 1 else _bit_why(strip, length, full, notation, rest),
            after="; ".join(filter(None, (JOIN_WORDS[strip.join], strip.after))),
            where=strip.where,
        )
        for number, length in enumerate(lengths, 1)
    )


def _bit_why(strip: Strip, length: Fraction, full: Fraction, notation: Notation, rest: str) -> str:
    """Why a further bit of `strip` is so long; its least length may be for its mitre's sake."""
    first = f"{strip.id}/1"
    if length == strip.least_bit > strip.shortest:
        return f"as {first}; so long that the join stays out of the mitre, {notation.show(length)}"
    return _further(first, length, full, strip.least_bit, notation, rest)


def spliced_text(lengths: tuple[Fraction, ...], loss: Fraction, losers: str, notation: Notation) -> str:
    """How joined `lengths` reach what they reach: ``2 × 42 + 30 less 2 × 5 for joins = 104 in``."""
    joins = len(lengths) - 1
    reach = sum(lengths) - joins * loss
    bits = " + ".join(_bits(lengths, notation))
    less = f" less {joins} × {notation.bare(loss)} for {losers}" if loss else ""
    return told(f"{bits}{less}", notation.show(reach))


def _bits(lengths: tuple[Fraction, ...], notation: Notation) -> list[str]:
    """Equal strips as one product."""
    counts = Counter(lengths)
    return [
        notation.bare(length) if count == 1 else f"{count} × {notation.bare(length)}"
        for length, count in counts.items()
    ]


def _further(
    first: str, length: Fraction, full: Fraction, shortest: Fraction, notation: Notation, rest: str = "the rest"
) -> str:
    """Why a further bit is so long, where the piece `first` tells the whole sum."""
    reason = {shortest: "the shortest bit allowed", full: "a full width"}.get(length, rest)
    return f"as {first}; {reason}, {notation.show(length)}"


def merge_equal(
    piece: Piece,
    lengths: tuple[Fraction, ...],
    notation: Notation,
    shortest: Fraction = Fraction(0),
    rest: str = "the rest",
) -> tuple[Piece, ...]:
    """`piece` once for each different one of `lengths` (its `across`), numbered and counted.

    Its sum is told once; `shortest` is the least of `lengths` that is allowed, on the ruler, `rest` what other lengths
    are told to be.
    """
    different = dict.fromkeys(lengths)
    return tuple(
        replace(
            piece,
            id=f"{piece.id}/{number}",
            across=length,
            count=piece.count * lengths.count(length),
            why=piece.why if number == 1 else _further(f"{piece.id}/1", length, lengths[0], shortest, notation, rest),
        )
        for number, length in enumerate(different, 1)
    )
