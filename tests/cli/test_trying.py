"""How long the commands try, and in how many processes: what is told, and that the answer is the same."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from ellwand.packing.problem import Effort
from ellwand_cli.options import chosen_effort

Run = Callable[..., Result]

ROOT = Path(__file__).parents[2]
DONE, INPUT = 0, 2
STOPPED = "Stopped early: the best so far is shown; a longer look might need less of "

# Pieces that no quick look settles, of two fabrics, and a block in a border beside them. Invented.
OPEN = """
[project]
name = "open"
[quilt]
[[block]]
name = "top"
finished = [9, 9]
[[border]]
name = "rim"
fabric = "ink"
width = 2
[fabric.ink]
width = 43
[fabric.oat]
width = 43
""" + "".join(
    f'[[piece]]\nname = "{fabric}{number}"\nfabric = "{fabric}"\ncut = [{across}, {along}]\ncount = {count}\n'
    for fabric in ("ink", "oat")
    for number, (across, along, count) in enumerate([(7, 9.25, 5), (12.75, 5.5, 4), (17.25, 8, 3)])
)
COMPARE = ("compare", "open.toml", "--border", "rim", "--from", "2", "--to", "2 1/2", "--step", "1/2")


@pytest.fixture(autouse=True)
def _open(run: Run, tmp_path: Path) -> None:
    (tmp_path / "open.toml").write_text(OPEN, encoding="utf-8")


def document(folder: Path, *words: str) -> dict[str, Any]:
    """What the command line prints as JSON in a process of its own, without the time that it took."""
    done = subprocess.run(
        [sys.executable, "-m", "ellwand_cli", *words, "--json"],
        cwd=folder,
        env={"PYTHONPATH": f"{ROOT / 'solver'}:{ROOT / 'cli'}", "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert (done.returncode, done.stderr) == (DONE, "")
    told: dict[str, Any] = json.loads(done.stdout)
    told.get("solve", {}).pop("seconds", None)
    return told


@pytest.mark.parametrize("words", [("plan", "open.toml"), COMPARE], ids=["plan", "compare"])
def test_one_worker_or_two_in_two_processes_answer_the_same(tmp_path: Path, words: tuple[str, ...]) -> None:
    """Equal input, effort and seed give an equal answer, however many processes search for it."""
    assert document(tmp_path, *words, "--workers", "1") == document(tmp_path, *words, "--workers", "2")


def test_a_plan_that_ran_out_of_time_says_so(run: Run) -> None:
    """A sentence on standard error, the fabrics in the document, and the plan is filed and sound all the same."""
    result = run("plan", "open.toml", "--seconds", "0.001", "--json", "--out", "plan")

    assert result.exit_code == DONE
    assert result.stderr.startswith(f"{STOPPED}ink, oat.\n")
    assert json.loads(result.stdout)["solve"]["cut_short"] == ["ink", "oat"]
    assert run("check", "plan/plan.json").exit_code == DONE


def test_a_comparison_that_ran_out_of_time_says_so(run: Run) -> None:
    """Every width has its rows, and each fabric is named once."""
    result = run(*COMPARE, "--seconds", "0.001", "--json")

    assert (result.exit_code, result.stderr) == (DONE, f"{STOPPED}ink, oat.\n")
    assert [row["width"] for row in json.loads(result.stdout)["rows"]] == [2, 2.5]


def test_time_that_is_not_needed_is_not_told(run: Run) -> None:
    """With an hour for a quick look nothing is cut short."""
    result = run("plan", "open.toml", "--effort", "quick", "--seconds", "3600", "--json")

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert json.loads(result.stdout)["solve"]["effort"] == "quick"
    assert json.loads(result.stdout)["solve"]["cut_short"] == []


@pytest.mark.parametrize(
    ("effort", "seconds", "chosen"),
    [
        (None, None, Effort.CAREFUL),
        (None, 5.0, Effort.PROOF),
        ("quick", None, Effort.QUICK),
        ("careful", 5.0, Effort.CAREFUL),
    ],
)
def test_a_clock_alone_may_use_all_its_time(effort: str | None, seconds: float | None, chosen: Effort) -> None:
    """Careful if unsaid; as hard as it takes if only a clock was set; else what was said."""
    assert chosen_effort(effort, seconds) is chosen


@pytest.mark.parametrize(
    ("words", "option"),
    [(("--seconds", "0"), "--seconds"), (("--seconds", "soon"), "--seconds"), (("--workers", "0"), "--workers")],
)
def test_times_and_numbers_without_sense_are_refused(run: Run, words: tuple[str, ...], option: str) -> None:
    """No time at all, no number, and nobody to work."""
    result = run("plan", "open.toml", *words)

    assert (result.exit_code, result.stdout) == (INPUT, "")
    assert f"Invalid value for '{option}'" in result.stderr
