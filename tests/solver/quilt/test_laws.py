"""Laws: the pieces sewn together again are the quilt that was asked for, and no inch is special."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.model import Construction, Part, Piece, Quilt
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out

_LAW = settings(deadline=None, derandomize=True, max_examples=60)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rim:
    """A border of a made-up project, lengths in eighths of an inch."""

    width: int
    seam: int
    extra: int
    corners: str
    cut: str
    join: str
    together: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Design:
    """A made-up project, lengths in eighths of an inch."""

    across: int
    down: int
    finished: tuple[int, int]
    seam: int
    trim: int
    margin: int
    rims: tuple[_Rim, ...]
    edge: int
    strip: int
    overhang: int
    panel_seam: int
    width: int
    shortest: int

    @property
    def block_seam(self) -> int:
        """Seam of the line round the blocks, so that all lines are sewn as they are cut."""
        return self.rims[0].seam if self.rims else self.edge


_RIMS = st.builds(
    _Rim,
    width=st.integers(8, 60),
    seam=st.integers(1, 5),
    extra=st.integers(30, 60),
    corners=st.sampled_from(["mitred", "butted"]),
    cut=st.sampled_from(["best", "crosswise", "lengthwise"]),
    join=st.sampled_from(["diagonal", "straight"]),
    together=st.booleans(),
)
_DESIGNS = st.builds(
    _Design,
    across=st.integers(1, 6),
    down=st.integers(1, 6),
    finished=st.tuples(st.integers(24, 100), st.integers(24, 100)),
    seam=st.integers(1, 5),
    trim=st.integers(1, 6),
    margin=st.integers(6, 12),
    rims=st.lists(_RIMS, max_size=3).map(tuple),
    edge=st.integers(1, 5),
    strip=st.integers(16, 30),
    overhang=st.integers(0, 40),
    panel_seam=st.integers(0, 6),
    width=st.integers(280, 360),
    shortest=st.integers(0, 100),
)


def _text(design: _Design, scale: int, ruler: str) -> str:
    def length(eighths: int) -> str:
        return f'"{eighths * scale}/8 in"'

    rims = "".join(
        f"""
[[border]]
name = "rim {number}"
fabric = "oat"
width = {length(rim.width)}
seam = {length(rim.seam)}
extra = {length(rim.extra)}
corners = "{rim.corners}"
cut = "{rim.cut}"
join = "{rim.join}"
shortest = {length(design.shortest)}
sewn_together = {str(_is_together(design, number)).lower()}
"""
        for number, rim in enumerate(design.rims)
    )
    return f"""
[project]
name = "Law"
ruler = "{ruler}"
seam = {length(design.seam)}
[quilt]
across = {design.across}
down = {design.down}
[[block]]
name = "block"
finished = [{length(design.finished[0])}, {length(design.finished[1])}]
seam = {length(design.block_seam)}
trim = {length(design.trim)}
  [[block.piece]]
  name = "ground"
  fabric = "oat"
  margin = {length(design.margin)}
{rims}
[binding]
fabric = "oat"
strip = {length(design.strip)}
seam = {length(design.edge)}
extra = 0
shortest = 0
[backing]
fabric = "oat"
overhang = {length(design.overhang)}
seam = {length(design.panel_seam)}
[batting]
fabric = "felt"
overhang = {length(design.overhang)}
[fabric.oat]
width = {length(design.width)}
selvage = 0
[fabric.felt]
width = {length(design.width)}
selvage = 0
grain = "none"
"""


def _is_together(design: _Design, number: int) -> bool:
    rims = design.rims
    return number > 0 and rims[number].together and "butted" not in (rims[number].corners, rims[number - 1].corners)


def _work(design: _Design, *, scale: int = 1, ruler: str = "1/64 in") -> Quilt:
    return work_out(parse_project(_text(design, scale, ruler), "law.toml"))


def _inches(eighths: int) -> Fraction:
    return Fraction(eighths, 8)


def _by_name(quilt: Quilt, name: str) -> Part:
    return next(part for part in quilt.parts if part.name == name)


def _sew_blocks(design: _Design, ground: Piece) -> tuple[Fraction, Fraction]:
    """Raw size of the centre: each block trimmed outside its stitched edge, each line sewn with its seam."""
    off = 2 * _inches(design.margin - design.trim)
    seam = 2 * _inches(design.block_seam)
    return (
        design.across * (ground.across - off) - (design.across - 1) * seam,
        design.down * (ground.along - off) - (design.down - 1) * seam,
    )


def _strip(design: _Design, rim: _Rim, option: Construction, name: str) -> tuple[Fraction, Fraction]:
    """Width and length of a border's strip, its bits sewn end to end."""
    bits = [piece for piece in option.pieces if piece.id == name or piece.id.startswith(f"{name}/")]
    whole = len(bits) == 1 and bits[0].id == name
    if whole and option.name.startswith("crosswise") and not bits[0].turnable:
        return bits[0].along, bits[0].across
    if whole:
        return bits[0].across, bits[0].along
    (width,) = {bit.along for bit in bits}
    loss = width if rim.join == "diagonal" else 2 * _inches(design.seam)
    return width, sum(bit.across for bit in bits) - (len(bits) - 1) * loss


def _sew_border(
    design: _Design, number: int, option: Construction, raw: tuple[Fraction, Fraction]
) -> tuple[Fraction, Fraction]:
    """Raw size with border `number` sewn to `raw`, after its strips are found long enough for it."""
    rim = design.rims[number]
    outer = design.rims[number + 1].seam if number + 1 < len(design.rims) else design.edge
    grown = list(raw)
    order = (("left", 1, 0), ("right", 1, 0), ("top", 0, 1), ("bottom", 0, 1))
    strips = {side: _strip(design, rim, option, f"rim {number}/{side}") for side, _, _ in order}
    for side, runs, grows in order:
        width, length = strips[side]
        if rim.corners == "butted":
            _assert_long_enough(length, grown[runs] + _inches(rim.extra), option)
        grown[grows] += width - 2 * _inches(rim.seam)
    if rim.corners == "mitred" and not (number + 1 < len(design.rims) and _is_together(design, number + 1)):
        for side, runs, _ in order:  # at the finished outer corner, where the mitre ends
            _assert_long_enough(strips[side][1], grown[runs] - 2 * _inches(outer) + _inches(rim.extra), option)
    return grown[0], grown[1]


def _assert_long_enough(length: Fraction, wanted: Fraction, option: Construction) -> None:
    """A strip is as long as wanted; a joined one may be longer, for the sake of its shortest bit."""
    assert length == wanted or (option.joins and length > wanted)


def _assert_sewn_together_alike(design: _Design, options: tuple[Construction, ...]) -> None:
    """Strips that are sewn together before mitring reach as far as those of the border outside them."""
    for number in range(1, len(options)):
        if not _is_together(design, number):
            continue
        for side in ("top", "left"):
            pair = [_strip(design, design.rims[k], options[k], f"rim {k}/{side}") for k in (number - 1, number)]
            assert pair[0][1] == pair[1][1] or options[number - 1].joins or options[number].joins


@_LAW
@given(design=_DESIGNS)
def test_the_pieces_sewn_are_the_quilt_asked_for(design: _Design) -> None:
    """Sewn with the seam of each line, in every way they may be cut, the pieces finish at the size asked for."""
    quilt = _work(design)
    ground = _by_name(quilt, "block/ground").pieces[0]
    assert ground.count == design.across * design.down
    asked = tuple(
        _inches(number * side + 2 * sum(rim.width for rim in design.rims))
        for number, side in zip((design.across, design.down), design.finished, strict=True)
    )
    borders = [_by_name(quilt, f"rim {number}") for number in range(len(design.rims))]
    for options in product(*(part.options for part in borders)):
        raw = _sew_blocks(design, ground)
        for number, option in enumerate(options):
            raw = _sew_border(design, number, option, raw)
        _assert_sewn_together_alike(design, options)
        assert tuple(side - 2 * _inches(design.edge) for side in raw) == asked
    assert quilt.sizes is not None
    assert quilt.sizes.finished == asked


@_LAW
@given(design=_DESIGNS)
def test_binding_and_backing_sewn_are_as_large_as_asked(design: _Design) -> None:
    """The binding's strips go exactly round the raw edge; the sewn panels are the raw edge and the overhang."""
    quilt = _work(design)
    assert quilt.sizes is not None
    raw = quilt.sizes.raw
    strips = _by_name(quilt, "binding").pieces
    number = sum(strip.count for strip in strips)
    run = sum(strip.count * strip.across for strip in strips) - (number - 1) * _inches(design.strip)
    assert run == 2 * sum(raw)
    wanted = tuple(side + 2 * _inches(design.overhang) for side in raw)
    for name, seam in (("backing", design.panel_seam), ("batting", 0)):
        for option in _by_name(quilt, name).options:
            assert _sewn_panels(option, 2 * _inches(seam)) == wanted


def _sewn_panels(option: Construction, loss: Fraction) -> tuple[Fraction, Fraction]:
    """Size of the sheet that an option's panels make, across × down as it hangs."""
    number = sum(panel.count for panel in option.pieces)
    (length,) = {panel.along for panel in option.pieces}
    width = sum(panel.count * panel.across for panel in option.pieces) - (number - 1) * loss
    return (length, width) if "across the quilt" in option.name else (width, length)


@_LAW
@given(design=_DESIGNS, scale=st.integers(2, 5))
def test_a_larger_inch_makes_larger_pieces(design: _Design, scale: int) -> None:
    """All lengths times `scale`, the cloth's width too, make the same pieces that much larger."""
    small, large = _work(design), _work(design, scale=scale)
    assert len(small.parts) == len(large.parts)
    for part, larger in zip(small.parts, large.parts, strict=True):
        assert [(option.name, option.joins) for option in part.options] == [
            (option.name, option.joins) for option in larger.options
        ]
        for option, other in zip(part.options, larger.options, strict=True):
            assert [_scaled(piece, scale) for piece in option.pieces] == [_scaled(piece, 1) for piece in other.pieces]


def _scaled(piece: Piece, scale: int) -> tuple[str, Fraction, Fraction, int, bool]:
    return piece.id, piece.across * scale, piece.along * scale, piece.count, piece.turnable


@_LAW
@given(design=_DESIGNS)
def test_sizes_are_rounded_up_once(design: _Design) -> None:
    """On a coarse ruler a cut size is a mark, and less than one mark over the exact size."""
    coarse = Fraction(1, 2)
    (exact,) = _by_name(_work(design), "block/ground").pieces
    (rounded,) = _by_name(_work(design, ruler="1/2 in"), "block/ground").pieces
    for side, marked in ((exact.across, rounded.across), (exact.along, rounded.along)):
        assert (marked / coarse).denominator == 1
        assert 0 <= marked - side < coarse
