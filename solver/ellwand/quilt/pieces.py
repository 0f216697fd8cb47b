"""What the pieces of every part have in common: sizes on the ruler, the lie on the grain, and whether they fit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ellwand.cloths import usable_width
from ellwand.errors import NoPlanError
from ellwand.lengths import Notation, round_down, round_up
from ellwand.model import Construction, Pair, Part, Piece
from ellwand.project.tables import Block, Fabric, Grain, Matched, Project, Share, Way

__all__ = [
    "Lie",
    "cloth_word",
    "cut_size",
    "grow",
    "in_blocks",
    "lie",
    "matched_text",
    "part_in_one_way",
    "part_of",
    "require_fit",
    "size_text",
    "strip_width",
    "sum_text",
    "sums_text",
    "told",
    "usable",
]


HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How a piece lies on its cloth: its sides, and whether it may be turned."""

    across: Fraction
    along: Fraction
    turnable: bool


def lie(fabric: Fabric, size: Pair, grain: Grain | None, *, matched: bool = False) -> Lie:
    """How a piece of `size` (across × down as it hangs) lies on `fabric`.

    Cloth without grain lets every piece turn; one-way and striped cloth keeps each as it hangs, and so does a print
    that is to be `matched`.
    """
    across, down = size
    free = fabric.way is Way.ANY
    if matched and grain is not Grain.CROSSWISE:
        return Lie(across=across, along=down, turnable=False)
    if not fabric.woven or (free and grain in (None, Grain.EITHER)):
        return Lie(across=across, along=down, turnable=True)
    if free and grain is Grain.CROSSWISE:
        return Lie(across=down, along=across, turnable=False)
    return Lie(across=across, along=down, turnable=False)


def grow(size: Pair, each_side: Fraction) -> Pair:
    """`size` with `each_side` more on all four sides."""
    return size[0] + 2 * each_side, size[1] + 2 * each_side


def cut_size(size: Pair, ruler: Fraction) -> Pair:
    """`size` up to the ruler: the only place of rounding, after all adding and multiplying."""
    return round_up(size[0], ruler), round_up(size[1], ruler)


def usable(project: Project, fabric: str) -> Fraction:
    """Usable width of the project's `fabric` as it is bought."""
    return usable_width(project.fabrics[fabric], project.ruler)


def strip_width(project: Project, fabric: str) -> Fraction:
    """Width of cloth to which joined strips and panels are cut: all that can be used, or as a narrower cloth has it."""
    return project.fabrics[fabric].strips or usable(project, fabric)


def part_of(piece: Piece) -> Part:
    """The part that is one piece, cut as it stands."""
    return part_in_one_way(piece.id, Construction(name="whole", joins=0, pieces=(piece,)))


def part_in_one_way(name: str, construction: Construction) -> Part:
    """The part that can be made in one way only."""
    fabric = construction.pieces[0].fabric
    return Part(name=name, fabric=fabric, options=(construction,), pieces=construction.pieces)


def require_fit(project: Project, piece: Piece) -> Piece:
    """`piece`, if cloth of its fabric can hold it.

    Raises
    ------
    NoPlanError
        It is wider than the cloth to buy can be used for (a wider cloth on hand does not count).
    """
    fabric = project.fabrics[piece.fabric]
    width = usable(project, piece.fabric)
    narrowest = min(piece.across, piece.along) if piece.turnable else piece.across
    if narrowest <= width:
        return _require_match(project, piece, width)
    show = project.notation.show
    wider = any(entry.width is not None and entry.width > width for entry in fabric.on_hand)
    remark = "; a wider cloth on hand does not count" if wider else ""
    raise NoPlanError(
        where=f"{project.source}: {piece.id}",
        found=f"is cut {show(narrowest)} wide, and {fabric.id} can be used for {show(width)}",
        wanted=f"{show(narrowest - width)} missing",
        hint=f"Take a wider cloth for it, or check the width of {fabric.id}{remark}",
    )


def _require_match(project: Project, piece: Piece, width: Fraction) -> Piece:
    """`piece`, if it fits the width where it is to lie in the repeat."""
    start = piece.phase[0] if piece.phase else None
    if start is None or round_down(start + HALF * project.ruler, project.ruler) + piece.across <= width:
        return piece
    show = project.notation.near
    raise NoPlanError(
        where=f"{project.source}: {piece.id}",
        found=f"begins {show(start)} across in the repeat and is {show(piece.across)} wide",
        wanted=f"{piece.fabric} can be used for {show(width)}",
        hint="Change its phase, or take a wider cloth",
    )


def matched_text(notation: Notation, phase: Matched | None) -> str:
    """What to add to a sum about where in the repeat a piece is cut; nothing where it may be anywhere."""
    if phase is None:
        return ""
    told = zip(phase, ("across", "along"), strict=True)
    places = " and ".join(f"{notation.near(at)} {direction}" for at, direction in told if at is not None)
    return f"; matched: its lower left corner {places} in the repeat"


def sum_text(notation: Notation, terms: str, exact: Fraction, cut: Fraction) -> str:
    """A sum with its result, and what the ruler makes of that.

    Examples
    --------
    >>> sum_text(Notation("in"), "8 stitched + 2 × 1/2 margin", Fraction(9), Fraction(9))
    '8 stitched + 2 × 1/2 margin = 9 in'
    >>> sum_text(Notation("in"), "8 stitched + 1/16 margin", Fraction(129, 16), Fraction(65, 8))
    '8 stitched + 1/16 margin = 8 1/16 in, on the ruler 8 1/8 in'
    """
    return told(terms, notation.show(exact), "" if exact == cut else notation.show(cut))


def sums_text(notation: Notation, terms: tuple[str, str], exact: Pair, cut: Pair) -> str:
    """The sums of both directions, each as :func:`sum_text` has it; told once where they are the same."""
    across, down = (sum_text(notation, *side) for side in zip(terms, exact, cut, strict=True))
    return across if across == down else f"across {across}; down {down}"


def size_text(notation: Notation, terms: str, exact: Pair, cut: Pair) -> str:
    """A sum of two directions at once with its result, and what the ruler makes of that."""
    return told(terms, notation.pair(*exact), "" if exact == cut else notation.pair(*cut))


def in_blocks(block: Block, what: str, share: Share | None = None) -> str:
    """Where `what` of a kind of block goes: ``12 lantern blocks, 2 in each``, and its share where several give it."""
    if share is not None:
        given, of_all = share
        return f"{block.count} {block.name} blocks, {given} of the {of_all} cut for all of these"
    if block.count == 1:
        return f"the {block.name} block, {what} in it"
    return f"{block.count} {block.name} blocks, {what} in each"


def cloth_word(fabric: Fabric) -> str:
    """What a fabric whose pieces keep the way they hang is called."""
    return "striped cloth" if fabric.way is Way.STRIPE else "one-way cloth"


def told(terms: str, result: str, on_the_ruler: str = "") -> str:
    """`terms` and their `result` as it is shown: equal to it, or near where it is no length that can be written.

    Examples
    --------
    >>> told("1/3 × 8", "≈ 2 11/16 in", "2 3/4 in")
    '1/3 × 8 ≈ 2 11/16 in, on the ruler 2 3/4 in'
    """
    text = f"{terms} {result}" if result.startswith("≈") else f"{terms} = {result}"
    return f"{text}, on the ruler {on_the_ruler}" if on_the_ruler else text
