"""The materials of a design in several sizes, as rows and cells that text, Markdown, CSV and paper share."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from ellwand.lengths import Notation
from ellwand.materials import Materials, SizePlan
from ellwand.model import FabricPlan, Pair, Piece, Role
from ellwand.project.tables import Block, Fabric, Setting
from ellwand.slack import NO_SLACK
from ellwand_cli.views.mixes import any_of
from ellwand_cli.views.typeset import joined

__all__ = [
    "ABSENT", "Row", "Section", "answer_of", "foot_notes", "head_notes", "part_of", "sections", "title", "used_fabrics",
]  # fmt: skip

ABSENT = "–"
_MARK = " *"
Cell = tuple[str, ...]  # its lines


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A line of the table: what it is about, notes below that, and a cell for every size; none heads what follows."""

    label: str
    notes: tuple[str, ...] = ()
    cells: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of the table under a heading of its own."""

    title: str
    rows: tuple[Row, ...]
    numbers: bool = False  # its cells are numbers to be added up


def title(materials: Materials) -> str:
    """What heads the table."""
    return f"{materials.project.name}: materials for {_number(len(materials.sizes), 'size')}"


def head_notes(materials: Materials) -> tuple[str, ...]:
    """What the figures assume: usable widths, slack, whose steps they are rounded up to."""
    project = materials.project
    copies = f"Everything is for {project.copies} copies of the quilt together. " if project.copies > 1 else ""
    notes: tuple[str, ...] = (
        f"{copies}Cloth on hand is left out: everything is bought. Usable width: {_widths(materials)}.",
        _slack(materials),
        "Yards and metres are each rounded up to what shops sell, neither from the other: by 1/8 yd and 10 cm, or by "
        "the step in which the project says that a fabric is sold.",
    )
    notes += tuple(
        f"{fabric.id} stands for {any_of(fabric)}: in each size a piece of it is of whichever lets one buy least."
        for fabric in project.fabrics.values()
        if fabric.any_of
    )
    spare = [f"{float(100 * one.spare):.4g} % of {one.id}" for one in used_fabrics(materials) if one.spare]
    notes += (f"More than needed is bought, to spare: {joined(spare)}.",) if spare else ()
    marked = any(_MARK in line for row in _to_buy(materials) for cell in row.cells for line in cell)
    return (
        (*notes, "* Enough, but not proven the least: a longer look may find that less will do.") if marked else notes
    )


def foot_notes(materials: Materials) -> tuple[str, ...]:
    """How to read the cut sizes."""
    sizes = f"Cut sizes in {_unit(materials)}, across the width of the cloth × along its selvage."
    slack = " Strips as long as the cloth is wide are cut to the usable width less the slack."
    return (sizes + (slack if materials.slack.across else ""),)


def sections(materials: Materials) -> tuple[Section, ...]:
    """All rows: the sizes, what to buy, what to cut, what it costs; without parts that have none."""
    named = {
        "The sizes": _the_sizes(materials),
        "To buy": _to_buy(materials),
        "To cut": _to_cut(materials),
        "Cost": _cost(materials),
    }
    found = ((name, tuple(rows)) for name, rows in named.items())
    return tuple(Section(title=name, rows=rows, numbers=name == "Cost") for name, rows in found if rows)


def answer_of(size: SizePlan, fabric: Fabric) -> FabricPlan | None:
    """The plan of a fabric, if the size takes any of it."""
    return next((answer for answer in size.plan.fabrics if answer.fabric.id == fabric.id), None)


def part_of(piece: Piece) -> str:
    """The part that a piece belongs to: strips, panels and sides of one part are told together."""
    if piece.role is Role.BORDER:
        return piece.id.split("/")[0]
    return re.sub(r"(/\d+|/top|/bottom|/left|/right)+$", "", piece.id)


def _use(materials: Materials, piece: Piece) -> str:
    """The part in words; of stabiliser, how many sheets a hooping takes where that is the same in every size."""
    if piece.role is Role.STABILISER:
        parts = (size.project.stabiliser for size in materials.sizes)
        layers = {part.layers for part in parts if part is not None}
        return f"hooping, {_number(layers.pop(), 'sheet')} each" if len(layers) == 1 else "hooping"
    return f"{part_of(piece)} border" if piece.role is Role.BORDER else part_of(piece)


def _number(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _unit(materials: Materials) -> str:
    return {"in": "inches", "cm": "centimetres"}[materials.project.unit]


def _widths(materials: Materials) -> str:
    """Usable widths, those alike together."""
    show = materials.project.notation.show
    groups: dict[str, list[str]] = {}
    for fabric in used_fabrics(materials):
        size, answer = _first(materials, fabric)
        groups.setdefault(show(size.usable_width(answer)), []).append(fabric.id)
    return "; ".join(f"{width} of {joined(names)}" for width, names in groups.items())


def _slack(materials: Materials) -> str:
    show, slack = materials.project.notation.show, materials.slack
    fabrics = used_fabrics(materials)
    loose = [fabric.id for fabric in fabrics if not fabric.woven]
    if slack == NO_SLACK:
        return "No slack is kept: a bolt narrower than that may not do."
    if len(loose) == len(fabrics):
        return "No slack is kept: none of it has a grain."
    without = f"; none is kept of {joined(loose)}, which {_have(loose)} no grain" if loose else ""
    return (
        f"Slack: cloth is laid out as though it were {show(slack.across)} narrower than that, and {show(slack.along)} "
        f"is added to its length, so that a slightly narrower bolt will do{without}."
    )


def _have(names: Sequence[str]) -> str:
    return "has" if len(names) == 1 else "have"


def used_fabrics(materials: Materials) -> list[Fabric]:
    """The fabrics that some size takes, in the file's order."""
    used = {answer.fabric.id for size in materials.sizes for answer in size.plan.fabrics}
    return [fabric for fabric in materials.project.fabrics.values() if fabric.id in used]


def _first(materials: Materials, fabric: Fabric) -> tuple[SizePlan, FabricPlan]:
    """The first size that takes a fabric, and its plan there."""
    found = ((size, answer_of(size, fabric)) for size in materials.sizes)
    return next((size, answer) for size, answer in found if answer is not None)


def _the_sizes(materials: Materials) -> Iterator[Row]:
    show, unit = _bare_pair(materials.project.notation), materials.project.unit
    pair = materials.project.notation.pair
    yield from _of_blocks(materials, "hoop, stitch field", lambda block: block.hoop and pair(*block.hoop))
    yield from _of_blocks(materials, "hoop, outside", lambda block: block.frame and pair(*block.frame))
    yield from _of_blocks(materials, f"block, finished, {unit}", lambda block: show(block.finished))
    settings = [size.project.setting for size in materials.sizes]
    if any(settings):
        yield Row(label="blocks", cells=tuple((_blocks(setting) if setting else ABSENT,) for setting in settings))
    bound = [size.plan.sizes and show(size.plan.sizes.bound) for size in materials.sizes]
    if any(bound):
        yield Row(label=f"quilt, bound, {unit}", cells=tuple((text or ABSENT,) for text in bound))


def _blocks(setting: Setting) -> str:
    return f"{setting.across} × {setting.down}, {setting.blocks} in all"


def _bare_pair(notation: Notation) -> Callable[[Pair], str]:
    """A size without its unit."""
    return lambda pair: f"{notation.bare(pair[0])} × {notation.bare(pair[1])}"


def _of_blocks(materials: Materials, label: str, told: Callable[[Block], str | None]) -> Iterator[Row]:
    """A row of what is told of the blocks of each size, blocks alike once; none where nothing is told of any."""
    cells = [tuple(dict.fromkeys(filter(None, map(told, size.project.blocks)))) for size in materials.sizes]
    if any(cells):
        yield Row(label=label, cells=tuple(cell or (ABSENT,) for cell in cells))


def _to_buy(materials: Materials) -> Iterator[Row]:
    for fabric in used_fabrics(materials):
        answers = [(size, answer_of(size, fabric)) for size in materials.sizes]
        pieces = [piece for _, answer in answers if answer for piece in answer.pieces]
        uses = list(dict.fromkeys(_use(materials, piece) for piece in pieces))
        cells = tuple(_bought(size, answer) if answer else (ABSENT,) for size, answer in answers)
        yield Row(label=fabric.id, notes=tuple(filter(None, (fabric.note, f"for {joined(uses)}"))), cells=cells)


def _bought(size: SizePlan, answer: FabricPlan) -> Cell:
    found, least = size.bought(answer), size.least(answer)
    yards = Notation("in").cloth(found.yards) + (_MARK if found.yards > least.yards else "")
    metres = Notation("cm").cloth(found.metres) + (_MARK if found.metres > least.metres else "")
    return (yards, metres) if size.project.unit == "in" else (metres, yards)


def _to_cut(materials: Materials) -> Iterator[Row]:
    show = _bare_pair(materials.project.notation)
    for fabric in used_fabrics(materials):
        yield Row(label=fabric.id)
        counts = [_counts(materials, answer_of(size, fabric)) for size in materials.sizes]
        for part in dict.fromkeys(part for count in counts for part in count):
            cells = tuple(_cut(show, count.get(part, {})) for count in counts)
            yield Row(label=part, cells=cells)


def _counts(materials: Materials, answer: FabricPlan | None) -> dict[str, dict[Pair, int]]:
    """By part, how many are cut of each size."""
    parts: dict[str, dict[Pair, int]] = {}
    for piece in answer.pieces if answer else ():
        counts = parts.setdefault(_use(materials, piece), {})
        size = piece.across, piece.along
        counts[size] = counts.get(size, 0) + piece.count
    return parts


def _cut(show: Callable[[Pair], str], counts: dict[Pair, int]) -> Cell:
    return tuple(f"{count} of {show(size)}" for size, count in counts.items()) or (ABSENT,)


def _cost(materials: Materials) -> Iterator[Row]:
    costs = [size.cost for size in materials.sizes]
    if not any(costs):
        return
    for fabric in used_fabrics(materials):
        answers = [answer_of(size, fabric) for size in materials.sizes]
        cells = tuple((ABSENT if answer is None or answer.cost is None else str(answer.cost),) for answer in answers)
        if fabric.price is not None:
            price = f"{float(fabric.price):.2f} a {'yard' if materials.project.unit == 'in' else 'metre'}"
            yield Row(label=f"{fabric.id}, {price}", cells=cells)
    unpriced = list(dict.fromkeys(name for cost in costs if cost for name in cost.unpriced))
    notes = (f"without {joined(unpriced)}, of unknown price",) if unpriced else ()
    yield Row(label="together", notes=notes, cells=tuple((str(cost.total) if cost else ABSENT,) for cost in costs))
    if materials.project.copies > 1:
        yield Row(label="each copy", cells=tuple((str(cost.each) if cost else ABSENT,) for cost in costs))
