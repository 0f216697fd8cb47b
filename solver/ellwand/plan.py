"""The front door: from a project to a plan that could be cut from."""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from math import floor
from time import perf_counter

from ellwand.areas import area_of, shrinkage_of
from ellwand.assign import Job, lay_out
from ellwand.choices import Choice, least_of, open_choices
from ellwand.cloths import purchase, usable_width
from ellwand.lengths import unit_length
from ellwand.model import FabricPlan, Part, Plan, Proof
from ellwand.packing.problem import Bound, Effort, Problem, Progress, Result
from ellwand.packing.solve import solve
from ellwand.project.tables import Fabric, Project
from ellwand.quilt.work import work_out

__all__ = ["Memory", "Watch", "make_plan"]

Memory = MutableMapping[tuple[Problem, Effort, int], Result]
Watch = Callable[[str, Progress], None]
_MOST_LOOKS = 12  # choices that are packed at all
_MOST_TRIED = 3  # choices that get more than a quick look


def make_plan(
    project: Project,
    *,
    effort: Effort = Effort.CAREFUL,
    seed: int = 0,
    as_new: bool = False,
    watch: Watch | None = None,
    memory: Memory | None = None,
) -> Plan:
    """Plan every fabric of `project`.

    Parameters
    ----------
    effort
        How much work is done; equal input, seed and effort give an equal plan.
    seed
        Of every random choice.
    as_new
        Leave the cloth on hand out, as a printed pattern must.
    watch
        Told a fabric's id and :class:`~ellwand.packing.problem.Progress` whenever a search moves.
    memory
        Results by problem, read and filled: a problem met again is not packed again.

    Returns
    -------
    Plan
        Judged; a fabric that may not be bought and is not enough is in it with ``enough`` False.

    Raises
    ------
    NoPlanError
        A piece does not go on its cloth at all.
    """
    started = perf_counter()
    quilt = work_out(project)
    search = _Search(effort, seed, watch, {} if memory is None else memory)
    fabrics = tuple(
        _plan_fabric(project, fabric, search, as_new=as_new) for fabric in _used(project.fabrics, quilt.parts)
    )
    return Plan(
        project=project,
        sizes=quilt.sizes,
        fabrics=fabrics,
        warnings=quilt.warnings,
        effort=effort.value,
        seed=seed,
        seconds=perf_counter() - started,
    )


@dataclass(frozen=True, slots=True)
class _Search:
    """How problems are solved during one plan."""

    effort: Effort
    seed: int
    watch: Watch | None
    memory: Memory

    def solve(self, choice: Choice, effort: Effort) -> Result:
        problem, fabric = choice.job.problem, choice.job.fabric.id
        key = (problem, effort, self.seed)
        if key not in self.memory:
            watch = self.watch
            report = None if watch is None else lambda progress: watch(fabric, progress)
            self.memory[key] = solve(problem, effort=effort, seed=self.seed, watch=report, bound=choice.bound)
        return self.memory[key]


def _used(fabrics: Mapping[str, Fabric], parts: Sequence[Part]) -> list[Fabric]:
    """The fabrics that some part is cut from, in the file's order."""
    names = {part.fabric for part in parts}
    return [fabric for fabric in fabrics.values() if fabric.id in names]


def _plan_fabric(project: Project, fabric: Fabric, search: _Search, *, as_new: bool) -> FabricPlan:
    """The best choice to make the parts of `fabric`.

    The choices that may need least are tried quickly, and the few that do best with all the effort that is wanted.
    """
    choices = open_choices(project, fabric, as_new=as_new)
    solved = _solve(choices, search, Effort.QUICK)
    if search.effort is not Effort.QUICK:
        solved += _solve([choice for choice, _ in solved[:_MOST_TRIED]], search, search.effort)
    best, result = min(solved, key=_rank)
    return _answer(best, result, least_of(project, fabric, _raised(choices, solved), as_new=as_new))


def _raised(choices: Sequence[Choice], solved: Sequence[tuple[Choice, Result]]) -> list[Choice]:
    """The choices, with the better bounds of those whose layouts were all looked through."""
    better = {choice.job.problem: result.bound for choice, result in solved if result.bound.searched}
    return [replace(choice, bound=better.get(choice.job.problem, choice.bound)) for choice in choices]


def _solve(choices: Sequence[Choice], search: _Search, effort: Effort) -> list[tuple[Choice, Result]]:
    """The most promising choices with their packings, the best first.

    Left out are those that would be no better even at their least, and all beyond the number that is looked at.
    """
    solved: list[tuple[Choice, Result]] = []
    for choice in sorted(choices, key=lambda choice: choice.rank(choice.bound.length)):
        if not solved or choice.rank(choice.bound.length) < min(map(_rank, solved)):
            solved.append((choice, search.solve(choice, effort)))
        if len(solved) == _MOST_LOOKS:
            break
    return sorted(solved, key=_rank)


def _rank(solved: tuple[Choice, Result]) -> tuple[int, int, int]:
    choice, result = solved
    return choice.rank(result.packing.length)


def _answer(choice: Choice, result: Result, bound: int) -> FabricPlan:
    """Everything that is told of one fabric; `bound`, in marks, holds for every choice that was open."""
    job, fabric, ruler = choice.job, choice.job.fabric, choice.job.project.ruler
    needed = result.packing.length * ruler
    layouts = lay_out(job, result.packing)
    bought = purchase(fabric, needed, ruler)
    return FabricPlan(
        fabric=fabric,
        pieces=job.pieces,
        constructions=choice.constructions,
        usable_width=usable_width(fabric, ruler),
        needed=needed,
        bound=bound * ruler,
        steps=bought.steps,
        bought=bought.length,
        bound_bought=purchase(fabric, bound * ruler, ruler).length,
        cost=_cost(job.project, fabric, bought.steps),
        area=area_of(layouts),
        shrinkage=shrinkage_of(fabric, layouts),
        layouts=layouts,
        proof=_proof(job, choice.bound if choice.bound.length >= bound else result.bound),
        method=result.method,
    )


def _cost(project: Project, fabric: Fabric, steps: int) -> Decimal | None:
    """Price of `steps` shop steps, to 0.01; prices are for a yard, or a metre in centimetre projects."""
    if fabric.price is None:
        return None
    unit = unit_length("yd" if project.unit == "in" else "m")
    hundredths = 100 * fabric.price * steps * fabric.sold_by / unit
    return Decimal(floor(hundredths + Fraction(1, 2))).scaleb(-2)


def _proof(job: Job, bound: Bound) -> Proof:
    stocks = [stock for stock in job.problem.stocks if stock.h is not None]
    weights = bound.weights
    return Proof(
        theorem=bound.theorem,
        axis=weights.axis if weights else "",
        weights=weights.value if weights else (),
        cloths=tuple((stock.w, stock.h or 0) for stock in stocks),
        lengths=tuple((stock.w, stock.h or 0) for stock in stocks if not stock.either_way),
        searched=bound.searched is not None,
    )
