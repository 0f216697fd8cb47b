"""A cutting mat in numbers: a cut list is followed word by word, and what lies on the mat at the end is told.

Nothing but the printed words is known here: no layout, no tree of cuts. Cloth is a rectangle that gets smaller with
every cut; parts with a letter wait in heaps until they are cut on.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction

__all__ = ["Mat"]

_LENGTH = r"(?:\d+ )?\d+(?:/\d+)?(?:\.\d+)?"
_SIZE = rf"({_LENGTH}) × ({_LENGTH}) (?:in|cm)"
_MADE = rf"(?P<count>\d+) (?P<what>.+) \((?P<across>{_LENGTH}) × (?P<along>{_LENGTH}) (?:in|cm)\)"
_CUT = re.compile(
    rf"Cut {_MADE} (?:off|from) (?P<source>the cloth|(?:\d+ )?[A-Z]+)(?:, (?P<each>\d+) from each)?"
    r"(?P<folded>, folded once|, folded twice|, folded in half, two at a stroke"
    rf"|, along a chalked line of {_LENGTH} \w+)?"
    rf": (?P<sum>[^:]+) of (?P<before>{_LENGTH}) (?:in|cm)(?:, (?P<left>{_LENGTH}) left)?(?:, which stays as it is)?\."
    r"(?: They are (?P<names>.+)\.)?"
)
_OVER = re.compile(rf"What is left of (?P<source>the cloth|(?:\d+ )?[A-Z]+) is {_MADE}\.(?: They are (?P<names>.+)\.)?")
_LETTERED = re.compile(r"(?:strips?|parts?|lengths?) ([A-Z]+)")
_SETTING = re.compile(rf"(?:Set the ruler to|Measure out) ({_LENGTH}) (?:in|cm)")
_COUNTS = re.compile(r"This takes (\d+) settings? of the ruler(?:, as few as can be,)? and (\d+) cuts?; .*")

Rectangle = tuple[Fraction, Fraction]


def number(text: str) -> Fraction:
    """A length as it is printed: ``4 5/8`` or ``13.4``."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


@dataclass
class _Heap:
    """Equal rectangles, of which some may be cut into."""

    rectangles: list[Rectangle]


@dataclass
class Mat:
    """What lies on it while a list is followed; `across` and `along` are of the cloth as it comes from the wash."""

    across: Fraction
    along: Fraction
    heaps: dict[str, _Heap] = field(default_factory=dict)
    pieces: Counter[tuple[str, Fraction, Fraction]] = field(default_factory=Counter)
    ruler: Fraction = Fraction(0)
    settings: int = 0
    cuts: int = 0
    claim: tuple[int, int] | None = None

    def follow(self, lines: tuple[str, ...]) -> None:
        """Do all that `lines` say, in their order; a note says nothing that is done."""
        for line in lines:
            if match := _COUNTS.fullmatch(line):
                self.claim = int(match[1]), int(match[2])
            elif match := re.match(r"\d+\. (.+)", line):
                self._step(match[1])
            elif match := re.match(r" +[a-z]+\. (.+)", line):
                self._part(match[1])

    def _step(self, words: str) -> None:
        if match := _SETTING.match(words):
            self.ruler = number(match[1])
            self.settings += 1
        elif match := re.match(rf"Square up the cloth: ({_LENGTH}) ", words):
            self.along -= number(match[1])
        elif match := re.match(rf"Cut ({_LENGTH}) \w+ off the cloth, measured from the squared end", words):
            self.along = number(match[1])
        elif match := re.match(rf"Trim off (?:both selvages|the selvage), .*: ({_LENGTH}) \w+ of width to use", words):
            self.across = number(match[1])
        elif match := re.match(rf"Trim the cloth to {_SIZE}", words):
            assert number(match[1]) <= self.across
            assert number(match[2]) <= self.along
            self.across, self.along = number(match[1]), number(match[2])
        elif match := re.match(rf"Trim the cloth to ({_LENGTH}) \w+ of its (width|length)", words):
            if match[2] == "width":
                self.across = number(match[1])
            else:
                self.along = number(match[1])
        elif match := re.match(rf"(?:The whole cloth|This length), {_SIZE}, is (.+): there is nothing to cut", words):
            self._name(match[3], (number(match[1]), number(match[2])), 1)
        else:
            assert words.startswith(("Wash ", "Wash and press ")), words

    def _part(self, words: str) -> None:
        cut = _CUT.fullmatch(words)
        over = None if cut else _OVER.fullmatch(words)
        match = cut or over
        assert match is not None, words
        size = number(match["across"]), number(match["along"])
        sources = self._sources(match["source"])
        if match["source"] == "the cloth" and cut:
            sources.rectangles[0] = self._to_a_mark(sources.rectangles[0], number(cut["before"]))
        each = int(match["each"] or match["count"]) if cut else 1
        assert each * len(sources.rectangles) == int(match["count"]), words
        for place, rectangle in enumerate(sources.rectangles):
            sources.rectangles[place] = self._cut_off(rectangle, size, each, words, free=over is not None)
        strokes = each if cut and cut["left"] else each - 1
        if cut and cut["folded"] == ", folded in half, two at a stroke":
            assert each % 2 == 0, words
            strokes = each // 2
        self.cuts += strokes * len(sources.rectangles) if cut else 0
        self._put(match["what"], match["names"], size, int(match["count"]))

    def _sources(self, words: str) -> _Heap:
        if words == "the cloth":
            return self.heaps.setdefault(words, _Heap([(self.across, self.along)]))
        heap = self.heaps[words.split()[-1]]
        assert len(heap.rectangles) == (int(words.split()[0]) if " " in words else 1), words
        return heap

    def _to_a_mark(self, cloth: Rectangle, told: Fraction) -> Rectangle:
        """Washed cloth as its list takes it: at most half a unit short of what there is, down to a mark."""
        across, along = cloth
        return (across, told) if told < along < told + Fraction(1, 2) else cloth

    def _cut_off(self, rectangle: Rectangle, size: Rectangle, each: int, words: str, *, free: bool) -> Rectangle:
        """What is left of `rectangle` when `each` parts of `size` are cut off it by straight cuts to the ruler."""
        if free:
            assert rectangle == size, f"{words}: {rectangle}"
            return Fraction(0), Fraction(0)
        assert self.ruler in size, words
        for axis in (0, 1):
            same, divided = rectangle[1 - axis] == size[1 - axis], size[axis] == self.ruler
            if same and divided and each * size[axis] <= rectangle[axis] and self._told(words, rectangle[axis]):
                left = rectangle[axis] - each * size[axis]
                self._check_sum(words, rectangle[axis], each, left)
                return (left, rectangle[1]) if axis == 0 else (rectangle[0], left)
        raise AssertionError(f"{words}: {each} of {size} do not come off {rectangle}")

    def _told(self, words: str, before: Fraction) -> bool:
        match = _CUT.fullmatch(words)
        return match is not None and number(match["before"]) == before

    def _check_sum(self, words: str, before: Fraction, each: int, left: Fraction) -> None:
        match = _CUT.fullmatch(words)
        assert match is not None
        total = match["sum"].split(" = ")[-1]
        assert number(total) == each * self.ruler == before - left, words
        assert number(match["left"] or "0") == left, words

    def _put(self, what: str, names: str | None, size: Rectangle, count: int) -> None:
        if match := _LETTERED.fullmatch(what):
            assert match[1] not in self.heaps, f"two parts {match[1]}"
            self.heaps[match[1]] = _Heap([size] * count)
        elif names is None:
            self.pieces[what, *size] += count
        else:
            self._name(names, size, count)

    def _name(self, names: str, size: Rectangle, count: int) -> None:
        """Pieces of one size with several names: "a, 2 × b and c"."""
        told = 0
        for words in re.split(r", | and ", names):
            match = re.fullmatch(r"(?:(\d+) × )?(.+)", words)
            assert match is not None
            self.pieces[match[2], *size] += int(match[1] or 1)
            told += int(match[1] or 1)
        assert told == count, names
