"""The first sheet: a card for every fabric – have, buy, cost, pieces, and where the cloth goes – and how to read on."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import accumulate
from typing import TYPE_CHECKING

from ellwand.areas import area_of
from ellwand.lengths import Notation
from ellwand.model import Area, FabricPlan, Layout, Plan, Source
from ellwand.project.tables import Style
from ellwand_cli.views.flow import Item, paragraph, together
from ellwand_cli.views.lays import bolt_lines, lay_lines, together_line
from ellwand_cli.views.mixes import mix_lines
from ellwand_cli.views.origin import is_missing, width_words
from ellwand_cli.views.palette import INK, MAPLE, PAPER, SCRAP, SELVAGE, SOFT, SQUARING, WALNUT, Pattern, Swatch
from ellwand_cli.views.paper import Page, Paper, content_box, flowed
from ellwand_cli.views.pen import Box, fill, frame, hatch, write
from ellwand_cli.views.typeset import SMALLEST, printable, shorten, text_width, wrap
from ellwand_cli.views.wishes import wish_line
from ellwand_cli.views.words import (
    buy_line,
    cost_line,
    how_sure,
    largest_offcut,
    on_hand_line,
    one_cloth_line,
    short_line,
    waste_parts,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["TITLE", "facts_of", "overview_pages", "reading"]

TITLE = "What to buy and where it goes"
_PLAIN = Pattern.PLAIN
_LOOKS = (  # of the parts that words.waste_parts names, in its order
    Swatch(tint=WALNUT, line=WALNUT, pattern=_PLAIN),
    Swatch(tint=PAPER, line=SOFT, pattern=_PLAIN),
    SCRAP,
    Swatch(tint=SELVAGE, line=SOFT, pattern=_PLAIN),
    SQUARING,
    Swatch(tint=MAPLE, line=WALNUT, pattern=Pattern.DOTS),
)
_COLUMNS = (0.0, 0.22, 0.56, 0.70, 0.88, 1.0)  # left edges of have, buy, cost, pieces, waste; shares of the width
_SMALL = 7.5
_SHEETS = (
    "Each sheet shows one cloth to scale, its squared end at the bottom and its width across the page; the measuring "
    "sticks start at the inner edge of the left selvage (at the left edge where there is none) and at the squared "
    "end. Sizes are cut sizes, across the width × along the selvage.",
    "A piece carries its name and size, or a number that the key explains; white boxes with a dashed outline are "
    "offcuts worth keeping; light grey with broken strokes is scrap.",
)
_STRIPS = (
    "To its right stand its strips, or below it where the first cuts run along it: the step that cuts each off the "
    "cloth, with the letter of one that is cut up further, and its width. Where a strip is cut from folded cloth, thin "
    "long strokes show the folds."
)
_CARE = (
    "Measure the real cloth first: if it is narrower or shorter than its sheet says, plan again before the first cut. "
    "Strips of one size can be cut from folded cloth, as a rule four layers at most."
)


def overview_pages(plan: Plan, paper: Paper) -> tuple[Page, ...]:
    """The overview, on as many pages as its fabrics take."""
    box = content_box(paper, wide=False)
    items = [_card(plan, answer, box.w) for answer in plan.fabrics]
    items.append(paragraph(_total(plan), box.w, 9.0, bold=True, after=6.0))
    items += [paragraph(line, box.w, 8.0) for line in mix_lines(plan)]
    items += [paragraph(warning, box.w, 8.0, lead="!") for warning in plan.warnings]
    return flowed(items, paper, TITLE, facts_of(plan))


def reading(plan: Plan, width: float) -> Item:
    """How to read the sheets, with its heading."""
    strips = f" {_STRIPS}" if plan.project.style is Style.ROTARY else ""
    texts = _SHEETS[0], _SHEETS[1] + strips, _CARE
    heading = paragraph("How to read the sheets", width, 9.0, bold=True)
    return together([heading, *(paragraph(text, width, _SMALL) for text in texts)])


def facts_of(plan: Plan) -> str:
    """What stands below the overview's title: the quilt's sizes."""
    if plan.sizes is None:
        return "Lengths are of cloth as it is cut."
    show = plan.project.notation.pair
    copies = f"{plan.project.copies} copies; " if plan.project.copies > 1 else ""
    return f"{copies}quilt finished {show(*plan.sizes.finished)}, bound {show(*plan.sizes.bound)}, across × down"


def _total(plan: Plan) -> str:
    cost = cost_line(plan)
    return f"All that is bought {cost}." if cost else ""


def _card(plan: Plan, answer: FabricPlan, width: float) -> Item:
    """One fabric: names and figures, the bar of its cloth, the bar's parts in words."""
    words = wrap(_goes(plan, answer), width, _SMALL)
    sure = [line for text in _sure(plan, answer) for line in wrap(printable(text), width, _SMALL)]
    height = 58.0 + (len(words) + len(sure)) * 9.5
    return Item(height, partial(_draw_card, plan, answer, sure, words))


def _area(answer: FabricPlan) -> Area:
    """Where the cloth goes that is there, or is bought; what is missing goes nowhere."""
    return answer.area if answer.enough else area_of(_there(answer))


def _there(answer: FabricPlan) -> tuple[Layout, ...]:
    return tuple(layout for layout in answer.layouts if not is_missing(answer, layout.cloth))


def _sure(plan: Plan, answer: FabricPlan) -> list[str]:
    """What is cut into and bought, and how surely; every lay and bolt has a paragraph of its own."""
    notation = plan.project.notation
    have = f"Cut from what is on hand: {on_hand_line(answer, notation)}." if _have(answer) != "none" else ""
    cloth = one_cloth_line(answer)
    have += f" {cloth[0].upper()}{cloth[1:]}." if cloth else ""
    if not answer.enough:
        short = short_line(answer, notation)
        return [f"{have} {short[0].upper()}{short[1:]}."]
    if not answer.needed:
        wishes = wish_line(answer, notation)
        return [f"{have} Nothing to buy: {how_sure(answer)}." + (f" To spare: {wishes}." if wishes else "")]
    made = "; ".join(f"{part}: {way}" for part, way in answer.constructions)
    lead = f"Needed {notation.show(answer.needed)}: {how_sure(answer)}. To buy: {buy_line(answer, notation)}."
    wishes = wish_line(answer, notation)
    rest = [f" Made so: {made}." if made else "", f" To spare: {wishes}." if wishes else ""]
    layers = [*lay_lines(answer, notation), together_line(answer, notation)] if answer.lays else []
    each = [f"{line[0].upper()}{line[1:]}." for line in (*layers, *bolt_lines(answer, notation)) if line]
    return [f"{have} {lead}{''.join(rest)}", *each]


def _goes(plan: Plan, answer: FabricPlan) -> str:
    """Where the cloth goes, in words, the largest offcut named."""
    notation = plan.project.notation
    parts = [f"{name} {share}" for name, value, share in waste_parts(_area(answer), notation) if value]
    if not parts:
        return ""
    largest = largest_offcut(_there(answer))
    tail = f"; largest offcut {notation.pair(largest.across, largest.along)}" if largest else ""
    return "Of the cloth taken: " + ", ".join(parts) + tail + "."


def _draw_card(plan: Plan, answer: FabricPlan, sure: Sequence[str], words: Sequence[str], ax: Axes, box: Box) -> None:
    note = printable(f"  {answer.fabric.note}  ·" if answer.fabric.note else "")
    note += f"  {width_words(answer.fabric, plan.project.notation)}"
    name = shorten(printable(answer.fabric.id), box.w * 0.6, 10.5, bold=True)
    write(ax, (box.x, box.top - 11), name, 10.5, bold=True)
    start = text_width(name, 10.5, bold=True)
    write(ax, (box.x + start, box.top - 11), shorten(note, box.w - start - 4, 8.5), 8.5, colour=SOFT)
    _draw_figures(ax, plan, answer, Box(box.x, box.top - 36, box.w, 22))
    _draw_bar(ax, answer, plan, Box(box.x, box.top - 51, box.w, 11))
    for number, line in enumerate([*words, *sure]):
        write(ax, (box.x, box.top - 61 - number * 9.5), line, _SMALL, colour=SOFT if number < len(words) else INK)


def _draw_figures(ax: Axes, plan: Plan, answer: FabricPlan, box: Box) -> None:
    notation = plan.project.notation
    figures = (
        ("have, cut into", _have(answer)),
        _to_get(answer, notation),
        ("cost", str(answer.cost) if answer.cost is not None and answer.steps and answer.enough else "–"),
        ("pieces", f"{sum(piece.count for piece in answer.pieces)}, {_kinds(len(answer.pieces))}"),
        ("waste", f"{_area(answer).waste_percent} %"),
    )
    for (caption, figure), left, right in zip(figures, _COLUMNS, _COLUMNS[1:], strict=False):
        x, w = box.x + left * box.w, (right - left) * box.w - 8
        write(ax, (x, box.top - 7), caption, SMALLEST, colour=SOFT)
        write(ax, (x, box.top - 18), shorten(printable(figure), w, 9.0, bold=True), 9.0, bold=True)


def _to_get(answer: FabricPlan, notation: Notation) -> tuple[str, str]:
    """What to buy; or, where nothing more is to be had, how much is missing."""
    if not answer.enough:
        return "short", notation.show(answer.needed)
    return "buy", f"{notation.cloth(answer.bought)}, {notation.show(answer.bought)}" if answer.steps else "nothing"


def _have(answer: FabricPlan) -> str:
    """How many of the cloths on hand are cut into."""
    count = sum(layout.cloth.source is Source.ON_HAND for layout in answer.layouts)
    return {0: "none", 1: "1 cloth"}.get(count, f"{count} cloths")


def _kinds(count: int) -> str:
    return "1 kind" if count == 1 else f"{count} kinds"


def _draw_bar(ax: Axes, answer: FabricPlan, plan: Plan, box: Box) -> None:
    """The cloth taken as a measuring stick, each of its parts as it is drawn on the sheets."""
    area = _area(answer)
    if not area.taken:
        return
    shares = [float(value) for _, value, _ in waste_parts(area, plan.project.notation)]
    ends = [0.0, *accumulate(share / sum(shares) for share in shares)]
    for look, low, high in zip(_LOOKS, ends, ends[1:], strict=False):
        part = Box(box.x + low * box.w, box.y, (high - low) * box.w, box.h)
        if part.w < 0.3:
            continue
        fill(ax, [part], look.tint)
        hatch(ax, look, [part])
        frame(ax, [part], width=0.6)
    _write_shares(ax, answer, plan, box, ends)


def _write_shares(ax: Axes, answer: FabricPlan, plan: Plan, box: Box, ends: Sequence[float]) -> None:
    parts = waste_parts(_area(answer), plan.project.notation)
    for look, (name, _, share), low, high in zip(_LOOKS, parts, ends, ends[1:], strict=False):
        text = f"{name} {share}"
        w = text_width(text, SMALLEST) + 6
        if w > (high - low) * box.w:
            continue
        middle = box.x + (low + high) / 2 * box.w
        fill(ax, [Box(middle - w / 2, box.y + 1, w, box.h - 2)], look.tint, above=True)
        dark = look.tint == WALNUT
        write(ax, (middle, box.y + 3), text, SMALLEST, ha="center", colour=PAPER if dark else INK)
