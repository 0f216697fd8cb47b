"""The materials table as plain text and as Markdown."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ellwand.materials import Materials
from ellwand_cli.views.materials import Row, Section, foot_notes, head_notes, sections, title
from ellwand_cli.views.tables import WIDTH, table, wrapped

__all__ = ["materials_markdown", "materials_text"]

_LABEL = 30  # signs of the first column at the most
_GAP = 2
_SPECIAL = re.compile(r"([\\`*_{}\[\]<>|#])")


def materials_text(materials: Materials) -> str:
    """The table for a screen or a plain file; more sizes than go side by side stand below each other."""
    names = [size.project.size for size in materials.sizes]
    head = "\n".join([wrapped(title(materials), WIDTH), *(wrapped(note, WIDTH) for note in head_notes(materials))])
    found = [_section(section, names) for section in sections(materials)]
    return "\n\n".join([head, *found, "\n".join(wrapped(note, WIDTH) for note in foot_notes(materials))]) + "\n"


def _section(section: Section, names: Sequence[str]) -> str:
    """All sizes side by side where no cell has to be wrapped, else in as few blocks as that takes."""
    groups = (_groups(len(names), blocks) for blocks in range(1, len(names) + 1))
    found = next(group for group in groups if len(group) == len(names) or _fit(section, names, group))
    return "\n\n".join(_block(section, names, columns) for columns in found)


def _groups(count: int, blocks: int) -> list[range]:
    """`count` columns in `blocks` groups, the last perhaps smaller."""
    some = -(-count // blocks)
    return [range(start, min(start + some, count)) for start in range(0, count, some)]


def _fit(section: Section, names: Sequence[str], groups: Sequence[range]) -> bool:
    label = max(len(line) for row in section.rows for line in _label(row).splitlines())
    widths = [_width(section, names, index) for index in range(len(names))]
    return all(label + sum(widths[index] + _GAP for index in columns) <= WIDTH for columns in groups)


def _width(section: Section, names: Sequence[str], index: int) -> int:
    lines = [line for row in section.rows for line in (row.cells[index] if row.cells else ())]
    return max(map(len, [names[index], *lines]))


def _block(section: Section, names: Sequence[str], columns: Sequence[int]) -> str:
    heads = [section.title.upper(), *(names[index] for index in columns)]
    rows: list[tuple[str, ...]] = []
    for row in section.rows:
        tall = bool(row.notes) or not row.cells
        rows += [("",) * len(heads)] if rows and tall else []
        rows.append((_label(row), *("\n".join(row.cells[index]) if row.cells else "" for index in columns)))
    return table(heads, rows, numbers=range(1, len(heads)) if section.numbers else ())


def _label(row: Row) -> str:
    notes = [wrapped(note, _LABEL - _GAP, first="  ", rest="  ") for note in row.notes]
    return "\n".join([wrapped(row.label, _LABEL - _GAP), *notes])


def materials_markdown(materials: Materials) -> str:
    """The table in Markdown, a heading and a table for every part."""
    names = [size.project.size for size in materials.sizes]
    blocks = [f"# {_plain(title(materials))}", *map(_plain, head_notes(materials))]
    for section in sections(materials):
        rules = ("---", *["---:" if section.numbers else "---"] * len(names))
        lines = [("", *map(_plain, names)), rules, *(_markdown(row, len(names)) for row in section.rows)]
        blocks += [f"## {section.title}", "\n".join(f"| {' | '.join(line)} |" for line in lines)]
    return "\n\n".join([*blocks, *map(_plain, foot_notes(materials))]) + "\n"


def _markdown(row: Row, columns: int) -> tuple[str, ...]:
    label = _plain(row.label) if row.cells and not row.notes else f"**{_plain(row.label)}**"
    cells = ("<br>".join(map(_plain, cell)) for cell in row.cells)
    return "<br>".join([label, *map(_plain, row.notes)]), *(cells if row.cells else [""] * columns)


def _plain(text: str) -> str:
    """`text` with the signs that Markdown would take for its own."""
    return _SPECIAL.sub(r"\\\1", text)
