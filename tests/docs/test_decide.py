"""The how-to page on decisions: its commands run, and say what the page says they say."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from ellwand_cli.app import app

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "decide.md").read_text(encoding="utf-8")
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


@pytest.mark.parametrize("number", range(1, len(COMMANDS)))
def test_the_pages_commands_run(number: int) -> None:
    """Each does its job, and answers."""
    assert len(output(COMMANDS[number]).splitlines()) >= 3


def test_the_page_tells_the_truth_of_the_first(tmp_path: Path) -> None:
    """The jump that it shows is there, and so are the last widths; the chart is written."""
    printed = output(COMMANDS[0])

    assert "!! from 3 in to 3 1/4 in, oat jumps by 1 yd, while brass, stabiliser stay the same." in printed
    assert re.search(r"(?m)^oat +1 1/2 yd +up to 3 in +3 1/8 in +2 1/2 yd +as little cannot do there$", printed)
    assert (tmp_path / "widths.svg").is_file()
    output(COMMANDS[1])
    assert (tmp_path / "two.svg").is_file()
    assert len(COMMANDS) == 8
