"""Pieces and cloths to a packing problem of whole numbers, and the packing back to layouts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import lcm

from ellwand.cloths import cloth_to_buy, cloths_on_hand, usable_width
from ellwand.cuts import cut_tree, cuts_of, offcuts_of
from ellwand.model import Cloth, Layout, Offcut, Piece, Placed
from ellwand.offcuts import free_offcuts
from ellwand.outlines import BAND, free_area, lost_parts
from ellwand.packing.problem import Item, Packing, Phase, Place, Problem, Stock
from ellwand.project.tables import Fabric, Matched, Project, Style

__all__ = ["Job", "assign", "lay_on", "lay_out"]

_COARSE = Fraction(1, 2)  # inches: steps of slanted edges where offcuts are looked for


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One fabric's problem, and what its numbers stand for.

    `kinds` holds, for each item of the problem, the pieces that share its cut size; `cloths` the stocks, without
    the open one.
    """

    project: Project
    fabric: Fabric
    pieces: tuple[Piece, ...]
    cloths: tuple[Cloth, ...]
    kinds: tuple[tuple[Piece, ...], ...]
    problem: Problem


def assign(project: Project, fabric: Fabric, pieces: Sequence[Piece], *, as_new: bool) -> Job:
    """Put `pieces` of one `fabric` as a packing problem in marks of the ruler.

    Where some of them match, all are laid freely.

    Parameters
    ----------
    as_new
        Leave the cloth on hand out.
    """
    cloths = () if as_new else cloths_on_hand(fabric, project.ruler)
    kinds = _kinds(pieces)
    marks = _Marks(project.ruler, fabric.repeat)
    rotary = project.style is Style.ROTARY and not any(piece.phase for piece in pieces)
    problem = Problem(
        items=tuple(marks.item(kind) for kind in kinds),
        stocks=(
            *(marks.stock(cloth) for cloth in cloths),
            Stock(w=marks.count(usable_width(fabric, project.ruler)), h=None),
        ),
        guillotine=rotary,
        stages=project.stages if rotary else None,
    )
    return Job(project=project, fabric=fabric, pieces=tuple(pieces), cloths=cloths, kinds=kinds, problem=problem)


def lay_out(job: Job, packing: Packing) -> tuple[Layout, ...]:
    """The layouts of every cloth that `packing` uses, the cloth to buy last."""
    needed = packing.length * job.project.ruler
    number = 1 + sum(entry.count for entry in job.fabric.on_hand)
    cloths = [*job.cloths, cloth_to_buy(job.fabric, number, needed, job.project.ruler)]
    placed = _placed(job, packing)
    return tuple(lay_on(job, cloth, placed[stock]) for stock, cloth in enumerate(cloths) if placed[stock])


def lay_on(job: Job, cloth: Cloth, placed: Sequence[Placed]) -> Layout:
    """The layout of one cloth, cuts and offcuts with it."""
    project = job.project
    edge = max(item.y + item.along for item in placed)
    used = cloth.length if cloth.whole else edge + cloth.squaring
    if not job.problem.guillotine or cloth.odd:
        taken: list[Placed | Offcut] = [*_lost(cloth, project.ruler), *placed]
        offcuts = free_offcuts(cloth.across, cloth.along if cloth.whole else edge, taken, project.keep)
        return Layout(cloth=cloth, used=used, placed=tuple(placed), offcuts=offcuts)
    tree = cut_tree(cloth.across, cloth.along, placed, stages=project.stages, whole=cloth.whole)
    return Layout(
        cloth=cloth,
        used=used,
        placed=tuple(placed),
        offcuts=offcuts_of(tree, project.keep),
        tree=tree,
        cuts=cuts_of(tree),
    )


def _kinds(pieces: Sequence[Piece]) -> tuple[tuple[Piece, ...], ...]:
    """Pieces grouped by the shape that is packed."""
    groups: dict[tuple[tuple[Fraction, Fraction, bool], Matched | None], list[Piece]] = defaultdict(list)
    for piece in pieces:
        groups[_shape(piece), piece.phase].append(piece)
    return tuple(tuple(group) for group in groups.values())


def _shape(piece: Piece) -> tuple[Fraction, Fraction, bool]:
    """Cut size and whether turning it makes a difference that is allowed."""
    turnable = piece.turnable and piece.across != piece.along
    if turnable:
        return min(piece.across, piece.along), max(piece.across, piece.along), True
    return piece.across, piece.along, False


@dataclass(frozen=True, slots=True)
class _Marks:
    """Lengths counted in marks of the ruler, on a print with this repeat."""

    ruler: Fraction
    repeat: tuple[Fraction, Fraction] | None

    def count(self, length: Fraction) -> int:
        marks = length / self.ruler
        if marks.denominator != 1:
            raise AssertionError(f"{length} in is not on the ruler")
        return marks.numerator

    def item(self, kind: Sequence[Piece]) -> Item:
        across, along, turnable = _shape(kind[0])
        demand = sum(piece.count for piece in kind)
        phase_x, phase_y = self.phases(kind[0].phase)
        return Item(
            w=self.count(across),
            h=self.count(along),
            demand=demand,
            turnable=turnable,
            phase_x=phase_x,
            phase_y=phase_y,
        )

    def phases(self, phase: Matched | None) -> tuple[Phase | None, Phase | None]:
        if phase is None or self.repeat is None:
            return None, None
        across, along = (
            None if start is None else self.phase(start, repeat)
            for start, repeat in zip(phase, self.repeat, strict=True)
        )
        return across, along

    def phase(self, start: Fraction, repeat: Fraction) -> Phase:
        parts = lcm((start / self.ruler).denominator, (repeat / self.ruler).denominator)
        return Phase(start=int(start / self.ruler * parts), repeat=int(repeat / self.ruler * parts), parts=parts)

    def stock(self, cloth: Cloth) -> Stock:
        stock = Stock(w=self.count(cloth.across), h=self.count(cloth.along), either_way=cloth.whole)
        if not cloth.odd:
            return stock
        lost = lost_parts(cloth, self.ruler, BAND)
        return replace(stock, free=free_area(cloth, self.ruler), blocked=lost)


def _placed(job: Job, packing: Packing) -> dict[int, list[Placed]]:
    """Placed pieces by stock: equal shapes are handed out in order of place, so that one kind stays together."""
    by_item: dict[int, list[Place]] = defaultdict(list)
    for place in packing.places:
        by_item[place.item].append(place)
    result: dict[int, list[Placed]] = defaultdict(list)
    for number, kind in enumerate(job.kinds):
        names = [piece for piece in kind for _ in range(piece.count)]
        spots = sorted(by_item[number], key=lambda place: (place.stock, place.y, place.x))
        for piece, spot in zip(names, spots, strict=True):
            result[spot.stock].append(_lay(job, piece, job.problem.items[number], spot))
    for placed in result.values():
        placed.sort(key=lambda item: (item.y, item.x))
    return result


def _lay(job: Job, piece: Piece, item: Item, spot: Place) -> Placed:
    """`piece` at `spot`; whether it is turned follows from how it lies, not from how its shape was written."""
    ruler = job.project.ruler
    w, h = (item.h, item.w) if spot.turned else (item.w, item.h)
    across, along = w * ruler, h * ruler
    turned = (across, along) != (piece.across, piece.along)
    return Placed(piece=piece.id, x=spot.x * ruler, y=spot.y * ruler, across=across, along=along, turned=turned)


def _lost(cloth: Cloth, ruler: Fraction) -> list[Offcut]:
    """What cannot be kept of an odd cloth either, its slanted edges in coarse steps."""
    parts = lost_parts(cloth, ruler, _COARSE) if cloth.odd else ()
    return [Offcut(x=x * ruler, y=y * ruler, across=w * ruler, along=h * ruler) for x, y, w, h in parts]
