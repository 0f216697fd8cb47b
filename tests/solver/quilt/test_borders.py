"""Borders: sizes of their strips, and the ways they may be cut."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import Construction, Piece, Quilt

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]


def _border(width: str, corners: str = "mitred", name: str = "outer", keys: str = "") -> str:
    return f'[[border]]\nname = "{name}"\nwidth = {width}\nfabric = "oat"\ncorners = "{corners}"\n{keys}\n'


def _pieces(holder: Quilt | Construction) -> dict[str, Piece]:
    if isinstance(holder, Construction):
        return {piece.id: piece for piece in holder.pieces}
    return {piece.id: piece for part in holder.parts for piece in part.pieces}


def test_mitred_strip_is_side_twice_the_width_and_extra(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A finished side of 40 and a border of 5 take strips of 56 in."""
    # Source: quilting magazine, mitring article (R1): 40 + 2·5 + 6 = 56, the 6 in hold the seams
    sizes = cut_sizes(of_centre("[40, 40]", _border("5"), usable="60"))
    # derived: width 5 + two seams of 1/4
    assert sizes == {f"outer/{side}": ("11/2", "56", 1) for side in ("top", "bottom", "left", "right")}


def test_borders_sewn_together_take_the_outermost_length(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Borders totalling 3 1/2 in round a side of 17 1/2 are all cut 30 1/2 in long."""
    # Source: teaching article 370 (R2): 17 1/2 + 2·3 1/2 + 6 = 30 1/2; common practice, no source (R3: sewn together)
    borders = _border("1", name="inner") + _border("2.5", keys="sewn_together = true")
    quilt = of_centre("[17.5, 17.5]", borders + '[binding]\nfabric = "oat"\nseam = "3/4 in"\nstrip = "5 in"\n')
    sizes = cut_sizes(quilt)
    assert {sizes[f"{name}/{side}"][1] for name in ("inner", "outer") for side in ("top", "left")} == {"61/2"}
    assert (sizes["inner/top"][0], sizes["outer/top"][0]) == ("3/2", "7/2")
    # derived (R3): 6/2 − 3/4 − √2·1/4 = 1.896, down to the ruler, where both end at one mitre
    length = "length 17 1/2 side + 2 × (1 + 2 1/2) borders + 6 extra = 30 1/2 in, 1 7/8 in spare at each end"
    strips = _pieces(quilt)
    assert strips["inner/top"].why == f"width 1 + 1/4 + 1/4 seams = 1 1/2 in; {length}"
    assert strips["outer/top"].why == f"width 2 1/2 + 1/4 + 3/4 seams = 3 1/2 in; {length}"


def test_borders_sewn_one_by_one_take_their_own_length(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Each border's strips go round what lies inside it: 20 + 2·1 + 6, then 22 + 2·2 + 6."""
    quilt = of_centre("[20, 20]", _border("1", name="inner") + _border("2"))
    sizes = cut_sizes(quilt)
    assert (sizes["inner/top"][1], sizes["outer/top"][1]) == ("28", "32")
    # derived (R3): 6/2 − 1/4 − √2·1/4 = 2.396, down to the ruler
    assert _pieces(quilt)["outer/top"].why == (
        "width 2 + 1/4 + 1/4 seams = 2 1/2 in; length 22 side + 2 × 2 border + 6 extra = 32 in, "
        "2 3/8 in spare at each end"
    )


def test_butted_sides_come_first(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Sides at the raw length of the centre, top and bottom across them."""
    # Source: quilting magazine (R4), seam 1/4: sides 50 + 1/2; top and bottom = 40 + 2·4 + 1/2; R5: cut 4 1/2 wide
    quilt = of_centre("[40, 50]", _border("4", "butted"), usable="60")
    assert cut_sizes(quilt) == {
        "outer/top": ("9/2", "97/2", 1),
        "outer/bottom": ("9/2", "97/2", 1),
        "outer/left": ("9/2", "101/2", 1),
        "outer/right": ("9/2", "101/2", 1),
    }
    strips = _pieces(quilt)
    assert [str(side) for side in strips["outer/left"].finished or ()] == ["4", "50"]
    assert [str(side) for side in strips["outer/top"].finished or ()] == ["48", "4"]
    assert strips["outer/left"].after == "nothing to spare: measure the sewn centre before it is cut"


def test_a_seam_belongs_to_its_line(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Inner line 1/2, line between the borders 3/8, edge 5/8: each strip takes those of its own two lines."""
    borders = _border("2", name="inner", corners="butted", keys="seam = 0.5")
    borders += _border("3", corners="butted", keys="seam = 0.375\nextra = 1")
    binding = '[binding]\nfabric = "oat"\nseam = "5/8 in"\nstrip = "5 in"\n'
    quilt = of_centre("[20, 30]", borders + binding, usable="60")
    sizes = cut_sizes(quilt)
    assert sizes["inner/left"][:2] == (str(2 + Fraction(7, 8)), str(30 + 1))
    assert sizes["inner/top"][:2] == (str(2 + Fraction(7, 8)), str(20 + 4 + Fraction(3, 4)))
    assert sizes["outer/left"][:2] == ("4", str(34 + Fraction(3, 4) + 1))
    assert sizes["outer/top"][:2] == ("4", str(24 + 6 + Fraction(5, 4) + 1))
    strip = _pieces(quilt)["outer/top"]
    assert strip.why.endswith("24 side + 2 × 3 border + 2 × 5/8 seam + 1 extra = 32 1/4 in, 1/2 in spare at each end")
    assert strip.after == "cut long now; to length after the sewn centre is measured"


def test_borders_grow_the_quilt(of_centre: Callable[..., Quilt]) -> None:
    """A 6 in border round 70 × 86 finishes 82 × 98, raw two seams more."""
    # Source: class slides (R12)
    sizes = of_centre("[70, 86]", _border("6")).sizes
    assert sizes is not None
    assert [str(side) for side in (*sizes.centre, *sizes.finished)] == ["70", "86", "82", "98"]
    assert [str(side) for side in (*sizes.raw, *sizes.bound)] == ["165/2", "197/2"] * 2


def test_too_little_extra_is_told(of_centre: Callable[..., Quilt]) -> None:
    """A mitre needs two outer seams and 2·√2 mitre seams: 2·(1/4 + √2/4) = 1.207 in."""
    # Source: common practice, no source (R3)
    short = of_centre("[20, 20]", _border("2", keys="extra = 1.2"))
    assert short.warnings == ("border outer: 1.2 in extra is too little for its mitres: their seams take 1 1/4 in.",)
    assert of_centre("[20, 20]", _border("2", keys="extra = 1.25")).warnings == ()


def test_lengthwise_strips_of_four_borders(of_centre: Callable[..., Quilt]) -> None:
    """Four strips of up to 80 in, each under 10 in wide, lie along the selvage."""
    # Source: forum post (R6): the longest 80 in, each under 10 in wide, from a width of 42 in
    quilt = of_centre("[62.5, 71.5]", _border("8", "butted", keys='cut = "lengthwise"\nextra = 0'))
    strips = _pieces(quilt)
    assert [str(strip.along) for strip in strips.values()] == ["79", "79", "72", "72"]
    assert sum(strip.across for strip in strips.values()) == 34
    assert not any(strip.turnable for strip in strips.values())
    assert quilt.warnings == ()


def test_borders_past_a_quarter_of_the_width_are_told(of_centre: Callable[..., Quilt]) -> None:
    """Four strips of 12 1/2 in do not lie side by side on 42 in: they take two lengths, of 90 and of 70."""
    # Source: forum post (R7): four borders of 12 in, 48 > 42, more than one length
    (warning,) = of_centre("[40, 60]", _border("12")).warnings
    # derived: 60 + 2·12 + 6 = 90, 40 + 24 + 6 = 70; 42/4 = 10 1/2, less two seams of 1/4
    assert warning == (
        "border outer: its strips are 12 1/2 in wide, more than a quarter of the 42 in that oat can be used for: "
        "four no longer lie side by side. Cut lengthwise they take 2 lengths, at most 90 + 70 in, "
        "instead of one of 90 in; up to a finished width of 10 in one would do."
    )
    assert of_centre("[40, 60]", _border("10")).warnings == ()
    assert of_centre("[40, 60]", _border("12", keys='cut = "crosswise"')).warnings == ()


def test_what_a_border_past_a_quarter_costs(of_centre: Callable[..., Quilt]) -> None:
    """Where no two lie side by side, each strip takes its own length; the width that would do is on the ruler."""
    one_by_one = of_centre("[40, 60]", _border("24", "butted"), basics="copies = 2", usable="42.1").warnings
    # derived: 60 1/2 and 40 + 48 + 1/2; 42.1 is 42 on the ruler, 42/4 less 1/2
    assert one_by_one == (
        "border outer: its strips are 24 1/2 in wide, more than a quarter of the 42 in that oat can be used for: "
        "four no longer lie side by side. Cut lengthwise they take 4 lengths for each quilt, at most "
        "88 1/2 + 88 1/2 + 60 1/2 + 60 1/2 in, instead of one of 88 1/2 in; "
        "up to a finished width of 10 in one would do.",
    )
    seams = of_centre("[60, 60]", _border("0.5", "butted", keys="seam = 1"), basics="seam = 1", usable="7")
    # derived: 2 1/2 in of strip, and the 1 3/4 in of a quarter are less than its two seams
    (warning,) = (text for text in seams.warnings if text.startswith("border"))
    assert warning.endswith("2 lengths, at most 63 + 62 in, instead of one of 63 in.")


@pytest.mark.parametrize("usable", ["42", "42.25"])
def test_the_width_told_is_the_widest(of_centre: Callable[..., Quilt], usable: str) -> None:
    """A border of the width that would do is not warned of, one mark more is: four of 10 1/2 in are 42."""
    assert of_centre("[40, 60]", _border("10"), usable=usable).warnings == ()
    (warning,) = of_centre("[40, 60]", _border("10.125"), usable=usable).warnings
    assert warning.endswith("up to a finished width of 10 in one would do.")


def test_best_offers_both_ways_where_the_cloth_is_too_narrow(of_centre: Callable[..., Quilt]) -> None:
    """Sides of 58 in are cut along the selvage or joined; top and bottom of 38 in may lie either way."""
    quilt = of_centre("[28, 48]", _border("2"))
    (part,) = quilt.parts
    assert [(option.name, option.joins) for option in part.options] == [
        ("sides lengthwise, top and bottom in one piece", 0),
        ("crosswise, joined", 2),
    ]
    whole, joined = (_pieces(option) for option in part.options)
    assert [(strip.id, strip.turnable) for strip in whole.values()] == [
        ("outer/top", True), ("outer/bottom", True), ("outer/left", False), ("outer/right", False),
    ]  # fmt: skip
    # derived (B6): 58 + 2 1/2 − 42 = 18 1/2 in for the second bit
    bits = [(bit.id, str(bit.across), str(bit.along), bit.turnable) for bit in joined.values() if "left" in bit.id]
    assert bits == [("outer/left/1", "42", "5/2", False), ("outer/left/2", "37/2", "5/2", False)]
    assert joined["outer/left/1"].finished is None
    assert joined["outer/left/1"].after.startswith("join end to end on the diagonal; cut long now")
    assert joined["outer/left/1"].why.endswith("42 + 18 1/2 less 1 × 2 1/2 for joins = 58 in")
    assert joined["outer/left/2"].why == "as outer/left/1; the rest, 18 1/2 in"
    assert joined["outer/right/1"].why == "as outer/left; 42 + 18 1/2 less 1 × 2 1/2 for joins = 58 in"
    assert [(str(strip.along), strip.open_form) for strip in part.pieces] == [("38", False)] * 2 + [("58", True)] * 2


def test_best_is_one_way_where_all_strips_fit(of_centre: Callable[..., Quilt]) -> None:
    """Strips up to the width of the cloth may be turned and need no choice."""
    (part,) = of_centre("[20, 32]", _border("2")).parts
    (option,) = part.options
    assert (option.name, option.joins, option.pieces) == ("whole", 0, part.pieces)
    assert all(strip.turnable and not strip.open_form for strip in part.pieces)


def test_crosswise_joins_only_what_is_too_long(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Top and bottom lie from selvage to selvage whole, the sides are joined straight."""
    quilt = of_centre("[28, 48]", _border("2", keys='cut = "crosswise"\njoin = "straight"'), basics="copies = 3")
    (part,) = quilt.parts
    assert (part.options[0].name, part.options[0].joins) == ("crosswise, joined", 6)
    assert cut_sizes(quilt) == {
        "outer/top": ("38", "5/2", 3),
        "outer/bottom": ("38", "5/2", 3),
        "outer/left/1": ("42", "5/2", 3),
        "outer/left/2": ("33/2", "5/2", 3),
        "outer/right/1": ("42", "5/2", 3),
        "outer/right/2": ("33/2", "5/2", 3),
    }
    assert not any(strip.turnable for strip in part.pieces)


@pytest.mark.parametrize("way", ["one-way", "stripe"])
def test_prints_hang_as_they_hang(of_centre: Callable[..., Quilt], cut_sizes: _Sizes, way: str) -> None:
    """Side borders along the selvage, top and bottom from selvage to selvage, joined where they are longer."""
    # Source: common practice, no source (one-way prints must stay upright on all four sides)
    quilt = of_centre("[40, 60]", _border("2"), keys=f'way = "{way}"')
    (part,) = quilt.parts
    assert [option.name for option in part.options] == ["as it hangs, joined"]
    sizes = cut_sizes(quilt)
    assert sizes["outer/left"][:2] == ("5/2", "70")
    assert sizes["outer/top/1"][:2] == ("42", "5/2")
    assert not any(strip.turnable for strip in part.pieces)


def test_cloth_without_grain_turns(of_centre: Callable[..., Quilt]) -> None:
    """Strips of felt or film have no grain to follow."""
    (part,) = of_centre("[40, 60]", _border("2"), keys='grain = "none"').parts
    assert [option.name for option in part.options] == ["whole"]
    assert all(strip.turnable for strip in part.pieces)


def test_no_join_inside_a_mitre(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """The end bit holds half the extra, the border's width and the whole join: 3 + 8 + 8 1/2 in."""
    sizes = cut_sizes(of_centre("[20, 34]", _border("8", keys='cut = "crosswise"')))
    # 34 + 16 + 6 = 56; 56 + 8 1/2 − 42 = 22 1/2 is missing, more than the mitre needs
    assert sizes["outer/left/2"][0] == "45/2"
    # 24 + 16 + 6 = 46; 46 + 8 1/2 − 42 = 12 1/2 is missing, less than the mitre needs
    sizes = cut_sizes(of_centre("[20, 24]", _border("8", keys='cut = "crosswise"')))
    assert sizes["outer/left/2"][0] == "39/2"
    # a butted one has no mitre: 24 1/2 + 20 = 44 1/2; 44 1/2 + 8 1/2 − 42 = 11, raised to the shortest bit of 12 in
    sizes = cut_sizes(of_centre("[20, 24]", _border("8", "butted", keys='cut = "crosswise"\nextra = 20')))
    assert sizes["outer/left/2"][0] == "12"


def test_more_joins_than_allowed(of_centre: Callable[..., Quilt]) -> None:
    """A way that takes more joins than the border allows is not offered; if none is left, the reason is told."""
    (part,) = of_centre("[20, 100]", _border("2", keys="joins = 1")).parts
    assert [option.name for option in part.options] == ["sides lengthwise, top and bottom in one piece"]
    assert part.pieces == part.options[0].pieces
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[20, 100]", _border("2", keys='joins = 1\ncut = "crosswise"'))
    # 110 in long; 42 + 42 − 2 1/2 = 81 1/2
    assert str(refusal.value) == (
        "trial.toml: outer/left: is 110 in long, and oat reaches 81 1/2 in with joins = 1. 28 1/2 in missing. "
        'Allow joins = 2, write cut = "best", or take a wider cloth.'
    )


def test_borders_wider_than_the_cloth(of_centre: Callable[..., Quilt]) -> None:
    """Lengthwise strips cannot be wider than the cloth, and a diagonal join of such strips takes all of it.

    Joined straight, butted ones will do, but of mitred ones the join would fall into the mitre.
    """
    with pytest.raises(NoPlanError, match=r"outer/top: is cut 50 1/2 in wide.*8 1/2 in missing"):
        of_centre("[20, 20]", _border("50"))
    with pytest.raises(NoPlanError, match=r"a join takes 50 1/2 in, and oat can be used for 42 in"):
        of_centre("[20, 20]", _border("50", keys='cut = "crosswise"'))
    (part,) = of_centre("[20, 20]", _border("50", "butted", keys='join = "straight"')).parts
    assert [option.name for option in part.options] == ["crosswise, joined"]
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[20, 20]", _border("50", keys='join = "straight"\ncut = "crosswise"'))
    # half the extra, the width and two seams of 1/4: 3 + 50 + 1/2
    assert str(refusal.value) == (
        "trial.toml: outer/top: its spare, its mitre and a join take 53 1/2 in of its end, "
        "and oat can be used for 42 in. 11 1/2 in missing. Make the border narrower, or take a wider cloth."
    )


def test_no_join_allowed(of_centre: Callable[..., Quilt]) -> None:
    """`joins = 0` leaves the lengthwise way; crosswise it is refused with what is missing."""
    (part,) = of_centre("[28, 48]", _border("2", keys="joins = 0")).parts
    assert [(option.name, option.joins) for option in part.options] == [
        ("sides lengthwise, top and bottom in one piece", 0)
    ]
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[28, 48]", _border("2", keys='joins = 0\ncut = "crosswise"'))
    assert str(refusal.value) == (
        "trial.toml: outer/left: is 58 in long, and oat reaches 42 in with joins = 0. 16 in missing. "
        'Allow joins = 1, write cut = "best", or take a wider cloth.'
    )


def test_no_extra_on_a_mitred_border(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """`extra = 0` cuts as said, speaks of no spare, and tells what the mitres need."""
    quilt = of_centre("[20, 20]", _border("2", keys="extra = 0"))
    assert cut_sizes(quilt)["outer/top"] == ("5/2", "24", 1)
    strip = _pieces(quilt)["outer/top"]
    assert strip.why.endswith("length 20 side + 2 × 2 border + 0 extra = 24 in")
    assert strip.after == "nothing to spare: measure the sewn centre before it is cut"
    assert quilt.warnings == ("border outer: 0 in extra is too little for its mitres: their seams take 1 1/4 in.",)


def test_a_shortest_bit_longer_than_the_cloth_is_wide(of_centre: Callable[..., Quilt]) -> None:
    """No border can be joined of such bits; the lengthwise way is left."""
    (part,) = of_centre("[28, 48]", _border("2", keys="shortest = 50")).parts
    assert [option.name for option in part.options] == ["sides lengthwise, top and bottom in one piece"]
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[28, 48]", _border("2", keys='shortest = 50\ncut = "crosswise"'))
    assert str(refusal.value) == (
        "trial.toml: outer/left: no bit of it may be shorter than 50 in, and oat can be used for 42 in. "
        "16 in missing. Lower shortest, or take a wider cloth."
    )


def test_a_sum_is_told_once(of_centre: Callable[..., Quilt]) -> None:
    """Two strips of one length share their sum, and all four the sum of their width."""
    why = {name: strip.why for name, strip in _pieces(of_centre("[20, 30]", _border("2"))).items()}
    assert why["outer/top"].startswith("width 2 + 1/4 + 1/4 seams = 2 1/2 in; length 20 side")
    assert why["outer/bottom"] == "as outer/top"
    assert why["outer/left"].startswith("width as outer/top; length 30 side")
    assert why["outer/right"] == "as outer/left"


@pytest.mark.parametrize(
    ("seam", "advice"),
    [
        ("0.5", "leave 1/4 in more on the outer sides of the outer blocks, and in their margins."),
        ("0.125", "trim 1/8 in off the sewn centre all round."),
    ],
)
def test_another_seam_than_the_blocks_are_cut_for(of_centre: Callable[..., Quilt], seam: str, advice: str) -> None:
    """A line sewn with another seam than its raw edge has is told."""
    (warning,) = of_centre("[20, 20]", _border("2", keys=f"seam = {seam}")).warnings
    assert warning.startswith("round the blocks the seam is")
    assert warning.endswith(advice)


def test_each_strip_says_where_it_goes(of_centre: Callable[..., Quilt]) -> None:
    """The bits of a joined strip too."""
    (part,) = of_centre("[20, 60]", _border("2", keys='cut = "crosswise"')).parts
    assert [piece.where for piece in part.pieces] == [
        "top of the outer border",
        "bottom of the outer border",
        *["left side of the outer border"] * 2,
        *["right side of the outer border"] * 2,
    ]


def test_butted_strips_with_spare(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """An inch of spare in all, half of it at each end, on all four strips, joined ones too."""
    quilt = of_centre("[30, 50]", _border("3", "butted", keys='extra = 1\ncut = "crosswise"'))
    # derived (R4): 30 + 6 + 1/2 + 1 = 37 1/2; 50 + 1/2 + 1 = 51 1/2 = 42 + 13 − 3 1/2
    sizes = cut_sizes(quilt)
    assert sizes["outer/top"] == ("75/2", "7/2", 1)
    assert (sizes["outer/left/1"], sizes["outer/left/2"]) == (("42", "7/2", 1), ("13", "7/2", 1))
    strips = _pieces(quilt)
    assert "1 extra = 37 1/2 in, 1/2 in spare at each end" in strips["outer/top"].why
    assert "1 extra = 51 1/2 in, 1/2 in spare at each end; 42 + 13 less" in strips["outer/left/1"].why


def test_straight_joins_lose_the_projects_seam(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Two seams of the project's, not of the border's line."""
    quilt = of_centre("[10, 60]", _border("3", "butted", keys='join = "straight"\ncut = "crosswise"\nseam = 0.5'))
    # 60 + 2·1/2 = 61 = 42 + 19 1/2 − 2·1/4
    assert cut_sizes(quilt)["outer/left/2"] == ("39/2", "15/4", 1)


def test_no_join_in_the_mitre_of_borders_sewn_together(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """The inner one's mitre begins where the innermost is sewn on, though its strips are as long as the outer's."""
    borders = _border("4", name="inner", keys='cut = "crosswise"\nshortest = 1')
    borders += _border("6", keys='sewn_together = true\ncut = "crosswise"\nshortest = 1')
    sizes = cut_sizes(of_centre("[10, 20]", borders))
    # 20 + 2·10 + 6 = 46; the inner one's end: (46 − 20)/2 = 13 and a join of 4 1/2; the rest alone 46 + 4 1/2 − 42
    assert sizes["inner/left/2"][0] == "35/2"
    # the outer one's: (46 − 28)/2 = 9 and a join of 6 1/2; the rest alone would be 10 1/2
    assert sizes["outer/left/2"][0] == "31/2"
