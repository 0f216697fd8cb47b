"""``ellwand new``."""

from __future__ import annotations

from pathlib import Path
from shlex import quote

import click

from ellwand_cli.options import project_file

__all__ = ["new"]


@click.command()
@project_file
def new(file: Path) -> None:
    """Write a commented starter project.

    Example: ellwand new quilt.toml
    """
    from ellwand.project.starter import write_starter

    write_starter(file)
    click.echo(f"Wrote {file}. Change it to your quilt, then: ellwand plan {quote(str(file))} --out plan")
