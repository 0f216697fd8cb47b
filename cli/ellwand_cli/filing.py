"""Every file of a plan's folder, by name."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ellwand.model import Plan
from ellwand.quilt.work import work_out
from ellwand.record import dumps
from ellwand_cli.folder import safe_names
from ellwand_cli.views.back import back_figure, is_pieced
from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.cutlist import cut_list
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.pieces import pieces_page
from ellwand_cli.views.quilt import quilt_figure
from ellwand_cli.views.report import plan_report
from ellwand_cli.views.sheets import cutting_sheets
from ellwand_cli.views.tables import WIDTH, wrapped

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["plan_files"]


def plan_files(plan: Plan, document: dict[str, Any]) -> dict[str, bytes]:
    """Every file of a plan's folder, by name; those of a true size are in a folder of their own."""
    files = {
        "plan.json": dumps(document).encode(),
        "report.txt": plan_report(plan).encode(),
        "pieces.txt": pieces_page(plan.project, work_out(plan.project)).encode(),
        "cut-list.txt": _cut_lists(plan).encode(),
        "cutting-sheets.pdf": cutting_sheets(plan),
    }
    for name, figure in _figures(plan).items():
        files[f"{name}.svg"] = figure_bytes(figure, "svg")
        files[f"{name}.png"] = figure_bytes(figure, "png")
    return files


def _figures(plan: Plan) -> dict[str, Figure]:
    """Every drawing by its file's name: the quilt, its backing where that has seams, the cloths."""
    layouts = [(answer, layout) for answer in plan.fabrics for layout in answer.layouts]
    quilt, back, *cloths = safe_names(["quilt", "backing", *(layout.cloth.id for _, layout in layouts)])
    figures = {name: cloth_figure(plan, *pair) for name, pair in zip(cloths, layouts, strict=True)}
    if plan.sizes is not None:
        figures[quilt] = quilt_figure(plan, plan.sizes)
        if is_pieced(plan):
            figures[back] = back_figure(plan, plan.sizes)
    return figures


def _cut_lists(plan: Plan) -> str:
    blocks = [
        "\n".join([layout.cloth.id, *cut_list(plan, answer, layout)])
        for answer in plan.fabrics
        for layout in answer.layouts
    ]
    return "\n\n".join([*blocks, wrapped(CAUTIONS, WIDTH)]) + "\n"
