"""Every file of a plan's folder, by name."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ellwand.model import FabricPlan, Layout, Plan
from ellwand.quilt.work import work_out
from ellwand.record import dumps
from ellwand_cli.folder import TRUE_SIZE, safe_names
from ellwand_cli.views.back import back_figure, is_pieced
from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.cutlist import cut_list
from ellwand_cli.views.drawing import cloth_figure
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.html import Pictures, html_report
from ellwand_cli.views.machine import true_size_dxf, true_size_svg
from ellwand_cli.views.materials import materials_page
from ellwand_cli.views.pieces import pieces_page
from ellwand_cli.views.quilt import quilt_figure
from ellwand_cli.views.report import plan_report
from ellwand_cli.views.sheets import cutting_sheets
from ellwand_cli.views.tables import WIDTH, wrapped

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["plan_files"]

_QUILT, _BACKING = "quilt", "backing"


def plan_files(plan: Plan, document: dict[str, Any], *, true_size: bool) -> dict[str, bytes]:
    """Every file of a plan's folder, by name; layouts of true size, where they are wanted, in a folder of their own."""
    files = {
        "plan.json": dumps(document).encode(),
        "report.txt": plan_report(plan).encode(),
        "pieces.txt": pieces_page(plan.project, work_out(plan.project)).encode(),
        "materials.txt": materials_page(plan).encode(),
        "cut-list.txt": _cut_lists(plan).encode(),
        "cutting-sheets.pdf": cutting_sheets(plan),
    }
    for name, figure in _figures(plan).items():
        files[f"{name}.svg"] = figure_bytes(figure, "svg")
        files[f"{name}.png"] = figure_bytes(figure, "png")
    pictures = Pictures(
        cloths=tuple(files[f"{name}.svg"] for name in _cloths(plan)),
        quilt=files.get(f"{_QUILT}.svg"),
        backing=files.get(f"{_BACKING}.svg"),
    )
    files["report.html"] = html_report(plan, pictures).encode()
    return files | (_true_sizes(plan) if true_size else {})


def _figures(plan: Plan) -> dict[str, Figure]:
    """Every drawing by its file's name: the quilt, its backing where that has seams, the cloths."""
    figures = {name: cloth_figure(plan, *pair) for name, pair in _cloths(plan).items()}
    if plan.sizes is not None:
        figures[_QUILT] = quilt_figure(plan, plan.sizes)
        if is_pieced(plan):
            figures[_BACKING] = back_figure(plan, plan.sizes)
    return figures


def _cloths(plan: Plan) -> dict[str, tuple[FabricPlan, Layout]]:
    """Every cloth by its file's name."""
    layouts = [(answer, layout) for answer in plan.fabrics for layout in answer.layouts]
    names = safe_names([_QUILT, _BACKING, *(layout.cloth.id for _, layout in layouts)])
    return dict(zip(names[2:], layouts, strict=True))


def _true_sizes(plan: Plan) -> dict[str, bytes]:
    files = {}
    for name, pair in _cloths(plan).items():
        files[f"{TRUE_SIZE}/{name}.svg"] = true_size_svg(plan, *pair)
        files[f"{TRUE_SIZE}/{name}.dxf"] = true_size_dxf(plan, *pair)
    return files


def _cut_lists(plan: Plan) -> str:
    blocks = [
        "\n".join([layout.cloth.id, *cut_list(plan, answer, layout)])
        for answer in plan.fabrics
        for layout in answer.layouts
    ]
    return "\n\n".join([*blocks, wrapped(CAUTIONS, WIDTH)]) + "\n"
