"""The wrappers round other packers, with stand-ins for them: what is asked, kept and told."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from types import SimpleNamespace

import pytest

from bench import peers
from bench.peers import bisect_packingsolver, repeat_rectpack
from bench.sets import strip
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Packing, Place, Problem

NO_BOUND = Bound(length=0, theorem="")


class Shelves:
    """A stand-in for the package's packers: shelf over shelf, a piece laid flat where it may turn."""

    def __init__(self, width: int, height: int, *, merge: bool) -> None:
        self.width, self.height, self.rot = width, height, True
        self.x = self.y = self.top = 0

    def add_rect(self, width: int, height: int) -> SimpleNamespace | None:
        """Place a piece on the shelf, or open the next."""
        if self.rot and height > width:
            width, height = height, width
        if self.x + width > self.width:
            self.x, self.y = 0, self.top
        if self.y + height > self.height or width > self.width:
            return None
        placed = SimpleNamespace(x=self.x, y=self.y, width=width)
        self.x += width
        self.top = max(self.top, self.y + height)
        return placed


@dataclass(frozen=True, slots=True)
class AnyRule:
    """A module in which every rule is the same."""

    packer: type[Shelves]

    def __getattr__(self, name: str) -> type[Shelves]:
        """The packer, whatever it is called."""
        return self.packer


def test_rectpack_is_asked_again_for_less(monkeypatch: pytest.MonkeyPatch) -> None:
    """The sort that helps is found, only what may turn is turned, and each better length is told once."""
    monkeypatch.setitem(sys.modules, "rectpack", AnyRule(Shelves))
    problem = strip(20, {(4, 10, False): 2, (12, 4, False): 1, (3, 9, True): 2, (20, 2, False): 1})
    lengths: list[int] = []

    packing, bound = repeat_rectpack(problem, 10.0, lengths.append)

    assert packing is not None
    assert judge(problem, packing, NO_BOUND) == ()
    assert lengths == sorted(set(lengths), reverse=True)
    assert (lengths[-1], bound) == (packing.length, None)


def test_rectpack_stops_at_its_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule that takes for ever is left when the time is up, with nothing in hand."""

    class Endless(Shelves):
        def add_rect(self, width: int, height: int) -> SimpleNamespace | None:
            while True:
                pass

    monkeypatch.setitem(sys.modules, "rectpack", AnyRule(Endless))

    assert repeat_rectpack(strip(20, {(4, 10, False): 2}), 0.05, lambda length: None) == (None, None)


def reaching(shortest: int, asked: list[int]) -> object:
    """A search that finds a layout at any length from `shortest` up, and as short as asked."""

    def search(problem: Problem, length: int, seconds: float) -> Packing | None:
        asked.append(length)
        place = Place(item=0, stock=0, x=0, y=0, turned=False)
        return Packing(places=(place,), length=length) if length >= shortest else None

    return search


@pytest.mark.parametrize("shortest", [10, 11, 17, 39])
def test_packingsolver_is_bisected(monkeypatch: pytest.MonkeyPatch, shortest: int) -> None:
    """The shortest length that a search can reach is found, and told, in few searches."""
    asked: list[int] = []
    told: list[int] = []
    monkeypatch.setattr(peers, "_three_stages", lambda *_: None)
    monkeypatch.setattr(peers, "_any_stages", reaching(shortest, asked))
    problem = strip(10, {(5, 20, False): 1})  # its area fills 10

    packing, _ = bisect_packingsolver(problem, 0.05, told.append)

    assert packing is not None
    assert packing.length == told[-1] == shortest
    assert shortest in asked[:30]
