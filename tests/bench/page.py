"""The page docs/benchmarks.md: what was run, how to read it, and the tables."""

from __future__ import annotations

import importlib.metadata
import os
import platform
from datetime import date

from bench.contestants import PEERS
from bench.tables import Results, behind, bought, ends, gaps


def page(results: Results, command: str, note: str = "") -> str:
    """The whole of docs/benchmarks.md; `note` says what else there is to know of the runs."""
    absent = [contestant.title for name, contestant in PEERS.items() if not results.having(name)]
    return "\n".join([
        "# Benchmarks\n",
        "Written by the benchmarks themselves; do not edit by hand.\n",
        f"{date.today():%d %B %Y}: `{command}`. {_machine()}\n",
        *([f"{note}\n"] if note else []),
        *([f"Not run: {', '.join(absent)}.\n"] if absent else []),
        _READING,
        "![Mean gap over time](images/gap.png)\n",
        "## Gap to the best bound\n",
        gaps(results),
        "## Plans that buy no more than the bound asks for\n",
        bought(results),
        "## Every effort, seconds and memory\n",
        ends(results),
        "## Where a peer is ahead after 10 s\n",
        behind(results),
    ])  # fmt: skip


_READING = """\
Gap: how much longer than the best bound that anything proved, in percent; the mean of a set, and the largest in
brackets. Each contestant has a process of its own; what it imports is loaded before the clock starts.
A length counts from the moment it is told, if the packing handed in at the end passes the judge.
*n late*: so many had told nothing by then and count with their first length.
*n without*: so many handed in nothing sound.
The engine runs at `quick` and `careful`, which end by themselves, and at `proof`; this and the peers have 10 s.
Seconds are the processor's, except for PackingSolver, which works on several cores: its are by the wall clock.
Cloth is bought in eighths of a yard: a plan that buys no more than the bound asks for cannot be bettered at the shop.

*quilts*, *kits* and *puzzles* are invented: cloth for one quilt, for many at once, and rectangles cut up without waste.
*tuning* may be looked at while the engine is worked on, *held out* is for this page.
*like ...* is made as the papers say, with seeds of our own. *published* is theirs, pieces not turned; the best bound
may be the optimum of free layouts there, which straight cuts do not always reach.
"""


def _machine() -> str:
    packages = ", ".join(f"{name} {importlib.metadata.version(name)}" for name in ("ortools", "numpy"))
    load = os.getloadavg()[0]
    return (
        f"{os.cpu_count()} cores ({platform.machine()}, {platform.system()}), load {load:.1f} at the end; "
        f"Python {platform.python_version()}, {packages}."
    )
