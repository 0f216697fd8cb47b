"""The front door: from a project to a plan that could be cut from."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import partial
from itertools import islice
from math import floor
from time import perf_counter

from ellwand.areas import area_of, shrinkage_of
from ellwand.assign import Job
from ellwand.cloths import purchase, usable_width
from ellwand.cutting import Cutting, all_in_one
from ellwand.hunt import Found, Hunt
from ellwand.kits import cut_up, layers_of
from ellwand.lengths import unit_length
from ellwand.mixing import settle
from ellwand.model import FabricPlan, Looser, Part, Plan, Proof, Quilt
from ellwand.packing.halt import Halt
from ellwand.packing.problem import Bound, Effort, Problem, Progress, Result
from ellwand.project.tables import Fabric, Project
from ellwand.quilt.work import work_out
from ellwand.remains import left_over, narrowed, smallest_cloth
from ellwand.search import Means, Memory, search
from ellwand.wishes import grant, has_room, is_wished, told_wishes

__all__ = ["Draft", "Memory", "Watch", "answer_of", "cut_plan", "finish_plans", "make_plan", "plan_of", "start_plan"]

Watch = Callable[[str, Progress], None]


def make_plan(
    project: Project,
    *,
    effort: Effort = Effort.CAREFUL,
    seed: int = 0,
    as_new: bool = False,
    watch: Watch | None = None,
    memory: Memory | None = None,
    looser: bool = False,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
    workers: int = 1,
) -> Plan:
    """Plan every fabric of `project`.

    Parameters
    ----------
    effort
        How much work is done; equal input, seed and effort give an equal plan, unless it is cut short.
    seed
        Of every random choice.
    as_new
        Leave the cloth on hand out, as a printed pattern must.
    watch
        Told a fabric's id, and its best length and bound as :class:`~ellwand.packing.problem.Progress`, whenever
        one of them moves.
    memory
        Results by problem, read and filled: a problem met again is not packed again.
    looser
        Look, too, at what more freedom to cut would save: where less might be bought by it, and not at quick effort,
        nor where copies may be cut in layers.
    seconds
        By the clock, for all fabrics together; then the best so far is the plan. None for no clock.
    stop
        Asked now and then whether to end with the best so far. Every fabric gets a layout whatever it says.
    workers
        Processes that search side by side where there is enough to do; the plan is the same. The calling program
        must be fit for that: nothing but definitions where it is imported (see `multiprocessing`, "spawn").

    Returns
    -------
    Plan
        Judged; a fabric that may not be bought and is not enough is in it with ``enough`` False.

    Raises
    ------
    NoPlanError
        A piece does not go on its cloth at all.
    """
    halt = Halt.after(seconds, stop)
    known = {} if memory is None else memory
    settled = settle(project, as_new=as_new, effort=effort, memory=known, halt=_for_mixes(halt))
    draft = start_plan(settled, as_new=as_new, effort=effort, watch=watch)
    alone = looser and layers_of(settled) == 1  # what is cut in layers is cut straight
    means = Means(effort=effort, seed=seed, halt=halt, workers=workers, memory=known, looser=alone)
    return finish_plan(draft, means)


def _for_mixes(halt: Halt) -> Halt:
    """A share of the time for settling what is cut of which fabric."""
    return Halt.after(None if halt.left is None else halt.left / 2, halt.stop)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A project whose pieces are known, and what there is to search for; `started` by the clock."""

    project: Project
    quilt: Quilt
    hunts: tuple[Hunt, ...]
    as_new: bool
    started: float


def start_plan(project: Project, *, as_new: bool, effort: Effort, watch: Watch | None) -> Draft:
    """Work out the pieces of `project`, and every way to make its parts that is open.

    Raises
    ------
    NoPlanError
        A piece does not go on its cloth at all.
    """
    started = perf_counter()
    quilt = work_out(project)
    hunts = tuple(
        Hunt.start(
            project,
            fabric,
            as_new=as_new,
            effort=effort,
            watch=None if watch is None else partial(watch, fabric.id),
            quilt=quilt,
        )
        for fabric in _used(project.fabrics, quilt.parts)
    )
    return Draft(project=project, quilt=quilt, hunts=hunts, as_new=as_new, started=started)


def finish_plans(drafts: Sequence[Draft], means: Means) -> tuple[Plan, ...]:
    """Search for all drafts together, and make each a plan."""
    answers = iter(search([hunt for draft in drafts for hunt in draft.hunts], means))
    return tuple(plan_of(draft, list(islice(answers, len(draft.hunts))), means) for draft in drafts)


def finish_plan(draft: Draft, means: Means) -> Plan:
    """Search for one draft, and work out besides what cloth would do where there is not enough."""
    found = [_narrowed(best, means.halt) for best in search(draft.hunts, means)]
    plan = cut_plan(draft, found, means)
    fabrics = tuple(_finished(answer, best, means.halt) for answer, best in zip(plan.fabrics, found, strict=True))
    return replace(plan, fabrics=fabrics, seconds=perf_counter() - draft.started)


def _finished(answer: FabricPlan, found: Found, halt: Halt) -> FabricPlan:
    """`answer` with what it lacks where there is not enough, and with what is wished for besides."""
    if not answer.enough:
        answer = replace(answer, missing=smallest_cloth(found.choice.job, answer.layouts, halt))
    if not is_wished(answer):
        return answer
    needed = answer.needed
    if answer.enough and (any(piece.spare for piece in answer.pieces) or not has_room(answer)):
        granted = grant(found.choice.job, found.result.packing, halt)
        choice, result = replace(found.choice, job=granted.job), replace(found.result, packing=granted.packing)
        answer = answer_of(replace(found, choice=choice, result=result))
    return replace(answer, wishes=told_wishes(answer, needed))


def _narrowed(found: Found, halt: Halt) -> Found:
    """Where there is not enough, the layout that leaves least without a place."""
    job, packing = found.choice.job, found.result.packing
    if job.fabric.buy or not packing.length:
        return found
    fewest = narrowed(job, packing, halt)
    looser = found.looser if fewest.length == packing.length else ()  # they would have to be better than this one
    return replace(found, result=replace(found.result, packing=fewest), looser=looser)


def cut_plan(draft: Draft, found: Sequence[Found], means: Means) -> Plan:
    """The plan of a draft as it is cut: copies in layers, and off bolts that have an end.

    Raises
    ------
    NoPlanError
        A kit takes more in one length than a bolt has.
    """
    return plan_of(draft, cut_up(draft.project, found, means, as_new=draft.as_new), means)


def plan_of(draft: Draft, found: Sequence[Found | tuple[Found, Cutting]], means: Means) -> Plan:
    """The plan of a draft, of whose fabrics so much was `found`; with how it is cut, where that is not as one."""
    return Plan(
        project=draft.project,
        sizes=draft.quilt.sizes,
        fabrics=tuple(answer_of(*one) if isinstance(one, tuple) else answer_of(one) for one in found),
        warnings=draft.quilt.warnings,
        effort=means.effort.value,
        seed=means.seed,
        seconds=perf_counter() - draft.started,
        as_new=draft.as_new,
    )


def _used(fabrics: Mapping[str, Fabric], parts: Sequence[Part]) -> list[Fabric]:
    """The fabrics that some part is cut from, in the file's order."""
    names = {part.fabric for part in parts}
    return [fabric for fabric in fabrics.values() if fabric.id in names]


def answer_of(found: Found, cutting: Cutting | None = None) -> FabricPlan:
    """Everything that is told of one fabric; without a `cutting` all that is bought is one length."""
    choice, result, bound = found.choice, found.result, found.bound
    job, fabric, ruler = choice.job, choice.job.fabric, choice.job.project.ruler
    cutting = cutting or all_in_one(job, result.packing)
    return FabricPlan(
        fabric=fabric,
        pieces=job.pieces,
        constructions=choice.constructions,
        usable_width=usable_width(fabric, ruler),
        needed=cutting.needed,
        bound=bound * ruler,
        steps=cutting.steps,
        bought=cutting.bought,
        bound_bought=purchase(fabric, bound * ruler, ruler).length,
        cost=_cost(job.project, fabric, cutting.steps),
        area=area_of(cutting.layouts),
        shrinkage=shrinkage_of(fabric, cutting.layouts),
        layouts=cutting.layouts,
        proof=_proof(job, choice.bound if choice.bound.length >= bound else result.bound),
        method=result.method,
        cut_short=found.cut_short,
        left=left_over(job, cutting.layouts),
        looser=tuple(_looser(job, problem, result) for problem, result in found.looser),
        lays=cutting.lays,
        together=cutting.together,
    )


def _looser(job: Job, problem: Problem, result: Result) -> Looser:
    """What the pieces take with more freedom to cut."""
    ruler = job.project.ruler
    needed = result.packing.length * ruler
    return Looser(
        straight=problem.guillotine,
        needed=needed,
        bound=result.bound.length * ruler,
        bought=purchase(job.fabric, needed, ruler).length,
    )


def _cost(project: Project, fabric: Fabric, steps: int) -> Decimal | None:
    """Price of `steps` shop steps, to 0.01; prices are for a yard, or a metre in centimetre projects."""
    if fabric.price is None:
        return None
    unit = unit_length("yd" if project.unit == "in" else "m")
    hundredths = 100 * fabric.price * steps * fabric.sold_by / unit
    return Decimal(floor(hundredths + Fraction(1, 2))).scaleb(-2)


def _proof(job: Job, bound: Bound) -> Proof:
    stocks = [(stock.w, stock.h, stock) for stock in job.problem.stocks if stock.h is not None]
    plain = [(w, h, stock) for w, h, stock in stocks if stock.free is None]
    weights = bound.weights
    return Proof(
        theorem=bound.theorem,
        axis=weights.axis if weights else "",
        weights=weights.value if weights else (),
        cloths=tuple((w, h) for w, h, _ in plain),
        lengths=tuple((w, h) for w, h, stock in plain if not stock.either_way),
        odd=tuple((w, h, stock.free) for w, h, stock in stocks if stock.free is not None),
        searched=bound.searched is not None,
    )
