"""Quilts made at random, as project files in inches or centimetres; the laws of the arithmetic hold for all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from hypothesis import strategies as st

from ellwand.model import Quilt
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.quilt.work import work_out

__all__ = ["PATCHES", "QUILTS", "Made", "Rim", "Sashes", "in_centimetres", "in_inches", "project_of", "worked_out"]

Write = Callable[[Fraction | int], str]  # eighths of an inch as a length that is read

# Of a pieced block, which is four units: what a unit takes: name, shape, width, height, how many, from one square.
PATCHES = (
    ("field", "square", 1, Fraction(1), 1, 1),
    ("leaf", "half-square", 1, Fraction(1), 1, 2),
    ("shade", "half-square", 1, Fraction(1), 1, 8),
    ("hour", "quarter-square", 1, Fraction(1), 2, 4),
    ("dial", "quarter-square", 1, Fraction(1), 2, 4),
    ("flock", "geese", 1, Fraction(1, 2), 1, 4),
    ("goose", "geese", 1, Fraction(1, 2), 1, 1),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rim:
    """A random border, lengths in eighths of an inch."""

    width: int
    seam: int
    extra: int
    corners: str
    cut: str
    join: str
    together: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Sashes:
    """Random sashing, lengths in eighths of an inch."""

    width: int
    cornerstones: bool
    outside: bool
    way: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A random quilt, lengths in eighths of an inch.

    Parameters
    ----------
    content
        Of its blocks: "layers", a stitched ground, or "patches", four pieced units.
    loose_seam
        The blocks' seam, where the line round them may have another.
    off
        The centre as measured, less the plan.
    """

    across: int
    down: int
    finished: tuple[int, int]
    content: str
    on_point: bool
    sashing: Sashes | None
    off: tuple[int, int] | None
    seam: int
    loose_seam: int
    trim: int
    margin: int
    frame: tuple[int, int]
    overlap: int
    rims: tuple[Rim, ...]
    edge: int
    strip: int
    grain: str
    join: str
    overhang: int
    panel_seam: int
    depth: int
    width: int
    roll: int
    shortest: int
    copies: int

    @property
    def line(self) -> int:
        """Seam of the line round the blocks."""
        return self.rims[0].seam if self.rims else self.edge

    @property
    def sashes(self) -> Sashes | None:
        """Its sashing; there is none on point."""
        return None if self.on_point else self.sashing

    @property
    def block_seam(self) -> int:
        """Seam of its blocks; where they alone make the edge, that of the line, so that it is sewn as it is cut."""
        return self.loose_seam if self.on_point or self.sashes else self.line

    @property
    def block(self) -> tuple[int, int]:
        """Finished size of a block; square on point, and of pieced ones, whose units can be halved."""
        side = self.finished[0] // 4 * 4
        return (side, side) if self.on_point or self.content == "patches" else self.finished

    @property
    def blocks(self) -> int:
        """How many blocks there are."""
        return self.across * self.down + (self.across - 1) * (self.down - 1) * self.on_point

    @property
    def planned(self) -> tuple[Fraction, Fraction]:
        """The centre as planned; √2 is taken to ten places."""
        sash, more = (self.sashes.width, 1 if self.sashes.outside else -1) if self.sashes else (0, 0)
        stretch = Fraction(14142135624, 10**10) if self.on_point else 1
        across, down = self.block
        return (
            (self.across * across + (self.across + more) * sash) * Fraction(stretch),
            (self.down * down + (self.down + more) * sash) * Fraction(stretch),
        )

    @property
    def centre(self) -> tuple[Fraction, Fraction]:
        """The centre that everything outside is worked out from."""
        across, down = self.planned
        return (
            (across, down)
            if self.off is None
            else (Fraction(int(across) + self.off[0]), Fraction(int(down) + self.off[1]))
        )

    def is_together(self, number: int) -> bool:
        """Whether border `number` is sewn to the one inside it before mitring."""
        rims = self.rims
        return 0 < number < len(rims) and rims[number].together and self._are_mitred(number)

    def _are_mitred(self, number: int) -> bool:
        return {self.rims[number].corners, self.rims[number - 1].corners} == {"mitred"}


_RIMS = st.builds(
    Rim,
    width=st.integers(8, 40),
    seam=st.integers(1, 5),
    extra=st.integers(0, 48),
    corners=st.sampled_from(["mitred", "mitred", "butted", "cornerstones"]),
    cut=st.sampled_from(["best", "crosswise", "lengthwise"]),
    join=st.sampled_from(["diagonal", "straight"]),
    together=st.booleans(),
)
_SASHES = st.builds(
    Sashes,
    width=st.integers(4, 24),
    cornerstones=st.booleans(),
    outside=st.booleans(),
    way=st.sampled_from(["any", "one-way", "stripe"]),
)
_SIZES = st.tuples(st.integers(24, 100), st.integers(24, 100))
QUILTS = st.builds(
    Made,
    across=st.integers(1, 6),
    down=st.integers(1, 6),
    finished=_SIZES,
    content=st.sampled_from(["layers", "patches"]),
    on_point=st.sampled_from([False, False, True]),
    sashing=st.none() | _SASHES,
    off=st.none() | st.tuples(st.integers(-6, 6), st.integers(-6, 6)),
    seam=st.integers(1, 5),
    loose_seam=st.integers(1, 5),
    trim=st.integers(1, 6),
    margin=st.integers(6, 12),
    frame=_SIZES,
    overlap=st.integers(4, 16),
    rims=st.sampled_from([0, 1, 2, 2, 3, 3]).flatmap(lambda number: st.tuples(*[_RIMS] * number)),
    edge=st.integers(1, 5),
    strip=st.integers(16, 30),
    grain=st.sampled_from(["crosswise", "lengthwise", "bias", "any"]),
    join=st.sampled_from(["diagonal", "straight"]),
    overhang=st.integers(0, 40),
    panel_seam=st.integers(0, 6),
    depth=st.integers(16, 40),
    width=st.integers(35, 45).map(lambda inches: 8 * inches),
    roll=st.integers(8, 15).map(lambda inches: 8 * inches),
    shortest=st.integers(0, 100),
    copies=st.integers(1, 3),
)


def in_inches(scale: int = 1) -> Write:
    """How lengths are written in inches, all `scale` times as long."""
    return lambda eighths: f'"{Fraction(eighths) * scale / 8} in"'


def in_centimetres(eighths: Fraction | int) -> str:
    """The length in centimetres, which end as decimals: an eighth of an inch is 0.3175 cm."""
    return f'"{float(Fraction(eighths) * 3175 / 10000)} cm"'


def worked_out(made: Made, *, unit: str = "in", ruler: str = "1/64 in", write: Write | None = None) -> Quilt:
    """The quilt of `made`, every length of it written by `write`."""
    return work_out(project_of(made, unit=unit, ruler=ruler, write=write))


def project_of(made: Made, *, unit: str = "in", ruler: str = "1/64 in", write: Write | None = None) -> Project:
    """The project of `made`, every length of it written by `write`."""
    text = _text(made, write or in_inches())
    return parse_project(text.format(unit=unit, ruler=ruler), "made.toml")


def _text(made: Made, write: Write) -> str:
    return f"""
[project]
name = "Made up"
unit = "{{unit}}"
ruler = "{{ruler}}"
seam = {write(made.seam)}
copies = {made.copies}
[quilt]
across = {made.across}
down = {made.down}
{_setting(made, write)}
[[block]]
name = "block"
finished = [{write(made.block[0])}, {write(made.block[1])}]
seam = {write(made.block_seam)}
trim = {write(made.trim)}
frame = [{write(made.frame[0])}, {write(made.frame[1])}]
{_content(made, write)}
{_sashing(made.sashes, write)}
[stabiliser]
fabric = "film"
margin = {write(8)}
overlap = {write(made.overlap)}
{"".join(_rim(made, number, write) for number in range(len(made.rims)))}
[binding]
fabric = "oat"
strip = {write(made.strip)}
seam = {write(made.edge)}
grain = "{made.grain}"
join = "{made.join}"
extra = {write(made.depth)}
shortest = {write(made.shortest)}
[backing]
fabric = "oat"
overhang = {write(made.overhang)}
seam = {write(made.panel_seam)}
[batting]
fabric = "felt"
overhang = {write(made.overhang)}
[sleeve]
fabric = "oat"
depth = {write(made.depth)}
seam = {write(made.seam)}
extra = {write(made.panel_seam)}
{_fabric("oat", made.width, write)}
{_fabric("reed", made.width, write)}way = "{made.sashes.way if made.sashes else "any"}"
{_fabric("felt", made.width, write)}grain = "none"
{_fabric("film", made.roll, write)}grain = "none"
"""


def _setting(made: Made, write: Write) -> str:
    setting = 'setting = "on point"\ntriangles = "oat"\n' if made.on_point else ""
    if made.off is None:
        return setting
    across, down = made.centre
    return f"{setting}measured = [{write(across)}, {write(down)}]\n"


def _content(made: Made, write: Write) -> str:
    if made.content == "layers":
        return f'[[block.piece]]\nname = "ground"\nfabric = "oat"\nmargin = {write(made.margin)}\n'
    return "".join(
        f"""
[[block.piece]]
name = "{name}"
patch = "{shape}"
fabric = "oat"
{'sky = "oat"' if shape == "geese" else ""}
finished = [{write(Fraction(made.block[0], 2) * across)}, {write(Fraction(made.block[0], 2) * down)}]
seam = {write(made.block_seam)}
count = {count}
yields = {yields}
"""
        for name, shape, across, down, count, yields in PATCHES
    )


def _sashing(sashes: Sashes | None, write: Write) -> str:
    if sashes is None:
        return ""
    corners = 'cornerstones = "reed"\n' if sashes.cornerstones else ""
    outside = str(sashes.outside).lower()
    return f'[sashing]\nwidth = {write(sashes.width)}\nfabric = "reed"\noutside = {outside}\n{corners}'


def _rim(made: Made, number: int, write: Write) -> str:
    rim = made.rims[number]
    return f"""
[[border]]
name = "rim {number}"
fabric = "oat"
width = {write(rim.width)}
seam = {write(rim.seam)}
extra = {write(rim.extra)}
corners = "{rim.corners}"
cut = "{rim.cut}"
join = "{rim.join}"
shortest = {write(made.shortest)}
sewn_together = {str(made.is_together(number)).lower()}
"""


def _fabric(name: str, width: int, write: Write) -> str:
    return f"""
[fabric.{name}]
width = {write(width)}
selvage = {write(0)}
square_up = {write(4)}
sold_by = {write(36)}
"""
