"""What a line that is no TOML was meant to be: guesses at what people slip into, each tried before it is told."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice

from ellwand.lengths import parse_length, parse_percent
from ellwand.project.wording import printable

__all__ = ["Slip", "find_slip"]

_LONGEST = 80  # letters of a line that are told
_LONGEST_TRIED = 400  # nobody writes a longer line by hand
_PLACE = re.compile(r"\(at line (\d+), column \d+\)$")
_AGAIN = ("Cannot declare", "Cannot overwrite", "Cannot mutate", "Duplicate")  # how tomllib speaks of what stands twice
_STATEMENT = re.compile(r"\s*((?:\"[^\"]*\"|'[^']*'|[^#])*?)\s*(?=#|$)")
_VALUE = re.compile(r"(?<=[=\[,])(\s*)([^=\[\]{},]+?)(?=\s*(?:[\],}]|$))")  # alone, in brackets or in braces
_PAIR = re.compile(r"([\w-]+ *= *)\(?([^=()\[\]{},x×]+?)\s*[x×,]\s*([^=()\[\]{},x×]+?)\)?")
_HEADING = re.compile(r"(\[{1,2})\s*([^\[\]=]+?)\s*(\]{0,2})")
_BARE = re.compile(r"[A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*'")
_STRAIGHT = str.maketrans(dict.fromkeys("“”„‟«»", '"') | dict.fromkeys("‘’‚‛", "'"))
_TRUTHS = {"true": "true", "yes": "true", "false": "false", "no": "false"}
_ANY_LINE = "A line is one table in brackets, one key = value, or a comment that starts with #"


@dataclass(frozen=True, slots=True)
class Slip:
    """A line that cannot be read: its number, what stands there, and what would be right."""

    line: int
    found: str
    hint: str


def find_slip(text: str, message: str) -> Slip:
    """What is wrong with `text`, of which tomllib says `message`."""
    lines = text.replace("\r\n", "\n").split("\n")
    place = _PLACE.search(message)
    number = _last_written(lines, int(place[1]) if place else len(lines))
    if message.startswith(_AGAIN):
        return Slip(number, f"{_told(lines[number - 1])} says again what stands further up", "Take one of the two out")
    for candidate in _candidates(lines, number):
        hint = _remedy(lines, candidate, number)
        if hint:
            return Slip(candidate, f"cannot read {_told(lines[candidate - 1])}", hint)
    if place is None:
        return Slip(number, "the file ends before a quote or a bracket is closed", "Look for it further up")
    return Slip(number, f"cannot read {_told(lines[number - 1])}", _ANY_LINE)


def _last_written(lines: list[str], number: int) -> int:
    """The last line up to `number` on which something stands."""
    return next((at for at in range(number, 0, -1) if _statement(lines[at - 1])), number)


def _candidates(lines: list[str], number: int) -> Iterator[int]:
    """The line of the fault, the one before it, whose bracket may still be open, and the first with an open quote."""
    yield number
    if number > 1:
        yield _last_written(lines, number - 1)
    yield from islice((at for at, line in enumerate(lines[: number - 1], 1) if _is_open(_statement(line))), 1)


def _is_open(statement: str) -> bool:
    return statement.count('"') % 2 == 1 or (statement.count("'") % 2 == 1 and '"' not in statement)


def _remedy(lines: list[str], candidate: int, number: int) -> str:
    """What to write on line `candidate`, so that the fault on line `number` is gone; or nothing."""
    line = lines[candidate - 1]
    if len(line) > _LONGEST_TRIED:
        return ""
    statement = _statement(line)
    for advice, mend in _MENDS:
        mended = mend(statement)
        if mended != statement and _is_read(lines, candidate, mended, number):
            return f"{advice}: {_short(mended.rstrip(','))}"
    return ""


def _is_read(lines: list[str], candidate: int, mended: str, number: int) -> bool:
    """Whether the file is read past line `number` with `mended` on line `candidate`."""
    text = "\n".join([*lines[: candidate - 1], mended, *lines[candidate:]])
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        place = _PLACE.search(str(error))
        return place is not None and int(place[1]) > number
    except (RecursionError, ValueError):
        return False
    return True


def _statement(line: str) -> str:
    """`line` without its comment and the spaces round it."""
    if len(line) > _LONGEST_TRIED:
        return line
    match = _STATEMENT.match(line)
    return match[1] if match else line


def _told(line: str) -> str:
    return f"'{_short(_statement(line) or line.strip())}'"


def _short(statement: str) -> str:
    return printable(statement if len(statement) <= _LONGEST else statement[:_LONGEST] + "…")


def _straight_quotes(statement: str) -> str:
    return statement.translate(_STRAIGHT)


def _small_letters(statement: str) -> str:
    return _VALUE.sub(lambda match: match[1] + _TRUTHS.get(match[2].lower(), match[2]), statement)


def _decimal_point(statement: str) -> str:
    return re.sub(r"^([\w-]+ *= *\d+),(\d+)$", r"\1.\2", statement)


def _quoted_percents(statement: str) -> str:
    return _VALUE.sub(lambda match: match[1] + _quoted(match[2], parse_percent), statement)


def _quoted_length(statement: str) -> str:
    """The whole value in quotes, a decimal comma in it too."""
    return re.sub(r"^([\w-]+ *= *)(.+)$", lambda match: match[1] + _quoted(match[2], _length), statement)


def _quoted_lengths(statement: str) -> str:
    return _VALUE.sub(lambda match: match[1] + _quoted(match[2], _length), statement)


def _length(value: str) -> Fraction:
    return parse_length(value, unit="in")


def _quoted(value: str, read: Callable[[str], Fraction]) -> str:
    """`value` in quotes where `read` can make sense of it and TOML cannot."""
    if re.fullmatch(r"\d+(\.\d+)?", value):
        return value
    try:
        read(value)
    except ValueError:
        return value
    return '"' + re.sub(r"\s*\"$", " in", value) + '"'


def _inches_for_marks(statement: str) -> str:
    return re.sub(r"\"([^\"=]*\d)\"\"", r'"\1 in"', statement)


def _pair(statement: str) -> str:
    match = _PAIR.fullmatch(statement)
    return f"{match[1]}[{_quoted(match[2], _length)}, {_quoted(match[3], _length)}]" if match else statement


def _closed_quote(statement: str) -> str:
    mark = '"' if statement.count('"') % 2 else "'"
    return re.sub(r"\s*[\]}]*$", lambda end: mark + end[0], statement, count=1)


def _quoted_text(statement: str) -> str:
    """The value in quotes where it starts like a word; with a = in it, it is more than a value."""
    return re.sub(r"^([\w-]+ *= *)[\"']?([^\W\d_][^\"=\[\]{}]*?)[\"']?$", r'\1"\2"', statement)


def _equals_sign(statement: str) -> str:
    return re.sub(r"^([\w-]+)(?:\s*:\s*|\s+(?=[\"'\d\[{]))", r"\1 = ", statement)


def _key_without_spaces(statement: str) -> str:
    match = re.fullmatch(r"([A-Za-z_]+(?: +[A-Za-z_]+)+) *=(.*)", statement)
    return f"{re.sub(' +', '_', match[1])} ={match[2]}" if match else statement


def _paired_brackets(statement: str) -> str:
    number = max(statement.count("["), statement.count("]"))
    match = re.fullmatch(r"\[{0,2}([^\[\]=]+)\]{0,2}", statement)
    return f"{'[' * number}{match[1].strip()}{']' * number}" if match else statement


def _quoted_name(statement: str) -> str:
    match = _HEADING.fullmatch(statement)
    if match is None:
        return statement
    parts = [part.strip() for part in match[2].split(".")]
    return match[1] + ".".join(f'"{part}"' if part and not _BARE.fullmatch(part) else part for part in parts) + match[3]


def _closed_bracket(statement: str) -> str:
    return statement + "]"


def _closed_brace(statement: str) -> str:
    return statement + " }"


def _as_comment(statement: str) -> str:
    return f"#{statement}" if re.fullmatch(r"[\w-]+ *=", statement) else statement


_MENDS: tuple[tuple[str, Callable[[str], str]], ...] = (
    ("Use straight quotes", _straight_quotes),
    ("Write true and false in small letters", _small_letters),
    ("Write a decimal point", _decimal_point),
    ("Put percentages in quotes", _quoted_percents),
    ("Put lengths in quotes", _quoted_length),
    ("Put lengths in quotes", _quoted_lengths),
    ("Write inches as in", _inches_for_marks),
    ("Write a pair in square brackets", _pair),
    ("A closing quote is missing", _closed_quote),
    ("Put text in quotes", _quoted_text),
    ("Write = between a key and its value", _equals_sign),
    ("A key has no spaces", _key_without_spaces),
    ("Brackets come in pairs", _paired_brackets),
    ("Leave spaces and accents out of a name, or put it in quotes", _quoted_name),
    ("A closing bracket is missing", _closed_bracket),
    ("A closing brace is missing", _closed_brace),
    ("Write a value behind it, or put a # in front", _as_comment),
)
