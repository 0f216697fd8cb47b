"""A small quilt in a folder of its own, and the real command line run on it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ellwand_cli.app import app

Run = Callable[..., Result]

QUILT = """
[project]
name = "Kite"
[quilt]
across = 2
down = 2
[[block]]
name = "tail"
finished = [6, 6]
hoop = ["180 mm", "180 mm"]
frame = ["200 mm", "220 mm"]
[[block.piece]]
name = "ground"
fabric = "ink"
[stabiliser]
fabric = "film"
[[border]]
name = "rim"
width = 2
fabric = "ink"
[binding]
fabric = "brass"
[backing]
fabric = "oat"
[[piece]]
name = "pocket"
fabric = "oat"
cut = [8.5, 11]
count = 2
[fabric.ink]
width = 43
price = 10
on_hand = [ { length = "1/4 yd" } ]
[fabric.brass]
width = 43
[fabric.oat]
width = 43
[fabric.film]
width = 15
selvage = 0
grain = "none"
"""


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """The command line, called in an empty folder that holds quilt.toml; a bug keeps its traceback."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "quilt.toml").write_text(QUILT, encoding="utf-8")
    return lambda *words: CliRunner().invoke(app, words, catch_exceptions=False, prog_name="ellwand")
