"""``ellwand compare``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import as_json, as_new, chosen_effort, effort, project_file, seconds, seed, workers

__all__ = ["compare"]


@click.command()
@project_file
@click.option("--border", required=True, help="Name of the border whose width varies.")
@click.option("--from", "first", required=True, help="Narrowest finished width, such as '3 in'.")
@click.option("--to", "last", required=True, help="Widest finished width.")
@click.option("--step", required=True, help="Step between widths, such as '1/2 in'.")
@click.option("--chart", type=click.Path(path_type=Path), help="Write a chart: a file ending in .svg, .png or .pdf.")
@as_new
@effort
@seconds
@workers
@seed
@as_json
def compare(
    file: Path,
    border: str,
    first: str,
    last: str,
    step: str,
    chart: Path | None,
    as_new: bool,
    effort: str | None,
    seconds: float | None,
    workers: int,
    seed: int,
    as_json: bool,
) -> None:
    """Show what each width of a border costs in cloth.

    Ctrl-C takes the best so far of each width; pressed again, it ends without an answer.

    Example: ellwand compare quilt.toml --border outer --from "3 in" --to "5 in" --step "1/2 in"
    """
    from ellwand.compare import compare_border, widths_between
    from ellwand.project.read import read_project
    from ellwand_cli.answers import require_chart, show_comparison
    from ellwand_cli.interrupts import first_interrupt
    from ellwand_cli.options import read_length
    from ellwand_cli.progress import width_progress

    project = read_project(file)
    if chart is not None:
        require_chart(chart)  # said before the work, not after it
    widths = widths_between(
        read_length("--from", first, project), read_length("--to", last, project), read_length("--step", step, project)
    )
    with width_progress(project.notation, project.ruler) as watch, first_interrupt() as stop:
        comparison = compare_border(
            project,
            border,
            widths,
            effort=chosen_effort(effort, seconds),
            seed=seed,
            as_new=as_new,
            watch=watch,
            seconds=seconds,
            stop=stop,
            workers=workers,
        )
    show_comparison(comparison, chart=chart, as_json=as_json)
