"""A comparison of border widths as text and as a document."""

from __future__ import annotations

from typing import Any

from ellwand.compare import Comparison, Row
from ellwand.lengths import Notation, decimal_of
from ellwand.model import Area, FabricPlan
from ellwand.record import near_number
from ellwand_cli.views.tables import table
from ellwand_cli.views.words import largest_offcut, percent, to_buy

__all__ = ["comparison_document", "comparison_table"]

_HEADS = ("width", "fabric", "to buy", "cost", "in the pieces", "offcuts", "the largest", "scrap", "the least?")


def comparison_table(comparison: Comparison) -> str:
    """One block of lines a width: each fabric, then the whole quilt."""
    rows = [line for row in comparison.rows for line in _lines(row)]
    return f"Border {comparison.border}\n" + table(_HEADS, rows, numbers=(2, 3, 4, 5, 7)) + "\n"


def _lines(row: Row) -> list[tuple[str, ...]]:
    notation = row.plan.project.notation
    lines = [_line(notation, answer) for answer in row.plan.fabrics]
    cost = "" if row.cost is None else str(row.cost)
    whole = ("whole quilt", "", cost, *_shares(row.area), "", percent(row.area.scrap, row.area.taken), "")
    return [(notation.show(row.width) if index == 0 else "", *line) for index, line in enumerate([*lines, whole])]


def _line(notation: Notation, answer: FabricPlan) -> tuple[str, ...]:
    largest = largest_offcut(answer.layouts)
    return (
        answer.fabric.id,
        to_buy(answer, notation),
        str(answer.cost) if answer.cost and answer.enough else "",
        *_shares(answer.area),
        notation.pair(largest.across, largest.along) if largest else "",
        percent(answer.area.scrap, answer.area.taken),
        "proven" if answer.bought_proven else "not proven",
    )


def _shares(area: Area) -> tuple[str, str]:
    return percent(area.pieces, area.taken), percent(area.offcuts, area.taken)


def comparison_document(comparison: Comparison) -> dict[str, Any]:
    """The same for machines: areas in the unit squared."""
    return {"format": 1, "border": comparison.border, "rows": [_row(row) for row in comparison.rows]}


def _row(row: Row) -> dict[str, Any]:
    notation = row.plan.project.notation
    return {
        "width": near_number(notation, row.width),
        "cost": row.cost,
        **_areas(notation, row.area),
        "fabrics": [_answer(notation, answer) for answer in row.plan.fabrics],
    }


def _answer(notation: Notation, answer: FabricPlan) -> dict[str, Any]:
    return {
        "id": answer.fabric.id,
        "needed": notation.number(answer.needed),
        "bound": notation.number(answer.bound),
        "proven": answer.proven,
        "bought": notation.number(answer.bought),
        "bought_proven": answer.bought_proven,
        "cost": answer.cost,
        **_areas(notation, answer.area),
    }


def _areas(notation: Notation, area: Area) -> dict[str, Any]:
    parts = {"pieces": area.pieces, "offcuts": area.offcuts, "scrap": area.scrap, "taken": area.taken}
    return {name: decimal_of(notation.in_units_squared(value)) for name, value in parts.items()}
