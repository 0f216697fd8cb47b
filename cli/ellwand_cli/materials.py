"""The materials table shown and filed."""

from __future__ import annotations

from pathlib import Path

import click

from ellwand.materials import Materials
from ellwand.record import dumps, sound_document
from ellwand_cli.folder import write_folder
from ellwand_cli.views.materialdata import materials_csv, materials_document
from ellwand_cli.views.materialpages import materials_pdf
from ellwand_cli.views.materialtext import materials_markdown, materials_text
from ellwand_cli.views.paper import Paper
from ellwand_cli.views.warnings import show_cut_short, show_warnings

__all__ = ["MARK", "show_materials"]

MARK = "materials.json"
_FORMS = {"text": materials_text, "markdown": materials_markdown, "csv": materials_csv}


def show_materials(materials: Materials, *, form: str, out: Path | None, paper: Paper | None, as_json: bool) -> None:
    """Print `materials`, and write its folder if one is wanted, its PDF for `paper` or the unit's usual one.

    Raises
    ------
    InputError
        The folder cannot be written.
    """
    for size in materials.sizes:
        sound_document(size.plan)  # nothing unjudged is told
        show_warnings(f"{size.project.size}: {text}" for text in size.plan.warnings)
    show_cut_short(answer for size in materials.sizes for answer in size.plan.fabrics)
    document = dumps(materials_document(materials))
    if out is not None:
        write_folder(out, _files(materials, document, paper), MARK)
        click.echo(f"Wrote {out}: materials.pdf, materials.txt, materials.md, materials.csv, materials.json.", err=True)
    click.echo(document if as_json else _FORMS[form](materials), nl=False)


def _files(materials: Materials, document: str, paper: Paper | None) -> dict[str, bytes]:
    """Every file of the table's folder, by name."""
    return {
        MARK: document.encode(),
        "materials.txt": materials_text(materials).encode(),
        "materials.md": materials_markdown(materials).encode(),
        "materials.csv": materials_csv(materials).encode(),
        "materials.pdf": materials_pdf(materials, paper),
    }
