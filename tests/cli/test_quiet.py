"""No library that solves for us writes on standard error behind our back."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
DONE, NOT_ENOUGH = 0, 1

# Many copies, odd millimetres and cloth that is not enough: the presolve of the whole-number program that chooses
# bands once complained of it on standard error. All invented.
KITS = """
[project]
name = "kits"
copies = 30
[[piece]]
name = "strap"
fabric = "oat"
cut = ["20 in", "64 mm"]
count = 7
[[piece]]
name = "side"
fabric = "ink"
cut = ["20 in", "50 in"]
count = 7
[[piece]]
name = "pocket"
fabric = "ink"
cut = ["8.5 in", "279 mm"]
count = 2
[[piece]]
name = "tab"
fabric = "slate"
cut = ["3.5 in", "279 mm"]
count = 7
[fabric.slate]
width = "533 mm"
wash = true
shrinks = ["2.5 %", "0 %"]
square_up_ends = 2
on_hand = [
    { length = "9 in", width = "9 in", selvages = 1 },
    { length = "0.25 in", selvages = 2, square_up = "0.5 in" },
    { length = "6 mm", width = "9 in", square_up = "13 mm" },
]
[fabric.ink]
width = "21 in"
square_up_ends = 2
buy = false
sold_by = "1 yd"
[fabric.oat]
width = "1092 mm"
square_up_ends = 2
sold_by = "1/4 yd"
on_hand = [ { length = "9 in", width = "559 mm", washed = false } ]
[fabric.brass]
width = "43 in"
grain = "none"
on_hand = [ { length = "2286 mm" }, { length = "13 mm", width = "22 in", count = 3 }, { length = "18 in" } ]
"""


def plan(folder: Path, text: str) -> subprocess.CompletedProcess[str]:
    """`ellwand plan` as a program of its own, in a folder that holds kits.toml."""
    (folder / "kits.toml").write_text(text, encoding="utf-8")
    return subprocess.run(
        [sys.executable, "-m", "ellwand_cli", "plan", "kits.toml", "--effort", "quick"],
        cwd=folder,
        env={"PYTHONPATH": f"{ROOT / 'solver'}:{ROOT / 'cli'}", "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_nothing_but_our_own_lines_is_told(tmp_path: Path) -> None:
    """A warning and the refusal, each in our words, and not one line more."""
    done = plan(tmp_path, KITS)

    assert done.returncode == NOT_ENOUGH
    warning, error = done.stderr.splitlines()
    assert warning == "Warning: fabric brass is used by nothing."
    assert error.startswith('Error: kits.toml: "ink" cannot be enough: ')


def test_a_plan_that_can_be_had_says_nothing(tmp_path: Path) -> None:
    """The same kits where ink may be bought: only the warning."""
    done = plan(tmp_path, KITS.replace("buy = false\n", ""))

    assert (done.returncode, done.stderr) == (DONE, "Warning: fabric brass is used by nothing.\n")
