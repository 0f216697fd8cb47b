"""Long plain tables, quickly: a column is as wide as its longest cell, and nothing is wrapped."""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["columns"]


def columns(heads: Sequence[str], rows: Sequence[Sequence[str]], *, numbers: Sequence[int] = ()) -> str:
    """A table as text, columns without any cell left out; those in `numbers` are set to the right.

    Examples
    --------
    >>> print(columns(("id", "lot", "count"), [("K7", "", "2"), ("A11", "", "10")], numbers=(2,)))
    id   count
    K7       2
    A11     10
    """
    kept = [index for index in range(len(heads)) if any(row[index] for row in rows)]
    wide = {index: max(_width(row[index]) for row in (heads, *rows)) for index in kept}

    def cell(row: Sequence[str], index: int) -> str:
        space = " " * (wide[index] - _width(row[index]))
        return space + row[index] if index in numbers else row[index] + space

    return "\n".join("  ".join(cell(row, index) for index in kept).rstrip() for row in (heads, *rows))


def _width(text: str) -> int:
    """How many columns of a terminal `text` takes: some signs take two."""
    if text.isascii():
        return len(text)
    from rich.cells import cell_len

    return cell_len(text)
