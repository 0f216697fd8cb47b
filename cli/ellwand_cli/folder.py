"""A folder of files, written whole or not at all; nothing but an earlier one of its kind is ever replaced."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from ellwand.errors import InputError

__all__ = ["TRUE_SIZE", "require_free", "safe_names", "write_folder"]

TRUE_SIZE = "true-size"  # the one folder in a plan's folder
_OURS = {  # by the file that marks its folder
    "plan.json": {
        "plan.json",
        "report.txt",
        "report.html",
        "pieces.txt",
        "materials.txt",
        "cut-list.txt",
        "cutting-sheets.pdf",
    },
    "materials.json": {"materials.json", "materials.txt", "materials.md", "materials.csv", "materials.pdf"},
    "claims.json": {"claims.json"},
}
_KINDS = {"plan.json": "a plan", "materials.json": "a materials table", "claims.json": "a claim's answer"}
_MANAGERS = {".DS_Store", "Thumbs.db"}  # what file managers leave behind
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


def require_free(folder: Path, mark: str = "plan.json") -> None:
    """See that `folder` is not there yet, or holds nothing but what the same command wrote earlier.

    Parameters
    ----------
    folder
        Where files are to be written.
    mark
        The file that every such folder has: of a plan, a materials table (``materials.json``) or of claims put to the
        test (``claims.json``).

    Raises
    ------
    InputError
        It is a file, or the folder that the user is in, or holds something that is no part of that.
    """
    with _told(folder):
        found = _in_the_way(folder.resolve(), mark)
    if found:
        hint = "Name another folder, so that nothing of yours is replaced"
        raise InputError(where=str(folder), found=found, hint=hint)


def write_folder(folder: Path, files: Mapping[str, bytes], mark: str = "plan.json") -> None:
    """Write `files`, `mark` among them, into `folder`: first beside it, then renamed into place.

    Raises
    ------
    InputError
        `folder` is not free, or it cannot be written.
    """
    require_free(folder, mark)
    with _told(folder):
        place = folder.resolve()
        place.parent.mkdir(parents=True, exist_ok=True)
        with TemporaryDirectory(prefix=".ellwand-", dir=place.parent) as room:
            fresh = Path(room, "fresh")
            fresh.mkdir()
            for name, content in files.items():
                (fresh / name).parent.mkdir(exist_ok=True)
                (fresh / name).write_bytes(content)
            if place.exists():
                place.rename(Path(room, "earlier"))
            fresh.rename(place)


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    """What the system complains of, as a sentence about `folder`."""
    try:
        yield
    except OSError as error:
        raise InputError(where=str(folder), found=f"cannot be written: {error.strerror}") from error


def _in_the_way(place: Path, mark: str) -> str:
    """Why `place` cannot be replaced, or nothing."""
    if not place.exists():
        nearest = next(parent for parent in place.parents if parent.exists())
        return "" if nearest.is_dir() else f'lies in "{nearest.name}", which is a file'
    if not place.is_dir():
        return "is a file"
    if Path.cwd().is_relative_to(place):
        return "is the folder that you are in"
    foreign = _foreign({name for path in place.iterdir() for name in _names(path)}, mark)
    return f'holds "{foreign[0]}", which is no part of {_KINDS[mark]}' if foreign else ""


def _names(path: Path) -> Iterator[str]:
    """The name of what lies in a folder; of the folder of true sizes, the names of all that it holds."""
    if path.name == TRUE_SIZE and path.is_dir() and not path.is_symlink():
        yield from (f"{TRUE_SIZE}/{inner.name}{'' if inner.is_file() else '/'}" for inner in path.iterdir())
    else:
        yield path.name if path.is_file() else f"{path.name}/"


def _foreign(names: set[str], mark: str) -> list[str]:
    """Those of `names` that the folder of `mark` cannot have.

    A plan's drawings come in pairs, SVG and PNG, those of true size SVG and DXF.
    """
    if mark not in names:
        return sorted(names)
    twins = {name: "dxf" if name.startswith(f"{TRUE_SIZE}/") else "png" for name in names if name.endswith(".svg")}
    pairs = [{name, f"{name[:-4]}.{twin}"} for name, twin in twins.items()]
    return sorted(names.difference(_OURS[mark], _MANAGERS, *(pair for pair in pairs if pair <= names)))
