"""Plain-text tables and paragraphs of a fixed width, so that a report reads the same in a file and on a screen."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill

from ellwand_cli.views.ties import TIE, tied

__all__ = ["WIDTH", "table", "wrapped"]

WIDTH = 110


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], *, numbers: Sequence[int] = ()) -> str:
    """A table as text; the columns in `numbers` are set to the right. Long cells are wrapped."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    grid = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for index, head in enumerate(heads):
        grid.add_column(Text(head), justify="right" if index in numbers else "left", overflow="fold")
    for row in rows:
        grid.add_row(*(Text(cell) for cell in row))
    console = Console(width=WIDTH, color_system=None, force_terminal=False, legacy_windows=False)
    with console.capture() as capture:
        console.print(grid)
    return "\n".join(line.rstrip() for line in capture.get().splitlines())


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
