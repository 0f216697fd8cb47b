"""A law: the pieces sewn together again are the quilt that was asked for.

Rules R1–R5, R10–R12, B5, B6, B9, M1–M5, L1 of the trade, on 500 quilts made at random: here by sewing, without a rule.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings

from ellwand.model import Construction, Part, Piece, Quilt
from laws.quilts import PATCHES, QUILTS, Made, worked_out
from laws.sewing import (
    MARK,
    assert_sewn,
    half_square,
    mark_up,
    part,
    quarter_square,
    rectangle,
    sewn,
    strip,
    take,
)

_SEWN = settings(deadline=None, derandomize=True, max_examples=500)
_ROOT = 2**0.5
Pair = tuple[Fraction, Fraction]


def _inches(eighths: int | Fraction) -> Fraction:
    return Fraction(eighths) / 8


def _both(pair: tuple[int, int] | Pair) -> Pair:
    return _inches(pair[0]), _inches(pair[1])


@_SEWN
@given(made=QUILTS)
def test_the_pieces_sewn_are_the_quilt_asked_for(made: Made) -> None:
    """Sewn with the seam of each line, in every way they may be cut, the pieces finish at the size asked for."""
    quilt = worked_out(made)
    if made.content == "layers":
        _sew_layers(made, quilt)
    else:
        _sew_patches(made, quilt)
    if made.on_point:
        _sew_on_point(made, quilt)
    elif made.sashes:
        _sew_sashes(made, quilt)
    else:
        assert [side * number for side, number in zip(made.block, (made.across, made.down), strict=True)] == list(
            made.planned
        )
    finished = _sew_borders(made, quilt)
    assert quilt.sizes is not None
    for size, asked in zip(quilt.sizes.finished, finished, strict=True):
        assert abs(size - asked) < Fraction(1, 10**6)  # on point, √2 is taken to so many places
    _sew_edge(made, quilt)
    _sew_back(made, quilt)


def _sew_layers(made: Made, quilt: Quilt) -> None:
    """A ground is trimmed to `trim` outside its stitched edge; sewn on all sides it is a block."""
    (ground,) = part(quilt, "block/ground").pieces
    assert ground.count == made.blocks * made.copies
    off = 2 * _inches(made.margin - made.trim + made.block_seam)
    assert (ground.across - off, ground.along - off) == _both(made.block)


def _sew_patches(made: Made, quilt: Quilt) -> None:
    """Four units of patches, sewn: a square, two halves, four quarters, two geese; as many as the blocks take."""
    seam, unit = _inches(made.block_seam), float(_inches(made.block[0])) / 2
    for name, shape, _, _, count, yields in PATCHES:
        (piece,) = part(quilt, f"block/{name}").pieces
        wanted, squares = count * made.blocks, piece.count // made.copies  # of each copy, whole ones
        assert piece.count == squares * made.copies
        assert wanted <= squares * yields < wanted + yields
        if name == "goose":
            assert_sewn(rectangle(piece, seam), (unit, unit / 2))
        elif shape == "square":
            assert_sewn(rectangle(piece, seam), (unit, unit))
        elif shape == "half-square":
            side = piece.across if yields == 2 else piece.across / 2
            assert_sewn(half_square(side, leg=seam, long=seam), (unit, unit * _ROOT), stretch=_ROOT)
        else:
            assert_sewn(quarter_square(piece.across, leg=seam, long=seam), (unit / _ROOT, unit), stretch=_ROOT)
    _sew_sky(made, quilt, seam, unit)


def _sew_sky(made: Made, quilt: Quilt, seam: Fraction, unit: float) -> None:
    """The sky beside geese: two triangles each, halves of small squares; or squares that are sewn on the diagonal."""
    for name, number in (("flock", 4), ("goose", 2)):
        (sky,) = part(quilt, f"block/{name}/sky").pieces
        (goose,) = part(quilt, f"block/{name}").pieces
        assert sky.count == number * goose.count
        if name == "flock":
            assert_sewn(half_square(sky.across, leg=seam, long=seam), (unit / 2, unit / _ROOT), stretch=_ROOT)
        else:
            assert_sewn(rectangle(sky, seam), (unit / 2, unit / 2))


def _sew_on_point(made: Made, quilt: Quilt) -> None:
    """Triangles lie with their other sides on the edge; sewn to blocks they fill it, four or two from a square."""
    seam, line, side = _inches(made.block_seam), _inches(made.line), float(_inches(made.block[0]))
    (corner,) = part(quilt, "triangle/corner").pieces
    assert corner.count == 2 * made.copies
    leg, long = half_square(corner.across, leg=line, long=seam)
    assert_sewn((leg, long), (side / _ROOT, side), stretch=_ROOT)
    number = 2 * (made.across + made.down - 2)
    if number == 0:
        assert "triangle/side" not in {found.name for found in quilt.parts}
        return
    (square,) = part(quilt, "triangle/side").pieces
    squares = square.count // made.copies  # of each copy, whole ones
    assert square.count == squares * made.copies
    assert number <= 4 * squares < number + 4
    short, edge = quarter_square(square.across, leg=seam, long=line)
    assert_sewn((short, edge), (side, side * _ROOT), stretch=_ROOT)
    for blocks, planned in zip((made.across, made.down), made.planned, strict=True):
        assert_sewn([2 * leg + (blocks - 1) * edge], [float(planned / 8)], stretch=2 * blocks)


def _bands(made: Made, axis: int) -> list[tuple[bool, Fraction, Fraction]]:
    """Columns or rows of the centre: whether it is a sash, its finished size, and what its two lines take of it."""
    sashes = made.sashes
    assert sashes is not None
    blocks = [False, *[True, False] * ((made.across, made.down)[axis] - 1)]
    kinds = [True, *blocks, True] if sashes.outside else blocks
    lines = [made.line, *[made.block_seam] * (len(kinds) - 1), made.line]
    sizes = [sashes.width if kind else made.block[axis] for kind in kinds]
    return [
        (kind, _inches(size), _inches(before + after))
        for kind, size, (before, after) in zip(kinds, sizes, pairwise(lines), strict=True)
    ]


def _sew_sashes(made: Made, quilt: Quilt) -> None:
    """Each piece keeps what its two lines leave of it; rows and columns make the centre; nothing is left over."""
    columns, rows = _bands(made, 0), _bands(made, 1)
    for bands, planned in zip((columns, rows), made.planned, strict=True):
        raw = sum(size + seams for _, size, seams in bands) - 2 * (len(bands) - 1) * _inches(made.block_seam)
        assert raw - 2 * _inches(made.line) == _inches(planned)
    assert made.sashes is not None
    parts = [found for found in quilt.parts if found.name.startswith(("sash", "cornerstone"))]
    assert len({found.name for found in parts}) == len(parts)
    through = [] if made.sashes.cornerstones else [found for found in parts if not _is_upright(found.options[0], rows)]
    pool = Counter({found.pieces[0]: found.pieces[0].count for found in parts if found not in through})
    for is_sash, down, seams_down in rows:
        crossing = [] if is_sash and not made.sashes.cornerstones else columns
        for is_upright, across, seams_across in crossing:
            if is_sash or is_upright:
                for _ in range(made.copies):
                    take(pool, across + seams_across, down + seams_down)
    assert pool.total() == 0
    if not made.sashes.cornerstones:
        _sew_through(made, through, rows)


def _is_upright(option: Construction, rows: list[tuple[bool, Fraction, Fraction]]) -> bool:
    """Whether its piece is seen as high as a block, and so is no sash that runs through."""
    (block, *_) = (size for is_sash, size, _ in rows if not is_sash)
    finished = option.pieces[0].finished
    return len(option.pieces) == 1 and finished is not None and finished[1] == block


def _sew_through(made: Made, through: list[Part], rows: list[tuple[bool, Fraction, Fraction]]) -> None:
    """Level sashes reach from edge to edge, with the seams of the outer lines at their ends."""
    wanted = Counter(size + seams for is_sash, size, seams in rows if is_sash)
    found: Counter[Fraction] = Counter()
    reach = _inches(made.planned[0] + 2 * made.line)
    for sash in through:
        for option in sash.options:
            width, length, bits = strip(option, sash.name, join="diagonal", seam=_inches(made.seam))
            _assert_as_long(mark_up(reach), length, bits, _inches(made.block[0]))
            assert option.joins == (len(bits) - 1) * option.pieces[0].count
        found[width] += option.pieces[0].count
    assert found == Counter({width: number * made.copies for width, number in wanted.items()})


def _sew_borders(made: Made, quilt: Quilt) -> Pair:
    """Size inside the binding's seam when all borders are sewn on; each of their strips is long enough for it."""
    raw = [_inches(side + 2 * made.line) for side in made.centre]
    raws = [(raw[0], raw[1])]
    for number, rim in enumerate(made.rims):
        option = part(quilt, f"rim {number}").options[0]
        width, _, _ = strip(option, f"rim {number}/top", join=rim.join, seam=_inches(made.seam))
        raw = [side + 2 * width - 4 * _inches(rim.seam) for side in raw]
        raws.append((raw[0], raw[1]))
    for number in range(len(made.rims)):
        for option in part(quilt, f"rim {number}").options:
            _sew_border(made, number, option, raws)
        if made.rims[number].corners == "cornerstones":
            _sew_cornerstones(made, quilt, number, raws)
        _assert_mitre_is_told(made, quilt, number)
    asked = [_inches(side + 2 * sum(rim.width for rim in made.rims)) for side in made.centre]
    assert [side - 2 * _inches(made.edge) for side in raw] == asked
    return asked[0], asked[1]


def _outer_seam(made: Made, number: int) -> Fraction:
    """Seam of the outer line of border `number`."""
    return _inches(made.rims[number + 1].seam if number + 1 < len(made.rims) else made.edge)


def _sew_border(made: Made, number: int, option: Construction, raws: list[Pair]) -> None:
    """Every strip of one way to cut border `number` is as long as what it is sewn to asks, and its extra."""
    rim = made.rims[number]
    last = number
    while made.is_together(last + 1):
        last += 1
    inside, outside = raws[number], raws[number + 1]
    for axis, sides in enumerate((("top", "bottom"), ("left", "right"))):
        if rim.corners == "mitred":  # to the finished outer corner of all that are mitred together
            wanted = raws[last + 1][axis] - 2 * _outer_seam(made, last) + _inches(made.rims[last].extra)
        elif axis == 1:  # first, to the raw edge
            wanted = inside[1] + _inches(rim.extra)
        elif rim.corners == "butted":  # across the sides
            wanted = outside[0] + _inches(rim.extra)
        else:  # between the cornerstones, with the seam that joins them
            wanted = inside[0] - 2 * _inches(rim.seam) + 2 * _inches(made.seam) + _inches(rim.extra)
        for side in sides:
            width, length, bits = strip(option, f"rim {number}/{side}", join=rim.join, seam=_inches(made.seam))
            assert 2 * width == outside[0] - inside[0] + 4 * _inches(rim.seam)
            least = _inches(made.shortest)
            if rim.corners == "mitred":  # with its whole join, an end reaches past where the mitre begins
                loss = width if rim.join == "diagonal" else 2 * _inches(made.seam)
                least = max(least, (wanted - (inside[axis] - 2 * _inches(rim.seam))) / 2 + loss)
            _assert_as_long(mark_up(wanted), length, bits, mark_up(least))
    assert all(piece.count == made.copies for piece in option.pieces)


def _assert_as_long(wanted: Fraction, length: Fraction, bits: list[Fraction], least: Fraction) -> None:
    """A strip is as long as wanted; a joined one may be longer, but only because no bit is shorter than the least."""
    assert length == wanted or (len(bits) > 1 and length > wanted and min(bits) == least)
    assert len(bits) == 1 or min(bits) >= least


def _sew_cornerstones(made: Made, quilt: Quilt, number: int, raws: list[Pair]) -> None:
    """Cornerstones and the strip between them, cut to length, make a row as wide as the quilt with its sides on."""
    rim = made.rims[number]
    (corner,) = part(quilt, f"rim {number}/cornerstone").pieces
    assert corner.count == 4 * made.copies
    option = part(quilt, f"rim {number}").options[0]
    width, _, _ = strip(option, f"rim {number}/top", join=rim.join, seam=_inches(made.seam))
    between = raws[number][0] - 2 * _inches(rim.seam) + 2 * _inches(made.seam)
    assert between + 2 * corner.across - 4 * _inches(made.seam) == raws[number + 1][0]
    assert corner.along == width


def _assert_mitre_is_told(made: Made, quilt: Quilt, number: int) -> None:
    """A mitred strip that is shorter than its corners with their seams is told, and no other."""
    rim = made.rims[number]
    if rim.corners != "mitred" or made.is_together(number + 1):
        return
    outer, mitre = -float(_outer_seam(made, number)), -float(_inches(made.seam))
    cut = sewn([(0, 0), (100, 0), (90, 10), (10, 10)], [outer, mitre, 0, mitre])[0]  # 100 in at its finished corners
    told = any(text.startswith(f"border rim {number}: ") and "too little" in text for text in quilt.warnings)
    assert told == (100 + rim.extra / 8 < cut)


def _sew_edge(made: Made, quilt: Quilt) -> None:
    """In every way it may be cut the binding goes round the raw edge, and with one mark of a strip less it does not."""
    assert quilt.sizes is not None
    run, width, seam = 2 * sum(quilt.sizes.raw) + _inches(made.depth), _inches(made.strip), _inches(made.seam)
    loss = width if made.join == "diagonal" else 2 * seam
    for option in part(quilt, "binding").options:
        pieces = [piece for piece in option.pieces for _ in range(piece.count // made.copies)]
        lengths = [
            _bias(piece.across, width, seam) if made.grain == "bias" else _long(piece, width) for piece in pieces
        ]
        reach = sum(lengths) - (len(lengths) - 1) * loss
        assert reach >= run
        assert option.joins == (len(lengths) - 1) * made.copies
        if len(lengths) > 1:
            assert min(lengths) >= _inches(made.shortest)
        if made.grain == "bias":
            less = _bias(pieces[0].across - MARK, width, seam)
            assert len(pieces) * less - (len(pieces) - 1) * loss < run
        elif len(set(lengths)) == 1:
            assert reach - len(lengths) * MARK < run


def _long(piece: Piece, width: Fraction) -> Fraction:
    """Length of a strip of `width`."""
    assert width in (piece.across, piece.along)
    return max(piece.across, piece.along)


def _bias(side: Fraction, width: Fraction, seam: Fraction) -> Fraction:
    """Bias strip from a square: two seams as long as its side take two allowances each of its area."""
    area = side * side - 2 * (2 * seam) * side
    return area / width


def _sew_back(made: Made, quilt: Quilt) -> None:
    """Backing and batting are the raw edge and the overhang, the sleeve a tube as deep as asked, sheets a frame's."""
    assert quilt.sizes is not None
    raw = quilt.sizes.raw
    wanted = tuple(mark_up(side + 2 * _inches(made.overhang)) for side in raw)
    for name, seam in (("backing", made.panel_seam), ("batting", 0)):
        for option in part(quilt, name).options:
            assert _sewn_panels(option, made.copies, 2 * _inches(seam), "across the quilt") == wanted
    for option in part(quilt, "sleeve").options:
        width, length, bits = strip(option, "sleeve", join="straight", seam=_inches(made.seam))
        assert (width - 2 * _inches(made.seam)) / 2 == _inches(made.depth)
        _assert_as_long(mark_up(raw[0] + _inches(made.panel_seam)), length, bits, _inches(made.depth))
    for option in part(quilt, "stabiliser").options:
        across, down = _sewn_panels(option, made.blocks * made.copies, _inches(made.overlap), "across the sheet")
        assert (across - 2, down - 2) == _both(made.frame)


def _sewn_panels(option: Construction, sheets: int, loss: Fraction, word: str) -> Pair:
    """Size of each of the sheets that an option's panels make, across × down as it hangs."""
    panels = [piece for piece in option.pieces for _ in range(piece.count // sheets)]
    (length,) = {panel.along for panel in panels}
    width = sum(panel.across for panel in panels) - (len(panels) - 1) * loss
    return (length, width) if word in option.name else (width, length)
