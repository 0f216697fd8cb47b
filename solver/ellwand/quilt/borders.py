"""Borders: four strips each, and the ways they may be cut from the cloth."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.errors import NoPlanError
from ellwand.lengths import round_up
from ellwand.model import Construction, Part, Piece, Role, Sizes
from ellwand.project.tables import Border, Cut, Fabric, Project, Way
from ellwand.quilt.pieces import part_in_one_way, require_fit, strip_width, usable
from ellwand.quilt.rings import SIDES, Ring, rings
from ellwand.quilt.strips import Splice, Strip, across_cloth, along_cloth, join_loss, joined, splice

__all__ = ["border_parts", "border_warnings"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """A border's four strips with all that settles how they can be cut.

    A strip in one piece may be as long as `usable` across the cloth; joined ones are cut to `reach`.
    """

    project: Project
    border: Border
    fabric: Fabric
    usable: Fraction
    reach: Fraction
    strips: tuple[Strip, ...]


_Cutter = Callable[[_Frame, Strip], tuple[Piece, ...]]


def border_parts(project: Project, sizes: Sizes) -> tuple[Part, ...]:
    """A part for every border, from the inside out.

    Raises
    ------
    NoPlanError
        A border can be cut in none of the ways that it allows.
    """
    return tuple(_part(_frame(project, ring)) for ring in rings(project, sizes))


def _frame(project: Project, ring: Ring) -> _Frame:
    return _Frame(
        project=project,
        border=ring.border,
        fabric=project.fabrics[ring.border.fabric],
        usable=usable(project, ring.border.fabric),
        reach=strip_width(project, ring.border.fabric),
        strips=tuple(_strip(project, ring, side) for side in SIDES),
    )


def _strip(project: Project, ring: Ring, side: str) -> Strip:
    border = ring.border
    loss = join_loss(border.join, ring.width, project.seam)
    return Strip(
        id=f"{border.name}/{side}",
        fabric=border.fabric,
        role=Role.BORDER,
        width=ring.width,
        run=ring.run(side),
        count=project.copies,
        finished=ring.finished(side),
        why=ring.why(side),
        after=_after(ring),
        join=border.join,
        loss=loss,
        shortest=round_up(max(border.shortest, _mitred_end(ring, side, loss)), project.ruler),
    )


def _mitred_end(ring: Ring, side: str, loss: Fraction) -> Fraction:
    """Least bit at a strip's end that keeps the join clear of the mitre."""
    return ring.reach_of_mitre(side) + loss if ring.is_mitred else Fraction(0)


def _after(ring: Ring) -> str:
    if (ring.last if ring.is_mitred else ring.border).extra:
        return "cut long now; to length after the sewn centre is measured"
    return "to length after the sewn centre is measured"


def _part(frame: _Frame) -> Part:
    options = _options(frame)
    if len(options) == 1:
        return part_in_one_way(frame.border.name, options[0])
    whole = tuple(
        replace(along_cloth(strip, turnable=True), open_form=strip.run > frame.usable) for strip in frame.strips
    )
    return Part(name=frame.border.name, fabric=frame.fabric.id, options=options, pieces=whole)


def _options(frame: _Frame) -> tuple[Construction, ...]:
    """Every different way the border can be made with its cloth; the first refusal where there is none."""
    found: dict[tuple[Piece, ...], Construction] = {}
    refusals = []
    for name, cut in _ways(frame).items():
        try:
            construction = _construction(frame, name, cut)
        except NoPlanError as refusal:
            refusals.append(refusal)
        else:
            found.setdefault(construction.pieces, construction)
    if not found:
        raise refusals[0]
    return tuple(found.values())


def _ways(frame: _Frame) -> dict[str, _Cutter]:
    """The ways its cloth and its key `cut` allow."""
    if not frame.fabric.woven:
        return {"whole": _either_way}
    if frame.fabric.way is not Way.ANY:
        return {"as it hangs": _hanging}
    if frame.border.cut is Cut.LENGTHWISE:
        return {"lengthwise": _lengthwise}
    if frame.border.cut is Cut.CROSSWISE:
        return {"crosswise": _crosswise}
    if all(strip.run <= frame.reach for strip in frame.strips):
        return {"whole": _either_way}
    return {
        "lengthwise": _long_lengthwise,
        "crosswise": _long_crosswise,
        "sides lengthwise, top and bottom crosswise": _by_side(_long_lengthwise, _long_crosswise),
        "sides crosswise, top and bottom lengthwise": _by_side(_long_crosswise, _long_lengthwise),
    }


def _by_side(sides: _Cutter, ends: _Cutter) -> _Cutter:
    """Left and right cut one way, top and bottom another."""
    return lambda frame, strip: (sides if strip.id.endswith(("/left", "/right")) else ends)(frame, strip)


def _either_way(frame: _Frame, strip: Strip) -> tuple[Piece, ...]:
    return (require_fit(frame.project, along_cloth(strip, turnable=True)),)


def _lengthwise(frame: _Frame, strip: Strip) -> tuple[Piece, ...]:
    return (require_fit(frame.project, along_cloth(strip, turnable=False)),)


def _crosswise(frame: _Frame, strip: Strip) -> tuple[Piece, ...]:
    """From selvage to selvage, joined only where the strip is longer than the cloth is wide."""
    return (across_cloth(strip, turnable=False),) if strip.run <= frame.usable else _joined(frame, strip)


def _joined(frame: _Frame, strip: Strip) -> tuple[Piece, ...]:
    _require_mitre_in_one_bit(frame, strip)
    run = Splice(name=strip.id, fabric=strip.fabric, run=strip.run, loss=strip.loss, shortest=strip.shortest)
    lengths = splice(frame.project, run)
    _require_joins(frame, strip, lengths)
    return joined(strip, lengths, frame.project.notation)


def _require_mitre_in_one_bit(frame: _Frame, strip: Strip) -> None:
    """Refuse cloth on which a join would fall into the mitre."""
    if not max(strip.loss, frame.border.shortest) <= frame.reach < strip.shortest:
        return
    show = frame.project.notation.show
    raise NoPlanError(
        where=f"{frame.project.source}: {strip.id}",
        found=f"its spare, its mitre and a join take {show(strip.shortest)} of its end, "
        f"and {frame.fabric.id} can be used for {show(frame.reach)}",
        wanted=f"{show(strip.shortest - frame.reach)} missing",
        hint="Make the border narrower, or take a wider cloth",
    )


def _long_lengthwise(frame: _Frame, strip: Strip) -> tuple[Piece, ...]:
    return _either_way(frame, strip) if strip.run <= frame.usable else _lengthwise(frame, strip)


def _long_crosswise(frame: _Frame, strip: Strip) -> tuple[Piece, ...]:
    return _either_way(frame, strip) if strip.run <= frame.reach else _joined(frame, strip)


def _hanging(frame: _Frame, strip: Strip) -> tuple[Piece, ...]:
    """As the print hangs: side borders along the selvage, top and bottom from selvage to selvage."""
    return _by_side(_lengthwise, _crosswise)(frame, strip)


def _construction(frame: _Frame, name: str, cut: _Cutter) -> Construction:
    pieces = [cut(frame, strip) for strip in frame.strips]
    joins = sum(len(bits) - 1 for bits in pieces) * frame.project.copies
    return Construction(
        name=f"{name}, joined" if joins else name,
        joins=joins,
        pieces=tuple(piece for bits in pieces for piece in bits),
    )


def _require_joins(frame: _Frame, strip: Strip, lengths: tuple[Fraction, ...]) -> None:
    """Refuse more joins than the border allows."""
    show = frame.project.notation.show
    allowed = frame.border.joins
    if allowed is not None and len(lengths) - 1 > allowed:
        reach = frame.reach + allowed * (frame.reach - strip.loss)
        raise NoPlanError(
            where=f"{frame.project.source}: {strip.id}",
            found=f"is {show(strip.run)} long, and {frame.fabric.id} reaches {show(reach)} with joins = {allowed}",
            wanted=f"{show(strip.run - reach)} missing",
            hint=f"Allow joins = {len(lengths) - 1}, or take a wider cloth",
        )


def border_warnings(project: Project, sizes: Sizes) -> tuple[str, ...]:
    """Mitres that will be short, and borders too wide for four to lie side by side."""
    found = rings(project, sizes)
    return (*(text for ring in found for text in _short_mitre(ring)), *(text for ring in found for text in _wide(ring)))


def _short_mitre(ring: Ring) -> tuple[str, ...]:
    if not ring.is_mitred or ring.border is not ring.last or ring.border.extra >= ring.least_extra:
        return ()
    show = ring.project.notation.show
    return (
        f"border {ring.border.name}: {show(ring.border.extra)} extra is too little for its mitres: "
        f"their seams take {show(round_up(ring.least_extra, ring.project.ruler))}.",
    )


def _wide(ring: Ring) -> tuple[str, ...]:
    project = ring.project
    frame = _frame(project, ring)
    if "lengthwise" not in _ways(frame) or 4 * ring.width <= frame.usable:
        return ()
    show = project.notation.show
    return (
        f"border {ring.border.name}: its strips are {show(ring.width)} wide, more than a quarter of the "
        f"{show(frame.usable)} that {frame.fabric.id} can be used for: four no longer lie side by side.",
    )
