"""A line on the screen while the search runs, and nothing where there is no screen."""

from __future__ import annotations

import io
from contextlib import redirect_stderr
from fractions import Fraction

import pytest

from ellwand.lengths import Notation
from ellwand.packing.problem import Progress
from ellwand_cli.progress import fabric_progress, width_progress

EIGHTH = Fraction(1, 8)
WIPE = "\r\x1b[K"


class Screen(io.StringIO):
    """Standard error as a terminal."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def test_a_screen_follows_the_best_length() -> None:
    """One line, written over and wiped in the end, tells fabric, best length and least possible."""
    with redirect_stderr(Screen()) as screen, fabric_progress(Notation("in"), EIGHTH) as watch:
        assert watch is not None
        watch("ink", Progress(length=100, bound=92, method="strips"))

    assert screen.getvalue() == f"{WIPE}ink: 12 1/2 in needed, not under 11 1/2 in (strips){WIPE}"


def test_a_screen_follows_the_widths() -> None:
    """A comparison tells the width that it is at."""
    with redirect_stderr(Screen()) as screen, width_progress(Notation("in")) as watch:
        assert watch is not None
        watch(Fraction(5, 2))

    assert screen.getvalue() == f"{WIPE}2 1/2 in …{WIPE}"


def test_the_line_is_wiped_when_the_work_is_stopped() -> None:
    """An error or a stop leaves no half line behind."""
    with redirect_stderr(Screen()) as screen, pytest.raises(KeyboardInterrupt), width_progress(Notation("in")):
        raise KeyboardInterrupt

    assert screen.getvalue() == WIPE


def test_nothing_is_shown_where_there_is_no_screen(capsys: pytest.CaptureFixture[str]) -> None:
    """In a file or a pipe there is no progress."""
    with fabric_progress(Notation("in"), EIGHTH) as watch, width_progress(Notation("in")) as other:
        assert watch is None
        assert other is None

    assert capsys.readouterr().err == ""
