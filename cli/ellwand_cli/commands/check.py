"""``ellwand check``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import as_json

__all__ = ["check"]


@click.command()
@click.argument("plan", type=click.Path(path_type=Path))
@as_json
def check(plan: Path, as_json: bool) -> None:
    """Judge whether a plan file keeps every promise.

    Example: ellwand check plan/plan.json
    """
    from ellwand_cli.answers import show_verdict

    show_verdict(plan, as_json=as_json)
