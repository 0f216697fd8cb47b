"""Backing and batting: whole, in panels, and the frame under the borders."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import Quilt

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]
_BACKING = '[backing]\nfabric = "oat"\n'
_BATTING = '[batting]\nfabric = "oat"\n'
_NO_GRAIN = 'grain = "none"'


def test_overhang_counts_from_the_raw_edge(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A raw top of 40 × 60 with 4 in on each side takes a backing of 48 × 68."""
    # Source: shop page (P3); long-arm studios' hand-outs (P2)
    quilt = of_centre("[39.5, 59.5]", _BACKING + "overhang = 4", usable="60")
    assert cut_sizes(quilt) == {"backing": ("48", "68", 1)}
    (piece,) = quilt.parts[0].options[0].pieces
    assert (piece.id, piece.turnable, piece.after, quilt.parts[0].options[0].joins) == ("backing/1", True, "", 0)
    assert piece.why == "raw edge 40 × 60 in + 2 × 4 overhang = 48 × 68 in"
    assert piece.where == "back of the quilt"


def test_either_side_may_fit_the_width(of_centre: Callable[..., Quilt]) -> None:
    """A backing of 68 × 48 needs no seam on 50 in, lying turned; panels stay open to it; one-way cloth may not turn."""
    quilt = of_centre("[59.5, 39.5]", _BACKING + "overhang = 4", usable="50")
    assert [option.name for option in quilt.parts[0].options] == ["whole", "2 panels, seam down the quilt"]
    one_way = of_centre("[59.5, 39.5]", _BACKING + "overhang = 4", usable="50", keys='way = "one-way"')
    assert [option.name for option in one_way.parts[0].options] == ["2 panels, seam down the quilt"]
    fleece = of_centre("[59.5, 59.5]", _BACKING, usable="50", keys='way = "one-way"\ngrain = "none"')
    assert [option.name for option in fleece.parts[0].options] == [
        "2 panels, seam down the quilt", "2 panels, seam across the quilt",
    ]  # fmt: skip


def test_panels_in_both_directions(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A backing of 64 1/2 × 78 takes 156 in of cloth with one direction of seams and about 130 with the other."""
    # Source: forum thread (P6), width 42; long-arm studios' hand-outs (P8): a seam of 1/2, selvages cut off
    quilt = of_centre("[64, 77.5]", _BACKING + "overhang = 0\nseam = 0.5")
    (part,) = quilt.parts
    lengthwise, crosswise = part.options
    assert (lengthwise.name, lengthwise.joins) == ("2 panels, seam down the quilt", 1)
    assert (crosswise.name, crosswise.joins) == ("2 panels, seam across the quilt", 1)
    # derived: 64 1/2 + 1 − 42 = 23 1/2 and 78 + 1 − 42 = 37 for the second panels
    assert cut_sizes(lengthwise) == {"backing/1": ("42", "78", 1), "backing/2": ("47/2", "78", 1)}
    assert cut_sizes(crosswise) == {"backing/1": ("42", "129/2", 1), "backing/2": ("37", "129/2", 1)}
    assert [sum(piece.along for piece in option.pieces) for option in part.options] == [156, 129]
    assert [(piece.id, piece.open_form) for piece in part.pieces] == [("backing", True)]
    assert not any(piece.turnable for option in part.options for piece in option.pieces)
    assert lengthwise.pieces[0].after == "sew the panels together with a seam of 1/2 in, selvages cut off"
    assert lengthwise.pieces[0].why.endswith("panels 42 + 23 1/2 less 1 × 1 for seams = 64 1/2 in")
    assert lengthwise.pieces[1].why == "as backing/1; the rest, 23 1/2 in"


def test_a_seam_may_cost_a_panel(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """80 × 56 from 40 in takes two lengths of 56 only where the seam takes nothing: 2·40 − 1 = 79."""
    # Source: forum thread (P5): 2 × 56 = 112 in; derived: with a 1/2 in seam two widths cover 79 in
    keys = 'overhang = 0\npanels = "lengthwise"\n'
    without = of_centre("[79.5, 55.5]", _BACKING + keys + "seam = 0", usable="40", basics="copies = 2")
    assert cut_sizes(without) == {"backing/1": ("40", "56", 4)}
    (part,) = of_centre("[79.5, 55.5]", _BACKING + keys + "seam = 0.5", usable="40").parts
    assert part.options[0].name == "3 panels, seams down the quilt"
    assert [(piece.id, str(piece.across), piece.count) for piece in part.pieces] == [
        ("backing/1", "40", 2), ("backing/2", "2", 1),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("finished", "panels", "narrower"), [("[76, 100]", "lengthwise", "narrower"), ("[100, 76]", "crosswise", "shorter")]
)
def test_one_panel_less_is_told(of_centre: Callable[..., Quilt], finished: str, panels: str, narrower: str) -> None:
    """Two widths of 42 in cover 83; a backing of 84 1/2 misses them by 1 1/2 in; what is told is true."""
    keys = f'seam = 0.5\npanels = "{panels}"\n'
    quilt = of_centre(finished, f"{_BACKING}{keys}overhang = 4")
    seam = "down" if panels == "lengthwise" else "across"
    # raw 76 1/2, target 84 1/2; two panels cover 83; (83 − 76 1/2)/2 = 3 1/4
    assert quilt.warnings == (
        f"backing: were it 1 1/2 in {narrower} (an overhang of 3 1/4 in instead of 4 in), it would take one panel "
        f"less that way: 2 panels, seam {seam} the quilt.",
    )
    enough = of_centre(finished, f"{_BACKING}{keys}overhang = 3.25")
    assert (enough.warnings, enough.parts[0].options[0].name) == ((), f"2 panels, seam {seam} the quilt")


def test_far_from_one_panel_less(of_centre: Callable[..., Quilt]) -> None:
    """2 in are too many to tell, and a direction that is not asked for is not told of."""
    assert of_centre("[76.5, 100]", _BACKING + 'overhang = 4\nseam = 0.5\npanels = "lengthwise"').warnings == ()
    assert of_centre("[76, 100]", _BACKING + 'overhang = 4\nseam = 0.5\npanels = "crosswise"').warnings == ()


def test_cloth_no_wider_than_a_seam(of_centre: Callable[..., Quilt]) -> None:
    """Panels of which the seam leaves nothing are refused, and so are hundreds of them."""
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[20, 20]", _BACKING + "seam = 0.5", usable="1")
    assert str(refusal.value) == (
        "trial.toml: backing: a seam takes 1 in, and oat can be used for 1 in. 27 1/2 in missing. "
        "Take a wider cloth, or a smaller seam."
    )
    with pytest.raises(NoPlanError, match=r"backing: it would take 220 parts, a seam of 1 in between each two"):
        of_centre("[20, 20]", _BACKING + "seam = 0.5", usable="1.125")


def test_a_direction_with_too_many_panels_is_left_out(of_centre: Callable[..., Quilt]) -> None:
    """Where one direction takes hundreds of panels, the other is taken."""
    # raw 20 1/2 × 40 1/2; (20 1/2 − 1) ÷ 1/8 = 156 panels down, (40 1/2 − 1) ÷ 1/8 = 316 across
    (part,) = of_centre("[20, 40]", _BACKING + "overhang = 0\nseam = 0.5", usable="1.125").parts
    assert [option.name for option in part.options] == ["156 panels, seams down the quilt"]


def test_batting_is_one_sheet_where_the_roll_is_wide_enough(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Batting has its own overhang from the raw edge and may be turned."""
    quilt = of_centre("[39.5, 59.5]", _BATTING + "overhang = 3", usable="60", keys=_NO_GRAIN)
    assert cut_sizes(quilt) == {"batting": ("46", "66", 1)}
    assert quilt.parts[0].pieces[0].turnable
    assert quilt.parts[0].pieces[0].where == "under the whole quilt"


def test_batting_panels_are_butted(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Wider than its roll, batting is laid edge to edge: nothing is lost to a seam."""
    quilt = of_centre("[79.5, 99.5]", _BATTING + "overhang = 4", usable="60", keys=_NO_GRAIN)
    (part,) = quilt.parts
    assert [(option.name, option.joins) for option in part.options] == [
        ("2 panels, join down the quilt", 1), ("2 panels, join across the quilt", 1),
    ]  # fmt: skip
    assert cut_sizes(part.options[0]) == {"batting/1": ("60", "108", 1), "batting/2": ("28", "108", 1)}
    assert cut_sizes(part.options[1]) == {"batting/1": ("60", "88", 1), "batting/2": ("48", "88", 1)}
    assert all(piece.turnable for option in part.options for piece in option.pieces)


def test_batting_under_the_borders_is_a_frame(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Where blocks carry their own, four strips fill what lies between the centre's seam line and the overhang."""
    borders = (
        '[[border]]\nname = "rim"\nwidth = 3\nfabric = "silk"\n[[border]]\nname = "edge"\nwidth = 2\nfabric = "silk"\n'
    )
    silk = "[fabric.silk]\nwidth = 90\n"
    quilt = of_centre("[30, 40]", borders + _BATTING + 'under = "borders"\n' + silk, usable="60", keys=_NO_GRAIN)
    part = next(part for part in quilt.parts if part.name == "batting")
    # 3 + 2 borders + 1/4 seam + 4 overhang = 9 1/4; raw 50 1/2 + 2·4 = 58 1/2
    assert cut_sizes(part.options[0]) == {
        "batting/top": ("30", "37/4", 1),
        "batting/bottom": ("30", "37/4", 1),
        "batting/left": ("37/4", "117/2", 1),
        "batting/right": ("37/4", "117/2", 1),
    }
    whole = (30 + 10 + Fraction(17, 2)) * (40 + 10 + Fraction(17, 2))
    assert sum(piece.across * piece.along for piece in part.pieces) == whole - 30 * 40
    assert part.pieces[2].why == (
        "from the centre's seam line: 3 + 2 border + 1/4 seam + 4 overhang = 9 1/4 in wide; "
        "raw edge 50 1/2 + 2 × 4 = 58 1/2 in long"
    )
    assert [piece.where for piece in part.pieces] == [
        f"under the borders {place} the centre" for place in ("above", "below", "left of", "right of")
    ]


_ON_POINT = """
[quilt]
across = 3
down = 4
setting = "on point"
triangles = "silk"
[[block]]
name = "star"
finished = [8, 8]
[[border]]
name = "rim"
width = 3
fabric = "silk"
[fabric.silk]
width = 90
"""


def test_sheets_of_a_quilt_on_point(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """The raw edge has √2 in it: what lies under it is rounded up once, and its sum says that it is near."""
    tables = _ON_POINT + _BACKING + "overhang = 4\n" + _BATTING + 'overhang = 4\nunder = "borders"\n'
    quilt = of_pieces(tables, usable="60", keys=_NO_GRAIN)
    found = cut_sizes(quilt)
    # 24·√2 = 33.94 and 32·√2 = 45.25; + 2·(3 + 1/4 + 4): 48.44 and 59.75
    assert found["backing/1"] == ("97/2", "479/8", 1)
    assert found["batting/top"] == ("34", "29/4", 1)
    assert found["batting/left"] == ("29/4", "479/8", 1)
    pieces = {piece.id: piece for part in quilt.parts for piece in part.pieces}
    assert pieces["backing/1"].why == (
        "raw edge ≈ 40 7/16 × ≈ 51 3/4 in + 2 × 4 overhang ≈ 48 7/16 × ≈ 59 3/4 in, on the ruler 48 1/2 × 59 7/8 in"
    )
    assert pieces["batting/left"].why.endswith(
        "raw edge ≈ 51 3/4 + 2 × 4 ≈ 59 3/4 in long; on the ruler 7 1/4 × 59 7/8 in"
    )


def test_parts_of_the_centre_without_batting(of_pieces: Callable[..., Quilt]) -> None:
    """Blocks carry their own batting; what lies between and round them has none under a frame, and that is told."""
    keys = _BATTING + 'under = "borders"\n'
    told = "batting: it lies under the borders alone, and the {} in the centre have none under them."
    on_point = of_pieces(_ON_POINT + keys, usable="60", keys=_NO_GRAIN)
    assert on_point.warnings[-1] == told.format("setting triangles")
    straight = _ON_POINT.replace('setting = "on point"\ntriangles = "silk"\n', "")
    sashes = of_pieces(straight + '[sashing]\nwidth = 1\nfabric = "silk"\n' + keys, usable="60", keys=_NO_GRAIN)
    assert sashes.warnings[-1] == told.format("sashes")
    assert not any("batting" in text for text in of_pieces(straight + keys, usable="60", keys=_NO_GRAIN).warnings)


def test_no_batting(of_centre: Callable[..., Quilt]) -> None:
    """None is cut where none is wanted, or where it is wanted under borders that are not there."""
    block = '  [[block.piece]]\n  name = "top"\n  fabric = "oat"\n'
    none = of_centre("[20, 20]", block + _BATTING + 'under = "none"\n')
    assert ([part.name for part in none.parts], none.warnings) == (["centre/top"], ())
    borders = of_centre("[20, 20]", block + _BATTING + 'under = "borders"\n')
    assert [part.name for part in borders.parts] == ["centre/top"]
    assert borders.warnings == (
        "batting: it is asked for under the borders alone, and there are none, so no batting is cut.",
    )
