"""Plans to draw: pieces laid in shelves by a simple rule, so that pictures are tested without a solver."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

from ellwand.areas import area_of
from ellwand.cloths import cloth_to_buy, cloths_on_hand, purchase, usable_width
from ellwand.cuts import cut_tree, cuts_of, offcuts_of
from ellwand.model import Cloth, FabricPlan, Layout, Piece, Placed, Plan, Role
from ellwand.project.tables import Fabric, OnHand, Project, Style
from ellwand.quilt.work import work_out
from ellwand.reckoning import Proof

F = Fraction
_DOTS = 120  # an inch, as pictures are written
_LEADING = 2.0  # points by which the boxes of two lines may meet: ascent and descent with no ink in them
HOSTILE = '$x_{1}$ <script>alert("x")</script> <b>&amp; שלום \U0001f9f5 ' + "very-long-name-" * 12


def piece(id: str, across: object, along: object, count: int, role: Role = Role.BLOCK, after: str = "") -> Piece:
    """A piece that may not be turned."""
    return Piece(
        id=id, fabric="ink", role=role, across=F(str(across)), along=F(str(along)), count=count,
        turnable=False, why="as given", after=after,
    )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Request:
    """What a fabric of a drawn plan is made of."""

    pieces: tuple[Piece, ...]
    width: str = "43"
    note: str = "dark blue cotton"
    on_hand: tuple[OnHand, ...] = ()
    name: str = "ink"
    woven: bool = True


@dataclass
class Shelves:
    """Pieces laid row by row on one cloth: lengthwise ones first, then rows beside them, then rows above."""

    across: Fraction
    placed: list[Placed] = field(default_factory=list)

    def lay(self, pieces: Sequence[Piece]) -> None:
        """Lay every copy of every piece; the cloth has no end."""
        singles = [one for one in pieces for _ in range(one.count)]
        long = [one for one in singles if one.along > self.across]
        short = sorted((one for one in singles if one.along <= self.across), key=lambda one: -one.along)
        x = y = F(0)
        for one in long:
            if x + one.across > self.across:
                x, y = F(0), max(item.y + item.along for item in self.placed)
            self._put(one, x, y)
            x += one.across
        top = max((item.y + item.along for item in self.placed), default=F(0))
        rest = self._rows(short, x, y, top) if long else short
        self._rows(rest, F(0), top, None)

    def _rows(self, pieces: list[Piece], left: Fraction, low: Fraction, top: Fraction | None) -> list[Piece]:
        waiting = list(pieces)
        y = low
        while waiting and (top is None or y + waiting[0].along <= top) and left + waiting[0].across <= self.across:
            x, height = left, waiting[0].along
            for one in list(waiting):
                if x + one.across <= self.across:
                    waiting.remove(one)
                    self._put(one, x, y)
                    x += one.across
            y += height
        return waiting

    def _put(self, one: Piece, x: Fraction, y: Fraction) -> None:
        self.placed.append(Placed(piece=one.id, x=x, y=y, across=one.across, along=one.along, turned=False))


def make_fabric(request: Request, unit: str) -> Fabric:
    """A fabric with half an inch of selvage and of squaring."""
    return Fabric(
        id=request.name, note=request.note, width=F(request.width), selvage=F(1, 2), woven=request.woven,
        square_up=F(1, 2), sold_by=F(9, 2) if unit == "in" else F(500, 127), price=F(25, 2), on_hand=request.on_hand,
    )  # fmt: skip


def make_layout(cloth: Cloth, placed: Sequence[Placed], style: Style, keep: Fraction) -> Layout:
    """A layout with its tree of cuts."""
    edge = max(item.y + item.along for item in placed)
    used = cloth.length if cloth.whole else edge + cloth.squaring
    if style is Style.FREE:
        return Layout(cloth=cloth, used=used, placed=tuple(placed), offcuts=())
    tree = cut_tree(cloth.across, cloth.along, placed, stages=3, whole=cloth.whole)
    return Layout(
        cloth=cloth, used=used, placed=tuple(placed), offcuts=offcuts_of(tree, keep), tree=tree, cuts=cuts_of(tree)
    )


def make_fabric_plan(request: Request, project: Project) -> FabricPlan:
    """All pieces on the first cloth on hand, else on cloth to buy."""
    fabric, ruler = project.fabrics[request.name], project.ruler
    cloths = cloths_on_hand(fabric, ruler)
    shelves = Shelves(cloths[0].across if cloths else usable_width(fabric, ruler))
    shelves.lay(request.pieces)
    edge = max(item.y + item.along for item in shelves.placed)
    cloth = cloths[0] if cloths else cloth_to_buy(fabric, 1, edge, ruler)
    layouts = (make_layout(cloth, shelves.placed, project.style, project.keep),)
    needed = F(0) if cloths else edge
    bought = purchase(fabric, needed, ruler)
    return FabricPlan(
        fabric=fabric, pieces=request.pieces, constructions=(), usable_width=usable_width(fabric, ruler),
        needed=needed, bound=needed * F(49, 50), steps=bought.steps, bought=bought.length,
        bound_bought=bought.length, cost=Decimal("21.88") if needed else None, area=area_of(layouts),
        shrinkage=F(0), layouts=layouts, proof=Proof(theorem="by hand"), method="shelves",
    )  # fmt: skip


def make_plan(
    *requests: Request, unit: str = "in", style: Style = Style.ROTARY, name: str = "Harbour Lanterns"
) -> Plan:
    """A plan of an invented project."""
    project = Project(
        source="quilt.toml", name=name, unit=unit, ruler=F(1, 8) if unit == "in" else F(5, 127), seam=F(1, 4),
        style=style, stages=3, keep=F(4), copies=1, setting=None, blocks=(), stabiliser=None, pieces=(), borders=(),
        binding=None, backing=None, batting=None,
        fabrics={request.name: make_fabric(request, unit) for request in requests},
    )  # fmt: skip
    fabrics = tuple(make_fabric_plan(request, project) for request in requests)
    return Plan(project=project, sizes=None, fabrics=fabrics, warnings=(), effort="quick", seed=0, seconds=0.0)


def on_hand(width: str | None, length: str) -> OnHand:
    """Cloth on hand; a rectangle without selvages where it has a width."""
    whole = width is not None
    return OnHand(
        length=F(length), width=F(width) if width is not None else None, selvages=0 if whole else 2, washed=True,
        square_up=F(0) if whole else F(1, 2),
    )  # fmt: skip


def sewn_plan(project: Project) -> Plan:
    """A plan of `project` with every part made in the first way that it may be made, and no layouts."""
    quilt = work_out(project)
    fabrics = []
    for fabric in project.fabrics.values():
        parts = [part for part in quilt.parts if part.fabric == fabric.id]
        fabrics.append(
            FabricPlan(
                fabric=fabric, pieces=tuple(piece for part in parts for piece in part.options[0].pieces),
                constructions=tuple((part.name, part.options[0].name) for part in parts),
                usable_width=usable_width(fabric, project.ruler), needed=F(36), bound=F(36), steps=8, bought=F(36),
                bound_bought=F(36), cost=None, area=area_of(()), shrinkage=F(0), layouts=(),
                proof=Proof(theorem="by hand"), method="none",
            )
        )  # fmt: skip
    return Plan(
        project=project, sizes=quilt.sizes, fabrics=tuple(fabrics), warnings=(), effort="quick", seed=0, seconds=0.0
    )


def _long_bolt() -> Plan:
    borders = (
        piece("outer/left", "4.5", 81, 1, Role.BORDER),
        piece("outer/right", "4.5", 81, 1, Role.BORDER),
        piece("outer/top", "4.5", "72.5", 1, Role.BORDER),
        piece("outer/bottom", "4.5", "72.5", 1, Role.BORDER),
        piece("inner/left", "1.25", 64, 1, Role.BORDER),
    )
    blocks = (
        piece("outer/spare", "4.5", 96, 1, Role.BORDER),
        piece("lantern/background", 10, 10, 30, after="trim to 9 × 9 in after stitching"),
        piece("lantern/roof", "3.5", "4.25", 24),
        piece("binding/1", "41.5", 3, 7, Role.BINDING),
    )
    return make_plan(Request(pieces=borders + blocks))


def _fat_quarter() -> Plan:
    pieces = (
        piece("star/point", "0.75", "0.75", 60), piece("star/centre", "1.5", "1.5", 12),
        piece("leaf", 3, "4.5", 5), piece("stalk", "0.375", 9, 3), piece("edge", 18, "0.25", 2),
    )  # fmt: skip
    return make_plan(Request(pieces=pieces, on_hand=(on_hand("21", "18"),), width="42"))


def _many() -> Plan:
    pieces = tuple(piece(f"tile {number}", 2 + F(number, 4), 3 + F(number % 5, 2), 20) for number in range(10))
    return make_plan(Request(pieces=pieces))


def _hostile() -> Plan:
    pieces = (
        piece(HOSTILE, 10, 10, 5), piece("<b>bold</b>", 4, 6, 7), piece("$\\frac{1}{2$", 3, 3, 9),
        piece("Ωμέγα \U0001f600", "2.5", 8, 4),
    )  # fmt: skip
    return make_plan(Request(pieces=pieces, note=HOSTILE, name=HOSTILE), name=HOSTILE)


def _metric() -> Plan:
    cm = F(50, 127)
    pieces = (
        piece("hintergrund", 25 * cm, 25 * cm, 9), piece("rand", F(13, 2) * cm, 150 * cm, 4, Role.BORDER),
        piece("binding/1", 100 * cm, 7 * cm, 5, Role.BINDING),
    )  # fmt: skip
    return make_plan(Request(pieces=pieces, width=str(110 * cm)), unit="cm")


def _kit() -> Plan:
    pieces = (
        piece("lantern/background", 10, 10, 360), piece("lantern/roof", "3.5", "4.25", 720),
        piece("binding/1", "41.5", 3, 210, Role.BINDING), piece("corner", 2, 2, 240),
    )  # fmt: skip
    return make_plan(Request(pieces=pieces))


def _thin() -> Plan:
    pieces = (
        *(piece(f"stripe {number}", F(3, 4) + F(number, 8), 100, 2, Role.BORDER) for number in range(6)),
        *(piece(f"thread {number}", 28, F(1, 2) + F(number, 8), 1) for number in range(8)),
    )  # fmt: skip
    return make_plan(Request(pieces=pieces))


def _backing() -> Plan:
    batting = Request(
        pieces=(piece("batting", 60, 72, 1, Role.BATTING),), width="96", name="batting", note="", woven=False
    )
    backing = Request(
        pieces=(piece("backing/1", 40, 84, 2, Role.BACKING),), name="oat", note="cream", on_hand=(on_hand(None, "200"),)
    )
    return make_plan(backing, batting)


def _runner() -> Plan:
    pieces = (piece("runner", 20, 260, 1), piece("trim", "2.5", 250, 2, Role.BORDER), piece("tile", 6, 6, 30))
    return make_plan(Request(pieces=pieces))


def _free() -> Plan:
    return make_plan(Request(pieces=(piece("a", 10, 10, 6), piece("b", 5, 7, 9))), style=Style.FREE)


def _joined() -> Plan:
    join = "join end to end on the diagonal"
    pieces = (
        piece("frame/top/1", 42, 3, 1, Role.BORDER, f"{join}; cut long now"),
        piece("binding/1", 42, 3, 2, Role.BINDING, join),
        piece("frame/left/1", 42, 3, 1, Role.BORDER, f"{join}; cut long now"),
        piece("frame/top/2", 20, 3, 1, Role.BORDER, f"{join}; cut long now"),
        piece("frame/left/2", 20, 3, 1, Role.BORDER, f"{join}; cut long now"),
        piece("block", 10, 10, 4),
    )  # fmt: skip
    return make_plan(Request(pieces=pieces, on_hand=(on_hand(None, "27"),)))


def _pieced() -> Plan:
    twice, once = "cut twice on the diagonal, 4 triangles from a square", "cut once on the diagonal"
    join = "join end to end on the diagonal"
    pieces = (
        piece("triangle/side", "12.625", "12.625", 3, Role.TRIANGLE, twice),
        piece("triangle/corner", "6.625", "6.625", 2, Role.TRIANGLE, once),
        piece("flock/goose/sky", "2.875", "2.875", 32),
        piece("sash/level/1", 42, 2, 3, Role.SASHING, join),
        piece("sash/level/2", 12, 2, 3, Role.SASHING, join),
        piece("frame/cornerstone", "5.5", "5.5", 4, Role.BORDER),
    )
    return make_plan(Request(pieces=pieces))


_PLANS = {
    "long bolt": _long_bolt, "fat quarter": _fat_quarter, "many": _many, "hostile": _hostile, "metric": _metric,
    "kit": _kit, "thin": _thin, "backing": _backing, "free": _free, "runner": _runner, "joined": _joined,
    "pieced": _pieced,
}  # fmt: skip


@pytest.fixture(params=sorted(_PLANS))
def plan(request: pytest.FixtureRequest) -> Plan:
    """Each of the plans in turn."""
    return _PLANS[request.param]()


@dataclass(frozen=True)
class Words:
    """What is written on a figure: each text with its box on paper, in points."""

    text: str
    size: float
    left: float
    low: float
    right: float
    top: float


def words_of(figure: Figure) -> list[Words]:
    """Every text that a figure shows, measured by the renderer."""
    figure.set_dpi(_DOTS)
    canvas = FigureCanvasAgg(figure)
    canvas.draw()  # type: ignore[no-untyped-call]
    renderer = canvas.get_renderer()  # type: ignore[no-untyped-call]
    found = []
    for text in figure.findobj(Text):
        assert isinstance(text, Text)
        if text.get_text() and text.get_visible():
            box = text.get_window_extent(renderer)
            edges = (float(edge) * 72 / _DOTS for edge in (box.x0, box.y0, box.x1, box.y1))
            found.append(Words(text.get_text(), float(text.get_fontsize()), *edges))
    return found


def faults_of(figure: Figure) -> list[str]:
    """Words that are too small, run off the paper or meet others."""
    w, h = figure.get_figwidth() * 72, figure.get_figheight() * 72
    words = words_of(figure)
    faults = [f"small: {one.text}" for one in words if one.size < 7]
    faults += [f"clipped: {one.text}" for one in words if one.left < 0 or one.low < 0 or one.right > w or one.top > h]
    for number, one in enumerate(words):
        for other in words[number + 1 :]:
            across = min(one.right, other.right) - max(one.left, other.left)
            up = min(one.top, other.top) - max(one.low, other.low)
            if across > 0.5 and up > _LEADING:
                faults.append(f"overlap: {one.text!r} and {other.text!r} by {across:.1f} × {up:.1f}")
    return faults


@pytest.fixture(scope="session")
def faults() -> Callable[[Figure], list[str]]:
    """The measuring of a figure's words."""
    return faults_of


@pytest.fixture
def words() -> Callable[[Figure], list[Words]]:
    """What a figure says and where."""
    return words_of


@pytest.fixture(scope="session")
def sewn() -> Callable[[Project], Plan]:
    """Plans of projects, every part made in the first way that it may be made."""
    return sewn_plan


@pytest.fixture
def named_plan() -> Callable[[str], Plan]:
    """One of the plans by its name."""
    return lambda name: _PLANS[name]()


@pytest.fixture
def bordered() -> Callable[[Fraction], Plan]:
    """A plan whose four borders have a given finished width."""

    def build(width: Fraction) -> Plan:
        borders = piece("outer", width + F(1, 2), 70 + 2 * width, 4, Role.BORDER)
        return make_plan(
            Request(pieces=(piece("block", 10, 10, 12), borders)),
            Request(pieces=(piece("patch", 7, 9, 20 + int(width * 4)),), name="oat $a$ <i>" + "x" * 150),
        )

    return build
