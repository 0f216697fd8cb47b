"""A yardage that is claimed in print, put to the test: whether it does, and how much it forgives."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from math import floor

from ellwand.assign import assign
from ellwand.choices import Choice
from ellwand.cloths import purchase, usable_width
from ellwand.curve import Curve, last_that, widest
from ellwand.errors import InputError, NoPlanError
from ellwand.hunt import Hunt
from ellwand.model import FabricPlan, Piece, Plan
from ellwand.packing.bound import lower_bound
from ellwand.packing.halt import Halt
from ellwand.packing.parallel import Crew
from ellwand.packing.problem import Effort
from ellwand.plan import finish_plans, start_plan
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
    """How many `copies` more of some equal pieces go on the cloth; `proven` if one more does not."""

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

    `answer` is the best layout, with the slack taken off; `usable` the length that it may take. `enough` is what
    would do, in the shop's steps. `refuted`: no layout can hold. `forgiven` is None where the claim does not hold.
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
            _claim(_Trial(sold, project.fabrics[hunt.fabric.id], hunt, slack, means, crew), answer)
            for hunt, answer in zip(draft.hunts, plan.fabrics, strict=True)
        )
    return plan, found


@dataclass(frozen=True, slots=True)
class _Trial:
    """One claim on its way: `sold` is the project with what is claimed, `shop` the fabric as the shop sells it."""

    sold: Project
    shop: Fabric
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
    holds = hunt.steps <= 1
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
    proven = last == possible or curve.hunt(last + 1).least_steps > 1
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
    choice = trial.hunt.choices[trial.hunt.best]
    for kind in choice.job.kinds:
        copies, proven = _most_copies(trial, choice, kind[0])
        yield Spoiled(pieces=tuple(piece.id for piece in kind), copies=copies, proven=proven)


def _most_copies(trial: _Trial, choice: Choice, piece: Piece) -> tuple[int, bool]:
    """How many more of a piece go on the cloth beside all others, and whether one more is proven not to."""
    marks = int(trial.usable / trial.ruler)

    def may(copies: int) -> bool:
        return lower_bound(_with_more(choice, piece, copies + 1).job.problem).length <= marks

    most = last_that(_MOST_SPOILED, may) + 1
    fits, over = 0, most + 1
    while over - fits > 1:
        middle = (fits + over) // 2
        fits, over = (middle, over) if _goes(trial, _with_more(choice, piece, middle), marks) else (fits, middle)
    return fits, fits == most and most < _MOST_SPOILED


def _goes(trial: _Trial, choice: Choice, marks: int) -> bool:
    """Whether the pieces of a choice were found to go on so many marks of cloth."""
    hunt = replace(trial.hunt, choices=(choice,), results={}, unfinished=set(), least_fitted=None)
    means = replace(trial.means, effort=Effort.QUICK)
    search([hunt], means, trial.crew)
    return hunt.results[0].packing.length <= marks


def _with_more(choice: Choice, piece: Piece, copies: int) -> Choice:
    """`choice` with some copies of a piece more."""
    job = choice.job
    pieces = [replace(other, count=other.count + copies) if other is piece else other for other in job.pieces]
    more = assign(job.project, job.fabric, pieces, as_new=True)
    return replace(choice, job=more, bound=lower_bound(more.problem))
