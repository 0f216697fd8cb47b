"""Where a line of text may end: between words, but never within a size or before what counts it."""

from __future__ import annotations

import re

__all__ = ["TIE", "tied", "words"]

TIE = "\N{NO-BREAK SPACE}"
_WITHIN = re.compile(
    r"(?<=\d) (?=\d+/\d|in\b|cm\b|mm\b|m\b|yd\b|left\b|%)"  # 2 1/2 in, 7 left, 5 %
    r"|(?<=\d;) (?=\d[\d /.]*\))"  # (13; 8 1/2)
    r"|(?<=\S) (?=× )|(?<=[×≈]) (?=\S)"  # 2 × 3, ≈ 4
)


def tied(text: str) -> str:
    """`text` with ties for the spaces at which no line may end.

    Examples
    --------
    >>> tied("cut 2 1/2 × 10 in of it").replace(TIE, "~")
    'cut 2~1/2~×~10~in of it'
    """
    return _WITHIN.sub(TIE, text)


def words(text: str) -> tuple[str, ...]:
    """The words of `text`, each size being one.

    Examples
    --------
    >>> words("at (13; 8 1/2), of which 1 1/2 left")
    ('at', '(13; 8 1/2),', 'of', 'which', '1 1/2 left')
    >>> words("cut 2 1/2 × 10 in of it")
    ('cut', '2 1/2 × 10 in', 'of', 'it')
    """
    return tuple(word.replace(TIE, " ") for word in tied(" ".join(text.split())).split(" ") if word)
