"""Sets of numbered rectangles as Python integers: bit i stands for number i, the lowest bit for the first."""

from __future__ import annotations

from bisect import bisect_right

import numpy as np
from numpy.typing import NDArray

__all__ = ["UpTo", "as_long", "first", "to_bits"]


def to_bits(chosen: NDArray[np.bool_]) -> int:
    """The numbers where `chosen` is true."""
    return int.from_bytes(np.packbits(chosen, bitorder="little").tobytes(), "little")


def first(chosen: int) -> int:
    """The lowest number of a set that is not empty."""
    return (chosen & -chosen).bit_length() - 1


def as_long(sides: NDArray[np.int64]) -> dict[int, int]:
    """For each side the numbers that have exactly this side."""
    return {side: to_bits(sides == side) for side in {*sides.tolist()}}


class UpTo(dict[int, int]):
    """For each side asked for, the numbers whose own side is at most that."""

    def __init__(self, sides: NDArray[np.int64]) -> None:
        super().__init__()
        self._sides = sides
        self._steps = [-1, *sorted({*sides.tolist()})]

    def __missing__(self, side: int) -> int:
        step = self._steps[bisect_right(self._steps, side) - 1]
        if step not in self:
            self[step] = to_bits(self._sides <= step)
        self[side] = self[step]
        return self[side]
