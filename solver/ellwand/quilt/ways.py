"""The ways a set of long strips may be cut: whole, lengthwise, crosswise and joined, or some one way and some another.

A border's four strips are such a set; so are a sleeve, and sashes that run through the whole centre.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial

from ellwand.errors import NoPlanError
from ellwand.model import Construction, Direction, Part, Piece, Run
from ellwand.project.fabrics import hangs
from ellwand.project.tables import Cut, Fabric, Project
from ellwand.quilt.pieces import part_in_one_way, require_fit, strip_width, usable
from ellwand.quilt.strips import Splice, Strip, across_cloth, along_cloth, joined, splice

__all__ = ["StripSet", "lies_lengthwise", "part_of_strips"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StripSet:
    """Long strips of one fabric with all that settles how they can be cut.

    Parameters
    ----------
    name
        Of the part that they are.
    cut
        The way of the cloth that they are asked to be cut.
    joins
        Most joins in one strip; None: as few as the width needs.
    keeps_its_way
        Whether each lies as it hangs where its cloth has a way; nobody sees which way a sleeve's print runs.
    """

    project: Project
    name: str
    fabric: Fabric
    strips: tuple[Strip, ...]
    cut: Cut = Cut.BEST
    joins: int | None = None
    keeps_its_way: bool = True

    @property
    def usable(self) -> Fraction:
        """What a strip in one piece may be long across the cloth."""
        return usable(self.project, self.fabric.id)

    @property
    def reach(self) -> Fraction:
        """The width that joined strips are cut to."""
        return strip_width(self.project, self.fabric.id)


_BY_SIDE = {  # what the ways of strips that may be cut either way say of the sides, and of top and bottom
    "lengthwise": ("lengthwise", "lengthwise"),
    "crosswise": ("crosswise", "crosswise"),
    "sides lengthwise, top and bottom crosswise": ("lengthwise", "crosswise"),
    "sides crosswise, top and bottom lengthwise": ("crosswise", "lengthwise"),
}
_Cutter = Callable[[StripSet, Strip], tuple[Piece, ...]]


def part_of_strips(strips: StripSet) -> Part:
    """The part that `strips` are, in every different way they can be cut.

    Raises
    ------
    NoPlanError
        They can be cut in none of the ways that are allowed.
    """
    options = _options(strips)
    if len(options) == 1:
        return part_in_one_way(strips.name, options[0])
    whole = tuple(
        replace(along_cloth(strip, turnable=True), open_form=strip.run > strips.usable) for strip in strips.strips
    )
    return Part(name=strips.name, fabric=strips.fabric.id, options=options, pieces=whole)


def lies_lengthwise(strips: StripSet) -> bool:
    """Whether to cut all `strips` along the selvage is one of the ways."""
    return "lengthwise" in _ways(strips)


def _options(strips: StripSet) -> tuple[Construction, ...]:
    """Every different way the strips can be made of their cloth; the first refusal where there is none."""
    found: dict[tuple[Piece, ...], Construction] = {}
    refusals = []
    for name, cut in _ways(strips).items():
        try:
            construction = _construction(strips, name, cut)
        except NoPlanError as refusal:
            refusals.append(refusal)
        else:
            found.setdefault(construction.pieces, construction)
    if not found:
        raise refusals[0]
    return tuple(found.values())


def _ways(strips: StripSet) -> dict[str, _Cutter]:
    """The ways that the cloth and what was asked for allow."""
    if not strips.fabric.woven:
        return {"whole": _either_way}
    if strips.keeps_its_way and hangs(strips.fabric):
        return {"as it hangs": _by_side(_lengthwise, _crosswise)}
    if strips.cut is Cut.LENGTHWISE:
        return {"lengthwise": _lengthwise}
    if strips.cut is Cut.CROSSWISE:
        return {"crosswise": _crosswise}
    if all(strip.run <= strips.reach for strip in strips.strips):
        return {"whole": _either_way}
    return {
        "lengthwise": _long_lengthwise,
        "crosswise": _long_crosswise,
        "sides lengthwise, top and bottom crosswise": _by_side(_long_lengthwise, _long_crosswise),
        "sides crosswise, top and bottom lengthwise": _by_side(_long_crosswise, _long_lengthwise),
    }


def _by_side(uprights: _Cutter, levels: _Cutter) -> _Cutter:
    """What hangs down the quilt cut one way, what runs across it another."""
    return lambda strips, strip: (uprights if strip.upright else levels)(strips, strip)


def _either_way(strips: StripSet, strip: Strip) -> tuple[Piece, ...]:
    return (require_fit(strips.project, along_cloth(strip, turnable=True)),)


def _lengthwise(strips: StripSet, strip: Strip) -> tuple[Piece, ...]:
    return (require_fit(strips.project, along_cloth(strip, turnable=False)),)


def _crosswise(strips: StripSet, strip: Strip) -> tuple[Piece, ...]:
    """From selvage to selvage, joined only where the strip is longer than the cloth is wide."""
    return (across_cloth(strip, turnable=False),) if strip.run <= strips.usable else _joined(strips, strip)


def _long_lengthwise(strips: StripSet, strip: Strip) -> tuple[Piece, ...]:
    return _either_way(strips, strip) if strip.run <= strips.usable else _lengthwise(strips, strip)


def _long_crosswise(strips: StripSet, strip: Strip) -> tuple[Piece, ...]:
    return _either_way(strips, strip) if strip.run <= strips.reach else _joined(strips, strip)


def _joined(strips: StripSet, strip: Strip) -> tuple[Piece, ...]:
    _require_mitre_in_one_bit(strips, strip)
    run = Splice(name=strip.id, fabric=strip.fabric, run=strip.exact, loss=strip.loss, shortest=strip.least_bit)
    lengths = _clear_of_mitres(strip, splice(strips.project, run))
    _require_joins(strips, strip, lengths)
    return joined(strip, lengths, strips.project.notation, full=lengths[0])


def _clear_of_mitres(strip: Strip, lengths: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    """`lengths` whose joins stay out of the mitres of a strip that is pinned from its middle.

    What it is longer than its run lies half at each end. Where that would bring a join into a mitre, the bit before
    the last gives way.
    """
    over = sum(lengths) - (len(lengths) - 1) * strip.loss - strip.run
    if lengths[-1] >= strip.mitre + over / 2 or lengths[-2] - over < strip.least_bit:
        return lengths
    return *lengths[:-2], lengths[-2] - over, lengths[-1]


def _construction(strips: StripSet, name: str, cut: _Cutter) -> Construction:
    pieces = [cut(strips, strip) for strip in strips.strips]
    name = _told(name, strips.strips, pieces)
    joins = sum((len(bits) - 1) * strip.count for strip, bits in zip(strips.strips, pieces, strict=True))
    made = Construction(
        name=f"{name}, joined" if joins else name,
        joins=joins,
        pieces=tuple(piece for bits in pieces for piece in bits),
    )
    sewn = {strip: bits for strip, bits in zip(strips.strips, pieces, strict=True) if len(bits) > 1}
    if not sewn or not _is_fitted(strips, tuple(sewn)):
        return made
    return replace(
        made,
        runs=tuple(_run(strips, strip) for strip in sewn),
        bits=tuple(tuple(piece.across for piece in bits) for bits in sewn.values()),
        fixed=tuple(piece for bits in pieces if len(bits) == 1 for piece in bits),
        fitted=f"{name}, fitted to what is left",
        at_length=True,
    )


def _told(name: str, strips: Sequence[Strip], pieces: Sequence[tuple[Piece, ...]]) -> str:
    """The name of a way, without calling lengthwise what is in one piece and may lie either way."""
    whole = [
        {len(bits) == 1 and bits[0].turnable for strip, bits in zip(strips, pieces, strict=True) if strip.upright is up}
        for up in (True, False)
    ]
    words = _BY_SIDE.get(name)
    if words is None or {True} not in whole:
        return name
    sides, ends = (
        "in one piece" if all_whole == {True} and word == "lengthwise" else word
        for all_whole, word in zip(whole, words, strict=True)
    )
    if sides == ends or not whole[0] or not whole[1]:
        return sides if whole[0] else ends
    return f"sides {sides}, top and bottom {ends}"


def _is_fitted(strips: StripSet, sewn: tuple[Strip, ...]) -> bool:
    """Whether strips `sewn` end to end may be of what other pieces leave: where any way will do, and each is one."""
    hung = strips.keeps_its_way and hangs(strips.fabric)
    return strips.cut is Cut.BEST and not hung and all(strip.count == 1 for strip in sewn)


def _run(strips: StripSet, strip: Strip) -> Run:
    """A strip that may be joined from crosswise bits of any lengths."""
    return Run(
        width=strip.width,
        length=strip.exact,
        loss=strip.loss,
        shortest=strip.least_bit,
        ways=(Direction.ACROSS,),
        mitre=max(Fraction(0), strip.mitre - (strip.run - strip.exact) / 2),  # pinned by its run on the ruler
        most_joins=strips.joins,
        pieces=partial(_of_bits, strips, strip),
    )


def _of_bits(strips: StripSet, strip: Strip, lengths: tuple[Fraction, ...]) -> tuple[Piece, ...]:
    """Bits of any `lengths`."""
    if len(lengths) == 1:
        return (replace(across_cloth(strip, turnable=False), across=lengths[0]),)
    return joined(strip, lengths, strips.project.notation, full=strips.usable, rest="from what is left")


def _require_mitre_in_one_bit(strips: StripSet, strip: Strip) -> None:
    """Refuse cloth on which a join would fall into the mitre."""
    if not max(strip.loss, strip.shortest) <= strips.reach < strip.mitre:
        return
    show = strips.project.notation.show
    raise NoPlanError(
        where=f"{strips.project.source}: {strip.id}",
        found=f"its spare, its mitre and a join take {show(strip.mitre)} of its end, "
        f"and {strips.fabric.id} can be used for {show(strips.reach)}",
        wanted=f"{show(strip.mitre - strips.reach)} missing",
        hint="Make the border narrower, or take a wider cloth",
    )


def _require_joins(strips: StripSet, strip: Strip, lengths: tuple[Fraction, ...]) -> None:
    """Refuse more joins than are allowed."""
    show = strips.project.notation.show
    if strips.joins is not None and len(lengths) - 1 > strips.joins:
        reach = strips.reach + strips.joins * (strips.reach - strip.loss)
        raise NoPlanError(
            where=f"{strips.project.source}: {strip.id}",
            found=f"is {show(strip.run)} long, "
            f"and {strips.fabric.id} reaches {show(reach)} with joins = {strips.joins}",
            wanted=f"{show(strip.run - reach)} missing",
            hint=f"Allow joins = {len(lengths) - 1}, {_other_way(strips)}or take a wider cloth",
        )


def _other_way(strips: StripSet) -> str:
    return 'write cut = "best", ' if strips.cut is Cut.CROSSWISE else ""
