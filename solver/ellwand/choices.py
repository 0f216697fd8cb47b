"""Every way to make the parts of one fabric that is tried, each as a packing problem with the least it can need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from math import ceil, prod

from ellwand.assign import Job, assign
from ellwand.bolts import beyond_bolts
from ellwand.cloths import cloths_on_hand, purchase, single_sources, usable_width
from ellwand.errors import NoPlanError
from ellwand.model import Construction, Part, Piece, Quilt
from ellwand.packing.bound import lower_bound
from ellwand.packing.problem import Bound
from ellwand.project.tables import Fabric, Project
from ellwand.quilt.work import work_out

__all__ = ["Choice", "area_floor", "in_bolts", "least_area", "open_choices"]

_MOST_WAYS = 64  # combinations of constructions that are all tried, for each width of strips
_MOST_ALIKE = 192  # of those in which parts with equal choices choose alike
_NO_PLAN = 10**12  # steps: more than are ever bought
_MOST_WIDTHS = 3  # of cloth on hand narrower than the bolt

Combination = tuple[Construction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One way to make every part of a fabric.

    `constructions` names what was chosen for parts that leave a choice; `joins` counts all its joins; `made` has every
    part with the way in which it is made.
    """

    constructions: tuple[tuple[str, str], ...]
    joins: int
    job: Job
    bound: Bound
    made: tuple[tuple[Part, Construction], ...]

    @property
    def held(self) -> bool:
        """Whether all must lie on one dye lot or cloth on hand, and nothing may be bought besides."""
        return bool(self.job.fabric.only)

    @property
    def flexible(self) -> bool:
        """Whether some of its strips may be fitted to what is left."""
        return any(way.runs for _, way in self.made)

    def fails(self, length: int) -> bool:
        """Whether an open length of so many marks makes this choice none."""
        return self.held and length > 0

    def rank(self, length: int) -> tuple[int, int, int]:
        """The order of aims: least bought, fewest joins, least needed; for an open length in marks of the ruler."""
        ruler = self.job.project.ruler
        if self.fails(length):
            return _NO_PLAN, self.joins, length
        return purchase(self.job.fabric, length * ruler, ruler).steps, self.joins, length


def open_choices(
    project: Project, fabric: Fabric, *, as_new: bool, at_length: bool = False, quilt: Quilt | None = None
) -> tuple[Choice, ...]:
    """Every different way to make the parts of `fabric` whose pieces go on the cloth.

    Joined strips and panels are cut to the usable width of the bolt, or all to that of a narrower cloth on hand. Ways
    that are worth their time with the most effort only are as they are without that, unless `at_length`. `quilt` is
    what the project works out to, where that is known already.

    Raises
    ------
    NoPlanError
        There is none on cloth as wide as the bolt.
    """
    found: list[Choice] = []
    for source in _sources(project, fabric, as_new=as_new):
        known: set[frozenset[Piece]] = set()
        for width, parts in _parts_by_width(project, source, as_new=as_new, quilt=quilt):
            if source.only and _area_bound(project, source, parts, as_new=as_new):
                continue
            for combination in _combinations(parts):
                pieces = tuple(piece for construction in combination for piece in construction.pieces)
                if frozenset(pieces) not in known:
                    known.add(frozenset(pieces))
                    job = assign(project, source, pieces, as_new=as_new)
                    made = combination if at_length else tuple(map(_in_brief, combination))
                    found.append(_choice(parts, made, job, width))
    return tuple(choice for choice in found if not choice.fails(choice.bound.length) or choice.flexible)


def _sources(project: Project, fabric: Fabric, *, as_new: bool) -> tuple[Fabric, ...]:
    """`fabric` with the cloths on hand that may be used together: where all is to be of one cloth, new cloth first."""
    if as_new or not fabric.same_cloth:
        return (fabric,)
    return replace(fabric, only=()), *single_sources(fabric, project.ruler)


def in_bolts(choices: Sequence[Choice]) -> tuple[Choice, ...]:
    """Those of one fabric's `choices` all of whose pieces go on a bolt.

    Raises
    ------
    NoPlanError
        There is none.
    """
    found = tuple(choice for choice in choices if not beyond_bolts(choice.job))
    if found:
        return found
    job = choices[0].job
    show = job.project.notation.show
    long = beyond_bolts(job)[0]
    raise NoPlanError(
        where=f'{job.project.source}: fabric "{job.fabric.id}"',
        found=f'piece "{long.id}", {job.project.notation.pair(long.across, long.along)}, crosses the end of a bolt',
        wanted=f"A bolt of {show(job.fabric.bolt or Fraction(0))} is too short for it",
    )


def area_floor(project: Project, fabric: Fabric, *, as_new: bool, quilt: Quilt | None = None) -> int | None:
    """What no way can go below by area alone, in marks of the ruler, where combinations were left out.

    Each part is made in its smallest way then, over the usable width. None where all combinations are open: the least
    bound of their choices holds. A way cuts all its strips to one width; ways that mix widths are not open.
    """
    floors = [
        (source, _area_bound(project, source, parts, as_new=as_new))
        for source in _sources(project, fabric, as_new=as_new)
        for _, parts in _parts_by_width(project, source, as_new=as_new, quilt=quilt)
        if _number(parts) > _MOST_WAYS
    ]
    return min((floor for source, floor in floors if not (source.only and floor)), default=None)


def _parts_by_width(
    project: Project, fabric: Fabric, *, as_new: bool, quilt: Quilt | None
) -> Iterator[tuple[Fraction | None, list[Part]]]:
    """The parts that are cut from `fabric`, for each width that joined strips and panels may be cut to.

    A width of cloth on hand on which some part cannot be made is left out; the bolt's (None) is not.
    """
    for width in _widths(project, fabric, as_new=as_new):
        changed = {**project.fabrics, fabric.id: replace(fabric, strips=width)}
        known = quilt if width is None else None
        try:
            made = known or work_out(replace(project, fabrics=changed))
        except NoPlanError:
            if width is None:
                raise
            continue
        yield width, [part for part in made.parts if part.fabric == fabric.id]


def _widths(project: Project, fabric: Fabric, *, as_new: bool) -> list[Fraction | None]:
    """Widths to which strips may all be cut: the bolt's (None), and the largest of narrower cloths on hand.

    Narrower lengths come before rectangles: they hold strips by the dozen.
    """
    if as_new:
        return [None]
    bolt = usable_width(fabric, project.ruler)
    cloths = [cloth for cloth in cloths_on_hand(fabric, project.ruler) if cloth.outline is None]
    narrower = [cloth for cloth in cloths if cloth.across < bolt]
    narrower.sort(key=lambda cloth: (cloth.whole, -cloth.across))
    return [None, *list(dict.fromkeys(cloth.across for cloth in narrower))[:_MOST_WIDTHS]]


def _combinations(parts: Sequence[Part]) -> Iterator[Combination]:
    """Every combination of the parts' constructions; where these are many, parts with equal choices choose alike.

    Where they are many still, parts with the most choices leave every other one out.
    """
    if _number(parts) <= _MOST_WAYS:
        return product(*(part.options for part in parts))
    choices = [tuple(way.name for way in part.options) for part in parts]
    kinds = list(dict.fromkeys(choices))
    return (
        tuple(part.options[numbers[kinds.index(names)]] for part, names in zip(parts, choices, strict=True))
        for numbers in product(*_thinned([range(len(names)) for names in kinds]))
    )


def _thinned(numbers: list[range]) -> list[range]:
    """`numbers`, of which the longest keeps every other one as long as their combinations are too many."""
    while prod(map(len, numbers)) > _MOST_ALIKE:
        longest = max(range(len(numbers)), key=lambda at: len(numbers[at]))
        numbers[longest] = numbers[longest][::2]
    return numbers


def _in_brief(construction: Construction) -> Construction:
    """Without runs that are fitted with the most effort only."""
    if not construction.at_length:
        return construction
    return replace(construction, runs=(), bits=(), fixed=(), fitted="", at_length=False)


def _number(parts: Sequence[Part]) -> int:
    return prod(len(part.options) for part in parts)


def _choice(parts: Sequence[Part], combination: Combination, job: Job, width: Fraction | None) -> Choice:
    named = [(part.name, way) for part, way in zip(parts, combination, strict=True) if way.joins or way.name != "whole"]
    return Choice(
        constructions=tuple((name, way.name + _narrowed(job, way, width)) for name, way in named),
        joins=sum(way.joins for _, way in named),
        job=job,
        bound=lower_bound(job.problem),
        made=tuple(zip(parts, combination, strict=True)),
    )


def _narrowed(job: Job, construction: Construction, width: Fraction | None) -> str:
    """That strips are cut to the `width` of a narrower cloth, where some of them are."""
    if not construction.joins or width not in {piece.across for piece in construction.pieces}:
        return ""
    return f", of strips cut to {job.project.notation.show(width)}"


def _area_bound(project: Project, fabric: Fabric, parts: Sequence[Part], *, as_new: bool) -> int:
    """Least length by area alone, every part made in the way that takes least."""
    ruler = project.ruler
    pieces = sum((least_area(part) for part in parts), Fraction(0))
    cloths = () if as_new else cloths_on_hand(fabric, ruler)
    on_hand = sum((cloth.across * cloth.along for cloth in cloths), Fraction(0))
    width = usable_width(fabric, ruler)
    return max(0, ceil((pieces - on_hand) / width / ruler))


def least_area(part: Part) -> Fraction:
    """Area of a part in its smallest way, square inches."""
    return min(map(_area, part.options))


def _area(construction: Construction) -> Fraction:
    """Area of its pieces, at the least: joins take nothing of strips whose bits may have any lengths."""
    pieces = sum((piece.across * piece.along * piece.count for piece in construction.others), Fraction(0))
    return pieces + sum((run.width * run.length for run in construction.runs), Fraction(0))
