"""Sentences about a fabric's plan."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Looser
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand_cli.views.words import freer_lines, how_sure

SQUARE = """
[project]
name = "square"
[[piece]]
name = "top"
fabric = "ink"
cut = [10, 10]
[fabric.ink]
width = 42
selvage = 0
square_up = 0
sold_by = "1 in"
"""
STRAIGHT, FREE = True, False


@pytest.fixture
def notation() -> Notation:
    """Inches."""
    return parse_project(SQUARE, "square.toml").notation


@pytest.fixture
def ten() -> FabricPlan:
    """A plan that needs and buys ten inches."""
    (answer,) = make_plan(parse_project(SQUARE, "square.toml")).fabrics
    return answer


def looser(straight: bool, needed: int, bought: int) -> Looser:
    """What more freedom was found to need."""
    return Looser(straight=straight, needed=Fraction(needed), bound=Fraction(0), bought=Fraction(bought))


ANY = 'straight cuts in any number of levels (stages = "any") would need '
SCISSORS = "scissors, cut freely, would need "
NOTHING = "neither more levels of straight cuts nor scissors were found to save anything"


@pytest.mark.parametrize(
    ("found", "lines"),
    [
        ([], []),
        (
            [looser(STRAIGHT, 9, 9), looser(FREE, 8, 8)],
            [f"{ANY}9 in, 1/4 yd to buy", f"{SCISSORS}8 in, ≈ 0.23 yd to buy"],
        ),
        ([looser(STRAIGHT, 9, 10), looser(FREE, 9, 10)], [f"{ANY}9 in, and no less to buy"]),
        ([looser(STRAIGHT, 10, 10), looser(FREE, 9, 9)], [f"{SCISSORS}9 in, 1/4 yd to buy"]),
        ([looser(FREE, 0, 0)], [f"{SCISSORS}nothing more"]),
        ([looser(STRAIGHT, 10, 10), looser(FREE, 10, 10)], [NOTHING]),
        ([looser(FREE, 10, 10)], ["scissors were not found to save anything"]),
    ],
)
def test_what_more_freedom_saves(ten: FabricPlan, notation: Notation, found: list[Looser], lines: list[str]) -> None:
    """Tests that only what saves is told, each step against the one before."""
    assert list(freer_lines(replace(ten, looser=tuple(found)), notation)) == lines


def test_what_cannot_be_bought_is_not_offered(ten: FabricPlan, notation: Notation) -> None:
    """Tests a fabric of which nothing more is to be had."""
    short = replace(ten, fabric=replace(ten.fabric, buy=False), looser=(looser(FREE, 8, 8),))

    assert list(freer_lines(short, notation)) == [f"{SCISSORS}8 in"]


@pytest.mark.parametrize(
    ("needed", "bound", "words"),
    [
        ("0", "0", "the cloth on hand is enough"),
        ("10", "10", "cannot be done in less"),
        ("10", "0", "not proven the least"),
        ("10", "8", "at most 25 % from the least"),
        ("33", "32", "at most 3.2 % from the least"),  # 3.125, rounded up
        ("10", "5", "perhaps less would do, though not below 50 % of it"),
        ("10", "20/3", "perhaps less would do, though not below 66 % of it"),  # 66 2/3, rounded down
    ],
)
def test_how_sure_a_length_is(ten: FabricPlan, needed: str, bound: str, words: str) -> None:
    """Near the bound the distance is told, far from it that the bound says little."""
    assert how_sure(replace(ten, needed=Fraction(needed), bound=Fraction(bound))) == words
