"""Sets of invented cloth to measure the engine on: quilts, kits, and puzzles without waste.

Lengths are in marks of an eighth of an inch, where they mean cloth. Every instance comes from its own name alone, so
that it is the same everywhere and stays the same when others are added. There are two families of each set: "tuning"
may be looked at while the engine is worked on, "held out" is for the verdict.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from random import Random

from ellwand.packing.problem import Item, Packing, Place, Problem, Stock

SHOP_STEP = 36  # marks in 1/8 yd
FAMILIES = ("tuning", "held out")
_FIRST = {"tuning": 1, "held out": 101}
_SEAM = 4  # marks added to a finished side
_LEFTOVER = (4, 8, 9, 12)  # marks lost at the ends of a strip of binding


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """A problem with its name, where it comes from, and what is known of it beforehand.

    Parameters
    ----------
    name
        Unlike any other's.
    group
        The set whose line of the tables it counts in.
    family
        "tuning", "held out", or "published".
    least
        A length below which no layout exists, known from elsewhere; 0 where nothing is known.
    step
        In what steps the stock is bought; 0 where nothing is.
    source
        Who published it, or how it is made.
    """

    name: str
    group: str
    family: str
    problem: Problem
    least: int = 0
    step: int = 0
    source: str = "invented here"

    @property
    def pieces(self) -> int:
        """How many rectangles there are."""
        return sum(item.demand for item in self.problem.items)


def strip(width: int, demands: dict[tuple[int, int, bool], int]) -> Problem:
    """Rectangles (width, height, turnable) to cut by straight cuts out of an open stock."""
    items = tuple(Item(w=w, h=h, demand=demand, turnable=turns) for (w, h, turns), demand in sorted(demands.items()))
    return Problem(items=items, stocks=(Stock(w=width, h=None),), guillotine=True, stages=None)


def quilts(family: str) -> Iterator[Instance]:
    """Thirty quilts of 60 to 250 pieces from one cloth; those of even number have borders."""
    for number in range(_FIRST[family], _FIRST[family] + 30):
        name = f"quilt-{number:03}"
        problem = _quilt(Random(name), number % 2 == 0)
        yield Instance(name=name, group="quilts", family=family, problem=problem, step=SHOP_STEP)


def kits(family: str) -> Iterator[Instance]:
    """Ten quilts cut many times over: 800 to 32 000 pieces, each about half as large again as the one before."""
    for step in range(10):
        name = f"kit-{_FIRST[family] + step:03}"
        random = Random(name)
        one = _quilt(random, random.random() < 0.5)
        wanted = 800 * 40 ** (step / 9)
        pieces = sum(item.demand for item in one.items)
        copies = min(max(round(wanted / pieces), ceil(800 / pieces)), 32_000 // pieces)
        demands = {(item.w, item.h, item.turnable): item.demand * copies for item in one.items}
        problem = strip(one.stocks[0].w, demands)
        yield Instance(name=name, group="kits", family=family, problem=problem, step=SHOP_STEP)


def puzzles(family: str) -> Iterator[Instance]:
    """Ten rectangles cut by straight cuts into 15 to 45 pieces, all different; those of even number may turn."""
    for step in range(10):
        name = f"puzzle-{_FIRST[family] + step:03}"
        problem, packing = puzzle(name, 15 + 10 * step // 3, turnable=step % 2 == 1)
        yield Instance(name=name, group="puzzles", family=family, problem=problem, least=packing.length)


def _quilt(random: Random, bordered: bool) -> Problem:
    """Cloth for an invented quilt, drawn again until it has 60 to 250 pieces."""
    while True:
        width = 8 * random.randrange(40, 45) + random.choice((0, 4))
        demands = _pieces(random, width, bordered)
        fitting = all(w <= width or (turns and h <= width) for w, h, turns in demands)
        if fitting and 60 <= sum(demands.values()) <= 250:
            return strip(width, demands)


def _pieces(random: Random, width: int, bordered: bool) -> Counter[tuple[int, int, bool]]:
    """Patches, sashing, borders and binding of one quilt, as (width, height, turnable)."""
    across, down, block = random.randrange(3, 8), random.randrange(4, 10), random.choice((48, 64, 72, 80, 96))
    sash = random.choice((0, 12, 16, 20))
    pieces = _patches(random, across * down, block)
    if sash:
        pieces += _sashing(random, across, down, block, sash)
    wide = across * block + (across - 1) * sash
    long = down * block + (down - 1) * sash
    border = random.choice((20, 28, 36, 48, 60)) if bordered else 0
    if border:
        pieces[border + _SEAM, long + _SEAM, False] += 2
        pieces[border + _SEAM, wide + 2 * border + _SEAM, False] += 2
    if not bordered or random.random() < 0.5:
        around = 2 * (wide + long + 4 * border) + 80
        strips = ceil(around / (width - random.choice(_LEFTOVER)))
        pieces[width, random.choice((18, 20)), False] += strips
    return pieces


def _patches(random: Random, blocks: int, block: int) -> Counter[tuple[int, int, bool]]:
    """One to four kinds of patches: squares, squares for triangles, rectangles, or the whole block."""
    patches: Counter[tuple[int, int, bool]] = Counter()
    for _ in range(random.randrange(1, 5)):
        unit = block // random.choice((1, 2, 3, 4))
        used = random.choice((blocks, (blocks + 1) // 2)) * random.choice((1, 1, 2, 4))
        sides = random.choice(
            (
                (unit + _SEAM, unit + _SEAM),
                (unit + 7, unit + 7),  # for two triangles: 7/8 in more than finished
                (unit + 10, unit + 10),  # for four: 1 1/4 in more
                (unit + _SEAM, 2 * unit + _SEAM),
            )
        )
        patches[*sides, sides[0] == sides[1] or random.random() < 0.7] += used
    return patches


def _sashing(random: Random, across: int, down: int, block: int, sash: int) -> Counter[tuple[int, int, bool]]:
    """Strips between the blocks, and the squares where they meet."""
    pieces: Counter[tuple[int, int, bool]] = Counter()
    pieces[sash + _SEAM, block + _SEAM, random.random() < 0.5] += (across - 1) * down + across * (down - 1)
    pieces[sash + _SEAM, sash + _SEAM, True] += (across - 1) * (down - 1)
    return pieces


_Rectangle = tuple[int, int, int, int]  # x, y, width, height


def puzzle(name: str, pieces: int, *, turnable: bool) -> tuple[Problem, Packing]:
    """A rectangle cut to pieces, and how they lay in it: the shortest layout, since none of it is waste."""
    random = Random(name)
    width = random.randrange(200, 401)
    parts = _cut_up(random, (0, 0, width, random.randrange(200, 601)), pieces)
    problem = strip(width, {(w, h, turnable): 1 for _, _, w, h in parts})
    number = {(item.w, item.h): at for at, item in enumerate(problem.items)}
    places = tuple(Place(item=number[w, h], stock=0, x=x, y=y, turned=False) for x, y, w, h in parts)
    return problem, Packing(places=places, length=max(y + h for _, y, _, h in parts))


def _cut_up(random: Random, whole: _Rectangle, pieces: int) -> list[_Rectangle]:
    """Divide the whole and its parts by straight cuts, large ones rather than small, until no two pieces are alike."""
    while True:
        parts = [whole]
        while len(parts) < pieces:
            areas = [w * h for _, _, w, h in parts]
            part = parts.pop(random.choices(range(len(parts)), areas)[0])
            parts += _halves(random, part)
        if len({frozenset((w, h)) for _, _, w, h in parts}) == pieces:
            return parts


def _halves(random: Random, part: _Rectangle) -> tuple[_Rectangle, _Rectangle]:
    """Two parts of a part, cut across its longer side more often than across the other."""
    x, y, w, h = part
    where = random.uniform(0.25, 0.75)
    if random.random() < w / (w + h):
        cut = round(w * where)
        return (x, y, cut, h), (x + cut, y, w - cut, h)
    cut = round(h * where)
    return (x, y, w, cut), (x, y + cut, w, h - cut)
