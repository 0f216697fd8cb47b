"""Many plans that differ in one border's width."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import partial

from ellwand.areas import sum_areas
from ellwand.errors import InputError, NoPlanError
from ellwand.model import Area, FabricPlan, Plan
from ellwand.packing.halt import Halt
from ellwand.packing.problem import Effort, Progress
from ellwand.plan import finish_plans, start_plan
from ellwand.project.tables import Project
from ellwand.search import Means

__all__ = ["Comparison", "Row", "compare_border", "total_cost", "widths_between"]

Watch = Callable[[Fraction, str, Progress], None]
_MOST_WIDTHS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One tested width with its plan."""

    width: Fraction
    plan: Plan

    @property
    def area(self) -> Area:
        """Where the cloth of the whole quilt goes."""
        return sum_areas([fabric.area for fabric in self.plan.fabrics])

    @property
    def cost(self) -> Decimal | None:
        """Cost of all that is bought; None where a fabric that is bought has no price, or is not to be had."""
        return total_cost(self.plan.fabrics)


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """The rows of one border's widths, in the order they were asked for."""

    border: str
    rows: tuple[Row, ...]


def widths_between(first: Fraction, last: Fraction, step: Fraction) -> tuple[Fraction, ...]:
    """Widths from `first` up to and with `last` (where a step meets it).

    Raises
    ------
    InputError
        The range is empty, or has more than 200 widths.
    """
    if first <= 0 or last < first or step <= 0:
        raise InputError(where="widths", found="there is no width from --from to --to in steps of --step")
    number = (last - first) // step + 1
    if number > _MOST_WIDTHS:
        raise InputError(where="widths", found=f"{number} widths are too many", wanted=f"At most {_MOST_WIDTHS}")
    return tuple(first + step * index for index in range(number))


def compare_border(
    project: Project,
    border: str,
    widths: Sequence[Fraction],
    *,
    effort: Effort = Effort.CAREFUL,
    seed: int = 0,
    as_new: bool = False,
    watch: Watch | None = None,
    seconds: float | None = None,
    stop: Callable[[], bool] | None = None,
    workers: int = 1,
) -> Comparison:
    """Plan `project` once for every finished width of its border `border`.

    Parameters
    ----------
    widths
        Finished, inches.
    watch
        Told a width, a fabric's id, and its best length and bound, whenever one of them moves.
    effort, seed, as_new, seconds, stop, workers
        As of :func:`~ellwand.plan.make_plan`; `seconds` are for all widths together.

    Notes
    -----
    Only fabrics whose pieces change are packed again: the plans share one memory of solved problems.

    Raises
    ------
    InputError
        There is no such border.
    NoPlanError
        A piece does not go on its cloth at some width.
    """
    names = [entry.name for entry in project.borders]
    if border not in names:
        known = ", ".join(f'"{name}"' for name in names) or "none"
        raise InputError(where=project.source, found=f'has no border "{border}"', wanted=f"It has: {known}")
    halt = Halt.after(seconds, stop)
    drafts = []
    for width in widths:
        told = None if watch is None else partial(watch, width)
        try:
            drafts.append(start_plan(_with_width(project, border, width), as_new=as_new, effort=effort, watch=told))
        except NoPlanError as error:
            raise _at_width(error, border, project.notation.show(width)) from error
    plans = finish_plans(drafts, Means(effort=effort, seed=seed, halt=halt, workers=workers, memory={}))
    rows = (Row(width=width, plan=plan) for width, plan in zip(widths, plans, strict=True))
    return Comparison(border=border, rows=tuple(rows))


def _at_width(error: NoPlanError, border: str, width: str) -> NoPlanError:
    where = f'border "{border}" at {width}: {error.where}'
    return NoPlanError(where=where, found=error.found, wanted=error.wanted, hint=error.hint)


def total_cost(fabrics: Sequence[FabricPlan]) -> Decimal | None:
    """Cost of all that is bought; None where a fabric that is bought has no price, or is not to be had."""
    if not all(fabric.enough for fabric in fabrics):
        return None
    costs = [fabric.cost for fabric in fabrics if fabric.steps]
    if any(cost is None for cost in costs):
        return None
    return sum((cost for cost in costs if cost is not None), Decimal("0.00"))


def _with_width(project: Project, border: str, width: Fraction) -> Project:
    borders = tuple(replace(entry, width=width) if entry.name == border else entry for entry in project.borders)
    return replace(project, borders=borders)
