"""Draws how the mean gap falls with time, for each set and contestant."""

from __future__ import annotations

from pathlib import Path
from statistics import mean
from typing import TYPE_CHECKING

from bench.contestants import CONTESTANTS, EFFORTS, MARKS
from bench.tables import Results

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_GROUPS = ("quilts", "kits", "puzzles")
_TIMES = tuple(0.05 * 200 ** (step / 100) for step in range(101))  # 0.05 s to 10 s, even on a logarithmic axis
_COLOURS = dict(zip(CONTESTANTS, ("#56b4e9", "#0072b2", "#003f66", "#d55e00", "#8c8c8c"), strict=True))


def draw_gaps(results: Results, path: Path) -> None:
    """Write the chart: a panel for each invented set that was run."""
    from matplotlib.figure import Figure

    groups = [group for group in _GROUPS if any(one.group == group for one in results.instances)]
    figure = Figure(figsize=(3.4 * max(len(groups), 1), 3.4), layout="constrained")
    for number, group in enumerate(groups, start=1):
        axes = figure.add_subplot(1, len(groups), number)
        part = Results([one for one in results.instances if one.group == group], results.runs)
        _draw_panel(part, group, axes)
    figure.savefig(path, dpi=150, metadata={"Software": None})


def _draw_panel(results: Results, group: str, axes: Axes) -> None:
    for contestant in CONTESTANTS:
        points = mean_gaps(results, contestant)
        if points:
            style = "-" if contestant in EFFORTS else "--"
            times, gaps = zip(*points, strict=True)
            axes.plot(times, gaps, style, color=_COLOURS[contestant], label=CONTESTANTS[contestant].title)
    axes.set_xscale("log")
    axes.set_xticks(MARKS, [f"{mark:g}" for mark in MARKS])
    axes.set_yscale("symlog", linthresh=1)
    axes.set_yticks([0, 0.5, 1, 2, 5, 10, 20, 50], ["0", "0.5", "1", "2", "5", "10", "20", "50"])
    axes.set_ylim(0, 60)
    axes.set_title(group)
    axes.set_xlabel("seconds")
    axes.set_ylabel("mean gap to the best bound, %")
    axes.grid(alpha=0.3)
    axes.legend(fontsize="small")


def mean_gaps(results: Results, contestant: str) -> list[tuple[float, float]]:
    """The mean gap over time, from when every instance that has a sound packing has a length."""
    runs = [(one, run) for one, run in results.having(contestant) if run.length is not None]
    points = []
    for time in _TIMES:
        lengths = [(one, run.by(time)) for one, run in runs]
        gaps = [results.gap(one, length) for one, length in lengths if length is not None]
        if gaps and len(gaps) == len(runs):
            points.append((time, mean(gaps)))
    return points
