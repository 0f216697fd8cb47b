"""Small projects made at random: a few pieces of one fabric, to be cut by straight cuts, in inches or centimetres."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

from ellwand.project.read import parse_project
from ellwand.project.tables import Project

__all__ = ["PATCHES", "Patches"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Patches:
    """A random list of pieces; lengths are counted in marks of the ruler.

    Parameters
    ----------
    unit
        With which the ruler goes: an eighth of an inch, or half a centimetre.
    pieces
        Each across, along and count.
    lengths, rectangles
        Cloth on hand: lengths of the full width, and rectangles across × along.
    """

    unit: str
    stages: str
    pieces: tuple[tuple[int, int, int], ...]
    turning: bool
    width: int
    selvage: int
    shrinks: bool
    lengths: tuple[int, ...]
    rectangles: tuple[tuple[int, int], ...]

    def project(self) -> Project:
        """The list, read as a project."""
        return parse_project(self.text(), "patches.toml")

    def text(self) -> str:
        """The list as a project file."""
        grain = "either" if self.turning else "lengthwise"
        pieces = "".join(
            f'[[piece]]\nname = "patch {number}"\nfabric = "ink"\ncut = {self._pair(across, along)}\n'
            f'count = {count}\ngrain = "{grain}"\n'
            for number, (across, along, count) in enumerate(self.pieces, 1)
        )
        cloths = [f"{{ length = {self._length(length)} }}" for length in self.lengths]
        cloths += [
            f"{{ width = {self._length(across)}, length = {self._length(along)} }}" for across, along in self.rectangles
        ]
        shrinks = 'wash = true\nshrinks = ["3 %", "2 %"]\n' if self.shrinks else ""
        return (
            f'[project]\nname = "Patches"\nunit = "{self.unit}"\nruler = {self._length(1)}\nstages = {self.stages}\n'
            f"{pieces}[fabric.ink]\nwidth = {self._length(self.width)}\nselvage = {self._length(self.selvage)}\n"
            f"{shrinks}on_hand = [{', '.join(cloths)}]\n"
        )

    def _pair(self, across: int, along: int) -> str:
        return f"[{self._length(across)}, {self._length(along)}]"

    def _length(self, marks: int) -> str:
        return f'"{marks}/8 in"' if self.unit == "in" else f'"{marks / 2} cm"'


PATCHES = st.builds(
    Patches,
    unit=st.sampled_from(["in", "cm"]),
    stages=st.sampled_from(["3", "3", '"any"']),
    pieces=st.lists(st.tuples(st.integers(8, 80), st.integers(8, 140), st.integers(1, 7)), min_size=1, max_size=4).map(
        tuple
    ),
    turning=st.booleans(),
    width=st.integers(150, 350),
    selvage=st.integers(0, 6),
    shrinks=st.booleans(),
    lengths=st.lists(st.integers(40, 200), max_size=1).map(tuple),
    rectangles=st.lists(st.tuples(st.integers(60, 180), st.integers(60, 180)), max_size=2).map(tuple),
)
