"""Projects made at random, as project files: the laws hold for all of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import strategies as st

from ellwand.lengths import unit_length
from ellwand.project.read import parse_project
from ellwand.project.tables import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """A random border."""

    width: Fraction
    corners: str
    cut: str
    fabric: str
    sewn_together: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHand:
    """A random cloth on hand; without `width` a length of the bolt's."""

    length: Fraction
    width: Fraction | None = None
    count: int = 1
    washed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """The few values that a random project varies, all inches or counts.

    In a centimetre project the same lengths are written in whole millimetres, near what they are in inches.
    `ink` is the fabric of everything, `oat` of what says so, a bolt like it with no cloth on hand.
    """

    unit: str
    ruler: Fraction
    layout: str
    stages: str
    copies: int
    across: int
    down: int
    block: Fraction
    margin: Fraction
    grain: str
    patch: tuple[Fraction, Fraction]
    patches: int
    borders: tuple[Border, ...]
    binding: bool
    backing: str | None  # its fabric
    way: str
    width: int
    shrinks: tuple[int, int] | None  # per cent, lengthwise and crosswise; None: not washed
    sold_by: str
    price: str
    on_hand: tuple[OnHand, ...]
    buy: bool = True

    def text(self) -> str:
        """The draft as a project file."""
        parts = [self._head(), self._blocks(), *map(self._border, range(len(self.borders)))]
        parts += ['[binding]\nfabric = "ink"\n'] * self.binding
        parts += [f'[backing]\nfabric = "{self.backing}"\noverhang = {self._length(Fraction(2))}\n'] * bool(
            self.backing
        )
        cloths = ", ".join(map(self._cloth, self.on_hand))
        return "\n".join([*parts, f"{self._bolt('ink')}on_hand = [{cloths}]\n", self._bolt("oat")])

    def project(self) -> Project:
        """The draft, read as a project."""
        return parse_project(self.text(), "random.toml")

    def _length(self, inches: Fraction) -> str:
        if self.unit == "in":
            return f'"{inches} in"'
        return f'"{round(inches / unit_length("mm"))} mm"'

    def _head(self) -> str:
        return (
            f'[project]\nname = "random"\nunit = "{self.unit}"\nlayout = "{self.layout}"\nstages = {self.stages}\n'
            f"ruler = {self._length(self.ruler)}\ncopies = {self.copies}\n"
            f"[quilt]\nacross = {self.across}\ndown = {self.down}\n"
        )

    def _blocks(self) -> str:
        side, across, down = (self._length(length) for length in (self.block, *self.patch))
        return (
            f'[[block]]\nname = "b"\nfinished = [{side}, {side}]\n'
            f'[[block.piece]]\nname = "ground"\nfabric = "ink"\ncovers = [1, 1]\nmargin = {self._length(self.margin)}\n'
            f'[[piece]]\nname = "patch"\nfabric = "ink"\ncut = [{across}, {down}]\n'
            f'count = {self.patches}\ngrain = "{self.grain}"\n'
        )

    def _border(self, number: int) -> str:
        border = self.borders[number]
        return (
            f'[[border]]\nname = "edge {number}"\nfabric = "{border.fabric}"\nwidth = {self._length(border.width)}\n'
            f'corners = "{border.corners}"\ncut = "{border.cut}"\n'
            f"sewn_together = {str(border.sewn_together).lower()}\n"
        )

    def _bolt(self, name: str) -> str:
        lines = [f"[fabric.{name}]", f"width = {self._length(Fraction(self.width))}", f'way = "{self.way}"']
        if self.shrinks:
            lengthwise, crosswise = self.shrinks
            lines += ["wash = true", f'shrinks = ["{lengthwise} %", "{crosswise} %"]']
        lines += [f'sold_by = "{self.sold_by}"', f"buy = {str(self.buy).lower()}"]
        lines += [f"price = {self.price}"] * bool(self.price)
        return "\n".join([*lines, ""])

    def _cloth(self, cloth: OnHand) -> str:
        told = [f"length = {self._length(cloth.length)}", f"washed = {str(cloth.washed).lower()}"]
        if cloth.width is not None:
            told += [f"width = {self._length(cloth.width)}", f"count = {cloth.count}"]
        return f"{{ {', '.join(told)} }}"


def eighths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    """Lengths on a ruler of eighths, from `low` to `high` inches."""
    return st.integers(8 * low, 8 * high).map(lambda marks: Fraction(marks, 8))


_on_hand = st.builds(OnHand, length=eighths(10, 40), washed=st.booleans()) | st.builds(
    OnHand,
    length=st.just(Fraction(18)),
    width=st.just(Fraction(22)),
    count=st.integers(1, 2),
    washed=st.booleans(),
)

_border = st.builds(
    Border,
    width=eighths(1, 5),
    corners=st.sampled_from(["mitred", "butted"]),
    cut=st.sampled_from(["best", "lengthwise", "crosswise"]),
    fabric=st.sampled_from(["ink", "ink", "oat"]),
)


@st.composite
def _borders(draw: st.DrawFn) -> tuple[Border, ...]:
    """None, one or two borders; two mitred ones may be sewn together before they are mitred.

    Only the first may be cut as it is best: each such border multiplies the ways that are tried by four.
    """
    borders = [draw(_border) for _ in range(draw(st.sampled_from([0, 1, 2, 2])))]
    if len(borders) == 2:
        together = {border.corners for border in borders} == {"mitred"} and draw(st.booleans())
        cut = draw(st.sampled_from(["lengthwise", "crosswise"]))
        borders[1] = replace(borders[1], cut=cut, sewn_together=together)
    return tuple(borders)


@st.composite
def _drafts(draw: st.DrawFn, *ways: str) -> Draft:
    """A draft; cloth with a top and a bottom lets nothing be turned, and its borders are cut as they hang.

    Free layouts are of one copy: they take a second where straight cuts take a moment.
    """
    unit = draw(st.sampled_from(["in", "in", "cm"]))
    layout = draw(st.sampled_from(["rotary", "rotary", "free"]))
    way = draw(st.sampled_from(ways))
    borders = draw(_borders())
    rulers = [Fraction(1, 8)] * 3 + [Fraction(1, 4), Fraction(1, 16)]
    return Draft(
        unit=unit,
        ruler=draw(st.sampled_from(rulers)) if unit == "in" else unit_length("mm") * draw(st.sampled_from([1, 5])),
        layout=layout,
        stages=draw(st.sampled_from(["3", "3", '"any"'])),
        copies=draw(st.sampled_from([1, 1, 2])) if layout == "rotary" else 1,
        across=draw(st.integers(1, 3)),
        down=draw(st.integers(1, 4)),
        block=draw(eighths(3, 9)),
        margin=draw(eighths(1, 2)),
        grain=draw(st.sampled_from(["lengthwise", "crosswise", "either"])) if way == "any" else "lengthwise",
        patch=draw(st.tuples(eighths(1, 9), eighths(1, 12))),
        patches=draw(st.integers(2, 12)),
        borders=borders if way == "any" else tuple(replace(border, cut="best") for border in borders),
        binding=draw(st.booleans()),
        backing=draw(st.sampled_from([None, "ink", "oat"])),
        way=way,
        width=draw(st.integers(38, 46)),
        shrinks=draw(st.sampled_from([None, (3, 2), (8, 0), (1, 5)])),
        sold_by=draw(st.sampled_from(["1/8 yd", "1/4 yd", "10 cm", "0.3 m"])),
        price=draw(st.sampled_from(["10.5", "0.99", ""])),
        on_hand=tuple(draw(_on_hand) for _ in range(draw(st.sampled_from([0, 1, 2])))),
    )


drafts = _drafts("any", "any", "any", "one-way", "stripe")
drafts_that_may_turn = _drafts("any")


def wider(draft: Draft) -> Draft:
    """The same with cloth two inches wider; the cloth on hand stays away, since strips are cut to the bolt's width."""
    return replace(draft, width=draft.width + 2)


def turning(draft: Draft) -> Draft:
    """The same with the loose patches free to turn."""
    return replace(draft, grain="either")


def one_less(draft: Draft) -> Draft:
    """The same with one loose patch less."""
    return replace(draft, patches=draft.patches - 1)
