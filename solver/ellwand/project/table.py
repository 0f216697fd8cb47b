"""One table of a project file, asked key by key; every complaint names file, table and key."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import partial
from typing import TypeVar

from ellwand.errors import InputError
from ellwand.lengths import parse_length, parse_percent, unit_length
from ellwand.project.tables import Margins
from ellwand.project.wording import listed, meant, plain, printable, shown

__all__ = ["MOST", "UNIT_NAMES", "Pair", "Table", "name_fault"]

Pair = tuple[Fraction, Fraction]
Value = TypeVar("Value")
Choice = TypeVar("Choice", bound=Enum)

MOST = 1_000_000  # of anything that is counted
_LONGEST_LENGTH = 10_000  # inches
_LONGEST_NAME = 80
_JOINERS = "\u200c\u200d"  # some scripts cannot be spelt without them
_NOT_IN_NAMES = {"Cc", "Cf", "Cs", "Zl", "Zp"}  # control, bidirectional and the like
UNIT_NAMES = {"in": "inches", "cm": "centimetres"}
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_DOWN = "across first, then down"
_PERCENT = re.compile(r'"\s*\d{1,2}([.,]\d{1,4})?\s*%\s*"')
_NOT_YET = "is not worked out by this version"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table, where it stands, and the unit of its bare numbers.

    Getters take the value to use where the key is absent; without one the key must be there.
    Each raises an :class:`~ellwand.errors.InputError` that says what would be right.
    """

    where: str
    values: Mapping[str, object]
    unit: str

    def only(self, *keys: str) -> None:
        """Complain about any key but `keys`."""
        for key in self.values:
            if key in keys:
                continue
            raise InputError(where=self.where, found=f'there is no "{plain(key)}" here', hint=meant(key, keys))

    def error(self, key: str, found: str, wanted: str = "", hint: str = "") -> InputError:
        """The complaint about the value of `key`."""
        return InputError(where=f"{self.where}: {key}", found=found, wanted=wanted, hint=hint)

    def has(self, key: str) -> bool:
        """Whether the file says anything for `key`."""
        return key in self.values

    def length(self, key: str, default: Fraction | None = None, *, zero: bool = False) -> Fraction:
        """A length in inches: text with a unit, or a bare number in the project's; more than 0 unless `zero`."""
        return self._read(key, default, "2 1/2 in", lambda value: self._length(key, value, zero=zero))

    def pair(self, key: str) -> Pair:
        """Two lengths, across and down, both more than 0."""
        return self._read(
            key, None, ["8 in", "8 in"], lambda value: self._two(key, value, self._length, _DOWN, "[8, 8]")
        )

    def place(self, key: str) -> Pair:
        """Two lengths on the cloth, across and along, each from 0 up."""
        return self._read(key, None, [3, 5], lambda value: self._place(key, value, "[3, 5]"))

    def corners(self, key: str) -> tuple[Pair, ...]:
        """A list of points, each two lengths from 0 up, across and along."""
        values = self._read(key, None, [[0, 0], [18, 0], [0, 21]], lambda value: value)
        if not isinstance(values, list) or not all(isinstance(value, list) for value in values):
            found = f"{shown(values)} is no list of corners" if not isinstance(values, list) else "a corner is no pair"
            raise self.error(key, found, "Write each in brackets: [[0, 0], [18, 0], [0, 21]]")
        return tuple(self._place(key, value, "[18, 21]") for value in values)

    def shares(self, key: str, default: Pair | None = None) -> Pair:
        """Two shares, across and down, each more than 0 and at most 1."""
        return self._read(key, default, [1, 1], lambda value: self._two(key, value, self._share, _DOWN, "[1, 0.5]"))

    def percents(self, key: str, default: Pair | None = None, *, under: int = 100) -> Pair:
        """Two percentages, lengthwise and crosswise, each less than `under` %."""
        pair = self._read(key, default, ["3 %", "2 %"], lambda value: self._percents(key, value))
        if max(pair) * 100 >= under:
            raise self.error(key, f"{shown(max(pair) * 100)} % is too much", f"It must be less than {under} %")
        return pair

    def percent(self, key: str, default: Fraction) -> Fraction:
        """A percentage, less than 100 %."""
        return self._read(key, default, "10 %", lambda value: self._percent(key, value))

    def margins(self, key: str, default: Fraction) -> Margins:
        """What is added on each side: one length all round, or a table of sides, each with the same default."""
        if not isinstance(self.values.get(key), dict):
            everywhere = self.length(key, default, zero=True)
            return Margins(top=everywhere, right=everywhere, bottom=everywhere, left=everywhere)
        sides = self._inner(key)
        sides.only("top", "right", "bottom", "left")
        top, right, bottom, left = (
            sides.length(side, default, zero=True) for side in ("top", "right", "bottom", "left")
        )
        return Margins(top=top, right=right, bottom=bottom, left=left)

    def count(self, key: str, default: int | None = None, *, least: int = 1, most: int = MOST) -> int:
        """A whole number from `least` to `most`."""
        return self._read(key, default, 12, lambda value: self._count(key, value, least, most))

    def number(self, key: str) -> Fraction:
        """A plain number from 0 to a million, such as a price."""
        return self._read(key, None, 12.50, lambda value: self._number(key, value))

    def flag(self, key: str, *, default: bool) -> bool:
        """True or false."""
        return self._read(key, default, True, lambda value: self._flag(key, value))

    def text(self, key: str, default: str | None = None) -> str:
        """A short line of text."""
        return self._read(key, default, "a name", lambda value: self._text(key, value))

    def word(self, key: str, default: str, words: Iterable[str]) -> str:
        """One of `words`."""
        return self._read(key, default, default, lambda value: self._word(key, value, tuple(words)))

    def choice(self, key: str, default: Choice) -> Choice:
        """A member of the enumeration of `default`, by its value."""
        kind = type(default)
        return kind(self.word(key, str(default.value), (str(member.value) for member in kind)))

    def known(self, key: str, names: Iterable[str], kind: str) -> str:
        """A name that must be one of `names`, each the title of a table of that `kind`."""
        name = self.text(key)
        known = list(names)
        if name not in known:
            title = name if _BARE_KEY.fullmatch(name) else f'"{plain(name)}"'
            hint = meant(name, known) if known else f"Add it as [{kind}.{title}]"
            raise self.error(key, f'there is no {kind} "{plain(name)}"', hint=hint)
        return name

    def later(self, key: str, hint: str) -> InputError:
        """The complaint about a value of `key` that a later version will know."""
        return self.error(key, f"{shown(self.values[key])} {_NOT_YET}", hint=hint)

    def table(self, key: str) -> Table | None:
        """The table ``[key]``, or None."""
        return self._inner(key) if self.has(key) else None

    def tables(self, key: str, written: str = "") -> tuple[Table, ...]:
        """The tables ``[[key]]``, in the file's order, each titled with its name; `written` shows how to write one."""
        values = self.values.get(key, [])
        if not isinstance(values, list) or not all(isinstance(value, dict) for value in values):
            found = "one table alone" if isinstance(values, dict) else shown(values)
            raise self.error(key, f"{found} cannot be used here", hint=f"Write {written or f'[[{key}]]'}")
        return tuple(self._one(key, number, value) for number, value in enumerate(values, 1))

    def children(self, kind: str) -> dict[str, Table]:
        """Every key as a table ``[kind.KEY]``, titled with this table's title and the key."""
        return {key: self._child(key, kind) for key in self.values}

    def _child(self, key: str, kind: str) -> Table:
        self._name(self.where, key)
        values = self._inner(key, f"{kind}.NAME").values
        return Table(where=f'{self.where} "{key}"', values=values, unit=self.unit)

    def _inner(self, key: str, title: str = "") -> Table:
        value = self.values[key]
        if not isinstance(value, dict):
            hint = f"Write one table, [{title or key}], with its keys below"
            raise self.error(key, f"{shown(value)} cannot be used here", hint=hint)
        return Table(where=f"{self.where}: {key}", values=value, unit=self.unit)

    def _one(self, key: str, number: int, values: Mapping[str, object]) -> Table:
        name = values.get("name")
        title = f'"{name}"' if isinstance(name, str) and not name_fault(name) else str(number)
        return Table(where=f"{self.where}: {key} {title}", values=values, unit=self.unit)

    def _read(self, key: str, default: Value | None, example: object, read: Callable[[object], Value]) -> Value:
        if key in self.values:
            return read(self.values[key])
        if default is None:
            raise InputError(where=self.where, found=f'"{key}" is missing', hint=f"Write {key} = {_written(example)}")
        return default

    def _percents(self, key: str, value: object) -> Pair:
        once = shown(value) if isinstance(value, str) else ""
        example = f"[{once}, {once}]" if _PERCENT.fullmatch(once) else '["3 %", "2 %"]'
        return self._two(key, value, self._percent, "lengthwise first, then crosswise", example)

    def _two(self, key: str, value: object, read: Callable[[str, object], Fraction], order: str, example: str) -> Pair:
        if not isinstance(value, list) or len(value) != 2:
            raise self.error(key, f"{shown(value)} is no pair", f"Write two values in brackets, {order}: {example}")
        return read(key, value[0]), read(key, value[1])

    def _place(self, key: str, value: object, example: str) -> Pair:
        return self._two(key, value, partial(self._length, zero=True), "across first, then along", example)

    def _length(self, key: str, value: object, *, zero: bool = False) -> Fraction:
        if isinstance(value, str):
            length = self._spelt(key, value, lambda text: parse_length(text, unit=self.unit))
        else:
            wanted = f'Write a length such as "2 1/2 in", or a plain number of {UNIT_NAMES[self.unit]}'
            length = self._plain_number(key, value, wanted) * unit_length(self.unit)
        if length > _LONGEST_LENGTH:
            raise self.error(key, f"{shown(value)} is too long", f"A length is at most {_LONGEST_LENGTH} in")
        if length < 0 or (length == 0 and not zero):
            raise self.error(
                key, f"{shown(value)} is too short", f"It must be {'0 or more' if zero else 'more than 0'}"
            )
        return length

    def _share(self, key: str, value: object) -> Fraction:
        wanted = 'Write a share such as 1, 0.5 or "1/3"'
        match = re.fullmatch(r"(\d{1,4})/([1-9]\d{0,3})", value) if isinstance(value, str) else None
        share = Fraction(int(match[1]), int(match[2])) if match else self._plain_number(key, value, wanted)
        if not 0 < share <= 1:
            raise self.error(key, f"{shown(value)} is no share", "A share is more than 0 and at most 1")
        return share

    def _percent(self, key: str, value: object) -> Fraction:
        if not isinstance(value, str):
            raise self.error(key, f"{shown(value)} is no percentage", 'Write it in quotes with its sign: "3 %"')
        return self._spelt(key, value, parse_percent)

    def _spelt(self, key: str, text: str, read: Callable[[str], Fraction]) -> Fraction:
        """What `read` makes of `text`, its complaint turned into ours."""
        try:
            return read(text)
        except ValueError as error:
            found, _, tries = str(error).partition("; try ")
            raise self.error(key, printable(found), hint=f"Try {tries}" if tries else "") from None

    def _plain_number(self, key: str, value: object, wanted: str) -> Fraction:
        if isinstance(value, bool) or not isinstance(value, int | Fraction):
            raise self.error(key, f"{shown(value)} cannot be used here", wanted)
        return Fraction(value)

    def _count(self, key: str, value: object, least: int, most: int) -> int:
        wanted = f"Write a whole number from {least} to {most}"
        number = self._plain_number(key, value, wanted)
        if number.denominator != 1 or not least <= number <= most:
            raise self.error(key, f"{shown(value)} cannot be used here", wanted)
        return int(number)

    def _number(self, key: str, value: object) -> Fraction:
        wanted = "Write a plain number from 0 to 1000000"
        number = self._plain_number(key, value, wanted)
        if not 0 <= number <= MOST:
            raise self.error(key, f"{shown(value)} cannot be used here", wanted)
        return number

    def _flag(self, key: str, value: object) -> bool:
        if not isinstance(value, bool):
            raise self.error(key, f"{shown(value)} cannot be used here", "Write true or false, without quotes")
        return value

    def _text(self, key: str, value: object) -> str:
        if not isinstance(value, str):
            raise self.error(key, f"{shown(value)} is no text", 'Write text in quotes: "a name"')
        self._name(f"{self.where}: {key}", value)
        return value

    def _name(self, where: str, name: str) -> None:
        fault = name_fault(name)
        if fault:
            raise InputError(where=where, found=f"{shown(name)} {fault}", wanted="Use plain letters")

    def _word(self, key: str, value: object, words: tuple[str, ...]) -> str:
        quoted = [f'"{word}"' for word in words]
        if not isinstance(value, str) or value not in words:
            raise self.error(key, f"{shown(value)} cannot be used here", f"Use {listed(quoted)}")
        return value


def name_fault(name: str, *, longest: int = _LONGEST_NAME) -> str:
    """What is wrong with a name or a line of words, or nothing."""
    if not name.strip(" " + _JOINERS):
        return "is empty"
    if name != name.strip():
        return "starts or ends with a space"
    if len(name) > longest:
        return f"is longer than {longest} letters"
    if not name.isprintable() and any(_hidden(sign) for sign in name):
        return "has signs in it that cannot be seen"
    return ""


def _hidden(sign: str) -> bool:
    return sign in "\ufffe\uffff" or (unicodedata.category(sign) in _NOT_IN_NAMES and sign not in _JOINERS)


def _written(example: object) -> str:
    """An example as it stands in a project file."""
    if isinstance(example, list):
        return "[" + ", ".join(_written(value) for value in example) + "]"
    return f'"{example}"' if isinstance(example, str) else str(example).lower()
