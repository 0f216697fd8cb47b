"""What cloth costs, rolled up: per quilt, per kit, per size. Prices are the user's own; no currency is assumed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from ellwand.model import FabricPlan, Plan

__all__ = ["Cost", "add_costs", "plan_cost", "total_cost"]

_HUNDREDTH = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What fabrics with a price cost together, for all `copies`; `unpriced` are bought too, but have none."""

    total: Decimal
    copies: int
    unpriced: tuple[str, ...]

    @property
    def each(self) -> Decimal:
        """The share of one copy, to 0.01."""
        return (self.total / self.copies).quantize(_HUNDREDTH, ROUND_HALF_UP)


def add_costs(fabrics: Sequence[FabricPlan], copies: int) -> Cost | None:
    """What is bought of `fabrics`, added up; None where nothing that is bought has a price."""
    bought = [answer for answer in fabrics if answer.steps]
    costs = [answer.cost for answer in bought if answer.cost is not None]
    if not costs:
        return None
    unpriced = tuple(answer.fabric.id for answer in bought if answer.cost is None)
    return Cost(total=sum(costs, Decimal("0.00")), copies=copies, unpriced=unpriced)


def plan_cost(plan: Plan) -> Cost | None:
    """What all that is bought for a plan costs; None where none of it has a price, or some is not to be had."""
    enough = all(answer.enough for answer in plan.fabrics)
    return add_costs(plan.fabrics, plan.project.copies) if enough else None


def total_cost(plan: Plan) -> Decimal | None:
    """Cost of all that is bought for a plan; None where some of it has no price, or is not to be had."""
    if not any(answer.steps for answer in plan.fabrics) and all(answer.enough for answer in plan.fabrics):
        return Decimal("0.00")
    cost = plan_cost(plan)
    return None if cost is None or cost.unpriced else cost.total
