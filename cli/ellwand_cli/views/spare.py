"""The slack that answers at the edge keep, in words."""

from __future__ import annotations

from ellwand.lengths import Notation
from ellwand.slack import NO_SLACK, Slack

__all__ = ["spare"]


def spare(slack: Slack, notation: Notation) -> str:
    """That so much of every cloth is left to spare, to go on a sentence; nothing without slack."""
    if slack == NO_SLACK:
        return ""
    return f", with {notation.show(slack.across)} across and {notation.show(slack.along)} along to spare"
