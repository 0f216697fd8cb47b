"""What holds for every project: an easier one never needs provably more, and every figure adds up."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.errors import EllwandError
from ellwand.model import FabricPlan, Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.record import dumps, plan_document
from ellwand.verdict import judge_plan
from laws.strategies import Draft, drafts, one_less, turning, wider

FEW = settings(max_examples=25, deadline=None, derandomize=True)
MORE = settings(max_examples=40, deadline=None, derandomize=True)


def plan(draft: Draft, *, as_new: bool = False) -> Plan:
    """The draft's plan with little work."""
    return make_plan(draft.project(), effort=Effort.QUICK, as_new=as_new)


def only(answer: Plan) -> FabricPlan:
    """The one fabric of a random project."""
    (fabric,) = answer.fabrics
    return fabric


@pytest.mark.parametrize("ease", [turning, one_less], ids=["turning", "a piece less"])
@given(draft=drafts)
@FEW
def test_an_easier_project_never_needs_provably_more(ease: Callable[[Draft], Draft], draft: Draft) -> None:
    """The easier bound is never above the harder need; nor is the easier need, where it is proven."""
    harder, easier = only(plan(draft)), only(plan(ease(draft)))

    assert easier.bound <= harder.needed
    assert not easier.proven or easier.needed <= harder.needed


@given(draft=drafts)
@FEW
def test_wider_cloth_never_needs_provably_more(draft: Draft) -> None:
    """The same for a bolt two inches wider, as a printed pattern would ask."""
    harder, easier = only(plan(draft, as_new=True)), only(plan(wider(draft), as_new=True))

    assert easier.bound <= harder.needed
    assert not easier.proven or easier.needed <= harder.needed


@given(draft=drafts)
@FEW
def test_two_quilts_take_no_more_than_twice_one(draft: Draft) -> None:
    """As new, the bound for two copies is at most twice the need for one."""
    one, two = only(plan(draft, as_new=True)), only(plan(replace(draft, copies=2), as_new=True))

    assert two.bound <= 2 * one.needed


@given(draft=drafts)
@MORE
def test_every_plan_passes_the_judge_of_documents(draft: Draft) -> None:
    """Written and read back, a plan has no fault, and its areas sum to what is taken."""
    answer = plan(draft)
    document = json.loads(dumps(plan_document(answer)), parse_float=Fraction)
    (fabric,) = document["fabrics"]

    assert judge_plan(document) == ()
    assert sum(fabric["area"].values()) == fabric["taken"]


@given(draft=drafts, width=st.integers(4, 14), buy=st.booleans())
@MORE
def test_a_narrow_cloth_gives_a_plan_or_a_sentence(draft: Draft, width: int, buy: bool) -> None:
    """However narrow the cloth, the answer is a sound plan or an error that words itself."""
    text = replace(draft, width=width).text() + f"buy = {str(buy).lower()}\n"
    try:
        outcome = _judged(text)
    except EllwandError as error:
        outcome = str(error)

    assert outcome == "sound" or outcome.startswith("random.toml: ")


def _judged(text: str) -> str:
    """Read, plan and judge a project file."""
    from ellwand.project.read import parse_project

    document = plan_document(make_plan(parse_project(text, "random.toml"), effort=Effort.QUICK))
    faults = judge_plan(json.loads(dumps(document), parse_float=Fraction))
    return "; ".join(faults) or "sound"
