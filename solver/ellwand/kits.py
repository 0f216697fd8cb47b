"""Copies cut as a cutting room cuts them: the same layout of whole kits in layers, over bolts that have an end.

Where `layers` is not said, fewer are taken, or all copies packed as one in the end, rather than a tenth more cloth.
The bound of all copies packed as one holds for every way to cut them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import floor

from ellwand.assign import Job, assign
from ellwand.bolts import bolt_room
from ellwand.choices import Choice
from ellwand.cloths import usable_width
from ellwand.cutting import Cutting, all_in_one, in_lays, over_bolts
from ellwand.errors import InputError, NoPlanError
from ellwand.hunt import Found, Hunt
from ellwand.lays import Ply, Spread, best_spreads, make_ply, near
from ellwand.model import Cloth, Piece, Source, Together
from ellwand.packing.bound import lower_bound
from ellwand.packing.parallel import Crew, Task
from ellwand.packing.problem import Effort, Packing, Result, Stock
from ellwand.packing.solve import solve
from ellwand.project.kits import USUAL_LAYERS
from ellwand.project.tables import Project
from ellwand.search import Means, answers_of, search

__all__ = ["cut_up", "layers_of"]

_SIZES = (1, 2, 3, 4, 6, 8, 12, 16, 24, 32)  # kits in a ply that are tried
_LONGEST = Fraction(360)  # inches: ten yards; only one kit may take more
_MOST_WAYS = 2  # ways to make the parts
_DEARER = Fraction(11, 10)  # than all copies packed as one, where nothing is said of layers


@dataclass(slots=True, kw_only=True)
class _Way:
    """One way to make the parts of a fabric: plies of several sizes."""

    choice: Choice  # of one kit
    plies: dict[int, Ply] = field(default_factory=dict)


@dataclass(slots=True, kw_only=True)
class _Kit:
    """A fabric of which kits are cut: what all copies take as one, and the ways to cut them in lays."""

    project: Project
    found: Found
    as_new: bool
    ways: list[_Way]

    @property
    def fabric_room(self) -> Fraction | None:
        """What a bolt holds."""
        return bolt_room(self.found.choice.job.fabric, self.project.ruler)

    def job(self, way: _Way, kits: int, *, as_new: bool = True) -> Job:
        """So many kits, on new cloth alone if `as_new`."""
        pieces = _times(way.choice.job.pieces, kits)
        return assign(self.project, self.found.choice.job.fabric, pieces, as_new=as_new)

    @property
    def least_steps(self) -> int:
        """Shop steps below which no way to cut them can go."""
        return self.found.choice.rank(self.found.bound)[0]

    def sizes(self, way: _Way) -> list[int]:
        """Numbers of kits in a ply that are worth a try."""
        one = way.plies[1].takes
        fewest = min(self.layers)
        return [kits for kits in _SIZES if kits <= self.project.copies // fewest and kits * one <= _LONGEST]

    @property
    def layers(self) -> list[int]:
        """Numbers of layers that may be cut."""
        told, copies = self.project.kits.layers, self.project.copies
        most = min(told or USUAL_LAYERS, copies)
        return [most] if told else list(range(most, 1, -1))

    def spreads(self, way: _Way, layers: int) -> list[Spread]:
        """The ways to cut it in so many layers, the best first."""
        job, ply = self.found.choice.job, way.plies[1].layout.cloth
        plain = [] if self.as_new else [cloth for cloth in job.cloths if not cloth.whole and not cloth.odd]
        lengths = [cloth for cloth in plain if cloth.across >= ply.across]  # some are narrower than the bolt
        return best_spreads(
            job.fabric, way.plies, lengths, copies=self.project.copies, layers=layers, ruler=self.project.ruler
        )

    def best(self, together: Cutting) -> tuple[_Way, Spread] | None:
        """The best way to cut it in layers; None where all copies had better be packed as one."""
        must = self.project.kits.layers is not None or not self.in_a_bolt(together)
        few = self.project.copies < USUAL_LAYERS
        limit = together.steps if few else floor(together.steps * _DEARER)
        for layers in self.layers:
            found = [(way, spread) for way in self.ways for spread in self.spreads(way, layers)[:1]]
            if not found:
                continue
            way, spread = min(found, key=lambda pair: (pair[1].steps, pair[0].choice.joins, pair[1].merit))
            if must or spread.steps <= limit:
                return way, spread
        return None

    def in_a_bolt(self, together: Cutting) -> bool:
        """Whether all copies packed as one go on a single bolt."""
        room = self.fabric_room
        return room is None or together.needed <= room - _squaring(self.found.choice.job)


def layers_of(project: Project) -> int:
    """How many layers copies are cut in at the most; 1 where they are packed as one, as those of a mix are."""
    if project.mixing is not None:
        return 1
    return min(project.kits.layers or USUAL_LAYERS, project.copies)


def cut_up(project: Project, found: Sequence[Found], means: Means, *, as_new: bool) -> list[tuple[Found, Cutting]]:
    """How each fabric is cut of which so much was `found`: in lays where there are copies, else as one.

    Raises
    ------
    NoPlanError
        A kit takes more in one length than a bolt has.
    InputError
        There is something to spare of a fabric whose bolts have an end.
    """
    together = [all_in_one(one.choice.job, one.result.packing) for one in found]
    kits = _kits(project, found, means, as_new=as_new) if layers_of(project) > 1 else {}
    return [
        _in_lays(kits[number], cutting, means) if number in kits else _as_one(project, one, cutting, means)
        for number, (one, cutting) in enumerate(zip(found, together, strict=True))
    ]


def _kits(project: Project, found: Sequence[Found], means: Means, *, as_new: bool) -> dict[int, _Kit]:
    """The fabrics that may be cut in lays, by their numbers, with plies of all sizes."""
    numbers = [number for number, one in enumerate(found) if _may_be_cut(one.choice.job)]
    single = replace(project, copies=1)
    hunts = [
        Hunt.start(single, found[number].choice.job.fabric, as_new=True, effort=means.effort, watch=None)
        for number in numbers
    ]
    with ExitStack() as stack:
        crew = stack.enter_context(Crew(size=means.workers))
        search(hunts, replace(means, looser=False), crew)
        kits = {
            number: _Kit(project=project, found=found[number], as_new=as_new, ways=_ways(hunt))
            for number, hunt in zip(numbers, hunts, strict=True)
        }
        _pack(_open(kits.values()), replace(means, effort=Effort.QUICK), crew)
        if means.effort is not Effort.QUICK:
            _pack(_promising(kits.values()), means, crew)
    return kits


def _may_be_cut(job: Job) -> bool:
    """Whether all of a fabric's pieces are to be had, of any cloth, and may begin anywhere along it."""
    fabric = job.fabric
    free = fabric.buy and not fabric.same_cloth and not _is_wished(job)
    return free and job.problem.pieces > 0 and not job.problem.phased


def _is_wished(job: Job) -> bool:
    """Whether there is anything to spare or to keep back, which is settled for one length."""
    return bool(job.fabric.spare or job.fabric.keep_back or any(piece.spare for piece in job.pieces))


def _ways(hunt: Hunt) -> list[_Way]:
    """The best ways to make one kit, each with its ply."""
    ways = []
    for number in sorted(hunt.results, key=hunt.rank)[:_MOST_WAYS]:
        choice, result = hunt.choices[number], hunt.results[number]
        ways.append(_Way(choice=choice, plies={1: make_ply(choice.job, result, 1)}))
    return ways


_Wanted = tuple[_Kit, _Way, int]


def _open(kits: Iterable[_Kit]) -> Iterator[_Wanted]:
    for kit in kits:
        for way in kit.ways:
            yield from ((kit, way, size) for size in kit.sizes(way) if size > 1)


def _promising(kits: Iterable[_Kit]) -> Iterator[_Wanted]:
    """Sizes of the best way to cut each fabric that may be packed better, where that is worth while."""
    for kit in kits:
        found = [(way, spreads[0]) for way in kit.ways if (spreads := kit.spreads(way, kit.layers[0]))]
        if not found:
            continue
        way, spread = min(found, key=lambda pair: (pair[1].steps, pair[0].choice.joins))
        if spread.steps > near(kit.least_steps, kit.found.choice.job.fabric):
            for ply, count in spread.plies:
                hope = count * (ply.result.packing.length - ply.result.bound.length) * kit.project.ruler
                if ply.kits > 1 and not ply.result.settled and hope > kit.found.choice.job.fabric.sold_by:
                    yield kit, way, ply.kits


def _pack(wanted: Iterator[_Wanted], means: Means, crew: Crew) -> None:
    """Pack plies, and keep each that is no longer than the one there is."""
    jobs = [(way, size, kit.job(way, size)) for kit, way, size in wanted]
    tasks = [
        Task(problem=job.problem, bound=lower_bound(job.problem), effort=means.effort, seed=means.seed)
        for _, _, job in jobs
    ]
    results = answers_of(tasks, means, crew)
    for (way, size, job), task in zip(jobs, tasks, strict=True):
        if task in results:
            ply = make_ply(job, results[task], size)
            if size not in way.plies or ply.takes <= way.plies[size].takes:
                way.plies[size] = ply


def _in_lays(kit: _Kit, together: Cutting, means: Means) -> tuple[Found, Cutting]:
    best = kit.best(together)
    if best is None:
        if not kit.in_a_bolt(together):
            raise _too_long(kit)
        return _as_one(kit.project, kit.found, together, means)
    way, spread = best
    job = kit.job(way, kit.project.copies, as_new=kit.as_new)
    bound = lower_bound(job.problem)
    cuts = sum(len(layout.cuts) or len(layout.placed) for layout in together.layouts)
    cutting = in_lays(job, spread, Together(needed=together.needed, bought=together.bought, cuts=cuts))
    method = "; ".join(f"plies of {ply.kits}: {ply.result.method}" for ply, _ in spread.plies)
    packing = Packing(places=(), length=int(cutting.needed / kit.project.ruler))
    choice = replace(way.choice, job=job, bound=bound)
    found = replace(
        kit.found,
        choice=choice,
        result=Result(packing=packing, bound=bound, method=method),
        bound=min(kit.found.bound, bound.length),
        looser=(),
    )
    return found, cutting


def _as_one(project: Project, found: Found, together: Cutting, means: Means) -> tuple[Found, Cutting]:
    """All pieces as they were packed; over several bolts where one is too short for them."""
    job = found.choice.job
    room = bolt_room(job.fabric, project.ruler)
    if room is None:
        return found, together
    if _is_wished(job):
        raise _wished_of_bolts(project, job)
    usable = floor((room - _squaring(job)) / project.ruler)
    if found.result.packing.length <= usable:
        numbered = over_bolts(job, job, found.result.packing)
        return found, numbered
    if job.fabric.same_cloth:
        raise _not_one(project, job, usable * project.ruler)
    bolts, result = _packed_over(job, usable, means)
    return replace(found, looser=(), result=replace(found.result, method=result.method)), over_bolts(
        job, bolts, result.packing
    )


def _packed_over(job: Job, usable: int, means: Means) -> tuple[Job, Result]:
    """The pieces on the fewest bolts found that hold them, each `usable` long in marks of the ruler."""
    number = max(1, -(-lower_bound(job.problem).length // usable) - 1)
    while True:
        bolts = _with_bolts(job, number, usable)
        bound = lower_bound(bolts.problem)
        if bound.length <= usable:
            result = solve(
                bolts.problem, effort=means.effort, seed=means.seed, bound=bound, stop=lambda: means.halt.now
            )
            if result.packing.length <= usable:
                return bolts, result
        number += 1


def _with_bolts(job: Job, number: int, usable: int) -> Job:
    """The job with so many bolts before the last, which has no end."""
    ruler = job.project.ruler
    width = usable_width(job.fabric, ruler)
    cloth = Cloth(
        id="",
        source=Source.BUY,
        across=width,
        along=usable * ruler,
        width=job.fabric.washed_width,
        length=usable * ruler,
        squaring=Fraction(0),
        washed=False,
        whole=False,
    )
    stock = Stock(w=int(width / ruler), h=usable, either_way=False)
    problem = replace(job.problem, stocks=(*job.problem.stocks[:-1], *([stock] * number), job.problem.stocks[-1]))
    bolts = tuple(replace(cloth, id=f"bolt {place}") for place in range(number))
    return replace(job, cloths=(*job.cloths, *bolts), problem=problem)


def _wished_of_bolts(project: Project, job: Job) -> InputError:
    return InputError(
        where=f'{project.source}: fabric "{job.fabric.id}"',
        found="pieces to spare or cloth to keep back are not worked out for bolts that have an end",
        hint='Leave "bolt" out, or "spare" and "keep_back"',
    )


def _not_one(project: Project, job: Job, usable: Fraction) -> NoPlanError:
    return NoPlanError(
        where=f'{project.source}: fabric "{job.fabric.id}"',
        found=f"a bolt has {project.notation.show(usable)} to cut, and no layout found takes so little of new cloth",
        wanted="All its pieces are to come from one cloth",
    )


def _too_long(kit: _Kit) -> NoPlanError:
    job, show = kit.found.choice.job, kit.project.notation.show
    one = min(way.plies[1].takes for way in kit.ways)
    return NoPlanError(
        where=f'{kit.project.source}: fabric "{job.fabric.id}"',
        found=f"a kit takes {show(one)} in one length, more than the {show(kit.fabric_room or Fraction(0))} of a bolt",
        wanted="Every ply holds whole kits, and none crosses the end of a bolt",
    )


def _times(pieces: Sequence[Piece], kits: int) -> tuple[Piece, ...]:
    return tuple(replace(piece, count=piece.count * kits) for piece in pieces)


def _squaring(job: Job) -> Fraction:
    return job.fabric.square_up * job.fabric.square_up_ends
