"""Which fabric of a mix gave what, in sentences."""

from __future__ import annotations

import pytest

from ellwand.materials import plan_sizes
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.quilt.work import work_out
from ellwand_cli.views.materials import head_notes
from ellwand_cli.views.mixes import mix_lines
from ellwand_cli.views.pieces import pieces_page
from ellwand_cli.views.report import plan_report

FILE = """
[project]
name = "Squares"
[[piece]]
name = "patch"
fabric = "dark"
cut = [10, 10]
count = 6
[fabric.dark]
any_of = ["ink", "navy"]
[fabric.ink]
width = 40
selvage = 0
square_up = 0
sold_by = "1/2 yd"
on_hand = [{ width = 10, length = 20 }]
[fabric.navy]
width = 40
selvage = 0
square_up = 0
sold_by = "1/4 yd"
"""
OWNED = f"{FILE}on_hand = [{{ width = 20, length = 10 }}]".replace("length = 20", "length = 40")
DEAR = f"{FILE}price = 20\n".replace('1/2 yd"', '1/2 yd"\nprice = 10')

SENTENCES = [
    (
        OWNED,
        "dark, any of ink or navy: patch 4 of ink and 2 of navy.",
        "Divided so, nothing has to be bought of these fabrics.",
    ),
    (
        FILE,
        "dark, any of ink or navy: patch of ink.",
        "That no other division does better is not proven, but none takes less than 10 in of these fabrics "
        "together (this one takes 1/2 yd).",
    ),
    (
        DEAR,
        "dark, any of ink or navy: patch of ink.",
        "However they are divided, no less can be bought of these fabrics together.",
    ),
    (
        OWNED.replace("count = 6", "count = 7").replace('yd"', 'yd"\nbuy = false'),
        "dark, any of ink or navy: patch 5 of ink and 2 of navy.",
        "Divided otherwise, less might be missing: no better division was found.",
    ),
]


@pytest.mark.parametrize(("text", "taken", "sure"), SENTENCES)
def test_the_sentences_of_a_mix(text: str, taken: str, sure: str) -> None:
    """Who gave what, and how sure it is that no other division does better."""
    plan = make_plan(parse_project(text, "mix.toml"), effort=Effort.QUICK)

    assert mix_lines(plan) == (taken, sure)
    assert taken in plan_report(plan)


def test_copies_are_told() -> None:
    """Counts are those of one copy."""
    text = OWNED.replace('"Squares"', '"Squares"\ncopies = 2')
    plan = make_plan(parse_project(text, "mix.toml"), effort=Effort.QUICK)

    assert mix_lines(plan)[0].startswith("dark, any of ink or navy (in each copy): patch ")


def test_a_project_without_mixes_has_no_such_line() -> None:
    """Nothing is said where nothing was to be settled."""
    plain = FILE.replace('fabric = "dark"', 'fabric = "ink"').replace('[fabric.dark]\nany_of = ["ink", "navy"]\n', "")

    assert mix_lines(make_plan(parse_project(plain, "plain.toml"), effort=Effort.QUICK)) == ()


def test_the_pieces_page_names_the_fabrics() -> None:
    """Before anything is settled a mix stands there with its fabrics."""
    project = parse_project(FILE, "mix.toml")

    assert "dark – any of ink or navy\n" in pieces_page(project, work_out(project))


def test_the_materials_table_says_what_a_mix_stands_for() -> None:
    """Each size takes whichever fabric lets one buy least."""
    sizes = '[[size]]\nname = "small"\n[[size.piece]]\nname = "patch"\ncut = [5, 5]\n'
    materials = plan_sizes(parse_project(FILE + sizes, "mix.toml"), effort=Effort.QUICK)

    assert (
        "dark stands for any of ink or navy: in each size a piece of it is of whichever lets one buy least."
        in head_notes(materials)
    )
    assert [answer.fabric.id for answer in materials.sizes[0].plan.fabrics] == ["navy"]
