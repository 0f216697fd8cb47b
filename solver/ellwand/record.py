"""A plan as one JSON document; its shape is told in docs/plan-format.md.

Lengths are decimal numbers of the project's unit, exact; areas of the unit squared.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from typing import Any

from ellwand import __version__
from ellwand.cloths import as_measured
from ellwand.costs import Mixture, add_mixed, plan_cost
from ellwand.kitsrecord import kits_document, lays_document
from ellwand.lengths import Notation, decimal_of, is_decimal
from ellwand.model import (
    Area,
    Cut,
    FabricPlan,
    Layout,
    Left,
    Looser,
    Missing,
    Offcut,
    Pair,
    Piece,
    Placed,
    Plan,
    Quilt,
    Sizes,
    Wishes,
)  # fmt: skip
from ellwand.project.tables import Block, Fabric, Polygon, Project, Style
from ellwand.quilt.sizes import planned_centre
from ellwand.verdict import judge_plan

__all__ = [
    "FORMAT",
    "UnsoundPlanError",
    "dumps",
    "near_decimal",
    "near_number",
    "pieces_document",
    "plan_document",
    "sound_document",
]

FORMAT = 1
Document = dict[str, Any]  # JSON: its values are of many kinds
_THOUSAND = 1000
_FINEST = 10**9  # what does not end as a decimal is rounded up at this place


class UnsoundPlanError(AssertionError):
    """The judge of documents found faults in a plan of ours."""


def dumps(document: Document) -> str:
    """`document` as JSON text, decimals written exactly."""
    import simplejson  # the standard library cannot write exact decimals

    return simplejson.dumps(document, use_decimal=True, indent=1, ensure_ascii=False) + "\n"


def plan_document(plan: Plan) -> Document:
    """The whole of `plan`."""
    project, notation = plan.project, plan.project.notation
    mixture = add_mixed(plan)
    return {
        "format": FORMAT,
        "ellwand": __version__,
        "project": project.name,
        "unit": project.unit,
        "ruler": notation.number(project.ruler),
        "stages": "any" if project.stages is None else project.stages,
        "keep": notation.number(project.keep),
        "as_new": plan.as_new,
        "copies": project.copies,
        "kits": kits_document(project),
        "sizes": _sizes(notation, plan.sizes),
        "cost": _cost(plan),
        "warnings": list(plan.warnings),
        **({"mixed": _mixed(notation, mixture)} if mixture else {}),
        "pieces": [_piece(notation, piece) for fabric in plan.fabrics for piece in fabric.pieces],
        "fabrics": [_fabric(project, fabric) for fabric in plan.fabrics],
        "solve": {
            "seconds": Decimal(str(round(plan.seconds, 3))),
            "effort": plan.effort,
            "method": "; ".join(f"{fabric.fabric.id}: {fabric.method}" for fabric in plan.fabrics),
            "seed": plan.seed,
            "cut_short": [fabric.fabric.id for fabric in plan.fabrics if fabric.cut_short],
        },
    }


def _cost(plan: Plan) -> Document | None:
    """What is bought costs together; None where nothing of it has a price, or a fabric falls short."""
    cost = plan_cost(plan)
    if cost is None:
        return None
    return {"total": cost.total, "each": cost.each, "without_price": list(cost.unpriced)}


def _mixed(notation: Notation, mixture: Mixture) -> Document:
    """Which fabrics of mixes took what; `bought` and `least` are prices, or lengths as sold."""
    mixing = mixture.mixing
    bought, least = (
        near_decimal(value) if mixing.priced else near_number(notation, value)
        for value in (mixture.bought, mixture.least)
    )
    return {
        "fabrics": list(mixing.fabrics),
        "by": "cost" if mixing.priced else "length",
        "bought": bought,
        "least": least,
        "proven": mixture.proven,
        "mixes": [
            {
                "id": mixed.mix.id,
                "any_of": list(mixed.mix.any_of),
                "whole_blocks": mixed.mix.whole_blocks,
                "taken": [
                    {"name": one.name, "fabric": one.fabric, "count": one.count, "blocks": one.blocks}
                    for one in mixed.taken
                ],
            }
            for mixed in mixing.mixes
        ],
    }


def sound_document(plan: Plan) -> Document:
    """The whole of `plan`, once the judge of documents has found no fault with it.

    Raises
    ------
    UnsoundPlanError
        It has: an error of this program, never of its user.
    """
    document = plan_document(plan)
    faults = judge_plan(document)
    if faults:
        raise UnsoundPlanError(" ".join(faults))
    return document


def pieces_document(project: Project, quilt: Quilt) -> Document:
    """Every piece of `quilt` with its finished size, place and sum, and the quilt's sizes on the way; no cloth yet."""
    notation = project.notation
    return {
        "pieces": [_explained(notation, piece) for part in quilt.parts for piece in part.pieces],
        "sizes": _sizes_on_the_way(project, quilt.sizes),
    }


def _piece(notation: Notation, piece: Piece) -> Document:
    document = {
        "id": piece.id,
        "fabric": piece.fabric,
        "across": notation.number(piece.across),
        "along": notation.number(piece.along),
        "count": piece.count,
        "turnable": piece.turnable,
    }
    if piece.is_spare:
        document["spare"] = True
    if piece.phase:
        document["phase"] = [_number_or_none(notation, length) for length in piece.phase]
    return document


def _number_or_none(notation: Notation, length: Fraction | None) -> Decimal | None:
    return None if length is None else notation.number(length)


def _explained(notation: Notation, piece: Piece) -> Document:
    finished = None if piece.finished is None else _size(notation, piece.finished)
    document = {**_piece(notation, piece), "finished": finished, "why": piece.why, "where": piece.where}
    if piece.after:
        document["after"] = piece.after
    if piece.open_form:
        document["form"] = "open"
    return document


def _sizes(notation: Notation, sizes: Sizes | None) -> Document | None:
    if sizes is None:
        return None
    named = {"centre": sizes.centre, "finished": sizes.finished, "raw": sizes.raw, "bound": sizes.bound}
    return {name: _size(notation, pair) for name, pair in named.items()}


def _sizes_on_the_way(project: Project, sizes: Sizes | None) -> Document | None:
    """The plan's sizes, and before them the blocks' and the centre as planned, which may not be as measured."""
    if sizes is None or project.setting is None:
        return None
    notation = project.notation
    return {
        "blocks": [_block_sizes(notation, block) for block in project.blocks],
        "planned": _size(notation, planned_centre(project, project.setting)),
        **(_sizes(notation, sizes) or {}),
    }


def _block_sizes(notation: Notation, block: Block) -> Document:
    named = {"trimmed": block.trimmed, "finished": block.finished}
    if block.hooped:
        named = {"stitched": block.stitched, **named}
    return {"name": block.name, "count": block.count, **{name: _size(notation, pair) for name, pair in named.items()}}


def _size(notation: Notation, pair: Pair) -> list[Decimal]:
    return [near_number(notation, length) for length in pair]


def _fabric(project: Project, answer: FabricPlan) -> Document:
    fabric, notation = answer.fabric, project.notation
    return {
        "id": fabric.id,
        "ledger": fabric.ledger or None,
        "width": notation.number(fabric.width),
        "usable_width": notation.number(answer.usable_width),
        "layout": (Style.FREE if answer.matched else project.style).value,
        "repeat": None if fabric.repeat is None else [notation.number(length) for length in fabric.repeat],
        "constructions": dict(answer.constructions),
        "needed": notation.number(answer.needed),
        "bound": notation.number(answer.bound),
        "proven": answer.proven,
        "proof": _proof(answer),
        "steps": answer.steps,
        "sold_by": near_number(notation, fabric.sold_by),
        "squaring": notation.number(fabric.square_up * fabric.square_up_ends),
        "shrinks": _shrinks(fabric),
        "bought": notation.number(answer.bought),
        "bound_bought": notation.number(answer.bound_bought),
        "bought_proven": answer.bought_proven,
        "looser": [_looser(notation, looser) for looser in answer.looser],
        "price": None if fabric.price is None else near_decimal(fabric.price),
        "cost": answer.cost,
        "buy": fabric.buy,
        "bolt": None if fabric.bolt is None else notation.number(fabric.bolt),
        "supposed": fabric.supposed,
        "same_cloth": fabric.same_cloth,
        "spare": near_decimal(fabric.spare),
        "wishes": None if answer.wishes is None else _wishes(notation, fabric, answer.wishes),
        "taken": notation.area(answer.area.taken),
        "area": _area(notation, answer.area),
        "shrinkage": round(near_decimal(notation.in_units_squared(answer.shrinkage)), 2),
        "waste_percent": answer.area.waste_percent,
        "left": [_left(notation, left) for left in answer.left],
        "missing": None if answer.missing is None else _missing(notation, answer.missing),
        **lays_document(answer, notation),
        "cloths": [_cloth(project, fabric, layout) for layout in answer.layouts],
    }


def _wishes(notation: Notation, fabric: Fabric, wishes: Wishes) -> Document:
    kept = None if fabric.keep_back is None else [notation.number(side) for side in fabric.keep_back]
    spares = [{"piece": one.piece, "wanted": one.wanted, "placed": one.placed} for one in wishes.spares]
    return {
        "needed": notation.number(wishes.needed),
        "honoured": near_decimal(Fraction(floor(wishes.honoured * _THOUSAND), _THOUSAND)),
        "pieces": spares,
        "keep_back": kept,
        "kept": wishes.kept,
    }


def _left(notation: Notation, left: Left) -> Document:
    across, along = notation.number(left.across), notation.number(left.along)
    return {"id": left.id, "ledger": left.ledger or None, "across": across, "along": along}


def _missing(notation: Notation, missing: Missing) -> Document:
    return {
        "across": notation.number(missing.across),
        "along": notation.number(missing.along),
        "placed": [_placed(notation, placed) for placed in missing.placed],
    }


def _looser(notation: Notation, looser: Looser) -> Document:
    return {
        "layout": (Style.ROTARY if looser.straight else Style.FREE).value,
        "stages": "any" if looser.straight else None,
        "needed": notation.number(looser.needed),
        "bound": notation.number(looser.bound),
        "bought": notation.number(looser.bought),
    }


def _proof(answer: FabricPlan) -> Document:
    proof = answer.proof
    return {
        "theorem": proof.theorem,
        "axis": proof.axis or None,
        "weights": [list(pair) for pair in proof.weights],
        "cloths": [list(size) for size in proof.cloths],
        "searched": proof.searched,
        "lengths": [list(size) for size in proof.lengths],
        "odd": [list(size) for size in proof.odd],
    }


def _shrinks(fabric: Fabric) -> list[Decimal]:
    return [near_decimal(share if fabric.wash else Fraction(0)) for share in fabric.shrinks]


def _area(notation: Notation, area: Area) -> Document:
    return {
        "pieces": notation.area(area.pieces),
        "offcuts": notation.area(area.offcuts),
        "scrap": notation.area(area.scrap),
        "selvage": notation.area(area.selvage),
        "squaring": notation.area(area.squaring),
        "rounding": notation.area(area.rounding),
    }


def _cloth(project: Project, fabric: Fabric, layout: Layout) -> Document:
    cloth, notation = layout.cloth, project.notation
    return {
        "id": cloth.id,
        "source": cloth.source.value,
        "ledger": cloth.ledger or None,
        "lot": cloth.lot or None,
        "place": cloth.place or None,
        "across": notation.number(cloth.across),
        "along": notation.number(cloth.along),
        "used": notation.number(layout.used),
        "whole": cloth.whole,
        "washed": cloth.washed,
        "width": notation.number(cloth.width),
        "length": notation.number(cloth.length),
        "measured": _size(notation, as_measured(fabric, cloth)),
        "squaring": notation.number(cloth.squaring),
        "bolt": cloth.bolt,
        "lay": layout.lay,
        "plies": layout.plies,
        "outline": None if cloth.outline is None else _corners(notation, cloth.outline),
        "flaws": [_corners(notation, flaw) for flaw in cloth.flaws],
        "placed": [_placed(notation, placed) for placed in layout.placed],
        "cuts": [_cut(notation, cut) for cut in layout.cuts],
        "offcuts": [_offcut(notation, offcut) for offcut in layout.offcuts],
    }


def _corners(notation: Notation, polygon: Polygon) -> list[list[Decimal]]:
    return [[notation.number(x), notation.number(y)] for x, y in polygon]


def _placed(notation: Notation, placed: Placed) -> Document:
    return {
        "piece": placed.piece,
        "x": notation.number(placed.x),
        "y": notation.number(placed.y),
        "across": notation.number(placed.across),
        "along": notation.number(placed.along),
        "turned": placed.turned,
    }


def _cut(notation: Notation, cut: Cut) -> Document:
    return {
        "step": cut.step,
        "axis": cut.direction.value,
        "at": notation.number(cut.at),
        "from": [notation.number(cut.start), notation.number(cut.end)],
        "depth": cut.depth,
    }


def _offcut(notation: Notation, offcut: Offcut) -> Document:
    return {
        "x": notation.number(offcut.x),
        "y": notation.number(offcut.y),
        "across": notation.number(offcut.across),
        "along": notation.number(offcut.along),
    }


def near_number(notation: Notation, length: Fraction) -> Decimal:
    """`length` as a decimal number of the unit, rounded up at a far place where the decimal does not end."""
    return near_decimal(notation.in_units(length))


def near_decimal(value: Fraction) -> Decimal:
    """`value` as a decimal number, rounded up at a far place where it does not end."""
    exact = value if is_decimal(value) else Fraction(ceil(value * _FINEST), _FINEST)
    return decimal_of(exact)
