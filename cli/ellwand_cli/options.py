"""Options that several commands share, one decorator each."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from ellwand.project.tables import Project

__all__ = ["as_json", "as_new", "effort", "project_file", "read_length", "seed"]

project_file = click.argument("file", type=click.Path(path_type=Path))

as_json = click.option("--json", "as_json", is_flag=True, help="Print one JSON document instead of text.")

as_new = click.option("--as-new", is_flag=True, help="Leave the cloth on hand out, as a printed pattern must.")

effort = click.option(
    "--effort",
    type=click.Choice(["quick", "careful", "proof"]),
    default="careful",
    show_default=True,
    help="How hard to look; the same work on every machine.",
)

seed = click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), default=0, show_default=True, help="Of random choices."
)


def read_length(option: str, text: str, project: Project) -> Fraction:
    """The length given to `option`, inches.

    Raises
    ------
    InputError
        It is no length, or 0, or out of all proportion.
    """
    from ellwand.project.table import Table

    return Table(where="compare", values={option: text}, unit=project.unit).length(option)
