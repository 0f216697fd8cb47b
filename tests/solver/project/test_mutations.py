"""Whatever is done to the starter, it is read or answered with an input error: nothing else ever comes out."""

from __future__ import annotations

import re
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.errors import InputError
from ellwand.project.read import parse_project
from ellwand.project.starter import STARTER
from ellwand.project.tables import Project

LINES = STARTER.splitlines()
KEYS = [number for number, line in enumerate(LINES) if "=" in line.split("#")[0]]

# Values as they stand in a file: sound ones, ones of a wrong kind, and ones without sense.
VALUES = st.sampled_from(
    [
        "0", "-1", "1", "3", "1e9", "1e3000000", "inf", "nan", "0x" + "f" * 400, "9" * 5000, "0.1", "true", "[]", "{}",
        "[[1, 2], 3]", "[1, 2]", "[1, 2, 3]", "[{}]", "[{ name = 3 }]", '{ top = "x" }', "1979-05-27", "07:32:00",
        "1979-05-27T07:32:00Z", '""', '" "', '"3 %"', '"100 %"', '["3 %", "49.9 %"]', '"any"', '"either"', '"mitred"',
        '"cm"', '"on point"', '"geese"', '"half-square"', '"cornerstones"', '"bias"',
        '"1/0 in"', '"2 in 1/2"', '"1/3 in"', '"2 m"', '"night"', '"x/y"', '"\\u202e"', '"\\u0000"', "'''\n'''",
    ]
)  # fmt: skip


def _is_answered(text: str | bytes) -> bool:
    """Whether `text` is read, or refused in one printable line that starts with the file's name."""
    try:
        return isinstance(parse_project(text, "mine.toml"), Project)
    except InputError as error:
        return str(error).startswith("mine.toml: ") and str(error).isprintable()


@settings(deadline=None, derandomize=True, max_examples=400)
@given(st.sampled_from(KEYS), VALUES)
def test_any_value_is_read_or_refused(number: int, value: str) -> None:
    """Tests that any key may have any value without a traceback."""
    lines = LINES.copy()
    lines[number] = f"{lines[number].split('=')[0].lstrip('#')} = {value}"
    assert _is_answered("\n".join(lines))


@settings(deadline=None, derandomize=True, max_examples=200)
@given(st.sampled_from(KEYS), st.text(max_size=30), VALUES)
def test_any_key_is_read_or_refused(number: int, key: str, value: str) -> None:
    """Tests that any key may be renamed to anything, or be joined by anything, without a traceback."""
    lines = LINES.copy()
    lines[number] = f"{_quoted(key)} = {value}"
    assert _is_answered("\n".join(lines))
    lines.insert(number, LINES[number])
    assert _is_answered("\n".join(lines))


@settings(deadline=None, derandomize=True, max_examples=200)
@given(st.sets(st.integers(0, len(LINES) - 1), min_size=1, max_size=8))
def test_any_lines_may_be_missing(numbers: set[int]) -> None:
    """Tests that lines may be taken away, table titles too, without a traceback."""
    assert _is_answered("\n".join(line for number, line in enumerate(LINES) if number not in numbers))


@settings(deadline=None, derandomize=True, max_examples=200)
@given(st.binary(max_size=40), st.integers(0, len(STARTER)))
def test_any_bytes_may_come_between(noise: bytes, at: int) -> None:
    """Tests that a damaged file is read or refused."""
    data = STARTER.encode()
    assert _is_answered(data[:at] + noise + data[at:])


@settings(deadline=None, derandomize=True, max_examples=200)
@given(st.text(max_size=70))
def test_any_text_may_be_a_length(text: str) -> None:
    """Tests that whatever stands where a length belongs is read or refused."""
    lines = [f"width = {_quoted(text)}" if line.startswith("width") else line for line in LINES]
    assert _is_answered("\n".join(lines))


@pytest.mark.parametrize("value", ['"text"', "3", "[]", "[1]", "[{}]", "{}"])
@pytest.mark.parametrize("table", list(tomllib.loads(STARTER)))
def test_every_table_may_be_of_another_kind(table: str, value: str) -> None:
    """Tests that each table of the starter may be replaced by any other value without a traceback."""
    rest = re.split(r"(?m)^(?=\[)", STARTER)
    kept = "".join(text for text in rest if not re.match(rf"\[+{table}\b", text))
    assert _is_answered(f"{table} = {value}\n{kept}")


def _quoted(text: str) -> str:
    """`text` as a TOML string, whatever is in it; what TOML cannot hold is replaced."""
    return '"' + "".join(f"\\U{ord(sign):08x}" if not 0xD800 <= ord(sign) <= 0xDFFF else "?" for sign in text) + '"'
