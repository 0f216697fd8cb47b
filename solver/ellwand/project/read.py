"""From a project file to a :class:`~ellwand.project.tables.Project`, checked and with defaults filled in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from ellwand.errors import InputError
from ellwand.project.basics import Basics, read_basics
from ellwand.project.blocks import read_blocks, read_pieces, read_stabiliser
from ellwand.project.checks import check
from ellwand.project.fabrics import read_fabrics
from ellwand.project.kitstable import read_kits
from ellwand.project.parts import read_backing, read_batting, read_binding, read_borders, read_sleeve
from ellwand.project.setting import read_sashing, read_setting
from ellwand.project.sizes import check_sizes, tables_of_size
from ellwand.project.table import Table
from ellwand.project.tables import Project, Shelf
from ellwand.project.toml import load, read_bytes
from ellwand.project.wording import printable

__all__ = ["parse_project", "project_of", "read_project"]

_TABLES = (
    "project", "quilt", "block", "sashing", "stabiliser", "piece", "border", "binding", "backing", "batting", "sleeve",
    "fabric", "size", "kits",
)  # fmt: skip


def read_project(path: Path, shelf: Shelf | None = None) -> Project:
    """Read the project file at `path`.

    Parameters
    ----------
    shelf
        The fabrics of a ledger; looked up only where the file draws on it.

    Raises
    ------
    InputError
        It cannot be read, or something in it is wrong; told with file, table and key.
    """
    return parse_project(read_bytes(path), printable(path.name), shelf)


def parse_project(text: str | bytes, source: str, shelf: Shelf | None = None) -> Project:
    """Read a project from the text of its file.

    Parameters
    ----------
    text
        TOML; bytes must be UTF-8.
    source
        The file's name, for messages.
    shelf
        The fabrics of a ledger; looked up only where the file draws on it.

    Raises
    ------
    InputError
        Something in it is wrong; told with file, table and key.

    Examples
    --------
    >>> bag = '''
    ... [project]
    ... name = "Bag"
    ... [[piece]]
    ... name = "pocket"
    ... fabric = "oat"
    ... cut = [8.5, 11]
    ... [fabric.oat]
    ... width = 43
    ... '''
    >>> parse_project(bag, "bag.toml").pieces[0].cut
    (Fraction(17, 2), Fraction(11, 1))
    """
    return project_of(load(text, source), source, shelf)


def project_of(values: Mapping[str, object], source: str, shelf: Shelf | None = None) -> Project:
    """The project that the tables of a file make, with what they draw on the ledger.

    Raises
    ------
    InputError
        Something in them is wrong; told with file, table and key.
    """
    top = Table(where=source, values=values, unit="in")
    top.only(*_TABLES)
    basics = _basics(top)
    top = Table(where=source, values=top.values, unit=basics.unit)
    project = _checked(top, basics, shelf)
    sizes = top.tables("size")
    check_sizes(source, sizes)
    return replace(project, sizes=tuple(_sized(top, size, basics, shelf) for size in sizes))


def _sized(top: Table, size: Table, basics: Basics, shelf: Shelf | None) -> Project:
    return replace(_checked(tables_of_size(top, size), basics, shelf), size=size.text("name"))


def _checked(top: Table, basics: Basics, shelf: Shelf | None) -> Project:
    project = _project(top, basics, shelf)
    check(project)
    return project


def _basics(top: Table) -> Basics:
    table = top.table("project")
    if table is None:
        raise InputError(where=top.where, found="there is no [project]", hint='Add it with a name: name = "My quilt"')
    return read_basics(table)


def _project(top: Table, basics: Basics, shelf: Shelf | None) -> Project:
    fabrics = read_fabrics(top.table("fabric"), basics, shelf)
    setting = read_setting(top.table("quilt"), fabrics)
    blocks = read_blocks(top.tables("block"), basics, fabrics, setting)
    return Project(
        source=top.where,
        name=basics.name,
        unit=basics.unit,
        ruler=basics.ruler,
        seam=basics.seam,
        style=basics.style,
        stages=basics.stages,
        keep=basics.keep,
        copies=basics.copies,
        kits=read_kits(top.table("kits"), basics),
        setting=setting,
        blocks=blocks,
        sashing=read_sashing(top.table("sashing"), fabrics),
        stabiliser=read_stabiliser(top.table("stabiliser"), basics, fabrics),
        pieces=read_pieces(top.tables("piece"), basics, fabrics),
        borders=read_borders(top.tables("border"), basics, fabrics, blocks),
        binding=read_binding(top.table("binding"), basics, fabrics),
        backing=read_backing(top.table("backing"), basics, fabrics),
        batting=read_batting(top.table("batting"), basics, fabrics, blocks),
        sleeve=read_sleeve(top.table("sleeve"), basics, fabrics),
        fabrics=fabrics,
    )
