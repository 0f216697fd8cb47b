"""Options that several commands share, one decorator each."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from ellwand.project.tables import Project

__all__ = ["JSON_WANTED", "as_json", "as_new", "effort", "project_file", "read_length", "seed"]

project_file = click.argument("file", type=click.Path(path_type=Path))

JSON_WANTED = "ellwand_cli.json"  # key in click's meta: errors are printed as JSON too


def _note_json(context: click.Context, _: click.Parameter, value: bool) -> bool:
    context.meta[JSON_WANTED] = value
    return value


as_json = click.option(
    "--json", "as_json", is_flag=True, callback=_note_json, help="Print one JSON document instead of text."
)

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
        It is no length.
    """
    from ellwand.errors import InputError
    from ellwand.lengths import parse_length

    try:
        return parse_length(text, unit=project.unit)
    except ValueError as error:
        found, _, wanted = str(error).partition("; ")
        raise InputError(where=option, found=found, wanted=wanted.capitalize()) from error
