"""``ellwand compare``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from ellwand_cli.options import (
    as_json,
    as_new,
    chosen_effort,
    effort,
    ledger,
    project_file,
    read_slack,
    seconds,
    seed,
    slack,
    workers,
)

if TYPE_CHECKING:
    from fractions import Fraction

    from ellwand.project.vary import Varied

__all__ = ["compare"]


@click.command()
@project_file
@click.option("--border", help="Name of the border whose width varies.")
@click.option("--vary", help="Any other value that varies, as it stands in the file: sashing.width, quilt.down …")
@click.option("--from", "first", required=True, help="Least value, such as the narrowest finished width, '3 in'.")
@click.option("--to", "last", required=True, help="Largest value.")
@click.option("--step", required=True, help="Step between values, such as '1/2 in'.")
@click.option("--chart", type=click.Path(path_type=Path), help="Write a chart: a file ending in .svg, .png or .pdf.")
@click.option("--show", multiple=True, help="Two values, each with this option, whose layouts --layouts draws.")
@click.option("--layouts", type=click.Path(path_type=Path), help="Draw both side by side: a file as for --chart.")
@click.option("--csv", "as_csv", is_flag=True, help="Print rows for a spreadsheet instead of text.")
@slack
@as_new
@ledger
@effort
@seconds
@workers
@seed
@as_json
def compare(
    file: Path,
    border: str | None,
    vary: str | None,
    first: str,
    last: str,
    step: str,
    chart: Path | None,
    show: tuple[str, ...],
    layouts: Path | None,
    as_csv: bool,
    slack: str | None,
    as_new: bool,
    ledger: Path | None,
    effort: str | None,
    seconds: float | None,
    workers: int,
    seed: int,
    as_json: bool,
) -> None:
    """Show what each width of a border costs in cloth, or what any other value does.

    After the table come the last widths on the ruler for which no more must be bought, some cloth kept to spare.
    Ctrl-C takes the best so far of each width; pressed again, it ends without an answer.

    Example: ellwand compare quilt.toml --border outer --from "3 in" --to "5 in" --step "1/2 in"
    """
    from ellwand.compare import compare_values
    from ellwand_cli.answers import require_chart, show_comparison
    from ellwand_cli.interrupts import first_interrupt
    from ellwand_cli.progress import value_progress

    varied = _varied(file, ledger, border, vary)
    for picture in filter(None, (chart, layouts)):
        require_chart(picture)  # said before the work, not after it
    values = _values(varied, first, last, step)
    shown = _shown(varied, show, layouts, values)
    spare = read_slack(slack, "compare", varied.base.unit)
    with value_progress(varied) as watch, first_interrupt() as stop:
        comparison = compare_values(
            varied,
            sorted({*values, *shown}),
            slack=spare,
            effort=chosen_effort(effort, seconds),
            seed=seed,
            as_new=as_new,
            watch=watch,
            seconds=seconds,
            stop=stop,
            workers=workers,
        )
    show_comparison(comparison, chart=chart, layouts=layouts, shown=shown, as_csv=as_csv, as_json=as_json)


def _varied(file: Path, ledger: Path | None, border: str | None, vary: str | None) -> Varied:
    from ellwand.ledger import shelf_at
    from ellwand.project.vary import border_key, read_varied, spelt_key

    if (border is None) == (vary is None):
        raise click.UsageError("Name what varies: --border NAME, or --vary KEY.")
    key = spelt_key(vary) if vary is not None else border_key(border or "")
    return read_varied(file, key, shelf_at(ledger))


def _values(varied: Varied, first: str, last: str, step: str) -> tuple[Fraction, ...]:
    from ellwand.compare import values_between
    from ellwand.project.table import Table

    table = Table(where="compare", values={"--from": first, "--to": last, "--step": step}, unit=varied.base.unit)
    low, high, by = (varied.read(table, option) for option in ("--from", "--to", "--step"))
    return values_between(low, high, by)


def _shown(
    varied: Varied, texts: tuple[str, ...], layouts: Path | None, values: tuple[Fraction, ...]
) -> tuple[Fraction, ...]:
    """The two values whose layouts are drawn; none without a file for them."""
    from ellwand.errors import InputError
    from ellwand.project.table import Table

    if layouts is None and not texts:
        return ()
    if layouts is None or len(texts) != 2:
        raise click.UsageError("Two layouts are drawn: --show VALUE --show VALUE --layouts FILE.")
    table = Table(where="compare", values={"--show": texts[0], "--show again": texts[1]}, unit=varied.base.unit)
    shown = tuple(varied.read(table, key) for key in ("--show", "--show again"))
    if not values[0] <= min(shown) < max(shown) <= values[-1]:
        wanted = "Give two different values between --from and --to"
        raise InputError(where="compare: --show", found=f"cannot show {' and '.join(texts)}", wanted=wanted)
    return tuple(sorted(shown))
