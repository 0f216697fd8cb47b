"""Many plans that differ in one value, and the edges between what is bought for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache, partial

from ellwand.areas import sum_areas
from ellwand.costs import total_cost
from ellwand.curve import Curve, Step, find_steps, look_at_all, work
from ellwand.errors import InputError, NoPlanError
from ellwand.hunt import Hunt
from ellwand.kits import layers_of
from ellwand.lengths import Notation, decimal_of, round_down, round_up
from ellwand.model import Area, FabricPlan, Plan, Quilt
from ellwand.packing.halt import Halt
from ellwand.packing.parallel import Crew
from ellwand.packing.problem import Effort, Progress
from ellwand.plan import Draft, answer_of, cut_plan, start_plan
from ellwand.project.mixes import require_no_mix
from ellwand.project.vary import Varied
from ellwand.quilt.work import work_out
from ellwand.search import Means
from ellwand.slack import USUAL_SLACK, Slack, spared

__all__ = ["Comparison", "Edge", "Row", "compare_values", "values_between"]

Watch = Callable[[Fraction, str, Progress], None]
_MOST_VALUES = 200
_SHOP = ("price", "sold_by")  # keys of a fabric that change no layout: along them there are no edges


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One tested value with its plan."""

    value: Fraction
    plan: Plan

    @property
    def area(self) -> Area:
        """Where the cloth of the whole quilt goes."""
        return sum_areas([fabric.area for fabric in self.plan.fabrics])

    @property
    def cost(self) -> Decimal | None:
        """Cost of all that is bought; None where a fabric that is bought has no price, or is not to be had."""
        return total_cost(self.plan)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """The last value for which no more of a fabric is needed than `answer` says, with the slack kept.

    One mark on, at `beyond`, `after` is the best that was found. Both are None where the range ends, or no piece of
    some fabric would go on its cloth any more. `proven`: as little cannot do there.
    """

    value: Fraction
    answer: FabricPlan
    beyond: Fraction | None
    after: FabricPlan | None
    proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """The rows of the values that were asked for, in their order, and the edges between them, fabric by fabric.

    Parameters
    ----------
    title, border
        What varies, in the user's words; the border whose width it is, if it is one's.
    plain
        Whether values are plain numbers, not lengths.
    slack
        Kept at the edges.
    """

    title: str
    border: str | None = None
    plain: bool = False
    rows: tuple[Row, ...]
    edges: tuple[Edge, ...] = ()
    slack: Slack = USUAL_SLACK

    @property
    def notation(self) -> Notation:
        """How its lengths are shown."""
        return self.rows[0].plan.project.notation

    def show(self, value: Fraction) -> str:
        """A value in words."""
        return str(decimal_of(value)) if self.plain else self.notation.show(value)

    def in_units(self, value: Fraction) -> Fraction:
        """A value in the project's unit, exact."""
        return value if self.plain else self.notation.in_units(value)


def values_between(first: Fraction, last: Fraction, step: Fraction) -> tuple[Fraction, ...]:
    """Values from `first` up to and with `last` (where a step meets it).

    Raises
    ------
    InputError
        The range is empty, or has more than 200 values.
    """
    if first < 0 or last < first or step <= 0:
        raise InputError(where="values", found="there is no value from --from to --to in steps of --step")
    number = (last - first) // step + 1
    if number > _MOST_VALUES:
        raise InputError(where="values", found=f"{number} values are too many", wanted=f"At most {_MOST_VALUES}")
    return tuple(first + step * index for index in range(number))


def compare_values(
    varied: Varied,
    values: Sequence[Fraction],
    *,
    slack: Slack = USUAL_SLACK,
    effort: Effort = Effort.CAREFUL,
    seed: int = 0,
    as_new: bool = False,
    watch: Watch | None = None,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
    workers: int = 1,
) -> Comparison:
    """Plan a project once for every value of what varies, and find the edges between what is bought for them.

    Parameters
    ----------
    values
        Rising; inches, or plain numbers.
    slack
        Kept at the edges alone: every row is what a plan of it would be.
    watch
        Told a value, a fabric's id, and its best length and bound, whenever one of them moves.
    effort, seed, as_new, seconds, stop, workers
        As of :func:`~ellwand.plan.make_plan`; `seconds` are for all values together. Once no less of a fabric can be
        bought, a quick look at it is enough.

    Notes
    -----
    Only fabrics whose pieces change are packed again: the plans share one memory of solved problems.
    A fabric's price, and the step in which it is sold, leave the layouts as they are: along these there are no edges.

    Raises
    ------
    InputError
        A value makes no sense.
    NoPlanError
        A piece does not go on its cloth at some value.
    """
    require_no_mix(varied.base, "compare")
    means = Means(effort=effort, seed=seed, halt=Halt.after(seconds, stop), workers=workers, memory={})
    drafts = [_draft(varied, value, as_new=as_new, effort=effort, watch=watch) for value in values]
    with Crew(size=workers) as crew:
        curves = _curves(values, drafts)
        look_at_all([*curves.values()], means, crew)
        edged = len(values) > 1 and _has_edges(varied) and not any(_in_layers(draft) for draft in drafts)
        spare = _spare_curves(varied, values, slack, means, as_new=as_new) if edged else {}
        edges = [_edge(step) for steps in find_steps([*spare.values()], means, crew) for step in steps]
        for name in (name for name in spare if name in curves):
            curves[name].carry_over(spare[name])  # what does with slack does without
        work([*curves.values()], means, crew, brief=bool(spare) and effort is Effort.CAREFUL)
    plans = (cut_plan(draft, [hunt.found() for hunt in draft.hunts], means) for draft in drafts)
    rows = (Row(value=value, plan=plan) for value, plan in zip(values, plans, strict=True))
    return Comparison(
        title=varied.title, border=varied.border, plain=varied.plain, rows=tuple(rows), edges=tuple(edges), slack=slack
    )


def _in_layers(draft: Draft) -> bool:
    """Whether copies may be cut in layers, or bolts have an end: an edge is reckoned for all laid as one."""
    return layers_of(draft.project) > 1 or any(hunt.fabric.bolt is not None for hunt in draft.hunts)


def _draft(varied: Varied, value: Fraction, *, as_new: bool, effort: Effort, watch: Watch | None) -> Draft:
    told = None if watch is None else partial(watch, value)
    try:
        return start_plan(varied.at(value), as_new=as_new, effort=effort, watch=told)
    except NoPlanError as error:
        name = varied.title if varied.border is None else f'border "{varied.border}"'
        where = f"{name} at {varied.show(value)}: {error.where}"
        raise NoPlanError(where=where, found=error.found, wanted=error.wanted, hint=error.hint) from error


def _curves(values: Sequence[Fraction], drafts: Sequence[Draft]) -> dict[str, Curve]:
    """A curve for every fabric, over all values at which there is something of it."""
    curves = {}
    for name in dict.fromkeys(hunt.fabric.id for draft in drafts for hunt in draft.hunts):
        hunts = {
            value: hunt
            for value, draft in zip(values, drafts, strict=True)
            for hunt in draft.hunts
            if hunt.fabric.id == name
        }
        curves[name] = Curve(values=tuple(hunts), start=hunts.__getitem__)
    return curves


def _has_edges(varied: Varied) -> bool:
    """Whether more is needed the further a value goes: not if it is the shop's alone."""
    return not any(spot[0] == "fabric" and spot[-1] in _SHOP for spot, _ in varied.spots)


def _spare_curves(
    varied: Varied, values: Sequence[Fraction], slack: Slack, means: Means, *, as_new: bool
) -> dict[str, Curve]:
    """A curve for every fabric with the slack kept, over all marks between the first and the last value."""
    project = cache(lambda value: spared(varied.at(value), slack))
    quilt = cache(lambda value: work_out(project(value)))
    marks = _possible(_marks(varied, values), quilt)
    if not marks:
        return {}
    used = {part.fabric for part in quilt(marks[0]).parts}
    names = [name for name in varied.base.fabrics if name in used]

    def start(name: str, value: Fraction) -> Hunt:
        there = project(value)
        return Hunt.start(
            there, there.fabrics[name], as_new=as_new, effort=means.effort, watch=None, quilt=quilt(value)
        )

    return {name: Curve(values=marks, start=partial(start, name)) for name in names}


def _edge(step: Step) -> Edge:
    return Edge(
        value=step.value,
        answer=answer_of(step.found),
        beyond=step.beyond,
        after=None if step.after is None else answer_of(step.after),
        proven=step.proven,
    )


def _marks(varied: Varied, values: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """Every value that is told apart, from the first to the last of `values`."""
    first, last = round_up(values[0], varied.mark), round_down(values[-1], varied.mark)
    return tuple(first + varied.mark * number for number in range(int((last - first) / varied.mark) + 1))


def _possible(marks: tuple[Fraction, ...], quilt: Callable[[Fraction], Quilt]) -> tuple[Fraction, ...]:
    """The marks at which every piece goes on its cloth, where that holds for either end."""

    def fits(number: int) -> bool:
        try:
            quilt(marks[number])
        except NoPlanError:
            return False
        return True

    if not marks or not (fits(0) or fits(len(marks) - 1)):
        return ()
    up = fits(0)
    low, high = 0, len(marks) - 1  # of the numbers counted from the end that fits
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if fits(middle if up else len(marks) - 1 - middle) else (low, middle - 1)
    return marks[: low + 1] if up else marks[len(marks) - 1 - low :]
