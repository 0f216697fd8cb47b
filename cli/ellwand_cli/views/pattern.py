"""The materials page of a pattern: what to buy in yards and metres, and what these amounts take for granted.

Everything on it is taken from the plan, so it cannot say anything else than the layouts do.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.materials import bought_lengths
from ellwand.model import FabricPlan, Plan, Source
from ellwand.project.tables import Way
from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.flow import Item, columns_of, gap, paragraph, together, total_height
from ellwand_cli.views.palette import SOFT
from ellwand_cli.views.paper import GUTTER, Page, Paper, content_box, flowed
from ellwand_cli.views.tables import wrapped
from ellwand_cli.views.wishes import wish_line
from ellwand_cli.views.words import how_sure, on_hand_line, percent

__all__ = ["Material", "allowances", "materials", "materials_page", "materials_pages"]

TITLE = "Materials"
_WIDTH = 100  # signs a line, for paper
_OTHER = {"in": "cm", "cm": "in"}
_WAYS = {
    Way.ONE_WAY: "one-way: pieces keep the way they hang",
    Way.STRIPE: "striped: pieces are not turned",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One fabric: its name and what it is, how much of it, and notes, a phrase each."""

    fabric: str
    amount: str
    notes: tuple[str, ...]


def materials(plan: Plan) -> tuple[Material, ...]:
    """What is needed of every fabric, in the plan's order."""
    return tuple(_material(plan, answer) for answer in plan.fabrics)


def _material(plan: Plan, answer: FabricPlan) -> Material:
    note = f" – {answer.fabric.note}" if answer.fabric.note else ""
    return Material(fabric=f"{answer.fabric.id}{note}", amount=_amount(plan, answer), notes=tuple(_notes(plan, answer)))


def _amount(plan: Plan, answer: FabricPlan) -> str:
    """The amount in the project's measure and in the other: each in its shop's own steps, and each enough."""
    notation, ruler = plan.project.notation, plan.project.ruler
    if not answer.needed:
        return "nothing to buy"
    lengths = bought_lengths(answer, notation.unit, ruler)
    yards, metres = Notation("in").cloth(lengths.yards), Notation("cm").cloth(lengths.metres)
    text = f"{metres} or {yards}" if notation.unit == "cm" else f"{yards} or {metres}"
    return text if answer.fabric.buy else f"{text}, which may not be bought"


def _notes(plan: Plan, answer: FabricPlan) -> Iterator[str]:
    fabric, notation = answer.fabric, plan.project.notation
    lost = f", {_both(notation, fabric.selvage)} lost at each selvage" if fabric.selvage else ""
    before = " before washing" if fabric.wash else ""
    yield f"{_both(notation, fabric.width)} wide{before}{lost}: {_both(notation, answer.usable_width)} to use"
    if fabric.wash:
        lengthwise, crosswise = (percent(share, Fraction(1)) for share in fabric.shrinks)
        yield f"washed before it is cut, shrinkage counted in: {lengthwise} lengthwise, {crosswise} crosswise"
    if answer.needed:
        bought = [layout.cloth.squaring for layout in answer.layouts if layout.cloth.source is Source.BUY]
        each = " every ply" if answer.lays else " every length" if len(bought) > 1 else " it"
        squared = f", and {_both(notation, sum(bought, Fraction(0)))} for squaring{each} up" if sum(bought) else ""
        yield f"{_both(notation, answer.needed)} are cut{squared}; {how_sure(answer)}"
    if answer.wishes:
        yield f"to spare: {wish_line(answer, notation)}"
    if any(layout.cloth.source is Source.ON_HAND for layout in answer.layouts):
        lead = "besides" if answer.needed else "cut from"
        yield f"{lead} cloth that is on hand: {on_hand_line(answer, notation)}"
    if fabric.way in _WAYS:
        yield _WAYS[fabric.way]


def _both(notation: Notation, length: Fraction) -> str:
    """A length in the project's unit, and near in the other."""
    return f"{notation.near(length)} ({Notation(_OTHER[notation.unit]).near(length)})"


def allowances(plan: Plan) -> tuple[str, ...]:
    """What is counted in: seams, margins, spare and overhang, a sentence each."""
    project, show = plan.project, plan.project.notation.show
    found = [f"Cut sizes are rounded up to {show(project.ruler)}; piecing seams are {show(project.seam)}."]
    blocks = {(block.seam, block.trim) for block in project.blocks if block.hooped}
    found += [
        f"Hoop-stitched blocks are joined with {show(seam)} and trimmed {show(trim)} outside their stitched edge."
        for seam, trim in sorted(blocks)
    ]
    found += [f"Border {one.name}: {show(one.extra)} spare on each strip." for one in project.borders if one.extra]
    if project.binding:
        one = project.binding
        found.append(f"Binding: strips {show(one.strip)} wide, {show(one.extra)} more than the quilt's edge in all.")
    if project.backing:
        found.append(f"Backing: {show(project.backing.overhang)} beyond the quilt's raw edge on each side.")
    if project.batting:
        found.append(f"Batting: {show(project.batting.overhang)} beyond the quilt's raw edge on each side.")
    return (*found, *_basis(plan))


def _basis(plan: Plan) -> Iterator[str]:
    """What the amounts rest on."""
    if plan.project.copies > 1:
        yield f"All amounts are for {plan.project.copies} copies together."
    if any(layout.cloth.source is Source.ON_HAND for answer in plan.fabrics for layout in answer.layouts):
        yield "These amounts count on the cloth on hand; for a pattern that others buy for, plan with --as-new."
    added = "Nothing else" if any(answer.wishes for answer in plan.fabrics) else "Nothing"
    yield f"{added} is added for mistakes: cloth that is narrower than said here, or shrinks more, may not be enough."


def _head(plan: Plan) -> str:
    """The quilt's size, or nothing."""
    if plan.sizes is None:
        return ""
    notation = plan.project.notation
    size = plan.sizes.bound if plan.project.binding else plan.sizes.finished
    across, down = size
    other = Notation(_OTHER[notation.unit])
    pair = " × ".join(other.near(side).removesuffix(f" {other.unit}") for side in (across, down))
    return f"For a quilt of {notation.pair(across, down)} ({pair} {other.unit}), across × down."


def materials_page(plan: Plan) -> str:
    """The page as plain text."""
    blocks = [f"{plan.project.name}\n{TITLE}"]
    if _head(plan):
        blocks.append(_head(plan))
    for one in materials(plan):
        lines = [wrapped(one.fabric, _WIDTH), wrapped(one.amount, _WIDTH, first="  ", rest="  ")]
        lines += [wrapped(note, _WIDTH, first="    – ", rest="      ") for note in one.notes]
        blocks.append("\n".join(lines))
    blocks.append("\n".join(wrapped(text, _WIDTH, first="– ", rest="  ") for text in allowances(plan)))
    return "\n\n".join([*blocks, wrapped(CAUTIONS, _WIDTH)]) + "\n"


def materials_pages(plan: Plan, paper: Paper) -> tuple[Page, ...]:
    """The same as printed pages: in two columns where one column does not do."""
    box = content_box(paper, wide=False)
    facts = _head(plan) or "Lengths are of cloth as it is cut."
    one, two = (columns_of(box, count, GUTTER)[0].w for count in (1, 2))
    items = [*(_item(found, one) for found in materials(plan)), *_counted(plan, one)]
    if total_height(items) <= box.h:
        return flowed(items, paper, TITLE, facts)
    items = [*(_item(found, two) for found in materials(plan)), *_counted(plan, two)]
    return flowed(items, paper, TITLE, facts, columns=2)


def _counted(plan: Plan, width: float) -> Iterator[Item]:
    """What is taken for granted, its heading with the first of it."""
    heading = paragraph("Counted in, and taken for granted", width, 9.0, bold=True)
    first, *others = (paragraph(text, width, 8.0, lead="–", after=2.0) for text in allowances(plan))
    yield together([heading, first])
    yield from others


def _item(one: Material, width: float) -> Item:
    notes = [paragraph(note, width, 8.0, lead="–", colour=SOFT, after=1.5) for note in one.notes]
    name = paragraph(one.fabric, width, 9.0, after=2.0)
    return together([name, paragraph(one.amount, width, 10.5, bold=True, after=2.0), *notes, gap(7.0)])
