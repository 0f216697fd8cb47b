"""Every piece of a project as a page to hand out, before any cloth is thought of."""

from __future__ import annotations

from collections.abc import Iterator

from ellwand.lengths import Notation
from ellwand.model import Part, Piece, Quilt
from ellwand.project.tables import Fabric, Project, Way
from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.mixes import any_of
from ellwand_cli.views.tables import wrapped
from ellwand_cli.views.typeset import joined
from ellwand_cli.views.way import sizes_on_the_way

__all__ = ["pieces_page"]

_WIDTH = 100  # signs a line, for paper
_HEADS = ("piece", "count", "finished", "cut size", "grain")
_NUMBERS = 1  # the column that is set to the right
_GAP = "  "
_LEGEND = {
    "count": "how many to cut",
    "finished": "seam line to seam line, across × down; of a block's triangles, the square that they make",
    "cut size": "seams, margins and spare included; across the width of the cloth × along its selvage",
    "grain": "either: the piece may lie a quarter turned; fixed: it lies as its cut size says",
    "open": "how it is cut is settled with the layout: whole or joined, along the selvage or not",
}
_WAYS = {Way.ANY: "", Way.ONE_WAY: " (one-way: neither turned nor upside down)", Way.STRIPE: " (striped: not turned)"}


def pieces_page(project: Project, quilt: Quilt) -> str:
    """The quilt's sizes on the way, then every fabric's pieces with their place, their sum and what follows."""
    groups = {fabric: _groups(quilt.parts, fabric.id) for fabric in project.fabrics.values()}
    rows = [row for found in groups.values() for group in found for row in _rows(project.notation, group)]
    columns = _columns([_HEADS, *rows])
    blocks = [_head(project), sizes_on_the_way(project, quilt), _legend(rows)]
    blocks += [_fabric(project.notation, fabric, found, columns) for fabric, found in groups.items() if found]
    return "\n\n".join([*filter(None, blocks), wrapped(CAUTIONS, _WIDTH)]) + "\n"


def _head(project: Project) -> str:
    lines = [wrapped(project.name, _WIDTH), "Pieces to cut, fabric by fabric, and how each size came about."]
    if project.copies > 1:
        lines.append(f"Counts are for all {project.copies} copies; places and sums are of one.")
    return "\n".join(lines)


def _legend(rows: list[tuple[str, ...]]) -> str:
    named = dict(_LEGEND)
    if not any(row[-1] == "open" for row in rows):
        del named["open"]
    return "\n".join(_hanging(f"{name:<10}", text) for name, text in named.items())


def _groups(parts: tuple[Part, ...], fabric: str) -> list[list[Piece]]:
    """A fabric's pieces; those of which the same is told but name, count and place are together."""
    groups: list[list[Piece]] = []
    for piece in (piece for part in parts if part.fabric == fabric for piece in part.pieces):
        same = next((group for group in groups if _alike(group[0], piece)), None)
        if same is None:
            groups.append([piece])
        else:
            same.append(piece)
    return groups


def _alike(first: Piece, piece: Piece) -> bool:
    told = piece.why in (first.why, f"as {first.id}") and piece.after == first.after
    size = (piece.across, piece.along, piece.finished) == (first.across, first.along, first.finished)
    return told and size and _grain(piece) == _grain(first)


def _rows(notation: Notation, group: list[Piece]) -> Iterator[tuple[str, ...]]:
    for piece in group:
        finished = notation.pair(*piece.finished) if piece.finished else "–"
        yield piece.id, str(piece.count), finished, notation.pair(piece.across, piece.along), _grain(piece)


def _grain(piece: Piece) -> str:
    if piece.open_form:
        return "open"
    return "either" if piece.turnable else "fixed"


def _columns(rows: list[tuple[str, ...]]) -> tuple[int, ...]:
    """Widths of the columns, the same for every fabric; the first gives way where a name is very long."""
    name, *others = (max(map(len, column)) for column in zip(*rows, strict=True))
    return min(name, _WIDTH - sum(others) - len(_GAP) * len(others)), *others


def _fabric(notation: Notation, fabric: Fabric, groups: list[list[Piece]], columns: tuple[int, ...]) -> str:
    mix = any_of(fabric) if fabric.any_of else ""
    title = " – ".join(filter(None, (fabric.id, fabric.note, mix))) + _WAYS[fabric.way]
    blocks = ["\n".join([wrapped(title, _WIDTH), "─" * _WIDTH, _line(_HEADS, columns)])]
    for group in groups:
        lines = [_line(row, columns) for row in _rows(notation, group)]
        blocks.append("\n".join([*lines, *_details(group)]))
    return "\n\n".join([*blocks, _total([piece for group in groups for piece in group])])


def _line(cells: tuple[str, ...], columns: tuple[int, ...]) -> str:
    """One row; a name too long for its column stands on a line of its own."""
    name, *others = cells
    above, name = (f"{name}\n", "") if len(name) > columns[0] else ("", name)
    padded = [
        cell.rjust(width) if number == _NUMBERS else cell.ljust(width)
        for number, (cell, width) in enumerate(zip((name, *others), columns, strict=True))
    ]
    return above + _GAP.join(padded).rstrip()


def _details(group: list[Piece]) -> Iterator[str]:
    """Where the pieces go, how their size came about, and what is done after cutting."""
    places = dict.fromkeys(piece.where for piece in group if piece.where)
    if places:
        yield _hanging("    where  ", "; ".join(places))
    yield _hanging("    sum    ", group[0].why)
    if group[0].after:
        yield _hanging("    then   ", group[0].after)


def _hanging(lead: str, text: str) -> str:
    """`text` behind `lead`; where it takes several lines, they end with its clauses as far as can be."""
    rest = " " * len(lead)
    lines: list[str] = []
    for clause in text.replace("; ", ";\n").splitlines():
        if lines and len(f"{lead}{lines[-1]} {clause}") <= _WIDTH:
            lines[-1] += f" {clause}"
        else:
            lines.append(clause)
    return "\n".join(
        wrapped(line, _WIDTH, first=rest if number else lead, rest=rest) for number, line in enumerate(lines)
    )


def _total(pieces: list[Piece]) -> str:
    count, kinds = sum(piece.count for piece in pieces), len(pieces)
    open_ = joined([piece.id for piece in pieces if piece.open_form])
    remark = f" ({open_} counted once, though perhaps joined from several)" if open_ else ""
    return wrapped(f"In all: {_counted(count, 'piece')} of {_counted(kinds, 'kind')}{remark}.", _WIDTH)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
