"""Binding: its run, its strips, what it shows."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import Piece, Quilt

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]


def _binding(keys: str) -> str:
    return f'[binding]\nfabric = "oat"\n{keys}\n'


def _first(quilt: Quilt) -> Piece:
    return quilt.parts[0].pieces[0]


@pytest.mark.parametrize(
    ("finished", "keys", "usable", "number"),
    [
        # Source: class notes, 2013 (B1): 50 × 60 from 40 in less 2 a strip for joins: 220/38 = 5.79 → 6
        ("[49.5, 59.5]", "strip = 2\nextra = 0", "40", 6),
        # Source: shop hand-out (B2): 46 × 46 from 40 in → 5 strips of 2 1/2
        ("[45.5, 45.5]", "strip = 2.5\nextra = 0", "40", 5),
        # Source: designer's article, 2019 (B3): 54 × 60 and 10 in more from 42 in → 6
        ("[53.5, 59.5]", "strip = 2.5\nextra = 10", "42", 6),
        # derived (B7): a run of 230 from 40 in with strips of 2 1/2: 6 make 227 1/2, so 7
        ("[53.5, 60.5]", "strip = 2.5\nextra = 0", "40", 7),
    ],
)
def test_number_of_strips(of_centre: Callable[..., Quilt], finished: str, keys: str, usable: str, number: int) -> None:
    """The bound edge is the raw edge: a finished size and two seams of 1/4."""
    (part,) = of_centre(finished, _binding(keys), usable=usable).parts
    assert sum(piece.count for piece in part.pieces) == number
    assert part.options[0].joins == number - 1


def test_strips_take_so_much_length(of_centre: Callable[..., Quilt]) -> None:
    """Five strips of 2 1/2 in are 12 1/2 in of cloth."""
    # Source: shop hand-out (B2)
    (part,) = of_centre("[45.5, 45.5]", _binding("strip = 2.5\nextra = 0"), usable="40").parts
    assert sum(piece.count * piece.along for piece in part.pieces) * 2 == 25


def test_full_strips_are_one_piece(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Run 2 × (50 + 60) + 14 = 234 in 6 strips of 42: 234 + 5·3 − 5·42 = 39 for the last."""
    # Source: common practice, no source (B8): 2(L + W), 12–16 in more; strips of 3 in
    quilt = of_centre("[49.5, 59.5]", _binding("strip = 3\nextra = 14"), basics="copies = 2")
    assert cut_sizes(quilt) == {"binding/1": ("42", "3", 10), "binding/2": ("39", "3", 2)}
    piece = _first(quilt)
    assert (piece.turnable, piece.finished, piece.after) == (False, None, "join end to end on the diagonal")
    assert piece.why == (
        "2 × (50 + 60) bound edge + 14 extra = 234 in; 5 × 42 + 39 less 5 × 3 for joins = 234 in; "
        "folded double it shows 5/8 in a side, if shared evenly"
    )
    assert quilt.parts[0].pieces[1].why == "as binding/1; the rest, 39 in"
    assert quilt.parts[0].options[0].joins == 10


def test_a_short_rest_is_raised(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A run of 42 + 1 in takes a second strip of the shortest bit, not of 3 1/2 in, and says so."""
    quilt = of_centre("[10, 10]", _binding('strip = 2.5\nextra = 1\nshortest = "12 in"'))
    assert cut_sizes(quilt) == {"binding/1": ("42", "5/2", 1), "binding/2": ("12", "5/2", 1)}
    assert quilt.parts[0].pieces[1].why == "as binding/1; the shortest bit allowed, 12 in"


def test_one_strip_goes_round(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A cushion of 5 × 5 in needs one strip, which is not raised and not joined."""
    quilt = of_centre("[4.5, 4.5]", _binding("strip = 2.5\nextra = 14"))
    assert cut_sizes(quilt) == {"binding/1": ("34", "5/2", 1)}
    assert quilt.parts[0].options[0].name == "crosswise"
    assert _first(quilt).after == ""


@pytest.mark.parametrize(("strip", "shows"), [("2", "3/8"), ("2.5", "1/2")])
def test_what_a_double_binding_shows(of_centre: Callable[..., Quilt], strip: str, shows: str) -> None:
    """A double binding sewn with 1/4 in shows a quarter of the strip less two seams."""
    # Source: FMQ guild, binding notes (B4): strip = 4 × fin + 1/2
    quilt = of_centre("[20, 20]", _binding(f"strip = {strip}"))
    assert _first(quilt).why.endswith(f"folded double it shows {shows} in a side, if shared evenly")


@pytest.mark.parametrize(
    ("strip", "seam", "shows"),
    [
        ("6.5", "0.7", "about 1.3 cm"),  # (6.5 − 1.4)/4 = 1.275
        ("6.4", "0.7", "1.25 cm"),  # half way between two marks
        ("6.2", "0.7", "1.2 cm"),
        ("2.2", "0.9", "0.1 cm"),
        ("2.1", "0.9", "about 0.1 cm"),  # (2.1 − 1.8)/4 = 0.075
    ],
)
def test_what_shows_is_told_on_the_ruler(of_centre: Callable[..., Quilt], strip: str, seam: str, shows: str) -> None:
    """What lies between two marks of 1 mm is told as about the nearer one."""
    quilt = of_centre("[20, 20]", _binding(f"strip = {strip}\nseam = {seam}"), basics='unit = "cm"', usable="110")
    assert _first(quilt).why.endswith(f"folded double it shows {shows} a side, if shared evenly")


def test_half_a_mark_is_told_as_it_is(of_centre: Callable[..., Quilt]) -> None:
    """On a ruler of 1/8 in a binding may show 9/16 in; 17/32 is about 1/2 in."""
    assert _first(of_centre("[20, 20]", _binding("strip = 2.75"))).why.endswith(
        "it shows 9/16 in a side, if shared evenly"
    )
    assert _first(of_centre("[20, 20]", _binding("strip = 2.625"))).why.endswith(
        "it shows about 1/2 in a side, if shared evenly"
    )


def test_a_strip_that_does_not_reach_the_back(of_centre: Callable[..., Quilt]) -> None:
    """Under six seams and 1/4 in the fold does not reach over the edge."""
    seam = 'seam = "3/8 in"\n'  # first the seam of the blocks, so that nothing else is told
    quilt = of_centre("[20, 20]", _binding(seam + "strip = 2.375"), basics=seam)
    assert quilt.warnings == (
        "binding: a strip of 2 3/8 in sewn with a seam of 3/8 in will not reach the back; take at least 2 1/2 in.",
    )
    assert of_centre("[20, 20]", _binding(seam + "strip = 2.5"), basics=seam).warnings == ()


def test_binding_ignores_the_way_of_the_print(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Binding of one-way cloth is cut like any other."""
    one_way = of_centre("[20, 20]", _binding("strip = 2.5"), keys='way = "one-way"')
    assert cut_sizes(one_way) == cut_sizes(of_centre("[20, 20]", _binding("strip = 2.5")))


def test_joins_that_take_the_whole_width(of_centre: Callable[..., Quilt]) -> None:
    """Diagonal joins of strips as wide as the cloth reach nowhere."""
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[20, 20]", _binding("strip = 42"))
    # 2·(20 1/2 + 20 1/2) + 14 = 96
    assert str(refusal.value) == (
        "trial.toml: binding: a join takes 42 in, and oat can be used for 42 in. 54 in missing. "
        'Try join = "straight", or a wider cloth.'
    )


def test_joins_that_take_nearly_the_whole_width(of_centre: Callable[..., Quilt]) -> None:
    """Strips that bring 1/8 in each are refused before hundreds of them are counted out; 1 in each will do."""
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[20, 20]", _binding("strip = 41.875"))
    # (96 − 41 7/8) ÷ 1/8 = 433
    assert str(refusal.value) == (
        "trial.toml: binding: it would take 433 parts, a join of 41 7/8 in between each two, "
        'and oat can be used for 42 in. 54 in missing. Try join = "straight", or a wider cloth.'
    )
    # (96 − 41) ÷ 1 = 55
    (part,) = of_centre("[20, 20]", _binding("strip = 41")).parts
    assert sum(piece.count for piece in part.pieces) == 55


def test_a_shortest_bit_longer_than_the_cloth_is_wide(of_centre: Callable[..., Quilt]) -> None:
    """No joined binding can be made of such bits; one that needs no join can."""
    with pytest.raises(NoPlanError) as refusal:
        of_centre("[20, 20]", _binding("shortest = 43"))
    assert str(refusal.value) == (
        "trial.toml: binding: no bit of it may be shorter than 43 in, and oat can be used for 42 in. 54 in missing. "
        "Lower shortest, or take a wider cloth."
    )
    (part,) = of_centre("[5, 5]", _binding("shortest = 43")).parts
    assert part.options[0].joins == 0


def test_no_extra_is_a_run_of_the_edge_alone(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """`extra = 0` is as it is said: 2 × (9 + 9) in round a cushion."""
    assert cut_sizes(of_centre("[8.5, 8.5]", _binding("extra = 0")))["binding/1"][0] == "36"


# lengthwise, and any way


def _ways(quilt: Quilt) -> dict[str, tuple[str, int]]:
    """Length and number of the equal strips of every way."""
    return {
        option.name: (str(option.pieces[0].along), option.pieces[0].count)
        for option in quilt.parts[0].options
        if len(option.pieces) == 1
    }


def test_equal_strips_along_the_selvage(of_centre: Callable[..., Quilt]) -> None:
    """A run of 160 in: as many strips as make a difference to what is bought, none under the shortest."""
    quilt = of_centre("[31.5, 39.5]", _binding('grain = "lengthwise"\nextra = 16'))
    # derived (B6): n strips of 2 1/2 in, joined on the diagonal, are (160 + (n − 1)·2 1/2)/n long each, to the ruler;
    # with 1/2 in of squaring that is 36, 19, 13, 10, 8, 7, 6, 6, 5, 5, 4, 4, 4, 4, 3, 3 steps of 1/8 yd for 1 to 16
    assert _ways(quilt) == {
        "lengthwise": ("160", 1),
        "lengthwise, 2 strips joined": ("325/4", 2),
        "lengthwise, 3 strips joined": ("55", 3),
        "lengthwise, 4 strips joined": ("335/8", 4),
        "lengthwise, 5 strips joined": ("34", 5),
        "lengthwise, 6 strips joined": ("115/4", 6),
        "lengthwise, 7 strips joined": ("25", 7),
        "lengthwise, 9 strips joined": ("20", 9),
        "lengthwise, 11 strips joined": ("135/8", 11),
        "lengthwise, 15 strips joined": ("13", 15),
    }
    (part,) = quilt.parts
    assert [(option.joins, option.pieces[0].turnable) for option in part.options[:3]] == [
        (0, False), (1, False), (2, False),
    ]  # fmt: skip
    assert part.options[1].pieces[0].why == (
        "2 × (32 + 40) bound edge + 16 extra = 160 in; 2 × 81 1/4 less 1 × 2 1/2 for joins = 160 in; "
        "folded double it shows 1/2 in a side, if shared evenly"
    )
    assert part.options[1].pieces[0].after == "join end to end on the diagonal"
    assert part.options[0].pieces[0].after == ""


def test_equal_strips_as_long_as_cloth_on_hand(of_centre: Callable[..., Quilt]) -> None:
    """The least number that fits a length on hand is open too: 8 strips of 22 1/4 in on 24 1/2, 10 on 18 1/4."""
    keys = 'on_hand = [ { length = "25 in" }, { width = "10 in", length = "18 1/4 in" } ]'
    ways = _ways(of_centre("[31.5, 39.5]", _binding('grain = "lengthwise"\nextra = 16'), keys=keys))
    assert ways["lengthwise, 8 strips joined"] == ("89/4", 8)
    assert ways["lengthwise, 10 strips joined"] == ("73/4", 10)
    assert "lengthwise, 12 strips joined" not in ways


def test_no_equal_strip_is_shorter_than_allowed(of_centre: Callable[..., Quilt]) -> None:
    """The shortest bit bounds their number; a single strip may be as short as it is."""
    ways = _ways(of_centre("[31.5, 39.5]", _binding('grain = "lengthwise"\nextra = 16\nshortest = "34 in"')))
    assert [number for _, number in ways.values()] == [1, 2, 3, 4, 5]
    single = _ways(of_centre("[4.5, 4.5]", _binding('grain = "lengthwise"\nextra = 0\nshortest = "34 in"')))
    assert single == {"lengthwise": ("20", 1)}


def test_any_way_is_both(of_centre: Callable[..., Quilt]) -> None:
    """Strips from selvage to selvage, or of equal length; all may lie either way."""
    (part,) = of_centre("[31.5, 39.5]", _binding('grain = "any"\nextra = 16'), basics="copies = 2").parts
    assert [(option.name, option.joins) for option in part.options[:3]] == [
        ("crosswise, joined", 6), ("lengthwise", 0), ("2 equal strips, joined", 2),
    ]  # fmt: skip
    assert len(part.options) == 11
    assert all(piece.turnable for option in part.options for piece in option.pieces)
    assert [str(piece.across) for piece in part.options[0].pieces] == ["42", "83/2"]
    (whole,) = part.pieces
    assert (whole.id, whole.open_form, str(whole.across), str(whole.along), whole.count) == (
        "binding", True, "5/2", "160", 2,
    )  # fmt: skip
    assert whole.where == "round the edge"


def test_any_way_of_a_single_strip_is_one(of_centre: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """A run that one width reaches is one strip, which may be turned."""
    quilt = of_centre("[4.5, 4.5]", _binding('grain = "any"'))
    assert cut_sizes(quilt) == {"binding/1": ("34", "5/2", 1)}
    assert _first(quilt).turnable


def test_any_way_where_one_does_not_go(of_centre: Callable[..., Quilt]) -> None:
    """Diagonal joins that take all of a width leave the lengthwise strip; one wider than the cloth leaves nothing."""
    (part,) = of_centre("[20, 20]", _binding('grain = "any"\nstrip = 42\nextra = 4')).parts
    assert [option.name for option in part.options] == ["lengthwise"]
    with pytest.raises(NoPlanError, match=r"binding/1: is cut 43 in wide, and oat can be used for 42 in"):
        of_centre("[20, 20]", _binding('grain = "lengthwise"\nstrip = 43'))


@pytest.mark.parametrize(("ruler", "usable"), [("1/8", "42"), ("1/2", "60"), ("1", "90")])
def test_equal_strips_reach_the_run(of_centre: Callable[..., Quilt], ruler: str, usable: str) -> None:
    """On every cloth and ruler: n strips less their joins reach, and with a mark less of each they would not."""
    keys = _binding('grain = "lengthwise"\nshortest = 0\nstrip = 2.3')
    quilt = of_centre("[31.3, 39.7]", keys, basics=f'ruler = "{ruler} in"', usable=usable)
    assert quilt.sizes is not None
    run = 2 * sum(quilt.sizes.bound) + 14
    assert len(quilt.parts[0].options) > 5
    for option in quilt.parts[0].options:
        (piece,) = option.pieces
        reach = piece.count * piece.along - (piece.count - 1) * piece.across
        assert reach - piece.count * Fraction(ruler) < run <= reach
