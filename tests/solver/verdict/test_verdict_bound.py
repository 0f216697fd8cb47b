"""Proving bounds again from a document: what the packing room proves is shown, what is false never is."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import ellwand.verdict.bound
from ellwand.packing.bound import lower_bound
from ellwand.packing.problem import Item, Problem, Stock
from ellwand.verdict.bound import is_proved
from ellwand.verdict.tables import Piece, Proof

NOTHING = Proof(axis=None, weights=(), cloths=())
MANY = settings(max_examples=150, deadline=None, derandomize=True)


def piece(across: int, along: int, count: int = 1, *, turnable: bool = False) -> Piece:
    """Pieces of one fabric."""
    return Piece(id="", fabric="ink", across=across, along=along, count=count, turnable=turnable)


def test_tallest_piece_needs_no_weights() -> None:
    """Tests that a piece of 5 by 9 that may turn needs 5 of cloth 9 wide, and 9 of narrower cloth."""
    turning = [piece(5, 9, turnable=True)]

    assert is_proved(5, turning, 9, NOTHING)
    assert not is_proved(6, turning, 9, NOTHING)
    assert is_proved(9, turning, 8, NOTHING)
    assert not is_proved(1, turning, 9, Proof(axis=None, weights=(), cloths=((5, 9),)))


def test_weights_say_more_than_area() -> None:
    """Tests that 63 squares of 76 need 16 rows of 4 on 336, where their area fills 1083 only."""
    squares = [piece(76, 76, 63)]
    rows = Proof(axis="across", weights=((76, 1),), cloths=())

    assert is_proved(16 * 76, squares, 336, rows)
    assert not is_proved(16 * 76 + 1, squares, 336, rows)


def test_a_piece_that_may_turn_counts_as_it_weighs_least() -> None:
    """Tests that 2 pieces of 5 by 9 side by side on 10 need 9, whatever they would weigh lying flat."""
    assert not is_proved(10, [piece(5, 9, 2, turnable=True)], 10, Proof(axis="across", weights=((9, 1),), cloths=()))


def test_bars_along() -> None:
    """Tests lines along: of three widths of 4 on 10 two are beside each other, so lengths of 6 need 12."""
    pieces = [piece(4, 6, 3)]

    assert is_proved(12, pieces, 10, Proof(axis="along", weights=((6, 1),), cloths=()))
    assert not is_proved(12, pieces, 12, Proof(axis="along", weights=((6, 1),), cloths=()))


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """Small problems with up to two sheets, some of them equal."""
    side = st.integers(1, 12)
    width = draw(st.integers(12, 30))
    sizes = draw(st.lists(st.tuples(side, side, st.booleans()), min_size=1, max_size=5, unique=True))
    items = tuple(Item(w=w, h=h, demand=draw(st.integers(1, 9)), turnable=turns and w != h) for w, h, turns in sizes)
    sheets = draw(st.lists(st.builds(Stock, w=st.integers(1, 20), h=st.integers(1, 20)), max_size=2))
    more = [*sheets, *sheets[:1]] if draw(st.booleans()) else sheets
    return Problem(items=items, stocks=(*more, Stock(w=width, h=None)), guillotine=False, stages=None)


@given(problem=problems())
@MANY
def test_every_bound_of_the_packing_room_is_proved_again(problem: Problem) -> None:
    """Tests that the two sides agree on what their weights prove, and so on every smaller bound."""
    bound = lower_bound(problem)
    pieces = [piece(item.w, item.h, item.demand, turnable=item.turnable) for item in problem.items]
    proof = Proof(
        axis=bound.weights.axis if bound.weights else None,
        weights=bound.weights.value if bound.weights else (),
        cloths=tuple((stock.w, stock.h) for stock in problem.stocks if stock.h is not None),
    )

    for length in range(bound.length + 1):
        assert is_proved(length, pieces, problem.stocks[-1].w, proof)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCloth:
    """Pieces that were cut from cloth of a width and length, and from a rectangle on hand: it can be done."""

    width: int
    length: int
    cloths: tuple[tuple[int, int], ...]
    pieces: tuple[Piece, ...]


@st.composite
def cut_cloths(draw: st.DrawFn) -> CutCloth:
    """Cloth to buy and perhaps a rectangle, each cut by straight cuts without any waste."""
    width, length = draw(st.integers(2, 20)), draw(st.integers(2, 20))
    cloths = draw(st.lists(st.tuples(st.integers(1, 12), st.integers(1, 12)), max_size=1))
    pieces = [part for cloth in [(width, length), *cloths] for part in _parts(draw, *cloth)]
    return CutCloth(width=width, length=length, cloths=tuple(cloths), pieces=tuple(pieces))


def _parts(draw: st.DrawFn, across: int, along: int) -> list[Piece]:
    if across * along < 6 or draw(st.integers(0, 3)) == 0:
        return [piece(across, along, turnable=draw(st.booleans()))]
    if across > along:
        at = draw(st.integers(1, across - 1))
        return _parts(draw, at, along) + _parts(draw, across - at, along)
    at = draw(st.integers(1, along - 1))
    return _parts(draw, across, at) + _parts(draw, across, along - at)


@given(cut=cut_cloths(), axis=st.sampled_from(["across", "along"]), data=st.data())
@MANY
def test_no_weights_prove_what_is_false(cut: CutCloth, axis: str, data: st.DataObject) -> None:
    """Tests that no weights whatever prove that more is needed than the pieces were cut from."""
    sizes = sorted({size for part in cut.pieces for size in (part.across, part.along)})
    drawn = data.draw(st.lists(st.integers(0, 30), min_size=len(sizes), max_size=len(sizes)))
    for weights in (tuple(zip(sizes, sizes, strict=True)), tuple(zip(sizes, drawn, strict=True))):
        assert not is_proved(
            cut.length + 1, cut.pieces, cut.width, Proof(axis=axis, weights=weights, cloths=cut.cloths)
        )


def test_a_proof_that_would_take_for_ever_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tests that sizes with 2 ** 30 sums are given up at a quarter of a million, and the bound is not shown."""
    looked_at: list[int] = []

    def counted(sums: list[tuple[int, int]]) -> list[tuple[int, int]]:
        looked_at.append(len(sums))
        return undominated(sums)

    undominated = ellwand.verdict.bound._undominated
    monkeypatch.setattr(ellwand.verdict.bound, "_undominated", counted)
    sizes = [2**n + 1 for n in range(30)]
    pieces = [piece(size, 1) for size in sizes]
    proof = Proof(axis="across", weights=tuple((size, size) for size in sizes), cloths=())

    assert not is_proved(2, pieces, 2**30, proof)
    assert 250_000 < max(looked_at) <= 2 * 250_000


def test_endless_cloth_is_judged_soon() -> None:
    """Tests that lengths beyond all measure are told apart from a proof as well."""
    pieces = [piece(1, 10**12 - 1), piece(1, 10**12 - 2)]
    proof = Proof(axis="across", weights=((1, 1),), cloths=())

    assert is_proved(10**12 - 1, pieces, 3, proof)
    assert not is_proved(10**12, pieces, 3, proof)
