"""Warnings go to standard error, so that answers can be piped."""

from __future__ import annotations

from collections.abc import Iterable

import click

__all__ = ["show_warnings"]


def show_warnings(warnings: Iterable[str]) -> None:
    """Each warning once, a line each."""
    for warning in dict.fromkeys(warnings):
        click.echo(f"Warning: {warning}", err=True)
