"""What a plan's folder holds besides sheets, lists and cloths: the quilt, the report, layouts of true size."""

from __future__ import annotations

from collections.abc import Mapping

from ellwand.model import FabricPlan, Layout, Plan
from ellwand_cli.folder import TRUE_SIZE, safe_names
from ellwand_cli.views.back import back_figure, is_pieced
from ellwand_cli.views.files import figure_bytes
from ellwand_cli.views.html import Pictures, html_report
from ellwand_cli.views.machine import true_size_dxf, true_size_svg
from ellwand_cli.views.pattern import materials_page
from ellwand_cli.views.quilt import quilt_figure

__all__ = ["more_files"]


def more_files(plan: Plan, files: Mapping[str, bytes], *, true_size: bool) -> dict[str, bytes]:
    """Further files by name; the report takes the cloths' drawings from `files`.

    Layouts of true size, where they are wanted, are in a folder of their own.
    """
    drawn = _quilt(plan)
    pictures = Pictures(
        cloths=tuple(files[f"{name}.svg"] for name in _cloths(plan)),
        quilt=drawn.get("quilt.svg"),
        backing=drawn.get("backing.svg"),
    )
    texts = {
        "materials.txt": materials_page(plan).encode(),
        "report.html": html_report(plan, pictures).encode(),
    }
    return {**texts, **drawn, **(_true_sizes(plan) if true_size else {})}


def _quilt(plan: Plan) -> dict[str, bytes]:
    """The quilt, where there is one, and its backing, where that has seams; cloths have numbers in their names."""
    if plan.sizes is None:
        return {}
    figures = {"quilt": quilt_figure(plan, plan.sizes)}
    if is_pieced(plan):
        figures["backing"] = back_figure(plan, plan.sizes)
    return {f"{name}.{kind}": figure_bytes(figure, kind) for name, figure in figures.items() for kind in ("svg", "png")}


def _cloths(plan: Plan) -> dict[str, tuple[FabricPlan, Layout]]:
    """Every cloth by its files' name."""
    layouts = [(answer, layout) for answer in plan.fabrics for layout in answer.shown]
    return dict(zip(safe_names(layout.cloth.id for _, layout in layouts), layouts, strict=True))


def _true_sizes(plan: Plan) -> dict[str, bytes]:
    files = {}
    for name, pair in _cloths(plan).items():
        files[f"{TRUE_SIZE}/{name}.svg"] = true_size_svg(plan, *pair)
        files[f"{TRUE_SIZE}/{name}.dxf"] = true_size_dxf(plan, *pair)
    return files
