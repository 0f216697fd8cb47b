"""Documents cannot rot: their commands run, their pages match, every command explains itself."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from docs.commands_page import PAGE, page
from ellwand_cli.app import app

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```sh\n(.*?)```", README, flags=re.DOTALL)


def test_readme_starts_with_two_commands_of_one_line_each() -> None:
    """The first two shell blocks are the main job and the tests, and each makes its own environment."""
    job, tests = (block.rstrip("\n") for block in BLOCKS[:2])

    assert "\n" not in job
    assert "\n" not in tests
    assert job.startswith("python3 -m venv .venv && ")
    assert job.endswith(".venv/bin/ellwand plan examples/harbour-lanterns.toml --out plan")
    assert tests.startswith("python3 -m venv .venv && ")
    assert tests.endswith(".venv/bin/pytest")


def test_ci_runs_exactly_the_readme() -> None:
    """`.ci/run` holds both commands letter for letter."""
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()

    assert BLOCKS[0].strip() in lines
    assert BLOCKS[1].strip() in lines


def test_the_readmes_other_commands_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every further `ellwand` line of the README does its job, one after the other; nobody's own ledger is touched."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("platformdirs.user_data_path", lambda name: tmp_path / name)
    lines = [line for block in BLOCKS[2:] for line in block.splitlines()]

    results = [CliRunner().invoke(app, shlex.split(line.removeprefix(".venv/bin/ellwand "))) for line in lines]

    assert len(lines) >= 5
    assert [result.exit_code for result in results] == [0] * len(lines), [result.output for result in results]
    assert (tmp_path / "widths.svg").is_file()
    assert (tmp_path / "quilt-plan" / "cutting-sheets.pdf").is_file()


def test_the_commands_page_is_up_to_date() -> None:
    """docs/commands.md is what tests/docs/commands_page.py writes."""
    assert PAGE.read_text(encoding="utf-8") == page()


def commands(group: click.Group) -> dict[str, click.Command]:
    """All commands below a group, by what is typed for them."""
    found = dict(group.commands)
    for name, command in group.commands.items():
        if isinstance(command, click.Group):
            found |= {f"{name} {inner}": below for inner, below in commands(command).items()}
    return found


@pytest.mark.parametrize("name", sorted(commands(app)))
def test_every_command_ends_its_help_with_an_example(name: str) -> None:
    """A command's help has an example that can be pasted, and each option says what it does."""
    command = commands(app)[name]
    options = [parameter for parameter in command.params if isinstance(parameter, click.Option)]

    last = (command.help or "").strip().splitlines()[-1].strip()
    assert f"{last} ".startswith(f"Example: ellwand {name} ")
    assert all(option.help for option in options)


def test_links_between_documents_lead_somewhere() -> None:
    """No document points at a file that is not there."""
    pages = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]
    broken = [
        (path.name, target)
        for path in pages
        for target in re.findall(r"\]\(([^)#:]+)\)", path.read_text(encoding="utf-8"))
        if not (path.parent / target).exists()
    ]

    assert broken == []
