"""Options that several commands share, one decorator each."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from ellwand.packing.problem import Effort
    from ellwand.project.tables import Project

__all__ = [
    "as_json",
    "as_new",
    "chosen_effort",
    "effort",
    "project_file",
    "read_length",
    "seconds",
    "seed",
    "what_if",
    "workers",
]

project_file = click.argument("file", type=click.Path(path_type=Path))

as_json = click.option("--json", "as_json", is_flag=True, help="Print one JSON document instead of text.")

as_new = click.option("--as-new", is_flag=True, help="Leave the cloth on hand out, as a printed pattern must.")

what_if = click.option(
    "--what-if",
    multiple=True,
    metavar='"FABRIC = LENGTH"',
    help="Take so much of a fabric to be on hand, in place of what the file lists of it; the file stays as it is. "
    "As often as you like.",
)

effort = click.option(
    "--effort",
    type=click.Choice(["quick", "careful", "proof"]),
    help="How hard to look, the same work on every machine.  [default: careful; with --seconds, proof]",
)

seconds = click.option(
    "--seconds",
    type=click.FloatRange(0, min_open=True),
    help="Look no longer than that, all fabrics together, and take the best so far.",
)

workers = click.option(
    "--workers",
    type=click.IntRange(1, 64),
    default=2,
    show_default=True,
    help="Processes that look side by side; the answer is the same.",
)

seed = click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), default=0, show_default=True, help="Of random choices."
)


def chosen_effort(effort: str | None, seconds: float | None) -> Effort:
    """The effort that was asked for; a clock alone may use all its time."""
    from ellwand.packing.problem import Effort

    if effort is not None:
        return Effort(effort)
    return Effort.CAREFUL if seconds is None else Effort.PROOF


def read_length(option: str, text: str, project: Project) -> Fraction:
    """The length given to `option`, inches.

    Raises
    ------
    InputError
        It is no length, or 0, or out of all proportion.
    """
    from ellwand.project.table import Table

    return Table(where="compare", values={option: text}, unit=project.unit).length(option)
