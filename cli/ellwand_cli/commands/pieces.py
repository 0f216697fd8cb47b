"""``ellwand pieces``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import as_json, chosen_size, ledger, project_file, size

__all__ = ["pieces"]


@click.command()
@project_file
@size
@ledger
@as_json
def pieces(file: Path, size: str | None, ledger: Path | None, as_json: bool) -> None:
    """List every piece, to hand out: its sizes, its place and its sum.

    Example: ellwand pieces quilt.toml
    """
    from ellwand.ledger import shelf_at
    from ellwand.project.read import read_project
    from ellwand.quilt.work import work_out
    from ellwand.record import dumps, pieces_document
    from ellwand_cli.views.pieces import pieces_page
    from ellwand_cli.views.warnings import show_warnings

    project = chosen_size(read_project(file, shelf_at(ledger)), size)
    quilt = work_out(project)
    show_warnings(quilt.warnings)
    click.echo(dumps(pieces_document(project, quilt)) if as_json else pieces_page(project, quilt), nl=False)
