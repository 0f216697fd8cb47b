"""What the tests of the quilt arithmetic share: projects from short texts, and their pieces."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from ellwand.model import Construction, Quilt
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out

_START = """
[project]
name = "Trial"
{basics}
"""
_CENTRE = """
[quilt]
across = 1
down = 1
[[block]]
name = "centre"
finished = {finished}
"""
_FABRIC = """
[fabric.oat]
width = {usable}
selvage = 0
{keys}
"""


@pytest.fixture(scope="session")
def of_pieces() -> Callable[..., Quilt]:
    """A project of loose pieces, or any tables, worked out."""

    def make(tables: str, *, basics: str = "", usable: str = "42", keys: str = "") -> Quilt:
        text = _START.format(basics=basics) + tables + _FABRIC.format(usable=usable, keys=keys)
        return work_out(parse_project(text, "trial.toml"))

    return make


@pytest.fixture(scope="session")
def of_centre(of_pieces: Callable[..., Quilt]) -> Callable[..., Quilt]:
    """A quilt whose sewn centre is one block of the size given, with the tables round it, worked out."""

    def make(finished: str, tables: str, *, basics: str = "", usable: str = "42", keys: str = "") -> Quilt:
        return of_pieces(_CENTRE.format(finished=finished) + tables, basics=basics, usable=usable, keys=keys)

    return make


@pytest.fixture(scope="session")
def cut_sizes() -> Callable[..., dict[str, tuple[str, str, int]]]:
    """Across, along (as text) and count of every piece of a construction, or of a quilt as it stands."""

    def make(holder: Quilt | Construction) -> dict[str, tuple[str, str, int]]:
        pieces = (
            holder.pieces if isinstance(holder, Construction) else [p for part in holder.parts for p in part.pieces]
        )
        return {piece.id: (str(piece.across), str(piece.along), piece.count) for piece in pieces}

    return make
