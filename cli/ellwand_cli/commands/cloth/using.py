"""``ellwand cloth use``, ``spoil`` and ``undo``."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand_cli.options import as_json, ledger, unit

__all__ = ["spoil", "undo", "use"]


@click.command()
@click.argument("plan", type=click.Path(path_type=Path))
@click.option("--only", multiple=True, metavar="FABRIC", help="Only this fabric of the plan. As often as you like.")
@ledger
@unit
@as_json
def use(plan: Path, only: tuple[str, ...], ledger: Path | None, unit: str, as_json: bool) -> None:
    """Take out the cloth that a plan cuts, and put its offcuts back.

    PLAN is the folder that `ellwand plan --out` wrote, or its plan.json. The judge looks through it first.

    Example: ellwand cloth use plan --only ink
    """
    from ellwand_cli.keeping import use_plan

    use_plan(plan, only, ledger, unit, as_json=as_json)


@click.command()
@click.argument("what")
@click.option("--cloth", metavar="ID", help="An offcut or odd piece that goes with it; one, where there are more.")
@ledger
@as_json
def spoil(what: str, cloth: str | None, ledger: Path | None, as_json: bool) -> None:
    """Note that a piece was spoiled, and take out the cloth that was cut for it.

    Example: ellwand cloth spoil "inner border, cut too narrow" --cloth K7
    """
    from ellwand_cli.keeping import spoil_piece

    spoil_piece(what, cloth, ledger, as_json=as_json)


@click.command()
@ledger
@as_json
def undo(ledger: Path | None, as_json: bool) -> None:
    """Undo the last change that stands: a use, an import, whatever it was.

    Example: ellwand cloth undo
    """
    from ellwand_cli.keeping import undo_last

    undo_last(ledger, as_json=as_json)
