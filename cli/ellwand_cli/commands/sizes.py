"""``ellwand sizes``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import (
    as_json,
    chosen_effort,
    chosen_paper,
    effort,
    ledger,
    paper,
    project_file,
    read_slack,
    seconds,
    seed,
    slack,
    workers,
)

__all__ = ["sizes"]


@click.command()
@project_file
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "markdown", "csv"]),
    default="text",
    show_default=True,
    help="How the table is printed.",
)
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the table in every form, a PDF among them.")
@paper
@slack
@ledger
@effort
@seconds
@workers
@seed
@as_json
def sizes(
    file: Path,
    form: str,
    out: Path | None,
    paper: str | None,
    slack: str | None,
    ledger: Path | None,
    effort: str | None,
    seconds: float | None,
    workers: int,
    seed: int,
    as_json: bool,
) -> None:
    """List what each size of a design takes, as a pattern prints it.

    The sizes are the file's [[size]] tables; cloth on hand is left out.

    Example: ellwand sizes quilt.toml --out materials
    """
    from ellwand.ledger import shelf_at
    from ellwand.materials import plan_sizes
    from ellwand.project.read import read_project
    from ellwand_cli.folder import require_free
    from ellwand_cli.interrupts import first_interrupt
    from ellwand_cli.materials import MARK, show_materials
    from ellwand_cli.progress import size_progress

    project = read_project(file, shelf_at(ledger))
    kept = read_slack(slack, "sizes", project.unit)
    sheets = chosen_paper(paper, out)
    if out is not None:
        require_free(out, MARK)  # said before the work, not after it
    with size_progress(project.notation, project.ruler) as watch, first_interrupt() as stop:
        materials = plan_sizes(
            project,
            slack=kept,
            effort=chosen_effort(effort, seconds),
            seed=seed,
            watch=watch,
            seconds=seconds,
            stop=stop,
            workers=workers,
        )
    show_materials(materials, form=form, out=out, paper=sheets, as_json=as_json)
