"""A comparison as a chart: what must be bought for each value, and what is wasted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING

from ellwand.compare import Comparison
from ellwand.lengths import Notation
from ellwand.model import FabricPlan
from ellwand_cli.views.palette import BRASS, FAINT, INK, SOFT, WALNUT
from ellwand_cli.views.spare import spare
from ellwand_cli.views.typeset import FAMILY, printable, shorten, text_width, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["comparison_figure"]

_WIDTH = 640.0  # points, as all that follow
_PANEL, _WASTE, _GAP = 120.0, 110.0, 34.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 76.0, 24.0, 66.0, 44.0
_SMALL = 8.0
_LINE = 11.0  # of the notes below the title
_MARKS = ("o", "s", "^", "D", "v", "P", "X", "*")
_LINES = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#8a6d00", "#444444", "#b0763a")


def comparison_figure(comparison: Comparison) -> Figure:
    """A panel for every fabric whose length changes – length against the border's width – and one of waste below.

    The widest width for every length is ringed: there more border costs no more cloth. A fabric of which every
    width takes the same length is a line of text.
    """
    from matplotlib.figure import Figure

    changing = [number for number in range(len(comparison.rows[0].plan.fabrics)) if _changes(comparison, number)]
    steady = _steady_lines(comparison)
    notes = list(_notes(comparison)) if changing else []
    top = _TOP + (len(steady) + max(0, len(notes) - 1)) * _LINE
    height = top + len(changing) * (_PANEL + _GAP) + _WASTE + _legend_height(comparison) + _BOTTOM
    title = printable(
        f"{comparison.title[:1].upper()}{comparison.title[1:]}: what each {_noun(comparison)} costs in cloth"
    )
    widths = f"{comparison.show(comparison.rows[0].value)} to {comparison.show(comparison.rows[-1].value)}"
    figure = Figure(figsize=(_WIDTH / 72, height / 72), facecolor="white")
    figure.set_label(f"{title}\nLength to buy and waste by {_axis(comparison)}, {widths}.")
    _write_title(figure, title, [*notes, *steady], height)
    panels = _panels(figure, len(changing) + 1, height - top)
    for ax, number in zip(panels, changing, strict=False):
        _draw_bought(ax, comparison, number)
    _draw_waste(panels[-1], comparison)
    for ax in panels:
        _dress(ax, comparison, last=ax is panels[-1])
    return figure


def _noun(comparison: Comparison) -> str:
    return "value" if comparison.border is None else "width"


def _axis(comparison: Comparison) -> str:
    """What varies, as the axis names it."""
    return comparison.title if comparison.border is None else "finished width of the border"


def _notes(comparison: Comparison) -> Iterator[str]:
    """What the marks mean."""
    noun = _noun(comparison)
    yield f"ringed: the last tested {noun} for that much cloth; dotted: somewhere between two the length changes"
    if comparison.edges:
        kept = spare(comparison.slack, comparison.notation)
        yield f"triangles: the very last {noun} on the ruler for that much cloth{kept} (hollow: not proven)"


def _length(answer: FabricPlan) -> Fraction:
    """What is bought of a fabric, or what of it is missing where nothing more is to be had."""
    return answer.bought if answer.fabric.buy else answer.needed


def _changes(comparison: Comparison, number: int) -> bool:
    """Whether a fabric's length is not the same at every width."""
    return len({_length(answer) for _, answer in _answers(comparison, number)}) > 1


def _kind(answer: FabricPlan) -> str:
    return "to buy" if answer.fabric.buy else "missing"


def _named(answer: FabricPlan, length: Fraction, notation: Notation) -> str:
    return notation.cloth(length) if answer.fabric.buy else notation.show(length)


def _steady_lines(comparison: Comparison) -> list[str]:
    """The fabrics of which every width takes the same length, in lines of text."""
    notation = comparison.notation
    words = [
        f"{answer.fabric.id}: {_named(answer, _length(answer), notation)} {_kind(answer)}"
        if _length(answer)
        else f"{answer.fabric.id}: nothing {_kind(answer)}"
        for number, answer in enumerate(comparison.rows[0].plan.fabrics)
        if not _changes(comparison, number)
    ]
    lead = "The same at every width – " if len(comparison.rows) > 1 else ""
    return list(wrap(printable(lead + "; ".join(words)), _WIDTH - 40, _SMALL)) if words else []


def _answers(comparison: Comparison, number: int) -> list[tuple[Fraction, FabricPlan]]:
    return [(row.value, row.plan.fabrics[number]) for row in comparison.rows]


def _panels(figure: Figure, count: int, top: float) -> list[Axes]:
    """Panels from `top` points down, the last one for waste."""
    panels = []
    height = figure.get_figheight() * 72
    for number in range(count):
        size = _WASTE if number == count - 1 else _PANEL
        place = (_LEFT / _WIDTH, (top - size) / height, (_WIDTH - _LEFT - _RIGHT) / _WIDTH, size / height)
        panels.append(figure.add_axes(place))
        top -= size + _GAP
    return panels


def _write_title(figure: Figure, title: str, notes: Sequence[str], height: float) -> None:
    """The title, and notes below it, a line each."""
    shown = shorten(title, _WIDTH - 40, 13.0, bold=True)
    lines = [(shown, 24.0, 13.0, "bold", INK)]
    lines += [(note, 38.0 + number * _LINE, _SMALL, "normal", SOFT) for number, note in enumerate(notes)]
    for text, drop, size, weight, colour in lines:
        figure.text(
            20 / _WIDTH, 1 - drop / height, text,
            fontsize=size, weight=weight, family=FAMILY, color=colour, parse_math=False,
        )  # fmt: skip


def _draw_bought(ax: Axes, comparison: Comparison, number: int) -> None:
    """The length at every tested width as a point.

    Equal neighbours are joined; where the length changes between two widths is not known, and dotted.
    """
    notation = comparison.notation
    answers = _answers(comparison, number)
    points = [(float(comparison.in_units(width)), float(_length(answer))) for width, answer in answers]
    for before, after in pairwise(points):
        known = before[1] == after[1]
        ax.plot(*_transposed((before, after)), "-" if known else ":", color=WALNUT, linewidth=1.4 if known else 0.9)
    proven = [answer.bought_proven for _, answer in answers]
    for sure, face in ((True, WALNUT), (False, "white")):
        marked = [point for point, known in zip(points, proven, strict=True) if known is sure]
        ax.plot(*_transposed(marked), "o", color=WALNUT, markerfacecolor=face, markersize=4, linestyle="none")
    ringed = _transposed(_widest(points))
    ax.plot(*ringed, "o", color=BRASS, markerfacecolor="none", markersize=10, linestyle="none")
    _mark_lengths(ax, [answer for _, answer in answers], notation)
    _draw_edges(ax, comparison, answers[0][1].fabric.id)
    first = answers[0][1]
    _write_name(ax, f"{first.fabric.id}: {_kind(first)}" + ("" if all(proven) else " (hollow: less may do)"))


def _draw_edges(ax: Axes, comparison: Comparison, fabric: str) -> None:
    """The very last value for every length, where more begins to be bought after it."""
    for edge in comparison.edges:
        if edge.answer.fabric.id == fabric and edge.after is not None:
            place = float(comparison.in_units(edge.value)), float(_length(edge.answer))
            face = BRASS if edge.proven else "white"
            ax.plot(*_transposed([place]), "v", color=BRASS, markerfacecolor=face, markersize=6, linestyle="none")


def _transposed(points: Sequence[tuple[float, float]]) -> tuple[list[float], list[float]]:
    return [x for x, _ in points], [y for _, y in points]


def _widest(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The widest width of every length; widths come rising."""
    last = {length: width for width, length in points}
    return [(width, length) for length, width in last.items()]


def _mark_lengths(ax: Axes, answers: Sequence[FabricPlan], notation: Notation) -> None:
    """Name the lengths that occur; where there are many, not all of them."""
    lengths = [_length(answer) for answer in answers]
    shown = _thinned(sorted(set(lengths)), 7)
    names = [_named(answers[0], length, notation) for length in shown]
    ax.set_yticks([float(length) for length in shown], names, parse_math=False)
    low, high = float(min(lengths)), float(max(lengths))
    room = (high - low) * 0.25
    ax.set_ylim(low - room, high + room)


def _thinned(values: Sequence[Fraction], most: int) -> list[Fraction]:
    """At most `most` of rising `values`, no two closer than the whole range would have them evenly."""
    if not values:
        return []
    least = (values[-1] - values[0]) / most
    shown = [values[0]]
    for value in values[1:]:
        if value - shown[-1] >= least:
            shown.append(value)
    return shown


def _draw_waste(ax: Axes, comparison: Comparison) -> None:
    """Waste of every fabric by width, told apart by mark and colour."""
    fabrics = comparison.rows[0].plan.fabrics
    highest = 0.0
    for number in range(len(fabrics)):
        answers = _answers(comparison, number)
        shares = [float(answer.area.waste_percent) for _, answer in answers]
        widths = [float(comparison.in_units(width)) for width, _ in answers]
        look = number % len(_MARKS)
        ax.plot(widths, shares, marker=_MARKS[look], color=_LINES[look], markersize=4, linewidth=0.9)
        highest = max(highest, *shares)
    top = max(5, ceil(highest / 5) * 5)
    ax.set_ylim(0, top * 1.05)
    step = max(1, top // 4)
    ticks = list(range(0, top + 1, step))
    ax.set_yticks(ticks, [f"{tick} %" for tick in ticks], parse_math=False)
    _write_name(ax, "waste: scrap, selvages and squaring up, of the cloth taken")
    _write_legend(ax, comparison)


def _write_name(ax: Axes, text: str) -> None:
    shown = shorten(printable(text), _WIDTH - _LEFT - _RIGHT, 9.0, bold=True)
    ax.set_title(shown, loc="left", fontsize=9, weight="bold", family=FAMILY, color=INK, pad=5, parse_math=False)


def _rows_of_names(comparison: Comparison) -> list[list[tuple[int, str, float]]]:
    """The legend's lines: number, name and place of every fabric."""
    rows: list[list[tuple[int, str, float]]] = [[]]
    x = 0.0
    room = _WIDTH - _LEFT - _RIGHT
    for number, answer in enumerate(comparison.rows[0].plan.fabrics):
        name = shorten(printable(answer.fabric.id), 150.0, _SMALL)
        width = text_width(name, _SMALL) + 30
        if x and x + width > room:
            rows.append([])
            x = 0.0
        rows[-1].append((number, name, x))
        x += width
    return rows


def _legend_height(comparison: Comparison) -> float:
    return 14.0 * len(_rows_of_names(comparison)) + 12


def _write_legend(ax: Axes, comparison: Comparison) -> None:
    """Names with their marks, below the axis."""
    from matplotlib.lines import Line2D
    from matplotlib.transforms import ScaledTranslation

    figure = ax.get_figure(root=True)
    assert figure is not None
    for row, names in enumerate(_rows_of_names(comparison)):
        for number, name, x in names:
            y = -44.0 - 14.0 * row
            move = ScaledTranslation((x + 5) / 72, y / 72, figure.dpi_scale_trans)
            look = number % len(_MARKS)
            mark = Line2D([0], [0], marker=_MARKS[look], color=_LINES[look], markersize=4, clip_on=False)
            mark.set_transform(ax.transAxes + move)
            ax.add_line(mark)
            beside = ScaledTranslation((x + 12) / 72, (y - 2.8) / 72, figure.dpi_scale_trans)
            ax.text(
                0, 0, name, transform=ax.transAxes + beside,
                fontsize=_SMALL, family=FAMILY, color=INK, parse_math=False,
            )  # fmt: skip


def _dress(ax: Axes, comparison: Comparison, *, last: bool) -> None:
    """Shared looks: light grid, ticks at tested widths, a named axis at the bottom."""
    widths = [row.value for row in comparison.rows]
    shown = _fitting(widths, comparison)
    ax.set_xticks(
        [float(comparison.in_units(width)) for width in shown],
        [_bare(comparison, width) for width in shown],
        parse_math=False,
    )
    ax.set_xticks([float(comparison.in_units(width)) for width in widths], minor=True)
    span = float(comparison.in_units(widths[-1] - widths[0])) or 1.0
    ax.set_xlim(
        float(comparison.in_units(widths[0])) - span * 0.04, float(comparison.in_units(widths[-1])) + span * 0.04
    )
    ax.tick_params(labelsize=_SMALL, labelcolor=INK, color=SOFT, labelfontfamily=FAMILY, labelbottom=last)
    ax.grid(color=FAINT, linewidth=0.4)
    ax.set_axisbelow(True)
    for name, spine in ax.spines.items():
        spine.set_visible(name in ("left", "bottom"))
        spine.set_color(SOFT)
    if last:
        label = printable(_axis(comparison) + ("" if comparison.plain else f", {comparison.notation.unit}"))
        ax.set_xlabel(label, fontsize=_SMALL, family=FAMILY, color=INK, parse_math=False)


def _bare(comparison: Comparison, value: Fraction) -> str:
    return comparison.show(value) if comparison.plain else comparison.notation.bare(value)


def _fitting(widths: Sequence[Fraction], comparison: Comparison) -> list[Fraction]:
    """Every width, or every second, third …, so that their names do not touch."""
    room = _WIDTH - _LEFT - _RIGHT
    broad = max(text_width(_bare(comparison, width), _SMALL) for width in widths) + 8
    return list(widths[:: max(1, ceil(len(widths) * broad / room))])
