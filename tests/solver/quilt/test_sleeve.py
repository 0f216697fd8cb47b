"""Sleeve: a tube to hang a quilt by."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from ellwand.errors import NoPlanError
from ellwand.model import Part, Quilt, Role

_Of = Callable[..., Quilt]
_Sizes = Callable[..., dict[str, tuple[str, str, int]]]


def _sleeve(keys: str = "") -> str:
    return f'[sleeve]\nfabric = "oat"\n{keys}\n'


def _part(quilt: Quilt) -> Part:
    (part,) = quilt.parts
    return part


@pytest.mark.parametrize("edge", ["20", "30.25", "36"])
def test_the_sleeve_of_a_show(of_centre: _Of, edge: str) -> None:
    """Cut 8 1/2 × (edge + 2); with hems of 1 1/2 it finishes 4 deep and the edge less 1 long."""
    # Source: International Quilt Association, sleeve instructions (L1)
    finished = Fraction(edge) - Fraction(1, 2)  # the bound edge is two seams of 1/4 more
    (piece,) = _part(of_centre(f"[{float(finished)}, 50]", _sleeve())).pieces
    assert (piece.across, piece.along) == (Fraction(17, 2), Fraction(edge) + 2)
    assert piece.along - 2 * Fraction(3, 2) == Fraction(edge) - 1
    assert (piece.across - 2 * Fraction(1, 4)) / 2 == 4
    assert (piece.count, piece.turnable, piece.role, piece.finished) == (1, True, Role.SLEEVE, None)


def test_what_is_told(of_centre: _Of) -> None:
    """Its sum, what is done with it, and where it goes."""
    binding = '[binding]\nfabric = "oat"\nseam = "3/8 in"\nstrip = "3 in"\n'
    quilt = of_centre("[30, 40]", _sleeve('depth = 3\nseam = "3/8 in"\nextra = 1') + binding)
    (piece,) = (piece for part in quilt.parts if part.name == "sleeve" for piece in part.pieces)
    assert piece.why == ("width 2 × 3 depth + 2 × 3/8 seams = 6 3/4 in; length 30 3/4 bound edge + 1 extra = 31 3/4 in")
    assert piece.after == "hem both ends, sew to a tube along its length"
    assert piece.where == "back of the quilt, along its top edge"


def test_centimetres(of_centre: _Of, cut_sizes: _Sizes) -> None:
    """10 cm deep with seams of 1/4 in and 2 in more by default: 20 + 1.27, 60 + 1.4 + 5.08, up to the millimetre."""
    quilt = of_centre("[60, 80]", _sleeve(), basics='unit = "cm"', usable="110")
    # derived (L1): 21.27 → 21.3 cm, 66.48 → 66.5 cm
    assert [Fraction(side) * Fraction(127, 50) for side in cut_sizes(quilt)["sleeve"][:2]] == [
        Fraction("21.3"), Fraction("66.5"),
    ]  # fmt: skip


def test_a_long_sleeve_is_cut_lengthwise_or_joined(of_centre: _Of, cut_sizes: _Sizes) -> None:
    """62 1/2 in from 42 in: whole along the selvage, or joined straight with two seams of the project's."""
    part = _part(of_centre("[60, 60]", _sleeve(), basics="copies = 2"))
    lengthwise, joined = part.options
    assert [(option.name, option.joins) for option in part.options] == [("lengthwise", 0), ("crosswise, joined", 2)]
    assert cut_sizes(lengthwise) == {"sleeve": ("17/2", "125/2", 2)}
    # 62 1/2 = 42 + 21 − 2·1/4
    assert cut_sizes(joined) == {"sleeve/1": ("42", "17/2", 2), "sleeve/2": ("21", "17/2", 2)}
    assert joined.pieces[0].after == "join end to end, straight across; hem both ends, sew to a tube along its length"
    assert joined.pieces[1].where == "back of the quilt, along its top edge"
    assert [(piece.id, piece.open_form) for piece in part.pieces] == [("sleeve", True)]


def test_no_bit_is_shorter_than_the_tube_is_deep(of_centre: _Of, cut_sizes: _Sizes) -> None:
    """42 1/2 in would take a second bit of 1 in, which is raised to 4."""
    _, joined = _part(of_centre("[40, 60]", _sleeve())).options
    assert cut_sizes(joined)["sleeve/2"] == ("4", "17/2", 1)


def test_nobody_sees_which_way_its_print_runs(of_centre: _Of) -> None:
    """Of one-way cloth it is cut like any other."""
    for finished in ("[30, 30]", "[60, 60]"):
        any_way, one_way = (of_centre(finished, _sleeve(), keys=f'way = "{way}"') for way in ("any", "one-way"))
        assert any_way.parts == one_way.parts


def test_a_sleeve_wider_than_its_cloth(of_centre: _Of) -> None:
    """Joined from widths of 8 in; where a join takes all of one, the first refusal is told."""
    (only,) = _part(of_centre("[30, 30]", _sleeve(), usable="8")).options
    # derived (B6): 32 1/2 in, each further width brings 7 1/2; the last 2 1/2 in are raised to the depth
    assert (only.name, [str(bit.across) for bit in only.pieces]) == ("crosswise, joined", [*["8"] * 4, "4"])
    with pytest.raises(NoPlanError, match=r"^trial\.toml: sleeve: is cut 8 1/2 in wide, and oat can be used for 8 in"):
        of_centre("[30, 30]", _sleeve(), usable="8", basics="seam = 4")
