"""Which fabric of a mix gives what: the division of the pieces with which least is bought.

A search over divisions, each judged by quick packings of the fabrics concerned: everything from one fabric, then what
goes free of charge on the others (on cloth on hand, and beside what is bought of them anyway), then single moves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from ellwand.choices import in_bolts, least_area, open_choices
from ellwand.cloths import cloths_on_hand, usable_width
from ellwand.errors import NoPlanError
from ellwand.hunt import Found, Hunt
from ellwand.lengths import round_up, unit_length
from ellwand.model import Part, Quilt
from ellwand.packing.halt import NEVER, Halt
from ellwand.packing.problem import Effort
from ellwand.project.dividing import Batch, Division, Shares, batches, divide
from ellwand.project.tables import Fabric, Mixed, Mixing, Project, Taken, Way
from ellwand.quilt.work import work_out
from ellwand.search import Means, Memory, search

__all__ = ["settle"]

Score = tuple[Fraction, Fraction, int, Fraction, int]
_TRIALS = {Effort.QUICK: 60, Effort.CAREFUL: 200, Effort.PROOF: 600}  # quick packings in all
_ROOM = Fraction(10**6)  # inches: a cloth that holds everything


def settle(project: Project, *, as_new: bool, effort: Effort, memory: Memory, halt: Halt = NEVER) -> Project:
    """`project` with every piece of a mix given to one of its fabrics, so that least is bought of them together.

    Parameters
    ----------
    as_new, effort, memory
        As of :func:`~ellwand.plan.make_plan`.
    halt
        Ends the search with the best division so far.

    Raises
    ------
    NoPlanError
        A piece goes on none of its fabrics.
    """
    found = batches(project)
    if not found:
        return project
    table = _Table.start(project, found, as_new=as_new)
    search_ = _Search(table=table, memory=memory, halt=halt, left=_TRIALS[effort], most=5 * _TRIALS[effort])
    division = search_.best()
    used = {batch.mix for batch in found}
    settled = divide(project, division)
    return replace(
        settled,
        fabrics={name: fabric for name, fabric in project.fabrics.items() if name not in used},
        mixing=_mixing(table, division, search_.least()),
    )


def _mixing(table: _Table, division: Division, least: Fraction) -> Mixing:
    mixes = [fabric for fabric in table.project.fabrics.values() if any(fabric.id == batch.mix for batch in division)]
    return Mixing(
        mixes=tuple(Mixed(mix=mix, taken=tuple(_taken(mix, division))) for mix in mixes),
        fabrics=table.fabrics,
        priced=table.priced,
        least=least,
    )


def _taken(mix: Fabric, division: Division) -> Iterator[Taken]:
    for batch, shares in division.items():
        for fabric, count in shares if batch.mix == mix.id else ():
            yield Taken(name=batch.name, fabric=fabric, count=count, blocks=batch.blocks)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """What is laid out before the search: the batches, which fabrics can give each, and their areas.

    `areas` are square inches of all copies at the least: of each batch, and of what a fabric gives besides (by name).
    """

    project: Project
    as_new: bool
    able: Mapping[Batch, tuple[str, ...]]
    areas: Mapping[Batch | str, Fraction]

    @classmethod
    def start(cls, project: Project, found: tuple[Batch, ...], *, as_new: bool) -> _Table:
        """See which fabrics can give each batch.

        Raises
        ------
        NoPlanError
            A piece goes on none, or one that is of no mix goes on no cloth.
        """
        roomy = _with_roomy_mixes(project)
        without = work_out(roomy).parts
        able: dict[Batch, tuple[str, ...]] = {}
        areas: dict[Batch | str, Fraction] = {
            name: _area(without, name) for batch in found for name in project.fabrics[batch.mix].any_of
        }
        for batch in found:
            taken = dict(_areas_on(roomy, batch, project.fabrics[batch.mix].any_of))
            able[batch] = tuple(taken)
            areas[batch] = min(area - areas[name] for name, area in taken.items())
        return cls(project=roomy, as_new=as_new, able=able, areas=areas)

    @property
    def fabrics(self) -> tuple[str, ...]:
        """The real fabrics of all mixes, in the file's order."""
        named = {name for batch in self.able for name in self.project.fabrics[batch.mix].any_of}
        return tuple(name for name in self.project.fabrics if name in named)

    @property
    def priced(self) -> bool:
        """Whether all of these that may be bought have a price."""
        fabrics = [self.project.fabrics[name] for name in self.fabrics]
        return all(fabric.price is not None for fabric in fabrics if fabric.buy or self.as_new)

    def dear(self, fabric: Fabric) -> Fraction:
        """What an inch of a fabric counts for: its price, or 1."""
        if not self.priced or fabric.price is None:
            return Fraction(1)
        return fabric.price / unit_length("yd" if self.project.unit == "in" else "m")


def _with_roomy_mixes(project: Project) -> Project:
    """`project`, its mixes on cloth so wide that only other fabrics can be too narrow."""
    fabrics = {
        name: replace(fabric, width=_ROOM, way=Way.ANY, wash=False) if fabric.any_of else fabric
        for name, fabric in project.fabrics.items()
    }
    return replace(project, fabrics=fabrics)


def _areas_on(project: Project, batch: Batch, names: tuple[str, ...]) -> Iterator[tuple[str, Fraction]]:
    """The fabrics that can give all of `batch`, each with the area of all that then comes from it."""
    refusals = []
    for name in names:
        try:
            parts = _parts(divide(project, {batch: ((name, batch.count),)}), name)
        except NoPlanError as error:
            refusals.append(error)
        else:
            yield name, _area(parts, name)
    if len(refusals) == len(names):
        raise refusals[0]


def _parts(project: Project, name: str) -> tuple[Part, ...]:
    """All parts of a divided project, once it is sure that the fabric of that name can give what is its.

    Raises
    ------
    NoPlanError
        It is too narrow, or its bolts are too short.
    """
    quilt, fabric = work_out(project), project.fabrics[name]
    if fabric.bolt is not None:
        in_bolts(open_choices(project, fabric, as_new=True, quilt=quilt))
    return quilt.parts


def _area(parts: tuple[Part, ...], fabric: str) -> Fraction:
    return sum((least_area(part) for part in parts if part.fabric == fabric), Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Trial:
    """What a fabric comes to in a division: shop steps to buy, the length needed, the area that lies on it."""

    steps: int
    needed: Fraction
    area: Fraction

    def load(self, fabric: Fabric) -> Fraction:
        """What is to be kept down: steps, or what finds no place where none is to be had."""
        return Fraction(self.steps) if fabric.buy else self.area


@dataclass(slots=True, eq=False, kw_only=True)
class _Search:
    """All divisions tried so far; `left` is how many quick packings may follow, and `most` how many are looked at."""

    table: _Table
    memory: Memory
    halt: Halt
    left: int
    most: int
    quilts: dict[tuple[tuple[Batch, Shares], ...], tuple[Project, Quilt]] = field(default_factory=dict)
    hunts: dict[tuple[str, tuple[Part, ...]], Hunt] = field(default_factory=dict)
    known: dict[Hunt, _Trial] = field(default_factory=dict)

    @property
    def over(self) -> bool:
        """Whether the best so far must do."""
        return self.left <= 0 or len(self.quilts) > self.most or self.halt.now

    def best(self) -> Division:
        """The best division found."""
        division = self.start()
        mixes = dict.fromkeys(batch.mix for batch in self.table.able)
        for mix in mixes:
            for fabric in self.table.project.fabrics[mix].any_of:
                division = self.better(division, self.alone(division, mix, fabric))
        for mix in mixes:
            for fabric in self.table.project.fabrics[mix].any_of:
                division = self.better(division, self.filled(division, mix, fabric))
        best = self.polished(division)
        return {batch: tuple(sorted(of, key=self.place(batch))) for batch, of in best.items()}

    def place(self, batch: Batch) -> Callable[[tuple[str, int]], int]:
        """Where a share's fabric stands in the mix."""
        names = self.table.project.fabrics[batch.mix].any_of
        return lambda share: names.index(share[0])

    def start(self) -> Division:
        """Each batch from the first fabric that can give it."""
        return {batch: ((able[0], batch.count),) for batch, able in self.table.able.items()}

    def alone(self, division: Division, mix: str, fabric: str) -> Division:
        """All of a mix from one fabric, as far as that can give it."""
        able = self.table.able
        changed = {
            batch: ((fabric, batch.count),) if batch.mix == mix and fabric in able[batch] else shares
            for batch, shares in division.items()
        }
        return changed

    def filled(self, division: Division, mix: str, fabric: str) -> Division:
        """All of a mix from one fabric, but for what the others give and none more is bought of them."""
        division = self.alone(division, mix, fabric)
        mine = [batch for batch in division if batch.mix == mix]
        for batch in sorted(mine, key=lambda batch: -self.table.areas[batch] / batch.count):
            for other in self.table.able[batch]:
                if other != fabric and not self.over:
                    division = self.moved(division, batch, fabric, other, more=0)
        return division

    def polished(self, division: Division) -> Division:
        """`division` after every single move that makes it better: of all that a fabric gives, or of what is free."""
        moves = [(batch, one, other) for batch, able in self.table.able.items() for one in able for other in able]
        improved = True
        while improved and not self.over:
            before = division
            for batch, one, other in moves:
                if one != other and one in dict(division[batch]) and not self.over:
                    division = self.better(division, _with(division, batch, one, other, batch.count))
                    division = self.better(division, self.moved(division, batch, one, other, more=0))
                    division = self.better(division, self.moved(division, batch, one, other, more=1))
            improved = division != before
        return division

    def moved(self, division: Division, batch: Batch, one: str, other: str, *, more: int) -> Division:
        """As many of a batch as go from `one` fabric to the `other` with so many `more` steps bought of that."""
        fabric = self.table.project.fabrics[other]
        most = self.tried(division, other).load(fabric) + more
        low, high = 0, dict(division[batch]).get(one, 0)
        count = high
        while low < high and not self.over:
            if self.takes(_with(division, batch, one, other, count), other, most):
                low = count
            else:
                high = count - 1
            count = (low + high + 1) // 2
        return _with(division, batch, one, other, low)

    def better(self, division: Division, other: Division) -> Division:
        """The better one of two."""
        return other if other != division and self.score(other) < self.score(division) else division

    def score(self, division: Division) -> Score:
        """What is missing, bought, divided and needed, and how late in their mixes the fabrics stand."""
        trials = {name: self.tried(division, name) for name in self.table.fabrics}
        fabrics = self.table.project.fabrics
        late = sum(self.place(batch)(share) * share[1] for batch, shares in division.items() for share in shares)
        return (
            sum((trial.area for name, trial in trials.items() if not fabrics[name].buy), Fraction(0)),
            sum((self.paid(name, trial.steps) for name, trial in trials.items()), Fraction(0)),
            sum(len(shares) - 1 for shares in division.values()),
            sum((trial.needed for trial in trials.values()), Fraction(0)),
            late,
        )

    def paid(self, name: str, steps: int) -> Fraction:
        """What so many steps of a fabric count for, as far as it may be bought."""
        fabric = self.table.project.fabrics[name]
        return steps * fabric.sold_by * self.table.dear(fabric) if fabric.buy else Fraction(0)

    def tried(self, division: Division, name: str) -> _Trial:
        """What a fabric comes to, by a quick packing of all ways to make its parts."""
        hunt = self.hunt(division, name)
        if hunt is None:
            return _Trial(steps=0, needed=Fraction(0), area=Fraction(0))
        if hunt not in self.known:
            self.left -= 1
            means = Means(effort=Effort.QUICK, seed=0, halt=NEVER, workers=1, memory=self.memory, thrifty=True)
            (found,) = search([hunt], means)
            self.known[hunt] = _Trial(
                steps=hunt.steps,
                needed=found.result.packing.length * hunt.project.ruler,
                area=_area_bought(found) * hunt.project.ruler**2,
            )
        return self.known[hunt]

    def takes(self, division: Division, name: str, most: Fraction) -> bool:
        """Whether a fabric's load stays within `most`; what cannot be so is not packed."""
        fabric, hunt = self.table.project.fabrics[name], self.hunt(division, name)
        if hunt is not None and (hunt.least_steps > most if fabric.buy else hunt.least and not most):
            return False
        return self.tried(division, name).load(fabric) <= most

    def made(self, division: Division) -> tuple[Project, Quilt]:
        """The divided project, and what it works out to."""
        key = tuple(division.items())
        if key not in self.quilts:
            project = divide(self.table.project, division)
            self.quilts[key] = project, work_out(project)
        return self.quilts[key]

    def hunt(self, division: Division, name: str) -> Hunt | None:
        """All that is open for a fabric in a division; None where nothing is cut from it."""
        project, quilt = self.made(division)
        parts = tuple(part for part in quilt.parts if part.fabric == name)
        if parts and (name, parts) not in self.hunts:
            fabric, as_new = project.fabrics[name], self.table.as_new
            hunt = Hunt.start(project, fabric, as_new=as_new, effort=Effort.QUICK, watch=None, quilt=quilt)
            self.hunts[name, parts] = hunt
        return self.hunts[name, parts] if parts else None

    def least(self) -> Fraction:
        """What all divisions come to at the least: by what the fabrics give besides, and by area."""
        hunts = {name: self.hunt({}, name) for name in self.table.fabrics}
        besides = sum((self.paid(name, hunt.least_steps) for name, hunt in hunts.items() if hunt), Fraction(0))
        least = max(besides, _least_by_area(self.table))
        fabrics = [self.table.project.fabrics[name] for name in self.table.fabrics]
        steps = {self.paid(fabric.id, 1) for fabric in fabrics if fabric.buy}
        return round_up(least, steps.pop()) if len(steps) == 1 and 0 not in steps else least


def _with(division: Division, batch: Batch, one: str, other: str, most: int) -> Division:
    """`division` with up to so many of a batch from the `other` fabric instead of `one`."""
    counts = dict(division[batch])
    moved = min(most, counts.get(one, 0))
    counts[other] = counts.get(other, 0) + moved
    counts[one] = counts.get(one, 0) - moved
    return {**division, batch: tuple((name, count) for name, count in counts.items() if count)}


def _area_bought(found: Found) -> Fraction:
    """What lies on the cloth to buy, in square marks of the ruler."""
    problem, places = found.choice.job.problem, found.result.packing.places
    items = [problem.items[place.item] for place in places if place.stock == len(problem.stocks) - 1]
    return Fraction(sum(item.w * item.h for item in items))


def _least_by_area(table: _Table) -> Fraction:
    """The linear relaxation by area: what a fabric gives besides stays there, all else goes where an inch costs least.

    Cloth on hand that is left free takes some of it; a length bought gives its usable width at the most.
    """
    fabrics = [table.project.fabrics[name] for name in table.fabrics]
    prices = {fabric.id: table.dear(fabric) / usable_width(fabric, table.project.ruler) for fabric in fabrics}
    hand = {fabric.id: Fraction(0) if table.as_new else _on_hand(fabric, table.project.ruler) for fabric in fabrics}
    over = {name: table.areas[name] - hand[name] for name in table.fabrics}
    buyable = [fabric.id for fabric in fabrics if fabric.buy]
    if not buyable:
        return Fraction(0)
    free = sum((max(Fraction(0), -area) for area in over.values()), Fraction(0))
    rest = sum((table.areas[batch] for batch in table.able), Fraction(0)) - free
    besides = sum((prices[name] * max(Fraction(0), over[name]) for name in buyable), Fraction(0))
    return besides + min(prices[name] for name in buyable) * max(Fraction(0), rest)


def _on_hand(fabric: Fabric, ruler: Fraction) -> Fraction:
    return sum((cloth.across * cloth.along for cloth in cloths_on_hand(fabric, ruler)), Fraction(0))
