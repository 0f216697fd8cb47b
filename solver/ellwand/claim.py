"""A yardage that is claimed in print, put to the test: whether it does, and how much it forgives."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from math import floor

from ellwand.assign import assign
from ellwand.bolts import endless
from ellwand.cloths import purchase, usable_width
from ellwand.curve import Curve, last_that, widest
from ellwand.errors import InputError, NoPlanError
from ellwand.hunt import Hunt
from ellwand.model import Construction, FabricPlan, Part, Piece, Plan, Quilt
from ellwand.packing.bound import lower_bound
from ellwand.packing.halt import Halt
from ellwand.packing.parallel import Crew
from ellwand.packing.problem import Effort
from ellwand.plan import answer_of, finish_plans, start_plan
from ellwand.project.mixes import require_no_mix
from ellwand.project.tables import Fabric, Project
from ellwand.quilt.work import work_out
from ellwand.search import Means, search
from ellwand.shortage import limited, usable_length
from ellwand.slack import USUAL_SLACK, Slack, spared

__all__ = ["Claim", "Forgiven", "Spoiled", "try_claims"]

_MOST_SPOILED = 99  # copies that are tried
_TENTHS = 1000  # of a per cent


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoiled:
    """How many `copies` more of some equal pieces go on the cloth; `proven` if one more does not.

    They lie beside all that the quilt takes, its other parts made in any way that is open.
    """

    pieces: tuple[str, ...]
    copies: int
    proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Forgiven:
    """What a claim that holds forgives, one thing at a time.

    Parameters
    ----------
    width
        The least usable width, inches; `width_proven` if one mark less does not do.
    shrinks
        The most that it may shrink lengthwise, and crosswise, as shares to a tenth of a per cent.
    spoiled
        Pieces that may be cut again.
    """

    width: Fraction
    width_proven: bool
    shrinks: tuple[Fraction, Fraction]
    spoiled: tuple[Spoiled, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """What was found of a claimed `length` of a fabric.

    `answer` is the best layout, with the slack taken off, in the shop's steps where the claim does not hold; `usable`
    the length that it may take. `enough` is what would do, in the shop's steps. `refuted`: no layout can hold.
    `forgiven` is None where the claim does not hold.
    """

    fabric: Fabric
    length: Fraction
    usable: Fraction
    answer: FabricPlan
    enough: Fraction
    holds: bool
    refuted: bool
    forgiven: Forgiven | None


def try_claims(
    project: Project,
    claims: Mapping[str, Fraction],
    *,
    slack: Slack = USUAL_SLACK,
    effort: Effort = Effort.CAREFUL,
    seed: int = 0,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
    workers: int = 1,
) -> tuple[Plan, tuple[Claim, ...]]:
    """Whether so much of each fabric is enough for `project`, nothing being on hand.

    Parameters
    ----------
    claims
        Lengths by fabric, inches as sold.
    slack
        Kept of every cloth.
    effort, seed, seconds, stop, workers
        As of :func:`~ellwand.plan.make_plan`.

    Returns
    -------
    tuple
        The plan of the claimed fabrics, on cloth with the slack taken off, and what was found of each claim.

    Raises
    ------
    InputError
        There is no such fabric, or nothing is cut from it.
    NoPlanError
        A piece does not go on its cloth at all.
    """
    require_no_mix(project, "claim")
    project = endless(project)
    used = {part.fabric for part in work_out(project).parts}
    for name in claims:
        if name not in used:
            known = ", ".join(f'"{other}"' for other in project.fabrics if other in used)
            raise InputError(
                where=project.source, found=f'cuts nothing from a fabric "{name}"', wanted=f"It has: {known}"
            )
    means = Means(effort=effort, seed=seed, halt=Halt.after(seconds, stop), workers=workers, memory={}, thrifty=True)
    changed = {name: limited(project.fabrics[name], length) for name, length in claims.items()}
    sold = replace(project, fabrics={**project.fabrics, **changed})
    draft = start_plan(spared(sold, slack, claims), as_new=False, effort=effort, watch=None)
    draft = replace(draft, hunts=tuple(hunt for hunt in draft.hunts if hunt.fabric.id in claims))
    with Crew(size=workers) as crew:
        (plan,) = finish_plans([draft], means)
        found = tuple(
            _claim(_Trial(sold, project.fabrics[hunt.fabric.id], draft.quilt, hunt, slack, means, crew), answer)
            for hunt, answer in zip(draft.hunts, plan.fabrics, strict=True)
        )
    return replace(plan, fabrics=tuple(claim.answer for claim in found)), found


@dataclass(frozen=True, slots=True)
class _Trial:
    """One claim on its way.

    `sold` is the project with what is claimed, `shop` the fabric as the shop sells it, `quilt` what is made of `sold`
    with the slack taken off.
    """

    sold: Project
    shop: Fabric
    quilt: Quilt
    hunt: Hunt
    slack: Slack
    means: Means
    crew: Crew

    @property
    def ruler(self) -> Fraction:
        return self.sold.ruler

    @property
    def usable(self) -> Fraction:
        """Length that a layout may take."""
        return usable_length(self.hunt.fabric, 1, self.ruler)


def _claim(trial: _Trial, answer: FabricPlan) -> Claim:
    hunt = trial.hunt
    if hunt.steps > 1:
        answer = _in_steps(trial)
    holds = answer.needed <= trial.usable
    in_steps = replace(hunt.fabric, sold_by=trial.shop.sold_by)
    return Claim(
        fabric=trial.shop,
        length=hunt.fabric.sold_by,
        usable=trial.usable,
        answer=answer,
        enough=purchase(in_steps, answer.needed, trial.ruler).length,
        holds=holds,
        refuted=hunt.least_steps > 1,
        forgiven=_forgiven(trial, answer) if holds else None,
    )


def _in_steps(trial: _Trial) -> FabricPlan:
    """The plan in the shop's own steps, of a claim that was not found to hold: what would do, and what is left over."""
    shop = replace(trial.shop, on_hand=(), buy=True, bolt=None, spare=Fraction(0))
    project = replace(trial.sold, fabrics={**trial.sold.fabrics, shop.id: shop})
    there = spared(project, trial.slack, {shop.id})
    hunt = Hunt.start(there, there.fabrics[shop.id], as_new=False, effort=trial.means.effort, watch=None)
    (found,) = search([hunt], trial.means, trial.crew)
    return answer_of(found)


def _forgiven(trial: _Trial, answer: FabricPlan) -> Forgiven:
    width, proven = _least_width(trial)
    fabric = trial.shop
    crosswise = 1 - (width + 2 * fabric.selvage) / fabric.width
    return Forgiven(
        width=width,
        width_proven=proven,
        shrinks=(_most_shrinkage(trial.hunt.fabric, answer.needed, trial.ruler), _tenths_down(crosswise)),
        spoiled=tuple(_spoiled(trial)),
    )


def _tenths_down(share: Fraction) -> Fraction:
    return Fraction(floor(max(Fraction(0), share) * _TENTHS), _TENTHS)


def _most_shrinkage(fabric: Fabric, needed: Fraction, ruler: Fraction) -> Fraction:
    """The most that cloth may shrink lengthwise and still leave what is needed; its length before is what is sold."""
    share = _tenths_down(1 - (needed + fabric.square_up * fabric.square_up_ends) / fabric.sold_by)
    while share > 0:
        washed = replace(fabric, wash=True, shrinks=(share, Fraction(0)))
        if purchase(washed, needed, ruler).steps <= 1:
            break
        share -= Fraction(1, _TENTHS)
    return share


def _least_width(trial: _Trial) -> tuple[Fraction, bool]:
    """The least usable width for which the claim holds, and whether one mark less is proven not to do."""
    full = usable_width(trial.sold.fabrics[trial.shop.id], trial.ruler)
    widths = tuple(full - trial.ruler * number for number in range(int(full / trial.ruler) - 1))
    possible = last_that(len(widths), lambda number: _is_possible(_at_width(trial, widths[number])))
    if possible < 0:
        return full, False
    curve = Curve(values=widths[: possible + 1], start=partial(_at, trial))
    last = max(0, widest([curve], [1], trial.means, trial.crew))
    if last == possible:
        return widths[last], last + 1 < len(widths)  # some piece does not go on narrower cloth, if there is such
    proven = curve.hunt(last + 1).least_steps > 1
    return widths[last], proven


def _at(trial: _Trial, width: Fraction) -> Hunt:
    project = _at_width(trial, width)
    return Hunt.start(project, project.fabrics[trial.shop.id], as_new=False, effort=trial.means.effort, watch=None)


def _at_width(trial: _Trial, usable: Fraction) -> Project:
    """The project with cloth of another usable width, then the slack taken off."""
    fabric = trial.sold.fabrics[trial.shop.id]
    kept = 1 - fabric.shrinks[1] if fabric.wash else 1
    narrower = replace(fabric, width=(usable + 2 * fabric.selvage) / kept)
    return spared(replace(trial.sold, fabrics={**trial.sold.fabrics, fabric.id: narrower}), trial.slack, {fabric.id})


def _is_possible(project: Project) -> bool:
    try:
        work_out(project)
    except NoPlanError:
        return False
    return True


def _spoiled(trial: _Trial) -> Iterator[Spoiled]:
    """For all pieces of one cut size, how many more of them go on the cloth."""
    for kind in trial.hunt.choices[trial.hunt.best].job.kinds:
        again = _Again(trial, kind[0])
        copies = last_that(_MOST_SPOILED, again.holds) + 1
        proven = copies < _MOST_SPOILED and again.hunt(copies).least_steps > 1
        yield Spoiled(pieces=tuple(piece.id for piece in kind), copies=copies, proven=proven)


@dataclass(slots=True, eq=False)
class _Again:
    """A piece that is cut again beside all that the quilt takes, this made in any way that is open.

    Numbers count from 0, which stands for one copy more.
    """

    trial: _Trial
    piece: Piece
    begun: dict[int, Hunt] = field(default_factory=dict)

    def holds(self, number: int) -> bool:
        """Whether the claim was found to hold: as the quilt is made without these copies, or else in any way."""
        means = replace(self.trial.means, effort=Effort.QUICK)
        same = self._as_it_is(number)
        if same.least_steps <= 1:
            search([same], means, self.trial.crew)
            if same.steps <= 1:
                return True
        hunt = self.hunt(number)
        if hunt.least_steps > 1:
            return False
        search([hunt], means, self.trial.crew)
        return hunt.steps <= 1

    def hunt(self, number: int) -> Hunt:
        """The hunt over every way that is open; its bound holds for all of them."""
        if number not in self.begun:
            known, quilt = self.trial.hunt, self.trial.quilt
            with_copies = replace(quilt, parts=(*quilt.parts, self._part(number)))
            hunt = Hunt.start(
                known.project,
                known.fabric,
                as_new=False,
                effort=self.trial.means.effort,
                watch=None,
                quilt=with_copies,
            )
            hopeful = [choice for at, choice in enumerate(hunt.choices) if hunt.hope(at)[0] <= 1]
            hunt.choices = tuple(hopeful) or hunt.choices[:1]  # those left out would take more in any layout
            self.begun[number] = hunt
        return self.begun[number]

    def _as_it_is(self, number: int) -> Hunt:
        """A hunt over the one way in which the quilt is made without copies."""
        known, part = self.trial.hunt, self._part(number)
        choice = known.choices[known.best]
        job = choice.job
        more = assign(job.project, job.fabric, (*job.pieces, *part.pieces), as_new=True)
        made = (*choice.made, (part, part.options[0]))
        choices = (replace(choice, job=more, bound=lower_bound(more.problem), made=made),)
        hunt = replace(known, choices=choices, floor=None, least_fitted=None, results={}, unfinished=set())
        hunt.find_least()
        return hunt

    def _part(self, number: int) -> Part:
        """The copies as a part of the quilt."""
        piece = replace(self.piece, id=f"{self.piece.id}, again", count=number + 1)
        way = Construction(name="whole", joins=0, pieces=(piece,))
        return Part(name=piece.id, fabric=piece.fabric, options=(way,), pieces=(piece,))
