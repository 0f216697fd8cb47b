"""The guide to the project file says what the reader does: keys, defaults, refusals, examples and their sizes."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from ellwand.errors import InputError
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project import read as reader
from ellwand.project.read import parse_project
from ellwand.project.starter import STARTER
from ellwand.quilt.work import work_out

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "docs" / "project-file.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", GUIDE, flags=re.DOTALL)
SECTIONS = dict(re.findall(r"(?ms)^## (\[+[\w.]+\]+)\n(.*?)(?=^## |\Z)", GUIDE))
ROWS = {
    title: {key: defaults for key, *defaults in re.findall(r"(?m)^\| `(\w+)` \| [^|]+ \| ([^|]+) \| ([^|]+) \|$", text)}
    for title, text in SECTIONS.items()
}

# every table with the keys that must be there; fabric oat has a length on hand, fabric ink a rectangle
LEAST = """
[project]
name = "Least"
[quilt]
[[block]]
name = "tail"
finished = [20, 20]
frame = [25, 25]
[[block.piece]]
name = "ground"
fabric = "ink"
[sashing]
width = 2
fabric = "ink"
[stabiliser]
fabric = "ink"
[[piece]]
name = "pocket"
fabric = "oat"
cut = [8, 11]
[[border]]
name = "inner"
width = 3
fabric = "ink"
[binding]
fabric = "ink"
[backing]
fabric = "oat"
[batting]
fabric = "oat"
[sleeve]
fabric = "oat"
[fabric.oat]
width = 60
[[fabric.oat.on_hand]]
length = 40
[fabric.ink]
width = 60
[[fabric.ink.on_hand]]
length = 40
width = 30
[kits]
[[size]]
name = "small"
"""
SAID = [
    (title, key, column)
    for title, rows in ROWS.items()
    for key, defaults in rows.items()
    for column in (0, 1)
    if defaults[column].startswith("`")
]
REFUSED = re.findall(
    r"(?m)^\| (?:`(\S+)`|anywhere) \| `([^`]+)`.* \|", GUIDE.partition("## What this version does not work out yet")[2]
)


def _header(title: str, column: int = 0) -> str:
    """The heading of a table of LEAST; the second column of cloth on hand is about rectangles."""
    fabric = "ink" if title == "[[fabric.NAME.on_hand]]" and column else "oat"
    return title.replace("NAME", fabric)


def _with(line: str, title: str, *, unit: str = "in", column: int = 0) -> str:
    """LEAST with `line` in the table `title`."""
    text = LEAST if unit == "in" else LEAST.replace("[project]", '[project]\nunit = "cm"')
    header = _header(title, column)
    assert text.count(f"{header}\n") == 1
    return text.replace(f"{header}\n", f"{header}\n{line}\n")


def _refusal(text: str) -> InputError:
    with pytest.raises(InputError) as caught:
        parse_project(text, "least.toml")
    return caught.value


def _known(text: str) -> set[str]:
    """The keys that the reader knows where a key of `text` is unknown."""
    hint = _refusal(text).hint
    assert hint.startswith("Known here: ")
    return set(hint.removeprefix("Known here: ").removesuffix(".").split(", "))


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_example_is_read_and_planned(example: str) -> None:
    """Every example of the guide is a whole project that plans as it stands, without a warning."""
    plan = make_plan(parse_project(example, "guide.toml"), effort=Effort.QUICK)

    assert plan.fabrics
    assert all(answer.enough for answer in plan.fabrics)
    assert plan.warnings == ()


def test_the_examples_are_of_every_kind() -> None:
    """One example has loose pieces alone, one is in centimetres with borders, one is pieced and on point."""
    projects = [parse_project(example, "guide.toml") for example in EXAMPLES]

    assert any(project.pieces and not project.blocks for project in projects)
    assert any(project.unit == "cm" and project.borders for project in projects)
    assert any(project.setting and project.setting.on_point and project.blocks[0].patches for project in projects)


SUMS = [
    (number, name, size)
    for number, text in enumerate(GUIDE.split("```toml\n")[1:])
    for name, size in re.findall(r"(?m)^\| `([\w/]+)` \| [^|]+ \| ([\d. /]+ × [\d. /]+) \|$", text)
]


def test_the_sums_are_of_two_examples() -> None:
    """The test below finds the tables below the second and the third example, and no other."""
    assert [number for number, _, _ in SUMS] == [1] * 5 + [2] * 6


@pytest.mark.parametrize(("number", "name", "size"), SUMS)
def test_the_sums_of_the_examples_are_the_programs(number: int, name: str, size: str) -> None:
    """Each cut size in the table below an example is what the quilt arithmetic gives, the piece lying either way."""
    project = parse_project(EXAMPLES[number], "guide.toml")
    show = project.notation
    cut = {
        piece.id: {show.pair(piece.across, piece.along), show.pair(piece.along, piece.across)}
        for part in work_out(project).parts
        for piece in part.pieces
    }

    assert f"{size} {show.unit}" in cut[name]


def test_every_table_has_a_section() -> None:
    """The guide has a section for each table of the starter, and each that the reader knows at the top."""
    tables = set(re.findall(r"(?m)^\[+[\w.-]+\]+", re.sub(r"(?m)^(\[+fabric\.)[a-z-]+", r"\1NAME", STARTER)))

    assert set(SECTIONS) == tables
    assert {re.split(r"[.\]]", title.strip("["))[0] for title in SECTIONS} == _known(f"zzz = 1\n{LEAST}")


@pytest.mark.parametrize("title", SECTIONS)
def test_the_keys_of_a_table_are_the_readers(title: str) -> None:
    """The rows of each section are the keys that the reader knows in that table, no more and no fewer."""
    assert set(ROWS[title]) == _known(_with("zzz = 1", title))


def test_the_sides_of_a_margin_are_named() -> None:
    """The four keys of a margin of sides stand in the section of the pieces of blocks."""
    sides = _known(_with("margin = { zzz = 1 }", "[[block.piece]]"))

    assert len(sides) == 4
    assert [side for side in sides if f"`{side}`" not in SECTIONS["[[block.piece]]"]] == []


@pytest.mark.parametrize(("title", "key", "column"), SAID)
def test_a_default_that_is_said_holds_anyway(title: str, key: str, column: int) -> None:
    """Writing what the guide says holds if unsaid changes nothing."""
    unit = "cm" if column and title != "[[fabric.NAME.on_hand]]" else "in"
    bare = LEAST if unit == "in" else LEAST.replace("[project]", '[project]\nunit = "cm"')
    said = _with(f"{key} = {ROWS[title][key][column].strip('`')}", title, unit=unit, column=column)

    assert parse_project(said, "least.toml") == parse_project(bare, "least.toml")


def test_most_keys_have_a_default_that_is_said() -> None:
    """The test above is about most of the defaults, not about a few that happen to be found."""
    assert len(SAID) > 80


@pytest.mark.parametrize(
    ("title", "key"),
    [
        (title, key)
        for title, rows in ROWS.items()
        for key, defaults in rows.items()
        if defaults[0] == "must be there" and (title, key) != ("[[fabric.NAME.on_hand]]", "width")
    ],
)
def test_a_key_that_must_be_there_is_missed(title: str, key: str) -> None:
    """Leaving out a key that must be there is told with its name."""
    start = LEAST.index(f"{_header(title)}\n")
    without = LEAST[:start] + re.sub(rf"(?m)^{key} = .*\n", "", LEAST[start:], count=1)

    assert _refusal(without).found == f'"{key}" is missing'


@pytest.mark.parametrize(("title", "what"), REFUSED)
def test_what_is_not_worked_out_is_refused(title: str, what: str) -> None:
    """Each thing in the last table is refused, and said to be for another version."""
    if not title:
        text = f"{LEAST}\n{what}\n"
    elif what.startswith("on_hand"):
        text = _with(what, title).replace("[[fabric.oat.on_hand]]\nlength = 40\n", "")
    else:
        text = _with(what if "=" in what else f"{what} = 1", title)

    assert _refusal(text).found.endswith("is not worked out by this version")


def test_everything_that_is_not_worked_out_is_listed() -> None:
    """Whatever the reader keeps for later versions stands in the last table."""
    words: set[str] = set()
    for path in Path(reader.__file__).parent.glob("*.py"):
        words |= _kept_for_later(ast.parse(path.read_text(encoding="utf-8")))

    assert "stages" in words
    assert [word for word in words if not any(word in what for _, what in REFUSED)] == []


def _kept_for_later(tree: ast.Module) -> set[str]:
    """The words that a module of the reader names as for later: in `later=` and in calls of `later`."""
    found = set()
    for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call)):
        named = [keyword.value for keyword in call.keywords if keyword.arg == "later"]
        if isinstance(call.func, ast.Attribute) and call.func.attr == "later":
            named += call.args[:1]
        constants = [node for value in named for node in ast.walk(value) if isinstance(node, ast.Constant)]
        found |= {str(constant.value) for constant in constants}
    return found
