"""What holds for every project: an easier one never needs provably more, and every figure adds up."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.errors import EllwandError
from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import dumps, plan_document
from ellwand.verdict import judge_plan
from laws.strategies import Draft, drafts, drafts_that_may_turn, one_less, turning, wider

FEW = settings(max_examples=20, deadline=None, derandomize=True)
MORE = settings(max_examples=30, deadline=None, derandomize=True)


def plan(draft: Draft, *, as_new: bool = False) -> Plan:
    """The draft's plan with little work."""
    return make_plan(draft.project(), effort=Effort.QUICK, as_new=as_new)


def faults_of(answer: Plan) -> tuple[str, ...]:
    """What the judge says of a plan that was written and read back."""
    return judge_plan(json.loads(dumps(plan_document(answer)), parse_float=Fraction))


def assert_no_harder(easier: Plan, harder: Plan) -> None:
    """Of every fabric the easier bound is at most the harder need; and so is the easier need where it is proven."""
    for easy, hard in zip(easier.fabrics, harder.fabrics, strict=True):
        assert easy.bound <= hard.needed
        assert not easy.proven or easy.needed <= hard.needed


@given(draft=drafts_that_may_turn)
@FEW
def test_leave_to_turn_never_needs_provably_more(draft: Draft) -> None:
    """Loose patches that may turn could lie as they did before."""
    assert_no_harder(plan(turning(draft)), plan(draft))


@given(draft=drafts)
@FEW
def test_a_piece_less_never_needs_provably_more(draft: Draft) -> None:
    """A patch that is not wanted leaves its place empty."""
    assert_no_harder(plan(one_less(draft)), plan(draft))


@given(draft=drafts)
@MORE
def test_wider_cloth_never_needs_provably_more(draft: Draft) -> None:
    """A bolt two inches wider holds what the narrower one held, as a printed pattern would ask."""
    assert_no_harder(plan(wider(draft), as_new=True), plan(draft, as_new=True))


@given(draft=drafts)
@FEW
def test_two_quilts_take_no_more_than_twice_one(draft: Draft) -> None:
    """As new, the bound for twice the copies is at most twice the need."""
    once, twice = plan(draft, as_new=True), plan(replace(draft, copies=2 * draft.copies), as_new=True)

    for one, two in zip(once.fabrics, twice.fabrics, strict=True):
        assert two.bound <= 2 * one.needed


@given(draft=drafts)
@MORE
def test_every_plan_passes_the_judge_of_documents(draft: Draft) -> None:
    """Written and read back, a plan has no fault, and its areas sum to what is taken."""
    document = json.loads(dumps(plan_document(plan(draft))), parse_float=Fraction)

    assert judge_plan(document) == ()
    for fabric in document["fabrics"]:
        assert sum(fabric["area"].values()) == fabric["taken"]
        assert fabric["bound"] <= fabric["needed"]


@given(draft=drafts, width=st.integers(4, 14), buy=st.booleans())
@MORE
def test_a_narrow_cloth_gives_a_plan_or_a_sentence(draft: Draft, width: int, buy: bool) -> None:
    """However narrow the cloth, the answer is a sound plan or an error that words itself."""
    text = replace(draft, width=width, buy=buy).text()
    try:
        outcome = "; ".join(faults_of(make_plan(parse_project(text, "random.toml"), effort=Effort.QUICK))) or "sound"
    except EllwandError as error:
        outcome = str(error)

    assert outcome == "sound" or outcome.startswith("random.toml: ")
