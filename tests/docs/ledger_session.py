"""The example session of docs/ledger.md: run this file after changing a drawing, and its pictures are drawn anew."""

from __future__ import annotations

import re
import shlex
import shutil
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

from click.testing import CliRunner

from ellwand_cli.app import app

DOCS = Path(__file__).parents[2] / "docs"
PAGE = DOCS / "ledger.md"
PICTURES = {"ledger-b1.png": "b1.png", "ledger-ink-2.png": "runner/ink-2.png"}
_BLOCK = re.compile(r"```(sh|text|toml)\n(.*?)```", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Step:
    """A command of the page, what the page says it prints, "" where it says nothing, and what it does print."""

    command: str
    shown: str
    printed: str


def session(folder: Path) -> list[Step]:
    """All commands of the example, one after the other, in `folder`, with a ledger of its own there."""
    with patch("platformdirs.user_data_path", lambda name: folder / "data" / name):
        return [Step(command, shown, _run(command, folder)) for command, shown in _commands(folder)]


def _commands(folder: Path) -> list[tuple[str, str]]:
    """The commands with what is shown of their output; the project file is written."""
    text = PAGE.read_text(encoding="utf-8")
    (example,) = re.findall(r"(?ms)^## An example$(.*?)^## ", text)
    found: list[tuple[str, str]] = []
    for kind, block in _BLOCK.findall(example):
        if kind == "toml":
            (folder / "runner.toml").write_text(block, encoding="utf-8")
        elif kind == "sh":
            found += [(line, "") for line in block.splitlines()]
        else:
            found[-1] = (found[-1][0], block)
    return found


def _run(command: str, folder: Path) -> str:
    program, *words = shlex.split(command)
    assert program == "ellwand"
    words += ["--workers", "1"] if words[0] == "plan" else []
    result = CliRunner().invoke(app, words, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout


def main() -> None:
    """Draw the pictures of the page."""
    from contextlib import chdir

    with TemporaryDirectory() as name, chdir(name):
        session(Path(name))
        for picture, drawn in PICTURES.items():
            shutil.copy(drawn, DOCS / "images" / picture)


if __name__ == "__main__":
    main()
