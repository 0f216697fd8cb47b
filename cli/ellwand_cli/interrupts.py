"""Ctrl-C while a search runs: the first asks for the best so far, the second ends the program."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic
from types import FrameType

__all__ = ["first_interrupt"]

_ONE_PRESS = 0.05  # seconds within which a program that started this one may hand the same press on once more


@contextmanager
def first_interrupt() -> Iterator[Callable[[], bool]]:
    """Whether Ctrl-C was pressed; pressed again, it is a KeyboardInterrupt as ever."""
    pressed: list[float] = []

    def press(number: int, frame: FrameType | None) -> None:
        pressed.append(monotonic())
        if pressed[-1] - pressed[0] > _ONE_PRESS:
            raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, press)
    try:
        yield lambda: bool(pressed)
    finally:
        signal.signal(signal.SIGINT, before)
