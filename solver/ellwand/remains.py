"""What stays of the cloth on hand, and the smallest cloth that would hold what does not fit on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from ellwand.assign import Job, assign, lay_out
from ellwand.model import Layout, Left, Missing, Placed, Source
from ellwand.packing.bound import lower_bound
from ellwand.packing.halt import Halt
from ellwand.packing.problem import Effort, Packing, Problem, Stock
from ellwand.packing.solve import solve

__all__ = ["left_over", "narrowed", "smallest_cloth"]

_MOST_WIDTHS = 24  # of a missing cloth that are tried, and two at the least
_MOST_PACKED = 3000  # pieces that are packed for them in all, so that kits take no longer than quilts


def left_over(job: Job, layouts: Sequence[Layout]) -> tuple[Left, ...]:
    """Cloths on hand that are not cut into, and what a length keeps beyond its last piece, as they can be cut."""
    edges = {layout.cloth.id: max(item.y + item.along for item in layout.placed) for layout in layouts}
    left = []
    for cloth in job.cloths:
        cut = cloth.along if cloth.whole else edges.get(cloth.id, Fraction(0))
        rest = cloth.along - (cut if cloth.id in edges else 0)
        if rest:
            untouched = cloth.id not in edges
            left.append(
                Left(
                    id=cloth.id,
                    ledger=cloth.ledger,
                    across=cloth.across,
                    along=rest,
                    untouched=untouched,
                    odd=cloth.odd,
                )
            )
    return tuple(left)


def narrowed(job: Job, packing: Packing, halt: Halt) -> Packing:
    """The packing that needs no more length than `packing`, and of that length the least width, as far as is tried.

    Needed is a length of the full width, so `packing` may leave pieces to it that would go on the cloth on hand.
    """
    for width in reversed(list(_widths(job.problem))):
        if halt.now:
            break
        problem = replace(job.problem, stocks=(*job.problem.stocks[:-1], Stock(w=width, h=None)))
        if lower_bound(problem).length <= packing.length:
            narrow = solve(problem, effort=Effort.QUICK).packing
            if narrow.length <= packing.length:
                return narrow
    return packing


def smallest_cloth(job: Job, layouts: Sequence[Layout], halt: Halt) -> Missing | None:
    """The smallest rectangle found that holds all pieces on the cloth to buy, no wider than that.

    A number of widths are packed quickly: sums of the pieces' sides. There is always an answer where something is
    to buy: the rectangle round the layout that is there. Least area first, of equals the one nearest to a square.
    """
    missing = [layout for layout in layouts if layout.cloth.source is Source.BUY]
    if not missing:
        return None
    best = _around(missing[0].placed)
    rest = _job_of(job, missing[0])
    ruler = job.project.ruler
    for width in _widths(rest.problem):
        problem = replace(rest.problem, stocks=(Stock(w=width, h=None),))
        if halt.now or width * lower_bound(problem).length * ruler**2 > best.across * best.along:
            continue
        packing = solve(problem, effort=Effort.QUICK).packing
        if (width * ruler * packing.length * ruler, max(width, packing.length) * ruler) < _rank(best):
            best = _around(lay_out(rest, packing)[0].placed)
    return best


def _rank(missing: Missing) -> tuple[Fraction, Fraction]:
    return missing.across * missing.along, max(missing.across, missing.along)


def _around(placed: Sequence[Placed]) -> Missing:
    across = max(item.x + item.across for item in placed)
    return Missing(across=across, along=max(item.y + item.along for item in placed), placed=tuple(placed))


def _job_of(job: Job, layout: Layout) -> Job:
    """The pieces of one layout alone, on new cloth."""
    counts = Counter(item.piece for item in layout.placed)
    pieces = [replace(piece, count=counts[piece.id]) for piece in job.pieces if counts[piece.id]]
    return assign(job.project, replace(job.fabric, on_hand=()), pieces, as_new=True)


def _widths(problem: Problem) -> Iterator[int]:
    """Widths up to the bolt's to which sides of items add up, the widest first; of many, some at equal distances."""
    most, sums = problem.stocks[-1].w, 1
    for item in problem.items:
        for side in {item.w, item.h} if item.turnable else {item.w}:
            for _ in range(min(item.demand, most // side)):
                sums |= sums << side & (1 << most + 1) - 1
    least = max(min(item.w, item.h) if item.turnable else item.w for item in problem.items)
    widths = [width for width in range(most, least - 1, -1) if sums >> width & 1]
    tried = max(2, min(_MOST_WIDTHS, _MOST_PACKED // problem.pieces))
    return iter(widths[:: -(-len(widths) // tried)])
