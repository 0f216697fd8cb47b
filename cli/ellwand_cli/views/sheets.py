"""Cutting sheets to print: an overview, every cloth with its drawing, key, cut list and tally, and labels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, partial
from io import BytesIO
from typing import TYPE_CHECKING

from ellwand.model import FabricPlan, Layout, Plan
from ellwand_cli.views.arrange import Arrangement, Survey, pages, survey
from ellwand_cli.views.bags import bag_pages
from ellwand_cli.views.cloth import Spread, draw_spread
from ellwand_cli.views.cutlist import Step, cuts_along, steps_of
from ellwand_cli.views.files import SETTINGS, pdf_metadata
from ellwand_cli.views.flow import (
    Item,
    Part,
    columns_of,
    flow,
    gap,
    indented,
    least_columns,
    paragraph,
    together,
    total_height,
)
from ellwand_cli.views.key import Entry, draw_key, key_entries, key_height
from ellwand_cli.views.origin import cloth_source, cloth_title
from ellwand_cli.views.overview import TITLE, facts_of, overview_pages, reading
from ellwand_cli.views.paper import GUTTER, Page, Paper, content_box, draw_page, flowed, usual_paper
from ellwand_cli.views.pattern import materials_pages
from ellwand_cli.views.pen import Box, write
from ellwand_cli.views.piecelabels import label_pages
from ellwand_cli.views.quilt import quilt_pages
from ellwand_cli.views.ruler import with_ruler
from ellwand_cli.views.tally import tally_items, tally_rows, tally_title
from ellwand_cli.views.typeset import text_width
from ellwand_cli.views.words import how_sure

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["cutting_sheets", "sheet_figures"]

_TEXT = 8.0
_LARGE_ENOUGH = 340.0  # points of usable width
_HEADING = 24.0  # height of the list's heading with what keeps it from the key
_APART = 14.0  # between a drawing and the words below it
_LEAST_SHARE = 0.4  # of a page's height that the drawing keeps when words go below it


def cutting_sheets(plan: Plan, *, paper: Paper | None = None, stamp: str = "") -> bytes:
    """The sheets as a PDF file; equal plans and stamps make equal bytes.

    Parameters
    ----------
    paper
        What they are printed on; the usual paper of the project's unit where None.
    stamp
        What every page says beside the project's name: the plan's date and number.
    """
    from matplotlib import rc_context
    from matplotlib.backends.backend_pdf import PdfPages

    buffer = BytesIO()
    metadata = pdf_metadata(f"{plan.project.name}: cutting sheets", "One page or more for every cloth.")
    with rc_context(SETTINGS), PdfPages(buffer, metadata=metadata) as file:  # type: ignore[arg-type]
        for figure in sheet_figures(plan, paper=paper, stamp=stamp):
            file.savefig(figure)
    return buffer.getvalue()


def sheet_figures(plan: Plan, *, paper: Paper | None = None, stamp: str = "") -> tuple[Figure, ...]:
    """Every page as a figure."""
    sheets = _sheets(plan, paper or usual_paper(plan.project.unit))
    total = len(sheets)
    name = plan.project.name
    return tuple(draw_page(page, name, number, total, stamp=stamp) for number, page in enumerate(sheets, 1))


def _sheets(plan: Plan, paper: Paper) -> tuple[Page, ...]:
    """Every page in order; labels come last, for they are cut up."""
    layouts = [(answer, layout) for answer in plan.fabrics for layout in answer.shown]
    cloths = [page for pair in layouts for page in _cloth_pages(plan, *pair, paper)]
    closing = with_ruler(materials_pages(plan, paper), plan, paper)
    front, closing = _with_reading(overview_pages(plan, paper), closing, plan, paper)
    return (*front, *quilt_pages(plan, paper), *cloths, *closing, *label_pages(plan, paper), *bag_pages(plan, paper))


def _with_reading(
    front: tuple[Page, ...], closing: tuple[Page, ...], plan: Plan, paper: Paper
) -> tuple[tuple[Page, ...], tuple[Page, ...]]:
    """How to read the sheets: below the overview, or else below what closes them, or else on a page of its own."""
    item = reading(plan, content_box(paper, wide=False).w)
    page = front[-1].with_item(item)
    if page is not None:
        return (*front[:-1], page), closing
    page = closing[-1].with_item(item)
    if page is not None:
        return front, (*closing[:-1], page)
    return (*front, *flowed([item], paper, TITLE, facts_of(plan))), closing


@dataclass(frozen=True, slots=True, kw_only=True)
class _Content:
    """All that is told of one cloth, and what it is printed on."""

    plan: Plan
    paper: Paper
    answer: FabricPlan
    layout: Layout
    cloth: Survey
    key: tuple[Entry, ...]
    steps: tuple[Step, ...]

    def items(self, width: float) -> tuple[Item, ...]:
        """The cut list and the tally, to flow in columns of `width`."""
        return (*self.listed(width), *tally_items(self.plan, self.answer, self.layout, width))

    def listed(self, width: float) -> tuple[Item, ...]:
        """The cut list alone."""
        return tuple(_step_item(step, width) for step in self.steps)

    def tally(self, width: float) -> tuple[Item, ...]:
        """The tally alone, without its heading."""
        return tally_rows(self.plan, self.answer, self.layout, width)


def _step_item(step: Step, width: float) -> Item:
    """One step with its parts below it."""
    indent = text_width("88  ", _TEXT, bold=True)
    parts = [
        indented(paragraph(words, width - indent, _TEXT, lead=letter, after=1.5), indent)
        for letter, words in step.lettered
    ]
    lead = paragraph(step.words, width, _TEXT, lead=step.number or "–", after=1.5 if parts else 3.0)
    return together([lead, *parts, *([gap(2.0)] if parts else [])])


@dataclass(frozen=True, kw_only=True)
class _Composition:
    """One way to divide a page: the drawing's box, and the box of key and cut list in `count` columns.

    Without `listed` the list begins on the next page. Pages that follow have `later` columns as wide as the first's.
    """

    content: _Content
    wide: bool
    drawing: Box
    words: Box
    count: int
    later: int
    listed: bool
    arrangements: tuple[Arrangement, ...]

    @cached_property
    def papers(self) -> tuple[tuple[Part, ...], ...]:
        """Key and cut list page after page; the key comes first on each, for the list's numbers are its."""
        first = columns_of(self._below_key(self.words), self.count, GUTTER)
        page = content_box(self.content.paper, self.wide)
        later = tuple(
            Box(page.x + number * (first[0].w + GUTTER), column.y, first[0].w, column.h)
            for number, column in enumerate([self._below_key(page)] * self.later)
        )
        items = self.content.items(first[0].w)
        tally = () if self.listed else self._tally_below()
        if tally:
            items = self.content.listed(first[0].w)
        lists = flow(items, first, later) if self.listed else (tally, *flow(items, later, later))
        return tuple(
            (*self._lead(self.words if number == 0 else page, number), *parts) for number, parts in enumerate(lists)
        )

    def _tally_below(self) -> tuple[Part, ...]:
        """The tally below drawing and key, where the list is on the next page and there is room; else nothing."""
        page = content_box(self.content.paper, self.wide)
        room = Box(page.x, page.y, page.w, max(1.0, self.words.y - page.y - _HEADING))
        columns = columns_of(room, self.count, GUTTER)
        items = self.content.tally(columns[0].w)
        if len(self.arrangements) > 1 or least_columns(items, self.count, room.h) is None:
            return ()
        return partial(_draw_heading, tally_title(self.content.answer, self.content.layout), room), *flow(
            items, columns, columns
        )[0]

    def _below_key(self, box: Box) -> Box:
        return Box(box.x, box.y, box.w, max(1.0, box.h - key_height(self.content.key, box.w) - _HEADING))

    def _lead(self, box: Box, number: int) -> tuple[Part, ...]:
        """The key at the top of `box`, and the list's heading below it."""
        key = partial(_draw_key, self.content.key, box)
        if not (self.listed or number):
            return (key,)
        text = "Cut in this order, continued" if number > (0 if self.listed else 1) else "Cut in this order"
        return key, partial(_draw_heading, text, self._below_key(box))

    @property
    def fits(self) -> bool:
        """Whether all words go on the drawing's page."""
        return len(self.papers) == 1

    @property
    def merit(self) -> float:
        """Size of the drawing as far as it helps, less where there is more than one page to look at.

        A list that does not fit had better be on a page of its own than partly on the drawing's. Three columns on an
        upright page are narrow to read.
        """
        found = self.arrangements[0]
        size = min(found.scale * float(found.edges.usable), _LARGE_ENOUGH) / len(self.arrangements)
        whole = 1.0 if self.fits else 0.4 if self.listed else 0.6
        narrow = self.count == 3 and not self.wide
        return size * whole * (0.95 if self.wide else 0.85 if narrow else 1.0)


def _cloth_pages(plan: Plan, answer: FabricPlan, layout: Layout, paper: Paper) -> list[Page]:
    """One cloth's pages: drawings first, then what is left of its words."""
    content = _content(plan, answer, layout, paper)
    composition = max(_compositions(content), key=lambda found: found.merit)
    words = composition.papers
    drawings = [_drawing(content, arrangement, composition.drawing) for arrangement in composition.arrangements]
    key = partial(_draw_key, content.key, composition.words)
    parts: list[tuple[Part, ...]] = [
        (drawings[0], *words[0]),
        *((drawing, key) for drawing in drawings[1:]),
        *words[1:],
    ]
    title = cloth_title(answer, layout)
    facts = f"{cloth_source(plan, answer, layout)}  ·  {how_sure(answer)}"
    return [Page(paper=paper, wide=composition.wide, title=title, facts=facts, parts=page) for page in parts]


def _compositions(content: _Content) -> Iterator[_Composition]:
    """Every way to divide the pages, the best to read first."""
    for wide in (False, True):
        counts = (3,) if wide else (2, 3)
        yield _beside(content, wide)
        yield from (_below(content, wide, count) for count in counts)
        yield from (_apart(content, wide, count) for count in counts[:1])


def _content(plan: Plan, answer: FabricPlan, layout: Layout, paper: Paper) -> _Content:
    cloth = survey(answer, layout, lengthwise=cuts_along(plan, answer, layout))
    return _Content(
        plan=plan,
        paper=paper,
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
    page = content_box(content.paper, wide)
    width = 220.0 if wide else 196.0
    drawing = Box(page.x, page.y, page.w - width - GUTTER, page.h)
    return _Composition(
        content=content,
        wide=wide,
        drawing=drawing,
        words=Box(page.right - width, page.y, width, page.h),
        count=1,
        later=int((page.w + GUTTER) // (width + GUTTER)),
        listed=True,
        arrangements=pages(content.cloth, drawing.w, drawing.h),
    )


def _below(content: _Content, wide: bool, count: int) -> _Composition:
    """Key and `count` columns of steps below the drawing, close to it."""
    page = content_box(content.paper, wide)
    items = content.items(columns_of(page, count, GUTTER)[0].w)
    columns = least_columns(items, count, page.h) or [list(items)]
    needed = key_height(content.key, page.w) + _HEADING + max(map(total_height, columns)) + 2
    height = min(needed, page.h * (1 - _LEAST_SHARE)) + _APART
    drawing = Box(page.x, page.y + height, page.w, page.h - height)
    arrangements = pages(content.cloth, drawing.w, drawing.h)
    room = page.h - arrangements[0].h - _APART
    return _Composition(
        content=content,
        wide=wide,
        drawing=drawing,
        words=Box(page.x, page.y + max(0.0, room - needed), page.w, min(room, needed)),
        count=count,
        later=count,
        listed=True,
        arrangements=arrangements,
    )


def _apart(content: _Content, wide: bool, count: int) -> _Composition:
    """The drawing with its key alone, the cut list in `count` columns on the next page."""
    page = content_box(content.paper, wide)
    height = key_height(content.key, page.w)
    drawing = Box(page.x, page.y + height + _APART, page.w, page.h - height - _APART)
    arrangements = pages(content.cloth, drawing.w, drawing.h)
    low = page.top - max(found.h for found in arrangements) - _APART - height
    return _Composition(
        content=content,
        wide=wide,
        drawing=drawing,
        words=Box(page.x, low, page.w, height),
        count=count,
        later=count,
        listed=False,
        arrangements=arrangements,
    )


def _draw_key(entries: tuple[Entry, ...], box: Box, ax: Axes) -> None:
    draw_key(ax, entries, box)


def _draw_heading(text: str, below: Box, ax: Axes) -> None:
    write(ax, (below.x, below.top + 6), text, 9.0, bold=True)
