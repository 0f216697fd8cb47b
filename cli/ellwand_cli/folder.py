"""A folder of files, written whole or not at all."""

from __future__ import annotations

import re
import shutil
import unicodedata
from collections.abc import Iterable, Mapping
from pathlib import Path

from ellwand.errors import InputError

__all__ = ["safe_names", "write_folder"]

_MARK = "plan.json"  # a folder with it is ours to replace
_LONGEST = 60


def safe_names(names: Iterable[str]) -> tuple[str, ...]:
    """File names for `names`, in order: plain letters, digits and hyphens, short, all different.

    Examples
    --------
    >>> safe_names(["ink 1", "../x", "Ink 1"])
    ('ink-1', 'x', 'ink-1-2')
    """
    taken: list[str] = []
    for name in names:
        plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
        stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_LONGEST] or "cloth"
        number = 1 + sum(re.fullmatch(rf"{re.escape(stem)}(-\d+)?", other) is not None for other in taken)
        candidate = stem if stem not in taken else f"{stem}-{number}"
        while candidate in taken:
            number += 1
            candidate = f"{stem}-{number}"
        taken.append(candidate)
    return tuple(taken)


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write `files` into `folder`: first beside it, then renamed into place.

    Raises
    ------
    InputError
        `folder` is a file or holds something else than an earlier plan, or it cannot be written.
    """
    if folder.exists() and not _is_ours(folder):
        raise InputError(
            where=str(folder),
            found="is there already and holds no plan",
            hint="Name another folder, so that nothing of yours is replaced",
        )
    fresh = folder.with_name(folder.name + ".new")
    old = folder.with_name(folder.name + ".old")
    try:
        _write(fresh, files)
        if folder.exists():
            folder.rename(old)
        fresh.rename(folder)
        shutil.rmtree(old, ignore_errors=True)
    except OSError as error:
        raise InputError(where=str(folder), found=f"cannot be written: {error.strerror}") from error


def _is_ours(folder: Path) -> bool:
    return folder.is_dir() and ((folder / _MARK).is_file() or not any(folder.iterdir()))


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for name, content in files.items():
        (folder / name).write_bytes(content)
