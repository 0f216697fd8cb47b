"""Judging the cuts of a rotary layout: whether they, one after the other, free every piece.

Every cut runs from edge to edge of one rectangle on the mat and leaves two in its place. A length on hand lies
there whole: what is beyond its last piece must be left in one.
"""

from __future__ import annotations

from bisect import bisect, insort
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ellwand.verdict.tables import Cloth, Cut, Plan, Rectangle

__all__ = ["wrong_cuts"]


def wrong_cuts(plan: Plan, cloth: Cloth) -> Iterator[str]:
    """Faults of one cloth's cuts in a rotary layout."""
    name = f'Cloth "{cloth.id}"'
    if len({cut.step for cut in cloth.cuts}) < len(cloth.cuts):
        yield f"{name}: two cuts have the same step."
    mat = _Mat(cloth)
    for cut in sorted(cloth.cuts, key=lambda cut: cut.step):
        part = mat.under(cut)
        if part is None:
            yield f"{name}: cut {cut.step} does not run from edge to edge of what lies on the mat."
            return
        if plan.stages is not None and cut.depth > plan.stages:
            yield f"{name}: cut {cut.step} is of stage {cut.depth}, and {plan.stages} are allowed."
        elif not mat.is_in_turn(cut, part, limited=plan.stages is not None):
            yield f"{name}: cut {cut.step} is not of stage {cut.depth}."
        mat.cut(cut, part)
    freed = Counter(mat.rectangles())
    for placed in cloth.placed:
        freed[placed.at] -= 1
        if freed[placed.at] < 0:
            yield f"{name}: the cuts do not free {plan.where(placed)}."
    if cloth.rest is not None and not freed[cloth.rest]:
        yield f"{name}: the cuts do not leave the rest, from {plan.show(cloth.edge)} on, as it is."


@dataclass(frozen=True, slots=True)
class _Part:
    """A rectangle on the mat, and how it came there.

    `depth` is the stage of the cut that freed it (0: none yet), `zone` whether a piece of cloth of its own holds it,
    `band` the cut that freed the strip it was cut from.
    """

    at: Rectangle
    freed_across: bool | None = None
    depth: int = 0
    zone: bool = False
    band: int = 0


class _Mat:
    """What lies on the mat: disjoint rectangles, found by the two edges that a cut runs between."""

    def __init__(self, cloth: Cloth) -> None:
        self._between: dict[tuple[bool, int, int], list[int]] = defaultdict(list)
        self._parts: dict[tuple[int, int], _Part] = {}  # by lower left corner
        self._zoned: set[int] = set()  # strips that already have a piece of cloth of its own
        self._across_first: bool | None = None if cloth.whole else True
        self._fresh = 0
        if cloth.along > 0 and cloth.across > 0:
            self._put(_Part(Rectangle(x=0, y=0, across=cloth.across, along=cloth.along)))

    def rectangles(self) -> list[Rectangle]:
        """All rectangles there."""
        return [part.at for part in self._parts.values()]

    def under(self, cut: Cut) -> _Part | None:
        """The rectangle that `cut` parts from edge to edge."""
        starts = self._between[cut.across, cut.start, cut.end]
        number = bisect(starts, cut.at) - 1
        if number < 0:
            return None
        part = self._parts[(cut.start, starts[number]) if cut.across else (starts[number], cut.start)]
        far = part.at.end if cut.across else part.at.right
        return part if starts[number] < cut.at < far else None

    def is_in_turn(self, cut: Cut, part: _Part, *, limited: bool) -> bool:
        """Whether the stage that `cut` claims follows from how its rectangle came about.

        A further cut of the same stage runs the same way; a later stage may be left out. With limited stages, odd
        ones run like the first, even ones the other way, and a sub-cut of a strip may be cut from stage 1 again:
        one in a strip, and not within such a piece.
        """
        if not limited:
            return cut.depth > part.depth or (cut.depth == part.depth and cut.across == part.freed_across)
        if self._across_first is None:
            self._across_first = cut.across == (cut.depth % 2 == 1)
        if cut.across != (self._across_first == (cut.depth % 2 == 1)):
            return False
        return cut.depth >= part.depth or self._may_start_again(cut, part)

    def _may_start_again(self, cut: Cut, part: _Part) -> bool:
        return cut.depth == 1 and part.depth == 2 and not part.zone and part.band not in self._zoned

    def cut(self, cut: Cut, part: _Part) -> None:
        """Put the two halves in the place of `part`."""
        self._take(part)
        again = cut.depth < part.depth
        if again:
            self._zoned.add(part.band)
        for half in _halves(cut, part.at):
            self._fresh += 1
            self._put(
                _Part(
                    at=half,
                    freed_across=cut.across,
                    depth=cut.depth,
                    zone=part.zone or again,
                    band=self._fresh if cut.depth == 1 else part.band,
                )
            )

    def _put(self, part: _Part) -> None:
        self._parts[part.at.x, part.at.y] = part
        insort(self._between[True, part.at.x, part.at.right], part.at.y)
        insort(self._between[False, part.at.y, part.at.end], part.at.x)

    def _take(self, part: _Part) -> None:
        del self._parts[part.at.x, part.at.y]
        self._between[True, part.at.x, part.at.right].remove(part.at.y)
        self._between[False, part.at.y, part.at.end].remove(part.at.x)


def _halves(cut: Cut, at: Rectangle) -> tuple[Rectangle, Rectangle]:
    if cut.across:
        return replace(at, along=cut.at - at.y), replace(at, y=cut.at, along=at.end - cut.at)
    return replace(at, across=cut.at - at.x), replace(at, x=cut.at, across=at.right - cut.at)
