"""The materials table for machines: CSV for a spreadsheet, and one JSON document."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from decimal import Decimal
from io import StringIO
from typing import Any

from ellwand import __version__
from ellwand.lengths import Notation
from ellwand.materials import Materials, ShopLengths, SizePlan
from ellwand.model import FabricPlan, Pair
from ellwand.project.tables import Block
from ellwand.record import FORMAT, near_number
from ellwand_cli.views.materials import Section, answer_of, part_of, sections, used_fabrics

__all__ = ["materials_csv", "materials_document"]

Document = dict[str, Any]  # JSON: its values are of many kinds
_INCHES, _CENTIMETRES = 36, 100  # of a yard, of a metre


def materials_csv(materials: Materials) -> str:
    """A line for every row of the table, a column for every size; what is bought as plain numbers."""
    buffer = StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow(["part", "fabric", "item", "unit", *(size.project.size for size in materials.sizes)])
    for section in sections(materials):
        writer.writerows(_bought_lines(materials) if section.title == "To buy" else _lines(section))
    return buffer.getvalue()


def _lines(section: Section) -> Iterator[list[str]]:
    fabric = ""
    for row in section.rows:
        if row.cells:
            yield [section.title, fabric, row.label, "", *("; ".join(cell) for cell in row.cells)]
        else:
            fabric = row.label


def _bought_lines(materials: Materials) -> Iterator[list[str]]:
    for fabric in used_fabrics(materials):
        answers = [(size, answer_of(size, fabric)) for size in materials.sizes]
        found = [_numbers(size.bought(answer)) if answer else {} for size, answer in answers]
        for unit in ("yd", "m"):
            yield ["To buy", fabric.id, fabric.note, unit, *(str(lengths.get(unit, "")) for lengths in found)]


def materials_document(materials: Materials) -> Document:
    """The same for machines: lengths are decimal numbers of the project's unit, what is bought yards and metres."""
    project, notation = materials.project, materials.project.notation
    return {
        "format": FORMAT,
        "ellwand": __version__,
        "project": project.name,
        "unit": project.unit,
        "copies": project.copies,
        "slack": _pair(notation, (materials.slack.across, materials.slack.along)),
        "sizes": [_size(size) for size in materials.sizes],
    }


def _size(size: SizePlan) -> Document:
    project, plan, cost = size.project, size.plan, size.cost
    notation = project.notation
    return {
        "name": project.size,
        "blocks": [_block(notation, block) for block in project.blocks],
        "finished": plan.sizes and _pair(notation, plan.sizes.finished),
        "bound": plan.sizes and _pair(notation, plan.sizes.bound),
        "warnings": list(plan.warnings),
        "cost": cost and cost.total,
        "cost_each": cost and cost.each,
        "without_price": list(cost.unpriced) if cost else [answer.fabric.id for answer in plan.fabrics],
        "fabrics": [_fabric(size, answer) for answer in plan.fabrics],
    }


def _block(notation: Notation, block: Block) -> Document:
    return {
        "name": block.name,
        "count": block.count,
        "finished": _pair(notation, block.finished),
        "hoop": block.hoop and _pair(notation, block.hoop),
        "frame": block.frame and _pair(notation, block.frame),
    }


def _fabric(size: SizePlan, answer: FabricPlan) -> Document:
    notation = size.project.notation
    bought, least = _numbers(size.bought(answer)), _numbers(size.least(answer))
    return {
        "id": answer.fabric.id,
        "is": answer.fabric.note,
        "usable_width": notation.number(size.usable_width(answer)),
        "needed": notation.number(answer.needed),
        "bound": notation.number(answer.bound),
        "proven": answer.proven,
        "bought": bought,
        "bought_proven": {unit: bought[unit] == least[unit] for unit in bought},
        "cost": answer.cost,
        "constructions": dict(answer.constructions),
        "pieces": [
            {
                "id": piece.id,
                "part": part_of(piece),
                "across": notation.number(piece.across),
                "along": notation.number(piece.along),
                "count": piece.count,
                "turnable": piece.turnable,
            }
            for piece in answer.pieces
        ],
    }


def _numbers(lengths: ShopLengths) -> dict[str, Decimal]:
    """Yards and metres, each in its own steps."""
    return {
        "yd": near_number(Notation("in"), lengths.yards / _INCHES),
        "m": near_number(Notation("cm"), lengths.metres / _CENTIMETRES),
    }


def _pair(notation: Notation, pair: Pair) -> list[Decimal]:
    return [near_number(notation, length) for length in pair]
