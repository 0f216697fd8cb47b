"""What a user reads when something is wrong: one sentence on standard error, and an exit code."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

Run = Callable[..., Result]

INPUT, IMPOSSIBLE, STOPPED = 2, 1, 130

# what is replaced in the quilt, by what, and the sentence
BROKEN = {
    "a length that is none": (
        "width = 2\n",
        'width = "2 in 1/2"\n',
        'border "rim": width: cannot read "2 in 1/2" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    ),
    "no width": ("width = 2\n", "width = 0\n", 'border "rim": width: 0 is too short. It must be more than 0.'),
    "a number out of all proportion": (
        "width = 2\n",
        "width = 1e3000000\n",
        'border "rim": width: 1e3000000 cannot be used here. '
        'Write a length such as "2 1/2 in", or a plain number of inches.',
    ),
    "a misspelt key": (
        "finished = [6, 6]",
        "finsihed = [6, 6]",
        'block "tail": there is no "finsihed" here. Did you mean "finished"?',
    ),
    "a misspelt table": ("[backing]", "[baking]", 'there is no "baking" here. Did you mean "backing"?'),
    "a fabric without a table": (
        'fabric = "brass"',
        'fabric = "bras"',
        'binding: fabric: there is no fabric "bras". Did you mean "brass"?',
    ),
    "counts that do not fill the setting": (
        'name = "tail"\n',
        'name = "tail"\ncount = 3\n',
        "quilt: the setting of 2 × 2 takes 4 blocks, and the counts make 3. "
        "Change count in [[block]], or across and down.",
    ),
    "a block larger than its hoop": (
        '["180 mm", "180 mm"]',
        '["130 mm", "180 mm"]',
        'block "tail": hoop: the stitched block, 6 × 6 in, is larger than this field, 130 × 180 mm. '
        "Choose a larger hoop, or a block of at most 5 1/8 × 5 1/8 in finished.",
    ),
    "two block seams": (
        "[stabiliser]",
        '[[block]]\nname = "kite"\nfinished = [6, 6]\nseam = 0.5\n[stabiliser]',
        'block "kite": seam: two block seams, 1/2 in here and 1/4 in in block "tail". A quilt has one.',
    ),
    "a margin that stops short": (
        'fabric = "ink"\n[stab',
        'fabric = "ink"\nmargin = "1/8 in"\n[stab',
        'block "tail": piece "ground": margin: 1/8 in does not reach the seam: '
        "the block is trimmed 1/4 in outside its stitched edge. Give it 1/4 in or more.",
    ),
    "a sheet wider than its roll": (
        "width = 15\n",
        "width = 9\n",
        "stabiliser: a sheet of 9 7/8 × 10 3/4 in is wider than the roll can be used, 9 in. "
        "Use a wider roll, a smaller margin or a smaller frame, or give an overlap, and sheets are joined.",
    ),
    "no pair": (
        "cut = [8.5, 11]",
        "cut = 8.5",
        'piece "pocket": cut: 8.5 is no pair. Write two values in brackets, across first, then down: [8, 8].',
    ),
    "half a piece": (
        "count = 2\n",
        "count = 2.5\n",
        'piece "pocket": count: 2.5 cannot be used here. Write a whole number from 1 to 1000000.',
    ),
    "too many pieces": (
        "count = 2\n",
        "count = 1000000\n",
        "these are 1000012 pieces in all. At most 1000000 can be worked out.",
    ),
    "one name for two things": (
        'name = "pocket"',
        'name = "rim"',
        'piece "rim": something else has this name. Give it another.',
    ),
    "a name that turns the line round": (
        'name = "rim"',
        'name = "r\\u202eim"',
        'border 1: name: "r�im" has signs in it that cannot be seen. Use plain letters.',
    ),
    "a print that cannot lie sideways": (
        "[fabric.oat]\nwidth = 43",
        '[fabric.oat]\nwidth = 43\nway = "one-way"\n[[piece]]\nname = "flap"\nfabric = "oat"\ncut = [3, 4]\n'
        'grain = "crosswise"',
        'piece "flap": grain: "crosswise" would let the piece lie sideways on "oat", which is one-way cloth. '
        "Leave it out, and the piece is cut as it hangs.",
    ),
    "what this version does not work out": (
        "[project]\n",
        "[project]\nstages = 4\n",
        'project: stages: 4 is not worked out by this version. Use 3 or "any".',
    ),
    "a binding of which nothing shows": (
        'fabric = "brass"\n',
        'fabric = "brass"\nstrip = "1/2 in"\n',
        "binding: strip: two seams take 1/2 in of it, and nothing shows. Write a wider strip.",
    ),
    "nothing between the selvages": (
        "width = 43\nprice",
        "width = 1\nprice",
        'fabric "ink": width: 1 in leaves nothing between selvages of 1/2 in.',
    ),
    "a share without its sign": (
        "price = 10",
        "wash = true\nshrinks = [3, 2]",
        'fabric "ink": shrinks: 3 is no percentage. Write it in quotes with its sign: "3 %".',
    ),
    "a price in words": (
        "price = 10",
        'price = "ten"',
        'fabric "ink": price: "ten" cannot be used here. Write a plain number from 0 to 1000000.',
    ),
    "no TOML": (
        "[backing]",
        "[backing",
        "line 23: cannot read '[backing'. Brackets come in pairs: [backing].",
    ),
    "no project": (
        '[project]\nname = "Kite"\n',
        "",
        'there is no [project]. Add it with a name: name = "My quilt".',
    ),
}

# what is replaced in the quilt, by what, and where, what does not go on which cloth, how much is missing
TOO_LARGE = {
    "a piece wider than its cloth": (
        "cut = [8.5, 11]",
        "cut = [44, 50]",
        "pocket: is cut 44 in wide, and oat can be used for 42 in. 2 in missing. "
        "Take a wider cloth for it, or check the width of oat.",
    ),
    "a piece that its grain holds crosswise": (
        "cut = [8.5, 11]",
        'cut = [45, 11]\ngrain = "lengthwise"',
        "pocket: is cut 45 in wide, and oat can be used for 42 in. 3 in missing. "
        "Take a wider cloth for it, or check the width of oat.",
    ),
    "a border that needs more joins than it may have": (
        "width = 2\n",
        'width = 2\ncut = "crosswise"\njoins = 1\nextra = 70\n',
        "rim/top: is 86 in long, and ink reaches 81 1/2 in with joins = 1. 4 1/2 in missing. "
        'Allow joins = 2, write cut = "best", or take a wider cloth.',
    ),
    "a border wider than its cloth": (
        "width = 2\n",
        "width = 50\n",
        "rim/top: is cut 50 1/2 in wide, and ink can be used for 42 in. 8 1/2 in missing. "
        "Take a wider cloth for it, or check the width of ink.",
    ),
    "a binding whose joins take all": (
        'fabric = "brass"\n',
        'fabric = "brass"\nstrip = 43\n',
        "binding: a join takes 43 in, and brass can be used for 42 in. 38 in missing. "
        'Try join = "straight", or a wider cloth.',
    ),
    "a backing on a ribbon": (
        "[fabric.oat]\nwidth = 43",
        "[fabric.oat]\nwidth = 1.25",
        "backing: a seam takes 1/2 in, and oat can be used for 1/4 in. 24 1/4 in missing. "
        "Take a wider cloth, or a smaller seam.",
    ),
}

# the bytes of a file that is no project, and the sentence
FILES = {
    "nothing": (b"", 'there is no [project]. Add it with a name: name = "My quilt".'),
    "a picture": (b"\x89PNG\r\n\x1a\n", 'line 1: is not UTF-8 text. Save the file with the encoding "UTF-8".'),
    "a mark at its start": (
        b"\xef\xbb\xbf[project]",
        "starts with a byte order mark. Save it as UTF-8 without a mark (without BOM).",
    ),
    "a film": (b"#" * 1_000_001, "is larger than 1 MB. A project file is a page or two of text."),
    "thousands of digits": (
        b"[project]\nname = " + b"9" * 5000,
        "has a whole number with thousands of digits. Write a sensible number.",
    ),
    "brackets in brackets": (b"a = " + b"[" * 5000, "has lists or tables nested too deeply."),
}


def _change(old: str, new: str) -> None:
    path = Path("quilt.toml")
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")


def _sentence(where: str, text: str) -> str:
    """The whole of standard error; a line number follows the file's name like a table's."""
    return f"Error: {where}: {text}\n"


@pytest.mark.parametrize(("old", "new", "sentence"), BROKEN.values(), ids=BROKEN)
def test_a_broken_project_gets_one_sentence(run: Run, old: str, new: str, sentence: str) -> None:
    """Each thing that is wrong in a file is told with its place and what would be right, and nothing is planned."""
    _change(old, new)

    result = run("plan", "quilt.toml", "--effort", "quick")

    assert (result.exit_code, result.stdout, result.stderr) == (INPUT, "", _sentence("quilt.toml", sentence))


@pytest.mark.parametrize(("content", "sentence"), FILES.values(), ids=FILES)
def test_a_file_that_is_no_project_gets_one_sentence(run: Run, content: bytes, sentence: str) -> None:
    """Whatever bytes stand in the file, there is a sentence."""
    Path("quilt.toml").write_bytes(content)

    result = run("plan", "quilt.toml", "--effort", "quick")

    assert (result.exit_code, result.stdout, result.stderr) == (INPUT, "", _sentence("quilt.toml", sentence))


@pytest.mark.parametrize(("old", "new", "sentence"), TOO_LARGE.values(), ids=TOO_LARGE)
def test_an_impossible_job_is_explained(run: Run, old: str, new: str, sentence: str) -> None:
    """What does not go on its cloth is told with piece, cloth and missing length, and ends with 1."""
    _change(old, new)

    result = run("plan", "quilt.toml", "--effort", "quick", "--out", "plan")

    assert (result.exit_code, result.stdout, result.stderr) == (IMPOSSIBLE, "", _sentence("quilt.toml", sentence))
    assert not Path("plan").exists()


@pytest.mark.parametrize("command", ["pieces", "plan", "compare"])
def test_every_command_tells_it_alike(run: Run, command: str) -> None:
    """The commands that read a project share its complaints."""
    _change("finished = [6, 6]", "finished = [6]")
    options = ("--border", "rim", "--from", "1", "--to", "2", "--step", "1") if command == "compare" else ()

    result = run(command, "quilt.toml", *options)

    assert result.exit_code == INPUT
    assert result.stderr == _sentence(
        'quilt.toml: block "tail": finished',
        "a list is no pair. Write two values in brackets, across first, then down: [8, 8].",
    )


@pytest.mark.parametrize(
    ("old", "new", "exit_code"),
    [("width = 2\n", "width = 0\n", INPUT), ("cut = [8.5, 11]", "cut = [44, 50]", IMPOSSIBLE)],
    ids=["input", "impossible"],
)
def test_json_tells_the_same_in_parts(run: Run, old: str, new: str, exit_code: int) -> None:
    """With --json the sentence stays on standard error, and its parts are a document on standard output."""
    _change(old, new)

    result = run("plan", "quilt.toml", "--effort", "quick", "--json")
    document = json.loads(result.stdout)

    assert result.exit_code == exit_code
    assert list(document) == ["format", "error"]
    assert document["format"] == 1
    assert list(document["error"]) == ["where", "found", "wanted", "hint"]
    place, *parts = [part for part in document["error"].values() if part]
    assert result.stderr == f"Error: {place}: {'. '.join(parts)}.\n"


def test_a_missing_file_is_told_with_what_to_type(run: Run) -> None:
    """A file that is not there is no crash but a hint at `new`."""
    result = run("plan", "quill.toml")

    assert result.exit_code == INPUT
    assert result.stderr == _sentence("quill.toml", 'there is no such file. "ellwand new quill.toml" writes a starter.')


def test_a_folder_is_no_project(run: Run) -> None:
    """A folder in place of a file is told as such."""
    result = run("plan", ".")

    assert (result.exit_code, result.stderr) == (INPUT, _sentence(".", "is a folder. Name a project file in it."))


@pytest.mark.parametrize(
    ("words", "found"),
    [
        (("plan", "quilt.toml", "--effort", "hard"), "Invalid value for '--effort'"),
        (("plan", "quilt.toml", "--efort", "quick"), "No such option"),
        (("plan",), "Missing argument 'FILE'"),
        (("compare", "quilt.toml", "--border", "rim"), "Missing option '--from'"),
    ],
)
def test_a_wrong_command_line_is_a_document_too(run: Run, words: tuple[str, ...], found: str) -> None:
    """With --json a command line that cannot be read ends with 2 and a document, like every other error."""
    bare, asked = run(*words), run(*words, "--json")

    assert (bare.exit_code, bare.stdout) == (INPUT, "")
    assert bare.stderr.startswith(f"Usage: ellwand {words[0]} ")
    assert (asked.exit_code, asked.stderr) == (INPUT, bare.stderr)
    error = json.loads(asked.stdout)["error"]
    assert error["where"] == f"ellwand {words[0]}"
    assert error["found"].startswith(found)


def test_a_stop_is_told_and_has_its_own_exit_code(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C during the work ends with 130 and no traceback."""

    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("ellwand.plan.make_plan", stop)

    result = run("plan", "quilt.toml")

    assert (result.exit_code, result.stdout, result.stderr) == (STOPPED, "", "Stopped.\n")


def test_a_bug_is_not_dressed_up_as_an_error(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is no fault of the user keeps its traceback."""

    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("ellwand.plan.make_plan", fail)

    with pytest.raises(ZeroDivisionError):
        run("plan", "quilt.toml")
