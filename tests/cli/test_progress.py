"""A line on the screen while the search runs, and nothing where there is no screen."""

from __future__ import annotations

import io
import re
from contextlib import redirect_stderr
from fractions import Fraction

import pytest

from ellwand.lengths import Notation
from ellwand.packing.problem import Progress
from ellwand.project.vary import border_key, parse_varied
from ellwand_cli.progress import fabric_progress, value_progress

EIGHTH = Fraction(1, 8)
FRAMED = parse_varied(
    """
[project]
name = "framed"
[quilt]
[[block]]
name = "top"
finished = [6, 6]
[[border]]
name = "edge"
fabric = "ink"
width = 2
[fabric.ink]
width = 43
""",
    "framed.toml",
    border_key("edge"),
)
WIPE = "\r\x1b[J"


class Screen(io.StringIO):
    """Standard error as a terminal."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def seen(screen: Screen) -> list[list[str]]:
    """The lines that stand on the screen, one moment after the other."""
    return [moment.splitlines() for moment in re.split(r"\r(?:\x1b\[\d+A)?\x1b\[J", screen.getvalue())]


def test_a_screen_follows_the_best_length() -> None:
    """A line, written over and wiped in the end, tells fabric, best length and least possible."""
    with redirect_stderr(Screen()) as screen, fabric_progress(Notation("in"), EIGHTH) as watch:
        assert watch is not None
        watch("ink", Progress(length=100, bound=92, method="strips"))

    up = "\r\x1b[1A\x1b[J"
    assert screen.getvalue() == f"{WIPE}ink: 12 1/2 in needed, not under 11 1/2 in (strips)\n{up}"


def test_every_fabric_has_its_line() -> None:
    """Fabrics stand below each other in the order they came up, while their lengths and bounds close in."""
    with redirect_stderr(Screen()) as screen, fabric_progress(Notation("in"), EIGHTH) as watch:
        assert watch is not None
        watch("ink", Progress(length=100, bound=92, method="strips"))
        watch("oat", Progress(length=0, bound=0, method="bands"))
        watch("ink", Progress(length=96, bound=92, method="blocks"))
        watch("ink", Progress(length=96, bound=96, method="blocks"))

    oat = "oat: the cloth on hand is enough"
    assert seen(screen) == [
        [],
        ["ink: 12 1/2 in needed, not under 11 1/2 in (strips)"],
        ["ink: 12 1/2 in needed, not under 11 1/2 in (strips)", oat],
        ["ink: 12 in needed, not under 11 1/2 in (blocks)", oat],
        ["ink: 12 in needed, cannot be done in less", oat],
        [],
    ]


def test_a_small_screen_is_not_overrun(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lines are cut at its edge, and those that find no room are left out: it must never scroll."""
    monkeypatch.setattr("ellwand_cli.progress.get_terminal_size", lambda: (9, 3))
    with redirect_stderr(Screen()) as screen, fabric_progress(Notation("in"), EIGHTH) as watch:
        assert watch is not None
        for fabric in ("ink", "oat", "brass"):
            watch(fabric, Progress(length=8, bound=8, method="strips"))

    assert seen(screen)[-2:] == [["ink: 1 i", "oat: 1 i"], []]


def test_a_screen_follows_the_widths() -> None:
    """A comparison tells in one line the width and fabric that moved last."""
    with redirect_stderr(Screen()) as screen, value_progress(FRAMED) as watch:
        assert watch is not None
        watch(Fraction(5, 2), "ink", Progress(length=100, bound=92, method="strips"))
        watch(Fraction(3), "oat", Progress(length=8, bound=8, method="strips"))

    assert seen(screen) == [
        [],
        ["2 1/2 in, ink: 12 1/2 in needed, not under 11 1/2 in (strips)"],
        ["3 in, oat: 1 in needed, cannot be done in less"],
        [],
    ]


def test_the_line_is_wiped_when_the_work_is_stopped() -> None:
    """An error or a stop leaves no half line behind."""
    with redirect_stderr(Screen()) as screen, pytest.raises(KeyboardInterrupt), value_progress(FRAMED):
        raise KeyboardInterrupt

    assert screen.getvalue() == WIPE


def test_nothing_is_shown_where_there_is_no_screen(capsys: pytest.CaptureFixture[str]) -> None:
    """In a file or a pipe there is no progress."""
    with fabric_progress(Notation("in"), EIGHTH) as watch, value_progress(FRAMED) as other:
        assert watch is None
        assert other is None

    assert capsys.readouterr().err == ""
