"""``ellwand cloth import`` and ``export``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import as_json, ledger, unit

__all__ = ["export", "import_"]


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@ledger
@unit
@as_json
def import_(file: Path, ledger: Path | None, unit: str, as_json: bool) -> None:
    """Take in fabrics and cloths from a spreadsheet's CSV file: all of it, or nothing where a row is wrong.

    One row is a cloth. The first row names the columns, in any order: fabric, fabric width, length, width, place …
    `ellwand cloth export` shows all there are. A bare number is in the column's unit, "length (cm)", or in --unit.

    Example: ellwand cloth import stash.csv
    """
    from ellwand_cli.keeping import import_cloths

    import_cloths(file, ledger, unit, as_json=as_json)


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@ledger
@unit
@as_json
def export(file: Path, ledger: Path | None, unit: str, as_json: bool) -> None:
    """Write all fabrics and cloths into a new CSV file, one row a cloth, exactly.

    Example: ellwand cloth export stash.csv
    """
    from ellwand_cli.keeping import export_cloths

    export_cloths(file, ledger, unit, as_json=as_json)
