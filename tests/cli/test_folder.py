"""A folder is written whole or not at all, and its files have harmless names."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.errors import InputError
from ellwand_cli.folder import safe_names, write_folder

PLAN = {"plan.json": b"{}", "report.txt": b"new"}


def test_a_folder_is_made_with_those_above_it(tmp_path: Path) -> None:
    """A folder in a folder that is not there yet is written, and nothing else beside it."""
    write_folder(tmp_path / "plans" / "kite", PLAN)

    assert {path.name: path.read_bytes() for path in (tmp_path / "plans" / "kite").iterdir()} == PLAN
    assert [path.name for path in (tmp_path / "plans").iterdir()] == ["kite"]


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    """A folder made beforehand is as good as none."""
    (tmp_path / "kite").mkdir()

    write_folder(tmp_path / "kite", PLAN)

    assert {path.name: path.read_bytes() for path in (tmp_path / "kite").iterdir()} == PLAN


def test_what_a_file_manager_leaves_is_no_obstacle(tmp_path: Path) -> None:
    """Having looked at a plan does not keep it from being replaced."""
    write_folder(tmp_path / "kite", {**PLAN, ".DS_Store": b"", "Thumbs.db": b"", "ink-1.svg": b"", "ink-1.png": b""})

    write_folder(tmp_path / "kite", PLAN)

    assert {path.name: path.read_bytes() for path in (tmp_path / "kite").iterdir()} == PLAN


def test_a_plan_with_true_sizes_is_replaced(tmp_path: Path) -> None:
    """The folder of true sizes goes with the plan that it belongs to."""
    pair = {"true-size/ink-1.svg": b"", "true-size/ink-1.dxf": b"0"}
    write_folder(tmp_path / "kite", {**PLAN, **pair})
    assert (tmp_path / "kite" / "true-size" / "ink-1.dxf").read_bytes() == b"0"

    write_folder(tmp_path / "kite", PLAN)

    assert {path.name for path in (tmp_path / "kite").iterdir()} == set(PLAN)


@pytest.mark.parametrize("name", ["mine.txt", "ink-2.svg", "ink-1.png"])
def test_what_is_not_ours_among_true_sizes_is_spared(tmp_path: Path, name: str) -> None:
    """A file that no plan wrote there keeps the folder from being replaced."""
    pair = {"true-size/ink-1.svg": b"", "true-size/ink-1.dxf": b""}
    write_folder(tmp_path / "kite", {**PLAN, **pair, f"true-size/{name}": b"mine"})

    with pytest.raises(InputError, match=f'holds "true-size/{name}", which is no part of a plan'):
        write_folder(tmp_path / "kite", PLAN)
    assert (tmp_path / "kite" / "true-size" / name).read_bytes() == b"mine"


def test_a_link_to_a_folder_stays_a_link(tmp_path: Path) -> None:
    """Where the folder's name is a link, what it leads to is replaced."""
    (tmp_path / "there").mkdir()
    (tmp_path / "here").symlink_to(tmp_path / "there")

    write_folder(tmp_path / "here", PLAN)

    assert (tmp_path / "here").is_symlink()
    assert (tmp_path / "there" / "report.txt").read_bytes() == b"new"


def test_nothing_changes_where_a_file_cannot_be_written(tmp_path: Path) -> None:
    """An earlier plan stays whole when a file of the new one fails, and nothing is left beside it."""
    write_folder(tmp_path / "kite", {"plan.json": b"{}", "report.txt": b"old"})

    with pytest.raises(InputError, match=r"kite: cannot be written: "):
        write_folder(tmp_path / "kite", {**PLAN, "x" * 300: b""})

    assert (tmp_path / "kite" / "report.txt").read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["kite"]


def test_a_name_that_no_system_takes_gets_a_sentence(tmp_path: Path) -> None:
    """A folder's name of hundreds of letters is no crash."""
    with pytest.raises(InputError, match="cannot be written: File name too long"):
        write_folder(tmp_path / ("x" * 300), PLAN)


@settings(deadline=None)
@given(st.lists(st.text(max_size=90), max_size=12))
def test_names_of_files_are_plain_short_and_different(names: list[str]) -> None:
    """Whatever cloths are called, their files are letters, digits and hyphens, at most 70, each name once."""
    made = safe_names(names)

    assert len(made) == len(names)
    assert len(set(made)) == len(made)
    assert all(re.fullmatch(r"[a-z0-9-]{1,70}", name) for name in made)
