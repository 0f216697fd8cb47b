"""Names in scripts that run from right to left, kept from turning round the numbers that follow them."""

from __future__ import annotations

import re

__all__ = ["runs", "steady"]

_MARK = "\N{LEFT-TO-RIGHT MARK}"
# Letters of Hebrew, Arabic and their kin, and their forms for print. Source: Unicode Standard Annex 9, R and AL.
_LETTER = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff"
_WORDS = re.compile(f"([{_LETTER}]+(?:[^\\w{_LETTER}]+[{_LETTER}]+)*)")


def runs(text: str) -> tuple[str, ...]:
    r"""`text` in runs of one direction, each to be drawn by itself, one after the other from the left.

    Drawn as one, "2 of שלום (10 × 10 in)" has its size turned round: digits after such a word run on in its direction.

    Examples
    --------
    >>> runs("2 of \N{HEBREW LETTER SHIN} (10 in)")
    ('2 of ', 'ש', ' (10 in)')
    >>> runs("10 × 10 in")
    ('10 × 10 in',)
    """
    return tuple(filter(None, _WORDS.split(text)))


def steady(text: str) -> str:
    r"""`text` with marks between its runs, for what shows it by itself, as a browser does.

    Examples
    --------
    >>> steady("2 of \N{HEBREW LETTER SHIN} (10 in)").replace("\N{LEFT-TO-RIGHT MARK}", "|")
    '2 of |ש| (10 in)'
    """
    return _MARK.join(runs(text))
