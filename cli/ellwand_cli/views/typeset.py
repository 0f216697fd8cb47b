"""Text measured before it is drawn: widths, shortening, wrapping. Points throughout.

Everything is set in DejaVu Sans, which comes with matplotlib, so that a measured width is the drawn width.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from ellwand_cli.views.ties import words

if TYPE_CHECKING:
    from matplotlib.font_manager import FontProperties

__all__ = [
    "FAMILY",
    "LEADING",
    "SMALLEST",
    "drawn_width",
    "font",
    "joined",
    "printable",
    "shorten",
    "text_width",
    "wrap",
]

FAMILY = "DejaVu Sans"
SMALLEST = 7.0  # no text on any drawing is smaller
LEADING = 1.25  # line to line, in text sizes
_SAFETY = 1.04  # screens set small type a little wider than paper
_MISSING = "\N{WHITE VERTICAL RECTANGLE}"
_UNSEEN = {"\N{ZERO WIDTH JOINER}", "\N{VARIATION SELECTOR-15}", "\N{VARIATION SELECTOR-16}", "\N{ZERO WIDTH SPACE}"}


def printable(text: str) -> str:
    """`text` on one line, with a small box for every sign that the font lacks.

    Examples
    --------
    >>> printable("a spool: \N{SPOOL OF THREAD}")
    'a spool: ▯'
    """
    known = _known_signs()
    signs = (" " if sign.isspace() else sign for sign in text if sign not in _UNSEEN)
    return "".join(sign if ord(sign) in known else _MISSING for sign in signs)


@cache
def _known_signs() -> frozenset[int]:
    from matplotlib.font_manager import findfont, get_font

    charts = [set(get_font(findfont(font(1.0, bold))).get_charmap()) for bold in (False, True)]
    return frozenset(charts[0] & charts[1])


@cache
def font(size: float, bold: bool) -> FontProperties:
    """The font of all words, at `size` points; shared, so not to be changed."""
    from matplotlib.font_manager import FontProperties

    return FontProperties(family=FAMILY, size=size, weight="bold" if bold else "normal")


@lru_cache(maxsize=20_000)
def drawn_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line of `text` at `size` points, as it is drawn."""
    from matplotlib.textpath import text_to_path

    if not text:
        return 0.0
    return float(text_to_path.get_text_width_height_descent(text, font(size, bold), ismath=False)[0])


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Room that one line of `text` at `size` points takes."""
    return _SAFETY * drawn_width(text, size, bold=bold)


def shorten(text: str, width: float, size: float, *, bold: bool = False) -> str:
    """`text` as it is where it fits `width`, else as much of its start as fits, and an ellipsis."""
    if text_width(text, size, bold=bold) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        fits = text_width(text[:middle].rstrip() + "…", size, bold=bold) <= width
        low, high = (middle, high) if fits else (low, middle - 1)
    return text[:low].rstrip() + "…"


@lru_cache(maxsize=20_000)  # every way to divide a page wraps the same words
def wrap(text: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """`text` in lines no wider than `width`; a size stays whole, a word wider than that is broken where it must be."""
    lines: list[str] = []
    line, used = "", 0.0
    space = text_width(" ", size, bold=bold)
    for word in words(text):
        length = text_width(word, size, bold=bold)  # word by word: most come again, and are measured once
        if line and used + space + length <= width:
            line, used = f"{line} {word}", used + space + length
            continue
        if line:
            lines.append(line)
        *full, line = _broken(word, width, size, bold)
        lines.extend(full)
        used = text_width(line, size, bold=bold)
    return (*lines, line) if line else tuple(lines)


def _broken(word: str, width: float, size: float, bold: bool) -> list[str]:
    """`word` in bits that fit `width`, at least one sign each."""
    bits = []
    while text_width(word, size, bold=bold) > width and len(word) > 1:
        low, high = 1, len(word) - 1
        while low < high:
            middle = (low + high + 1) // 2
            fits = text_width(word[:middle], size, bold=bold) <= width
            low, high = (middle, high) if fits else (low, middle - 1)
        bits.append(word[:low])
        word = word[low:]
    return [*bits, word]


def joined(words: Iterable[str]) -> str:
    """Words in a row: "a, b and c"."""
    *most, last = list(words) or [""]
    return f"{', '.join(most)} and {last}" if most else last
