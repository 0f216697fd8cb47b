"""Measures a ledger of 20 000 cloths and writes its section of docs/benchmarks.md: `python tests/bench/ledger.py`."""

from __future__ import annotations

import os
import platform
import resource
import subprocess
import sys
import time
from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from ellwand.ledger import Kind, OwnedCloth, OwnedFabric
from ellwand.ledger.spreadsheet import write_spreadsheet

PAGE = Path(__file__).parents[2] / "docs" / "benchmarks.md"
ROOT = Path(__file__).parents[2]
HEAD = "## A ledger of 20 000 cloths"
CLOTHS, FABRICS, TIMES = 20_000, 200, 5
COMMANDS = (
    ("import stash.csv", True),
    ("list", False),
    ('list --at-least "20 x 10 in"', False),
    ("list --json", False),
    ("export again.csv", False),
)


def section_of(page: str) -> str:
    """The section of the page that is about the ledger, or nothing."""
    at = page.find(HEAD)
    return page[at:] if at >= 0 else ""


def stash() -> str:
    """An invented stash as a spreadsheet: fabrics with some facts, rectangles with places and notes."""
    fabrics = [
        OwnedFabric(name=f"fabric {number}", width=Fraction(43), colours=("blue",), price=Fraction(12))
        for number in range(FABRICS)
    ]
    cloths = [
        OwnedCloth(
            fabric=f"fabric {number % FABRICS}",
            kind=Kind.RECTANGLE,
            across=Fraction(5 + number % 40),
            along=Fraction(8 + number % 231, 8),
            place=f"box {number % 30}",
            note=f"piece {number}, from the box",
        )
        for number in range(CLOTHS)
    ]
    return write_spreadsheet(fabrics, cloths, "in")


def measured(folder: Path, command: str, *, anew: bool) -> tuple[float, float]:
    """Seconds of a command by the clock and of the processor, its start included: the middle one of five."""
    clock, processor = [], []
    for _ in range(TIMES):
        for name in ("again.csv", *(["my.sqlite"] if anew else [])):
            (folder / name).unlink(missing_ok=True)
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        _run(folder, command)
        clock.append(time.perf_counter() - start)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        processor.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return median(clock), median(processor)


def _run(folder: Path, command: str) -> None:
    words = f"{sys.executable} -m ellwand_cli cloth {command} --ledger my.sqlite"
    paths = os.pathsep.join(str(ROOT / name) for name in ("solver", "cli"))
    environment = {**os.environ, "PYTHONPATH": paths}
    subprocess.run(words, shell=True, cwd=folder, env=environment, stdout=subprocess.DEVNULL, check=True)


def section(rows: Sequence[tuple[str, float, float]]) -> str:
    """The section, with the machine and the day."""
    lines = [f"| `ellwand cloth {command}` | {clock:.2f} | {processor:.2f} |" for command, clock, processor in rows]
    return "\n".join([
        f"{HEAD}\n",
        f"{date.today():%d %B %Y}: `python tests/bench/ledger.py`. {os.cpu_count()} cores ({platform.machine()}, "
        f"{platform.system()}), load {os.getloadavg()[0]:.1f} at the end; Python {platform.python_version()}.\n",
        f"Each command in a process of its own, start and all, on an invented stash of {FABRICS} fabrics: "
        f"the middle one of {TIMES} runs. Where the load is above the number of cores, the clock is ahead.\n",
        "| command | seconds by the clock | seconds of the processor |",
        "| --- | --- | --- |",
        *lines,
    ]) + "\n"  # fmt: skip


def main() -> None:
    """Measure every command, and write the section."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "stash.csv").write_text(stash(), encoding="utf-8", newline="")
        rows = [(command, *measured(folder, command, anew=anew)) for command, anew in COMMANDS]
    page = PAGE.read_text(encoding="utf-8")
    PAGE.write_text(page.removesuffix(section_of(page)).rstrip("\n") + "\n\n" + section(rows), encoding="utf-8")


if __name__ == "__main__":
    main()
