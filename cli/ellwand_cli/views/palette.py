"""The colours, patterns and pens of every drawing.

Pieces are told apart three times over: a light tint that people with any colour vision tell apart, a light
pattern that survives a grey printer, and a number. The tints began as pale versions of the eight colours of
M. Okabe and K. Ito, "Color Universal Design" (2002, revised 2008), and were moved apart until any two look at
least four times as different as can just be seen, also to eyes that lack one kind of cone (simulated; see the tests).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from ellwand.model import Plan

__all__ = [
    "BRASS", "CLOTH", "FAINT", "FLAW", "INK", "MAPLE", "PAPER", "SCRAP", "SELVAGE", "SOFT", "SQUARING", "WALNUT",
    "Pattern", "Swatch", "numbers", "swatch",
]  # fmt: skip

INK = "#26242b"
SOFT = "#6a6670"  # dimensions and second thoughts
FAINT = "#c9c4bb"
PAPER = "#ffffff"
CLOTH = "#fdfbf6"
SELVAGE = "#e6dcc6"
WALNUT = "#5b4030"
MAPLE = "#f1e2c4"
BRASS = "#b58a2e"


class Pattern(Enum):
    """A light pattern inside a piece."""

    PLAIN = "plain"
    RISING = "rising"
    DOTS = "dots"
    LEVEL = "level"
    FALLING = "falling"
    UPRIGHT = "upright"
    CROSSED = "crossed"
    CHECKED = "checked"
    BROKEN = "broken"  # of scrap alone


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """How one kind of piece is filled: its tint, its pattern and the pattern's colour."""

    tint: str
    line: str
    pattern: Pattern


SCRAP = Swatch(tint="#f0f0ef", line="#a5a5a3", pattern=Pattern.BROKEN)
FLAW = Swatch(tint="#8d8790", line="#8d8790", pattern=Pattern.PLAIN)
SQUARING = Swatch(tint=PAPER, line=SOFT, pattern=Pattern.CROSSED)
_TINTS = (
    ("#c0f1ff", "#7fb4d6"), ("#e3dba0", "#d0a04a"), ("#c7eccd", "#68b497"), ("#e9c2da", "#c68bab"),
    ("#fffab3", "#c2b84a"), ("#c3cbfe", "#7f9bc8"), ("#fdc1b0", "#d68f6b"), ("#e8f3ef", "#a09b92"),
)  # fmt: skip
_PATTERNS = tuple(pattern for pattern in Pattern if pattern is not Pattern.BROKEN)


def swatch(number: int) -> Swatch:
    """The look of piece kind `number`; the first 64 all differ, neighbours in tint and pattern both."""
    tint, line = _TINTS[number % len(_TINTS)]
    return Swatch(tint=tint, line=line, pattern=_PATTERNS[(number + number // len(_TINTS)) % len(_PATTERNS)])


def numbers(plan: Plan) -> dict[str, int]:
    """A number for every kind of piece, from 1, the same on every drawing of `plan`."""
    kinds = dict.fromkeys(piece.id for fabric in plan.fabrics for piece in fabric.pieces)
    return {kind: number for number, kind in enumerate(kinds, 1)}
