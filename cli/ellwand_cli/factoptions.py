"""Options that tell the facts of a fabric or a cloth, under the names that they have in a spreadsheet too."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

import click

__all__ = ["cloth_facts_told", "fabric_facts_told", "told_facts"]

Command = TypeVar("Command", bound=Callable[..., Any])

_FABRIC = {
    "--width": "Selvage to selvage as you measure it, before washing.",
    "--selvage": "Lost at each edge.  [default: 1/2 in; in cm 1 cm]",
    "--fibre": "What it is made of.",
    "--colours": "Words to find it by: dark blue.",
    "--way": "any, one-way or stripe.  [default: any]",
    "--repeat-across": "After how much its print begins again across the width.",
    "--repeat-along": "After how much its print begins again along the selvage.",
    "--shrinks-lengthwise": "Share of its length lost in washing: 3 %.",
    "--shrinks-crosswise": "Share of its width lost in washing: 2 %.",
    "--price": "What a yard or metre costs.",
    "--price-per": "yd or m.  [default: yd; in cm m]",
    "--sold-by": "The shop's step.  [default: 1/8 yd; in cm 10 cm]",
    "--picture": "Path of a picture.",
}
_CLOTH = {
    "--length": "Along the selvage: 2 1/4 yd.",
    "--width": "From side to side: of a fat quarter 21 in.  [default: the fabric's, of a length of it]",
    "--kind": "length, rectangle or odd.  [default: odd with an outline, rectangle with a width, else length]",
    "--outline": "Corners of an odd shape, across x along, in their order round the edge: 0 x 0; 20 x 0; 20 x 15 in.",
    "--count": "How many there are alike.  [default: 1]",
    "--lot": "Dye lot.",
    "--selvages": "Edges that are selvage: both, left, right or none.  [default: both of a length, else none]",
    "--place": "Where it is kept.",
    "--since": "Since when you have it: 2026-03-01.",
    "--note": "Whatever else there is to say.",
}
_NAMES = {"--width": "fabric width", "--rename": "fabric"}  # of a fabric's options, where the fact is called otherwise


def fabric_facts_told(command: Command) -> Command:
    """Let a command be told the facts of a fabric."""
    return _with(command, [_option(option, _NAMES.get(option), text) for option, text in _FABRIC.items()])


def cloth_facts_told(command: Command) -> Command:
    """Let a command be told the facts of a cloth."""
    return _with(
        command,
        [
            *(_option(option, None, text) for option, text in _CLOTH.items()),
            click.option(
                "--flaw",
                "flaws",
                multiple=True,
                help="Hole or stain: two corners of a box, 3 x 5; 5 x 6 in, or all its corners. As often as you like.",
            ),
            click.option(
                "--washed/--unwashed", default=None, help="Whether you washed it.  [default: unwashed, of a length]"
            ),
            click.option(
                "--selvages-cut-off/--selvages-on",
                default=None,
                help="Whether its width is without the selvages.  [default: they are on]",
            ),
        ],
    )


def told_facts(told: Mapping[str, object]) -> dict[str, str]:
    """What was told, by the facts' names; a fact told as "" is to be none."""
    return {name.replace("_", " "): _text(value) for name, value in told.items() if value not in (None, ())}


def _option(option: str, name: str | None, text: str) -> Callable[[Command], Command]:
    variable = (name or option.removeprefix("--")).replace(" ", "_").replace("-", "_")
    return click.option(option, variable, help=text)


def _with(command: Command, options: Sequence[Callable[[Command], Command]]) -> Command:
    for option in reversed(options):
        command = option(command)
    return command


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return " | ".join(filter(None, value)) if isinstance(value, tuple) else str(value)
