"""A comparison as text, as rows of a spreadsheet and as a document."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from ellwand.compare import Comparison, Edge, Row
from ellwand.costs import plan_cost
from ellwand.lengths import Notation, decimal_of
from ellwand.model import Area, FabricPlan
from ellwand.record import near_decimal
from ellwand.slack import NO_SLACK
from ellwand_cli.views.spare import slack_document, spare
from ellwand_cli.views.tables import WIDTH, table, wrapped
from ellwand_cli.views.words import largest_offcut, percent, to_buy

__all__ = ["comparison_csv", "comparison_document", "comparison_text"]

_ROWS_KEEP_NONE = (
    "These rows keep no cloth to spare: they are what a plan of each would be. The last ones below keep some."
)
_NO_EDGES = "Where copies are cut in layers, or a bolt has an end, no last values between the rows are looked for."
_HEADS = ("fabric", "to buy", "more", "cost", "in the pieces", "offcuts", "the largest", "scrap", "the least?")
_COLUMNS = (
    "value", "fabric", "bought", "bought_proven", "needed", "cost", "pieces", "offcuts", "largest_across",
    "largest_along", "scrap", "taken",
)  # fmt: skip


def comparison_text(comparison: Comparison) -> str:
    """One block of lines a value: each fabric, then the whole quilt; then the jumps, and the edges between them."""
    lines = [line for before, row in pairwise([None, *comparison.rows]) for line in _lines(comparison, before, row)]
    noun = "value" if comparison.border is None else "width"
    title = comparison.title if "." in comparison.title else f"{comparison.title[:1].upper()}{comparison.title[1:]}"
    blocks = [
        f"{title}\n" + table((noun, *_HEADS), lines, numbers=(2, 3, 4, 5, 6, 8)),
        wrapped(_ROWS_KEEP_NONE, WIDTH) if comparison.edges and comparison.slack != NO_SLACK else "",
        "\n".join(_jumps(comparison)),
        "\n".join(_edges(comparison, noun)),
    ]
    return "\n\n".join(filter(None, blocks)) + "\n"


def _lines(comparison: Comparison, before: Row | None, row: Row | None) -> list[tuple[str, ...]]:
    assert row is not None
    notation = comparison.notation
    earlier = {answer.fabric.id: answer for answer in before.plan.fabrics} if before else {}
    lines = [_line(notation, earlier.get(answer.fabric.id), answer) for answer in row.plan.fabrics]
    cost = "" if row.cost is None else str(row.cost)
    scrap = percent(row.area.scrap, row.area.taken)
    copies = row.plan.project.copies
    name = "whole quilt" if copies == 1 else f"all {copies} copies"
    lines.append((name, "", "", cost, *_shares(row.area), "", scrap, ""))
    each = plan_cost(row.plan) if copies > 1 and cost else None
    if each is not None:
        lines.append(("each copy", "", "", str(each.each), "", "", "", "", ""))
    return [(comparison.show(row.value) if index == 0 else "", *line) for index, line in enumerate(lines)]


def _line(notation: Notation, before: FabricPlan | None, answer: FabricPlan) -> tuple[str, ...]:
    largest = largest_offcut(answer.layouts)
    return (
        answer.fabric.id,
        to_buy(answer, notation),
        _more(notation, before, answer),
        str(answer.cost) if answer.cost and answer.enough else "",
        *_shares(answer.area),
        f"{notation.bare(largest.across)} × {notation.bare(largest.along)}" if largest else "",
        percent(answer.area.scrap, answer.area.taken),
        "proven" if answer.bought_proven else "not proven",
    )


def _more(notation: Notation, before: FabricPlan | None, answer: FabricPlan) -> str:
    """How much more is bought than at the value before, so that a jump is seen."""
    change = answer.bought - before.bought if before else 0
    if before is None or not change:
        return ""
    return f"{'+' if change > 0 else '−'} {notation.cloth(abs(answer.bought - before.bought))}"


def _shares(area: Area) -> tuple[str, str]:
    return percent(area.pieces, area.taken), percent(area.offcuts, area.taken)


def _jumps(comparison: Comparison) -> Iterator[str]:
    """Where one step of the value costs two steps of the shop or more in a fabric."""
    notation = comparison.notation
    for before, row in pairwise(comparison.rows):
        earlier = {answer.fabric.id: answer for answer in before.plan.fabrics}
        for answer in row.plan.fabrics:
            known = earlier.get(answer.fabric.id)
            if known is not None and answer.steps - known.steps > 1:
                more = notation.cloth(answer.bought - known.bought)
                still = [other.fabric.id for other in row.plan.fabrics if _stays(earlier, other)]
                kept = f", while {', '.join(still)} stay{'s' if len(still) == 1 else ''} the same" if still else ""
                text = f"!! from {comparison.show(before.value)} to {comparison.show(row.value)}, "
                yield wrapped(f"{text}{answer.fabric.id} jumps by {more}{kept}.", WIDTH, rest="   ")


def _stays(earlier: dict[str, FabricPlan], answer: FabricPlan) -> bool:
    known = earlier.get(answer.fabric.id)
    return known is not None and known.steps == answer.steps and answer.steps > 0


def _edges(comparison: Comparison, noun: str) -> Iterator[str]:
    """The last value on the ruler for every amount that is bought."""
    if not comparison.edges:
        if any(answer.lays or answer.fabric.bolt is not None for row in comparison.rows for answer in row.plan.fabrics):
            yield wrapped(_NO_EDGES, WIDTH)
        return
    kept = spare(comparison.slack, comparison.notation)
    yield wrapped(f"The last {noun} for each amount, to the mark{kept}:", WIDTH)
    falling = {edge.answer.fabric.id for edge in comparison.edges if edge.beyond and edge.beyond < edge.value}
    rows = [_edge_line(comparison, edge, falls=edge.answer.fabric.id in falling) for edge in comparison.edges]
    yield table(("fabric", "to buy", "how far", "after that", "to buy then", "proven?"), rows)


def _edge_line(comparison: Comparison, edge: Edge, *, falls: bool) -> tuple[str, ...]:
    """An edge; where less is needed at larger values, the values fall along the edges."""
    notation = comparison.notation
    far = f"{'down' if falls else 'up'} to {comparison.show(edge.value)}"
    lead = edge.answer.fabric.id, to_buy(edge.answer, notation), far
    if edge.beyond is None or edge.after is None:
        return (*lead, "here the search ends", "", "")
    sure = "as little cannot do there" if edge.proven else "not proven"
    return (*lead, comparison.show(edge.beyond), to_buy(edge.after, notation), sure)


def comparison_csv(comparison: Comparison) -> str:
    """The rows for a spreadsheet: lengths in the project's unit, areas in it squared; the whole quilt has no fabric."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(_COLUMNS)
    for row in comparison.rows:
        value = near_decimal(comparison.in_units(row.value))
        for answer in row.plan.fabrics:
            writer.writerow([value, *_csv_line(comparison.notation, answer)])
        areas = _areas(comparison.notation, row.area)
        writer.writerow(
            [value, "", "", "", "", row.cost, areas["pieces"], areas["offcuts"], "", "", areas["scrap"], areas["taken"]]
        )
    return text.getvalue()


def _csv_line(notation: Notation, answer: FabricPlan) -> list[object]:
    largest = largest_offcut(answer.layouts)
    sides = (notation.number(largest.across), notation.number(largest.along)) if largest else ("", "")
    areas = _areas(notation, answer.area)
    return [
        answer.fabric.id,
        notation.number(answer.bought),
        "yes" if answer.bought_proven else "no",
        notation.number(answer.needed),
        answer.cost,
        areas["pieces"],
        areas["offcuts"],
        *sides,
        areas["scrap"],
        areas["taken"],
    ]


def comparison_document(comparison: Comparison) -> dict[str, Any]:
    """The same for machines: areas in the unit squared."""
    return {
        "format": 1,
        "border": comparison.border,
        "varied": comparison.title,
        "rows": [_row(comparison, row) for row in comparison.rows],
        "slack": slack_document(comparison.slack, comparison.notation),
        "edges": [_edge(comparison, edge) for edge in comparison.edges],
    }


def _row(comparison: Comparison, row: Row) -> dict[str, Any]:
    notation = comparison.notation
    value = near_decimal(comparison.in_units(row.value))
    return {
        "value": value,
        **({} if comparison.border is None else {"width": value}),
        "cost": row.cost,
        **_areas(notation, row.area),
        "fabrics": [_answer(notation, answer) for answer in row.plan.fabrics],
    }


def _edge(comparison: Comparison, edge: Edge) -> dict[str, Any]:
    notation, after = comparison.notation, edge.after
    beyond = None
    if edge.beyond is not None and after is not None:
        value = near_decimal(comparison.in_units(edge.beyond))
        beyond = {"value": value, "needed": notation.number(after.needed), "bought": notation.number(after.bought)}
    return {
        "fabric": edge.answer.fabric.id,
        "value": near_decimal(comparison.in_units(edge.value)),
        "needed": notation.number(edge.answer.needed),
        "bought": notation.number(edge.answer.bought),
        "beyond": beyond,
        "proven": edge.proven,
    }


def _answer(notation: Notation, answer: FabricPlan) -> dict[str, Any]:
    largest = largest_offcut(answer.layouts)
    return {
        "id": answer.fabric.id,
        "needed": notation.number(answer.needed),
        "bound": notation.number(answer.bound),
        "proven": answer.proven,
        "bought": notation.number(answer.bought),
        "bought_proven": answer.bought_proven,
        "cost": answer.cost,
        "largest_offcut": [notation.number(largest.across), notation.number(largest.along)] if largest else None,
        **_areas(notation, answer.area),
    }


def _areas(notation: Notation, area: Area) -> dict[str, Any]:
    parts = {"pieces": area.pieces, "offcuts": area.offcuts, "scrap": area.scrap, "taken": area.taken}
    return {name: decimal_of(notation.in_units_squared(value)) for name, value in parts.items()}
