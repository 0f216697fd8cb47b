"""``ellwand claim``."""

from __future__ import annotations

from pathlib import Path

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

__all__ = ["claim"]


@click.command()
@project_file
@click.argument("claims", nargs=-1, required=True)
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the answer and drawings of its layouts.")
@slack
@ledger
@effort
@seconds
@workers
@seed
@as_json
def claim(
    file: Path,
    claims: tuple[str, ...],
    out: Path | None,
    slack: str | None,
    ledger: Path | None,
    effort: str | None,
    seconds: float | None,
    workers: int,
    seed: int,
    as_json: bool,
) -> None:
    """Put a yardage claimed in print to the test: whether it does, and what it forgives.

    The cloth on hand is left out. One that does not hold ends with exit code 1.

    Example: ellwand claim quilt.toml ink=2yd "oat = 3 1/2 yd"
    """
    from ellwand.claim import try_claims
    from ellwand.ledger import shelf_at
    from ellwand.project.read import read_project
    from ellwand_cli.answers import CLAIMS, show_claims
    from ellwand_cli.folder import require_free
    from ellwand_cli.interrupts import first_interrupt

    project = read_project(file, shelf_at(ledger))
    amounts = read_amounts(project, claims, "claim")
    spare = read_slack(slack, "claim", project.unit)
    if out is not None:
        require_free(out, CLAIMS)  # said before the work, not after it
    with first_interrupt() as stop:
        plan, found = try_claims(
            project,
            amounts,
            slack=spare,
            effort=chosen_effort(effort, seconds),
            seed=seed,
            seconds=seconds,
            stop=stop,
            workers=workers,
        )
    show_claims(plan, found, spare, out=out, as_json=as_json)
