"""Cutting sheets to print: an overview, then every cloth with its drawing, its key and its cut list."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from io import BytesIO
from math import ceil
from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Plan
from ellwand_cli.views.arrange import Arrangement, Survey, pages, survey
from ellwand_cli.views.cloth import Spread, draw_spread
from ellwand_cli.views.cutlist import Step, steps_of
from ellwand_cli.views.drawing import cloth_source, cloth_title
from ellwand_cli.views.files import SETTINGS, pdf_metadata
from ellwand_cli.views.flow import Item, Part, flow, paragraph, together, total_height
from ellwand_cli.views.key import KEY_ROW, Entry, draw_entry, key_entries
from ellwand_cli.views.overview import overview_pages
from ellwand_cli.views.paper import Page, content_box, draw_page
from ellwand_cli.views.pen import Box
from ellwand_cli.views.words import how_sure

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["cutting_sheets", "sheet_figures"]

_TEXT = 8.0
_GUTTER = 16.0
_LARGE_ENOUGH = 340.0  # points of usable width
_LEAST_SHARE = 0.4  # of a page's height that the drawing keeps when words go below it


def cutting_sheets(plan: Plan) -> bytes:
    """The sheets as a PDF file; equal plans make equal bytes."""
    from matplotlib import rc_context
    from matplotlib.backends.backend_pdf import PdfPages

    buffer = BytesIO()
    metadata = pdf_metadata(f"{plan.project.name}: cutting sheets", "One page or more for every cloth.")
    with rc_context(SETTINGS), PdfPages(buffer, metadata=metadata) as file:  # type: ignore[arg-type]
        for figure in sheet_figures(plan):
            file.savefig(figure)
    return buffer.getvalue()


def sheet_figures(plan: Plan) -> tuple[Figure, ...]:
    """Every page as a figure."""
    layouts = [(answer, layout) for answer in plan.fabrics for layout in answer.layouts]
    sheets = [*overview_pages(plan), *(page for pair in layouts for page in _cloth_pages(plan, *pair))]
    total = len(sheets)
    return tuple(draw_page(page, plan.project.name, number, total) for number, page in enumerate(sheets, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Composition:
    """One way to divide a page: the drawing's box, columns for words on this page and on pages that follow."""

    wide: bool
    drawing: Box
    columns: tuple[Box, ...]
    later: tuple[Box, ...]
    items: tuple[Item, ...]
    arrangements: tuple[Arrangement, ...]

    @property
    def fits(self) -> bool:
        """Whether all words go on the drawing's page."""
        return len(flow(self.items, self.columns, self.later)) == 1

    @property
    def merit(self) -> float:
        """Size of the drawing as far as it helps, less where there is more than one page to look at."""
        found = self.arrangements[0]
        size = min(found.scale * float(found.edges.usable), _LARGE_ENOUGH) / len(self.arrangements)
        return size * (1.0 if self.fits else 0.6) * (0.95 if self.wide else 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Content:
    """All that is told of one cloth."""

    plan: Plan
    answer: FabricPlan
    layout: Layout
    cloth: Survey
    key: tuple[Entry, ...]
    steps: tuple[Step, ...]

    def words(self, width: float, blanks: int = 0) -> tuple[Item, ...]:
        """Key and cut list, to flow in columns of `width`; `blanks` empty rows end the key."""
        key = [Item(KEY_ROW, partial(_draw_entry, entry)) for entry in self.key]
        head = paragraph("Cut in this order", width, 9.0, bold=True)
        steps = [item for number, words in self.steps for item in paragraph(words, width, _TEXT, lead=number or "–")]
        return (
            *key,
            *[Item(KEY_ROW, _draw_gap)] * blanks,
            Item(8.0, _draw_gap),
            together([*head, *steps[:1]]),
            *steps[1:],
        )


def _cloth_pages(plan: Plan, answer: FabricPlan, layout: Layout) -> list[Page]:
    """One cloth's pages: drawings first, then what is left of its words."""
    content = _content(plan, answer, layout)
    ways = (_beside, _below, _apart)
    composition = max((way(content, wide) for wide in (False, True) for way in ways), key=lambda found: found.merit)
    words = flow(composition.items, composition.columns, composition.later)
    drawings = [_drawing(content, arrangement, composition.drawing) for arrangement in composition.arrangements]
    parts: list[tuple[Part, ...]] = [(drawings[0], *words[0]), *((drawing,) for drawing in drawings[1:]), *words[1:]]
    title = cloth_title(answer, layout)
    facts = f"{cloth_source(plan, answer, layout)}  ·  {how_sure(answer)}"
    return [Page(wide=composition.wide, title=title, facts=facts, parts=paper) for paper in parts]


def _content(plan: Plan, answer: FabricPlan, layout: Layout) -> _Content:
    cloth = survey(answer, layout)
    return _Content(
        plan=plan,
        answer=answer,
        layout=layout,
        cloth=cloth,
        key=key_entries(plan, answer, layout, cloth),
        steps=steps_of(plan, answer, layout),
    )


def _drawing(content: _Content, arrangement: Arrangement, box: Box) -> Part:
    spread = Spread(
        plan=content.plan, fabric_plan=content.answer, layout=content.layout, arrangement=arrangement, box=box
    )
    return partial(draw_spread, spread)


def _beside(content: _Content, wide: bool) -> _Composition:
    """Words in a column beside the drawing."""
    page = content_box(wide)
    width = 220.0 if wide else 172.0
    drawing = Box(page.x, page.y, page.w - width - _GUTTER, page.h)
    return _Composition(
        wide=wide,
        drawing=drawing,
        columns=(Box(page.right - width, page.y, width, page.h),),
        later=_columns(page, int((page.w + _GUTTER) // (width + _GUTTER)), width),
        items=content.words(width),
        arrangements=pages(content.cloth, drawing.w, drawing.h),
    )


def _below(content: _Content, wide: bool) -> _Composition:
    """Words in columns below the drawing, close to it."""
    page = content_box(wide)
    count, width = _usual_columns(page, wide)
    items = content.words(width)
    needed = total_height(items) / count + 24
    height = min(needed, page.h * (1 - _LEAST_SHARE))
    drawing = Box(page.x, page.y + height + 6, page.w, page.h - height - 6)
    arrangements = pages(content.cloth, drawing.w, drawing.h)
    room = page.h - arrangements[0].h - 14
    words = Box(page.x, page.y + max(0.0, room - needed), page.w, min(room, needed))
    return _Composition(
        wide=wide,
        drawing=drawing,
        columns=_columns(words, count, width),
        later=_columns(page, count, width),
        items=items,
        arrangements=arrangements,
    )


def _apart(content: _Content, wide: bool) -> _Composition:
    """The drawing with its key alone, the cut list on the next page."""
    page = content_box(wide)
    count, width = _usual_columns(page, wide)
    rows = ceil(len(content.key) / count)
    height = rows * KEY_ROW
    drawing = Box(page.x, page.y + height + 6, page.w, page.h - height - 6)
    return _Composition(
        wide=wide,
        drawing=drawing,
        columns=_columns(Box(page.x, page.y, page.w, height), count, width),
        later=_columns(page, count, width),
        items=content.words(width, blanks=count * rows - len(content.key)),
        arrangements=pages(content.cloth, drawing.w, drawing.h),
    )


def _usual_columns(page: Box, wide: bool) -> tuple[int, float]:
    """Number and width of the columns that fill a page."""
    count = 3 if wide else 2
    return count, (page.w - (count - 1) * _GUTTER) / count


def _columns(page: Box, count: int, width: float) -> tuple[Box, ...]:
    return tuple(Box(page.x + number * (width + _GUTTER), page.y, width, page.h) for number in range(count))


def _draw_entry(entry: Entry, ax: Axes, box: Box) -> None:
    draw_entry(ax, entry, box)


def _draw_gap(ax: Axes, box: Box) -> None:
    """Room between key and list."""
