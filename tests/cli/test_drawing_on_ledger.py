"""Tests of the commands on projects that draw on the ledger."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ellwand.ledger import Kind, Ledger, OwnedCloth, OwnedFabric, Selvage
from ellwand_cli.app import app

PROJECT = """
[project]
name = "lanterns"
[quilt]
[[block]]
name = "lantern"
finished = [10, 10]
[[block.piece]]
name = "ground"
fabric = "ink"
[[border]]
name = "outer"
width = 2
fabric = "ink"
[fabric.ink]
ledger = "night sky"
[[size]]
name = "small"
finished = [8, 8]
"""
COMMANDS = (
    ("plan", ()),
    ("pieces", ()),
    ("sizes", ()),
    ("claim", ("ink=1yd",)),
    ("fit", ("--border", "outer")),
    ("compare", ("--border", "outer", "--from", "1", "--to", "2", "--step", "1")),
)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A folder with a project and the ledger that it draws on."""
    (tmp_path / "quilt.toml").write_text(PROJECT, encoding="utf-8")
    length = OwnedCloth(
        fabric="night sky",
        kind=Kind.LENGTH,
        across=Fraction(43),
        along=Fraction(40),
        selvages=tuple(Selvage),
        place="blue box",
        lot="12",
    )
    with Ledger(tmp_path / "ours.sqlite") as ledger:
        ledger.take_in([OwnedFabric(name="night sky", width=Fraction(43))], [length])
    return tmp_path


def run(place: Path, command: str, *more: str, ledger: str = "ours.sqlite") -> Result:
    """A command on the project and a ledger beside it."""
    arguments = [command, str(place / "quilt.toml"), *more, "--ledger", str(place / ledger)]
    return CliRunner().invoke(app, arguments, catch_exceptions=False, prog_name="ellwand")


@pytest.mark.parametrize(("command", "more"), COMMANDS)
def test_every_command_draws_on_the_ledger_named(place: Path, command: str, more: tuple[str, ...]) -> None:
    """Tests that each works with the ledger, and says in one sentence where there is none."""
    effort = () if command == "pieces" else ("--effort", "quick", "--workers", "1")
    found = run(place, command, *more, *effort)
    lost = run(place, command, *more, ledger="none.sqlite")

    assert found.exit_code == 0, found.output
    assert lost.exit_code == 2
    assert lost.stderr == (
        f"Error: {place / 'none.sqlite'}: there is no ledger here. "
        "Begin one with ellwand cloth, name another with --ledger, or list the cloth in the project.\n"
    )
    assert not (place / "none.sqlite").exists()


def test_a_plan_names_the_cloth_by_its_id_place_and_lot(place: Path) -> None:
    """Tests the report and the document."""
    text = run(place, "plan", "--effort", "quick", "--workers", "1").stdout
    document = json.loads(run(place, "plan", "--effort", "quick", "--workers", "1", "--json").stdout)
    (cloth,) = document["fabrics"][0]["cloths"]

    assert "enough. Left: " in text
    assert " of A1" in text
    assert "ink 1 (A1, blue box, lot 12; " in text
    assert (cloth["ledger"], cloth["place"], cloth["lot"]) == ("A1", "blue box", "12")
    assert document["fabrics"][0]["left"][0]["ledger"] == "A1"


def test_as_new_leaves_the_ledgers_cloth_out(place: Path) -> None:
    """Tests that a pattern is planned on new cloth."""
    document = json.loads(run(place, "plan", "--as-new", "--effort", "quick", "--workers", "1", "--json").stdout)

    assert [cloth["source"] for cloth in document["fabrics"][0]["cloths"]] == ["buy"]
