"""Which fabric of each mix took what, and how sure it is that no other division lets one buy less."""

from __future__ import annotations

from ellwand.costs import Mixture, add_mixed
from ellwand.lengths import round_down
from ellwand.model import Plan
from ellwand.project.tables import Fabric, Mixed, Taken
from ellwand.project.wording import listed
from ellwand_cli.views.typeset import joined

__all__ = ["any_of", "mix_lines"]


def any_of(fabric: Fabric) -> str:
    """What a mix may come from: ``any of ink, navy or slate``."""
    return f"any of {listed(fabric.any_of)}"


def mix_lines(plan: Plan) -> tuple[str, ...]:
    """A sentence for each mix, and one for all; nothing where there is none."""
    mixture = add_mixed(plan)
    if mixture is None:
        return ()
    copies = "" if plan.project.copies == 1 else " (in each copy)"
    lines = [f"{mixed.mix.id}, {any_of(mixed.mix)}{copies}: {_taken(mixed)}." for mixed in mixture.mixing.mixes]
    return (*lines, _sure(plan, mixture))


def _taken(mixed: Mixed) -> str:
    batches: dict[str, list[Taken]] = {}
    for one in mixed.taken:
        batches.setdefault(one.name, []).append(one)
    return "; ".join(f"{_named(shares[0])} {_shares(shares)}" for shares in batches.values())


def _named(taken: Taken) -> str:
    return f"{taken.name} blocks" if taken.blocks else taken.name


def _shares(shares: list[Taken]) -> str:
    """A fabric alone, or each with its number."""
    if len(shares) == 1:
        return f"of {shares[0].fabric}"
    return joined([f"{one.count} of {one.fabric}" for one in shares])


def _sure(plan: Plan, mixture: Mixture) -> str:
    if not mixture.enough:
        return "Divided otherwise, less might be missing: no better division was found."
    if mixture.bought == 0:
        return "Divided so, nothing has to be bought of these fabrics."
    if mixture.proven:
        return "However they are divided, no less can be bought of these fabrics together."
    if mixture.least == 0:
        return "That no other division does better is not proven."
    lead = "That no other division does better is not proven, but none"
    if mixture.mixing.priced:
        return f"{lead} costs less than {float(mixture.least):.2f} (this one costs {float(mixture.bought):.2f})."
    notation = plan.project.notation
    least, bought = notation.show(round_down(mixture.least, plan.project.ruler)), notation.cloth(mixture.bought)
    return f"{lead} takes less than {least} of these fabrics together (this one takes {bought})."
