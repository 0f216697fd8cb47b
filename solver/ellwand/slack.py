"""Cloth kept in hand: what just fits on paper does not on a bolt a little narrower, nor after a cut a little wrong."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.lengths import unit_length
from ellwand.project.tables import Fabric, OnHand, Project

__all__ = ["NO_SLACK", "USUAL_SLACK", "Slack", "slack_of", "spared", "usual_slack"]

_USUAL = {"in": Fraction(1, 4), "cm": 7 * unit_length("mm")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Slack:
    """What is left unused of every cloth, inches: of its width in all, and of its length."""

    across: Fraction
    along: Fraction


def slack_of(across: Fraction) -> Slack:
    """So much kept across, and twice as much along the selvage."""
    return Slack(across=across, along=2 * across)


def usual_slack(unit: str) -> Slack:
    """What is kept unless somebody says otherwise: 1/4 in across, or 7 mm in projects in centimetres; twice along."""
    return slack_of(_USUAL[unit])


USUAL_SLACK = usual_slack("in")
NO_SLACK = Slack(across=Fraction(0), along=Fraction(0))


def spared(project: Project, slack: Slack, names: Container[str] | None = None) -> Project:
    """`project` with every woven cloth so much narrower and shorter, those on hand too; odd shapes stay as measured.

    Of the fabrics of these `names` alone, if some are given. Batting, stabiliser and film, cloth without grain, are as
    wide as they are sold to be: nothing is kept of them.
    """
    if slack == NO_SLACK:
        return project
    fabrics = {
        name: _spared(fabric, slack) if fabric.woven and (names is None or name in names) else fabric
        for name, fabric in project.fabrics.items()
    }
    return replace(project, fabrics=fabrics)


def _spared(fabric: Fabric, slack: Slack) -> Fabric:
    """Half of the slack is lost at each selvage, the slack along with the squaring."""
    on_hand = tuple(
        entry if entry.outline is not None or entry.flaws else _less(entry, slack) for entry in fabric.on_hand
    )
    return replace(
        fabric,
        selvage=fabric.selvage + slack.across / 2,
        square_up=fabric.square_up + slack.along / fabric.square_up_ends,
        on_hand=on_hand,
    )


def _less(entry: OnHand, slack: Slack) -> OnHand:
    """A cloth on hand, shorter, and narrower too by what its selvages, if it has some, do not lose."""
    entry, lost = replace(entry, square_up=entry.square_up + slack.along), slack.across * (2 - entry.selvages) / 2
    if entry.width is not None:
        return replace(entry, width=entry.width - lost)
    return entry if entry.full_width is None else replace(entry, full_width=entry.full_width - lost)
