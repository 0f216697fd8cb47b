"""Options that several commands share, one decorator each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from fractions import Fraction

    from ellwand.packing.problem import Effort
    from ellwand.project.tables import Project
    from ellwand.slack import Slack
    from ellwand_cli.views.paper import Paper

__all__ = [
    "as_json", "as_new", "chosen_effort", "chosen_paper", "chosen_size", "effort", "ledger", "paper", "project_file",
    "read_amounts", "read_slack", "seconds", "seed", "size", "slack", "unit",
    "what_if", "workers",
]  # fmt: skip

project_file = click.argument("file", type=click.Path(path_type=Path))

as_json = click.option("--json", "as_json", is_flag=True, help="Print one JSON document instead of text.")

as_new = click.option("--as-new", is_flag=True, help="Leave the cloth on hand out, as a printed pattern must.")

ledger = click.option(
    "--ledger",
    type=click.Path(path_type=Path),
    help="File of the ledger of your cloth.  [default: in your data directory]",
)

unit = click.option(
    "--unit",
    type=click.Choice(["in", "cm"]),
    default="in",
    show_default=True,
    help="Unit of bare numbers, and of what is shown.",
)

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


paper = click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    help="What the PDF is printed on.  [default: letter in inch projects, a4 in cm projects]",
)

size = click.option("--size", help="One of the file's sizes, by its name; without it, the design as it stands.")

slack = click.option(
    "--slack",
    help="Cloth left to spare of every fabric with a grain: so much across, twice as much along; or both, as in "
    '"1/4 in, 1 in"; 0 for none.  [default: 1/4 in, 1/2 in; in cm projects 7 mm, 14 mm]',
)


def chosen_effort(effort: str | None, seconds: float | None) -> Effort:
    """The effort that was asked for; a clock alone may use all its time."""
    from ellwand.packing.problem import Effort

    if effort is not None:
        return Effort(effort)
    return Effort.CAREFUL if seconds is None else Effort.PROOF


def chosen_paper(name: str | None, out: Path | None) -> Paper | None:
    """The paper of that name; None, the usual one of the project's unit, where none is asked for.

    Raises
    ------
    UsageError
        One is asked for, and nothing is to be printed.
    """
    from ellwand_cli.views.paper import Paper

    if name is None:
        return None
    if out is None:
        raise click.UsageError("--paper needs --out DIR, the folder to write into.")
    return Paper[name.upper()]


def chosen_size(project: Project, name: str | None) -> Project:
    """The size of `project` that is called `name`, headed with both names; itself where none is asked for.

    Raises
    ------
    InputError
        It has none of that name.
    """
    from ellwand.errors import InputError
    from ellwand.project.wording import meant, plain

    if name is None:
        return project
    found = [size for size in project.sizes if _typed(size.size) == _typed(name)]
    if not found:
        hint = meant(name, [size.size for size in project.sizes]) if project.sizes else ""
        raise InputError(where=project.source, found=f'has no [[size]] "{plain(name)}"', hint=hint)
    chosen = next((size for size in found if size.size == name), found[0])
    return replace(chosen, name=f"{project.name}, {chosen.size}")


def _typed(name: str) -> str:
    """A size's name as it may be typed: 8x8 for 8 × 8."""
    return name.replace("×", "x").replace(" ", "").casefold()


def read_slack(text: str | None, command: str, unit: str) -> Slack:
    """The slack that was asked for: two lengths, across and along, or one, with twice that along; else the usual.

    Raises
    ------
    InputError
        It is none.
    """
    from ellwand.errors import InputError
    from ellwand.project.table import Table
    from ellwand.slack import Slack, slack_of, usual_slack

    if text is None:
        return usual_slack(unit)
    parts = text.split(",")
    if len(parts) > 2:
        wanted = 'Write two lengths, across and along: "1/4 in, 1/2 in"'
        raise InputError(where=f"{command}: --slack", found="there are more than two lengths", wanted=wanted)
    table = Table(where=command, values={"--slack": parts[0], "--slack along": parts[-1]}, unit=unit)
    across, along = (table.length(key, zero=True) for key in ("--slack", "--slack along"))
    return slack_of(across) if len(parts) == 1 else Slack(across=across, along=along)


def read_amounts(project: Project, texts: Sequence[str], where: str) -> dict[str, Fraction]:
    """Lengths of cloth by fabric, each written ``ink = 2 yd``.

    Raises
    ------
    InputError
        One is no such thing, or a fabric is named twice.
    """
    from ellwand.errors import InputError
    from ellwand.project.supposing import named_length
    from ellwand.project.wording import shown

    amounts: dict[str, Fraction] = {}
    for text in texts:
        name, length = named_length(project, text, where)
        if name in amounts:
            raise InputError(where=where, found=f"{shown(name)} is there twice")
        amounts[name] = length
    return amounts
