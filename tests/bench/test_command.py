"""The command of the benchmarks: which instances it takes, what its page says, and how it ends."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from bench import records
from bench.command import instances, main
from bench.ledger import HEAD
from bench.measure import Run, keep
from bench.sets import FAMILIES, puzzles

PUZZLE = next(iter(puzzles("tuning")))


def test_a_part_of_the_sets_can_be_chosen() -> None:
    """The first few of each chosen set, of the chosen families; published ones have no families."""
    chosen = instances(["quilts", "published"], FAMILIES, 2)

    assert [one.name for one in chosen] == ["quilt-001", "quilt-002", "quilt-101", "quilt-102", "c1-p1", "c1-p2"]
    assert [one.name for one in instances(["kits"], ["held out"], 1)] == ["kit-101"]


@pytest.mark.parametrize(("length", "said", "code"), [(300, "Worse", 1), (255, "", 0), (254, "Better", 0)])
def test_it_fails_where_a_length_is_worse_than_on_record(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, length: int, said: str, code: int
) -> None:
    """The exit code and the sentence on standard error, for a run that was kept beforehand."""
    kept = Run(
        instance=PUZZLE.name, contestant="quick", curve=((0.1, length),), length=length,
        bound=254, seconds=0.1, megabytes=50.0, faults=(),
    )  # fmt: skip
    keep(tmp_path / "runs", kept)
    known = {PUZZLE.name: {"problem": records.fingerprint(PUZZLE.problem), "quick": 255}}
    monkeypatch.setattr(records, "load", lambda: known)
    options = ["--set", "puzzles", "--tuning", "--limit", "1", "--with", "quick", "--runs", str(tmp_path / "runs")]

    result = CliRunner().invoke(main, options)

    assert result.exit_code == code
    assert re.findall("Worse|Better", result.stderr) == ([said] if said else [])
    assert "| puzzles, tuning (1) |" in result.stdout
    assert "Not run: rectpack, PackingSolver." in result.stdout


def test_a_page_and_its_chart_are_written_where_asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The page names its chart and its command, without the machine's paths; what the ledger's runs wrote stays."""
    kept = Run(
        instance=PUZZLE.name, contestant="quick", curve=((0.1, 255),), length=255,
        bound=255, seconds=0.1, megabytes=50.0, faults=(),
    )  # fmt: skip
    keep(tmp_path / "runs", kept)
    options = ["--set", "puzzles", "--tuning", "--limit", "1", "--with", "quick"]

    typed = [*options, "--runs", str(tmp_path / "runs"), "--out", str(tmp_path)]
    monkeypatch.setattr(sys, "argv", ["tests/bench/run.py", *typed])

    section = f"{HEAD}\n\n| as it was measured |\n"
    (tmp_path / "benchmarks.md").write_text(f"# An earlier page\n\n{section}", encoding="utf-8")

    CliRunner().invoke(main, typed)

    page = (tmp_path / "benchmarks.md").read_text(encoding="utf-8")
    assert "![Mean gap over time](images/gap.png)" in page
    assert page.endswith(f"\n\n{section}")
    assert "An earlier page" not in page
    assert (tmp_path / "images" / "gap.png").read_bytes().startswith(b"\x89PNG")
    assert "`python tests/bench/run.py --set puzzles --tuning --limit 1 --with quick`" in page
    assert str(tmp_path) not in page
