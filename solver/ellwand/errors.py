"""What can go wrong, told so that the reader knows what to type next.

An error keeps facts and words itself only when it is shown.
The command line turns any :class:`EllwandError` into one sentence and an exit code; everything else is a bug.
"""

from __future__ import annotations

__all__ = ["EllwandError", "InputError", "NoPlanError"]


class EllwandError(Exception):
    """Root of every error that a user can cause.

    Parameters
    ----------
    where
        The place: file, table and key, or the piece and the cloth.
    found
        What stands there, in the user's words.
    wanted
        What would be right.
    hint
        What to type or do next.
    """

    exit_code = 2

    def __init__(self, *, where: str, found: str, wanted: str = "", hint: str = "") -> None:
        super().__init__(where, found, wanted, hint)
        self.where = where
        self.found = found
        self.wanted = wanted
        self.hint = hint

    def __str__(self) -> str:
        start = f"{self.where}: {self.found}" if self.where else self.found
        parts = [start, *(text for text in (self.wanted, self.hint) if text)]
        return " ".join(part if part.endswith((".", "!", "?")) else part + "." for part in parts)


class InputError(EllwandError):
    """The input is wrong: a project file, a plan file, a value on the command line. Exit code 2."""

    exit_code = 2


class NoPlanError(EllwandError):
    """The job cannot be done with this cloth, or no way was found. Exit code 1."""

    exit_code = 1
