"""``ellwand sizes`` and ``--size``: what they print and write, and what they refuse."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Callable
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

Run = Callable[..., Result]
Document = dict[str, Any]

ROOT = Path(__file__).parents[2]
PAGES = Path(__file__).parent / "pages"
DONE, IMPOSSIBLE, INPUT = 0, 1, 2
# The quilt of this folder in another hoop, as two kits; the film may be joined. Invented.
SIZES = """
[[size]]
name = "as it is"
[[size]]
name = "5 × 7"
hoop = ["130 mm", "180 mm"]
frame = ["170 mm", "230 mm"]
finished = [5, 5]
border = [{ name = "rim", width = "1 1/2 in" }]
"""
WORDS = ("sizes", "sized.toml", "--effort", "quick")
FILES = {"materials.json", "materials.txt", "materials.md", "materials.csv", "materials.pdf"}


@pytest.fixture
def sized(run: Run, tmp_path: Path) -> Run:
    """The command line beside sized.toml, the small quilt in two sizes and two copies."""
    text = (tmp_path / "quilt.toml").read_text(encoding="utf-8").replace('"Kite"', '"Kite"\ncopies = 2')
    (tmp_path / "sized.toml").write_text(text + SIZES, encoding="utf-8")
    return run


def test_the_whole_table(sized: Run) -> None:
    """The table of the quilt is as it stands in pages/, word for word: head, sizes, to buy, to cut, cost."""
    result = sized(*WORDS)

    assert result.exit_code == DONE
    assert result.stdout == (PAGES / "kite-materials.txt").read_text(encoding="utf-8")


def test_the_whole_table_in_markdown(sized: Run) -> None:
    """The same for a web page."""
    result = sized(*WORDS, "--format", "markdown")

    assert result.stdout == (PAGES / "kite-materials.md").read_text(encoding="utf-8")


def test_the_head_states_what_is_assumed(sized: Run) -> None:
    """Usable widths, slack, and that nothing is on hand stand above the first figure; or that no slack is kept."""
    head = " ".join(sized(*WORDS).stdout.partition("THE SIZES")[0].split())
    bare = " ".join(sized(*WORDS, "--slack", "0").stdout.partition("THE SIZES")[0].split())

    assert "Usable width: 42 in of ink, brass and oat; 15 in of film." in head
    assert "1/4 in narrower than that, and 1/2 in is added to its length" in head
    assert "Cloth on hand is left out" in head
    assert "No slack is kept" in bare


def test_the_csv_has_a_column_for_every_size(sized: Run) -> None:
    """A spreadsheet finds plain numbers in what is bought and what it costs, and equal columns everywhere."""
    rows = list(csv.reader(StringIO(sized(*WORDS, "--format", "csv").stdout)))
    bought = [row for row in rows if row[0] == "To buy"]

    assert rows[0] == ["part", "fabric", "item", "unit", "as it is", "5 × 7"]
    assert {len(row) for row in rows} == {6}
    assert {(row[1], row[3]) for row in bought} == {
        (fabric, unit) for fabric in ("ink", "brass", "oat", "film") for unit in ("yd", "m")
    }
    assert all(float(cell) > 0 for row in bought for cell in row[4:])
    assert ["To cut", "film", "hooping, 1 sheet each", ""] in [row[:4] for row in rows]


def test_the_document_and_the_table_agree(sized: Run) -> None:
    """The JSON document says what the CSV table says, and its keys are those of docs/plan-format.md."""
    document: Document = json.loads(sized(*WORDS, "--json").stdout)
    rows = list(csv.reader(StringIO(sized(*WORDS, "--format", "csv").stdout)))
    told = {(row[1], row[3]): [float(cell) for cell in row[4:]] for row in rows if row[0] == "To buy"}

    for (fabric, unit), numbers in told.items():
        found = [entry for size in document["sizes"] for entry in size["fabrics"] if entry["id"] == fabric]
        assert [entry["bought"][unit] for entry in found] == numbers
    promised = _promised()
    assert {key for size in document["sizes"] for key in size} <= promised
    assert {key for size in document["sizes"] for entry in size["fabrics"] for key in entry} <= promised
    assert document["slack"] == [0.25, 0.5]


def _promised() -> set[str]:
    page = (ROOT / "docs" / "plan-format.md").read_text(encoding="utf-8")
    return set(re.findall(r"`(\w+)`", page.partition("## A materials table")[2].partition("\n## ")[0]))


def test_kits_share_the_cost(sized: Run) -> None:
    """Of two copies each costs half, to 0.01."""
    document: Document = json.loads(sized(*WORDS, "--json").stdout)

    assert document["copies"] == 2
    for size in document["sizes"]:
        assert size["without_price"] == ["brass", "oat", "film"]
        assert abs(2 * size["cost_each"] - size["cost"]) <= 0.011


def test_the_folder_holds_every_form(sized: Run, tmp_path: Path) -> None:
    """The files are those the command prints, a PDF among them; what was there of it before is replaced."""
    first = sized(*WORDS, "--out", "table")
    again = sized(*WORDS, "--out", "table", "--format", "csv")
    folder = tmp_path / "table"

    assert (first.exit_code, again.exit_code) == (DONE, DONE)
    assert {path.name for path in folder.iterdir()} == FILES
    assert (folder / "materials.txt").read_text(encoding="utf-8") == first.stdout
    assert (folder / "materials.csv").read_text(encoding="utf-8") == again.stdout
    assert (folder / "materials.pdf").read_bytes().startswith(b"%PDF")
    assert "Wrote table: materials.pdf" in first.stderr


def test_a_plan_is_not_replaced_by_a_table(sized: Run, tmp_path: Path) -> None:
    """A folder that holds a plan stays as it is, and the other way round."""
    sized("plan", "quilt.toml", "--effort", "quick", "--out", "plan")
    before = sorted(path.name for path in (tmp_path / "plan").iterdir())
    refused = sized(*WORDS, "--out", "plan")
    sized(*WORDS, "--out", "table")
    other = sized("plan", "quilt.toml", "--effort", "quick", "--out", "table")

    assert (refused.exit_code, other.exit_code) == (INPUT, INPUT)
    assert 'holds "brass-1.png", which is no part of a materials table' in refused.stderr
    assert 'holds "materials.csv", which is no part of a plan' in other.stderr
    assert sorted(path.name for path in (tmp_path / "plan").iterdir()) == before


def test_warnings_name_their_size(sized: Run, tmp_path: Path) -> None:
    """What one size alone is warned of is told with its name."""
    path = tmp_path / "sized.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("finished = [5, 5]", 'finished = [5, 5]\nbinding = { strip = "1 1/8 in" }'), "utf-8")

    lines = sized(*WORDS).stderr.splitlines()

    assert lines
    assert all(line.startswith("Warning: 5 × 7: binding: ") for line in lines)


def test_a_file_without_sizes_is_refused(run: Run) -> None:
    """The sentence says what to add."""
    result = run("sizes", "quilt.toml")

    assert result.exit_code == INPUT
    assert result.stderr.startswith("Error: quilt.toml: has no [[size]]. Add one for each hoop")


@pytest.mark.parametrize("slack", ["-1", "wide", "1/4 yards of"])
def test_a_slack_that_is_none_is_refused(sized: Run, slack: str) -> None:
    """A slack is a length from 0 up."""
    result = sized(*WORDS, "--slack", slack)

    assert result.exit_code == INPUT
    assert "--slack" in result.stderr


def test_one_size_is_planned_and_listed(sized: Run) -> None:
    """`plan` and `pieces` take one size by its name, 5x7 being as good as 5 × 7; without, the design as it stands."""
    plan: Document = json.loads(sized("plan", "sized.toml", "--effort", "quick", "--size", "5x7", "--json").stdout)
    whole: Document = json.loads(sized("plan", "sized.toml", "--effort", "quick", "--json").stdout)
    pieces: Document = json.loads(sized("pieces", "sized.toml", "--size", "5 × 7", "--json").stdout)

    assert (plan["sizes"]["centre"], whole["sizes"]["centre"]) == ([10, 10], [12, 12])
    assert pieces["sizes"]["blocks"][0]["finished"] == [5, 5]
    assert (plan["project"], whole["project"]) == ("Kite, 5 × 7", "Kite")


def test_a_size_that_is_not_there(sized: Run) -> None:
    """The sizes that there are stand in the sentence."""
    result = sized("plan", "sized.toml", "--size", "8x8")

    assert result.exit_code == INPUT
    assert result.stderr == 'Error: sized.toml: has no [[size]] "8x8". Known here: as it is, 5 × 7.\n'


def test_a_plan_tells_the_cost_of_a_copy(sized: Run) -> None:
    """A plan of kits adds up its costs, and says what lacks a price."""
    report = sized("plan", "sized.toml", "--effort", "quick", "--as-new").stdout
    cost: Document = json.loads(sized("plan", "sized.toml", "--effort", "quick", "--as-new", "--json").stdout)["cost"]

    assert re.search(
        r"(?m)^all together costs \d+\.\d\d, \d+\.\d\d for each of 2 copies "
        r"\(without brass, oat and film, of unknown price\)$",
        report,
    )
    assert cost["without_price"] == ["brass", "oat", "film"]
    assert abs(2 * cost["each"] - cost["total"]) <= 0.011
