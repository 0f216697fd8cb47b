"""TOML files, read exactly and without harm: numbers stay fractions, whatever is no TOML gets one sentence."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path

from ellwand.errors import InputError
from ellwand.project.slips import find_slip
from ellwand.project.wording import Unreadable

__all__ = ["load", "read_bytes"]

_LARGEST_FILE = 1_000_000  # bytes; a thousand blocks with six pieces each are 600 000
_NUMBER = re.compile(r"[+-]?\d{1,30}(\.\d{1,30})?([eE][+-]?\d{1,2})?")


def read_bytes(path: Path) -> bytes:
    """What stands in the file at `path`.

    Raises
    ------
    InputError
        There is no such file, or it cannot be read, or it is much too large.
    """
    try:
        with path.open("rb") as file:
            data = file.read(_LARGEST_FILE + 1)
    except FileNotFoundError:
        raise InputError(
            where=str(path), found="there is no such file", hint=f'"ellwand new {path}" writes a starter'
        ) from None
    except IsADirectoryError:
        raise InputError(where=str(path), found="is a folder", wanted="Name a project file in it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(where=str(path), found=f"cannot be read: {reason}") from None
    return data


def load(text: str | bytes, source: str) -> dict[str, object]:
    """The tables of a TOML text.

    Decimal numbers become fractions, or :class:`~ellwand.project.wording.Unreadable` where they are out of all
    proportion, so that whoever asks for the key can complain with its name.

    Parameters
    ----------
    text
        What stands in the file.
    source
        The file's name, for messages.

    Raises
    ------
    InputError
        It is not TOML, or no plain UTF-8, or too large.
    """
    if len(text) > _LARGEST_FILE:
        raise InputError(where=source, found="is larger than 1 MB", wanted="A project file is a page or two of text")
    words = text if isinstance(text, str) else _decoded(text, source)
    if words.startswith("\ufeff"):
        raise InputError(
            where=source, found="starts with a byte order mark", hint="Save it as UTF-8 without a mark (without BOM)"
        )
    return _parsed(words, source)


def _decoded(data: bytes, source: str) -> str:
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise InputError(
            where=f"{source}: line {line}", found="is not UTF-8 text", hint='Save the file with the encoding "UTF-8"'
        ) from None


def _parsed(text: str, source: str) -> dict[str, object]:
    try:
        return tomllib.loads(text, parse_float=_exact)
    except tomllib.TOMLDecodeError as error:
        slip = find_slip(text, str(error))
        raise InputError(where=f"{source}: line {slip.line}", found=slip.found, hint=slip.hint) from None
    except RecursionError:
        raise InputError(where=source, found="has lists or tables nested too deeply") from None
    except ValueError:  # Python reads no whole number of more than 4300 digits
        raise InputError(
            where=source, found="has a whole number with thousands of digits", wanted="Write a sensible number"
        ) from None


def _exact(text: str) -> Fraction | Unreadable:
    plain = text.replace("_", "")
    return Fraction(plain) if _NUMBER.fullmatch(plain) else Unreadable(plain)
