"""A project file of which one value varies, everything else as it stands there.

The changed file is read like any other, so that a value which makes no sense is refused in the same words.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from ellwand.errors import InputError
from ellwand.lengths import decimal_of, round_down, unit_length
from ellwand.project.read import project_of
from ellwand.project.table import Table
from ellwand.project.tables import Project, Shelf
from ellwand.project.toml import load, read_bytes
from ellwand.project.wording import plain, printable

__all__ = ["Varied", "border_key", "parse_varied", "read_varied", "spelt_key", "together"]

Key = tuple[str, ...]
Spot = tuple[str | int, ...]  # keys, and numbers in lists
_COUNTS = (
    "across", "copies", "count", "down", "hoopings", "joins", "layers", "square_up_ends", "stages", "yields",
)  # fmt: skip
_NUMBERS = (*_COUNTS, "price")
_EXAMPLES = 'Write it as in the file, such as sashing.width, quilt.down or border."NAME".width'


@dataclass(frozen=True, slots=True, kw_only=True)
class Varied:
    """A project whose value at some `spots` varies.

    Parameters
    ----------
    title
        What varies, in the user's words.
    values, base
        The file's tables, and the project that they make as they stand.
    spots
        Where the value stands, each with its share of it (1, but where several borders keep their ratio).
    plain
        Whether it is a plain number, not a length.
    shelf
        The fabrics of a ledger, as it was when the first of them was looked up.
    """

    title: str
    values: Mapping[str, object]
    base: Project
    spots: tuple[tuple[Spot, Fraction], ...]
    plain: bool
    shelf: Shelf | None = None

    @property
    def mark(self) -> Fraction:
        """The finest step that is told apart: a mark of the ruler, or 1."""
        return Fraction(1) if self.plain else self.base.ruler

    @property
    def border(self) -> str | None:
        """The border whose width it is, if it is one's."""
        (spot, _), *_ = self.spots
        if spot[0] != "border" or spot[2:] != ("width",):
            return None
        return self.base.borders[int(spot[1])].name

    def at(self, value: Fraction) -> Project:
        """The project with that value: inches, or a plain number.

        Raises
        ------
        InputError
            It makes no sense there, or something that hangs on it does not then.
        """
        values = dict(self.values)
        for spot, share in self.spots:
            part = value if share == 1 else max(self.mark, round_down(value * share, self.mark))
            values = _changed(values, spot, part if self.plain else part / unit_length(self.base.unit))
        if self.spots[0][0][0] == "quilt" and "block" in values:
            values["block"] = _filling(self.base, values)
        return project_of(values, self.base.source, self.shelf)

    def read(self, table: Table, option: str) -> Fraction:
        """The value that a `table` of options gives for `option`.

        Raises
        ------
        InputError
            It is no length, or no number, of any sense.
        """
        if not self.plain:
            return table.length(option, zero=option != "--step")
        text = str(table.values[option]).strip().replace(",", ".")
        try:
            number = Fraction(text) if len(text) <= 30 and "e" not in text.lower() else Fraction(0)
        except (ValueError, ZeroDivisionError):
            number = Fraction(0)
        if number <= 0 or number > 10**6:
            raise table.error(
                option, f'"{plain(printable(text))}" cannot be used here', "Write a plain number such as 4"
            )
        return number

    def show(self, value: Fraction) -> str:
        """The value in words."""
        return str(decimal_of(value)) if self.plain else self.base.notation.show(value)


def border_key(name: str) -> Key:
    """The key of a border's finished width."""
    return ("border", name, "width")


def spelt_key(text: str) -> Key:
    """A key as it is written on the command line: table, name and key with dots between, as in the file.

    Raises
    ------
    InputError
        It is no key.

    Examples
    --------
    >>> spelt_key('fabric."dark ink".width')
    ('fabric', 'dark ink', 'width')
    """
    try:
        found: object = tomllib.loads(f"{text} = 0")
    except tomllib.TOMLDecodeError:
        found = {}
    key: list[str] = []
    while isinstance(found, dict) and len(found) == 1:
        ((name, found),) = found.items()
        key.append(name)
    if found != 0 or len(key) < 2:
        raise InputError(where="--vary", found=f'"{plain(printable(text))}" names no value', wanted=_EXAMPLES)
    return tuple(key)


def read_varied(path: Path, key: Key, shelf: Shelf | None = None) -> Varied:
    """The project file at `path`, of which the value at `key` varies; `shelf` as in :func:`read_project`.

    Raises
    ------
    InputError
        Something in it is wrong, or it has no such value.
    """
    return parse_varied(read_bytes(path), printable(path.name), key, shelf)


def parse_varied(text: str | bytes, source: str, key: Key, shelf: Shelf | None = None) -> Varied:
    """The same from the text of the file.

    Raises
    ------
    InputError
        Something in it is wrong, or it has no such value.
    """
    values = load(text, source)
    base = project_of(values, source, shelf)
    if key[0] == "size":
        raise InputError(where=source, found="sizes do not vary: only the design as it stands does", wanted=_EXAMPLES)
    values = {name: table for name, table in values.items() if name != "size"}
    spot = _spot(values, source, key)
    _require_single(values, source, spot, key)
    title = f"border {key[1]}" if key[::2] == ("border", "width") else ".".join(key)
    return Varied(
        title=title,
        values=values,
        base=base,
        spots=((spot, Fraction(1)),),
        plain=key[-1] in _NUMBERS,
        shelf=shelf,
    )


def together(varied: Varied) -> Varied:
    """The same with every border's width, all in the ratio that they have in the file, down to the ruler."""
    widths = [border.width for border in varied.base.borders]
    ((spot, _),) = varied.spots
    leader = int(spot[1])
    spots = tuple((("border", number, "width"), width / widths[leader]) for number, width in enumerate(widths))
    names = " and ".join(border.name for border in varied.base.borders)
    first, *rest = sorted(spots, key=lambda pair: pair[0][1] != leader)
    return replace(varied, title=f"borders {names}", spots=(first, *rest))


def _spot(values: Mapping[str, object], source: str, key: Key) -> Spot:
    """Where the value of `key` stands: lists of tables are entered by name."""
    here: object = values
    spot: list[str | int] = []
    for depth, name in enumerate(key[:-1]):
        if isinstance(here, dict) and name in here:
            spot.append(name)
            here = here[name]
            continue
        entries = here if isinstance(here, list) else []
        found = [number for number, entry in enumerate(entries) if entry.get("name") == name]
        if not found:
            raise _missing(source, key, depth, here)
        spot.append(found[0])
        here = entries[found[0]]
    if not isinstance(here, dict):
        names = ", ".join(f'"{name}"' for name in _names(here)) or "a name"
        raise InputError(
            where=f"{source}: {'.'.join(key[:-1])}", found="there are several", wanted=f"Name one: {names}"
        )
    return (*spot, key[-1])


def _missing(source: str, key: Key, depth: int, here: object) -> InputError:
    if depth == 0 and len(key) > 2:  # tables that have names
        depth, here = 1, []
    kind, name = ".".join(key[:depth]), key[depth]
    if depth == 0:
        return InputError(where=source, found=f'has no "{plain(name)}" that could vary', wanted=_EXAMPLES)
    known = ", ".join(f'"{entry}"' for entry in _names(here)) or "none"
    return InputError(where=source, found=f'has no {kind} "{plain(name)}"', wanted=f"It has: {known}")


def _names(here: object) -> list[str]:
    if isinstance(here, list):
        return [str(entry.get("name", "")) for entry in here if isinstance(entry, dict)]
    return list(here) if isinstance(here, dict) else []


def _require_single(values: Mapping[str, object], source: str, spot: Spot, key: Key) -> None:
    """See that what varies is one value: a pair, a word or a table is none."""
    here: object = values
    for name in spot:
        here = here.get(name) if isinstance(here, dict) and isinstance(name, str) else here[name]  # type: ignore[index]
    if isinstance(here, dict | list | bool):
        where = f"{source}: {'.'.join(key)}"
        raise InputError(where=where, found="is no single length or number, and cannot vary", wanted=_EXAMPLES)


def _changed(values: Mapping[str, object], spot: Spot, value: object) -> dict[str, object]:
    """A copy of the tables with `value` at `spot`."""
    (name, *rest) = spot
    assert isinstance(name, str)
    return {**values, name: _with(values.get(name), tuple(rest), value) if rest else value}


def _with(here: object, spot: Spot, value: object) -> object:
    if not spot:
        return value
    if isinstance(here, list):
        return [_with(entry, spot[1:], value) if number == spot[0] else entry for number, entry in enumerate(here)]
    assert isinstance(here, dict)
    return _changed(here, spot, value)


def _filling(base: Project, values: Mapping[str, object]) -> Sequence[object]:
    """The blocks, their counts in the ratio they had, so that they fill the setting; as they were where that fails."""
    quilt, blocks = values["quilt"], values["block"]
    assert isinstance(quilt, dict)
    assert isinstance(blocks, list)
    assert base.setting is not None
    setting = base.setting
    across, down = (quilt.get(name, 1) for name in ("across", "down"))
    wanted = across * down + ((across - 1) * (down - 1) if setting.on_point else 0)
    counts = [block.count * Fraction(wanted) / setting.blocks for block in base.blocks]
    if any(count.denominator != 1 or count < 1 for count in counts):
        return blocks
    return [{**entry, "count": int(count)} for entry, count in zip(blocks, counts, strict=True)]
