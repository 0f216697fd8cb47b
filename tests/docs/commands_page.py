"""Writes docs/commands.md from the commands' own help: run this file after changing a command."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from ellwand_cli.app import app

PAGE = Path(__file__).parents[2] / "docs" / "commands.md"
_HEAD = """# Commands

Written from the commands' own help; do not edit by hand.

Answers go to standard output, progress and warnings to standard error.
Exit code 0: done. 1: the job cannot be done with this cloth, or a plan was judged unsound. 2: the input is wrong.
130: stopped with Ctrl-C before there was an answer.
"""


def page() -> str:
    """The whole page."""
    whole = app.make_context("ellwand", [], resilient_parsing=True, terminal_width=88, max_content_width=88)
    return "\n".join([_HEAD, *(_block(context) for context in _contexts(whole))])


def _contexts(context: click.Context) -> Iterator[click.Context]:
    """A command and, of a group, all its commands by name."""
    yield context
    if isinstance(context.command, click.Group):
        for name, command in sorted(context.command.commands.items()):
            yield from _contexts(click.Context(command, context, name))


def _block(context: click.Context) -> str:
    return f"## {context.command_path}\n\n```text\n{context.get_help()}\n```\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
