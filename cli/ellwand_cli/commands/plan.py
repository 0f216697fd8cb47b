"""``ellwand plan``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import (
    as_json,
    as_new,
    chosen_effort,
    chosen_paper,
    chosen_size,
    effort,
    ledger,
    paper,
    project_file,
    seconds,
    seed,
    size,
    what_if,
    workers,
)

__all__ = ["plan"]


@click.command()
@project_file
@size
@click.option("--out", type=click.Path(path_type=Path), help="Folder for diagrams, cutting sheets and plan.json.")
@click.option("--true-size", is_flag=True, help="With --out: layouts as SVG and DXF of true size, for machines, too.")
@paper
@as_new
@what_if
@ledger
@effort
@seconds
@workers
@seed
@as_json
def plan(
    file: Path,
    size: str | None,
    out: Path | None,
    true_size: bool,
    paper: str | None,
    as_new: bool,
    what_if: tuple[str, ...],
    ledger: Path | None,
    effort: str | None,
    seconds: float | None,
    workers: int,
    seed: int,
    as_json: bool,
) -> None:
    """Lay out every piece; say what to buy, draw what to cut.

    Ctrl-C takes the best plan so far; pressed again, it ends without one.

    Example: ellwand plan quilt.toml --out plan
    """
    from ellwand.ledger import shelf_at
    from ellwand.plan import make_plan
    from ellwand.project.read import read_project
    from ellwand.project.supposing import suppose
    from ellwand_cli.answers import show_plan
    from ellwand_cli.folder import require_free
    from ellwand_cli.interrupts import first_interrupt
    from ellwand_cli.progress import fabric_progress

    if as_new and what_if:
        raise click.UsageError("--as-new leaves all cloth on hand out: leave it or --what-if out.")
    project = suppose(chosen_size(read_project(file, shelf_at(ledger)), size), what_if, "--what-if")
    if true_size and out is None:
        raise click.UsageError("--true-size needs --out DIR, the folder to write into.")
    sheets = chosen_paper(paper, out)
    if out is not None:
        require_free(out)  # said before the work, not after it
    with fabric_progress(project.notation, project.ruler) as watch, first_interrupt() as stop:
        answer = make_plan(
            project,
            effort=chosen_effort(effort, seconds),
            seed=seed,
            as_new=as_new,
            watch=watch,
            looser=True,
            seconds=seconds,
            stop=stop,
            workers=workers,
        )
    show_plan(answer, out=out, paper=sheets, true_size=true_size, as_json=as_json)
