"""The ledger's page: its session runs, prints what is shown and draws its pictures; what else it names is there."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import numpy as np
import pytest
from matplotlib.image import imread

from docs.ledger_session import DOCS, PAGE, PICTURES, session
from ellwand.ledger import Kind
from ellwand.ledger.facts import CLOTH_FACTS, FABRIC_FACTS
from ellwand.ledger.spreadsheet import read_spreadsheet
from ellwand_cli.commands.cloth import cloth

TEXT = PAGE.read_text(encoding="utf-8")
LEFT_OUT = "…\n"
AGAIN = "if the drawing was changed on purpose: python tests/docs/ledger_session.py"
NEAR = 0.002  # of full contrast, on the average: letters may be drawn a hair otherwise by another version


def test_the_session_is_as_the_page_tells_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every command does its job and prints what is shown, in its order; its drawings are the page's pictures."""
    monkeypatch.chdir(tmp_path)

    steps = session(tmp_path)

    assert len(steps) >= 12
    for step in steps:
        rest = step.printed
        for number, part in enumerate(filter(None, step.shown.split(LEFT_OUT))):
            before, found, rest = rest.partition(part)
            assert found == part, (step.command, step.printed)
            assert before == "" or number > 0, (step.command, step.printed)
        assert rest == "" or step.shown.endswith(LEFT_OUT) or not step.shown, (step.command, step.printed)
    assert (tmp_path / "before.csv").read_bytes() == (tmp_path / "after.csv").read_bytes()
    for picture, drawn in PICTURES.items():
        kept, made = imread(DOCS / "images" / picture), imread(tmp_path / drawn)
        assert kept.shape == made.shape, (picture, AGAIN)
        assert float(np.abs(kept - made).mean()) < NEAR, (picture, AGAIN)
        assert f"](images/{picture})" in TEXT


def test_the_commands_of_the_table_are_there() -> None:
    """Each can be typed as it stands: the command is known, and so are its options."""
    commands = [line for line in re.findall(r"\| `(ellwand cloth .*?)` \|", TEXT) if "undo" not in line]

    for line in commands:
        _, _, name, *words = shlex.split(line)
        context = cloth.commands[name].make_context(name, words)
        assert context.params["ledger"] is None

    assert len(commands) == 10


def test_the_spreadsheet_on_the_page_can_be_read() -> None:
    """A length, a fat quarter and cloth measured in centimetres; every column there is is named."""
    (shown,) = re.findall(r"```text\n(fabric,.*?)```", TEXT, flags=re.DOTALL)
    named = [re.findall("`(.*?)`", line) for line in re.findall(r"(?m)^- All columns of .*?: (.*)$", TEXT)]

    spreadsheet = read_spreadsheet(shown.encode(), where="stash.csv", unit="in", known={})

    assert [fabric.name for fabric in spreadsheet.fabrics] == ["ink", "sand"]
    assert [(one.fabric, one.kind, one.washed) for one in spreadsheet.cloths] == [
        ("ink", Kind.LENGTH, False),
        ("ink", Kind.RECTANGLE, True),
        ("sand", Kind.LENGTH, False),
    ]
    assert [tuple(names) for names in named] == [FABRIC_FACTS, CLOTH_FACTS]
