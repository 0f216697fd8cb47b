"""The slack that answers at the edge keep, in words."""

from __future__ import annotations

from decimal import Decimal

from ellwand.lengths import Notation
from ellwand.record import near_number
from ellwand.slack import NO_SLACK, Slack

__all__ = ["slack_document", "spare"]


def spare(slack: Slack, notation: Notation) -> str:
    """That so much of every cloth is left to spare, to go on a sentence; nothing without slack."""
    if slack == NO_SLACK:
        return ""
    return f", with {notation.show(slack.across)} across and {notation.show(slack.along)} along to spare"


def slack_document(slack: Slack, notation: Notation) -> dict[str, Decimal]:
    """The same for machines, in the project's unit."""
    return {"across": near_number(notation, slack.across), "along": near_number(notation, slack.along)}
