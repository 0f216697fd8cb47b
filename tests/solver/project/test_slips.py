"""What people slip into when they write TOML by hand: the line, what stands there, and what would be right."""

from __future__ import annotations

import pytest

from ellwand.errors import InputError
from ellwand.project.toml import load

ANY_LINE = "A line is one table in brackets, one key = value, or a comment that starts with #."

# what stands on a line, and what is said of it after "quilt.toml: line N: cannot read '…'. "
SLIPS = {
    "width = 9 1/2": 'Put lengths in quotes: width = "9 1/2".',
    "width = 43 in": 'Put lengths in quotes: width = "43 in".',
    "width = 2½": 'Put lengths in quotes: width = "2½".',
    'width = 9"': 'Put lengths in quotes: width = "9 in".',
    "finished = [8 1/2, 8]": 'Put lengths in quotes: finished = ["8 1/2", 8].',
    "on_hand = [ { width = 21 in, length = 18 in } ]": (
        'Put lengths in quotes: on_hand = [ { width = "21 in", length = "18 in" } ].'
    ),
    "width = 9,5": "Write a decimal point: width = 9.5.",
    "price = 12,50": "Write a decimal point: price = 12.50.",
    "width = 9,5 cm": 'Put lengths in quotes: width = "9,5 cm".',
    "shrinks = [3 %, 2 %]": 'Put percentages in quotes: shrinks = ["3 %", "2 %"].',
    'width = "9 1/2""': 'Write inches as in: width = "9 1/2 in".',
    "name = “Kite”": 'Use straight quotes: name = "Kite".',
    "name = „Kite“": 'Use straight quotes: name = "Kite".',
    "name = ‘Kite’": "Use straight quotes: name = 'Kite'.",
    "wash = False": "Write true and false in small letters: wash = false.",
    "wash = TRUE": "Write true and false in small letters: wash = true.",
    "wash = yes": "Write true and false in small letters: wash = true.",
    "name = Kingfisher tote": 'Put text in quotes: name = "Kingfisher tote".',
    "name = 'Anna's tote'": 'Put text in quotes: name = "Anna\'s tote".',
    'name = Kite"': 'Put text in quotes: name = "Kite".',
    'name = "Kite': 'A closing quote is missing: name = "Kite".',
    "name = 'Kite": "A closing quote is missing: name = 'Kite'.",
    'shrinks = ["3 %", "2 %]': 'A closing quote is missing: shrinks = ["3 %", "2 %"].',
    "finished = 8 x 8 1/2": 'Write a pair in square brackets: finished = [8, "8 1/2"].',
    "finished = (8, 8)": "Write a pair in square brackets: finished = [8, 8].",
    "[fabric.my blue]": 'Leave spaces and accents out of a name, or put it in quotes: [fabric."my blue"].',
    "[[fabric.grün.on_hand]]": (
        'Leave spaces and accents out of a name, or put it in quotes: [[fabric."grün".on_hand]].'
    ),
    "[backing": "Brackets come in pairs: [backing].",
    "[[block]": "Brackets come in pairs: [[block]].",
    "[block]]": "Brackets come in pairs: [[block]].",
    "finished = [8, 8": "A closing bracket is missing: finished = [8, 8].",
    "margin = { top = 1": "A closing brace is missing: margin = { top = 1 }.",
    'name: "Kite"': 'Write = between a key and its value: name = "Kite".',
    "across 3": "Write = between a key and its value: across = 3.",
    "square up = 1": "A key has no spaces: square_up = 1.",
    "width =": "Write a value behind it, or put a # in front: #width =.",
    "across = 3 down = 4": ANY_LINE,
    "count = 012": ANY_LINE,
    "price = $12.50": ANY_LINE,
    "[fabric.]": ANY_LINE,
    "cut it twice": ANY_LINE,
}


def _sentence(text: str) -> str:
    with pytest.raises(InputError) as caught:
        load(text, "quilt.toml")
    return str(caught.value)


@pytest.mark.parametrize(("line", "advice"), SLIPS.items(), ids=SLIPS)
def test_a_slip_is_told_with_its_line_and_what_is_right(line: str, advice: str) -> None:
    """Tests that a line that cannot be read is shown with its number, and mended."""
    text = f'# mine\n[project] # a "demo"\n{line}\nunit = "in"\n'

    assert _sentence(text) == f"quilt.toml: line 3: cannot read '{line}'. {advice}"


@pytest.mark.parametrize("line", [line for line, advice in SLIPS.items() if advice != ANY_LINE])
def test_what_is_told_can_be_read(line: str) -> None:
    """Tests that each advice, written in place of the line, is TOML."""
    mended = SLIPS[line].partition(": ")[2].removesuffix(".")

    assert isinstance(load(f"[project]\n{mended}\n", "quilt.toml"), dict)


def test_a_comment_behind_the_slip_is_left_out() -> None:
    """Tests that only what cannot be read is told, on a file with the line ends of Windows too."""
    text = '[project]\r\n  width = 9 1/2   # "wide" enough\r\n'

    assert (
        _sentence(text) == "quilt.toml: line 2: cannot read 'width = 9 1/2'. Put lengths in quotes: width = \"9 1/2\"."
    )


def test_the_first_slip_is_told() -> None:
    """Tests that further slips below do not spoil the advice for the first."""
    assert _sentence("wash = False\nwidth = 9 1/2\n") == (
        "quilt.toml: line 1: cannot read 'wash = False'. Write true and false in small letters: wash = false."
    )


def test_a_bracket_left_open_further_up_is_found() -> None:
    """Tests that the line of the bracket is told, not the one at which the reader gives up."""
    text = 'on_hand = [\n  { length = "2 yd" },\n\n# wool\n[fabric.wool]\n'

    assert _sentence(text) == (
        'quilt.toml: line 2: cannot read \'{ length = "2 yd" },\'. A closing bracket is missing: { length = "2 yd" },].'
    )


def test_a_text_that_never_ends_is_told() -> None:
    """Tests that a file that ends within a text of several lines points to where to look."""
    assert _sentence('name = """Kite\nunit = 3\n') == (
        "quilt.toml: line 2: the file ends before a quote or a bracket is closed. Look for it further up."
    )


def test_a_table_twice_is_told() -> None:
    """Tests that what stands twice is shown where it stands the second time."""
    assert _sentence("[project]\n[quilt]\n[project]\n") == (
        "quilt.toml: line 3: '[project]' says again what stands further up. Take one of the two out."
    )


def test_a_very_long_line_is_cut_short() -> None:
    """Tests that a line that nobody wrote by hand is not mended, and told in part."""
    assert _sentence(f"name = {'x' * 500}\n") == (f"quilt.toml: line 1: cannot read 'name = {'x' * 73}…'. {ANY_LINE}")
