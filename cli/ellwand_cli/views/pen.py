"""Lines, boxes, patterns and words on an Axes whose units are points, origin at the lower left."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING, Literal

from ellwand_cli.views.palette import INK, Pattern, Swatch
from ellwand_cli.views.typeset import FAMILY, LEADING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = [
    "Box", "Segment", "blank_figure", "fill", "frame", "hatch", "pattern_lines", "points_axes", "polygon",
    "rule", "write",
]  # fmt: skip

Segment = tuple[tuple[float, float], tuple[float, float]]
_GAP = 6.0  # between lines of a pattern
_SPARSE = 9.0  # between lines of a pattern that goes two ways


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper: lower left corner, width and height, in points."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.w

    @property
    def top(self) -> float:
        """Its upper edge."""
        return self.y + self.h

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle."""
        return self.x + self.w / 2, self.y + self.h / 2


def blank_figure(w: float, h: float, label: str) -> tuple[Figure, Axes]:
    """An empty sheet of `w` × `h` points; `label` is its title, and its description after a line break."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(w / 72, h / 72), facecolor="white")
    figure.set_label(label)
    ax = figure.add_axes((0, 0, 1, 1))
    points_axes(ax)
    return figure, ax


def points_axes(ax: Axes) -> Box:
    """Make one unit of `ax` one point, hide its frame, and say how large it is."""
    figure = ax.get_figure(root=True)
    assert figure is not None
    share = ax.get_position()
    w, h = share.width * figure.get_figwidth() * 72, share.height * figure.get_figheight() * 72
    ax.set_xlim(0, w)
    ax.set_ylim(0, h)
    ax.set_axis_off()
    return Box(0, 0, w, h)


def fill(ax: Axes, boxes: Sequence[Box], colour: str, *, above: bool = False) -> None:
    """Fill `boxes`; `above` lays them over every line, under the words."""
    from matplotlib.collections import PolyCollection

    corners = [_corners(box) for box in boxes]
    ax.add_collection(
        PolyCollection(corners, facecolors=colour, edgecolors="none", zorder=2 if above else 1), autolim=False
    )


def frame(
    ax: Axes, boxes: Sequence[Box], *, colour: str = INK, width: float = 0.7, dashed: bool = False, label: str = ""
) -> None:
    """Outline `boxes`; `label` is the artist's."""
    from matplotlib.collections import PolyCollection

    style = (0, (4.0, 2.5)) if dashed else "solid"
    outlines = PolyCollection(
        [_corners(box) for box in boxes],
        facecolors="none",
        edgecolors=colour,
        linewidths=width,
        linestyles=[style],
        joinstyle="miter",
        zorder=1,
    )
    outlines.set_label(label)
    ax.add_collection(outlines, autolim=False)


def polygon(ax: Axes, corners: Sequence[tuple[float, float]], colour: str) -> None:
    """Fill any shape."""
    from matplotlib.collections import PolyCollection

    ax.add_collection(PolyCollection([list(corners)], facecolors=colour, edgecolors="none", zorder=1), autolim=False)


def _corners(box: Box) -> tuple[tuple[float, float], ...]:
    return (box.x, box.y), (box.right, box.y), (box.right, box.top), (box.x, box.top)


def rule(
    ax: Axes,
    segments: Sequence[Segment],
    *,
    colour: str = INK,
    width: float = 0.6,
    round_: bool = False,
    broken: bool = False,
) -> None:
    """Draw straight lines, in strokes if `broken`; with `round_`, very short ones are dots."""
    from matplotlib.collections import LineCollection

    ends: Literal["round", "butt"] = "round" if round_ else "butt"
    lines = LineCollection(segments, colors=colour, linewidths=width, capstyle=ends, zorder=1)
    lines.set_snap(False)  # dots would be rounded away
    ax.add_collection(lines, autolim=False)


def write(
    ax: Axes,
    at: tuple[float, float],
    text: str,
    size: float,
    *,
    bold: bool = False,
    colour: str = INK,
    ha: Literal["left", "center", "right"] = "left",
    va: Literal["baseline", "center", "top", "bottom"] = "baseline",
    upright: bool = False,
) -> None:
    """Write `text` with `at` as its anchor; `upright` turns it to read from below."""
    ax.text(
        *at,
        text,
        fontsize=size,
        family=FAMILY,
        weight="bold" if bold else "normal",
        color=colour,
        ha=ha,
        va=va,
        rotation=90 if upright else 0,
        rotation_mode="anchor",
        linespacing=LEADING / 1.17,  # matplotlib counts in font heights, and DejaVu Sans is 1.17 sizes high
        parse_math=False,
        zorder=3,
    )


def hatch(ax: Axes, swatch: Swatch, boxes: Sequence[Box], *, width: float = 0.45) -> None:
    """Draw a swatch's pattern in `boxes`."""
    lines = [line for box in boxes for line in pattern_lines(swatch, box)]
    dots = swatch.pattern is Pattern.DOTS
    broken = swatch.pattern is Pattern.BROKEN
    rule(ax, lines, colour=swatch.line, width=1.1 if dots else width, round_=dots, broken=broken)


def pattern_lines(swatch: Swatch, box: Box) -> list[Segment]:
    """The lines of a swatch's pattern inside `box`; they run on from box to box."""
    lines: dict[Pattern, Callable[[], list[Segment]]] = {
        Pattern.PLAIN: list,
        Pattern.RISING: lambda: _sloping(box, _GAP, 1),
        Pattern.FALLING: lambda: _sloping(box, _GAP, -1),
        Pattern.LEVEL: lambda: _level(box, _GAP),
        Pattern.UPRIGHT: lambda: _upright(box, _GAP),
        Pattern.CROSSED: lambda: _sloping(box, _SPARSE, 1) + _sloping(box, _SPARSE, -1),
        Pattern.CHECKED: lambda: _level(box, _SPARSE) + _upright(box, _SPARSE),
        Pattern.DOTS: lambda: _dots(box),
        Pattern.BROKEN: lambda: _sloping(box, _SPARSE, 1),
    }
    return lines[swatch.pattern]()


def _between(low: float, high: float, gap: float) -> list[float]:
    """Multiples of `gap` strictly inside, so that no line doubles an outline."""
    return [k * gap for k in range(floor(low / gap) + 1, ceil(high / gap))]


def _level(box: Box, gap: float) -> list[Segment]:
    return [((box.x, y), (box.right, y)) for y in _between(box.y, box.top, gap)]


def _upright(box: Box, gap: float) -> list[Segment]:
    return [((x, box.y), (x, box.top)) for x in _between(box.x, box.right, gap)]


def _sloping(box: Box, gap: float, slope: int) -> list[Segment]:
    """Lines y = slope · x + c at 45°, cut off at the box."""
    gap *= 2**0.5
    ends = [y - slope * x for x in (box.x, box.right) for y in (box.y, box.top)]
    lines = []
    for c in _between(min(ends), max(ends), gap):
        low, high = sorted((slope * (box.y - c), slope * (box.top - c)))
        start, end = max(box.x, low), min(box.right, high)
        lines.append(((start, slope * start + c), (end, slope * end + c)))
    return lines


def _dots(box: Box) -> list[Segment]:
    """Dots in rows, every second row moved by half a gap."""
    dots = []
    for y in _between(box.y + 0.6, box.top - 0.6, _GAP / 2**0.5):
        shift = _GAP / 2 * (round(y / (_GAP / 2**0.5)) % 2)
        dots += [
            ((x + shift, y), (x + shift + 0.01, y)) for x in _between(box.x + 1 - shift, box.right - 1 - shift, _GAP)
        ]
    return dots
