"""Cloth kept in hand: of what, and how much."""

from __future__ import annotations

from fractions import Fraction

from ellwand.cloths import usable_width, washed_length
from ellwand.project.read import parse_project
from ellwand.slack import NO_SLACK, Slack, slack_of, spared, usual_slack

# A woven cloth with a rectangle on hand, and batting; invented.
PROJECT = parse_project(
    """
[project]
name = "pad"
[[piece]]
name = "top"
fabric = "ink"
cut = [10, 10]
[[piece]]
name = "middle"
fabric = "wad"
cut = [10, 10]
[fabric.ink]
width = 43
on_hand = [ { width = 20, length = 18 } ]
[fabric.wad]
width = 90
selvage = 0
grain = "none"
""",
    "pad.toml",
)


def test_as_much_along_twice() -> None:
    """One number stands for both."""
    assert slack_of(Fraction(1, 4)) == Slack(across=Fraction(1, 4), along=Fraction(1, 2)) == usual_slack("in")
    assert slack_of(Fraction(0)) == NO_SLACK


def test_cloth_without_grain_keeps_none() -> None:
    """Batting stays as it is, named or not; woven cloth gets narrower, and what is on hand shorter besides."""
    kept = spared(PROJECT, Slack(across=Fraction(1), along=Fraction(3)))
    ink, ruler = kept.fabrics["ink"], PROJECT.ruler

    assert kept.fabrics["wad"] == PROJECT.fabrics["wad"]
    assert usable_width(ink, ruler) == usable_width(PROJECT.fabrics["ink"], ruler) - 1
    assert washed_length(ink, Fraction(36)) == washed_length(PROJECT.fabrics["ink"], Fraction(36)) - 3
    assert spared(PROJECT, usual_slack("in"), {"wad"}) == PROJECT


def test_nothing_is_kept_where_none_is_wanted() -> None:
    """The very same project."""
    assert spared(PROJECT, NO_SLACK) is PROJECT
