"""Short ids to pin on cloth: a letter and a number, such as K7.

I, O, Q and Z are no ids' letters, so that nothing reads like 1, 0 or 2; the first sign is always a letter and the
others never are.
"""

from __future__ import annotations

import re

__all__ = ["LARGEST_ID", "number_of", "read_id", "short_id"]

_LETTERS = "ABCDEFGHJKLMNPRSTUVWXY"
LARGEST_ID = len(_LETTERS) * 10**6  # no cloth comes in with the number of a later one


def short_id(number: int) -> str:
    """The id that is given as number `number`, from 0.

    Examples
    --------
    >>> short_id(0), short_id(1), short_id(22)
    ('A1', 'B1', 'A2')
    """
    row, letter = divmod(number, len(_LETTERS))
    return f"{_LETTERS[letter]}{row + 1}"


def number_of(short: str) -> int | None:
    """As which number `short` is given; None where it is no id.

    Examples
    --------
    >>> number_of("A2"), number_of("O1"), number_of("A0")
    (22, None, None)
    """
    match = re.fullmatch(rf"([{_LETTERS}])([1-9][0-9]{{0,8}})", short)
    return None if match is None else _LETTERS.index(match[1]) + len(_LETTERS) * (int(match[2]) - 1)


def read_id(text: str) -> str:
    """An id as somebody types it, as it is written.

    Examples
    --------
    >>> read_id(" k7 ")
    'K7'
    """
    return text.strip().upper()
