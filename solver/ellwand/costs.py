"""What cloth costs, rolled up: per quilt, per kit, per size. Prices are the user's own; no currency is assumed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from ellwand.model import FabricPlan

__all__ = ["Cost", "add_costs"]

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
