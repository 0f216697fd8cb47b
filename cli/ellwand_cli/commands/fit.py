"""``ellwand fit``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from ellwand_cli.options import (
    as_json,
    chosen_effort,
    effort,
    ledger,
    project_file,
    read_amounts,
    read_slack,
    seconds,
    seed,
    slack,
    workers,
)

if TYPE_CHECKING:
    from ellwand.project.vary import Varied

__all__ = ["fit"]


@click.command()
@project_file
@click.option("--border", help="Name of the border; without it all borders, in the ratio that they have.")
@click.option("--with", "stated", multiple=True, help='So much of a fabric instead of what is on hand: "ink = 2 yd".')
@slack
@ledger
@effort
@seconds
@workers
@seed
@as_json
def fit(
    file: Path,
    border: str | None,
    stated: tuple[str, ...],
    slack: str | None,
    ledger: Path | None,
    effort: str | None,
    seconds: float | None,
    workers: int,
    seed: int,
    as_json: bool,
) -> None:
    """Find the widest border that the cloth on hand allows, or that so much cloth does.

    Limited are the fabrics named by --with, the border's own as far as there is some on hand, and all that may not be
    bought.

    Example: ellwand fit quilt.toml --border outer --with "ink = 2 yd"
    """
    from ellwand.fit import fit_border
    from ellwand_cli.answers import show_fit
    from ellwand_cli.interrupts import first_interrupt

    varied = _varied(file, ledger, border)
    amounts = read_amounts(varied.base, stated, "fit: --with")
    spare = read_slack(slack, "fit", varied.base.unit)
    with first_interrupt() as stop:
        found = fit_border(
            varied,
            stated=amounts,
            slack=spare,
            effort=chosen_effort(effort, seconds),
            seed=seed,
            seconds=seconds,
            stop=stop,
            workers=workers,
        )
    show_fit(found, amounts, as_json=as_json)


def _varied(file: Path, ledger: Path | None, border: str | None) -> Varied:
    from ellwand.errors import InputError
    from ellwand.ledger import shelf_at
    from ellwand.project.read import read_project
    from ellwand.project.vary import border_key, read_varied, together

    shelf = shelf_at(ledger)
    if border is not None:
        return read_varied(file, border_key(border), shelf)
    project = read_project(file, shelf)
    if not project.borders:
        raise InputError(where=project.source, found="has no border that could be wider")
    return together(read_varied(file, border_key(project.borders[-1].name), shelf))
