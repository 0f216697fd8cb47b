"""What cloth costs, rolled up: per quilt, per kit, per size. Prices are the user's own; no currency is assumed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from ellwand.lengths import unit_length
from ellwand.model import FabricPlan, Plan
from ellwand.project.tables import Mixing

__all__ = ["Cost", "Mixture", "add_costs", "add_mixed", "plan_cost", "total_cost"]

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixture:
    """What the fabrics of a project's mixes come to together, and the least that any division of pieces comes to.

    Both a price where `mixing` says so, else inches as sold, exact. `enough`: nothing of them is missing.
    """

    mixing: Mixing
    bought: Fraction
    least: Fraction
    enough: bool

    @property
    def proven(self) -> bool:
        """Whether no other division lets one buy less."""
        return self.enough and self.least >= self.bought


def add_mixed(plan: Plan) -> Mixture | None:
    """What is bought of the fabrics of all mixes of `plan`; None where it has no mixes."""
    mixing = plan.project.mixing
    if mixing is None:
        return None
    answers = [answer for answer in plan.fabrics if answer.fabric.id in mixing.fabrics]
    unit = unit_length("yd" if plan.project.unit == "in" else "m")
    bought = Fraction(0)
    for answer in answers:
        if answer.fabric.buy:
            price = (answer.fabric.price or Fraction(0)) / unit if mixing.priced else 1
            bought += answer.steps * answer.fabric.sold_by * price
    return Mixture(
        mixing=mixing,
        bought=bought,
        least=min(mixing.least, bought),
        enough=all(answer.enough for answer in answers),
    )


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
