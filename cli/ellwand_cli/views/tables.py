"""Plain-text tables and paragraphs of a fixed width, so that a report reads the same in a file and on a screen."""

from __future__ import annotations

import re
from collections.abc import Sequence
from textwrap import fill
from typing import Literal

from ellwand_cli.views.ties import TIE, tied

__all__ = ["WIDTH", "table", "wrapped"]

WIDTH = 110
_SHORT = 24  # signs of a cell that is not wrapped
_TIE = "\ue000"  # of private use, one column wide: the library that wraps the cells ends lines at a no-break space, too


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], *, numbers: Sequence[int] = ()) -> str:
    """A table as text; the columns in `numbers` are set to the right. Long cells are wrapped, sizes stay whole."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    grid = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    whole = [[_whole(cell) for cell in row] for row in rows]
    for index, head in enumerate(heads):
        side: Literal["left", "right"] = "right" if index in numbers else "left"
        kept = all(" " not in row[index] and len(row[index]) <= _SHORT for row in whole)
        grid.add_column(Text(head), justify=side, overflow="fold", no_wrap=kept)
    for row in whole:
        grid.add_row(*map(Text, row))
    console = Console(width=WIDTH, color_system=None, force_terminal=False, legacy_windows=False)
    with console.capture() as capture:
        console.print(grid)
    return "\n".join(line.replace(_TIE, " ").rstrip() for line in capture.get().splitlines())


def _whole(cell: str) -> str:
    """A cell of which no line end parts a size, a sum that is added, or a numbered cloth: `ink 2`."""
    return re.sub(r" (?=\d+(?:,|$))|(?<=[+−]) (?=\d)", TIE, tied(cell)).replace(TIE, _TIE)


def wrapped(text: str, width: int, *, first: str = "", rest: str = "") -> str:
    """`text` in lines of at most `width` signs, `first` before it and `rest` before further lines; sizes stay whole.

    Examples
    --------
    >>> print(wrapped("8 stitched + 2 × 1 1/2 margin = 11 in", 20, first="sum  ", rest="     "))
    sum  8 stitched +
         2 × 1 1/2
         margin = 11 in
    """
    lines = fill(tied(text), width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return lines.replace(TIE, " ") if text else first.rstrip()
