"""``ellwand cloth fabric``, ``add``, ``edit`` and ``remove``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.factoptions import cloth_facts_told, fabric_facts_told, told_facts
from ellwand_cli.options import as_json, ledger, unit

__all__ = ["add", "edit", "fabric", "remove"]


@click.command()
@click.argument("name")
@fabric_facts_told
@click.option("--rename", "fabric", help="Another name for it; its cloths stay with it.")
@click.option("--remove", "gone", is_flag=True, help="Take it out; only where there is no cloth of it.")
@ledger
@unit
@as_json
def fabric(name: str, gone: bool, ledger: Path | None, unit: str, as_json: bool, **told: object) -> None:
    """Enter a fabric, or change what the ledger says of it.

    Without an option it is shown. A fact given as "" is taken out.

    Example: ellwand cloth fabric ink --width "43 in" --colours "dark blue" --price 12.50
    """
    from ellwand_cli.keeping import enter_fabric, remove_fabric

    facts = told_facts(told)
    if gone and facts:
        raise click.UsageError("--remove takes the fabric out: leave it or the other options out.")
    if gone:
        remove_fabric(name, ledger, as_json=as_json)
    else:
        enter_fabric(name, facts, ledger, unit, as_json=as_json)


@click.command()
@click.argument("fabric")
@cloth_facts_told
@ledger
@unit
@as_json
def add(fabric: str, ledger: Path | None, unit: str, as_json: bool, **told: object) -> None:
    """Add a cloth of a fabric, and say which id to pin on it.

    Example: ellwand cloth add ink --length "2 1/4 yd" --lot 7 --place "blue box"
    """
    from ellwand_cli.keeping import add_cloth

    add_cloth(fabric, told_facts(told), ledger, unit, as_json=as_json)


@click.command()
@click.argument("id")
@click.option("--fabric", help="The fabric that it is of.")
@cloth_facts_told
@ledger
@unit
@as_json
def edit(id: str, ledger: Path | None, unit: str, as_json: bool, **told: object) -> None:
    """Change what the ledger says of a cloth.

    A fact given as "" is taken out. Flaws that are given stand in the place of all that were.

    Example: ellwand cloth edit K7 --length "28 in" --note "measured again"
    """
    from ellwand_cli.keeping import edit_cloth

    facts = told_facts(told)
    if not facts:
        raise click.UsageError("Say what is to be changed: --length, --place, --washed … (see --help).")
    edit_cloth(id, facts, ledger, unit, as_json=as_json)


@click.command()
@click.argument("id")
@ledger
@as_json
def remove(id: str, ledger: Path | None, as_json: bool) -> None:
    """Take a cloth out of the ledger, however many there are alike.

    Example: ellwand cloth remove K7
    """
    from ellwand_cli.keeping import remove_cloth

    remove_cloth(id, ledger, as_json=as_json)
