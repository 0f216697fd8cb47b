"""Files that are no project at all, or that would take a careless reader down."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from ellwand.errors import InputError
from ellwand.project.read import parse_project, read_project

_POCKET = (
    '[project]\nname = "Bag"\n[[piece]]\nname = "pocket"\nfabric = "oat"\ncut = [{}, 1]\n[fabric.oat]\nwidth = 43\n'
)
_NO_LENGTH = 'Write a length such as "2 1/2 in", or a plain number of inches.'

TEXTS = {
    "no TOML": (
        b"name = \n",
        "quilt.toml: line 1: cannot read 'name ='. Write a value behind it, or put a # in front: #name =.",
    ),
    "a table that does not end": (
        b"[project\n",
        "quilt.toml: line 1: cannot read '[project'. Brackets come in pairs: [project].",
    ),
    "a text that does not end": (
        b'[project]\nname = "Kite',
        'quilt.toml: line 2: cannot read \'name = "Kite\'. A closing quote is missing: name = "Kite".',
    ),
    "a key twice": (
        b'[project]\nname = "a"\nname = "b"\n',
        "quilt.toml: line 3: 'name = \"b\"' says again what stands further up. Take one of the two out.",
    ),
    "a picture": (
        b"\x89PNG\r\n\x1a\n",
        'quilt.toml: line 1: is not UTF-8 text. Save the file with the encoding "UTF-8".',
    ),
    "Latin letters": (
        "# fine\n# Stoffbr\u00fccke".encode("latin-1"),
        'quilt.toml: line 2: is not UTF-8 text. Save the file with the encoding "UTF-8".',
    ),
    "a mark in front": (
        b"\xef\xbb\xbf[project]\n",
        "quilt.toml: starts with a byte order mark. Save it as UTF-8 without a mark (without BOM).",
    ),
    "two-byte letters": (
        "[project]".encode("utf-16"),
        'quilt.toml: line 1: is not UTF-8 text. Save the file with the encoding "UTF-8".',
    ),
    "a file of zeros": (
        b"\0" * 100,
        f"quilt.toml: line 1: cannot read '{'�' * 80}…'. "
        "A line is one table in brackets, one key = value, or a comment that starts with #.",
    ),
    "far too large": (b"#" * 1_000_001, "quilt.toml: is larger than 1 MB. A project file is a page or two of text."),
    "deep lists": (b"a = " + b"[" * 100_000, "quilt.toml: has lists or tables nested too deeply."),
    "deep tables": (b"a = " + b"{a=" * 100_000, "quilt.toml: has lists or tables nested too deeply."),
    "a whole number of 5000 digits": (
        b"a = " + b"9" * 5000,
        "quilt.toml: has a whole number with thousands of digits. Write a sensible number.",
    ),
}

NUMBERS = {
    "1e3000000": f"1e3000000 cannot be used here. {_NO_LENGTH}",
    "1e-3000000": f"1e-3000000 cannot be used here. {_NO_LENGTH}",
    "inf": f"inf cannot be used here. {_NO_LENGTH}",
    "-inf": f"-inf cannot be used here. {_NO_LENGTH}",
    "nan": f"nan cannot be used here. {_NO_LENGTH}",
    f"0.{'3' * 5000}": f"0.3333333333… cannot be used here. {_NO_LENGTH}",
    "9" * 4000: "a number of more than 12 digits is too long. A length is at most 10000 in.",
    f"0x{'f' * 50_000}": "a number of more than 12 digits is too long. A length is at most 10000 in.",
    "1e99": "a number of more than 12 digits is too long. A length is at most 10000 in.",
    "-1e-99": "-1e-99 is too short. It must be more than 0.",
    "1979-05-27": f"a date cannot be used here. {_NO_LENGTH}",
    "07:32:00": f"a time of day cannot be used here. {_NO_LENGTH}",
    '"1/0 in"': 'cannot read "1/0 in" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    '"1e9 in"': 'cannot read "1e9 in" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    '"2 in\\u001b[31m"': 'cannot read "2 in�[31m" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    '""': 'cannot read "" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
}


@pytest.mark.parametrize(("data", "sentence"), TEXTS.values(), ids=TEXTS.keys())
def test_what_is_no_project_file_gets_one_sentence(tmp_path: Path, data: bytes, sentence: str) -> None:
    """Tests that a file that cannot be read as TOML is named, with the line where there is one."""
    path = tmp_path / "quilt.toml"
    path.write_bytes(data)

    with pytest.raises(InputError) as caught:
        read_project(path)

    assert str(caught.value) == sentence


@pytest.mark.parametrize(("number", "sentence"), NUMBERS.items(), ids=[number[:12] for number in NUMBERS])
def test_a_number_without_sense_is_named_with_its_key(number: str, sentence: str) -> None:
    """Tests that huge, endless and impossible numbers are refused before anything is computed with them."""
    with pytest.raises(InputError) as caught:
        parse_project(_POCKET.replace("{}", number), "bag.toml")

    assert str(caught.value) == f'bag.toml: piece "pocket": cut: {sentence}'


def test_long_exact_decimals_are_kept() -> None:
    """Tests that a decimal number is read as written, not as the nearest binary one."""
    project = parse_project(_POCKET.replace("{}", "0.1000000000000000000001"), "bag.toml")

    assert project.pieces[0].cut[0] * 10**22 == 10**21 + 1


def test_windows_line_ends_are_read() -> None:
    """Tests that a file saved with carriage returns reads like any other."""
    text = _POCKET.replace("{}", "2").replace("\n", "\r\n").encode()

    assert parse_project(text, "bag.toml").pieces[0].cut == (Fraction(2), Fraction(1))


def test_a_missing_file_is_told_with_the_way_to_a_new_one(tmp_path: Path) -> None:
    """Tests that a wrong file name does not end in a traceback."""
    path = tmp_path / "quilt.toml"

    with pytest.raises(InputError) as caught:
        read_project(path)

    assert str(caught.value) == f'{path}: there is no such file. "ellwand new {path}" writes a starter.'


def test_a_folder_is_told_apart_from_a_file(tmp_path: Path) -> None:
    """Tests that naming a folder is answered as such."""
    with pytest.raises(InputError) as caught:
        read_project(tmp_path)

    assert str(caught.value) == f"{tmp_path}: is a folder. Name a project file in it."


@pytest.mark.parametrize("name", ["quilt\0.toml", "x" * 5000])
def test_impossible_file_names_get_a_sentence(tmp_path: Path, name: str) -> None:
    """Tests that names that no file can have are an input error like any other."""
    with pytest.raises(InputError, match="cannot be read"):
        read_project(tmp_path / name)
