"""How many rows of trade facts are asserted, read from the names of the tests in this folder.

A test of the rows B6 and B7 is called ``test_b6_b7_…``, and says in a comment where the figures are from.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

NAME = re.compile(r"test_((?:[uwkbrplmchxa]\d{1,2}_)+)")
SOURCE = re.compile(r"# (Source: |common practice, no source|from memory|derived)")
FILES = sorted(Path(__file__).parent.glob("test_*.py"))
LEAST = 55


def named_after_rows() -> dict[str, tuple[set[str], str]]:
    """The rows and the text of every test that is named after some."""
    found = {}
    for file in FILES:
        text = file.read_text(encoding="utf-8")
        for node in ast.parse(text).body:
            if isinstance(node, ast.FunctionDef) and (match := NAME.match(node.name)):
                rows = set(match[1].strip("_").split("_"))
                found[node.name] = rows, ast.get_source_segment(text, node) or ""
    return found


TESTS = named_after_rows()


def test_enough_different_rows_are_asserted() -> None:
    """At least 55 different rows."""
    rows = set().union(*(rows for rows, _ in TESTS.values()))

    assert len(rows) >= LEAST, sorted(rows)


@pytest.mark.parametrize("name", TESTS)
def test_each_names_its_source_and_asserts_something(name: str) -> None:
    """Every row's id stands beside its source, and there is an assertion."""
    rows, text = TESTS[name]

    assert SOURCE.search(text)
    assert all(re.search(rf"\b{row.upper()}\b", text) for row in rows)
    assert re.search(r"^ +assert |pytest\.raises", text, re.MULTILINE)
