"""``ellwand cloth list``, ``fabrics``, ``show``, ``history`` and ``check``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import as_json, ledger, unit

__all__ = ["check", "fabrics", "history", "list_", "show"]


@click.command("list")
@click.option("--fabric", help="Only cloth of this fabric.")
@click.option("--colour", help="Only cloth of fabrics with this colour word, or all of these.")
@click.option(
    "--at-least",
    metavar='"ACROSS x ALONG"',
    help="Only cloth on which a rectangle of this size fits as it is now; turned too, unless the print has a way.",
)
@ledger
@unit
@as_json
def list_(
    fabric: str | None, colour: str | None, at_least: str | None, ledger: Path | None, unit: str, as_json: bool
) -> None:
    """List the cloth there is.

    Example: ellwand cloth list --fabric ink --at-least "10 x 18 in"
    """
    from ellwand_cli.keeping import list_cloths

    list_cloths(fabric, colour, at_least, ledger, unit, as_json=as_json)


@click.command()
@ledger
@unit
@as_json
def fabrics(ledger: Path | None, unit: str, as_json: bool) -> None:
    """List the fabrics there are, and how much of each.

    Example: ellwand cloth fabrics
    """
    from ellwand_cli.keeping import list_fabrics

    list_fabrics(ledger, unit, as_json=as_json)


@click.command()
@click.argument("id")
@click.option("--out", type=click.Path(path_type=Path), help="Draw it into this file: .svg, .png or .pdf.")
@ledger
@unit
@as_json
def show(id: str, out: Path | None, ledger: Path | None, unit: str, as_json: bool) -> None:
    """Show all that is known of a cloth, and draw it.

    Example: ellwand cloth show K7 --out k7.svg
    """
    from ellwand_cli.keeping import show_cloth

    show_cloth(id, out, ledger, unit, as_json=as_json)


@click.command()
@click.option("--most", type=click.IntRange(1), help="No more than the last so many.")
@ledger
@as_json
def history(most: int | None, ledger: Path | None, as_json: bool) -> None:
    """Tell what was done to the ledger, the last first.

    Example: ellwand cloth history --most 10
    """
    from ellwand_cli.keeping import show_history

    show_history(most, ledger, as_json=as_json)


@click.command()
@ledger
@as_json
def check(ledger: Path | None, as_json: bool) -> None:
    """Look through the whole ledger, and make its history again from nothing, to see whether all is sound.

    Example: ellwand cloth check
    """
    from ellwand_cli.keeping import check_ledger

    check_ledger(ledger, as_json=as_json)
