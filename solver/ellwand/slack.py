"""Cloth kept in hand, so that a figure holds on a bolt a little narrower, and after a cut that went a little wrong."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from ellwand.lengths import unit_length
from ellwand.project.tables import Fabric, Project

__all__ = ["keep_slack", "slack_along", "usual_slack"]

_USUAL = {"in": Fraction(1, 4), "cm": 7 * unit_length("mm")}


def usual_slack(unit: str) -> Fraction:
    """What is kept across unless somebody says otherwise, inches: 1/4 in, or 7 mm in projects in centimetres."""
    return _USUAL[unit]


def slack_along(slack: Fraction) -> Fraction:
    """What is kept along the selvage where `slack` is kept across: twice as much."""
    return 2 * slack


def keep_slack(project: Project, slack: Fraction) -> Project:
    """`project` on woven cloth that is `slack` narrower to use and loses :func:`slack_along` more in length.

    Batting, stabiliser and film, cloth without grain, are as wide as they are sold to be: nothing is kept of them.
    """
    fabrics = {name: _kept(fabric, slack) if fabric.woven else fabric for name, fabric in project.fabrics.items()}
    return replace(project, fabrics=fabrics)


def _kept(fabric: Fabric, slack: Fraction) -> Fabric:
    return replace(
        fabric,
        selvage=fabric.selvage + slack / 2,
        square_up=fabric.square_up + slack_along(slack) / fabric.square_up_ends,
    )
