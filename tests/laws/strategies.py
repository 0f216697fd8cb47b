"""Projects made at random, as project files: the laws hold for all of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import strategies as st

from ellwand.project.read import parse_project
from ellwand.project.tables import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """The few values that a random project varies, all inches or counts."""

    across: int
    down: int
    block: Fraction
    margin: Fraction
    grain: str
    patch: tuple[Fraction, Fraction]
    patches: int
    border: Fraction
    corners: str
    cut: str
    binding: bool
    backing: bool
    width: int
    fat_quarters: int
    on_hand: Fraction
    layout: str
    copies: int = 1

    def text(self) -> str:
        """The draft as a project file."""
        parts = [self._head(), self._blocks(), self._border()]
        parts += ['[binding]\nfabric = "ink"\nstrip = "2 1/2 in"\n'] * self.binding
        parts += ['[backing]\nfabric = "ink"\noverhang = "2 in"\n'] * self.backing
        return "\n".join([*parts, self._fabric()])

    def project(self) -> Project:
        """The draft, read as a project."""
        return parse_project(self.text(), "random.toml")

    def _head(self) -> str:
        return (
            f'[project]\nname = "random"\nlayout = "{self.layout}"\ncopies = {self.copies}\n'
            f"[quilt]\nacross = {self.across}\ndown = {self.down}\n"
        )

    def _blocks(self) -> str:
        return (
            f'[[block]]\nname = "b"\nfinished = ["{self.block}", "{self.block}"]\n'
            f'[[block.piece]]\nname = "ground"\nfabric = "ink"\ncovers = [1, 1]\nmargin = "{self.margin}"\n'
            f'[[piece]]\nname = "patch"\nfabric = "ink"\ncut = ["{self.patch[0]}", "{self.patch[1]}"]\n'
            f'count = {self.patches}\ngrain = "{self.grain}"\n'
        )

    def _border(self) -> str:
        if not self.border:
            return ""
        return (
            f'[[border]]\nname = "edge"\nfabric = "ink"\nwidth = "{self.border}"\n'
            f'corners = "{self.corners}"\ncut = "{self.cut}"\n'
        )

    def _fabric(self) -> str:
        cloths = []
        if self.fat_quarters:
            cloths.append(f"{{ width = 22, length = 18, count = {self.fat_quarters} }}")
        if self.on_hand:
            cloths.append(f'{{ length = "{self.on_hand}" }}')
        return f"[fabric.ink]\nwidth = {self.width}\nprice = 10.5\non_hand = [{', '.join(cloths)}]\n"


def eighths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    """Lengths on a ruler of eighths, from `low` to `high` inches."""
    return st.integers(8 * low, 8 * high).map(lambda marks: Fraction(marks, 8))


drafts = st.builds(
    Draft,
    across=st.integers(1, 4),
    down=st.integers(1, 5),
    block=eighths(3, 9),
    margin=eighths(1, 2),
    grain=st.sampled_from(["lengthwise", "crosswise", "either"]),
    patch=st.tuples(eighths(1, 9), eighths(1, 12)),
    patches=st.integers(2, 12),
    border=st.just(Fraction(0)) | eighths(1, 5),
    corners=st.sampled_from(["mitred", "butted"]),
    cut=st.sampled_from(["best", "lengthwise", "crosswise"]),
    binding=st.booleans(),
    backing=st.booleans(),
    width=st.integers(38, 46),
    fat_quarters=st.integers(0, 2),
    on_hand=st.just(Fraction(0)) | eighths(10, 40),
    layout=st.sampled_from(["rotary", "rotary", "free"]),
)


def wider(draft: Draft) -> Draft:
    """The same with cloth two inches wider; the cloth on hand stays away, since strips are cut to the bolt's width."""
    return replace(draft, width=draft.width + 2)


def turning(draft: Draft) -> Draft:
    """The same with the loose patches free to turn."""
    return replace(draft, grain="either")


def one_less(draft: Draft) -> Draft:
    """The same with one loose patch less."""
    return replace(draft, patches=draft.patches - 1)
