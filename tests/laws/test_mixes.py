"""Laws of mixes and of single cloths: nothing is lost in dividing, and no fabric alone would have been bought less."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ellwand.costs import add_mixed
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import sound_document

NAMES = ("ink", "navy", "slate")
FEW = settings(max_examples=8, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloths:
    """What a random fabric is: its print, price and cloth on hand, and how many pieces are its own."""

    way: str
    price: int
    hand: tuple[tuple[int, int, str], ...]  # width, length and lot
    own: int
    same: bool

    def text(self, name: str) -> str:
        """Its table, and that of its own pieces."""
        lots = [(width, length, f", lot = {lot!r}" if lot else "") for width, length, lot in self.hand]
        cloths = ", ".join(f"{{ width = {width}, length = {length}{lot} }}" for width, length, lot in lots)
        piece = f'[[piece]]\nname = "own {name}"\nfabric = "{name}"\ncut = [6, 4]\ncount = {self.own}\n'
        same = "true" if self.same else "false"
        table = f'[fabric.{name}]\nwidth = 30\nway = "{self.way}"\nprice = {self.price}\nsame_cloth = {same}\n'
        return (piece if self.own else "") + f"{table}on_hand = [{cloths}]\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A random quilt of four blocks with two pieces of a mix, and its fabrics."""

    fabrics: tuple[Cloths, ...]
    whole: bool
    copies: int
    binding: bool
    counts: tuple[int, int]

    def text(self, only: str | None = None) -> str:
        """The project file, or that in which one fabric is written instead of the mix."""
        fabric = only or "dark"
        parts = [
            f'[project]\nname = "Mix"\ncopies = {self.copies}\n[quilt]\nacross = 2\ndown = 2\n',
            '[[block]]\nname = "tail"\nfinished = [9, 7]\n',
            f'[[block.piece]]\nname = "ground"\nfabric = "{fabric}"\ncount = {self.counts[0]}\n',
            f'[[block.piece]]\nname = "wing"\nfabric = "{fabric}"\ncut = [5, 3]\ncount = {self.counts[1]}\n',
            f'[binding]\nfabric = "{fabric}"\n' if self.binding else "",
            *(cloths.text(name) for name, cloths in zip(NAMES, self.fabrics, strict=False)),
        ]
        names = ", ".join(f'"{name}"' for name in NAMES[: len(self.fabrics)])
        mix = f"[fabric.dark]\nany_of = [{names}]\nwhole_blocks = {str(self.whole).lower()}\n"
        return "".join(parts) + ("" if only else mix)


CLOTHS = st.builds(
    Cloths,
    way=st.sampled_from(["any", "one-way"]),
    price=st.integers(4, 9),
    hand=st.lists(st.tuples(st.integers(6, 28), st.integers(6, 20), st.sampled_from(["", "A"])), max_size=3).map(tuple),
    own=st.integers(0, 3),
    same=st.booleans(),
)
DRAFTS = st.builds(
    Draft,
    fabrics=st.lists(CLOTHS, min_size=2, max_size=3).map(tuple),
    whole=st.booleans(),
    copies=st.integers(1, 2),
    binding=st.booleans(),
    counts=st.tuples(st.integers(1, 2), st.integers(1, 4)),
)


def planned(text: str) -> Plan:
    """The plan of a file, sound."""
    plan = make_plan(parse_project(text, "mix.toml"), effort=Effort.QUICK)
    sound_document(plan)
    return plan


def cost(plan: Plan) -> Fraction:
    """What its fabrics cost, exact."""
    return sum(
        (answer.steps * answer.fabric.sold_by * (answer.fabric.price or Fraction(0)) / 36 for answer in plan.fabrics),
        Fraction(0),
    )


@FEW
@given(DRAFTS)
def test_every_piece_is_cut_once(draft: Draft) -> None:
    """Over all fabrics together there are as many of each size as one fabric alone would have given, for each copy."""
    plan = planned(draft.text())
    alone = planned(draft.text(NAMES[0]))

    def sizes(of: Plan) -> Counter[frozenset[Fraction]]:
        """How many there are of each cut size that is of a block, whichever way it lies."""
        found: Counter[frozenset[Fraction]] = Counter()
        for answer in of.fabrics:
            for piece in answer.pieces:
                if piece.id.startswith("tail/"):
                    found[frozenset((piece.across, piece.along))] += piece.count
        return found

    assert sizes(plan) == sizes(alone)


@FEW
@given(DRAFTS)
def test_no_fabric_alone_costs_less(draft: Draft) -> None:
    """All fabrics together cost no more than with everything from any one of them, and no less than the least."""
    plan = planned(draft.text())
    mixture = add_mixed(plan)

    assert mixture is not None
    assert mixture.least <= mixture.bought == cost(plan)
    for name in NAMES[: len(draft.fabrics)]:
        assert cost(plan) <= cost(planned(draft.text(name)))


@FEW
@given(DRAFTS)
def test_blocks_are_whole_where_they_are_to_be(draft: Draft) -> None:
    """Every fabric gives both pieces of as many blocks."""
    plan = planned(replace(draft, whole=True).text())

    for answer in plan.fabrics:
        ground, wing = (
            sum(piece.count for piece in answer.pieces if piece.id.startswith("tail") and piece.id.endswith(part))
            for part in ("ground", "wing")
        )
        assert ground * draft.counts[1] == wing * draft.counts[0]


@FEW
@given(DRAFTS)
def test_one_cloth_where_it_is_to_be(draft: Draft) -> None:
    """A fabric of which all must be of one cloth or lot is cut from such, and bought only as though it had none."""
    for answer in planned(draft.text()).fabrics:
        lots = {layout.cloth.lot or layout.cloth.id for layout in answer.layouts}
        if answer.fabric.same_cloth:
            assert len(lots) == 1
            assert answer.needed == 0 or len(answer.layouts) == 1
