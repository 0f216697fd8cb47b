"""Mixes in project files: what is read, and the sentence for each slip."""

from __future__ import annotations

import pytest

from ellwand.errors import InputError
from ellwand.project.read import parse_project
from ellwand.project.supposing import suppose
from ellwand.project.tables import Way

FILE = """
[project]
name = "Kite"
[[piece]]
name = "pocket"
fabric = "dark"
cut = [8, 11]
[fabric.dark]
any_of = ["ink", "navy"]
[fabric.ink]
width = 43
[fabric.navy]
width = 45
way = "one-way"
[fabric.wool]
width = 60
grain = "none"
"""


def test_a_mix_stands_as_its_widest_fabric() -> None:
    """Until it is settled which gives what, a piece of a mix has room on the widest, and may turn if it may on one."""
    mix = parse_project(FILE, "kite.toml").fabrics["dark"]

    assert mix.any_of == ("ink", "navy")
    assert mix.width == 45
    assert mix.way is Way.ANY
    assert not mix.whole_blocks


HINT = 'Write at least two fabrics of the file: any_of = ["ink", "navy"].'
SLIPS = [
    ('any_of = ["ink"]', f"any_of: one fabric alone is no mix. {HINT}"),
    ('any_of = "ink"', f'any_of: "ink" is no list. {HINT}'),
    ("any_of = []", f"any_of: it names no fabric. {HINT}"),
    ('any_of = ["ink", "nawy"]', 'any_of: there is no fabric "nawy". Did you mean "navy"?'),
    ('any_of = ["ink", 3]', 'any_of: 3 is no text. Write text in quotes: "a name".'),
    ('any_of = ["ink", "dark"]', 'any_of: there is no fabric "dark". Known here: ink, navy, wool.'),
    ('any_of = ["ink", "navy", "ink"]', 'any_of: "ink" stands there twice. Name each once.'),
    ('any_of = ["ink", "wool"]', "any_of: some of these have a grain, and some have none. Mix like with like."),
    (
        'any_of = ["ink", "navy"]\nwidth = 43',
        'width: "any_of" makes this a mix of other fabrics. A mix has no cloth of its own: say it of the fabrics that '
        "it names.",
    ),
    (
        'any_of = ["ink", "navy"]\nwhole_blocks = 1',
        "whole_blocks: 1 cannot be used here. Write true or false, without quotes.",
    ),
]


@pytest.mark.parametrize(("line", "sentence"), SLIPS)
def test_slips_in_a_mix(line: str, sentence: str) -> None:
    """Each slip is told with its place and what would be right."""
    with pytest.raises(InputError) as caught:
        parse_project(FILE.replace('any_of = ["ink", "navy"]', line), "kite.toml")

    assert str(caught.value) == f'kite.toml: fabric "dark": {sentence}'


def test_whole_blocks_is_for_mixes() -> None:
    """A fabric of its own has no use for it."""
    with pytest.raises(InputError) as caught:
        parse_project(FILE.replace("width = 43", "width = 43\nwhole_blocks = true"), "kite.toml")

    assert str(caught.value) == (
        'kite.toml: fabric "ink": whole_blocks: only a mix has this. Add any_of = ["ink", "navy"], or leave it out.'
    )


def test_a_piece_may_not_lie_sideways_on_a_print_of_the_mix() -> None:
    """A grain that one of the fabrics does not allow names that fabric."""
    with pytest.raises(InputError) as caught:
        parse_project(FILE.replace("cut = [8, 11]", 'cut = [8, 11]\ngrain = "either"'), "kite.toml")

    assert str(caught.value) == (
        'kite.toml: piece "pocket": grain: it would let the piece lie sideways on "navy" of "dark", which is one-way '
        "cloth. Leave it out, and the piece is cut as it hangs there."
    )


def test_a_piece_of_a_mix_matches_nothing() -> None:
    """A spot of the print is a spot of one print."""
    with pytest.raises(InputError) as caught:
        parse_project(FILE.replace("cut = [8, 11]", "cut = [8, 11]\nphase = [1, 1]"), "kite.toml")

    assert str(caught.value) == (
        'kite.toml: piece "pocket": phase: "dark" is a mix, and a match is of one print. Name one fabric.'
    )


def test_nobody_supposes_cloth_of_a_mix() -> None:
    """Cloth is of a fabric; of which, the question says."""
    with pytest.raises(InputError) as caught:
        suppose(parse_project(FILE, "kite.toml"), ["dark = 2 yd"], "--what-if")

    assert str(caught.value) == '--what-if: "dark" is a mix, and has no cloth of its own. Suppose cloth of ink or navy.'
