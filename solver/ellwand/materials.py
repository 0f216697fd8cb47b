"""One design in several sizes: what to buy for each, as a pattern prints it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial

from ellwand.bolts import endless
from ellwand.cloths import purchase, usable_width
from ellwand.costs import Cost, add_costs
from ellwand.errors import InputError, NoPlanError
from ellwand.lengths import unit_length
from ellwand.mixing import settle
from ellwand.model import FabricPlan, Plan, Source
from ellwand.packing.halt import Halt
from ellwand.packing.problem import Effort, Progress
from ellwand.plan import Draft, finish_plans, start_plan
from ellwand.project.tables import Fabric, Project
from ellwand.search import Means
from ellwand.slack import NO_SLACK, Slack, spared, usual_slack

__all__ = ["Materials", "ShopLengths", "SizePlan", "bought_lengths", "plan_sizes", "shop_lengths"]

Watch = Callable[[str, str, Progress], None]
_NONE = Fraction(0)
_YARD, _METRE = unit_length("yd"), unit_length("m")
_YARD_STEP, _METRE_STEP = _YARD / 8, _METRE / 10  # how shops of either kind sell where the file says nothing of it


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopLengths:
    """What to buy of one fabric, inches: in steps of yards, and in steps of metres."""

    yards: Fraction
    metres: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class SizePlan:
    """One size of the design: its `project` as the file has it, and the `plan` that kept the slack."""

    project: Project
    plan: Plan

    @property
    def cost(self) -> Cost | None:
        """What all that is bought costs; None where nothing of it has a price."""
        return add_costs(self.plan.fabrics, self.project.copies)

    def usable_width(self, answer: FabricPlan) -> Fraction:
        """Width of a fabric that can be used, the slack not taken off."""
        return usable_width(self.project.fabrics[answer.fabric.id], self.project.ruler)

    def bought(self, answer: FabricPlan) -> ShopLengths:
        """What to buy of a fabric."""
        return shop_lengths(answer.fabric, answer.needed, self.project.unit, self.project.ruler)

    def least(self, answer: FabricPlan) -> ShopLengths:
        """What nobody can go below."""
        return shop_lengths(answer.fabric, answer.bound, self.project.unit, self.project.ruler)


@dataclass(frozen=True, slots=True, kw_only=True)
class Materials:
    """The sizes of `project` in the file's order, planned with `slack` kept."""

    project: Project
    slack: Slack
    sizes: tuple[SizePlan, ...]


def plan_sizes(
    project: Project,
    *,
    slack: Slack | None = None,
    effort: Effort = Effort.CAREFUL,
    seed: int = 0,
    watch: Watch | None = None,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
    workers: int = 1,
) -> Materials:
    """Plan every size of `project` as new: no cloth on hand, and everything may be bought.

    Parameters
    ----------
    slack
        Kept of every woven cloth (see :mod:`ellwand.slack`); None for the usual.
    watch
        Told a size's name, a fabric's id, and its best length and bound, whenever one of them moves.
    effort, seed, seconds, stop, workers
        As of :func:`~ellwand.plan.make_plan`; `seconds` are for all sizes together.

    Notes
    -----
    The sizes share one memory of solved problems: a fabric cut alike in two of them is packed once. No fabric is
    searched further once less of it cannot be bought, neither in yards nor in metres.

    Raises
    ------
    InputError
        The project has no sizes.
    NoPlanError
        A piece does not go on its cloth in some size.
    """
    if not project.sizes:
        hint = 'Add one for each hoop, with its name: [[size]] and below it name = "5 × 7"'
        raise InputError(where=project.source, found="has no [[size]]", hint=hint)
    kept = usual_slack(project.unit) if slack is None else slack
    halt = Halt.after(seconds, stop)
    enough = partial(_buys_least, project)
    means = Means(effort=effort, seed=seed, halt=halt, workers=workers, memory={}, enough=enough)
    drafts = [_draft(size, kept, means, None if watch is None else partial(watch, size.size)) for size in project.sizes]
    plans = finish_plans(drafts, means)
    sizes = (SizePlan(project=size, plan=plan) for size, plan in zip(project.sizes, plans, strict=True))
    return Materials(project=project, slack=kept, sizes=tuple(sizes))


def shop_lengths(fabric: Fabric, needed: Fraction, unit: str, ruler: Fraction) -> ShopLengths:
    """What to buy of `fabric`, each in its own shop's steps: one is not converted from the other.

    A step that the file gives in whole centimetres is that of the metres, one in parts of a yard that of the yards;
    any other belongs to the project's `unit`. The other system has its usual step, 1/8 yd or 10 cm.
    """
    step = fabric.sold_by
    in_yards, in_metres = (step / _YARD).denominator <= 16, (100 * step / _METRE).denominator == 1
    metric = in_metres if in_yards != in_metres else unit == "cm"
    yard_step, metre_step = (_YARD_STEP, step) if metric else (step, _METRE_STEP)
    return ShopLengths(yards=_steps(fabric, needed, ruler, yard_step), metres=_steps(fabric, needed, ruler, metre_step))


def bought_lengths(answer: FabricPlan, unit: str, ruler: Fraction) -> ShopLengths:
    """What to buy for the layouts of `answer`, bolt by bolt, with all that squaring its plies takes."""
    found = [shop_lengths(answer.fabric, needed, unit, ruler) for needed in _off_bolts(answer)]
    return ShopLengths(yards=sum((one.yards for one in found), _NONE), metres=sum((one.metres for one in found), _NONE))


def _off_bolts(answer: FabricPlan) -> list[Fraction]:
    """What each bolt must give once its end is squared."""
    bought = [layout for layout in answer.layouts if layout.cloth.source is Source.BUY]
    if len(bought) < 2 and not answer.lays:
        return [answer.needed]
    taken: dict[int | None, Fraction] = defaultdict(Fraction)
    for layout in bought:
        taken[layout.cloth.bolt] += layout.used
    squaring = answer.fabric.square_up * answer.fabric.square_up_ends
    return [length - squaring for length in taken.values()]


def _buys_least(project: Project, fabric: Fabric, needed: Fraction, bound: Fraction) -> bool:
    found, least = (shop_lengths(fabric, length, project.unit, project.ruler) for length in (needed, bound))
    return found == least


def _steps(fabric: Fabric, needed: Fraction, ruler: Fraction, step: Fraction) -> Fraction:
    return purchase(replace(fabric, sold_by=step), needed, ruler).steps * step


def _draft(size: Project, slack: Slack, means: Means, watch: Callable[[str, Progress], None] | None) -> Draft:
    fabrics = {name: replace(fabric, on_hand=(), buy=True) for name, fabric in size.fabrics.items()}
    bare = endless(replace(size, fabrics=fabrics))
    try:
        return _start(spared(bare, slack), means, watch)
    except NoPlanError as error:
        if slack == NO_SLACK:
            raise
        _start(bare, means, None)  # where it fails without slack, that is what is told
        hint = f"{size.notation.show(slack.across)} of the width is kept as slack; with --slack 0 it goes"
        raise NoPlanError(where=error.where, found=error.found, wanted=error.wanted, hint=hint) from error


def _start(project: Project, means: Means, watch: Callable[[str, Progress], None] | None) -> Draft:
    settled = settle(project, as_new=True, effort=means.effort, memory=means.memory, halt=means.halt)
    return start_plan(settled, as_new=True, effort=means.effort, watch=watch)
