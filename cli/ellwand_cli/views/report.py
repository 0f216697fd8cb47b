"""A plan as text for the terminal."""

from __future__ import annotations

from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Plan, Source
from ellwand_cli.views.enough import enough_lines
from ellwand_cli.views.lays import bolt_lines, lay_lines, together_line
from ellwand_cli.views.mixes import mix_lines
from ellwand_cli.views.origin import width_words
from ellwand_cli.views.tables import WIDTH, table, wrapped
from ellwand_cli.views.wishes import wish_line
from ellwand_cli.views.words import (
    buy_line,
    cost_line,
    freer_lines,
    how_sure,
    largest_offcut,
    on_hand_line,
    one_cloth_line,
    short_line,
    to_buy,
    waste_parts,
)

__all__ = ["plan_report"]

_CLAIM = (
    "What is said to be the least holds for every layout of the pieces as listed, in all the ways of making them that "
    "were open; joined strips and panels are cut to the usable width of the bolt, or all to that of a narrower cloth "
    "on hand, but for strips that are fitted to what is left."
)


def plan_report(plan: Plan) -> str:
    """The whole answer: whether there is enough, what to buy, then every fabric."""
    blocks = [
        "\n".join(enough_lines(plan)),
        _head(plan),
        _summary(plan),
        "\n".join(wrapped(line, WIDTH, rest="  ") for line in mix_lines(plan)),
        *(_fabric(plan, answer) for answer in plan.fabrics),
        wrapped(_CLAIM, WIDTH),
    ]
    return "\n\n".join(block for block in blocks if block) + "\n"


def _head(plan: Plan) -> str:
    lines = [plan.project.name]
    if plan.sizes is not None:
        pair = plan.project.notation.pair
        sizes = (
            f"Quilt: centre {pair(*plan.sizes.centre)}, finished {pair(*plan.sizes.finished)}, "
            f"raw {pair(*plan.sizes.raw)}, bound {pair(*plan.sizes.bound)} (across × down)"
        )
        lines.append(wrapped(sizes, WIDTH, rest="       "))
    if plan.project.copies > 1:
        lines.append(f"Copies: {plan.project.copies}")
    return "\n".join(lines)


def _summary(plan: Plan) -> str:
    notation = plan.project.notation
    rows = [
        (
            answer.fabric.id,
            ", ".join(layout.cloth.id for layout in answer.layouts if layout.cloth.source is Source.ON_HAND) or "–",
            notation.show(answer.needed) if answer.needed else "–",
            to_buy(answer, notation),
            str(answer.cost) if answer.cost and answer.enough else "",
            how_sure(answer),
        )
        for answer in plan.fabrics
    ]
    text = table(("fabric", "on hand, cut into", "still needed", "to buy", "cost", "how sure"), rows, numbers=(2, 3, 4))
    cost = cost_line(plan)
    return text + (f"\nall together {cost}" if cost else "")


def _fabric(plan: Plan, answer: FabricPlan) -> str:
    notation = plan.project.notation
    rows = [
        ("pieces", _counted(answer)),
        *(("made", f"{part}: {way}") for part, way in answer.constructions),
        ("on hand", on_hand_line(answer, notation)),
        *([("cloth", one_cloth_line(answer))] if answer.fabric.same_cloth else []),
        ("needed", f"{notation.show(answer.needed)}, {how_sure(answer)}" if answer.needed else how_sure(answer)),
        ("to buy", buy_line(answer, notation)) if answer.enough else ("short", short_line(answer, notation)),
        *(("layers", line) for line in lay_lines(answer, notation)),
        *(("", line) for line in filter(None, [together_line(answer, notation)])),
        *(("bolts", line) for line in bolt_lines(answer, notation)),
        *(("spare", line) for line in filter(None, [wish_line(answer, notation)])),
        *(("freer", line) for line in freer_lines(answer, notation)),
        ("goes", ("" if answer.enough else "the missing cloth included, ") + _goes(answer, notation)),
        ("waste", f"{answer.area.waste_percent} % (scrap, selvages and squaring up)"),
        *_washing(answer, notation),
    ]
    note = f" – {answer.fabric.note}" if answer.fabric.note else ""
    title = f"{answer.fabric.id}{note}, {_width(answer, notation)}"
    return "\n".join([title, *(_wrapped(name, text) for name, text in rows)])


def _width(answer: FabricPlan, notation: Notation) -> str:
    """Its width as measured, washed where it will be, and what of it can be used."""
    usable = notation.show(answer.usable_width)
    if answer.fabric.wash:
        return f"{width_words(answer.fabric, notation)}, {usable} to use"
    return f"{usable} to use of {notation.show(answer.fabric.width)}"


def _wrapped(name: str, text: str) -> str:
    return wrapped(text, WIDTH, first=f"  {name:<8} ", rest=" " * 11)


def _counted(answer: FabricPlan) -> str:
    count, kinds = sum(piece.count for piece in answer.pieces), len(answer.pieces)
    return f"{count} of {kinds} {'kind' if kinds == 1 else 'kinds'}"


def _goes(answer: FabricPlan, notation: Notation) -> str:
    """Shares of the cloth taken, with the largest offcut named."""
    area, unit = answer.area, notation.unit
    taken = notation.in_units_squared(area.taken)
    parts = [f"{share} {name}" for name, value, share in waste_parts(area, notation) if value]
    text = f"{_round(taken)} sq {unit} taken: " + ", ".join(parts)
    largest = largest_offcut(answer.layouts)
    return text + (f"; largest offcut {notation.pair(largest.across, largest.along)}" if largest else "")


def _washing(answer: FabricPlan, notation: Notation) -> list[tuple[str, str]]:
    """What washing takes before anything is cut, where it takes something."""
    if not answer.shrinkage:
        return []
    lost = _round(notation.in_units_squared(answer.shrinkage))
    return [("washing", f"takes {lost} sq {notation.unit} more, before anything is cut")]


def _round(value: Fraction) -> str:
    return f"{round(value):,}".replace(",", " ")
