"""``ellwand cloth``: the ledger of the cloth you own."""

from __future__ import annotations

import click

from ellwand_cli.commands.cloth.entering import add, edit, fabric, remove
from ellwand_cli.commands.cloth.looking import check, fabrics, history, list_, show
from ellwand_cli.commands.cloth.moving import export, import_
from ellwand_cli.commands.cloth.using import spoil, undo, use

__all__ = ["cloth"]


@click.group()
def cloth() -> None:
    """Keep the ledger of the cloth you own.

    Enter fabrics and cloths, find them, take out what a plan cuts, put its offcuts back. All of it can be undone.

    Example: ellwand cloth list --colour blue --at-least "10 x 18 in"
    """


for command in (fabric, fabrics, add, list_, show, edit, remove, import_, export, use, spoil, undo, history, check):
    cloth.add_command(command)
