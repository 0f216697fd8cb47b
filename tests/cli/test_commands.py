"""What each command prints, writes and ends with, on a small quilt."""

from __future__ import annotations

import csv
import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from pypdf import PdfReader

from ellwand import __version__
from ellwand.project.starter import STARTER

Run = Callable[..., Result]
Document = dict[str, Any]

DONE, NOT_ENOUGH, INPUT = 0, 1, 2
ROOT = Path(__file__).parents[2]
FORMAT = (ROOT / "docs" / "plan-format.md").read_text(encoding="utf-8")
PAGE = Path(__file__).parent / "pages" / "kite-pieces.txt"
PLAN = ("plan", "quilt.toml", "--effort", "quick")
COMPARE = ("compare", "quilt.toml", "--border", "rim", "--effort", "quick")
FILES = {
    "plan.json", "report.txt", "report.html", "pieces.txt", "materials.txt", "quilt.svg",
    "quilt.png", "cut-list.txt", "cutting-sheets.pdf",
    "ink-1.svg", "ink-1.png", "ink-2.svg", "ink-2.png", "brass-1.svg", "brass-1.png", "oat-1.svg", "oat-1.png",
    "film-1.svg", "film-1.png",
}  # fmt: skip


def _promised(heading: str) -> set[str]:
    """The keys in the table below `heading` of docs/plan-format.md."""
    section = FORMAT.partition(f"## {heading}\n")[2].partition("\n## ")[0]
    cells = re.findall(r"(?m)^\| (`.*?) \|", section)
    return {key for cell in cells for key in re.findall(r"`(\w+)`", cell)}


def _told(result: Result) -> Document:
    """The one document on standard output, without the time that it took."""
    document: Document = json.loads(result.stdout)
    document.get("solve", {}).pop("seconds", None)
    return document


def _contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def _refuse_to_work(*_: object, **__: object) -> None:
    raise AssertionError("this should have been refused before any work")


def _short_of_ink() -> None:
    """No more ink is to be had, and there is only a quarter of a yard."""
    path = Path("quilt.toml")
    path.write_text(path.read_text(encoding="utf-8").replace("price = 10\n", "price = 10\nbuy = false\n"), "utf-8")


# new


def test_new_writes_the_starter(run: Run, tmp_path: Path) -> None:
    """The starter is written, and the next thing to type is printed, ready to be pasted."""
    result = run("new", "my quilt.toml")

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert result.stdout == (
        "Wrote my quilt.toml. Change it to your quilt, then: ellwand plan 'my quilt.toml' --out plan\n"
    )
    assert (tmp_path / "my quilt.toml").read_text(encoding="utf-8") == STARTER


def test_new_never_overwrites(run: Run, tmp_path: Path) -> None:
    """A file that is there stays as it is, and that is an error."""
    before = (tmp_path / "quilt.toml").read_bytes()

    result = run("new", "quilt.toml")

    assert (result.exit_code, result.stdout) == (INPUT, "")
    assert result.stderr == "Error: quilt.toml: is there already, and stays as it is. Choose another name.\n"
    assert (tmp_path / "quilt.toml").read_bytes() == before


# pieces


def test_pieces_is_a_page_to_hand_out(run: Run) -> None:
    """Text: sizes on the way, a legend, every fabric's pieces with place, sum and what follows, totals, cautions.

    Every figure of the page was reckoned by hand. The stabiliser: 200 + 2 × 25.4 = 250.8 mm, 9.874 in; 220 + 50.8 =
    270.8 mm, 10.661 in; up to the next 1/8. The mitre takes 2 × (1/4 + √2 × 1/4) of 6: 2.396 in are left at each
    end, told as 2 3/8.
    """
    result = run("pieces", "quilt.toml")

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert result.stdout == PAGE.read_text(encoding="utf-8")


def test_pieces_as_a_document(run: Run) -> None:
    """JSON: the entries of a plan's pieces with finished size, place and sum; the quilt's sizes beside them."""
    result = run("pieces", "quilt.toml", "--json")
    document = _told(result)
    pieces = {piece.pop("id"): piece for piece in document["pieces"]}

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert list(document) == ["pieces", "sizes"]
    assert pieces["tail/ground"] == {
        "fabric": "ink", "across": 6.5, "along": 6.5, "count": 4, "turnable": True, "finished": [6, 6],
        "why": "6 stitched + 2 × 1/4 margin = 6 1/2 in", "where": "4 tail blocks, 1 in each",
    }  # fmt: skip
    assert pieces["binding/1"]["after"] == "join end to end on the diagonal"
    assert {"rim/top", "rim/left", "binding/1", "backing/1", "stabiliser", "pocket"} <= set(pieces)
    assert document["sizes"] == {
        "blocks": [{"name": "tail", "count": 4, "stitched": [6, 6], "trimmed": [6.5, 6.5], "finished": [6, 6]}],
        "planned": [12, 12], "centre": [12, 12], "finished": [16, 16], "raw": [16.5, 16.5], "bound": [16.5, 16.5],
    }  # fmt: skip


def test_pieces_as_a_document_has_the_promised_keys(run: Run) -> None:
    """Every entry has the keys that docs/plan-format.md promises, and no other but those told to be absent at times."""
    document = _told(run("pieces", "quilt.toml", "--json"))
    always = {"id", "fabric", "across", "along", "count", "turnable", "finished", "why", "where"}
    found = [set(piece) for piece in document["pieces"]]

    assert _promised("Pieces alone") == ({"finished", "why", "where", "after", "form", "blocks", "planned"})
    assert all(always <= keys <= always | {"after", "form"} for keys in found)


# plan


def test_plan_prints_the_report(run: Run) -> None:
    """Text: the answer on standard output, what is bought of each fabric first; no folder is written unasked."""
    result = run(*PLAN)

    assert (result.exit_code, result.stderr) == (DONE, "")
    first, rest = result.stdout.split("\n\n", 1)
    assert re.findall(r"(?m)^(\w+): (?:enough\. Left: |short by |none on hand: )", first) == [
        "ink",
        "brass",
        "oat",
        "film",
    ]
    assert rest.startswith("Kite\nQuilt: centre 12 × 12 in, finished 16 × 16 in, ")
    assert re.findall(r"(?m)^(ink|brass|oat|film) +(?:–|ink 1) ", result.stdout) == ["ink", "brass", "oat", "film"]
    assert [path.name for path in Path().iterdir()] == ["quilt.toml"]


def test_plan_as_a_document_has_the_promised_keys(run: Run) -> None:
    """JSON: one document with every key that docs/plan-format.md promises, and no other."""
    result = run(*PLAN, "--json")
    document = json.loads(result.stdout)
    fabrics = document["fabrics"]
    cloths = [cloth for fabric in fabrics for cloth in fabric["cloths"]]

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert set(document) == _promised("The whole") - {"mixed"}  # absent where there are no mixes
    assert [set(fabric) for fabric in fabrics] == [_promised("A fabric")] * 4
    assert [set(cloth) for cloth in cloths] == [_promised("A cloth")] * len(cloths)
    assert {cloth["source"] for cloth in cloths} == {"buy", "on hand"}
    assert set(document["sizes"]) == {"centre", "finished", "raw", "bound"}
    assert set(document["solve"]) == {"seconds", "effort", "method", "seed", "cut_short"}


def test_the_same_plan_twice(run: Run) -> None:
    """Equal input, effort and seed give an equal plan."""
    assert _told(run(*PLAN, "--seed", "7", "--json")) == _told(run(*PLAN, "--seed", "7", "--json"))


def test_as_new_leaves_the_cloth_on_hand_out(run: Run) -> None:
    """A printed pattern's plan knows nothing of a cupboard, and needs more."""
    mine, new = (_told(run(*PLAN, "--json", *words))["fabrics"][0] for words in ((), ("--as-new",)))

    assert [cloth["source"] for cloth in new["cloths"]] == ["buy"]
    assert new["needed"] > mine["needed"] >= 0


def test_what_if_there_were_more(run: Run) -> None:
    """The supposed cloth is used and told as such, the file stays, and --as-new beside it is refused."""
    before = Path("quilt.toml").read_bytes()

    fabrics = _told(run(*PLAN, "--what-if", "ink = 3 yd", "--json"))["fabrics"]
    both = run(*PLAN, "--what-if", "ink = 3 yd", "--as-new")

    assert [fabric["supposed"] for fabric in fabrics] == [True, False, False, False]
    assert [cloth["length"] for cloth in fabrics[0]["cloths"]] == [108]
    assert Path("quilt.toml").read_bytes() == before
    assert both.exit_code == INPUT
    assert "leave it or --what-if out" in both.stderr


@pytest.mark.parametrize("words", [(), ("--json",)], ids=["text", "json"])
def test_warnings_go_to_standard_error(run: Run, words: tuple[str, ...]) -> None:
    """A warning is told once, beside the answer and not in the way of it."""
    path = Path("quilt.toml")
    path.write_text(path.read_text(encoding="utf-8").replace('"brass"\n[', '"brass"\nstrip = 1\n['), "utf-8")

    result = run(*PLAN, *words)

    warning = "binding: a strip of 1 in sewn with a seam of 1/4 in will not reach the back; take at least 1 3/4 in."
    assert (result.exit_code, result.stderr) == (DONE, f"Warning: {warning}\n")
    assert not words or _told(result)["warnings"] == [warning]
    assert words or "Warning" not in result.stdout


# plan --out


def test_a_plans_folder_is_whole(run: Run, tmp_path: Path) -> None:
    """The folder holds the sheets, the lists, two drawings of every cloth and the document, and nothing else."""
    printed = run(*PLAN)
    document = _told(run(*PLAN, "--json"))

    result = run(*PLAN, "--out", "plans/kite")
    files = _contents(tmp_path / "plans" / "kite")

    assert result.exit_code == DONE
    assert result.stdout == printed.stdout
    lists = "materials.txt, pieces.txt, cut-list.txt, report.txt"
    wrote = f"Wrote plans/kite: report.html, cutting-sheets.pdf, {lists}, plan.json and the drawings.\n"
    assert result.stderr == wrote
    assert set(files) == FILES
    assert files["report.txt"].decode() == printed.stdout
    filed = json.loads(files["plan.json"])
    del filed["solve"]["seconds"]
    assert filed == document
    assert files["cutting-sheets.pdf"].startswith(b"%PDF-")
    assert all(files[name].startswith(b"\x89PNG") for name in FILES if name.endswith(".png"))
    assert all(b"<svg" in files[name] for name in FILES if name.endswith(".svg"))
    assert [path.name for path in (tmp_path / "plans").iterdir()] == ["kite"]


def test_true_sizes_are_filed_where_they_are_wanted(run: Run, tmp_path: Path) -> None:
    """With --true-size every cloth is there twice more, for machines; the rest of the folder is as ever."""
    result = run(*PLAN, "--out", "kite", "--true-size")

    assert result.exit_code == DONE
    cloths = ("ink-1", "ink-2", "brass-1", "oat-1", "film-1")
    assert set(_contents(tmp_path / "kite")) == FILES | {
        f"true-size/{name}.{kind}" for name in cloths for kind in ("svg", "dxf")
    }


def _paper(file: Path) -> tuple[int, int]:
    """Width and height of the first page, points."""
    box = PdfReader(file).pages[0].mediabox
    return round(float(box.width)), round(float(box.height))


def test_sheets_are_printed_on_the_paper_that_is_asked_for(run: Run, tmp_path: Path) -> None:
    """Letter in a project of inches, unless A4 is asked for (ISO 216; ANSI/ASME Y14.1)."""
    assert run(*PLAN, "--out", "usual").exit_code == DONE
    assert run(*PLAN, "--out", "other", "--paper", "a4").exit_code == DONE

    assert _paper(tmp_path / "usual" / "cutting-sheets.pdf") == (612, 792)
    assert _paper(tmp_path / "other" / "cutting-sheets.pdf") == (595, 842)


@pytest.mark.parametrize("command", [PLAN, ("sizes", "quilt.toml")])
def test_paper_needs_a_folder(run: Run, command: tuple[str, ...]) -> None:
    """A paper for sheets that are not written is a slip, and is said before any work."""
    result = run(*command, "--paper", "letter")

    assert result.exit_code == INPUT
    assert "--paper needs --out DIR" in result.stderr


def test_true_sizes_need_a_folder(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without --out there is nowhere to put them, which is said before any work."""
    monkeypatch.setattr("ellwand.plan.make_plan", _refuse_to_work)

    result = run(*PLAN, "--true-size")

    assert result.exit_code == INPUT
    assert "--true-size needs --out DIR" in result.stderr


def test_an_earlier_plan_is_replaced(run: Run, tmp_path: Path) -> None:
    """What an earlier plan left in its folder is gone, drawings of cloths that are no longer used too."""
    run(*PLAN, "--out", "plan")
    for name in ("report.txt", "silk-1.svg", "silk-1.png"):
        (tmp_path / "plan" / name).write_text("old", encoding="utf-8")

    result = run(*PLAN, "--out", "plan")

    assert result.exit_code == DONE
    assert set(_contents(tmp_path / "plan")) == FILES
    assert (tmp_path / "plan" / "report.txt").read_text(encoding="utf-8") == result.stdout
    assert sorted(path.name for path in tmp_path.iterdir()) == ["plan", "quilt.toml"]


@pytest.mark.parametrize(
    ("names", "found"),
    [
        (["notes.txt"], 'holds "notes.txt", which is no part of a plan'),
        (["plan.json", "notes.txt"], 'holds "notes.txt", which is no part of a plan'),
        (["plan.json", "photo.png"], 'holds "photo.png", which is no part of a plan'),
        (["plan.json", "photos/kite.png"], 'holds "photos/", which is no part of a plan'),
        (["kite.svg", "kite.png"], 'holds "kite.png", which is no part of a plan'),
    ],
    ids=["no plan", "a plan and notes", "a plan and a photo", "a plan and a folder", "drawings alone"],
)
def test_a_folder_with_other_things_in_it_is_refused(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, names: list[str], found: str
) -> None:
    """Nothing but a plan is ever replaced, and that is said before the work."""
    monkeypatch.setattr("ellwand.plan.make_plan", _refuse_to_work)
    for name in names:
        (tmp_path / "mine" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "mine" / name).write_text("mine", encoding="utf-8")
    before = _contents(tmp_path)

    result = run(*PLAN, "--out", "mine")

    assert (result.exit_code, result.stdout) == (INPUT, "")
    assert result.stderr == f"Error: mine: {found}. Name another folder, so that nothing of yours is replaced.\n"
    assert _contents(tmp_path) == before


@pytest.mark.parametrize(
    ("out", "found"),
    [
        ("quilt.toml", "is a file. Name another folder, so that nothing of yours is replaced."),
        (".", "is the folder that you are in. Name another folder, so that nothing of yours is replaced."),
        (
            "quilt.toml/plan",
            'lies in "quilt.toml", which is a file. Name another folder, so that nothing of yours is replaced.',
        ),
    ],
)
def test_a_place_that_is_no_folder_is_refused(run: Run, tmp_path: Path, out: str, found: str) -> None:
    """A file, and the folder in which one stands, stay as they are."""
    before = _contents(tmp_path)

    result = run(*PLAN, "--out", out)

    assert (result.exit_code, result.stdout, result.stderr) == (INPUT, "", f"Error: {out}: {found}\n")
    assert _contents(tmp_path) == before


# not enough, and no more to be had


def _short_sentence(document: Document) -> str:
    """What the error of the plan of `document` must end with, worked out from its layouts."""
    fabric = document["fabrics"][0]
    left = [placed["piece"] for cloth in fabric["cloths"] if cloth["source"] == "buy" for placed in cloth["placed"]]
    pieces = ", ".join(f"{left.count(name)} × {name}" for name in dict.fromkeys(left))
    return f" in missing, 42 in wide to use, for {pieces}"


def test_a_plan_that_falls_short_ends_with_one(run: Run) -> None:
    """Text: the report still comes; the sentence names the fabric, the pieces left over and the length missing."""
    _short_of_ink()

    result = run(*PLAN)
    document = json.loads(run(*PLAN, "--json").stdout)

    assert result.exit_code == NOT_ENOUGH
    assert re.match(r'Error: quilt\.toml: "ink" cannot be enough: [\d /]+ in missing', result.stderr)
    assert result.stderr.endswith(f"{_short_sentence(document['plan'])}.\n")
    assert re.search(r"(?m)^ink +ink 1 +[\d /]+ in +short [\d /]+ in  ", result.stdout)
    assert "all together costs" not in result.stdout


def test_a_plan_that_falls_short_as_a_document(run: Run) -> None:
    """JSON: one document with the error and the plan, whose keys are those of any plan."""
    _short_of_ink()

    result = run(*PLAN, "--json")
    document = json.loads(result.stdout)

    assert result.exit_code == NOT_ENOUGH
    assert list(document) == ["format", "error", "plan"]
    assert set(document["plan"]) == _promised("The whole") - {"mixed"}  # absent where there are no mixes
    assert document["error"]["where"] == "quilt.toml"
    assert document["error"]["found"].endswith(_short_sentence(document["plan"]))
    assert document["plan"]["fabrics"][0]["needed"] > 0
    assert document["plan"]["fabrics"][0]["buy"] is False


def test_a_plan_that_falls_short_is_filed_and_sound(run: Run, tmp_path: Path) -> None:
    """The folder is written all the same, and the judge finds nothing wrong with the plan itself."""
    _short_of_ink()

    assert run(*PLAN, "--out", "plan").exit_code == NOT_ENOUGH
    assert set(_contents(tmp_path / "plan")) == FILES
    assert run("check", "plan/plan.json").exit_code == DONE


# check


def _write_plan(run: Run, change: Callable[[Document], object]) -> None:
    document = json.loads(run(*PLAN, "--json").stdout)
    change(document)
    Path("plan.json").write_text(json.dumps(document), encoding="utf-8")


def test_a_plan_as_it_was_made_is_sound(run: Run) -> None:
    """The judge has nothing to say against a plan of ours."""
    _write_plan(run, lambda document: None)

    result, asked = run("check", "plan.json"), run("check", "plan.json", "--json")

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert result.stdout == "plan.json: sound. Every piece is there, and every figure adds up.\n"
    assert (asked.exit_code, asked.stderr) == (DONE, "")
    assert json.loads(asked.stdout) == {"format": 1, "sound": True, "faults": []}


def _lose_a_piece(document: Document) -> None:
    cloth = document["fabrics"][0]["cloths"][0]
    cloth["placed"] = [placed for placed in cloth["placed"] if placed["piece"] != "tail/ground"]


def _claim_too_much(document: Document) -> None:
    document["fabrics"][0]["bound"] = document["fabrics"][0]["needed"] + 1


def _add_up_wrongly(document: Document) -> None:
    document["fabrics"][0]["area"]["scrap"] += 1


@pytest.mark.parametrize(
    ("tamper", "named"),
    [
        (_lose_a_piece, 'Piece "tail/ground" is placed'),
        (_claim_too_much, 'Fabric "ink"'),
        (_add_up_wrongly, 'Fabric "ink"'),
        (lambda document: document.pop("ruler"), "The plan lacks the key ruler."),
    ],
    ids=["a piece lost", "a bound above what is needed", "areas that do not add up", "a key missing"],
)
def test_a_plan_that_was_tampered_with_is_not_sound(run: Run, tamper: Callable[[Document], object], named: str) -> None:
    """Each fault is a line on standard output that names what is wrong, and the command ends with 1."""
    _write_plan(run, tamper)

    result, asked = run("check", "plan.json"), run("check", "plan.json", "--json")
    verdict = json.loads(asked.stdout)

    assert (result.exit_code, result.stderr) == (NOT_ENOUGH, "")
    assert named in result.stdout
    assert "sound" not in result.stdout
    assert (asked.exit_code, asked.stderr) == (NOT_ENOUGH, "")
    assert (verdict["format"], verdict["sound"]) == (1, False)
    assert verdict["faults"] == result.stdout.splitlines()


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b"rubbish", "is not a plan: it is no JSON text with sensible numbers"),
        (b"\xff\xfe\x00", "is not a plan: it is no JSON text with sensible numbers"),
        (b'{"format": 1, "ruler": 1.0e999999999}', "is not a plan: it is no JSON text with sensible numbers"),
        (b'{"format": 1, "ruler": NaN}', "is not a plan: it is no JSON text with sensible numbers"),
        (b"[" * 100_000, "is not a plan: it is no JSON text with sensible numbers"),
        (b"[1, 2]", "is not a plan: it is no JSON object"),
    ],
    ids=["words", "bytes", "a number out of all proportion", "no number", "brackets", "a list"],
)
def test_garbage_is_no_plan(run: Run, content: bytes, found: str) -> None:
    """What is no plan at all is wrong input: one sentence, exit code 2."""
    Path("plan.json").write_bytes(content)

    result = run("check", "plan.json")

    assert (result.exit_code, result.stdout, result.stderr) == (INPUT, "", f"Error: plan.json: {found}.\n")


@pytest.mark.parametrize(
    ("name", "found"),
    [("nothing.json", "cannot be read: No such file or directory"), (".", "cannot be read: Is a directory")],
)
def test_a_plan_that_cannot_be_read(run: Run, name: str, found: str) -> None:
    """A missing file and a folder get a sentence, and with --json a document."""
    result = run("check", name, "--json")

    assert (result.exit_code, result.stderr) == (INPUT, f"Error: {name}: {found}.\n")
    assert json.loads(result.stdout)["error"] == {"where": name, "found": found, "wanted": "", "hint": ""}


# compare


def test_compare_prints_a_table(run: Run) -> None:
    """Text: every width with every fabric and the whole quilt, in order."""
    result = run(*COMPARE, "--from", "1", "--to", "2 in", "--step", "1/2 in")
    first, *_, last = result.stdout.split("\n\n")
    title, heads, *lines = first.splitlines()

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert last.startswith("The last width for each amount, to the mark, with 1/4 in across and 1/2 in along to spare:")
    assert title == "Border rim"
    assert heads.split("  ")[0] == "width"
    assert [line[: heads.index("fabric")].strip() for line in lines if line[0] != " "] == ["1 in", "1 1/2 in", "2 in"]
    fabrics = [re.split(r"\s{2,}", line[heads.index("fabric") :])[0] for line in lines]
    assert fabrics == ["ink", "brass", "oat", "film", "whole quilt"] * 3


def test_compare_as_a_document(run: Run) -> None:
    """JSON: a row for every width, whose figures are those of the plan of that width."""
    result = run(*COMPARE, "--from", "1", "--to", "2", "--step", "1", "--json")
    document = _told(result)
    plan = _told(run(*PLAN, "--json"))

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert (document["format"], document["border"]) == (1, "rim")
    assert [row["width"] for row in document["rows"]] == [1, 2]
    assert all(set(row) == _promised("A comparison") for row in document["rows"])
    for told, made in zip(document["rows"][1]["fabrics"], plan["fabrics"], strict=True):
        shared = {"id", "needed", "bound", "proven", "bought", "bought_proven", "cost", "taken"}
        assert {key: told[key] for key in shared} == {key: made[key] for key in shared}
        assert [told[key] for key in ("pieces", "offcuts", "scrap")] == [
            made["area"][key] for key in ("pieces", "offcuts", "scrap")
        ]


@pytest.mark.parametrize(("name", "start"), [("w.svg", b"<?xml"), ("w.PNG", b"\x89PNG"), ("w.pdf", b"%PDF-")])
def test_compare_writes_a_chart(run: Run, tmp_path: Path, name: str, start: bytes) -> None:
    """The ending of its name says what kind of picture a chart is."""
    result = run(*COMPARE, "--from", "1", "--to", "2", "--step", "1", "--chart", name)

    assert (result.exit_code, result.stderr) == (DONE, f"Wrote {name}.\n")
    assert (tmp_path / name).read_bytes().startswith(start)


def test_compare_draws_two_layouts_side_by_side(run: Run, tmp_path: Path) -> None:
    """A value that is shown is a row, too, though no step meets it."""
    shown = ("--show", "1 3/4 in", "--show", "1 in", "--layouts", "two.svg")
    result = run(*COMPARE, "--from", "1", "--to", "2", "--step", "1/2 in", *shown, "--json")

    assert (result.exit_code, result.stderr) == (DONE, "Wrote two.svg.\n")
    assert [row["width"] for row in json.loads(result.stdout)["rows"]] == [1, 1.5, 1.75, 2]
    assert "Border rim: 1 in and 1 3/4 in" in (tmp_path / "two.svg").read_text()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--show", "1", "--layouts", "w.svg"), "Two layouts are drawn: --show VALUE --show VALUE --layouts FILE."),
        (("--show", "1", "--show", "2"), "Two layouts are drawn: --show VALUE --show VALUE --layouts FILE."),
        (
            ("--show", "1", "--show", "3", "--layouts", "w.svg"),
            "compare: --show: cannot show 1 and 3. Give two different values between --from and --to.",
        ),
        (
            ("--show", "1", "--show", "1 in", "--layouts", "w.svg"),
            "compare: --show: cannot show 1 and 1 in. Give two different values between --from and --to.",
        ),
    ],
)
def test_compare_shows_two_values_and_no_other_number(run: Run, words: tuple[str, ...], sentence: str) -> None:
    """What would be drawn has to be clear."""
    result = run(*COMPARE, "--from", "1", "--to", "2", "--step", "1", *words)

    assert result.exit_code == INPUT
    assert result.stderr.endswith(f"Error: {sentence}\n")


def test_compare_tells_a_width_that_falls_short(run: Run) -> None:
    """Where no more is to be had, the table says what is missing and asks no price for it."""
    _short_of_ink()

    result = run(*COMPARE, "--from", "2", "--to", "2", "--step", "1")

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert re.search(r"(?m)^2 in +ink +short [\d /]+ in +\d+\.\d %", result.stdout)
    assert _told(run(*COMPARE, "--from", "2", "--to", "2", "--step", "1", "--json"))["rows"][0]["cost"] is None


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--border", "hem"), 'quilt.toml: has no border "hem". It has: "rim".'),
        (("--from", "2 in 1/2"), 'compare: --from: cannot read "2 in 1/2" as a length. Try 2 1/2 in, 2.5 in or 64 mm.'),
        (("--to", "wide"), 'compare: --to: cannot read "wide" as a length. Try 2 1/2 in, 2.5 in or 64 mm.'),
        (("--to", "1 km"), 'compare: --to: cannot read "1 km" as a length. Try 2 1/2 in, 2.5 in or 64 mm.'),
        (("--to", "999999"), 'compare: --to: "999999" is too long. A length is at most 10000 in.'),
        (("--from", "0"), 'quilt.toml: border "rim": width: 0 is too short. It must be more than 0.'),
        (("--step", "0 in"), 'compare: --step: "0 in" is too short. It must be more than 0.'),
        (("--from", "4"), "values: there is no value from --from to --to in steps of --step."),
        (("--step", "1/500 in"), "values: 501 values are too many. At most 200."),
        (("--chart", "widths.gif"), "widths.gif: has no ending of a picture. Use .svg, .png or .pdf."),
        (("--chart", "nowhere/w.svg"), "nowhere/w.svg: cannot be written: there is no such folder."),
    ],
)
def test_compare_refuses_what_cannot_be_compared(
    run: Run, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], sentence: str
) -> None:
    """Each wrong option gets its sentence, before the work."""
    monkeypatch.setattr("ellwand.compare.start_plan", _refuse_to_work)

    result = run(*COMPARE, "--from", "1", "--to", "2", "--step", "1", *words)

    assert (result.exit_code, result.stdout, result.stderr) == (INPUT, "", f"Error: {sentence}\n")


def test_compare_varies_any_value(run: Run) -> None:
    """--vary takes a key of the file; a count goes in ones, and what hangs on it follows."""
    result = run(
        "compare",
        "quilt.toml",
        "--vary",
        "quilt.down",
        "--from",
        "2",
        "--to",
        "3",
        "--step",
        "1",
        "--json",
        "--effort",
        "quick",
    )
    document = _told(result)

    assert (result.exit_code, document["border"], document["varied"]) == (DONE, None, "quilt.down")
    assert [row["value"] for row in document["rows"]] == [2, 3]
    assert all("width" not in row for row in document["rows"])
    ink = [row["fabrics"][0]["pieces"] for row in document["rows"]]
    assert ink[0] < ink[1]


def test_the_edges_of_a_comparison_have_the_promised_keys(run: Run) -> None:
    """Each has the keys of docs/plan-format.md, and one mark more than its value."""
    document = _told(run(*COMPARE, "--from", "1", "--to", "3", "--step", "1", "--slack", "0", "--json"))

    assert document["slack"] == {"across": 0, "along": 0}
    assert all(set(edge) == _promised("The edges of a comparison") for edge in document["edges"])
    ends = [edge for edge in document["edges"] if edge["beyond"]]
    assert ends
    assert all(edge["beyond"]["value"] == edge["value"] + 0.125 for edge in ends)
    assert all(edge["beyond"]["bought"] > edge["bought"] for edge in ends)


def test_compare_tells_a_slack_in_a_foreign_unit(run: Run) -> None:
    """5 mm do not end as inches: the document has them near, the text in eighths."""
    words = (*COMPARE, "--from", "1", "--to", "2", "--step", "1", "--slack", "5 mm")
    told, text = run(*words, "--json"), run(*words)

    assert (told.exit_code, text.exit_code) == (DONE, DONE)
    assert _told(told)["slack"] == {"across": 0.196850394, "along": 0.393700788}
    assert "5 mm" in text.stdout


def test_compare_as_a_spreadsheet(run: Run) -> None:
    """CSV: a line a fabric and one for the whole quilt, whose areas are the sums."""
    result = run(*COMPARE, "--from", "1", "--to", "2", "--step", "1", "--csv")
    rows = list(csv.DictReader(result.stdout.splitlines()))

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert [(row["value"], row["fabric"]) for row in rows] == [
        (value, fabric) for value in "12" for fabric in ("ink", "brass", "oat", "film", "")
    ]
    *fabrics, whole = rows[:5]
    assert float(whole["taken"]) == pytest.approx(sum(float(row["taken"]) for row in fabrics))


@pytest.mark.parametrize("words", [(), ("--border", "rim", "--vary", "sashing.width")])
def test_compare_wants_one_thing_to_vary(run: Run, words: tuple[str, ...]) -> None:
    """Neither nothing nor two."""
    result = run("compare", "quilt.toml", "--from", "1", "--to", "2", "--step", "1", *words)

    assert result.exit_code == INPUT
    assert result.stderr.endswith("Error: Name what varies: --border NAME, or --vary KEY.\n")


# fit


def test_fit_tells_the_widest_and_what_stops_a_wider_one(run: Run) -> None:
    """Text: the width, the fabric that stops it with its pieces, and what is bought besides."""
    result = run("fit", "quilt.toml", "--border", "rim", "--with", "ink = 1/2 yd", "--effort", "quick")

    assert (result.exit_code, result.stderr) == (DONE, "")
    first, *_ = result.stdout.splitlines()
    assert re.match(
        r"Border rim, [\d /]+ in: the widest for 1/2 yd of ink, with 1/4 in across and 1/2 in along ", first
    )
    assert re.search(r"(?m)^One mark more, [\d /]+ in: ink is short of ", result.stdout)
    assert re.search(r"(?m)^To buy besides: brass .*, oat .*, film ", result.stdout)


def test_fit_as_a_document(run: Run) -> None:
    """JSON: the promised keys; all borders where none is named."""
    document = _told(run("fit", "quilt.toml", "--with", "ink=0.5yd", "--effort", "quick", "--json"))

    assert set(document) - {"format"} == _promised("The widest border that fits") - {
        "fabric", "missing", "pieces", "across", "along", "id", "needed", "bought",
    }  # fmt: skip
    assert document["borders"] == {"rim": document["width"]}
    assert document["beyond"] == document["width"] + 0.125
    assert document["stopped"][0]["fabric"] == "ink"


def test_fit_by_the_clock_never_says_what_it_did_not_see(run: Run) -> None:
    """Hardly any time: a width that fits all the same, and no sentence without an end."""
    result = run("fit", "quilt.toml", "--border", "rim", "--with", "ink = 3/4 yd", "--seconds", "0.000001")

    assert result.exit_code == DONE
    assert re.match(r"Border rim, [\d /]+ in: (it fits|the widest for) 3/4 yd of ink", result.stdout)
    assert re.search(r"(?m)^One mark more, [\d /]+ in: \w", result.stdout)


@pytest.mark.parametrize(
    ("words", "exit_code", "sentence"),
    [
        (("--with", "ink = 1/8 yd"), NOT_ENOUGH, "quilt.toml: border rim: not even 1/8 in fits: ink is short of "),
        (
            ("--with", "ink"),
            INPUT,
            'fit: --with: "ink" is no fabric with a length. Write a fabric and a length: "ink = 1 1/2 yd".',
        ),
        (("--with", "ink=2yd", "--with", "ink=1yd"), INPUT, 'fit: --with: "ink" is there twice.'),
        (("--with", "ink=2 ells"), INPUT, 'fit: --with: ink: cannot read "2 ells" as a length.'),
        (("--with", "hem=2yd"), INPUT, 'quilt.toml: has no fabric "hem". It has: "ink", "brass", "oat", "film".'),
        (("--slack", "1,2,3"), INPUT, "fit: --slack: there are more than two lengths. Write two lengths, across and "),
    ],
)
def test_fit_refuses(run: Run, words: tuple[str, ...], exit_code: int, sentence: str) -> None:
    """Wrong input ends with 2, a border that cannot be with 1."""
    result = run("fit", "quilt.toml", "--border", "rim", "--effort", "quick", *words)

    assert (result.exit_code, result.stdout) == (exit_code, "")
    assert result.stderr.startswith(f"Error: {sentence}")


# claim


def test_a_claim_that_holds(run: Run, tmp_path: Path) -> None:
    """Text: that it does and what it forgives; its layout is drawn where that is wanted."""
    result = run("claim", "quilt.toml", "ink=1yd", "--out", "proof", "--effort", "quick")
    first, *lines = result.stdout.splitlines()

    assert (result.exit_code, result.stderr) == (DONE, "Wrote proof: claims.json and the drawings.\n")
    assert first.startswith("ink, 1 yd: it holds, with 1/4 in across and 1/2 in along to spare. ")
    assert lines[0].startswith("  Cloth that can be used ")
    assert lines[1].startswith("  It may shrink ")
    assert any(line.startswith("  Spoiled tail/ground: ") for line in lines)
    assert {path.name for path in (tmp_path / "proof").iterdir()} == {"claims.json", "ink-1.svg", "ink-1.png"}


def test_a_claim_takes_the_place_of_a_claim_and_of_nothing_else(run: Run, tmp_path: Path) -> None:
    """Its folder may be written again; a plan's folder is left as it is."""
    claim = ("claim", "quilt.toml", "ink=1yd", "--effort", "quick", "--out")
    run(*PLAN, "--out", "plan")
    before = {path.name for path in (tmp_path / "plan").iterdir()}

    first, again, refused = run(*claim, "proof"), run(*claim, "proof"), run(*claim, "plan")

    assert (first.exit_code, again.exit_code, refused.exit_code) == (DONE, DONE, INPUT)
    assert "which is no part of a claim's answer" in refused.stderr
    assert {path.name for path in (tmp_path / "plan").iterdir()} == before


def test_a_claim_that_fails(run: Run) -> None:
    """It ends with 1, names what is left over and says what would do; the document is in the error's."""
    result = run("claim", "quilt.toml", "oat=1/4yd", "--effort", "quick")
    told = run("claim", "quilt.toml", "oat=1/4yd", "--effort", "quick", "--json")

    assert result.exit_code == told.exit_code == NOT_ENOUGH
    assert result.stderr.startswith("Error: quilt.toml: oat, 1/4 yd: it does not hold, whatever the layout: ")
    assert re.search(r"(?m)^  No room is left for .*\d × backing", result.stdout)
    assert re.search(r"(?m)^  [\d /]+ yd would do", result.stdout)
    document = json.loads(told.stdout)
    assert set(document) == {"format", "error", "answer"}
    (claim,) = document["answer"]["claims"]
    assert set(claim) == _promised("Claims") - {
        "usable_width", "usable_width_proven", "shrinks", "spoiled", "pieces", "copies", "proven",
    }  # fmt: skip
    assert (claim["holds"], claim["refuted"], claim["forgives"]) == (False, True, None)


# the program


def test_the_version_is_told(run: Run) -> None:
    """--version names the program and its version."""
    result = run("--version")

    assert (result.exit_code, result.stderr) == (DONE, "")
    assert result.stdout == f"ellwand, version {__version__}\n"


def test_a_process_of_its_own_says_nothing_else(run: Run) -> None:
    """Run as a program, nothing but the answer is printed: no library writes on the screen behind our back."""
    told = run(*PLAN)

    done = subprocess.run(
        [sys.executable, "-m", "ellwand_cli", *PLAN], capture_output=True, encoding="utf-8", env=_paths(), check=False
    )

    assert (done.returncode, done.stderr) == (DONE, "")
    assert done.stdout == told.stdout


def _paths() -> dict[str, str]:
    """An environment in which both source roots are found, installed or not."""
    return {"PYTHONPATH": f"{ROOT / 'solver'}:{ROOT / 'cli'}", "PYTHONIOENCODING": "utf-8"}
