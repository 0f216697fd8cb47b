"""What a screen shows while a search runs; nothing where standard error is no screen."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from fractions import Fraction
from shutil import get_terminal_size

import click

from ellwand.compare import Watch as ValueWatch
from ellwand.lengths import Notation
from ellwand.materials import Watch as SizeWatch
from ellwand.packing.problem import Progress
from ellwand.plan import Watch
from ellwand.project.vary import Varied

__all__ = ["fabric_progress", "size_progress", "value_progress"]


@contextmanager
def fabric_progress(notation: Notation, ruler: Fraction) -> Iterator[Watch | None]:
    """A line for each fabric: the best length so far, and the least possible closing in."""
    with _screen() as screen:

        def watch(fabric: str, progress: Progress) -> None:
            assert screen is not None
            screen.show(fabric, f"{fabric}: {_words(notation, ruler, progress)}")

        yield watch if screen else None


@contextmanager
def value_progress(varied: Varied) -> Iterator[ValueWatch | None]:
    """One line: the value and fabric that moved last."""
    notation, ruler = varied.base.notation, varied.base.ruler
    with _screen() as screen:

        def watch(value: Fraction, fabric: str, progress: Progress) -> None:
            assert screen is not None
            screen.show("", f"{varied.show(value)}, {fabric}: {_words(notation, ruler, progress)}")

        yield watch if screen else None


@contextmanager
def size_progress(notation: Notation, ruler: Fraction) -> Iterator[SizeWatch | None]:
    """One line: the size and fabric that moved last."""
    with _screen() as screen:

        def watch(size: str, fabric: str, progress: Progress) -> None:
            assert screen is not None
            screen.show("", f"{size}, {fabric}: {_words(notation, ruler, progress)}")

        yield watch if screen else None


def _words(notation: Notation, ruler: Fraction, progress: Progress) -> str:
    best, least = notation.show(progress.length * ruler), notation.show(progress.bound * ruler)
    if not progress.length:
        return "the cloth on hand is enough"
    if progress.length == progress.bound:
        return f"{best} needed, cannot be done in less"
    return f"{best} needed, not under {least} ({progress.method})"


@dataclass(slots=True, eq=False)
class _Screen:
    """Lines by name, written over where they stand."""

    lines: dict[str, str] = field(default_factory=dict)
    shown: int = 0

    def show(self, name: str, line: str) -> None:
        """Put `line` in the place of the one of that name; lines that find no room on the screen are left out."""
        self.lines[name] = line
        columns, rows = get_terminal_size()
        fitting = [text[: columns - 1] for text in list(self.lines.values())[: rows - 1]]
        self._write(fitting)

    def wipe(self) -> None:
        """Leave nothing behind."""
        self._write([])

    def _write(self, lines: Sequence[str]) -> None:
        up = f"\x1b[{self.shown}A" if self.shown else ""
        click.echo(f"\r{up}\x1b[J" + "".join(f"{line}\n" for line in lines), nl=False, err=True)
        self.shown = len(lines)


@contextmanager
def _screen() -> Iterator[_Screen | None]:
    screen = _Screen() if sys.stderr.isatty() else None
    try:
        yield screen
    finally:
        if screen is not None:
            screen.wipe()
