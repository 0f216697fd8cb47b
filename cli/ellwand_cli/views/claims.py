"""Claimed yardages and what became of them, as text and as a document."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

from ellwand.claim import Claim, Forgiven, Spoiled
from ellwand.lengths import Notation, decimal_of
from ellwand.record import near_number
from ellwand.shortage import unplaced
from ellwand.slack import Slack
from ellwand_cli.views.spare import slack_document, spare
from ellwand_cli.views.tables import WIDTH, wrapped
from ellwand_cli.views.words import counted

__all__ = ["claims_document", "claims_text", "failure"]


def claims_text(claims: Sequence[Claim], slack: Slack, notation: Notation) -> str:
    """Every claim with what it forgives, or why it fails and what would do."""
    blocks = [
        "\n".join(wrapped(line, WIDTH, first=lead, rest="    ") for lead, line in _lines(claim, slack, notation))
        for claim in claims
    ]
    return "\n\n".join(blocks) + "\n"


def _lines(claim: Claim, slack: Slack, notation: Notation) -> Iterator[tuple[str, str]]:
    head = f"{claim.fabric.id}, {notation.cloth(claim.length)}"
    if claim.forgiven is None:
        yield "", f"{head}: {failure(claim, notation)}{spare(slack, notation)}."
        yield "  ", f"No room is left for {counted(unplaced(claim.answer, claim.usable))}."
        sure = ", and less cannot" if claim.answer.bought_proven else "; less perhaps, too"
        yield "  ", f"{notation.cloth(claim.enough)} would do{sure}."
        return
    yield (
        "",
        f"{head}: it holds{spare(slack, notation)}. {notation.show(claim.answer.needed)} of {_room(claim, notation)}",
    )
    yield from (("  ", line) for line in _forgiven(claim.forgiven, notation))
    if claim.enough < claim.length:
        yield "  ", f"{notation.cloth(claim.enough)} would do as well."


def _room(claim: Claim, notation: Notation) -> str:
    return f"{notation.show(claim.usable)} are needed."


def failure(claim: Claim, notation: Notation) -> str:
    """That a claim does not hold, and how surely."""
    missing = notation.show(claim.answer.needed - claim.usable)
    if claim.refuted:
        return f"it does not hold, whatever the layout: {missing} are missing in the best one found"
    return f"it was not found to hold, though nothing proves that it cannot: {missing} are missing in the best layout"


def _forgiven(forgiven: Forgiven, notation: Notation) -> Iterator[str]:
    lengthwise, crosswise = (f"{float(100 * share):g} %" for share in forgiven.shrinks)
    sure = "" if forgiven.width_proven else "; narrower cloth perhaps, too"
    yield f"Cloth that can be used {notation.show(forgiven.width)} wide still does{sure}."
    yield f"It may shrink {lengthwise} lengthwise, or {crosswise} crosswise, before it is cut."
    for spoiled in forgiven.spoiled:
        yield f"Spoiled {' or '.join(spoiled.pieces)}: {_copies(spoiled)}."


def _copies(spoiled: Spoiled) -> str:
    if spoiled.copies == 0:
        return "none can be cut again" if spoiled.proven else "no layout was found with one more"
    if spoiled.proven:
        return f"up to {spoiled.copies} can be cut again"
    were = "was" if spoiled.copies == 1 else "were"
    return f"{spoiled.copies} more {were} found to fit, and perhaps there is room for others"


def claims_document(claims: Sequence[Claim], slack: Slack, notation: Notation) -> dict[str, Any]:
    """The same for machines."""
    return {
        "format": 1,
        "slack": slack_document(slack, notation),
        "claims": [_claim(claim, notation) for claim in claims],
    }


def _claim(claim: Claim, notation: Notation) -> dict[str, Any]:
    return {
        "fabric": claim.fabric.id,
        "length": near_number(notation, claim.length),
        "holds": claim.holds,
        "refuted": claim.refuted,
        "usable": notation.number(claim.usable),
        "needed": notation.number(claim.answer.needed),
        "bound": notation.number(claim.answer.bound),
        "left_over": unplaced(claim.answer, claim.usable),
        "enough": near_number(notation, claim.enough),
        "forgives": None if claim.forgiven is None else _forgives(claim.forgiven, notation),
    }


def _forgives(forgiven: Forgiven, notation: Notation) -> dict[str, Any]:
    return {
        "usable_width": notation.number(forgiven.width),
        "usable_width_proven": forgiven.width_proven,
        "shrinks": [_percent(share) for share in forgiven.shrinks],
        "spoiled": [
            {"pieces": list(spoiled.pieces), "copies": spoiled.copies, "proven": spoiled.proven}
            for spoiled in forgiven.spoiled
        ],
    }


def _percent(share: Fraction) -> Any:
    return decimal_of(100 * share)
