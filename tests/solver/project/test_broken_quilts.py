"""Broken settings, sashing, cornerstones, patches, bindings and sleeves, and the exact sentence each gets."""

from __future__ import annotations

import pytest

from ellwand.errors import InputError
from ellwand.lengths import unit_length
from ellwand.project.read import parse_project

STRAIGHT = """
[project]
name = "Reed"
unit = "in"

[quilt]
across = 2
down = 2

[[block]]
name = "heron"
finished = [8, 8]
frame = [9, 12]
[[block.piece]]
name = "ground"
fabric = "ink"
[[block.piece]]
name = "goose"
fabric = "brass"
patch = "geese"
finished = [4, 2]
sky = "ink"

[sashing]
width = 1
fabric = "slate"
cornerstones = "brass"

[stabiliser]
fabric = "film"

[[border]]
name = "inner"
width = 1
fabric = "brass"
[[border]]
name = "outer"
width = 3
fabric = "ink"
corners = "cornerstones"
cornerstones = "brass"

[binding]
fabric = "brass"
grain = "bias"

[sleeve]
fabric = "slate"

[[piece]]
name = "label"
fabric = "slate"
cut = [4, 3]

[fabric.ink]
width = 43
[fabric.brass]
width = 43
[fabric.slate]
width = 43
way = "one-way"
[fabric.film]
width = 20
selvage = 0
grain = "none"
"""

ON_POINT = """
[project]
name = "Reed"
unit = "cm"

[quilt]
across = 2
down = 3
setting = "on point"
triangles = "ink"

[[block]]
name = "heron"
finished = [20, 20]
[[block.piece]]
name = "ground"
fabric = "ink"

[fabric.ink]
width = 110
"""

GOOSE = 'block "heron": piece "goose": '

# what is replaced in STRAIGHT, by what, and the sentence
BROKEN = {
    "unknown setting": (
        "down = 2",
        'down = 2\nsetting = "diagonal"',
        'quilt: setting: "diagonal" cannot be used here. Use "straight" or "on point".',
    ),
    "triangles in a straight setting": (
        "down = 2",
        'down = 2\ntriangles = "ink"',
        'quilt: triangles: a straight setting has none. Leave it out, or write setting = "on point".',
    ),
    "sashing on point": (
        "across = 2\ndown = 2",
        'across = 2\ndown = 2\nsetting = "on point"\ntriangles = "ink"',
        'sashing: it is worked out for straight settings only. Leave it out, or write setting = "straight" in [quilt].',
    ),
    "measured one side only": (
        "down = 2",
        'down = 2\nmeasured = "17 in"',
        'quilt: measured: "17 in" is no pair. Write two values in brackets, across first, then down: [8, 8].',
    ),
    "sashing without a width": (
        "[sashing]\nwidth = 1\n",
        "[sashing]\n",
        'sashing: "width" is missing. Write width = "2 1/2 in".',
    ),
    "sashing of no fabric": (
        '[sashing]\nwidth = 1\nfabric = "slate"\n',
        "[sashing]\nwidth = 1\n",
        'sashing: "fabric" is missing. Write fabric = "a name".',
    ),
    "sashing with a seam of its own": (
        "[sashing]\n",
        '[sashing]\nseam = "1/2 in"\n',
        'sashing: there is no "seam" here. Known here: width, fabric, cornerstones, outside.',
    ),
    "cornerstones are a flag": (
        '[sashing]\nwidth = 1\nfabric = "slate"\ncornerstones = "brass"',
        '[sashing]\nwidth = 1\nfabric = "slate"\ncornerstones = true',
        'sashing: cornerstones: true is no text. Write text in quotes: "a name".',
    ),
    "cornerstones of an unknown fabric": (
        '[sashing]\nwidth = 1\nfabric = "slate"\ncornerstones = "brass"',
        '[sashing]\nwidth = 1\nfabric = "slate"\ncornerstones = "bras"',
        'sashing: cornerstones: there is no fabric "bras". Did you mean "brass"?',
    ),
    "a border's cornerstones without the corners": (
        'corners = "cornerstones"\n',
        "",
        'border "outer": cornerstones: a border with mitred corners has none. '
        'Leave it out, or write corners = "cornerstones".',
    ),
    "cornerstones in butted corners": (
        'corners = "cornerstones"\n',
        'corners = "butted"\n',
        'border "outer": cornerstones: a border with butted corners has none. '
        'Leave it out, or write corners = "cornerstones".',
    ),
    "sewn together with cornerstones": (
        'corners = "cornerstones"\n',
        'corners = "cornerstones"\nsewn_together = true\n',
        'border "outer": sewn_together: borders with cornerstones are sewn on one by one. Make both borders mitred.',
    ),
    "sewn together round cornerstones": (
        'name = "inner"\nwidth = 1\nfabric = "brass"\n',
        'name = "inner"\nwidth = 1\nfabric = "brass"\ncorners = "cornerstones"\n'
        '[[border]]\nname = "middle"\nwidth = 1\nfabric = "ink"\nsewn_together = true\n',
        'border "middle": sewn_together: borders with cornerstones are sewn on one by one. Make both borders mitred.',
    ),
    "binding of an unknown grain": (
        'grain = "bias"',
        'grain = "diagonal"',
        'binding: grain: "diagonal" cannot be used here. Use "crosswise", "lengthwise", "bias" or "any".',
    ),
    "sleeve of no depth": (
        "[sleeve]\n",
        "[sleeve]\ndepth = 0\n",
        "sleeve: depth: 0 is too short. It must be more than 0.",
    ),
    "sleeve of no fabric": (
        '[sleeve]\nfabric = "slate"',
        "[sleeve]",
        'sleeve: "fabric" is missing. Write fabric = "a name".',
    ),
    "overlap of nothing": (
        '[stabiliser]\nfabric = "film"',
        '[stabiliser]\nfabric = "film"\noverlap = 0',
        "stabiliser: overlap: 0 is too short. It must be more than 0.",
    ),
    "sheet wider than its roll, not joined": (
        "frame = [9, 12]",
        "frame = [19, 22]",
        "stabiliser: a sheet of 21 × 24 in is wider than the roll can be used, 20 in. "
        "Use a wider roll, a smaller margin or a smaller frame, or give an overlap, and sheets are joined.",
    ),
    "a patch of unknown shape": (
        'patch = "geese"',
        'patch = "hexagon"',
        f'{GOOSE}patch: "hexagon" cannot be used here. '
        'Use "square", "rectangle", "half-square", "quarter-square" or "geese".',
    ),
    "a patch without its size": (
        "finished = [4, 2]\n",
        "",
        f'{GOOSE}"finished" is missing. Write finished = ["8 in", "8 in"].',
    ),
    "a square that is none": (
        'patch = "geese"\nfinished = [4, 2]\nsky = "ink"\n',
        'patch = "square"\nfinished = [4, 3.5]\n',
        f'{GOOSE}finished: 4 × 3 1/2 in is no square. Write two equal sides, or patch = "rectangle".',
    ),
    "half of a rectangle": (
        'patch = "geese"\nfinished = [4, 2]\nsky = "ink"\n',
        'patch = "half-square"\nfinished = [4, 2]\n',
        f"{GOOSE}finished: 4 × 2 in is no square. Write the square that two of these triangles make.",
    ),
    "quarter of a rectangle": (
        'patch = "geese"\nfinished = [4, 2]\nsky = "ink"\n',
        'patch = "quarter-square"\nfinished = [4, 2]\n',
        f"{GOOSE}finished: 4 × 2 in is no square. Write the square that four of these triangles make.",
    ),
    "geese of another shape": (
        "finished = [4, 2]\n",
        "finished = [2, 4]\n",
        f"{GOOSE}finished: 2 × 4 in is no flying goose. Write a size twice as wide as it is high, such as [4, 2].",
    ),
    "geese larger than their block": (
        "finished = [4, 2]\n",
        "finished = [16, 8]\n",
        f"{GOOSE}finished: 16 × 8 in is larger than its block, 8 × 8 in.",
    ),
    "geese without sky": (
        'sky = "ink"\n',
        "",
        f'{GOOSE}"sky" is missing. It is the fabric of the small triangles beside the goose. Write sky = "a name".',
    ),
    "geese under an unknown sky": (
        'sky = "ink"\n',
        'sky = "inc"\n',
        f'{GOOSE}sky: there is no fabric "inc". Did you mean "ink"?',
    ),
    "sky beside a rectangle": (
        'patch = "geese"',
        'patch = "rectangle"',
        f'{GOOSE}sky: only geese have one. Leave it out, or write patch = "geese".',
    ),
    "geese two at a time": (
        'sky = "ink"\n',
        'sky = "ink"\nyields = 2\n',
        f'{GOOSE}yields: patches of shape "geese" are not cut 2 from one. Write 4 or 1.',
    ),
    "a square of which two are cut": (
        'patch = "geese"\nfinished = [4, 2]\nsky = "ink"\n',
        'patch = "square"\nfinished = [2, 2]\nyields = 2\n',
        f'{GOOSE}yields: patches of shape "square" are not cut 2 from one. Write 1.',
    ),
    "half-squares four at a time": (
        'patch = "geese"\nfinished = [4, 2]\nsky = "ink"\n',
        'patch = "half-square"\nfinished = [2, 2]\nyields = 4\n',
        f'{GOOSE}yields: patches of shape "half-square" are not cut 4 from one. Write 2 or 8.',
    ),
    "quarter-squares two at a time": (
        'patch = "geese"\nfinished = [4, 2]\nsky = "ink"\n',
        'patch = "quarter-square"\nfinished = [2, 2]\nyields = 2\n',
        f'{GOOSE}yields: patches of shape "quarter-square" are not cut 2 from one. Write 4.',
    ),
    "a yield in halves": (
        'sky = "ink"\n',
        'sky = "ink"\nyields = 0.5\n',
        f"{GOOSE}yields: 0.5 cannot be used here. Write a whole number from 1 to 1000000.",
    ),
    "patches turned on one-way cloth": (
        'name = "goose"\nfabric = "brass"\n',
        'name = "goose"\nfabric = "slate"\ngrain = "crosswise"\n',
        f'{GOOSE}grain: "crosswise" would let the piece lie sideways on "slate", which is one-way cloth. '
        "Leave it out, and the piece is cut as it hangs.",
    ),
    "a patch called like a layer": (
        'name = "goose"',
        'name = "ground"',
        'block "heron": piece "ground": something else has this name. Give it another.',
    ),
    "a patch with a slash": (
        'name = "goose"',
        'name = "goo/se"',
        'block "heron": piece "goo/se": a name cannot have a / in it. Write it otherwise.',
    ),
    "a piece called like the sashing": (
        'name = "label"',
        'name = "sash"',
        'piece "sash": something else has this name. Give it another.',
    ),
    "a border called like the cornerstones": (
        'name = "inner"',
        'name = "cornerstone"',
        'border "cornerstone": something else has this name. Give it another.',
    ),
    "a block called like the sleeve": (
        'name = "heron"',
        'name = "sleeve"',
        'block "sleeve": something else has this name. Give it another.',
    ),
    "too many patches": (
        'sky = "ink"\n',
        'sky = "ink"\ncount = 250000\n',
        # 4 grounds, 4 sheets, 250 000 large squares and 1 000 000 of the sky, 4 sashes and 1 cornerstone, 4 + 8 borders
        "these are 1250026 pieces in all. At most 1000000 can be worked out.",
    ),
}

# what is replaced in ON_POINT, by what, and the sentence
BROKEN_ON_POINT = {
    "no triangles": (
        'triangles = "ink"\n',
        "",
        'quilt: "triangles" is missing. Write triangles = "a name".',
    ),
    "triangles of an unknown fabric": (
        'triangles = "ink"',
        'triangles = "inc"',
        'quilt: triangles: there is no fabric "inc". Did you mean "ink"?',
    ),
    "blocks that are no squares": (
        "finished = [20, 20]",
        "finished = [20, 18]",
        'block "heron": finished: 20 × 18 cm is no square. Blocks on point are square.',
    ),
    "counts without the blocks between": (
        'name = "heron"',
        'name = "heron"\ncount = 6',
        "quilt: the setting of 2 × 3 on point takes 8 blocks, and the counts make 6. "
        "Change count in [[block]], or across and down.",
    ),
    "a block called like the triangles": (
        'name = "heron"',
        'name = "triangle"',
        'block "triangle": something else has this name. Give it another.',
    ),
}


@pytest.mark.parametrize("text", [STRAIGHT, ON_POINT])
def test_the_sound_files_are_sound(text: str) -> None:
    """Tests that each sentence below comes from its own change and not from the file that is changed."""
    assert parse_project(text, "reed.toml").name == "Reed"


def _sentence(text: str) -> str:
    with pytest.raises(InputError) as caught:
        parse_project(text, "reed.toml")
    return str(caught.value)


@pytest.mark.parametrize(("old", "new", "sentence"), BROKEN.values(), ids=BROKEN.keys())
def test_a_broken_quilt_gets_its_sentence(old: str, new: str, sentence: str) -> None:
    """Tests that a wrong straight quilt is answered with place, what was found and what to write."""
    assert STRAIGHT.count(old) == 1

    assert _sentence(STRAIGHT.replace(old, new)) == f"reed.toml: {sentence}"


@pytest.mark.parametrize(("old", "new", "sentence"), BROKEN_ON_POINT.values(), ids=BROKEN_ON_POINT.keys())
def test_a_broken_quilt_on_point_gets_its_sentence(old: str, new: str, sentence: str) -> None:
    """Tests that a wrong quilt on point is answered with place, what was found and what to write."""
    assert ON_POINT.count(old) == 1

    assert _sentence(ON_POINT.replace(old, new)) == f"reed.toml: {sentence}"


@pytest.mark.parametrize(
    "key", ["covers = [1, 1]", "size = [4, 2]", "cut = [4, 2]", 'margin = "1 in"', "turned = true"]
)
def test_a_patch_has_no_use_for_the_keys_of_a_layer(key: str) -> None:
    """Tests that whatever sizes or turns a layer is refused beside `patch`."""
    name = key.split(" ")[0]

    assert _sentence(STRAIGHT.replace('patch = "geese"', f'patch = "geese"\n{key}')) == (
        f'reed.toml: {GOOSE}{name}: "patch" says already how the piece is cut. '
        "A patch has its finished size and a seam on every side. Leave it out."
    )


@pytest.mark.parametrize("key", ["finished = [4, 2]", 'seam = "1/4 in"', "yields = 4", 'sky = "ink"'])
def test_a_layer_has_no_use_for_the_keys_of_a_patch(key: str) -> None:
    """Tests that whatever belongs to a patch is refused without `patch`."""
    name = key.split(" ")[0]

    assert _sentence(STRAIGHT.replace('name = "ground"', f'name = "ground"\n{key}')) == (
        f'reed.toml: block "heron": piece "ground": {name}: only a pieced patch has this. '
        'Leave it out, or add a patch, such as patch = "square".'
    )


JOINED = STRAIGHT.replace("frame = [9, 12]", "frame = [19, 22]").replace(
    'fabric = "film"', 'fabric = "film"\noverlap = '
)


@pytest.mark.parametrize("overlap", [20, 21])
def test_an_overlap_must_leave_some_of_the_roll(overlap: int) -> None:
    """Tests that sheets cannot be joined where the overlap takes the roll, of which 20 in can be used."""
    assert _sentence(JOINED.replace("overlap = ", f"overlap = {overlap}")) == (
        f"reed.toml: stabiliser: overlap: {overlap} in leaves nothing of a roll "
        "that can be used for 20 in. Write a smaller overlap."
    )


def test_a_sheet_wider_than_its_roll_may_be_joined() -> None:
    """Tests that an overlap of less than the roll lets a sheet be wider than it: 50 cm are 19.7 in of 20."""
    stabiliser = parse_project(JOINED.replace("overlap = ", 'overlap = "50 cm"'), "reed.toml").stabiliser

    assert stabiliser is not None
    assert stabiliser.overlap == 50 * unit_length("cm")


def test_an_overlap_that_is_not_needed_is_not_checked() -> None:
    """Tests that an overlap as wide as the roll is let pass where every sheet fits in one piece."""
    text = STRAIGHT.replace('fabric = "film"', 'fabric = "film"\noverlap = 20')

    stabiliser = parse_project(text, "reed.toml").stabiliser
    assert stabiliser is not None
    assert stabiliser.overlap == 20


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("[sashing]\nwidth", '[[border]]\nname = "triangle"\nwidth = 1\nfabric = "ink"\n[sashing]\nwidth'),
        ('cornerstones = "brass"\n\n[stab', '[[border]]\nname = "cornerstone"\nwidth = 1\nfabric = "ink"\n\n[stab'),
        ('[sleeve]\nfabric = "slate"\n', '[[border]]\nname = "sleeve"\nwidth = 1\nfabric = "ink"\n'),
    ],
)
def test_names_are_free_where_no_such_part_is(old: str, new: str) -> None:
    """Tests that a border may be called like a part that this quilt does not have."""
    assert STRAIGHT.count(old) == 1

    assert len(parse_project(STRAIGHT.replace(old, new), "reed.toml").borders) == 3


ONLY_PATCHES = """
[project]
name = "Reed"
[quilt]
[[block]]
name = "heron"
finished = [8, 8]
[[block.piece]]
name = "bit"
fabric = "ink"
patch = "square"
finished = [4, 4]
count = 4
[fabric.ink]
width = 43
"""


def test_patches_alone_are_something_to_cut() -> None:
    """Tests that a quilt of pieced blocks needs neither layers nor borders."""
    assert len(parse_project(ONLY_PATCHES, "reed.toml").blocks[0].patches) == 1


@pytest.mark.parametrize("part", ['[sashing]\nwidth = 1\nfabric = "slate"', '[sleeve]\nfabric = "slate"'])
def test_a_part_without_a_quilt_is_refused(part: str) -> None:
    """Tests that sashing and a sleeve need a quilt that they belong to."""
    text = f"""[project]
name = "Reed"
{part}
[[piece]]
name = "label"
fabric = "slate"
cut = [4, 3]
[fabric.slate]
width = 43
"""
    title = part.split("]")[0][1:]

    assert _sentence(text) == f"reed.toml: {title}: there is no [quilt] that it could belong to. Add one."
