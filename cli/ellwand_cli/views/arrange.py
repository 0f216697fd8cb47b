"""Where a cloth comes to lie on paper: its outline, the scale, bands side by side, pages.

Cloth lies with its width across the page and its squared end at the bottom, as it lies before the cutter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from ellwand.model import FabricPlan, Layout, Source
from ellwand_cli.views.bands import Band, Drawn, condense, split
from ellwand_cli.views.origin import as_told, is_missing, selvages
from ellwand_cli.views.pen import Box

__all__ = [
    "ABOVE", "BREAK", "LEFT", "RIGHT", "Arrangement", "Outline", "Sides", "Survey", "arrange", "outline", "pages",
    "survey",
]  # fmt: skip

# Room around a band, points: the stick and its numbers; marks, strips and length; width; what is left.
LEFT, RIGHT, ABOVE = 36.0, 80.0, 18.0
_BELOW, _BELOW_BRACES = 52.0, 78.0  # with strips along the cloth braced below it
BREAK = 16.0  # below and above a break: its letter
_LARGEST = 36.0  # points an inch: half size
_SLENDER = Fraction(5, 2)  # a cloth longer than so many widths is broken
_MOST_BANDS = 8
_NARROWEST, _SMALLEST = 130.0, 3.1  # points of usable width and points an inch; below both a sheet takes another page
_REST = 30.0  # points of cloth beyond the last piece that are drawn


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A cloth's edges, inches: what is lost at its sides and ends, what is shown, what stays on beyond.

    `lengthwise` where its first cuts run along it.
    """

    usable: Fraction
    selvage_left: Fraction
    selvage_right: Fraction
    squaring: Fraction  # at the squared end
    far_squaring: Fraction
    extent: Fraction
    rest: Fraction
    lengthwise: bool = False

    @property
    def below(self) -> float:
        """Room below the squared end, points."""
        return _BELOW_BRACES if self.lengthwise else _BELOW

    @property
    def width(self) -> Fraction:
        """The whole width."""
        return self.selvage_left + self.usable + self.selvage_right


def outline(fabric_plan: FabricPlan, layout: Layout, *, lengthwise: bool = False) -> Outline:
    """The edges of a layout's cloth.

    A full width loses a selvage at each side. Where one alone is lost, that is the left one, from which positions
    are measured; what rounding takes where there is none is not shown. A second squared end is the far one. A
    missing cloth ends with what is missing.
    """
    cloth, fabric = layout.cloth, fabric_plan.fabric
    edges = selvages(fabric_plan, cloth)
    lost = cloth.width - cloth.across if edges else Fraction(0)
    left = lost if edges == 1 else lost / 2
    missing = is_missing(fabric_plan, cloth)
    far = cloth.squaring / 2 if fabric.square_up_ends == 2 and not cloth.whole else Fraction(0)
    extent = cloth.along if cloth.whole else layout.used - cloth.squaring
    return Outline(
        usable=cloth.across,
        selvage_left=left,
        selvage_right=lost - left,
        squaring=cloth.squaring - far,
        far_squaring=far if cloth.source is Source.BUY and not missing else Fraction(0),
        extent=extent,
        rest=Fraction(0) if missing or cloth.outline else max(cloth.length - cloth.squaring - extent, Fraction(0)),
        lengthwise=lengthwise,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """A band's edges on paper: usable left, right, start and end; the cloth's own left, right and lower edge."""

    left: float
    right: float
    start: float
    end: float
    cloth_left: float
    cloth_right: float
    low: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """A cloth's edges and what is drawn within them."""

    edges: Outline
    drawn: Drawn


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """Bands side by side on one paper, `scale` points to an inch, and the room they take with all around them."""

    scale: float
    bands: tuple[Band, ...]
    drawn: Drawn
    edges: Outline
    w: float
    h: float
    before: int = 0  # bands on earlier papers

    def first(self, band: Band) -> bool:
        """Whether `band` begins at the squared end."""
        return band.start == 0

    def last(self, band: Band) -> bool:
        """Whether `band` ends where the layout does."""
        return band.end == self.drawn.extent

    @property
    def rest_height(self) -> float:
        """Points of the cloth beyond the last piece that are drawn."""
        return min(float(self.edges.rest) * self.scale, _REST)

    def sides(self, band: Band, origin: tuple[float, float]) -> Sides:
        """The edges of `band`, whose lower left usable corner is `origin`."""
        (x, y), right = origin, origin[0] + float(self.edges.usable) * self.scale
        squaring = float(self.edges.squaring) * self.scale if self.first(band) else 0.0
        return Sides(
            left=x,
            right=right,
            start=y,
            end=y + float(band.along) * self.scale,
            cloth_left=x - float(self.edges.selvage_left) * self.scale,
            cloth_right=right + float(self.edges.selvage_right) * self.scale,
            low=y - squaring,
        )

    def origins(self, box: Box) -> tuple[tuple[Band, float, float], ...]:
        """Every band with the place of its lower left usable corner when the whole lies at the top of `box`."""
        width = float(self.edges.width) * self.scale
        x = box.x + max(0.0, (box.w - self.w) / 2)
        found = []
        for band in self.bands:
            squaring = float(self.edges.squaring) * self.scale if self.first(band) else 0.0
            below = self.edges.below + squaring if any(map(self.first, self.bands)) else BREAK
            found.append((band, x + LEFT + float(self.edges.selvage_left) * self.scale, box.top - self.h + below))
            x += LEFT + width + RIGHT
        return tuple(found)


def survey(fabric_plan: FabricPlan, layout: Layout, *, lengthwise: bool = False) -> Survey:
    """What is drawn of a cloth, whatever the paper; `lengthwise` where its first cuts run along it."""
    edges = outline(fabric_plan, layout, lengthwise=lengthwise)
    return Survey(edges=edges, drawn=condense(as_told(fabric_plan, layout), edges.extent))


def arrange(cloth: Survey, w: float, h: float) -> Arrangement:
    """The largest drawing of a cloth that `w` × `h` points hold, all on one paper."""
    edges, drawn = cloth.edges, cloth.drawn
    if drawn.extent <= _SLENDER * edges.width:
        return _fitted(edges, drawn, split(drawn, 1), w, h)
    tries = [_fitted(edges, drawn, split(drawn, count), w, h) for count in range(2, _MOST_BANDS + 1)]
    return max(tries, key=lambda found: found.scale)


def pages(cloth: Survey, w: float, h: float) -> tuple[Arrangement, ...]:
    """The same on as many papers as keep the cloth large enough to read, all at one scale."""
    single = arrange(cloth, w, h)
    edges, drawn = cloth.edges, cloth.drawn
    least_scale = min(_NARROWEST / float(edges.usable), _SMALLEST)
    if single.scale >= least_scale or len(single.bands) == 1:
        return (single,)
    across = max(1, int(w // (least_scale * float(edges.width) + LEFT + RIGHT)))
    scale = (w / across - LEFT - RIGHT) / float(edges.width)
    tallest = (h - edges.below - ABOVE - _REST - float(edges.squaring + edges.far_squaring) * scale) / scale
    count = ceil(float(drawn.extent) / tallest * 1.1)
    bands = split(drawn, ceil(count / across) * across)
    papers = [bands[start : start + across] for start in range(0, len(bands), across)]
    least = min(_fitted(edges, drawn, paper, w, h).scale for paper in papers)
    return tuple(
        replace(_scaled(edges, drawn, paper, least), before=number * across) for number, paper in enumerate(papers)
    )


def _fitted(edges: Outline, drawn: Drawn, bands: tuple[Band, ...], w: float, h: float) -> Arrangement:
    """`bands` as large as they go into `w` × `h`."""
    wide = (w - len(bands) * (LEFT + RIGHT)) / (len(bands) * float(edges.width))
    room = h - edges.below - ABOVE - (_REST if edges.rest else 0)
    tall = room / float(max(band.along for band in bands) + edges.squaring + edges.far_squaring)
    return _scaled(edges, drawn, bands, max(0.05, min(wide, tall, _LARGEST)))


def _scaled(edges: Outline, drawn: Drawn, bands: tuple[Band, ...], scale: float) -> Arrangement:
    first = any(band.start == 0 for band in bands)
    last = any(band.end == drawn.extent for band in bands)
    height = float(max(band.along for band in bands)) * scale + (edges.below if first else BREAK)
    height += float(edges.squaring) * scale if first else 0.0
    height += (float(edges.far_squaring) * scale + min(float(edges.rest) * scale, _REST) + ABOVE) if last else BREAK
    width = len(bands) * (LEFT + float(edges.width) * scale + RIGHT)
    return Arrangement(scale=scale, bands=bands, drawn=drawn, edges=edges, w=width, h=height)
