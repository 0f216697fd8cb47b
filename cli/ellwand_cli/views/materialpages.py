"""The materials table as pages to print: a column for every size, as many pages as it takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from typing import TYPE_CHECKING

from ellwand.materials import Materials
from ellwand_cli.views.files import SETTINGS, pdf_metadata
from ellwand_cli.views.flow import Item, Part, gap, paragraph, total_height
from ellwand_cli.views.materials import Row, Section, foot_notes, head_notes, sections
from ellwand_cli.views.palette import BRASS, SOFT
from ellwand_cli.views.paper import Page, Paper, content_box, draw_page, usual_paper
from ellwand_cli.views.pen import Box, rule, write
from ellwand_cli.views.typeset import LEADING, printable, shorten, text_width, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["material_figures", "materials_pdf"]

_SIZE = 7.5
_NOTES = 8.0
_LINE = _SIZE * LEADING
_GAP = 8.0  # between columns
_LABEL = 112.0  # least width of the first column
_HEAD = 22.0  # height of a heading with the rule below it


def materials_pdf(materials: Materials, paper: Paper | None = None) -> bytes:
    """The pages as a PDF file; equal tables make equal bytes."""
    from matplotlib import rc_context
    from matplotlib.backends.backend_pdf import PdfPages

    buffer = BytesIO()
    metadata = pdf_metadata(f"{materials.project.name}: materials", "What to buy and cut for each size.")
    with rc_context(SETTINGS), PdfPages(buffer, metadata=metadata) as file:  # type: ignore[arg-type]
        for figure in material_figures(materials, paper):
            file.savefig(figure)
    return buffer.getvalue()


def material_figures(materials: Materials, paper: Paper | None = None) -> tuple[Figure, ...]:
    """Every page as a figure; on the usual paper of the project's unit where none is said."""
    found = sections(materials)
    grids = _grids(materials, found, paper or usual_paper(materials.project.unit))
    pages = [page for grid in grids for page in _pages(materials, found, grid)]
    return tuple(draw_page(page, materials.project.name, number, len(pages)) for number, page in enumerate(pages, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """The sizes that stand side by side on a page, across if `wide`: their names, numbers and columns' widths.

    `label` is the width of the first column.
    """

    paper: Paper
    wide: bool
    names: tuple[str, ...]
    columns: tuple[int, ...]
    label: float
    widths: tuple[float, ...]


def _grids(materials: Materials, found: Sequence[Section], paper: Paper) -> list[_Grid]:
    """All sizes on one upright page if they go, else on one across, else in as few groups as such pages hold."""
    names = [printable(size.project.size) for size in materials.sizes]
    widths = [_width(found, names[index], index) for index in range(len(names))]
    room = {wide: content_box(paper, wide).w - _LABEL for wide in (False, True)}
    wide = sum(widths) > room[False]
    some = next(some for some in range(len(names), 0, -1) if some == 1 or _go(widths, some, room[wide]))
    groups = [tuple(range(start, min(start + some, len(names)))) for start in range(0, len(names), some)]
    return [
        _grid(found, names, group, [min(widths[index], room[wide]) for index in group], paper, wide) for group in groups
    ]


def _grid(
    found: Sequence[Section],
    names: Sequence[str],
    group: tuple[int, ...],
    widths: Sequence[float],
    paper: Paper,
    wide: bool,
) -> _Grid:
    """The columns of `group`; what the first does not need is shared by the others."""
    texts = [printable(text) for section in found for row in section.rows for text in (row.label, *row.notes)]
    leads = [row.label for section in found for row in section.rows if not row.cells]
    longest = max(text_width(text, _SIZE, bold=True) for text in texts) + _lead_width(leads)
    left = content_box(paper, wide).w - sum(widths)
    label = min(left, max(_LABEL, longest + _GAP))
    more = (left - label) / len(group)
    return _Grid(
        paper=paper,
        wide=wide,
        names=tuple(names[index] for index in group),
        columns=group,
        label=label,
        widths=tuple(width + more for width in widths),
    )


def _go(widths: Sequence[float], some: int, room: float) -> bool:
    """Whether `some` columns at a time go side by side."""
    return all(sum(widths[start : start + some]) <= room for start in range(0, len(widths), some))


def _width(found: Sequence[Section], name: str, index: int) -> float:
    lines = [line for section in found for row in section.rows if row.cells for line in row.cells[index]]
    longest = max((text_width(line, _SIZE) for line in lines), default=0.0)
    return max(longest, text_width(name, _NOTES, bold=True)) + _GAP


def _pages(materials: Materials, found: Sequence[Section], grid: _Grid) -> list[Page]:
    """Sections one below the other; one that goes on on the next page begins there with its heading again."""
    box = content_box(grid.paper, grid.wide)
    notes = [paragraph(printable(note), box.w, _NOTES, colour=SOFT) for note in head_notes(materials)]
    pages: list[list[Item]] = [[*notes, gap(4.0)]]
    for section in found:
        _add(pages, Item(_HEAD, partial(_draw_head, section.title, grid)), _rows(section, grid), box.h)
    foot = [gap(8.0), *(paragraph(printable(note), box.w, _NOTES, colour=SOFT) for note in foot_notes(materials))]
    if total_height([*pages[-1], *foot]) > box.h:
        pages.append([])
    pages[-1] += foot
    return [_page(items, grid, len(materials.sizes)) for items in pages]


def _add(pages: list[list[Item]], head: Item, rows: Sequence[Item], height: float) -> None:
    """Set a section on the last of `pages`, or on a new one where it does not fit, or on as many as it takes."""
    if total_height([*pages[-1], head, *rows]) > height:
        pages.append([])
    pages[-1].append(head)
    for row in rows:
        if total_height([*pages[-1], row]) > height:
            pages.append([head])
        pages[-1].append(row)


def _rows(section: Section, grid: _Grid) -> list[Item]:
    """The rows; one without cells heads those that follow, and stands before the first of them."""
    leads = [row.label for row in section.rows if not row.cells]
    indent = min(grid.label / 2, _lead_width(leads))
    rows: list[Item] = []
    lead = ""
    for row in section.rows:
        if row.cells:
            rows.append(_row(row, lead, indent, grid))
        lead = "" if row.cells else row.label
    return rows


def _lead_width(leads: Sequence[str]) -> float:
    return max((text_width(printable(lead), _SIZE, bold=True) + _GAP for lead in leads), default=0.0)


def _page(items: Sequence[Item], grid: _Grid, count: int) -> Page:
    box = content_box(grid.paper, grid.wide)
    top = box.top
    parts: list[Part] = []
    for item in items:
        top -= item.height
        parts.append(partial(_draw_item, item, Box(box.x, top, box.w, item.height)))
    facts = "Sizes: " + ", ".join(grid.names)
    title = f"Materials for {count} {'size' if count == 1 else 'sizes'}"
    return Page(paper=grid.paper, wide=grid.wide, title=title, facts=facts, parts=tuple(parts))


def _draw_item(item: Item, box: Box, ax: Axes) -> None:
    item.draw(ax, box)


def _draw_head(title: str, grid: _Grid, ax: Axes, box: Box) -> None:
    write(ax, (box.x, box.y + 5), title, 9.0, bold=True)
    x = box.x + grid.label
    for name, width in zip(grid.names, grid.widths, strict=True):
        write(ax, (x, box.y + 5), shorten(name, width - 2, _NOTES, bold=True), _NOTES, bold=True)
        x += width
    rule(ax, [((box.x, box.y + 1), (box.right, box.y + 1))], colour=BRASS, width=0.8)


def _row(row: Row, lead: str, indent: float, grid: _Grid) -> Item:
    room = grid.label - _GAP - indent
    words = _Words(
        lead=shorten(printable(lead), indent, _SIZE, bold=True),
        indent=indent,
        label=wrap(printable(row.label), room, _SIZE, bold=bool(row.notes)),
        notes=tuple(line for note in row.notes for line in wrap(printable(note), room, _SIZE)),
        cells=tuple(row.cells[index] for index in grid.columns),
    )
    lines = max(len(words.label) + len(words.notes), *map(len, words.cells))
    return Item(lines * _LINE + 3.0, partial(_draw_row, words, grid))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Words:
    """What a row says, in lines that fit: label and notes begin `indent` points to the right, behind `lead`."""

    lead: str
    indent: float
    label: tuple[str, ...]
    notes: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...]


def _draw_row(words: _Words, grid: _Grid, ax: Axes, box: Box) -> None:
    write(ax, (box.x, _baseline(box, 0)), words.lead, _SIZE, bold=True)
    x = box.x + words.indent
    for number, line in enumerate(words.label):
        write(ax, (x, _baseline(box, number)), line, _SIZE, bold=bool(words.notes))
    for number, line in enumerate(words.notes, len(words.label)):
        write(ax, (x, _baseline(box, number)), line, _SIZE, colour=SOFT)
    x = box.x + grid.label
    for cell, width in zip(words.cells, grid.widths, strict=True):
        for number, line in enumerate(cell):
            write(ax, (x, _baseline(box, number)), shorten(printable(line), width, _SIZE), _SIZE)
        x += width
    rule(ax, [((box.x, box.y + 0.5), (box.right, box.y + 0.5))], colour=SOFT, width=0.2)


def _baseline(box: Box, number: int) -> float:
    return box.top - _SIZE - 1.0 - number * _LINE
