"""How the reader shows what it found: short, on one line, harmless to a terminal."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time
from difflib import get_close_matches
from fractions import Fraction

__all__ = ["Unreadable", "listed", "meant", "plain", "printable", "shown"]

_LONGEST = 40
_LARGEST = 10**12
_KINDS: dict[type, str] = {list: "a list", dict: "a table", date: "a date", time: "a time of day"}


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A number that is none for us: ``inf``, ``nan``, or one with very many digits."""

    text: str

    def __str__(self) -> str:
        return self.text if len(self.text) <= 12 else f"{self.text[:12]}…"


def printable(text: str) -> str:
    r"""`text` with whatever cannot be printed replaced.

    Examples
    --------
    >>> printable("ink\n")
    'ink�'
    """
    return text if text.isprintable() else "".join(sign if sign.isprintable() else "�" for sign in text)


def plain(text: str) -> str:
    """`text` printable and cut short."""
    return printable(text if len(text) <= _LONGEST else text[:_LONGEST] + "…")


def shown(value: object) -> str:
    """A value of a TOML file as a sentence names it.

    Examples
    --------
    >>> shown("two"), shown(True), shown([1, 2]), shown(Fraction(5, 2))
    ('"two"', 'true', 'a list', '2.5')
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | Fraction):
        return f"{float(value):.12g}" if -_LARGEST < value < _LARGEST else "a number of more than 12 digits"
    if isinstance(value, str):
        return f'"{plain(value)}"'
    if isinstance(value, Unreadable):
        return str(value)
    return next(word for kind, word in _KINDS.items() if isinstance(value, kind))


def listed(words: Iterable[str]) -> str:
    """`words` as a sentence lists them.

    Examples
    --------
    >>> listed(["a", "b", "c"])
    'a, b or c'
    """
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


def meant(word: str, known: Iterable[str]) -> str:
    """What `word` was most likely meant to be among the `known`, as advice.

    Examples
    --------
    >>> meant("widht", ["width", "name"]), meant("zigzag", ["width", "name"])
    ('Did you mean "width"?', 'Known here: width, name.')
    """
    names = list(known)
    close = get_close_matches(plain(word), names, n=1)
    if close:
        return f'Did you mean "{close[0]}"?'
    return f"Known here: {', '.join(plain(name) for name in names[:20])}."
