"""Options that several commands share, one decorator each."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from fractions import Fraction

    from ellwand.packing.problem import Effort
    from ellwand.slack import Slack

__all__ = [
    "as_json", "as_new", "chosen_effort", "effort", "project_file", "read_amounts", "read_slack", "seconds", "seed",
    "slack", "workers",
]  # fmt: skip

project_file = click.argument("file", type=click.Path(path_type=Path))

as_json = click.option("--json", "as_json", is_flag=True, help="Print one JSON document instead of text.")

as_new = click.option("--as-new", is_flag=True, help="Leave the cloth on hand out, as a printed pattern must.")

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


slack = click.option(
    "--slack",
    default="1/4 in, 1/2 in",
    show_default=True,
    help="Cloth left to spare at the edge, across and along; 0 for none.",
)


def read_slack(text: str, command: str, unit: str) -> Slack:
    """The slack that was asked for: two lengths, across and along, or one for both.

    Raises
    ------
    InputError
        It is none.
    """
    from ellwand.errors import InputError
    from ellwand.project.table import Table
    from ellwand.slack import Slack

    parts = text.split(",")
    if len(parts) > 2:
        wanted = 'Write two lengths, across and along: "1/4 in, 1/2 in"'
        raise InputError(where=f"{command}: --slack", found="there are more than two lengths", wanted=wanted)
    table = Table(where=command, values={"--slack": parts[0], "--slack along": parts[-1]}, unit=unit)
    return Slack(across=table.length("--slack", zero=True), along=table.length("--slack along", zero=True))


def read_amounts(texts: Sequence[str], where: str, unit: str) -> dict[str, Fraction]:
    """Lengths of cloth by fabric, each written ``ink = 2 yd``.

    Raises
    ------
    InputError
        One is no such thing, or a fabric is named twice.
    """
    from ellwand.errors import InputError
    from ellwand.project.table import Table
    from ellwand.project.wording import shown

    amounts: dict[str, Fraction] = {}
    for text in texts:
        name, sign, length = (part.strip() for part in text.partition("="))
        if not sign or not name:
            raise InputError(where=where, found=f"{shown(text)} is no amount of a fabric", hint='Write "ink = 2 yd"')
        if name in amounts:
            raise InputError(where=where, found=f"{shown(name)} is there twice")
        amounts[name] = Table(where=where, values={name: length}, unit=unit).length(name)
    return amounts
