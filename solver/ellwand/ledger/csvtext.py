"""The text of a CSV file and its rows: as spreadsheets write it, and so that none takes a cell for a formula."""

from __future__ import annotations

import csv
import re
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterable, Iterator, Sequence
from io import StringIO

from ellwand.errors import InputError

__all__ = ["decoded", "rows_of_text", "text_of_rows"]

_FORMULA = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")
_ESCAPED = re.compile(r"'+[=+\-@\t\r\n＝＋－＠]")
_ENCODINGS = {BOM_UTF8: "utf-8-sig", BOM_UTF16_LE: "utf-16", BOM_UTF16_BE: "utf-16"}
_SEPARATOR = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)
_QUOTES = "A cell has at most 100 000 signs; quotes stand round a whole cell, and are doubled within"
_LARGEST = 50_000_000  # bytes
Row = tuple[int, list[str]]  # the line where it begins, and its cells


def decoded(data: bytes, where: str) -> str:
    """The text of a file: UTF-8, or UTF-16 that says so.

    Raises
    ------
    InputError
        It is neither, or too large.
    """
    if len(data) > _LARGEST:
        raise InputError(where=where, found="the file is too large", wanted="At most 50 MB")
    encoding = next((name for mark, name in _ENCODINGS.items() if data.startswith(mark)), "utf-8")
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = "it is no UTF-8 text"
        raise InputError(where=f"{where}: line {line}", found=found, hint="Save it as CSV, UTF-8") from None


def rows_of_text(text: str, where: str, *, known: Iterable[str]) -> Iterator[Row]:
    """Rows with something in them; cells without the spaces round them, harmless formulas as they were.

    The delimiter is the one of comma, semicolon and tab by which the first row has most of the words that are `known`,
    and of as many most cells, unless a line ``sep=;`` says it.

    Raises
    ------
    InputError
        The file breaks off within quotes, or the like.
    """
    said = _SEPARATOR.match(text)
    body = text[said.end() :] if said else text
    reader = csv.reader(StringIO(body, newline=""), delimiter=said[1] if said else _delimiter(body, known), strict=True)
    before = after = 1 if said else 0
    try:
        for cells in reader:
            before, after = after, reader.line_num + (1 if said else 0)
            row = [_as_it_was(cell) for cell in cells]
            if any(row):
                yield before + 1, row
    except csv.Error as error:
        raise InputError(where=f"{where}: line {after + 1}", found=f"cannot be read ({error})", hint=_QUOTES) from None


def text_of_rows(rows: Iterable[Sequence[str]]) -> str:
    """`rows` as the text of a CSV file, with commas, every line ended as spreadsheets end it."""
    text = StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows([_harmless(cell) for cell in row] for row in rows)
    return text.getvalue()


def _delimiter(text: str, known: Iterable[str]) -> str:
    words = set(known)

    def found(delimiter: str) -> tuple[int, int]:
        try:
            cells = next(csv.reader(StringIO(text, newline=""), delimiter=delimiter), [])
        except csv.Error:
            return 0, 0
        return sum(cell.strip().lower() in words for cell in cells), len(cells)

    return max(",;\t", key=found)


def _harmless(cell: str) -> str:
    """What a spreadsheet could take for a formula begins with an apostrophe; so may not what has one already."""
    return f"'{cell}" if _FORMULA.match(cell) else cell


def _as_it_was(cell: str) -> str:
    cell = cell.strip()
    return cell[1:] if _ESCAPED.match(cell) else cell
