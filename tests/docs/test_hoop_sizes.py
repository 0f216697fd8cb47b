"""The how-to page on hoop sizes: its commands run, its table, sums and sentences are the program's."""

from __future__ import annotations

import re
import shlex
import shutil
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ellwand.errors import InputError
from ellwand.model import Piece
from ellwand.project.read import parse_project, read_project
from ellwand.project.tables import Project
from ellwand.quilt.work import work_out
from ellwand_cli.app import app

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "copper-finch.toml"
PAGE = (ROOT / "docs" / "hoop-sizes.md").read_text(encoding="utf-8")
COMMANDS = [line for block in re.findall(r"```sh\n(.*?)```", PAGE, flags=re.DOTALL) for line in block.splitlines()]
SHOWN = re.findall(r"```text\n(.*?)```", PAGE, flags=re.DOTALL)


@cache
def _example() -> Project:
    return read_project(EXAMPLE)


def _sizes() -> dict[str, dict[str, Piece]]:
    """The pieces of every size, by its name and theirs."""
    return {
        size.size: {piece.id: piece for part in work_out(size).parts for piece in part.pieces}
        for size in _example().sizes
    }


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of one's own with the examples in it."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _run(line: str) -> Result:
    """A line of the page; quickly, where it leaves that open."""
    words = shlex.split(line.removeprefix("ellwand "))
    quick = ["--effort", "quick"] if words[0] != "pieces" and "--effort" not in words else []
    return CliRunner().invoke(app, [*words, *quick], catch_exceptions=False)


def test_the_commands_run_and_the_table_is_shown_as_it_is(folder: Path) -> None:
    """Every line does its job, one after the other; what heads the page's table heads the program's."""
    results = [_run(line) for line in COMMANDS]

    assert len(COMMANDS) == 4
    assert [result.exit_code for result in results] == [0] * 4, [result.output for result in results]
    assert SHOWN[0] in results[0].stdout
    assert (folder / "materials" / "materials.pdf").is_file()
    assert (folder / "small-finch" / "plan.json").is_file()


def test_the_size_on_the_page_is_the_examples() -> None:
    """The table that the page shows stands in the example as it is."""
    (shown,) = re.findall(r"```toml\n(.*?)```", PAGE, flags=re.DOTALL)

    assert shown in EXAMPLE.read_text(encoding="utf-8")


def test_the_sill_is_as_the_page_works_it_out() -> None:
    """A share of the block and the same margins in both hoops: 4 7/8 × 2 1/4 in and 8 3/4 × 3 1/4 in."""
    show = _example().notation
    cut = [
        f"{show.pair(sill.across, sill.along)}"
        for sill in (_sizes()[name]["finch/sill"] for name in ("4 × 4", "8 × 8"))
    ]
    row = re.search(r"(?m)^\| on the ruler \| (.*) \| (.*) \|$", PAGE)

    assert f"in the 4 × 4 hoop it is cut {cut[0]}, in the 8 × 8 hoop {cut[1]}." in PAGE
    assert row is not None
    assert [size.split(" × ")[1] for size in cut] == [f"{cell} in" for cell in row.groups()]


def test_the_sentences_are_the_programs() -> None:
    """Both errors of the page are what is told where the example is broken so."""
    text = EXAMPLE.read_text(encoding="utf-8")
    broken = {
        text.replace('finished = ["7 3/4 in", "7 3/4 in"]', "finished = [8, 8]"): SHOWN[1],
        text.replace('width = "12 in"', 'width = "9 in"'): SHOWN[2],
    }

    for wrong, told in broken.items():
        with pytest.raises(InputError) as caught:
            parse_project(wrong, EXAMPLE.name)
        assert f"Error: {caught.value}\n" == told


def test_every_margin_is_the_same_in_every_hoop() -> None:
    """What a piece has beyond its share of the stitched block does not grow with the hoop."""
    beyond = set()
    for size in _example().sizes:
        across, down = size.blocks[0].stitched
        pieces = _sizes()[size.size]
        for layer in size.blocks[0].pieces:
            assert layer.covers is not None
            cut = pieces[f"finch/{layer.name}"]
            exact = layer.covers[0] * across, layer.covers[1] * down
            more = layer.margins.left + layer.margins.right, layer.margins.top + layer.margins.bottom
            assert all(
                0 <= side - whole - margin < size.ruler
                for side, whole, margin in zip((cut.across, cut.along), exact, more, strict=True)
            )
            beyond.add((layer.name, more))

    assert len(beyond) == 5
