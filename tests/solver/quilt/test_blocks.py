"""Pieces of blocks, stabiliser and loose pieces."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from ellwand.errors import NoPlanError
from ellwand.lengths import Notation
from ellwand.model import Piece, Quilt, Role

_BLOCK = """
[quilt]
across = 3
down = 4
[[block]]
name = "lantern"
finished = [8, 10]
seam = "1/2 in"
trim = "1/2 in"
frame = ["260 mm", "260 mm"]
hoopings = 2
  [[block.piece]]
  name = "background"
  fabric = "oat"
"""


def _only(quilt: Quilt) -> Piece:
    (part,) = quilt.parts
    (piece,) = part.pieces
    return piece


def _cut(piece: Piece) -> str:
    return Notation("in").pair(piece.across, piece.along)


def _finished(piece: Piece) -> str:
    return Notation("in").pair(*piece.finished) if piece.finished else ""


def test_background_reaches_beyond_the_stitched_edge(of_pieces: Callable[..., Quilt]) -> None:
    """A covering piece is the stitched size and its margins, and is trimmed to finished + 2 seams."""
    piece = _only(of_pieces(_BLOCK + 'covers = [1, 1]\nmargin = "1 in"\n'))
    # Source: common practice, no source (H3: 1–3 in beyond the placement line; H5: trimmed 1/2 in outside stitching)
    assert (piece.id, _cut(piece), piece.count) == ("lantern/background", "10 × 12 in", 12)
    assert piece.turnable
    assert piece.role is Role.BLOCK
    assert _finished(piece) == "8 × 10 in"
    assert piece.where == "12 lantern blocks, 1 in each"
    assert piece.after == "trim to 9 × 11 in after stitching"
    assert piece.why == (
        "across 8 stitched + 2 × 1 margin = 10 in; down 10 stitched + 2 × 1 margin = 12 in, "
        "of which 1/2 in on each side is left after trimming"
    )


def test_equal_sides_are_told_once(of_pieces: Callable[..., Quilt]) -> None:
    """A square piece has one sum."""
    piece = _only(of_pieces(_BLOCK.replace("[8, 10]", "[8, 8]") + 'margin = "1 in"\n'))
    assert piece.why == "8 stitched + 2 × 1 margin = 10 in, of which 1/2 in on each side is left after trimming"


def test_stitched_size_follows_seam_and_trim(of_pieces: Callable[..., Quilt]) -> None:
    """With a trim under the seam, the stitched edge lies outside the seam line: 8 + 2·1/2 − 2·1/4 = 8 1/2."""
    piece = _only(of_pieces(_BLOCK.replace('trim = "1/2 in"', 'trim = "1/4 in"') + 'margin = "1 in"\n'))
    assert (_cut(piece), _finished(piece)) == ("10 1/2 × 12 1/2 in", "8 × 10 in")
    assert piece.after == "trim to 9 × 11 in after stitching"


def test_shares_sizes_and_uneven_margins(of_pieces: Callable[..., Quilt]) -> None:
    """A share of the stitched size, a stitched size and a cut size, each with what is beyond it."""
    margin = 'margin = { top = "1/2 in", right = "1/4 in", bottom = "1 in", left = "1/4 in" }\n'
    share = _only(of_pieces(_BLOCK + "covers = [0.5, 1]\n" + margin))
    assert (_cut(share), _finished(share), share.after) == ("4 1/2 × 11 1/2 in", "4 × 10 in", "")
    assert share.why == (
        "across 1/2 × 8 stitched + 2 × 1/4 margin = 4 1/2 in; down 10 stitched + 1/2 + 1 margin = 11 1/2 in"
    )
    size = _only(of_pieces(_BLOCK + "size = [4, 5]\n" + margin))
    assert (_cut(size), _finished(size)) == ("4 1/2 × 6 1/2 in", "4 × 5 in")
    cut = _only(of_pieces(_BLOCK + "cut = [10, 11]\ncount = 2\n"))
    assert (_cut(cut), cut.count, _finished(cut), cut.after) == ("10 × 11 in", 24, "", "")
    assert cut.why == "across 10 cut as given = 10 in; down 11 cut as given = 11 in"


def test_a_piece_cut_at_the_trimming_line_is_not_trimmed(of_pieces: Callable[..., Quilt]) -> None:
    """Without a margin of its own a piece is cut as large as the trimmed block: there is nothing to trim."""
    piece = _only(of_pieces(_BLOCK))
    assert (_cut(piece), piece.after) == ("9 × 11 in", "")
    assert piece.why == "across 8 stitched + 2 × 1/2 margin = 9 in; down 10 stitched + 2 × 1/2 margin = 11 in"


def test_more_on_one_side_is_trimmed(of_pieces: Callable[..., Quilt]) -> None:
    """One margin beyond the trimming line is enough to have something to trim."""
    assert _only(of_pieces(_BLOCK + "margin = { top = 1 }\n")).after == "trim to 9 × 11 in after stitching"


def test_batting_short_of_the_seam_is_not_trimmed(of_pieces: Callable[..., Quilt]) -> None:
    """A piece that does not reach the trimming line says nothing of trimming."""
    short = '  [[block.piece]]\n  name = "batting"\n  fabric = "batting"\n  margin = 0\n'
    quilt = of_pieces(_BLOCK + 'margin = "1 in"\n' + short + '[fabric.batting]\nwidth = 90\ngrain = "none"\n')
    piece = quilt.parts[1].pieces[0]
    assert (piece.id, _cut(piece), piece.after) == ("lantern/batting", "8 × 10 in", "")
    assert piece.why == "across 8 stitched = 8 in; down 10 stitched = 10 in"


@pytest.mark.parametrize(
    ("grain", "turned", "keys", "lies", "turnable"),
    [
        ("either", False, "", "10 × 12 in", True),
        ("lengthwise", False, "", "10 × 12 in", False),
        ("crosswise", False, "", "12 × 10 in", False),
        ("lengthwise", True, "", "12 × 10 in", False),
        ("crosswise", True, "", "10 × 12 in", False),
        (None, False, "", "10 × 12 in", True),
        (None, False, 'way = "one-way"', "10 × 12 in", False),
        (None, True, 'way = "one-way"', "12 × 10 in", False),
        (None, False, 'way = "stripe"', "10 × 12 in", False),
        ("lengthwise", False, 'grain = "none"', "10 × 12 in", True),
        (None, False, 'grain = "none"\nway = "one-way"', "10 × 12 in", True),
    ],
)
def test_the_lie_on_the_grain(
    of_pieces: Callable[..., Quilt], grain: str | None, turned: bool, keys: str, lies: str, turnable: bool
) -> None:
    """Grain, the way of the print and a block stitched sideways settle how a piece lies and whether it turns."""
    # Source: class notes (M18): directional rectangles in two block positions are needed in both orientations
    text = f'{_BLOCK}margin = "1 in"\n' + (f'grain = "{grain}"\n' if grain else "")
    piece = _only(of_pieces(text + f"turned = {str(turned).lower()}\n", keys=keys))
    assert (_cut(piece), piece.turnable) == (lies, turnable)
    changed = lies == "12 × 10 in"
    assert ("these change places on the cloth" in piece.why) is changed
    assert ("stitched sideways" in piece.why) is (turned and changed)


def test_rounding_is_last_and_up(of_pieces: Callable[..., Quilt]) -> None:
    """8.03 + 2 × 0.03 is 8.09, one mark above 8: rounding the terms first would give two."""
    text = _BLOCK.replace("[8, 10]", "[8.03, 8.03]").replace("1/2 in", "0.03 in") + "margin = 0.03\n"
    piece = _only(of_pieces(text))
    assert _cut(piece) == "8 1/8 × 8 1/8 in"
    assert "= 8.09 in, on the ruler 8 1/8 in" in piece.why


def test_copies_multiply_counts(of_pieces: Callable[..., Quilt]) -> None:
    """Thirty kits of twelve blocks are 360 backgrounds."""
    assert _only(of_pieces(_BLOCK, basics="copies = 30")).count == 360


def test_stabiliser_covers_the_frame(of_pieces: Callable[..., Quilt]) -> None:
    """A sheet is the frame and its margin all round, one a hooping and layer."""
    quilt = of_pieces(_BLOCK + '[stabiliser]\nfabric = "oat"\nmargin = "1 in"\nlayers = 3\n', basics="copies = 2")
    sheet = quilt.parts[-1].pieces[0]
    # Source: common practice, no source (H2: 3/4-1 in more than the frame on each side); 260 mm = 10.236 in
    assert (sheet.id, _cut(sheet)) == ("stabiliser", "12 1/4 × 12 1/4 in")
    assert (sheet.count, sheet.turnable, sheet.role) == (12 * 2 * 3 * 2, True, Role.STABILISER)
    assert sheet.why == "frame 260 × 260 mm + 2 × 1 in margin ≈ 12 1/4 × ≈ 12 1/4 in, on the ruler 12 1/4 × 12 1/4 in"
    assert sheet.where == "in the hoop under 12 lantern blocks, 6 each"


_FRAME = """
[quilt]
across = 2
down = 2
[[block]]
name = "heron"
finished = [8, 8]
frame = [{frame}]
hoopings = 2
[stabiliser]
fabric = "oat"
margin = 1
{keys}
"""


def test_stabiliser_joined_from_a_narrow_roll(of_pieces: Callable[..., Quilt]) -> None:
    """A sheet wider than the roll both ways is joined from widths that overlap, whichever way they run."""
    text = _FRAME.format(frame="28, 38", keys="overlap = 1\nlayers = 2")
    (part,) = of_pieces(text, usable="20", keys='way = "one-way"', basics="copies = 3").parts
    # derived: a sheet is 30 × 40; two widths of 20 cover 39, so 30 takes 20 + 11 and 40 takes 20 + 20 + 2
    assert [option.name for option in part.options] == [
        "2 panels, overlap down the sheet", "3 panels, overlaps across the sheet",
    ]  # fmt: skip
    sheets = 4 * 2 * 2 * 3
    assert [option.joins for option in part.options] == [sheets, 2 * sheets]
    pieces = [[(piece.id, _cut(piece), piece.count) for piece in option.pieces] for option in part.options]
    assert pieces == [
        [("stabiliser/1", "20 × 40 in", sheets), ("stabiliser/2", "11 × 40 in", sheets)],
        [("stabiliser/1", "20 × 30 in", 2 * sheets), ("stabiliser/2", "2 × 30 in", sheets)],
    ]
    first = part.options[0].pieces[0]
    assert first.why == (
        "frame 28 × 38 in + 2 × 1 in margin = 30 × 40 in; panels 20 + 11 less 1 × 1 for overlaps = 30 in"
    )
    assert first.after == "lay the panels 1 in on each other, and stick or baste them together"
    assert first.where == "in the hoop under 4 heron blocks, 4 each"
    assert all(piece.turnable for option in part.options for piece in option.pieces)
    assert [(piece.id, piece.open_form, piece.count) for piece in part.pieces] == [("stabiliser", True, sheets)]


def test_stabiliser_is_joined_only_where_it_must_be(of_pieces: Callable[..., Quilt]) -> None:
    """Where a sheet fits the roll one way or the other it is cut whole."""
    text = _FRAME.format(frame="28, 38", keys="overlap = 1")
    whole = of_pieces(text, usable="30")
    assert [option.name for option in whole.parts[0].options] == ["whole"]
    assert (_only(whole).id, _cut(_only(whole)), _only(whole).count) == ("stabiliser", "30 × 40 in", 8)
    joined = of_pieces(text, usable="29.875")
    assert [option.joins for option in joined.parts[0].options] == [8, 8]


def test_stabiliser_of_slivers_is_refused(of_pieces: Callable[..., Quilt]) -> None:
    """An overlap that leaves next to nothing of each width is refused, with a way out."""
    with pytest.raises(NoPlanError, match=r"it would take 233 parts, an? overlap of 19 7/8 in.*a smaller overlap"):
        of_pieces(_FRAME.format(frame="47, 47", keys='overlap = "19 7/8 in"'), usable="20")


def test_sizes_that_were_hardly_meant(of_pieces: Callable[..., Quilt]) -> None:
    """A field of millimetres without their unit, and a layer larger than its block, are told."""
    text = _BLOCK.replace("finished = [8, 10]", "finished = [8, 10]\nhoop = [160, 260]")
    assert of_pieces(text, usable="300").warnings[0] == (
        'block lantern: no hoop has a field of 160 × 260 in; of millimetres write ["130 mm", "180 mm"].'
    )
    large = of_pieces(
        text.replace("hoop = [160, 260]", "") + '  [[block.piece]]\nname = "sun"\nfabric = "oat"\nsize = [12, 3]\n'
    )
    assert large.warnings[0] == (
        "block lantern: its piece sun is stitched 12 × 3 in, more than the block with 8 × 10 in."
    )


def test_a_frame_that_is_less_than_its_field(of_pieces: Callable[..., Quilt]) -> None:
    """A hoop that is smaller outside than inside is that of another hoop: the stabiliser would be too small."""
    # common practice, no source (H2: the sheet covers the hoop's outside)
    text = _BLOCK.replace("finished = [8, 10]", 'finished = [8, 10]\nhoop = ["240 mm", "300 mm"]')

    assert of_pieces(text, usable="300").warnings[0] == (
        "block lantern: the outside of its hoop, 260 × 260 mm, is less than the field in it, 240 × 300 mm; "
        "measure the frame over its outer edges."
    )
    whole = of_pieces(text.replace('"300 mm"', '"260 mm"'), usable="300")
    assert not any("measure the frame" in warning for warning in whole.warnings)


@pytest.mark.parametrize(
    ("field", "told"),
    [
        ('"201 mm", "160 mm"', True),  # 1 mm left
        ('"202 mm", "160 mm"', False),
        ('"160 mm", "201 mm"', True),  # the other way round
        ('"151 mm", "300 mm"', True),  # the short side
        ('"152 mm", "300 mm"', False),
        ('"200 mm", "150 mm"', True),
    ],
)
def test_a_block_that_barely_fits(of_pieces: Callable[..., Quilt], field: str, told: bool) -> None:
    """A block of 20 × 15 cm within 1 mm of its stitch field on a side fits, but barely, and that is told."""
    # Source: common practice, no source (H1: the name of a hoop is never the size of its field)
    text = _BLOCK.replace("finished = [8, 10]", f"finished = [20, 15]\nhoop = [{field}]")
    tight = [text for text in of_pieces(text, basics='unit = "cm"', usable="110").warnings if "barely" in text]
    assert len(tight) == told
    start = "block lantern: its stitched size, 20 × 15 cm, is within 1 mm of its field, "
    assert all(text.startswith(start) and text.endswith(": it fits, but barely.") for text in tight)


def test_stabiliser_of_several_blocks(of_pieces: Callable[..., Quilt]) -> None:
    """Each block that names its frame has its own sheets; a hooped one that does not is told."""
    blocks = """
[quilt]
across = 1
down = 4
[[block]]
name = "boat"
finished = [8, 8]
frame = [10, 10]
[[block]]
name = "gull"
finished = [8, 8]
frame = [10, 14]
[[block]]
name = "wren"
finished = [8, 8]
hoop = [10, 10]
[[block]]
name = "plain"
finished = [8, 8]
[stabiliser]
fabric = "oat"
"""
    quilt = of_pieces(blocks)
    assert [part.name for part in quilt.parts] == ["stabiliser/boat", "stabiliser/gull"]
    assert _cut(quilt.parts[1].pieces[0]) == "12 × 16 in"
    assert quilt.warnings == ("block wren: it names no frame, so no stabiliser is worked out for it.",)


def test_loose_pieces_are_cut_as_given(of_pieces: Callable[..., Quilt]) -> None:
    """A project may be nothing but a list of pieces; it then has no quilt sizes."""
    loose = '[[piece]]\nname = "pocket"\nfabric = "oat"\ncut = [8.55, 11]\ncount = 2\ngrain = "crosswise"\n'
    quilt = of_pieces(loose, basics="copies = 5")
    piece = _only(quilt)
    assert quilt.sizes is None
    assert (piece.id, _cut(piece), piece.count) == ("pocket", "11 × 8 5/8 in", 10)
    assert (piece.turnable, piece.role) == (False, Role.LOOSE)
    assert piece.why == (
        "cut as given, 8.55 × 11 in, on the ruler 8 5/8 × 11 in; lies crosswise, so these change places on the cloth"
    )
    assert piece.where == "as its own pattern says"


def test_a_piece_wider_than_its_cloth(of_pieces: Callable[..., Quilt]) -> None:
    """The refusal names the piece, the fabric and what is missing; a wider cloth on hand does not count."""
    loose = '[[piece]]\nname = "panel"\nfabric = "oat"\ncut = [50, 48]\n'
    with pytest.raises(NoPlanError) as refusal:
        of_pieces(loose)
    assert str(refusal.value).startswith(
        "trial.toml: panel: is cut 48 in wide, and oat can be used for 42 in. 6 in missing."
    )
    assert _only(of_pieces(loose, usable="48")).id == "panel"
    with pytest.raises(NoPlanError, match="a wider cloth on hand does not count"):
        of_pieces(loose + 'grain = "lengthwise"\n', keys="on_hand = [{ width = 49, length = 60 }]")
