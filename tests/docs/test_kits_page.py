"""The how-to page on kits: its commands run, and what it shows is what they print."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from ellwand_cli.app import app

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "kits.md").read_text(encoding="utf-8")
COMMANDS = [line for block in re.findall(r"```sh\n(.*?)```", PAGE, flags=re.DOTALL) for line in block.splitlines()]


@pytest.fixture(autouse=True)
def _beside_the_examples(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a command is run, the examples are; what it writes goes elsewhere."""
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    monkeypatch.chdir(tmp_path)


def output(command: str) -> str:
    """What a command of the page prints."""
    program, *words = shlex.split(command)
    result = CliRunner().invoke(app, [*words, "--workers", "1"])

    assert program == "ellwand"
    assert result.exit_code == 0, result.output
    return result.stdout


def test_the_page_shows_what_the_plan_says(tmp_path: Path) -> None:
    """The lays it shows are in the report; the list ends with the bags, and the sheets are there."""
    report = output(COMMANDS[0])
    (shown,) = re.findall(r"```text\n(.*?)```", PAGE, flags=re.DOTALL)

    assert shown in report
    listed = (tmp_path / "kits" / "cut-list.txt").read_text(encoding="utf-8")
    assert "In the bag of each of 28 kits, whose cloth costs 9.26:" in listed
    assert "- moss: 4 × wren/ground (7 1/2 × 7 1/2 in)" in listed
    assert (tmp_path / "kits" / "cutting-sheets.pdf").stat().st_size > 10_000


def test_the_page_compares_numbers_of_kits() -> None:
    """Both numbers are there, each with what all of it costs and each copy."""
    printed = output(COMMANDS[1])

    assert re.search(r"(?m)^28 +moss ", printed)
    assert re.search(r"(?m)^30 +moss ", printed)
    assert re.search(r"(?m)^ +all 30 copies +[0-9.]+ ", printed)
    assert len(re.findall(r"(?m)^ +each copy +9\.[0-9]+", printed)) == 2
    assert printed.startswith("project.copies\n")
    assert "no last values between the rows are looked for" in " ".join(printed.split())
    assert len(COMMANDS) == 2
