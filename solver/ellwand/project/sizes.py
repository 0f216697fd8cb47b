"""One design in several sizes: what each ``[[size]]`` changes, laid over the tables of the file.

What comes out are the tables of a whole project, read and checked as any other: one meaning, one set of messages.
The file without its sizes has been read before, so that its own tables are known to be sound.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ellwand.errors import InputError
from ellwand.project.table import Table
from ellwand.project.wording import meant, plain

__all__ = ["check_sizes", "tables_of_size"]

_ONCE = ("quilt", "sashing", "stabiliser", "binding", "backing", "batting", "sleeve")
_NAMED = ("block", "piece", "border")
_HOOP = ("hoop", "frame")
_MOST = 100
_OF_ONE_QUILT = "measured"  # the centre as it was sewn; that of another size is another

Values = Mapping[str, Any]  # TOML: its values are of many kinds


def check_sizes(source: str, sizes: Sequence[Table]) -> None:
    """See that there are not too many, and every ``[[size]]`` has a name of its own and no key that none has.

    Raises
    ------
    InputError
        Told with the size and its key.
    """
    if len(sizes) > _MOST:
        raise InputError(where=source, found=f"{len(sizes)} sizes are too many", wanted=f"At most {_MOST}")
    names: list[str] = []
    for size in sizes:
        size.only("name", *_HOOP, "finished", *_ONCE, *_NAMED)
        name = size.text("name")
        if name in names:
            raise size.error("name", "another size has this name", "Give it another")
        names.append(name)


def tables_of_size(top: Table, size: Table) -> Table:
    """The file's tables `top` as `size` has them, titled with the size.

    Raises
    ------
    InputError
        The size changes something that the file has not, or a hoop without its frame.
    """
    values: dict[str, Any] = {key: value for key, value in top.values.items() if key not in ("size", "quilt")}
    values |= _quilt(top)
    for key in _ONCE:
        change = size.table(key)
        if change is not None:
            values[key] = {**values.get(key, {}), **change.values}
    blocks: list[Values] = values.get("block", [])
    hooped = [block for block in blocks if any(key in block for key in _HOOP)]
    _check_reach(size, blocks, hooped)
    values |= {"block": [{**block, **_shared(size, block in hooped)} for block in blocks]} if blocks else {}
    values |= {key: _changed(key, values.get(key, []), size) for key in _NAMED if size.has(key)}
    for old, new in zip(blocks, values.get("block", []), strict=True):
        _check_frame(size, old, new)
    return Table(where=size.where, values=values, unit=top.unit)


def _quilt(top: Table) -> Values:
    quilt = top.table("quilt")
    if quilt is None:
        return {}
    return {"quilt": {key: value for key, value in quilt.values.items() if key != _OF_ONE_QUILT}}


def _changed(kind: str, entries: Sequence[Values], inside: Table) -> list[Values]:
    """`entries`, each with what the tables ``[[kind]]`` of `inside` say of it by its name."""
    changes: dict[str, Table] = {}
    names = [entry["name"] for entry in entries]
    for change in inside.tables(kind):
        name = change.text("name")
        if name not in names:
            raise change.error("name", f'the file has no {kind} "{plain(name)}"', hint=meant(name, names))
        if name in changes:
            raise change.error("name", f"this {kind} is changed twice", "Put both in one table")
        changes[name] = change
    return [_entry(entry, changes[entry["name"]]) if entry["name"] in changes else entry for entry in entries]


def _entry(entry: Values, change: Table) -> Values:
    inner = {"piece": _changed("piece", entry.get("piece", []), change)} if change.has("piece") else {}
    return {**entry, **change.values, **inner}


def _check_reach(size: Table, blocks: Sequence[Values], hooped: Sequence[Values]) -> None:
    """What a size says of all blocks must be of some."""
    if size.has("finished") and not blocks:
        raise size.error("finished", "the file has no block", hint="Leave it out")
    for key in _HOOP:
        if size.has(key) and not hooped:
            hint = "Give hoop and frame to the block that is stitched, in its [[block]]"
            raise size.error(key, "no block of the file is stitched in a hoop", hint=hint)


def _shared(size: Table, hooped: bool) -> Values:
    """What `size` says of all its blocks: the finished size, and hoop and frame of those that are stitched in one."""
    keys = (*_HOOP, "finished") if hooped else ("finished",)
    return {key: size.values[key] for key in keys if size.has(key)}


def _check_frame(size: Table, old: Values, new: Values) -> None:
    """A hoop has a frame of its own; that of the file's hoop would cut too small a sheet, or too large a one."""
    inherited = "frame" in old and new["frame"] is old["frame"]  # not only alike: nothing else was written
    if inherited and new.get("hoop") != old.get("hoop"):
        found = f'"frame" is missing: block "{old["name"]}" has that of another hoop'
        hint = 'Write the outside of this hoop: frame = ["260 mm", "260 mm"]'
        raise size.error("hoop", found, hint=hint)
