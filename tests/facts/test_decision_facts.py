"""Trade facts put as claims: yardages in print that hold, and those that fail on the cloth as it is."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.claim import Claim, try_claims
from ellwand.packing.problem import Effort
from ellwand.project.tables import Project
from ellwand.slack import NO_SLACK, USUAL_SLACK, Slack
from facts.trade import centre, read

YARD = 36


def claim(project: Project, inches: Fraction | int, slack: Slack = USUAL_SLACK) -> Claim:
    """What becomes of a claim on the one cloth."""
    _, (found,) = try_claims(project, {"f": Fraction(inches)}, slack=slack, effort=Effort.QUICK)
    return found


def strips(width: str) -> Project:
    """Four borders cut lengthwise, the longest 80 in."""
    pieces = f'[[piece]]\nname = "border"\nfabric = "f"\ncut = ["{width}", 80]\ncount = 4\ngrain = "lengthwise"\n'
    return read(pieces)


@pytest.mark.parametrize("width", ["4", "8 1/2", "9 7/8"])
def test_r6_two_and_a_half_yards_hold_four_borders(width: str) -> None:
    """Four lengthwise borders of 80 in, each under 10 in wide, come out of 2 1/2 yd of 42 in; 2 1/4 yd would do."""
    # Source: forum post (R6), WOF 42
    found = claim(strips(width), Fraction(5, 2) * YARD)

    assert found.holds
    assert found.answer.needed == 80
    assert found.enough == Fraction(9, 4) * YARD
    assert found.forgiven is not None
    assert found.forgiven.width_proven
    exact = 4 * sum(map(Fraction, width.split()))
    assert found.forgiven.width == exact + Fraction(1, 4)  # derived: side by side, with the slack across


def test_r7_four_borders_past_the_width_take_more_than_one_length() -> None:
    """Four of 12 in pass 42: the claim of one length fails, and two lengths of 80 in are 4 1/2 yd."""
    # Source: forum post (R7), cut lengthwise, no joins
    found = claim(strips("12"), Fraction(9, 4) * YARD)

    assert (found.holds, found.refuted) == (False, True)
    assert found.answer.needed == 160
    assert found.enough == Fraction(9, 2) * YARD
    assert claim(strips("12"), Fraction(9, 2) * YARD).holds


def test_p6_the_direction_of_the_seam_decides() -> None:
    """A backing of 64 1/2 × 78 takes 2·64.5 ≈ 130 in with its seam across, and 156 in with it down."""
    # Source: forum thread (P6), WOF about 42
    backing = '[backing]\nfabric = "f"\noverhang = 0\nseam = "1/4 in"\npanels = "{}"\n'
    best, down = (centre("[64, 77.5]", backing.format(panels)) for panels in ("best", "lengthwise"))

    assert claim(best, 130).holds
    assert (claim(down, 130).holds, claim(down, 130).refuted) == (False, True)
    assert claim(down, 130).answer.needed == 156
    assert claim(down, 157).holds  # with 1/2 in to spare
    assert claim(best, 130).answer.needed == 129


@pytest.mark.parametrize(
    ("usable", "holds"),
    [
        ("44", True),  # the width that is printed on the bolt
        ("42 1/4", False),  # Source: practitioner forum thread (W4): 43 overall, 42 1/4 inside the white edge
        ("42", False),  # Source: St. Croix quilters' guild, backing leaflet (W3): 40–42 usable of 44/45
        ("40", False),
    ],
)
def test_w3_w4_a_claim_from_the_printed_width_fails_on_the_real_one(usable: str, holds: bool) -> None:
    """Eight squares of 11 in from 22 in of cloth "44 in wide": four go side by side on that width alone."""
    squares = '[[piece]]\nname = "square"\nfabric = "f"\ncut = [11, 11]\ncount = 8\n'
    # Source: backing leaflet of a quilters' guild (W3) and a practitioner forum thread (W4), for the widths above
    found = claim(read(squares, cloth=f'width = "{usable}"'), 22, NO_SLACK)

    assert found.holds is holds
    assert found.refuted is not holds
    assert found.answer.needed == (22 if holds else 33)  # derived: three side by side are three rows
    assert found.forgiven is None or found.forgiven.width == 44


def test_k1_what_a_claim_may_shrink() -> None:
    """80 in of the 90 that are sold may be left: 1 − 80/90 = 11.1 %, as shrinkage is over the length before."""
    # Source: ISO 5077 (K1), change over length before; the arithmetic is derived
    found = claim(strips("9"), Fraction(5, 2) * YARD, NO_SLACK)

    assert found.forgiven is not None
    assert found.forgiven.shrinks == (Fraction(111, 1000), Fraction(142, 1000))  # crosswise 1 − 36/42 = 14.28 %
