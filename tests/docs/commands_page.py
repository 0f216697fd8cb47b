"""Writes docs/commands.md from the commands' own help: run this file after changing a command."""

from __future__ import annotations

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
    contexts = [click.Context(command, whole, name) for name, command in sorted(app.commands.items())]
    return "\n".join([_HEAD, *(_block(context) for context in (whole, *contexts))])


def _block(context: click.Context) -> str:
    return f"## {context.command_path}\n\n```text\n{context.get_help()}\n```\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
