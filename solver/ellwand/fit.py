"""The widest border for which the cloth that there is will do, and what stops a wider one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, partial

from ellwand.bolts import endless
from ellwand.curve import Curve, last_that, widest
from ellwand.errors import InputError, NoPlanError
from ellwand.hunt import Hunt
from ellwand.model import FabricPlan, Plan
from ellwand.packing.halt import Halt
from ellwand.packing.parallel import Crew
from ellwand.packing.problem import Effort
from ellwand.plan import answer_of, finish_plans, start_plan
from ellwand.project.mixes import require_no_mix
from ellwand.project.tables import Project
from ellwand.project.vary import Varied
from ellwand.quilt.work import work_out
from ellwand.search import Means
from ellwand.shortage import limited, unplaced, usable_length
from ellwand.slack import USUAL_SLACK, Slack, spared

__all__ = ["Fit", "Stop", "fit_border"]

_WIDEST = 120  # inches, where the search ends: nobody's border


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A fabric that does not do: its best layout, the length that is missing, and the pieces that find no room."""

    answer: FabricPlan
    missing: Fraction
    pieces: Mapping[str, int]
    proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """The widest border that fits.

    Parameters
    ----------
    value
        Its finished width; None where not even one mark of the ruler fits.
    plan
        Of that width, on cloth with the slack taken off; None likewise.
    limits
        The fabrics that are limited, in the file's order.
    beyond
        One mark more.
    stopped
        The fabrics that do not do there.
    refusal
        Why no layout can be made there at all, in words, if that is what stops it. Where neither stops it, the search
        ends: so wide is no border.
    proven
        Whether one mark more cannot be done.
    cut_short
        Whether the search was ended early, and what was left out might have found a wider one.
    """

    varied: Varied
    value: Fraction | None
    plan: Plan | None
    limits: tuple[str, ...]
    beyond: Fraction
    stopped: tuple[Stop, ...]
    refusal: str
    proven: bool
    cut_short: bool
    slack: Slack


def fit_border(
    varied: Varied,
    *,
    stated: Mapping[str, Fraction],
    slack: Slack = USUAL_SLACK,
    effort: Effort = Effort.CAREFUL,
    seed: int = 0,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
    workers: int = 1,
) -> Fit:
    """Find the widest border that the cloth on hand allows, or so much cloth as is stated.

    Parameters
    ----------
    varied
        A border's width, or that of all borders.
    stated
        Lengths by fabric, inches as sold, in place of what is on hand. Limited are these, the borders' own fabrics
        as far as there is some on hand, and all that may not be bought; others are bought as it takes.
    slack
        Kept of every cloth.
    effort, seed, seconds, stop, workers
        As of :func:`~ellwand.plan.make_plan`.

    Raises
    ------
    InputError
        No fabric is limited, or one that is stated is not there.
    """
    require_no_mix(varied.base, "fit")
    names = _limits(varied, stated)
    means = Means(effort=effort, seed=seed, halt=Halt.after(seconds, stop), workers=workers, memory={})
    project = cache(lambda value: spared(_stated(endless(varied.at(value)), stated), slack))
    allowed = {name: int(name in stated) for name in names}
    marks = tuple(varied.mark * number for number in range(1, int(_WIDEST / varied.mark) + 2))
    end = last_that(len(marks) - 1, lambda number: not _refusal(project(marks[number])))  # one is left for beyond
    curves = [Curve(values=marks[: end + 1], start=partial(_hunt, project, name, effort)) for name in names if end >= 0]
    with Crew(size=workers) as crew:
        last = widest(curves, [allowed[name] for name in names], means, crew) if curves else -1
    ended, beyond = means.halt.now, marks[last + 1]
    hunts = [curve.hunt(last + 1) for curve in curves] if last < end else []
    over = [hunt for hunt in hunts if hunt.steps > allowed[hunt.fabric.id]]
    refusal = "" if last < end else _refusal(project(beyond))
    proven = bool(refusal) or any(hunt.least_steps > allowed[hunt.fabric.id] for hunt in hunts)
    return Fit(
        varied=varied,
        value=marks[last] if last >= 0 else None,
        plan=None if last < 0 else _plan(project(marks[last]), [curve.hunt(last) for curve in curves], allowed, means),
        limits=names,
        beyond=beyond,
        stopped=tuple(_stop(hunt, allowed[hunt.fabric.id]) for hunt in over),
        refusal=refusal,
        proven=proven,
        cut_short=ended and not proven,
        slack=slack,
    )


def _stop(hunt: Hunt, steps: int) -> Stop:
    """What stops a width; `steps` of it are allowed."""
    answer, ruler = answer_of(hunt.found()), hunt.project.ruler
    room = usable_length(hunt.fabric, steps, ruler) if steps else Fraction(0)
    return Stop(
        answer=answer,
        missing=answer.needed - room,
        pieces=unplaced(answer, room),
        proven=hunt.least_steps > steps,
    )


def _limits(varied: Varied, stated: Mapping[str, Fraction]) -> tuple[str, ...]:
    fabrics = varied.base.fabrics
    for name in stated:
        if name not in fabrics:
            known = ", ".join(f'"{other}"' for other in fabrics)
            raise InputError(where=varied.base.source, found=f'has no fabric "{name}"', wanted=f"It has: {known}")
    numbers = [int(spot[1]) for spot, _ in varied.spots]
    borders = [varied.base.borders[number] for number in numbers]
    own = {name for border in borders for name in (border.fabric, border.cornerstones)}
    used = {part.fabric for part in work_out(varied.base).parts}
    names = tuple(
        name
        for name, fabric in fabrics.items()
        if name in used and (name in stated or not fabric.buy or (name in own and fabric.on_hand))
    )
    if not names:
        hint = f'State how much there is: --with "{borders[0].fabric} = 2 yd"'
        raise InputError(where=varied.base.source, found="nothing limits this border: no cloth is on hand", hint=hint)
    return names


def _stated(project: Project, stated: Mapping[str, Fraction]) -> Project:
    changed = {name: limited(project.fabrics[name], length) for name, length in stated.items()}
    return replace(project, fabrics={**project.fabrics, **changed})


def _hunt(project: Callable[[Fraction], Project], name: str, effort: Effort, value: Fraction) -> Hunt:
    there = project(value)
    return Hunt.start(there, there.fabrics[name], as_new=False, effort=effort, watch=None)


def _refusal(project: Project) -> str:
    try:
        work_out(project)
    except NoPlanError as error:
        return str(error)
    return ""


def _plan(project: Project, known: Sequence[Hunt], allowed: Mapping[str, int], means: Means) -> Plan:
    """The plan of a width: of the limited fabrics what is `known` there, or better; the others are planned anew."""
    hunts = {hunt.fabric.id: hunt for hunt in known}
    draft = start_plan(project, as_new=False, effort=means.effort, watch=None)
    draft = replace(draft, hunts=tuple(hunts.get(hunt.fabric.id, hunt) for hunt in draft.hunts))
    (plan,) = finish_plans([draft], means)
    for answer in plan.fabrics:
        if answer.steps > allowed.get(answer.fabric.id, answer.steps):
            raise AssertionError(f"{answer.fabric.id} takes more cloth than there is at a width that fits")
    return plan
