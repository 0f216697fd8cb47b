"""The whole plan as one HTML page that needs nothing else: text, tables, and the drawings inside it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from ellwand.model import FabricPlan, Layout, Piece, Plan, Source
from ellwand_cli.views.cautions import CAUTIONS
from ellwand_cli.views.cutlist import steps_of
from ellwand_cli.views.direction import steady
from ellwand_cli.views.inline import inline_svg
from ellwand_cli.views.lays import bolt_lines, lay_lines, together_line
from ellwand_cli.views.mixes import mix_lines
from ellwand_cli.views.origin import as_laid, cloth_source, is_missing
from ellwand_cli.views.palette import numbers, swatch
from ellwand_cli.views.pattern import allowances, materials
from ellwand_cli.views.wishes import wish_line
from ellwand_cli.views.words import (
    buy_line,
    cost_line,
    freer_lines,
    how_sure,
    on_hand_line,
    one_cloth_line,
    short_line,
    to_buy,
    waste_parts,
)

__all__ = ["Pictures", "html_report"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictures:
    """The drawings as SVG files: of every cloth, in the plan's order, of the quilt and its backing where there are."""

    cloths: tuple[bytes, ...]
    quilt: bytes | None = None
    backing: bytes | None = None


def html_report(plan: Plan, pictures: Pictures) -> str:
    """The page; equal plans make equal pages. Every name is escaped, whatever is in it."""
    from jinja2 import Environment, StrictUndefined

    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, finalize=_steady
    )
    source = files("ellwand_cli.views").joinpath("page.html").read_text(encoding="utf-8")
    return environment.from_string(source).render(_page(plan, pictures))


def _steady(value: Any) -> Any:
    """Words as they are shown; a drawing, which is no plain text, as it is."""
    return steady(value) if type(value) is str else value


def _page(plan: Plan, pictures: Pictures) -> Mapping[str, Any]:
    waiting = iter(enumerate(pictures.cloths, 1))
    return {
        "name": plan.project.name,
        "facts": _facts(plan),
        "cost": cost_line(plan),
        "warnings": plan.warnings,
        "summary": [_summary(plan, answer) for answer in plan.fabrics],
        "mixes": mix_lines(plan),
        "materials": materials(plan),
        "allowances": allowances(plan),
        "quilt": _drawn(pictures.quilt, "quilt", "The finished quilt"),
        "backing": _drawn(pictures.backing, "backing", "The backing"),
        "fabrics": [
            _fabric(plan, answer, number, [next(waiting) for _ in answer.shown])
            for number, answer in enumerate(plan.fabrics, 1)
        ],
        "cautions": CAUTIONS,
    }


def _drawn(picture: bytes | None, name: str, label: str) -> Any:
    """A picture as a piece of the page, to be taken as it is; nothing where there is none."""
    from markupsafe import Markup

    return Markup(inline_svg(picture, name=name, label=label)) if picture else ""


def _facts(plan: Plan) -> str:
    if plan.sizes is None:
        return ""
    pair = plan.project.notation.pair
    copies = f", {plan.project.copies} copies" if plan.project.copies > 1 else ""
    return f"Quilt finished {pair(*plan.sizes.finished)}, bound {pair(*plan.sizes.bound)}, across × down{copies}"


def _summary(plan: Plan, answer: FabricPlan) -> tuple[str, ...]:
    """A fabric's row: name, cloths on hand, still needed, to buy, cost, how sure."""
    notation = plan.project.notation
    here = [layout.cloth.id for layout in answer.layouts if layout.cloth.source is Source.ON_HAND]
    return (
        answer.fabric.id,
        ", ".join(here) or "–",
        notation.show(answer.needed) if answer.needed else "–",
        to_buy(answer, notation),
        str(answer.cost) if answer.cost is not None and answer.steps and answer.enough else "–",
        how_sure(answer),
    )


def _fabric(plan: Plan, answer: FabricPlan, number: int, drawings: list[tuple[int, bytes]]) -> Mapping[str, Any]:
    notation = plan.project.notation
    facts = [
        *((part, way) for part, way in answer.constructions),
        ("on hand, cut into", on_hand_line(answer, notation)),
        *([("cloth", one_cloth_line(answer))] if answer.fabric.same_cloth else []),
        ("to buy", buy_line(answer, notation)) if answer.enough else ("short", short_line(answer, notation)),
        *(("cut in layers", line) for line in (*lay_lines(answer, notation), together_line(answer, notation)) if line),
        *(("bolts", line) for line in bolt_lines(answer, notation)),
        *(("spare", line) for line in filter(None, [wish_line(answer, notation)])),
        *(("freer", line) for line in freer_lines(answer, notation)),
        ("of the cloth taken", ", ".join(f"{share} {name}" for name, value, share in _parts(plan, answer) if value)),
        ("waste", f"{answer.area.waste_percent} % (scrap, selvages and squaring up)"),
    ]
    return {
        "anchor": f"fabric-{number}",
        "name": answer.fabric.id,
        "note": answer.fabric.note,
        "facts": facts,
        "pieces": [_piece(plan, answer, piece) for piece in answer.pieces],
        "cloths": [
            _cloth(plan, answer, layout, *drawing) for layout, drawing in zip(answer.shown, drawings, strict=True)
        ],
    }


def _parts(plan: Plan, answer: FabricPlan) -> tuple[tuple[str, Any, str], ...]:
    return waste_parts(answer.area, plan.project.notation)


def _piece(plan: Plan, answer: FabricPlan, piece: Piece) -> Mapping[str, Any]:
    number, pair = numbers(plan)[piece.id], plan.project.notation.pair
    return {
        "number": number,
        "tint": swatch(number).tint,
        "name": piece.id,
        "count": piece.count,
        "finished": pair(*piece.finished) if piece.finished else "–",
        "cut": pair(*as_laid(piece, answer.layouts)),
        "why": piece.why,
        "then": "; ".join(filter(None, (piece.where, piece.after))),
    }


def _cloth(plan: Plan, answer: FabricPlan, layout: Layout, number: int, picture: bytes) -> Mapping[str, Any]:
    return {
        "name": layout.cloth.id,
        "missing": is_missing(answer, layout.cloth),
        "source": cloth_source(plan, answer, layout),
        "picture": _drawn(picture, f"cloth-{number}", f"{layout.cloth.id}: the layout; its steps in words follow"),
        "steps": steps_of(plan, answer, layout),
    }
