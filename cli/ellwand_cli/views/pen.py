"""Lines, boxes, patterns and words on an Axes whose units are points, origin at the lower left."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING, Literal

from ellwand_cli.views.palette import INK, Pattern, Swatch
from ellwand_cli.views.typeset import drawn_width, font

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = [
    "Box", "Point", "Segment", "blank_figure", "fill", "frame", "hatch", "pattern_lines", "points_axes", "polygon",
    "polygons", "rule", "surround", "write",
]  # fmt: skip

Point = tuple[float, float]
Segment = tuple[Point, Point]
_MOVE, _LINE, _CLOSE = 1, 2, 79  # what matplotlib calls MOVETO, LINETO and CLOSEPOLY
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

    def meets(self, other: Box) -> bool:
        """Whether the two lie on each other."""
        return self.x < other.right and other.x < self.right and self.y < other.top and other.y < self.top

    def common(self, other: Box) -> Box:
        """What both cover; without width or height where they do not meet."""
        x, y = max(self.x, other.x), max(self.y, other.y)
        return Box(x, y, max(0.0, min(self.right, other.right) - x), max(0.0, min(self.top, other.top) - y))

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
    _draw(ax, [_corners(box) for box in boxes], _Look(colour=colour, filled=True, zorder=2 if above else 1))


def frame(
    ax: Axes, boxes: Sequence[Box], *, colour: str = INK, width: float = 0.7, dashed: bool = False, label: str = ""
) -> None:
    """Outline `boxes`; `label` is the artist's."""
    look = _Look(colour=colour, width=width, dashes=(3.2, 2.0) if dashed else (), label=label)
    _draw(ax, [_corners(box) for box in boxes], look)


def polygon(ax: Axes, corners: Sequence[Point], colour: str) -> None:
    """Fill any shape."""
    _draw(ax, [corners], _Look(colour=colour, filled=True))


def polygons(ax: Axes, shapes: Sequence[Sequence[Point]], colour: str) -> None:
    """Fill any shapes, which do not lie on each other."""
    _draw(ax, shapes, _Look(colour=colour, filled=True))


def surround(ax: Axes, box: Box, hole: Sequence[Point], colour: str) -> None:
    """Fill a box but for a shape in it."""
    doubled = sum(a * d - c * b for (a, b), (c, d) in zip(hole, [*hole[1:], *hole[:1]], strict=True))
    against = hole if doubled < 0 else hole[::-1]  # what runs round the other way is left out
    _draw(ax, [_corners(box), against], _Look(colour=colour, filled=True))


def rule(
    ax: Axes,
    segments: Sequence[Segment],
    *,
    colour: str = INK,
    width: float = 0.6,
    round_: bool = False,
    dashes: tuple[float, ...] = (),
    label: str = "",
) -> None:
    """Draw straight lines, in strokes and gaps of `dashes` points; with `round_`, very short ones are dots.

    `label` is the artist's.
    """
    look = _Look(colour=colour, width=width, dashes=dashes, round_=round_, open_=True, label=label)
    _draw(ax, segments, look)


def _corners(box: Box) -> tuple[Point, ...]:
    return (box.x, box.y), (box.right, box.y), (box.right, box.top), (box.x, box.top)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """How shapes are drawn: filled, or as outlines; `open_` ones are lines. `dashes` are stroke and gap, points."""

    colour: str
    filled: bool = False
    width: float = 0.0
    dashes: tuple[float, ...] = ()
    round_: bool = False
    open_: bool = False
    zorder: int = 1
    label: str = ""


def _draw(ax: Axes, shapes: Sequence[Sequence[Point]], look: _Look) -> None:
    """Draw all `shapes` as one artist with one path: a picture has thousands of shapes, and artists are slow."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    if not shapes:
        return
    points: list[Point] = []
    codes: list[int] = []
    for shape in shapes:
        closing = () if look.open_ else (shape[0],)
        points += [*shape, *closing]
        codes += [_MOVE, *[_LINE] * (len(shape) - 1), *[_CLOSE] * len(closing)]
    patch = PathPatch(
        Path(points, codes),
        facecolor=look.colour if look.filled else "none",
        edgecolor="none" if look.filled else look.colour,
        linewidth=look.width,
        # matplotlib counts dashes in line widths
        linestyle=(0, tuple(dash / look.width for dash in look.dashes)) if look.dashes else "solid",
        capstyle="round" if look.round_ else "butt",
        joinstyle="miter",
        zorder=look.zorder,
        label=look.label,
    )
    if look.open_:
        patch.set_snap(False)  # dots would be rounded away
    _add(ax, patch)


def _add(ax: Axes, artist: Artist) -> None:
    """Put `artist` on the figure of `ax`, in its units; Axes would clip each, which takes longer than to draw it."""
    figure = ax.get_figure(root=True)
    assert figure is not None
    artist.set_transform(ax.transData)
    figure.add_artist(artist)


def write(
    ax: Axes,
    at: tuple[float, float],
    text: str,
    size: float,
    *,
    bold: bool = False,
    colour: str = INK,
    ha: Literal["left", "center", "right"] = "left",
    upright: bool = False,
) -> None:
    """Write one line of `text` with `at` as its anchor on the baseline; `upright` turns it to read from below."""
    from ellwand_cli.views.lettering import Lettering

    words = Lettering(*at, text, width=drawn_width(text, size, bold=bold), font=font(size, bold), colour=colour)
    words.set_horizontalalignment(ha)
    words.set_rotation(90 if upright else 0)
    words.set_zorder(3)
    _add(ax, words)


def hatch(ax: Axes, swatch: Swatch, boxes: Sequence[Box], *, width: float = 0.45) -> None:
    """Draw a swatch's pattern in `boxes`."""
    lines = [line for box in boxes for line in pattern_lines(swatch, box)]
    dots = swatch.pattern is Pattern.DOTS
    dashes = (3.5, 4.5) if swatch.pattern is Pattern.BROKEN else ()
    rule(ax, lines, colour=swatch.line, width=1.1 if dots else width, round_=dots, dashes=dashes)


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
        Pattern.BROKEN: lambda: _sloping(box, _GAP, 1),
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
