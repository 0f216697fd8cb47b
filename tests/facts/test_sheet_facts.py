"""Trade facts of backing, sleeve, hoops and stitched blocks (P, L, H)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.errors import InputError
from ellwand.lengths import parse_length
from facts.trade import centre, plan, read, worked


def backing(finished: str, keys: str, cloth: str) -> str:
    """The sides, needed, and panels of a backing of one cloth."""
    answer = plan(centre(finished, f'[backing]\nfabric = "f"\n{keys}', cloth=cloth))
    panels = " and ".join(f"{piece.across} × {piece.along}" for piece in answer.pieces for _ in range(piece.count))
    return f"{panels}: {answer.needed}"


def test_p1_overhang_for_a_domestic_machine() -> None:
    """2 or 3 in on each side of a raw 40 × 60."""
    # Source: St. Croix quilters' guild (P1)
    assert backing("[39.5, 59.5]", 'overhang = "2 in"', "width = 44") == "44 × 64: 64"
    assert backing("[39.5, 59.5]", 'overhang = "3 in"', "width = 46") == "46 × 66: 66"


def test_p2_p3_overhang_on_a_frame() -> None:
    """A raw top of 40 × 60 with 4 in on each side, which is what is taken by default, takes 48 × 68."""
    # Source: long-arm studios' hand-outs (P2: 4 in); shop page (P3)
    assert backing("[39.5, 59.5]", "", "width = 48") == "48 × 68: 68"


def test_p5_two_widths_of_40() -> None:
    """A backing of 80 × 56 takes two widths of 40, 112 in, with a seam of 0 only: with 1/2 in two cover 79."""
    # Source: forum thread (P5)
    keys = 'overhang = 0\npanels = "lengthwise"\nseam = "{} in"'

    assert backing("[79.5, 55.5]", keys.format("0"), "width = 40").endswith(": 112")
    assert backing("[79.5, 55.5]", keys.format("1/2"), "width = 40").count("×") == 3
    assert backing("[78.5, 55.5]", keys.format("1/2"), "width = 40").endswith(": 112")


@pytest.mark.parametrize(("panels", "needed"), [("lengthwise", "156"), ("crosswise", "129"), ("best", "129")])
def test_p6_backing_both_ways(panels: str, needed: str) -> None:
    """A backing of 64 1/2 × 78 from 42: 2·78 = 156 in with the seam one way, 2·64.5, about 130, with the other."""
    # Source: forum thread (P6)
    found = backing("[64, 77.5]", f'overhang = 0\nseam = "1/2 in"\npanels = "{panels}"', "width = 42")

    assert found.endswith(f": {needed}")


def test_p8_a_seam_of_half_an_inch_and_no_selvages() -> None:
    """44 in without selvages of 1 in are 42; two of them cover 84 less two seams of 1/2, 83, and no more."""
    # Source: long-arm studios' hand-outs (P8)
    cloth = 'width = 44\nselvage = "1 in"'
    keys = 'overhang = 0\nseam = "1/2 in"\npanels = "lengthwise"'

    assert backing("[82.5, 99.5]", keys, cloth).startswith("42 × 100 and 42 × 100:")
    assert backing("[82.625, 99.5]", keys, cloth).count("×") == 3


def test_l1_sleeve_of_a_show() -> None:
    """Cut 8 1/2 × (edge + 2), it finishes 4 deep; two hems of 1 1/2 leave edge − 1."""
    # Source: International Quilt Association, sleeve instructions (L1)
    edge = 36
    _, pieces = worked(centre("[35.5, 35.5]", '[sleeve]\nfabric = "f"\ndepth = 4'))
    (sleeve,) = pieces.values()

    assert {sleeve.across, sleeve.along} == {Fraction(17, 2), edge + 2}
    assert max(sleeve.across, sleeve.along) - 2 * Fraction(3, 2) == edge - 1


def block(keys: str, *, piece: str = "", tables: str = "") -> str:
    """One block as a quilt."""
    return f'[quilt]\n[[block]]\nname = "b"\n{keys}\n[[block.piece]]\nname = "p"\nfabric = "f"\n{piece}\n{tables}'


@pytest.mark.parametrize(
    ("hoop", "fits", "too_large"),
    [
        ('["100 mm", "100 mm"]', '["3 15/16", "3 15/16"]', "[4, 4]"),
        ('["130 mm", "180 mm"]', "[5, 7]", '["5 1/4", 7]'),
        ('["200 mm", "200 mm"]', '["7 7/8", "7 7/8"]', "[8, 8]"),
    ],
)
def test_h1_a_hoops_name_is_never_its_size(hoop: str, fits: str, too_large: str) -> None:
    """Hoops called 4 × 4, 5 × 7 and 8 × 8 have fields of 100 × 100, 130 × 180 and 200 × 200 mm."""
    # common practice, no source (H1)
    worked(read(block(f"finished = {fits}\nhoop = {hoop}")))

    with pytest.raises(InputError, match="is larger than this field"):
        read(block(f"finished = {too_large}\nhoop = {hoop}"))


@pytest.mark.parametrize(("head", "least", "most"), [("", "3/4 in", "1 in"), ('unit = "cm"', "2 cm", "2.5 cm")])
def test_h2_stabiliser_reaches_beyond_the_frame(head: str, least: str, most: str) -> None:
    """The frame's outer size and 3/4–1 in (2–2.5 cm) more on each side, by default too."""
    # common practice, no source (H2)
    tables = '[stabiliser]\nfabric = "f"'
    keys = 'finished = ["8 in", "8 in"]\nframe = ["260 mm", "260 mm"]'
    _, pieces = worked(read(block(keys, tables=tables), head=head))
    beyond = (pieces["stabiliser"].across - parse_length("260 mm", unit="in")) / 2

    assert parse_length(least, unit="in") <= beyond
    assert beyond <= parse_length(most, unit="in") + Fraction(1, 16)  # rounded up to the ruler, on two sides together


def test_h3_h5_ground_of_a_stitched_block() -> None:
    """Stitched 8, its ground 1 in beyond all round; after stitching trimmed 1/2 in outside, joined on the stitching."""
    # Source: practitioners' articles (H3: 1/2 in at the least, 1–3 usual); common practice, no source (H5)
    keys = 'finished = [8, 8]\nseam = "1/2 in"\ntrim = "1/2 in"'
    _, pieces = worked(read(block(keys, piece='margin = "1 in"')))

    assert pieces["b/p"].across == pieces["b/p"].along == 10
    assert pieces["b/p"].after.startswith("trim to 9 × 9 in")
    with pytest.raises(InputError, match="does not reach the seam"):
        read(block(keys, piece='margin = "3/8 in"'))


def test_h4_an_applique_patch_covers_its_line() -> None:
    """A patch of 6 × 4 cm, trimmed 2 mm outside its stitching, is cut 2 mm larger all round."""
    # common practice, no source (H4)
    text = block("finished = [20, 20]", piece='size = [6, 4]\nmargin = "2 mm"')
    _, pieces = worked(read(text, head='unit = "cm"'))

    assert pieces["b/p"].across == parse_length("6.4 cm", unit="cm")
    assert pieces["b/p"].along == parse_length("4.4 cm", unit="cm")
