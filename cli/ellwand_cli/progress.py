"""What a screen shows while a search runs; nothing where standard error is no screen."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from fractions import Fraction

import click

from ellwand.lengths import Notation
from ellwand.packing.problem import Progress
from ellwand.plan import Watch

__all__ = ["fabric_progress", "width_progress"]

_CLEAR = "\r\x1b[K"


@contextmanager
def fabric_progress(notation: Notation, ruler: Fraction) -> Iterator[Watch | None]:
    """A line that follows the best length and the least possible, per fabric."""

    def watch(fabric: str, progress: Progress) -> None:
        best, least = notation.show(progress.length * ruler), notation.show(progress.bound * ruler)
        click.echo(f"{_CLEAR}{fabric}: {best} needed, not under {least} ({progress.method})", nl=False, err=True)

    with _line() as shown:
        yield watch if shown else None


@contextmanager
def width_progress(notation: Notation) -> Iterator[Callable[[Fraction], None] | None]:
    """A line that follows the widths as they are planned."""

    def watch(width: Fraction) -> None:
        click.echo(f"{_CLEAR}{notation.show(width)} …", nl=False, err=True)

    with _line() as shown:
        yield watch if shown else None


@contextmanager
def _line() -> Iterator[bool]:
    shown = sys.stderr.isatty()
    try:
        yield shown
    finally:
        if shown:
            click.echo(_CLEAR, nl=False, err=True)
