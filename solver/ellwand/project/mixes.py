"""Mixes: a ``[fabric.NAME]`` that stands for several fabrics of the file, any of which its pieces may come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from ellwand.errors import InputError
from ellwand.project.table import Table
from ellwand.project.tables import BlockPiece, Fabric, Grain, Patch, Project, Way
from ellwand.project.wording import shown

__all__ = ["check_mixes", "is_mix", "read_mix", "require_no_mix"]

_EXAMPLE = 'Write at least two fabrics of the file: any_of = ["ink", "navy"]'
_MOST = 12


def is_mix(table: Table) -> bool:
    """Whether the table of a fabric makes it a mix."""
    return table.has("any_of")


def read_mix(name: str, table: Table, real: Mapping[str, Fabric]) -> Fabric:
    """Read a mix of `real` fabrics; until it is settled what is cut of which, it stands as the widest of them."""
    for key in table.values:
        if key not in ("any_of", "is", "whole_blocks"):
            hint = "A mix has no cloth of its own: say it of the fabrics that it names"
            raise table.error(key, '"any_of" makes this a mix of other fabrics', hint=hint)
    names = _names(table, real)
    members = [real[member] for member in names]
    widest = max(members, key=lambda fabric: fabric.between_selvages)
    return replace(
        widest,
        id=name,
        note=table.text("is", ""),
        way=Way.ANY if any(fabric.way is Way.ANY for fabric in members) else widest.way,
        price=None,
        on_hand=(),
        ledger="",
        spare=Fraction(0),
        keep_back=None,
        buy=any(fabric.buy for fabric in members),
        repeat=None,
        same_cloth=False,
        any_of=names,
        whole_blocks=table.flag("whole_blocks", default=False),
    )


def _names(table: Table, real: Mapping[str, Fabric]) -> tuple[str, ...]:
    values = table.values["any_of"]
    if not isinstance(values, list) or len(values) < 2:
        found = "one fabric alone is no mix" if values else "it names no fabric"
        found = found if isinstance(values, list) else f"{shown(values)} is no list"
        raise table.error("any_of", found, hint=_EXAMPLE)
    if len(values) > _MOST:
        raise table.error("any_of", f"{len(values)} fabrics are too many", f"At most {_MOST}")
    names = tuple(replace(table, values={"any_of": value}).known("any_of", real, "fabric") for value in values)
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise table.error("any_of", f'"{twice}" stands there twice', hint="Name each once")
    if len({real[name].woven for name in names}) > 1:
        raise table.error("any_of", "some of these have a grain, and some have none", hint="Mix like with like")
    return names


def check_mixes(project: Project) -> None:
    """See that no piece of a mix asks to lie sideways on a print with a way.

    Raises
    ------
    InputError
        With the place of the first that does.
    """
    for title, name, grain in _grains(project):
        for member in project.fabrics[name].any_of if grain not in (None, Grain.LENGTHWISE) else ():
            fabric = project.fabrics[member]
            if fabric.woven and fabric.way is not Way.ANY:
                raise InputError(
                    where=f"{project.source}: {title}: grain",
                    found=f'it would let the piece lie sideways on "{member}" of "{name}", which is {fabric.way.value} '
                    "cloth",
                    hint="Leave it out, and the piece is cut as it hangs there",
                )


def _grains(project: Project) -> Iterator[tuple[str, str, Grain | None]]:
    for block in project.blocks:
        layers: tuple[BlockPiece | Patch, ...] = (*block.pieces, *block.patches)
        for piece in layers:
            yield f'block "{block.name}": piece "{piece.name}"', piece.fabric, piece.grain
    for loose in project.pieces:
        yield f'piece "{loose.name}"', loose.fabric, loose.grain


def require_no_mix(project: Project, question: str) -> None:
    """See that `project` has no mixes, where a `question` is asked of each fabric by itself.

    Raises
    ------
    InputError
        It has one.
    """
    for fabric in project.fabrics.values():
        if fabric.any_of:
            raise InputError(
                where=f'{project.source}: fabric "{fabric.id}": any_of',
                found=f"{question} asks about each fabric by itself, and cannot while a piece may be of several",
                hint="Let ellwand plan choose, and write the fabrics that it took instead of the mix",
            )
