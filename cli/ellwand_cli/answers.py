"""Answers shown and filed: the report or document on standard output, the files where they are wanted."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ellwand.claim import Claim
from ellwand.compare import Comparison
from ellwand.errors import InputError
from ellwand.fit import Fit
from ellwand.model import Plan
from ellwand.quilt.work import work_out
from ellwand.record import dumps, sound_document
from ellwand.slack import Slack
from ellwand.verdict import judge_plan
from ellwand_cli.failures import NoFitError, ShortError, WrongClaimError
from ellwand_cli.filing import more_files
from ellwand_cli.folder import safe_names, write_folder
from ellwand_cli.views.bags import bag_lines
from ellwand_cli.views.beside import side_by_side_figure
from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.chart import comparison_figure
from ellwand_cli.views.claims import claims_document, claims_text, failure
from ellwand_cli.views.comparison import comparison_csv, comparison_document, comparison_text
from ellwand_cli.views.cutlist import cut_list
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.fitting import fit_document, fit_text, nothing_fits
from ellwand_cli.views.origin import cloth_name
from ellwand_cli.views.paper import Paper
from ellwand_cli.views.pieces import pieces_page
from ellwand_cli.views.report import plan_report
from ellwand_cli.views.ruler import ruler_lines
from ellwand_cli.views.sheets import cutting_sheets
from ellwand_cli.views.stamp import plan_stamp
from ellwand_cli.views.tables import WIDTH, wrapped
from ellwand_cli.views.typeset import printable
from ellwand_cli.views.warnings import show_cut_short, show_warnings
from ellwand_cli.views.words import short_line

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = [
    "CLAIMS",
    "read_document", "require_chart", "show_claims", "show_comparison", "show_fit", "show_plan", "show_verdict",
]  # fmt: skip

CLAIMS = "claims.json"  # marks a folder of claims
_LISTS = "materials.txt, pieces.txt, cut-list.txt, report.txt"
_SOUND = "sound. Every piece is there, and every figure adds up."


def show_plan(plan: Plan, *, out: Path | None, paper: Paper | None = None, true_size: bool, as_json: bool) -> None:
    """Print `plan`, write its folder if one is wanted, and end with an error where the cloth is not enough.

    With `true_size` the folder holds layouts for machines too; the sheets are for `paper`, or the unit's usual one.

    Raises
    ------
    ShortError
        A fabric may not be bought and is not enough.
    """
    show_warnings(plan.warnings)
    show_cut_short(plan.fabrics)
    document = sound_document(plan)
    if out is not None:
        files = _files(plan, document, paper)
        write_folder(out, {**files, **more_files(plan, files, true_size=true_size)})
        click.echo(f"Wrote {out}: report.html, cutting-sheets.pdf, {_LISTS}, plan.json and the drawings.", err=True)
    short = [answer for answer in plan.fabrics if not answer.enough]
    if not as_json or not short:
        click.echo(dumps(document) if as_json else plan_report(plan), nl=False)
    if short:
        notation = plan.project.notation
        found = "; ".join(f'"{answer.fabric.id}" {short_line(answer, notation)}' for answer in short)
        raise ShortError(where=plan.project.source, found=found, plan=document)


def show_comparison(
    comparison: Comparison,
    *,
    chart: Path | None,
    layouts: Path | None,
    shown: tuple[Fraction, ...],
    as_csv: bool,
    as_json: bool,
) -> None:
    """Print `comparison`, and write its chart, and the layouts at the two values `shown`, where these are wanted.

    Raises
    ------
    InputError
        A picture cannot be written, or the layouts at both values are the same.
    """
    if chart is not None:
        _write_picture(comparison_figure(comparison), chart)
    if layouts is not None:
        _write_picture(side_by_side_figure(comparison, shown), layouts)
    show_warnings(f"{comparison.show(row.value)}: {text}" for row in comparison.rows for text in row.plan.warnings)
    show_cut_short(answer for row in comparison.rows for answer in row.plan.fabrics)
    if as_json:
        click.echo(dumps(comparison_document(comparison)), nl=False)
    else:
        click.echo(comparison_csv(comparison) if as_csv else comparison_text(comparison), nl=False)


def show_fit(fit: Fit, stated: Mapping[str, Fraction], *, as_json: bool) -> None:
    """Print the widest border that fits.

    Raises
    ------
    NoFitError
        There is none.
    """
    if fit.value is None:
        raise NoFitError(where=f"{fit.varied.base.source}: {fit.varied.title}", found=nothing_fits(fit))
    assert fit.plan is not None
    show_warnings(fit.plan.warnings)
    show_cut_short(fit.plan.fabrics)
    sound_document(fit.plan)
    click.echo(dumps(fit_document(fit)) if as_json else fit_text(fit, stated), nl=False)


def show_claims(plan: Plan, claims: Sequence[Claim], slack: Slack, *, out: Path | None, as_json: bool) -> None:
    """Print what became of `claims`, draw their layouts where that is wanted, and end with an error if one fails.

    Raises
    ------
    WrongClaimError
        One does not hold, or was not found to.
    """
    notation = plan.project.notation
    document = claims_document(claims, slack, notation)
    show_warnings(plan.warnings)
    show_cut_short(plan.fabrics)
    sound_document(plan)
    if out is not None:
        write_folder(out, {CLAIMS: dumps(document).encode(), **_drawings(plan)}, CLAIMS)
        click.echo(f"Wrote {out}: {CLAIMS} and the drawings.", err=True)
    failed = [claim for claim in claims if not claim.holds]
    if not as_json or not failed:
        click.echo(dumps(document) if as_json else claims_text(claims, slack, notation), nl=False)
    if failed:
        found = "; ".join(
            f"{claim.fabric.id}, {notation.cloth(claim.length)}: {failure(claim, notation)}" for claim in failed
        )
        raise WrongClaimError(where=plan.project.source, found=found, answer=document)


def require_chart(chart: Path) -> None:
    """See that a chart can be written as `chart`.

    Raises
    ------
    InputError
        Its name has no ending of a picture, or its folder is not there.
    """
    if _kind(chart) not in ("svg", "png", "pdf"):
        raise InputError(where=str(chart), found="has no ending of a picture", wanted="Use .svg, .png or .pdf")
    if not chart.parent.is_dir():
        raise InputError(where=str(chart), found="cannot be written: there is no such folder")


def _write_picture(figure: Figure, file: Path) -> None:
    try:
        file.write_bytes(figure_bytes(figure, _kind(file)))
    except OSError as error:
        raise InputError(where=str(file), found=f"cannot be written: {error.strerror}") from error
    click.echo(f"Wrote {file}.", err=True)


def _kind(chart: Path) -> str:
    return chart.suffix.removeprefix(".").lower()


def read_document(path: Path) -> dict[str, object]:
    """A plan document as it is in its file, numbers exact.

    Raises
    ------
    InputError
        The file cannot be read, or is no JSON object.
    """
    try:
        document = json.loads(path.read_text(encoding="utf-8"), parse_float=_number, parse_constant=_number)
    except OSError as error:
        raise InputError(where=str(path), found=f"cannot be read: {error.strerror}") from error
    except (ValueError, RecursionError) as error:
        raise InputError(where=str(path), found="is not a plan: it is no JSON text with sensible numbers") from error
    if not isinstance(document, dict):
        raise InputError(where=str(path), found="is not a plan: it is no JSON object")
    return document


def _number(text: str) -> Fraction:
    """A number of a JSON text, exact; 1e999999999 would fill the memory, and NaN is none."""
    if not re.fullmatch(r"-?\d{1,60}(\.\d{1,60})?([eE][+-]?\d{1,2})?", text):
        raise ValueError(text)
    return Fraction(text)


def show_verdict(path: Path, *, as_json: bool) -> None:
    """Print the judge's verdict on the plan file at `path`.

    Ends with exit code 1 where there are faults.
    """
    document = read_document(path)
    faults = judge_plan(document)
    if as_json:
        click.echo(json.dumps({"format": 1, "sound": not faults, "faults": faults}, ensure_ascii=False))
    else:
        click.echo("\n".join(faults) or f"{path}: {_SOUND}{_shortages(document)}")
    if faults:
        click.get_current_context().exit(1)


def _shortages(document: Mapping[str, Any]) -> str:
    """What a sound plan says of fabrics that are not enough, so that nobody takes them for enough."""
    short = [fabric["id"] for fabric in document["fabrics"] if fabric["needed"] and not fabric.get("buy", True)]
    return (
        f" But there is not enough {', '.join(short)}: part of the plan is on cloth that is missing." if short else ""
    )


def _files(plan: Plan, document: dict[str, Any], paper: Paper | None) -> dict[str, bytes]:
    """Sheets, lists and drawings of cloths: the files of a plan's folder, by name, that `more_files` adds to."""
    stamp = plan_stamp(document, date.today())
    return {
        "plan.json": dumps(document).encode(),
        "report.txt": plan_report(plan).encode(),
        "pieces.txt": pieces_page(plan.project, work_out(plan.project)).encode(),
        "cut-list.txt": _cut_lists(plan, stamp).encode(),
        "cutting-sheets.pdf": cutting_sheets(plan, paper=paper, stamp=stamp),
        **_drawings(plan),
    }


def _drawings(plan: Plan) -> dict[str, bytes]:
    """Every layout drawn, by file name."""
    layouts = [(answer, layout) for answer in plan.fabrics for layout in answer.shown]
    names = safe_names(layout.cloth.id for _, layout in layouts)
    files = {}
    for name, (answer, layout) in zip(names, layouts, strict=True):
        figure = cloth_figure(plan, answer, layout)
        files[f"{name}.svg"] = figure_bytes(figure, "svg")
        files[f"{name}.png"] = figure_bytes(figure, "png")
    return files


def _cut_lists(plan: Plan, stamp: str) -> str:
    """Every cloth's list, after what tells them from those of another plan, and all cloths at one go."""
    blocks = [
        "\n".join([cloth_name(layout.cloth), *cut_list(plan, answer, layout)])
        for answer in plan.fabrics
        for layout in answer.shown
    ]
    head = f"{printable(plan.project.name)}  ·  {stamp}"
    together = "\n".join(ruler_lines(plan))
    bags = "\n".join(bag_lines(plan))
    return (
        "\n\n".join([*filter(None, (head, together)), *blocks, *filter(None, [bags]), wrapped(CAUTIONS, WIDTH)]) + "\n"
    )
