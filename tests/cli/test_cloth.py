"""The commands of the ledger, as they are typed: what they print, what they refuse, and how they are undone."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from ellwand.ledger import Ledger, OwnedCloth
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.record import dumps, plan_document
from ellwand_cli.app import app
from solver.ledger.owned import environment

Cloth = Callable[..., Result]
DONE, IMPOSSIBLE, WRONG = 0, 1, 2
UNDO = "To take this back: ellwand cloth undo --ledger my.sqlite\n"

PATCHES = """
[project]
name = "patches"
[[piece]]
name = "patch"
fabric = "ink"
cut = [9, 9]
count = 6
[[piece]]
name = "band"
fabric = "sand"
cut = [5, 30]
[fabric.ink]
width = 43
on_hand = [{ length = 40 }]
[fabric.sand]
width = 40
on_hand = [{ length = 36 }]
"""


@pytest.fixture
def cloth(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Cloth:
    """`ellwand cloth` in an empty folder, with a ledger there; a bug keeps its traceback."""
    monkeypatch.chdir(tmp_path)
    return lambda *words: CliRunner().invoke(
        app, ["cloth", *words, "--ledger", "my.sqlite"], catch_exceptions=False, prog_name="ellwand"
    )


@pytest.fixture
def stocked(cloth: Cloth) -> Cloth:
    """The same, with two fabrics and three cloths in it."""
    cloth("fabric", "ink", "--width", "43 in", "--colours", "Dark, blue", "--price", "12.50")
    cloth("fabric", "sand", "--width", "40 in", "--colours", "ochre", "--way", "one-way")
    cloth("add", "ink", "--length", "40 in", "--lot", "7", "--place", "blue box")
    cloth("add", "sand", "--length", "1 yd")
    cloth("add", "ink", "--outline", "0 x 0; 20 x 0; 20 x 15; 8 x 15; 0 x 9 in", "--flaw", "3 x 5; 5 x 6")
    return cloth


def ids(result: Result) -> list[str]:
    """The ids in the document that a command printed."""
    return [entry["id"] for entry in json.loads(result.stdout)["cloths"]]


def planned(folder: Path) -> Path:
    """A folder with the plan of the patches, its cloths drawn from the ledger."""
    plan = make_plan(parse_project(PATCHES, "patches.toml"), effort=Effort.QUICK)
    document = json.loads(dumps(plan_document(plan)))
    for fabric in document["fabrics"]:
        for cut in fabric["cloths"]:
            cut["ledger"] = {"ink 1": "A1", "sand 1": "B1"}[cut["id"]]
    folder.mkdir()
    (folder / "plan.json").write_text(json.dumps(document), encoding="utf-8")
    return folder


def test_a_fabric_is_entered_changed_and_shown(cloth: Cloth) -> None:
    """What is not said is as usual; a fact given as "" goes; every change says how it is taken back."""
    entered = cloth("fabric", "ink", "--width", "43 in", "--colours", "Dark, blue", "--shrinks-lengthwise", "3 %")
    changed = cloth("fabric", "ink", "--colours", "", "--rename", "night", "--price", "12,50")
    shown = cloth("fabric", "night")

    assert entered.stdout == (
        "fabric              ink\n"
        "colours             dark blue\n"
        "fabric width        43 in\n"
        "selvage             1/2 in\n"
        "way                 any\n"
        "shrinks lengthwise  3 %\n"
        "shrinks crosswise   0 %\n"
        "price per           yd\n"
        "sold by             1/8 yd\n" + UNDO
    )
    assert "colours" not in changed.stdout
    assert shown.stdout == changed.stdout.removesuffix(UNDO)
    assert "fabric              night\n" in shown.stdout
    assert "price               12.50\n" in shown.stdout
    assert json.loads(cloth("fabric", "night", "--json").stdout)["fabric"]["price"] == 12.5


def test_cloth_is_added_and_says_its_id(stocked: Cloth) -> None:
    """The answer is what to pin on it, and how to take it back."""
    added = stocked("add", "ink", "--width", "21", "--length", "18", "--count", "3")

    assert added.stdout == f"D1: ink  ·  3 alike  ·  rectangle  ·  21 × 18 in  ·  washed\nPin D1 on it.\n{UNDO}"
    assert stocked("undo").stdout == 'Undone: add, cloth D1 of "ink".\n'


def test_the_table_of_cloths(stocked: Cloth) -> None:
    """Columns that are empty are left out."""
    assert stocked("list").stdout == (
        "id  fabric  kind               across × along  count  washed  lot  where it is\n"
        "A1  ink     length             43 in × 40 in       1  no      7    blue box\n"
        "B1  sand    length             40 in × 1 yd        1  no\n"
        "C1  ink     odd shape, flawed  20 × 15 in          1  yes\n"
    )
    assert stocked("list", "--colour", "red").stdout == "No cloth of that kind.\n"


@pytest.mark.parametrize(
    ("filters", "found"),
    [
        ((), ["A1", "B1", "C1"]),
        (("--fabric", "ink"), ["A1", "C1"]),
        (("--colour", "BLUE"), ["A1", "C1"]),
        (("--at-least", "12 x 15 in"), ["A1", "B1", "C1"]),
        (("--at-least", "36 x 39 in"), ["A1"]),
        (("--at-least", "37 x 39 in", "--fabric", "ink"), ["A1"]),
        (("--at-least", "39 x 36 in"), ["A1", "B1"]),
        (("--at-least", "43 x 10 in"), []),
    ],
)
def test_filters(stocked: Cloth, filters: tuple[str, ...], found: list[str]) -> None:
    """By fabric, colour word and size; on one-way cloth a rectangle is not turned, and no selvage counts."""
    assert ids(stocked("list", *filters, "--json")) == found


def test_a_cloth_is_shown_and_drawn(stocked: Cloth, tmp_path: Path) -> None:
    """Its facts stand under the names by which they are changed; the drawing has its outline and its flaw."""
    shown = stocked("show", "c1", "--out", "c1.svg")
    drawn = (tmp_path / "c1.svg").read_text(encoding="utf-8")

    assert shown.stdout == (
        "id                C1\n"
        "fabric            ink\n"
        "kind              odd\n"
        "width             20 in\n"
        "length            15 in\n"
        "outline           0 x 0; 20 x 0; 20 x 15; 8 x 15; 0 x 9 in\n"
        "flaws             3 x 5; 5 x 6 in\n"
        "count             1\n"
        "washed            yes\n"
        "selvages          none\n"
        "selvages cut off  no\n"
    )
    assert "C1 – ink" in drawn
    assert "flaw, kept clear of" in drawn
    assert "selvage" not in drawn
    told = json.loads(stocked("show", "C1", "--json", "--unit", "cm").stdout)
    assert told["cloth"]["outline"][1] == [50.8, 0]
    assert told["fabric"]["width"] == 109.22


def test_a_cloth_is_changed(stocked: Cloth) -> None:
    """Only what is said changes; a new outline says the size anew, and an empty fact is taken out."""
    shorter = stocked("edit", "a1", "--length", "28 in", "--place", "", "--since", "2026-03-01", "--washed")
    odder = stocked("edit", "c1", "--outline", "0 x 0; 9 x 0; 0 x 9 in", "--flaw", "")
    moved = stocked("edit", "a1", "--fabric", "sand", "--width", "40 in")

    assert "length            28 in\n" in shorter.stdout
    assert "washed            yes\n" in shorter.stdout
    assert "place" not in shorter.stdout
    assert "since             2026-03-01\n" in shorter.stdout
    assert "width             9 in\n" in odder.stdout
    assert "flaws" not in odder.stdout
    assert "fabric            sand\n" in moved.stdout
    assert [stocked("undo").exit_code for _ in range(3)] == [DONE] * 3
    assert "blue box" in stocked("show", "A1").stdout


def test_cloth_and_fabrics_are_removed(stocked: Cloth) -> None:
    """A fabric only where there is no cloth of it."""
    too_early = stocked("fabric", "sand", "--remove")
    out = stocked("remove", "b1")
    gone = stocked("fabric", "sand", "--remove")

    assert too_early.exit_code == WRONG
    assert too_early.stderr == (
        'Error: fabric "sand": there is still cloth of it (1 in the ledger). Remove the cloth first.\n'
    )
    assert out.stdout == f"B1 is out: sand  ·  length  ·  40 in × 1 yd  ·  not washed\n{UNDO}"
    assert gone.stdout == f"sand is out.\n{UNDO}"
    assert "sand" not in stocked("fabrics").stdout


def test_the_table_of_fabrics(stocked: Cloth) -> None:
    """With how many cloths, and how long its lengths are in all."""
    assert stocked("fabrics").stdout == (
        "fabric  colours    width  way      price       cloths  lengths in all\n"
        "ink     dark blue  43 in  any      12.50 / yd       2  40 in\n"
        "sand    ochre      40 in  one-way                   1  36 in\n"
    )
    assert [entry["name"] for entry in json.loads(stocked("fabrics", "--json").stdout)["fabrics"]] == ["ink", "sand"]


def test_a_plan_is_used_in_parts_and_undone(stocked: Cloth, tmp_path: Path) -> None:
    """A plan's folder is enough; what is put back has ids to pin on; a second time is refused with exit code 1."""
    folder = planned(tmp_path / "plan")
    before = stocked("list").stdout

    ink = stocked("use", "plan", "--only", "ink")
    again = stocked("use", str(folder / "plan.json"), "--only", "ink")
    sand = json.loads(stocked("use", "plan", "--only", "sand", "--json").stdout)

    assert ink.stdout.startswith("Shorter or fewer now: A1. What is left keeps its id.\n")
    assert ink.stdout.endswith(UNDO)
    assert "If one came out different: ellwand cloth edit " in ink.stdout
    assert again.exit_code == IMPOSSIBLE
    assert again.stderr.startswith('Error: plan of "patches": the cloth of "ink" was taken for this plan before.')
    assert (sand["gone"], sand["less"]) == ([], ["B1"])
    assert sand["new"][0]["note"] == "offcut of B1, patches"
    assert stocked("undo").stdout == 'Undone: use, sand of "patches".\n'
    assert stocked("undo").stdout == 'Undone: use, ink of "patches".\n'
    assert stocked("list").stdout == before


def test_a_plan_with_a_fault_is_not_used(stocked: Cloth, tmp_path: Path) -> None:
    """The judge looks first, and nothing is taken."""
    path = planned(tmp_path / "plan") / "plan.json"
    document = json.loads(path.read_text(encoding="utf-8"))
    document["fabrics"][0]["cloths"][0]["used"] += 1
    path.write_text(json.dumps(document), encoding="utf-8")
    before = stocked("list").stdout

    used = stocked("use", "plan")

    assert used.exit_code == WRONG
    assert used.stderr.startswith("Error: plan: its cloth cannot be taken: ")
    assert stocked("list").stdout == before


def test_a_spoiled_piece_is_noted(stocked: Cloth) -> None:
    """An odd piece goes with it; a length does not go whole."""
    noted = stocked("spoil", "band, cut too narrow")
    out = stocked("spoil", "patch, cut askew", "--cloth", "c1")
    length = stocked("spoil", "patch", "--cloth", "A1")

    assert noted.stdout == f"Noted.\n{UNDO}"
    assert out.stdout == f"Noted. One of C1 is out.\n{UNDO}"
    assert length.exit_code == WRONG
    assert ids(stocked("list", "--json")) == ["A1", "B1"]


def test_the_history(stocked: Cloth) -> None:
    """The last first; what is undone stays in it."""
    stocked("remove", "C1")
    stocked("undo")

    told = json.loads(stocked("history", "--json").stdout)["history"]
    text = stocked("history", "--most", "2").stdout

    assert [(entry["number"], entry["act"], entry["summary"]) for entry in told[:3]] == [
        (6, "remove", "cloth C1"),
        (5, "add", 'cloth C1 of "ink"'),
        (4, "add", 'cloth B1 of "sand"'),
    ]
    assert [bool(entry["undone"]) for entry in told[:3]] == [True, False, False]
    assert len(text.splitlines()) == 3


def test_a_sheet_goes_out_and_comes_in(stocked: Cloth, tmp_path: Path) -> None:
    """All of it, ids and all, into another ledger, of which the spreadsheet is the same to the byte."""
    out = stocked("export", "stash.csv")
    other = ["--ledger", "other.sqlite"]
    run = CliRunner()
    came = run.invoke(app, ["cloth", "import", "stash.csv", *other])
    run.invoke(app, ["cloth", "export", "again.csv", *other])

    assert out.stdout == "Wrote stash.csv: 2 fabrics and 3 cloths.\n"
    assert came.stdout == (
        "Took in 2 fabrics and 3 cloths.\nTo take this back: ellwand cloth undo --ledger other.sqlite\n"
    )
    assert (tmp_path / "again.csv").read_bytes() == (tmp_path / "stash.csv").read_bytes()
    assert stocked("export", "stash.csv").stderr == "Error: stash.csv: is there already. Name another file.\n"
    assert stocked("import", "stash.csv").stderr.startswith("Error: stash.csv: line 2: id: A1 is a cloth of the ledger")


def test_an_import_tells_the_new_ids(stocked: Cloth, tmp_path: Path) -> None:
    """What has no id in the spreadsheet gets one to pin on; a bad row leaves all as it was."""
    (tmp_path / "new.csv").write_text("fabric;length (cm);note\nink;91,44;from Jo\nsand;1 yd;\n", encoding="utf-8")
    (tmp_path / "bad.csv").write_text("fabric;length\nink;1 yd\nsand;much\n", encoding="utf-8")

    came = stocked("import", "new.csv")
    bad = stocked("import", "bad.csv")

    assert came.stdout == (
        "Took in 0 fabrics and 2 cloths.\n"
        "Pin on each its id:\n\n"
        "id  fabric  kind    across × along  selvage  note\n"
        "D1  ink     length  43 in × 1 yd    both     from Jo\n"
        "E1  sand    length  40 in × 1 yd    both\n\n" + UNDO
    )
    assert bad.exit_code == WRONG
    assert bad.stderr == (
        'Error: bad.csv: line 3: length: cannot read "much" as a length. Try 2 1/2 in, 2.5 in or 64 mm.\n'
    )
    assert ids(stocked("list", "--json")) == ["A1", "B1", "C1", "D1", "E1"]


def test_a_ledger_is_checked(stocked: Cloth) -> None:
    """A sound one with 0; one whose rows are not what the history makes them with 1."""
    sound = stocked("check")
    with Ledger(Path("my.sqlite")) as ledger:
        ledger.db.execute("UPDATE cloth SET along = '99' WHERE id = 'A1'")
    wrong = stocked("check", "--json")

    assert (sound.stdout, sound.exit_code) == ("my.sqlite: sound.\n", DONE)
    assert wrong.exit_code == IMPOSSIBLE
    assert json.loads(wrong.stdout)["faults"] == ["The rows of cloth are not what the history makes them."]


REFUSED = {
    "an unknown fabric": (
        ("add", "ikn", "--length", "1 yd"),
        'fabric "ikn": the ledger has none of this name. Did you mean "ink"? '
        'Enter it first, with its width: ellwand cloth fabric ikn --width "43 in" --ledger my.sqlite.',
    ),
    "a fabric without a width": (
        ("fabric", "sea green", "--fibre", "linen"),
        'fabric "sea green": the ledger has none of this name. '
        "Enter it first, with its width: ellwand cloth fabric 'sea green' --width \"43 in\" --ledger my.sqlite.",
    ),
    "a fabric that is not there to be renamed": (
        ("fabric", "sea", "--width", "43 in", "--rename", "lake"),
        'fabric "sea": the ledger has none of this name. '
        'Enter it first, with its width: ellwand cloth fabric sea --width "43 in" --ledger my.sqlite.',
    ),
    "an unknown cloth": (("show", "K7"), "cloth K7: the ledger has none with this id."),
    "cloth without a length": (
        ("add", "ink"),
        'cloth of "ink": length: it is missing. Write one, such as 2 1/4 yd.',
    ),
    "a length that is none": (
        ("edit", "A1", "--length", "2 in 1/2"),
        'cloth A1: length: cannot read "2 in 1/2" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    ),
    "the size of an odd shape": (
        ("edit", "C1", "--length", "9 in"),
        "cloth C1: length: the outline reaches 15 in, and this says otherwise. Leave it out, or change the outline.",
    ),
    "a size that is none": (
        ("list", "--at-least", "10"),
        'cloth list: --at-least: cannot read "10" as a size. Try 10 x 18 in, across the width first.',
    ),
    "an unknown fabric in a list": (
        ("list", "--fabric", "sandy"),
        'fabric "sandy": the ledger has none of this name. Did you mean "sand"? '
        'Enter it first, with its width: ellwand cloth fabric sandy --width "43 in" --ledger my.sqlite.',
    ),
    "a drawing that is none": (
        ("show", "A1", "--out", "a1.gif"),
        "a1.gif: has no ending of a picture. Use .svg, .png or .pdf.",
    ),
    "a plan that is not there": (("use", "plan.json"), "plan.json: cannot be read: No such file or directory."),
    "a spreadsheet that is not there": (("import", "my.csv"), "my.csv: cannot be read: No such file or directory."),
    "a place that is not there": (
        ("export", "no/my.csv"),
        "no/my.csv: cannot be written: No such file or directory.",
    ),
}


@pytest.mark.parametrize(("words", "told"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_one_sentence(stocked: Cloth, words: tuple[str, ...], told: str) -> None:
    """On standard error, with exit code 2, and as a document where that is wanted; nothing changes."""
    before = stocked("history").stdout
    refused = stocked(*words)

    assert (refused.stdout, refused.stderr, refused.exit_code) == ("", f"Error: {told}\n", WRONG)
    assert set(json.loads(stocked(*words, "--json").stdout)["error"]) == {"where", "found", "wanted", "hint"}
    assert stocked("history").stdout == before


def test_a_length_that_no_ruler_says_is_shown_to_the_nearest_mark(stocked: Cloth) -> None:
    """What is left of a cloth that shrinks has such a length; the spreadsheet keeps it exact."""
    stocked("edit", "A1", "--length", "38625/12319 in")

    shown = stocked("show", "A1").stdout

    assert "length            ≈ 3 1/8 in\n" in shown  # 3.1354 in


def test_without_a_ledger_the_way_to_begin_one_is_told(cloth: Cloth, tmp_path: Path) -> None:
    """Looking does not make a file."""
    told = cloth("list")

    assert told.exit_code == WRONG
    assert told.stderr == (
        "Error: my.sqlite: there is no ledger here yet. "
        'Begin one with a fabric, ellwand cloth fabric ink --width "43 in" --ledger my.sqlite, '
        "or a spreadsheet, ellwand cloth import stash.csv --ledger my.sqlite.\n"
    )
    assert list(tmp_path.iterdir()) == []
    assert cloth("undo").exit_code == WRONG


def test_options_that_make_no_sense_together(stocked: Cloth) -> None:
    """Nothing to change; removed and changed at once."""
    assert "Say what is to be changed" in stocked("edit", "A1").stderr
    assert "--remove takes the fabric out" in stocked("fabric", "ink", "--remove", "--price", "3").stderr


def test_the_users_own_ledger_is_in_the_data_directory(
    stocked: Cloth, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Without --ledger; hints then need none either."""
    monkeypatch.setattr("platformdirs.user_data_path", lambda name: tmp_path / "data" / name)

    entered = CliRunner().invoke(app, ["cloth", "fabric", "ink", "--width", "43"])

    assert entered.stdout.endswith("To take this back: ellwand cloth undo\n")
    assert (tmp_path / "data" / "ellwand" / "ledger.sqlite").is_file()


def kept(path: Path) -> tuple[OwnedCloth, ...]:
    """What a ledger holds, which must be sound."""
    with Ledger(path) as ledger:
        assert ledger.check() == ()
        return ledger.cloths()


KILLS = 24


def test_an_import_that_is_killed_leaves_all_or_nothing(stocked: Cloth, tmp_path: Path) -> None:
    """The command ended by SIGKILL at random moments: its ledger opens, is sound, and is as before or as after."""
    rows = "".join(f"ink,{number % 97 + 1} in,row {number}\n" for number in range(4000))
    (tmp_path / "many.csv").write_text(f"fabric,length,note\n{rows}", encoding="utf-8")
    path, chance = tmp_path / "my.sqlite", random.Random(3)
    first = path.read_bytes()
    words = [sys.executable, "-m", "ellwand_cli", "cloth", "import", "many.csv", "--ledger", "my.sqlite"]
    before = len(kept(path))
    held: list[int] = []
    broken_off: list[bool] = []

    for _ in range(KILLS):
        path.write_bytes(first)
        journal = path.with_name("my.sqlite-journal")
        with subprocess.Popen(words, cwd=tmp_path, env=environment(), stdout=subprocess.DEVNULL) as program:
            while not journal.exists() and program.poll() is None:
                time.sleep(0.001)
            time.sleep(chance.uniform(0, 0.5))
            if program.poll() is None:
                os.kill(program.pid, signal.SIGKILL)
        broken_off.append(journal.exists())
        held.append(len(kept(path)))

    assert set(held) <= {before, before + 4000}
    assert any(broken_off)
    assert all(number == before for number, broken in zip(held, broken_off, strict=True) if broken)
