"""The command group, and the one place where errors become sentences and exit codes."""

from __future__ import annotations

from typing import Any

import click

from ellwand import __version__
from ellwand.errors import EllwandError, InputError
from ellwand_cli.commands.check import check
from ellwand_cli.commands.claim import claim
from ellwand_cli.commands.cloth import cloth
from ellwand_cli.commands.compare import compare
from ellwand_cli.commands.fit import fit
from ellwand_cli.commands.new import new
from ellwand_cli.commands.pieces import pieces
from ellwand_cli.commands.plan import plan
from ellwand_cli.commands.sizes import sizes
from ellwand_cli.failures import error_document

__all__ = ["app"]

_INTERRUPTED = 130


class _Boundary(click.Group):
    """A group that answers every error a user can cause with a sentence."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; a bug keeps its traceback."""
        as_json = "--json" in ctx.args  # what follows the command's name; also where click cannot read it
        try:
            return super().invoke(ctx)
        except EllwandError as error:
            click.echo(f"Error: {error}", err=True)
            _document(error, as_json=as_json)
            ctx.exit(error.exit_code)
        except click.UsageError as error:
            where = error.ctx.command_path if error.ctx else ctx.command_path
            _document(InputError(where=where, found=error.format_message()), as_json=as_json)
            raise
        except KeyboardInterrupt:
            click.echo("Stopped.", err=True)
            ctx.exit(_INTERRUPTED)


def _document(error: EllwandError, *, as_json: bool) -> None:
    """Print `error` as JSON, if that is wanted."""
    if as_json:
        from ellwand.record import dumps

        click.echo(dumps(error_document(error)), nl=False)


@click.group(cls=_Boundary, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="ellwand")
def app() -> None:
    """Quilt pieces out of the cloth you own, and what more to buy.

    Write a project file (start with `ellwand new quilt.toml`), then plan it.

    Example: ellwand plan quilt.toml --out plan
    """


for command in (new, pieces, plan, compare, fit, claim, sizes, cloth, check):
    app.add_command(command)
