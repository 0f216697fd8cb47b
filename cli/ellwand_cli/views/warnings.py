"""Warnings go to standard error, so that answers can be piped."""

from __future__ import annotations

from collections.abc import Iterable

import click

from ellwand.model import FabricPlan

__all__ = ["show_cut_short", "show_warnings"]


def show_warnings(warnings: Iterable[str]) -> None:
    """Each warning once, a line each."""
    for warning in dict.fromkeys(warnings):
        click.echo(f"Warning: {warning}", err=True)


def show_cut_short(fabrics: Iterable[FabricPlan]) -> None:
    """That the search was ended before its work was done, and of which fabrics."""
    names = ", ".join(dict.fromkeys(answer.fabric.id for answer in fabrics if answer.cut_short))
    if names:
        click.echo(f"Stopped early: the best so far is shown; a longer look might need less of {names}.", err=True)
