"""The starter explains every key, and what it says holds."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from ellwand.errors import InputError
from ellwand.project.read import parse_project, read_project
from ellwand.project.starter import STARTER, write_starter
from ellwand.quilt.work import work_out

UNCOMMENTED = re.sub(r"(?m)^#(?=\w)", "", STARTER)
TABLES = sorted(set(re.findall(r"(?m)^(\[+[a-z_.-]+\]+)", STARTER)))


def test_the_starter_reads_and_works_out_as_it_stands(tmp_path: Path) -> None:
    """Tests that the first thing a new user types gives pieces of every part, and no warning."""
    path = tmp_path / "mine.toml"
    write_starter(path)
    quilt = work_out(read_project(path))

    assert {part.name.split("/")[0] for part in quilt.parts} == {
        "wren", "hedge", "sash", "cornerstone", "inner", "outer", "binding", "backing", "batting", "sleeve",
        "stabiliser", "label",
    }  # fmt: skip
    assert quilt.warnings == ()


def test_what_the_starter_says_holds_anyway_holds() -> None:
    """Tests that taking the # away from every default changes nothing."""
    assert UNCOMMENTED.count("\n#") < STARTER.count("\n#") - 40

    assert parse_project(UNCOMMENTED, "mine.toml") == parse_project(STARTER, "mine.toml")


@pytest.mark.parametrize("table", TABLES)
def test_the_starter_shows_every_key(table: str) -> None:
    """Tests that each key a table may have stands in a table of that kind, with a value, if only in a comment."""
    with pytest.raises(InputError) as caught:
        parse_project(STARTER.replace(table, f"{table}\nzzz = 1", 1), "mine.toml")
    known = re.fullmatch(r"Known here: (.*)\.", caught.value.hint)
    assert known is not None

    kind = re.sub(r"fabric\.[a-z-]+", "fabric.NAME", table)
    tables = re.split(r"(?m)^(?=\[)", re.sub(r"(?m)^(\[+)fabric\.[a-z-]+", r"\1fabric.NAME", UNCOMMENTED))
    shown = {key for text in tables if text.startswith(kind) for key in re.findall(r"(?<!\w)(\w+) =", text)}
    shown |= {"piece"} if kind == "[[block]]" else set()
    shown |= {"on_hand"} if kind == "[fabric.NAME]" else set()
    assert set(known[1].split(", ")) <= shown


def test_the_starter_fits_a_page() -> None:
    """Tests that no line of the starter is wider than an editor's window."""
    assert max(len(line) for line in STARTER.splitlines()) <= 120


def test_nothing_is_ever_overwritten(tmp_path: Path) -> None:
    """Tests that a file that is there already keeps its words."""
    path = tmp_path / "mine.toml"
    path.write_text("my own words", encoding="utf-8")

    with pytest.raises(InputError) as caught:
        write_starter(path)

    assert str(caught.value) == f"{path}: is there already, and stays as it is. Choose another name."
    assert path.read_text(encoding="utf-8") == "my own words"


def test_a_missing_folder_gets_a_sentence(tmp_path: Path) -> None:
    """Tests that a place where nothing can be written is an input error."""
    with pytest.raises(InputError, match="cannot be written"):
        write_starter(tmp_path / "nowhere" / "mine.toml")
