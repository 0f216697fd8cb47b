"""The materials table on paper and as text: everything is there, nothing meets, names of any kind do no harm."""

from __future__ import annotations

import csv
from collections.abc import Callable
from functools import cache
from io import BytesIO, StringIO
from typing import Any

import pytest
from matplotlib.figure import Figure
from pypdf import PdfReader

from ellwand.materials import Materials, plan_sizes
from ellwand.packing.problem import Effort
from ellwand.project.read import parse_project
from ellwand_cli.views.materialdata import materials_csv, materials_document
from ellwand_cli.views.materialpages import material_figures, materials_pdf
from ellwand_cli.views.materials import Section, sections
from ellwand_cli.views.materialtext import materials_markdown, materials_text
from ellwand_cli.views.tables import WIDTH
from ellwand_cli.views.typeset import printable

# A cushion of two cloths; what is in braces differs from test to test. Invented.
CUSHION = """
[project]
name = "{name}"
unit = "{unit}"
[[piece]]
name = "front"
fabric = "{fabric}"
cut = ["16 1/2 in", "16 1/2 in"]
[[piece]]
name = "back"
fabric = "oat"
cut = ["16 1/2 in", "12 in"]
count = 2
[fabric."{fabric}"]
is = "{fabric}"
width = "43 in"
price = 12.5
[fabric.oat]
width = "44 in"
"""
SIZE = '[[size]]\nname = "{name}"\npiece = [{{ name = "front", cut = ["{side} in", "{side} in"] }}]\n'
HOSTILE = "$x_{1}$ <b>| `ink` *_[" + "very-long-" * 5


def _cushions(names: list[str], *, name: str = "Cushion", fabric: str = "ink", unit: str = "in") -> Materials:
    text = CUSHION.format(name=name, fabric=fabric, unit=unit)
    sizes = "".join(SIZE.format(name=size, side=12 + number) for number, size in enumerate(names))
    return plan_sizes(parse_project(text + sizes, "cushion.toml"), effort=Effort.QUICK)


_TABLES: dict[str, Callable[[], Materials]] = {
    "one size": lambda: _cushions(["small"]),
    "five sizes": lambda: _cushions([f"{side} in" for side in range(12, 17)]),
    "thirty sizes": lambda: _cushions([f"size {number}" for number in range(1, 31)]),
    "hostile": lambda: _cushions([HOSTILE, HOSTILE + "2"], name=HOSTILE, fabric=HOSTILE),
    "metric": lambda: _cushions(["klein", "groß"], unit="cm"),
}


@cache
def _table(name: str) -> Materials:
    return _TABLES[name]()


@pytest.fixture(params=sorted(_TABLES))
def materials(request: pytest.FixtureRequest) -> Materials:
    """Each of the tables in turn."""
    return _table(request.param)


def _lines(found: tuple[Section, ...], columns: range) -> set[str]:
    return {line for section in found for row in section.rows if row.cells for c in columns for line in row.cells[c]}


def test_no_word_is_small_clipped_or_meets_another(materials: Materials, faults: Callable[[Figure], list[str]]) -> None:
    """All words of every page can be read."""
    assert [fault for figure in material_figures(materials) for fault in faults(figure)] == []


def test_every_cell_is_printed(materials: Materials, words: Callable[[Figure], list[Any]]) -> None:
    """The pages together hold every line of every cell."""
    printed = {one.text for figure in material_figures(materials) for one in words(figure)}

    assert _lines(sections(materials), range(len(materials.sizes))) <= printed


def test_five_sizes_stand_side_by_side_on_one_page() -> None:
    """A small table is one page; of very many sizes each page has as many as go."""
    pages = {
        name: len(PdfReader(BytesIO(materials_pdf(_table(name)))).pages) for name in ("five sizes", "thirty sizes")
    }

    assert pages["five sizes"] == 1
    assert 1 < pages["thirty sizes"] <= 6


def test_equal_tables_make_equal_files() -> None:
    """The PDF has no date in it."""
    assert materials_pdf(_table("five sizes")) == materials_pdf(_table("five sizes"))


def test_text_keeps_its_width_and_has_every_cell(materials: Materials) -> None:
    """No line is too long, and no cell is lost; sizes that do not go side by side stand below each other."""
    text = materials_text(materials)
    flat = "".join(text.split())

    assert all(len(line) <= WIDTH for line in text.splitlines())
    for line in _lines(sections(materials), range(len(materials.sizes))):
        assert "".join(line.split()) in flat


def test_markdown_has_equal_columns_whatever_the_names(materials: Materials) -> None:
    """Every row of a table has a cell for each size: a stroke in a name is no new cell."""
    rows = [line for line in materials_markdown(materials).splitlines() if line.startswith("|")]

    assert rows
    assert {row.replace(r"\|", "").count("|") for row in rows} == {len(materials.sizes) + 2}
    assert not any("<b>" in row for row in rows)


def test_the_csv_is_read_back(materials: Materials) -> None:
    """A spreadsheet reads every name as it is written, and the same number of cells in every row."""
    rows = list(csv.reader(StringIO(materials_csv(materials))))

    assert rows[0][4:] == [size.project.size for size in materials.sizes]
    assert {len(row) for row in rows} == {4 + len(materials.sizes)}
    assert {row[1] for row in rows if row[0] == "To buy"} == set(materials.project.fabrics)


def test_metres_come_first_where_the_project_is_in_centimetres() -> None:
    """Both are told in either; the project's own stands above, and the price is that of a metre."""
    text = materials_text(_table("metric"))
    (cell, *_) = next(row for row in sections(_table("metric"))[0].rows if row.label == "oat").cells

    assert [line.split()[1] for line in cell] == ["m", "yd"]
    assert "ink, 12.50 a metre" in text
    assert "Cut sizes in centimetres" in text


def test_what_is_not_priced_is_told() -> None:
    """The sum says which fabric it leaves out."""
    cost = sections(_table("one size"))[-1]
    together = cost.rows[-1]

    assert cost.title == "Cost"
    assert (together.label, together.notes) == ("together", ("without oat, of unknown price",))
    assert materials_document(_table("one size"))["sizes"][0]["without_price"] == ["oat"]


def test_what_is_bought_to_spare_is_told() -> None:
    """The amounts hold it, and the head says of which fabric how much."""
    text = CUSHION.format(name="Cushion", fabric="ink", unit="in").replace("price = 12.5", 'spare = "12.5 %"')
    text += SIZE.format(name="small", side=12)
    told = materials_text(plan_sizes(parse_project(text, "cushion.toml"), effort=Effort.QUICK))

    assert "More than needed is bought, to spare: 12.5 % of ink.\n" in told
    assert "to spare:" not in materials_text(_table("one size"))


def test_names_are_printable_on_paper(words: Callable[[Figure], list[Any]]) -> None:
    """A name that looks like mathematics is printed as it is written, as far as there is room."""
    printed = [one.text for figure in material_figures(_table("hostile")) for one in words(figure)]

    assert any(text.startswith(printable(HOSTILE)[:12]) for text in printed)
