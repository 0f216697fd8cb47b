"""What a ``[[size]]`` changes, what it leaves, and what is told of one that cannot be."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.errors import InputError
from ellwand.lengths import unit_length
from ellwand.project.read import parse_project
from ellwand.project.tables import Project

F = Fraction

# Two kinds of block, one of them stitched in a hoop; invented.
DESIGN = """
[project]
name = "Plover"
[quilt]
across = 2
down = 2
measured = [12.25, 12]
[[block]]
name = "plover"
count = 2
finished = [6, 6]
hoop = ["180 mm", "180 mm"]
frame = ["230 mm", "240 mm"]
[[block.piece]]
name = "ground"
fabric = "ink"
margin = "1 in"
[[block.piece]]
name = "flap"
fabric = "brass"
covers = [1, 0.5]
margin = { top = "3/4 in", bottom = "1/4 in" }
[[block]]
name = "plain"
count = 2
finished = [6, 6]
[[block.piece]]
name = "square"
fabric = "brass"
[stabiliser]
fabric = "film"
margin = "3/4 in"
[[border]]
name = "rim"
width = 2
fabric = "ink"
[[border]]
name = "edge"
width = 3
fabric = "ink"
[binding]
fabric = "brass"
[[piece]]
name = "label"
fabric = "brass"
cut = [4, 3]
[fabric.ink]
width = 43
[fabric.brass]
width = 43
[fabric.film]
width = 12
selvage = 0
grain = "none"
[fabric.wide]
width = 20
selvage = 0
grain = "none"
"""
SMALL = '[[size]]\nname = "small"\n'


def sized(keys: str) -> Project:
    """The only size of the design, with `keys`."""
    (size,) = parse_project(DESIGN + SMALL + keys, "plover.toml").sizes
    return size


def refusal(text: str) -> str:
    """What is told of the design with `text` behind it."""
    with pytest.raises(InputError) as caught:
        parse_project(DESIGN + text, "plover.toml")
    return str(caught.value)


def test_a_size_that_says_nothing_is_the_design() -> None:
    """All of a size but its name, its place and the measured centre is as the file has it."""
    whole = parse_project(DESIGN + SMALL, "plover.toml")
    (size,) = whole.sizes

    assert (whole.size, size.size, size.name, size.sizes) == ("", "small", "Plover", ())
    assert size.source == 'plover.toml: size "small"'
    assert (size.blocks, size.borders, size.stabiliser) == (whole.blocks, whole.borders, whole.stabiliser)
    assert (size.pieces, size.binding, size.fabrics) == (whole.pieces, whole.binding, whole.fabrics)


def test_the_file_is_read_as_though_it_had_no_sizes() -> None:
    """Sizes change nothing for commands that look at the design as it stands."""
    whole = parse_project(DESIGN + SMALL + "finished = [5, 5]\n", "plover.toml")
    bare = parse_project(DESIGN, "plover.toml")

    assert (whole.blocks, whole.setting, whole.borders) == (bare.blocks, bare.setting, bare.borders)


def test_hoop_and_frame_are_of_the_blocks_that_are_stitched() -> None:
    """`finished` is every block's; hoop and frame go to those alone that have a hoop in the file."""
    size = sized('finished = [5, 5]\nhoop = ["130 mm", "180 mm"]\nframe = ["170 mm", "230 mm"]\n')
    plover, plain = size.blocks

    assert plover.finished == plain.finished == (F(5), F(5))
    assert plover.hoop == (130 * unit_length("mm"), 180 * unit_length("mm"))
    assert (plain.hoop, plain.frame) == (None, None)


def test_what_is_given_by_name_changes_that_alone() -> None:
    """A border, a piece of a block and a loose piece keep every key that is not given."""
    size = sized(
        'border = [{ name = "edge", width = 4 }]\npiece = [{ name = "label", count = 2 }]\n'
        'block = [{ name = "plover", piece = [{ name = "flap", covers = [1, 0.25] }] }]\n'
    )
    ground, flap = size.blocks[0].pieces

    assert [(border.name, border.width, border.fabric) for border in size.borders] == [
        ("rim", F(2), "ink"),
        ("edge", F(4), "ink"),
    ]
    assert [(piece.cut, piece.count) for piece in size.pieces] == [((F(4), F(3)), 2)]
    assert (ground.covers, flap.covers, flap.margins.top) == ((F(1), F(1)), (F(1), F(1, 4)), F(3, 4))


def test_a_block_of_its_own_comes_before_the_size() -> None:
    """What a size says of one block holds against what it says of all."""
    size = sized(
        'hoop = ["200 mm", "200 mm"]\nframe = ["250 mm", "260 mm"]\n'
        'block = [{ name = "plover", frame = ["240 mm", "250 mm"] }]\n'
    )

    assert size.blocks[0].frame == (240 * unit_length("mm"), 250 * unit_length("mm"))


def test_a_table_changes_key_by_key() -> None:
    """A table that stands once keeps what the size does not name; one that the file has not is new."""
    size = sized(
        'quilt = { across = 3 }\nstabiliser = { fabric = "wide" }\nsleeve = { fabric = "ink" }\n'
        'block = [{ name = "plain", count = 4 }]\n'
    )

    assert size.setting is not None
    assert size.stabiliser is not None
    assert (size.setting.across, size.setting.down) == (3, 2)
    assert (size.stabiliser.fabric, size.stabiliser.margin) == ("wide", F(3, 4))
    assert size.sleeve is not None


def test_tables_in_brackets_say_the_same() -> None:
    """``[[size.border]]`` is another way to write the list."""
    assert sized('[[size.border]]\nname = "edge"\nwidth = 4\n') == sized('border = [{ name = "edge", width = 4 }]\n')


def test_the_centre_as_it_was_measured_is_of_one_quilt() -> None:
    """A size leaves the file's `measured` out, and may have its own."""
    plain, own = sized(""), sized("quilt = { measured = [12, 12] }\n")

    assert plain.setting is not None
    assert own.setting is not None
    assert (plain.setting.measured, own.setting.measured) == (None, (F(12), F(12)))


REFUSED = {
    "no name": ("[[size]]\n", 'size 1: "name" is missing. Write name = "a name".'),
    "one name twice": (
        SMALL + SMALL,
        'size "small": name: another size has this name. Give it another.',
    ),
    "too many": (
        "".join(f'[[size]]\nname = "{number}"\n' for number in range(101)),
        "101 sizes are too many. At most 100.",
    ),
    "an unknown key": (
        SMALL + "finsihed = [5, 5]\n",
        'size "small": there is no "finsihed" here. Did you mean "finished"?',
    ),
    "a border that is not there": (
        SMALL + 'border = [{ name = "egde", width = 4 }]\n',
        'size "small": border "egde": name: the file has no border "egde". Did you mean "edge"?',
    ),
    "a piece that is not there": (
        SMALL + 'block = [{ name = "plover", piece = [{ name = "wing" }] }]\n',
        'size "small": block "plover": piece "wing": name: the file has no piece "wing". Known here: ground, flap.',
    ),
    "a border changed twice": (
        SMALL + 'border = [{ name = "edge", width = 4 }, { name = "edge", cut = "best" }]\n',
        'size "small": border "edge": name: this border is changed twice. Put both in one table.',
    ),
    "a list that is none": (
        SMALL + "border = 3\n",
        'size "small": border: 3 cannot be used here. Write [[border]].',
    ),
    "a broken width": (
        SMALL + 'border = [{ name = "edge", width = 0 }]\n',
        'size "small": border "edge": width: 0 is too short. It must be more than 0.',
    ),
    "counts that do not fill": (
        SMALL + "quilt = { across = 3 }\n",
        'size "small": quilt: the setting of 3 × 2 takes 6 blocks, and the counts make 4. '
        "Change count in [[block]], or across and down.",
    ),
    "a hoop without its frame": (
        SMALL + 'hoop = ["200 mm", "200 mm"]\n',
        'size "small": hoop: "frame" is missing: block "plover" has that of another hoop. '
        'Write the outside of this hoop: frame = ["260 mm", "260 mm"].',
    ),
    "a block larger than its field": (
        SMALL + 'hoop = ["130 mm", "180 mm"]\nframe = ["170 mm", "230 mm"]\n',
        'size "small": block "plover": hoop: the stitched block, 6 × 6 in, is larger than this field, 130 × 180 mm. '
        "Choose a larger hoop, or a block of at most 5 1/8 × 5 1/8 in finished.",
    ),
    "a sheet wider than its roll": (
        SMALL + 'hoop = ["280 mm", "280 mm"]\nframe = ["330 mm", "340 mm"]\n',
        'size "small": stabiliser: a sheet of 14 1/2 × 15 in is wider than the roll can be used, 12 in. '
        "Use a wider roll, a smaller margin or a smaller frame, or give an overlap, and sheets are joined.",
    ),
}


@pytest.mark.parametrize(("text", "sentence"), REFUSED.values(), ids=REFUSED.keys())
def test_a_broken_size_gets_its_sentence(text: str, sentence: str) -> None:
    """What is wrong is told with the size, its table and what would be right."""
    assert refusal(text) == f"plover.toml: {sentence}"


def test_an_overlap_lets_sheets_be_joined_in_that_size_alone() -> None:
    """A sheet wider than its roll is no error where the size gives the overlap."""
    size = sized('hoop = ["280 mm", "280 mm"]\nframe = ["330 mm", "340 mm"]\nstabiliser = { overlap = "1 in" }\n')

    assert size.stabiliser is not None
    assert size.stabiliser.overlap == 1


def test_h1_a_hoops_name_is_never_its_size() -> None:
    """A block of 4 in does not go into a hoop sold as 4 × 4, whose field is 100 × 100 mm; one of 3 7/8 in does."""
    # common practice, no source (H1)
    hoop = 'hoop = ["100 mm", "100 mm"]\nframe = ["140 mm", "150 mm"]\n'

    assert "is larger than this field, 100 × 100 mm" in refusal(f"{SMALL}{hoop}finished = [4, 4]\n")
    assert sized(f'{hoop}finished = ["3 7/8 in", "3 7/8 in"]\n').blocks[0].stitched == (F(31, 8), F(31, 8))


def test_a_finished_size_needs_a_block() -> None:
    """Of loose pieces alone nothing is finished."""
    text = '[project]\nname = "n"\n[[piece]]\nname = "p"\nfabric = "f"\ncut = [3, 3]\n[fabric.f]\nwidth = 43\n'

    with pytest.raises(InputError) as caught:
        parse_project(f"{text}{SMALL}finished = [5, 5]\n", "n.toml")

    assert str(caught.value) == 'n.toml: size "small": finished: the file has no block. Leave it out.'


def test_a_hoop_needs_a_block_that_is_stitched() -> None:
    """A hoop in a design of pieced blocks is told to be of no use."""
    text = DESIGN.replace('hoop = ["180 mm", "180 mm"]\nframe = ["230 mm", "240 mm"]\n', "")
    text = text.replace('[stabiliser]\nfabric = "film"\nmargin = "3/4 in"\n', "")

    with pytest.raises(InputError) as caught:
        parse_project(f'{text}{SMALL}hoop = ["200 mm", "200 mm"]\n', "plover.toml")

    assert str(caught.value) == (
        'plover.toml: size "small": hoop: no block of the file is stitched in a hoop. '
        "Give hoop and frame to the block that is stitched, in its [[block]]."
    )
