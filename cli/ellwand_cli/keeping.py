"""What the commands of ``ellwand cloth`` do to the ledger and print."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click

from ellwand.errors import InputError
from ellwand.ledger import Find, OwnedCloth, OwnedFabric
from ellwand.ledger.ids import read_id
from ellwand.ledger.spreadsheet import read_spreadsheet, write_spreadsheet
from ellwand.ledger.writing import parse_size
from ellwand.lengths import Notation
from ellwand.model import Pair
from ellwand_cli.stock import (
    changed_cloth,
    changed_fabric,
    cloth_from,
    fabric_from,
    known_fabric,
    opened,
    show,
    taking_back,
    with_ledger,
)
from ellwand_cli.views.owned import (
    cloth_document,
    cloth_text,
    cloths_document,
    cloths_text,
    fabric_document,
    fabric_text,
    fabrics_text,
    history_document,
    history_text,
    in_short,
    new_cloths_text,
    used_document,
    used_text,
)

__all__ = [
    "add_cloth", "check_ledger", "edit_cloth", "enter_fabric", "export_cloths", "import_cloths", "list_cloths",
    "list_fabrics", "remove_cloth", "remove_fabric", "show_cloth", "show_history", "spoil_piece", "undo_last",
    "use_plan",
]  # fmt: skip

_MOST_SHOWN = 40  # of cloths that an import gave ids


def enter_fabric(name: str, facts: Mapping[str, str], path: Path | None, unit: str, *, as_json: bool) -> None:
    """Enter a fabric or change it; only show it, where nothing is told."""
    notation = Notation(unit)
    with opened(path, begin=bool(facts)) as ledger:
        there = {fabric.name: fabric for fabric in ledger.fabrics()}
        if not facts:
            fabric = known_fabric(ledger, name, path)
        elif name in there:
            fabric = changed_fabric(there[name], facts, unit)
            ledger.edit_fabric(name, fabric, was=there[name])
        else:
            if "fabric width" not in facts or "fabric" in facts:  # nothing to begin with, or nothing to rename
                known_fabric(ledger, name, path)
            fabric = fabric_from(name, facts, unit)
            ledger.add_fabric(fabric)
    hint = taking_back(path) if facts else ""
    document = {"format": 1, "unit": unit, "fabric": fabric_document(fabric, notation)}
    show(lambda: document, lambda: fabric_text(fabric, notation) + hint, as_json=as_json)


def remove_fabric(name: str, path: Path | None, *, as_json: bool) -> None:
    """Take a fabric out."""
    with opened(path) as ledger:
        ledger.remove_fabric(name)
    show(lambda: {"format": 1, "removed": name}, lambda: f"{name} is out.\n{taking_back(path)}", as_json=as_json)


def add_cloth(fabric: str, facts: Mapping[str, str], path: Path | None, unit: str, *, as_json: bool) -> None:
    """Add a cloth."""
    notation = Notation(unit)
    with opened(path) as ledger:
        cloth = ledger.add_cloth(cloth_from(known_fabric(ledger, fabric, path), facts, unit))
    told = f"{in_short(cloth, notation)}\nPin {cloth.id} on it.\n{taking_back(path)}"
    show(lambda: cloths_document([cloth], notation), lambda: f"{cloth.id}: {cloth.fabric}  ·  {told}", as_json=as_json)


def edit_cloth(short: str, facts: Mapping[str, str], path: Path | None, unit: str, *, as_json: bool) -> None:
    """Change a cloth."""
    notation = Notation(unit)
    with opened(path) as ledger:
        was = ledger.cloth(short)
        fabric = known_fabric(ledger, facts.get("fabric", was.fabric), path)
        ledger.edit_cloth(short, changed_cloth(was, fabric, facts, unit), was=was)
        cloth = ledger.cloth(short)
    document = cloths_document([cloth], notation)
    show(lambda: document, lambda: cloth_text(cloth, fabric, notation) + taking_back(path), as_json=as_json)


def remove_cloth(short: str, path: Path | None, *, as_json: bool) -> None:
    """Take a cloth out."""
    with opened(path) as ledger:
        cloth = ledger.cloth(short)
        ledger.remove_cloth(short)
    told = f"{cloth.id} is out: {cloth.fabric}  ·  {in_short(cloth, Notation('in'))}\n{taking_back(path)}"
    show(lambda: {"format": 1, "removed": cloth.id}, lambda: told, as_json=as_json)


def list_cloths(
    fabric: str | None, colour: str | None, at_least: str | None, path: Path | None, unit: str, *, as_json: bool
) -> None:
    """List cloths."""
    notation = Notation(unit)
    with opened(path) as ledger:
        if fabric is not None:
            known_fabric(ledger, fabric, path)
        size = None if at_least is None else _size(at_least, unit)
        cloths = ledger.cloths(Find(fabric=fabric, colour=colour, at_least=size))
    sought = any(told is not None for told in (fabric, colour, at_least))
    show(
        lambda: cloths_document(cloths, notation),
        lambda: cloths_text(cloths, notation, sought=sought),
        as_json=as_json,
    )


def _size(text: str, unit: str) -> Pair:
    try:
        return parse_size(text, unit=unit)
    except ValueError as error:
        found, _, tries = str(error).partition("; try ")
        raise InputError(where="cloth list: --at-least", found=found, hint=f"Try {tries}" if tries else "") from None


def list_fabrics(path: Path | None, unit: str, *, as_json: bool) -> None:
    """List fabrics."""
    notation = Notation(unit)
    with opened(path) as ledger:
        fabrics, cloths = ledger.fabrics(), ledger.cloths()
    document = {"format": 1, "unit": unit, "fabrics": [fabric_document(fabric, notation) for fabric in fabrics]}
    show(lambda: document, lambda: fabrics_text(fabrics, cloths, notation), as_json=as_json)


def show_cloth(short: str, out: Path | None, path: Path | None, unit: str, *, as_json: bool) -> None:
    """Show a cloth, and draw it where that is wanted."""
    from ellwand_cli.answers import require_chart  # the views of plans take a quarter of a second to import

    notation = Notation(unit)
    if out is not None:
        require_chart(out)
    with opened(path) as ledger:
        cloth = ledger.cloth(short)
        fabric = ledger.fabric(cloth.fabric)
    if out is not None:
        _draw(cloth, fabric, notation, out)
    document = {
        "format": 1,
        "unit": unit,
        "cloth": cloth_document(cloth, notation),
        "fabric": fabric_document(fabric, notation),
    }
    show(lambda: document, lambda: cloth_text(cloth, fabric, notation), as_json=as_json)


def _draw(cloth: OwnedCloth, fabric: OwnedFabric, notation: Notation, out: Path) -> None:
    from ellwand_cli.views.files import figure_bytes
    from ellwand_cli.views.ownedcloth import owned_figure

    picture = figure_bytes(owned_figure(cloth, fabric, notation), out.suffix.removeprefix(".").lower())
    try:
        out.write_bytes(picture)
    except OSError as error:
        raise InputError(where=str(out), found=f"cannot be written: {error.strerror}") from error
    click.echo(f"Wrote {out}.", err=True)


def show_history(most: int | None, path: Path | None, *, as_json: bool) -> None:
    """Show what was done."""
    with opened(path) as ledger:
        entries = ledger.history(-1 if most is None else most)
    show(lambda: history_document(entries), lambda: history_text(entries), as_json=as_json)


def check_ledger(path: Path | None, *, as_json: bool) -> None:
    """Check the ledger; ends with exit code 1 where there are faults."""
    with opened(path) as ledger:
        faults, place = ledger.check(), ledger.path
    text = "".join(f"{fault}\n" for fault in faults) or f"{place}: sound.\n"
    show(lambda: {"format": 1, "sound": not faults, "faults": list(faults)}, lambda: text, as_json=as_json)
    if faults:
        click.get_current_context().exit(1)


def import_cloths(file: Path, path: Path | None, unit: str, *, as_json: bool) -> None:
    """Take in a spreadsheet."""
    notation = Notation(unit)
    try:
        data = file.read_bytes()
    except OSError as error:
        raise InputError(where=str(file), found=f"cannot be read: {error.strerror}") from error
    with opened(path, begin=True) as ledger:
        known = {fabric.name: fabric for fabric in ledger.fabrics()}
        taken = {cloth.id for cloth in ledger.cloths()}
        spreadsheet = read_spreadsheet(data, where=str(file), unit=unit, known=known, taken=taken)
        cloths = ledger.take_in(spreadsheet.fabrics, spreadsheet.cloths)
    new = [cloth for cloth, read in zip(cloths, spreadsheet.cloths, strict=True) if not read.id]
    shown = f"Pin on each its id:\n\n{new_cloths_text(new[:_MOST_SHOWN], notation)}\n" if new else ""
    more = f"… and {len(new) - _MOST_SHOWN} more: {with_ledger('ellwand cloth list', path)}\n"
    told = f"Took in {_some(len(spreadsheet.fabrics), 'fabric')} and {_some(len(cloths), 'cloth')}.\n"
    text = f"{told}{shown}{more if len(new) > _MOST_SHOWN else ''}{taking_back(path)}"
    made = {"fabrics": [fabric_document(fabric, notation) for fabric in spreadsheet.fabrics]}
    show(lambda: {**cloths_document(cloths, notation), **made}, lambda: text, as_json=as_json)


def export_cloths(file: Path, path: Path | None, unit: str, *, as_json: bool) -> None:
    """Write a spreadsheet of all there is."""
    with opened(path) as ledger:
        fabrics, cloths = ledger.fabrics(), ledger.cloths()
    data = write_spreadsheet(fabrics, cloths, unit).encode("utf-8-sig")  # the mark tells spreadsheets that it is UTF-8
    try:
        with file.open("xb") as out:
            out.write(data)
    except FileExistsError:
        raise InputError(where=str(file), found="is there already", hint="Name another file") from None
    except OSError as error:
        raise InputError(where=str(file), found=f"cannot be written: {error.strerror}") from error
    told = f"Wrote {file}: {_some(len(fabrics), 'fabric')} and {_some(len(cloths), 'cloth')}.\n"
    document = {"format": 1, "file": str(file), "fabrics": len(fabrics), "cloths": len(cloths)}
    show(lambda: document, lambda: told, as_json=as_json)


def _some(number: int, name: str) -> str:
    return f"1 {name}" if number == 1 else f"{number} {name}s"


def use_plan(plan: Path, only: tuple[str, ...], path: Path | None, unit: str, *, as_json: bool) -> None:
    """Take a plan's cloth."""
    from ellwand.ledger import taking_of
    from ellwand_cli.answers import read_document

    notation = Notation(unit)
    document = read_document(plan / "plan.json" if plan.is_dir() else plan)
    with opened(path) as ledger:
        used = ledger.use(taking_of(document, only))
    show(lambda: used_document(used, notation), lambda: used_text(used, notation) + taking_back(path), as_json=as_json)


def spoil_piece(what: str, short: str | None, path: Path | None, *, as_json: bool) -> None:
    """Note a spoiled piece."""
    with opened(path) as ledger:
        ledger.spoil(what, cloth=short)
    gone = None if short is None else read_id(short)
    told = f"Noted.{'' if gone is None else f' One of {gone} is out.'}\n{taking_back(path)}"
    show(lambda: {"format": 1, "spoiled": what, "cloth": gone}, lambda: told, as_json=as_json)


def undo_last(path: Path | None, *, as_json: bool) -> None:
    """Undo the last change."""
    with opened(path) as ledger:
        entry = ledger.undo()
    show(lambda: history_document([entry]), lambda: f"Undone: {entry.act}, {entry.summary}.\n", as_json=as_json)
