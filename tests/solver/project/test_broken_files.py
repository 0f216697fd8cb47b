"""Broken project files and the exact sentence each gets."""

from __future__ import annotations

import pytest

from ellwand.errors import InputError
from ellwand.project.read import parse_project

SOUND = """
[project]
name = "Kite"
unit = "in"
seam = "1/2 in"

[quilt]
across = 2
down = 2

[[block]]
name = "tail"
count = 4
finished = [8, 8]
hoop = ["210 mm", "210 mm"]
frame = ["260 mm", "260 mm"]
[[block.piece]]
name = "ground"
fabric = "ink"
margin = "1 in"

[stabiliser]
fabric = "film"

[[border]]
name = "inner"
width = 1
fabric = "brass"

[[border]]
name = "outer"
width = "4 in"
fabric = "ink"
sewn_together = true

[binding]
fabric = "brass"
strip = "3 in"

[backing]
fabric = "oat"

[batting]
fabric = "wool"

[[piece]]
name = "pocket"
fabric = "oat"
cut = [8.5, 11]

[fabric.ink]
width = "43 in"
[fabric.brass]
width = "43 in"
[fabric.oat]
width = "43 in"
way = "one-way"
[fabric.film]
width = "20 in"
grain = "none"
[fabric.wool]
width = "90 in"
grain = "none"
"""

# what is replaced, by what, and the sentence
BROKEN = {
    "unreadable length": (
        'width = "4 in"',
        'width = "2 in 1/2"',
        'border "outer": width: cannot read "2 in 1/2" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    ),
    "unknown key": (
        'width = "4 in"',
        'widht = "4 in"',
        'border "outer": there is no "widht" here. Did you mean "width"?',
    ),
    "unknown key, none like it": (
        'name = "Kite"',
        'name = "Kite"\nzzz = 1',
        'project: there is no "zzz" here. Known here: name, unit, ruler, seam, layout, stages, keep, copies.',
    ),
    "unknown table": (
        "[batting]",
        "[bating]",
        'there is no "bating" here. Did you mean "batting"?',
    ),
    "missing name": (
        'name = "outer"\n',
        "",
        'border 2: "name" is missing. Write name = "a name".',
    ),
    "missing width": (
        "width = 1\n",
        "",
        'border "inner": "width" is missing. Write width = "2 1/2 in".',
    ),
    "missing finished": (
        "finished = [8, 8]\n",
        "",
        'block "tail": "finished" is missing. Write finished = ["8 in", "8 in"].',
    ),
    "missing project": (
        '[project]\nname = "Kite"\nunit = "in"\nseam = "1/2 in"\n',
        "",
        'there is no [project]. Add it with a name: name = "My quilt".',
    ),
    "length is a list": (
        "width = 1\n",
        "width = [1]\n",
        'border "inner": width: a list cannot be used here. '
        'Write a length such as "2 1/2 in", or a plain number of inches.',
    ),
    "length is true": (
        "width = 1\n",
        "width = true\n",
        'border "inner": width: true cannot be used here. '
        'Write a length such as "2 1/2 in", or a plain number of inches.',
    ),
    "length is nothing": (
        "width = 1\n",
        "width = 0\n",
        'border "inner": width: 0 is too short. It must be more than 0.',
    ),
    "length below nothing": (
        'strip = "3 in"',
        'strip = "3 in"\nextra = -2',
        "binding: extra: -2 is too short. It must be 0 or more.",
    ),
    "length too long": (
        'width = "4 in"',
        'width = "400 yd"',
        'border "outer": width: "400 yd" is too long. A length is at most 10000 in.',
    ),
    "pair of three": (
        "finished = [8, 8]",
        "finished = [8, 8, 8]",
        'block "tail": finished: a list is no pair. Write two values in brackets, across first, then down: [8, 8].',
    ),
    "one share of two": (
        "[fabric.ink]\n",
        '[fabric.ink]\nshrinks = "8 %"\n',
        'fabric "ink": shrinks: "8 %" is no pair. '
        'Write two values in brackets, lengthwise first, then crosswise: ["8 %", "8 %"].',
    ),
    "three shares": (
        "[fabric.ink]\n",
        '[fabric.ink]\nshrinks = ["8 %", "1 %", "1 %"]\n',
        'fabric "ink": shrinks: a list is no pair. '
        'Write two values in brackets, lengthwise first, then crosswise: ["3 %", "2 %"].',
    ),
    "a shrinkage in words": (
        "[fabric.ink]\n",
        '[fabric.ink]\nshrinks = "a little"\n',
        'fabric "ink": shrinks: "a little" is no pair. '
        'Write two values in brackets, lengthwise first, then crosswise: ["3 %", "2 %"].',
    ),
    "covers is one number": (
        'name = "ground"\n',
        'name = "ground"\ncovers = 1\n',
        'block "tail": piece "ground": covers: 1 is no pair. '
        "Write two values in brackets, across first, then down: [1, 0.5].",
    ),
    "count is half": (
        "count = 4",
        "count = 4.5",
        'block "tail": count: 4.5 cannot be used here. Write a whole number from 1 to 1000000.',
    ),
    "count is none": (
        "count = 4",
        "count = 0",
        'block "tail": count: 0 cannot be used here. Write a whole number from 1 to 1000000.',
    ),
    "name is a number": (
        'name = "Kite"',
        "name = 7",
        'project: name: 7 is no text. Write text in quotes: "a name".',
    ),
    "name is empty": (
        'name = "Kite"',
        'name = ""',
        'project: name: "" is empty. Use plain letters.',
    ),
    "name runs backwards": (
        'name = "Kite"',
        'name = "Ki\\u202Ete"',
        'project: name: "Ki�te" has signs in it that cannot be seen. Use plain letters.',
    ),
    "name over two lines": (
        'name = "tail"',
        'name = "ta\\nil"',
        'block 1: name: "ta�il" has signs in it that cannot be seen. Use plain letters.',
    ),
    "name is endless": (
        'name = "Kite"',
        f'name = "{"x" * 81}"',
        f'project: name: "{"x" * 40}…" is longer than 80 letters. Use plain letters.',
    ),
    "name with a slash": (
        'name = "ground"',
        'name = "gro/und"',
        'block "tail": piece "gro/und": a name cannot have a / in it. Write it otherwise.',
    ),
    "name with a space behind": (
        'name = "ground"',
        'name = "ground "',
        'block "tail": piece 1: name: "ground " starts or ends with a space. Use plain letters.',
    ),
    "fabric without a name": (
        "[fabric.film]",
        '[fabric.""]',
        'fabric: "" is empty. Use plain letters.',
    ),
    "fabric without a table": (
        "[fabric.ink]",
        "[fabric]\nwidth = 43\n[fabric.ink]",
        "fabric: width: 43 cannot be used here. Write one table, [fabric.NAME], with its keys below.",
    ),
    "two borders of one name": (
        'name = "outer"',
        'name = "inner"',
        'border "inner": something else has this name. Give it another.',
    ),
    "border called like a block": (
        'name = "outer"',
        'name = "tail"',
        'border "tail": something else has this name. Give it another.',
    ),
    "piece called like a part": (
        'name = "pocket"',
        'name = "batting"',
        'piece "batting": something else has this name. Give it another.',
    ),
    "two pieces of one name": (
        "[stabiliser]",
        '[[block.piece]]\nname = "ground"\nfabric = "ink"\n[stabiliser]',
        'block "tail": piece "ground": something else has this name. Give it another.',
    ),
    "unknown fabric": (
        'margin = "1 in"',
        'margin = "1 in"\n[[block.piece]]\nname = "sun"\nfabric = "bras"',
        'block "tail": piece "sun": fabric: there is no fabric "bras". Did you mean "brass"?',
    ),
    "unknown fabric, none like it": (
        '[binding]\nfabric = "brass"',
        '[binding]\nfabric = "velvet"',
        'binding: fabric: there is no fabric "velvet". Known here: ink, brass, oat, film, wool.',
    ),
    "unknown unit": (
        'unit = "in"',
        'unit = "ft"',
        'project: unit: "ft" cannot be used here. Use "in" or "cm".',
    ),
    "unknown choice": (
        'way = "one-way"',
        'way = "oneway"',
        'fabric "oat": way: "oneway" cannot be used here. Use "any", "one-way" or "stripe".',
    ),
    "flag in quotes": (
        "sewn_together = true",
        'sewn_together = "true"',
        'border "outer": sewn_together: "true" cannot be used here. Write true or false, without quotes.',
    ),
    "metric ruler in an inch project": (
        'unit = "in"',
        'unit = "in"\nruler = "1 mm"',
        "project: ruler: its marks are no decimal numbers of inches. Use a ruler such as 1/8 in.",
    ),
    "ruler too coarse": (
        'unit = "in"',
        'unit = "in"\nruler = "2 in"',
        "project: ruler: nobody cuts by 2 in. Its marks are from 0.1 mm to 1 in apart.",
    ),
    "two stages": (
        'unit = "in"',
        'unit = "in"\nstages = 2',
        'project: stages: 2 is not worked out by this version. Use 3 or "any".',
    ),
    "shrinks by a number": (
        'way = "one-way"',
        "shrinks = [3, 2]",
        'fabric "oat": shrinks: 3 is no percentage. Write it in quotes with its sign: "3 %".',
    ),
    "shrinks without a sign": (
        'way = "one-way"',
        'shrinks = ["3", "2 %"]',
        'fabric "oat": shrinks: cannot read "3" as a percentage. Try 3 % or 2.5 %.',
    ),
    "shrinks too much": (
        'way = "one-way"',
        'shrinks = ["3 %", "50 %"]',
        'fabric "oat": shrinks: 50 % is too much. It must be less than 50 %.',
    ),
    "nothing between the selvages": (
        'width = "20 in"',
        'width = "20 in"\nselvage = "10 in"',
        'fabric "film": width: 20 in leaves nothing between selvages of 10 in.',
    ),
    "price in words": (
        'way = "one-way"',
        'price = "12.50"',
        'fabric "oat": price: "12.50" cannot be used here. Write a plain number from 0 to 1000000.',
    ),
    "cloth on hand is one table": (
        'way = "one-way"',
        'on_hand = { length = "2 yd" }',
        'fabric "oat": on_hand: one table alone cannot be used here. Write on_hand = [{ length = "2 yd" }].',
    ),
    "cloth on hand without length": (
        'way = "one-way"',
        'on_hand = [{ width = "21 in" }]',
        'fabric "oat": on_hand 1: "length" is missing. Write length = "2 1/2 in".',
    ),
    "cloth on hand with three selvages": (
        'way = "one-way"',
        'on_hand = [{ length = "21 in", selvages = 3 }]',
        'fabric "oat": on_hand 1: selvages: 3 cannot be used here. Write a whole number from 0 to 2.',
    ),
    "too many cloths on hand": (
        'way = "one-way"',
        'on_hand = [{ length = "21 in", count = 9000 }, { length = "22 in", count = 1001 }]',
        'fabric "oat": on_hand: these are too many cloths. At most 10000 of one fabric.',
    ),
    "one table where several stand": (
        "[[block]]",
        "[block]",
        "block: one table alone cannot be used here. Write [[block]].",
    ),
    "several tables where one stands": (
        "[backing]",
        "[[backing]]",
        "backing: a list cannot be used here. Write one table, [backing], with its keys below.",
    ),
    "counts do not fill the setting": (
        "count = 4",
        "count = 3",
        "quilt: the setting of 2 × 2 takes 4 blocks, and the counts make 3. "
        "Change count in [[block]], or across and down.",
    ),
    "two block seams": (
        "count = 4",
        'count = 3\nfinished = [8, 8]\n[[block]]\nname = "bow"\nseam = "1/4 in"',
        'block "bow": seam: two block seams, 1/4 in here and 1/2 in in block "tail". A quilt has one.',
    ),
    "two block sizes": (
        "count = 4",
        'count = 3\nfinished = [9, 8]\n[[block]]\nname = "bow"',
        'block "bow": finished: 8 × 8 in is not the size of block "tail", 9 × 8 in. '
        "All blocks of a quilt have one size.",
    ),
    "no setting": (
        "[quilt]\nacross = 2\ndown = 2\n",
        "",
        'block "tail": there is no [quilt] to set it in. Add [quilt] with across and down.',
    ),
    "larger than the field": (
        'hoop = ["210 mm", "210 mm"]',
        'hoop = ["200 mm", "300 mm"]',
        'block "tail": hoop: the stitched block, 8 × 8 in, is larger than this field, 200 × 300 mm. '
        "Choose a larger hoop, or a block of at most 7 7/8 × 7 7/8 in finished.",
    ),
    "nothing to stitch": (
        "count = 4",
        'count = 4\ntrim = "5 in"',
        'block "tail": trim: 5 in outside the stitched edge leaves nothing to stitch.',
    ),
    "margin does not reach the seam": (
        'margin = "1 in"',
        'margin = { top = "1 in", left = "1/4 in" }',
        'block "tail": piece "ground": margin: 1/4 in does not reach the seam: '
        "the block is trimmed 1/2 in outside its stitched edge. Give it 1/2 in or more.",
    ),
    "two sizes of a piece": (
        'margin = "1 in"',
        "covers = [1, 1]\nsize = [4, 4]",
        'block "tail": piece "ground": size: "covers" says already how large the piece is. Keep one of the two.',
    ),
    "cut and a margin": (
        'margin = "1 in"',
        'cut = [10, 10]\nmargin = "1 in"',
        'block "tail": piece "ground": margin: "cut" is the size with its margins. Leave the margin out.',
    ),
    "covers too much": (
        'margin = "1 in"',
        "covers = [1, 1.5]",
        'block "tail": piece "ground": covers: 1.5 is no share. A share is more than 0 and at most 1.',
    ),
    "no frame": (
        'frame = ["260 mm", "260 mm"]\n',
        "",
        "stabiliser: no block says which frame it has to cover. Add frame, the outside of the hoop, to a [[block]].",
    ),
    "sheet wider than its roll": (
        'frame = ["260 mm", "260 mm"]\n',
        "frame = [18, 20]\n",
        "stabiliser: a sheet of 20 × 22 in is wider than the roll can be used, 19 in. "
        "Use a wider roll, a smaller margin or a smaller frame, or give an overlap, and sheets are joined.",
    ),
    "either way of one-way cloth": (
        "cut = [8.5, 11]",
        'cut = [8.5, 11]\ngrain = "either"',
        'piece "pocket": grain: "either" would let the piece lie sideways on "oat", which is one-way cloth. '
        "Leave it out, and the piece is cut as it hangs.",
    ),
    "border against one-way cloth": (
        'name = "outer"\nwidth = "4 in"\nfabric = "ink"',
        'name = "outer"\nwidth = "4 in"\nfabric = "oat"\ncut = "lengthwise"',
        'border "outer": cut: "lengthwise" turns two of the four strips, and "oat" is one-way cloth. '
        'Leave it out or write "best", and each strip is cut as it hangs.',
    ),
    "backing against one-way cloth": (
        "[batting]",
        'panels = "crosswise"\n[batting]',
        'backing: panels: "crosswise" turns the panels, and "oat" is one-way cloth. '
        'Leave it out or write "lengthwise".',
    ),
    "first border sewn together": (
        "width = 1\n",
        "width = 1\nsewn_together = true\n",
        'border "inner": sewn_together: there is no border inside this one. Leave it out.',
    ),
    "butted borders sewn together": (
        "width = 1\n",
        'width = 1\ncorners = "butted"\n',
        'border "outer": sewn_together: butted borders are sewn on one by one. Make both borders mitred.',
    ),
    "binding all seam": (
        'strip = "3 in"',
        'strip = "1 in"',
        "binding: strip: two seams take 1 in of it, and nothing shows. Write a wider strip.",
    ),
    "a million and more": (
        "cut = [8.5, 11]",
        "cut = [8.5, 11]\ncount = 999999",
        "these are 1000015 pieces in all. At most 1000000 can be worked out.",
    ),
    "cloth from a ledger where there is none": (
        'way = "one-way"',
        'on_hand = "ledger"',
        'fabric "oat": on_hand: the cloth is to come from a ledger, and none is at hand. Name one, or list the cloth.',
    ),
    "a misspelt ledger": (
        'way = "one-way"',
        'on_hand = "leger"',
        'fabric "oat": on_hand: "leger" cannot be used here. Write on_hand = [{ length = "2 yd" }].',
    ),
    "a full width beside a width": (
        'way = "one-way"',
        "on_hand = [{ length = 9, width = 20, full_width = 43 }]",
        'fabric "oat": on_hand 1: full_width: a cloth with a width is a rectangle, and not of the full width. '
        "Leave one of the two out.",
    ),
    "a full width of two bolts": (
        'way = "one-way"',
        "on_hand = [{ length = 9, full_width = 60 }]",
        'fabric "oat": on_hand 1: full_width: 60 in is much wider than the fabric, which is 43 in. '
        "At most a tenth more. Correct the one or the other.",
    ),
    "an outline of two corners": (
        'way = "one-way"',
        "on_hand = [{ outline = [[0, 0], [3, 4], [0, 0]] }]",
        'fabric "oat": on_hand 1: outline: 2 corners make no shape. '
        "Write three or more, in their order round the edge.",
    ),
    "an outline that crosses itself": (
        'way = "one-way"',
        "on_hand = [{ outline = [[0, 0], [9, 9], [9, 0], [0, 9]] }]",
        'fabric "oat": on_hand 1: outline: its edges cross or touch. Write the corners in their order round the edge.',
    ),
    "an outline of many corners": (
        'way = "one-way"',
        f"on_hand = [{{ outline = [{', '.join(f'[{k}, {k * k}]' for k in range(101))}] }}]",
        'fabric "oat": on_hand 1: outline: 101 corners are too many. At most 100.',
    ),
    "an outline of numbers": (
        'way = "one-way"',
        "on_hand = [{ outline = [0, 9] }]",
        'fabric "oat": on_hand 1: outline: a corner is no pair. Write each in brackets: [[0, 0], [18, 0], [0, 21]].',
    ),
    "an outline that is a word": (
        'way = "one-way"',
        'on_hand = [{ outline = "round" }]',
        'fabric "oat": on_hand 1: outline: "round" is no list of corners. '
        "Write each in brackets: [[0, 0], [18, 0], [0, 21]].",
    ),
    "a corner left of the cloth": (
        'way = "one-way"',
        "on_hand = [{ outline = [[-1, 0], [9, 9], [9, 0]] }]",
        'fabric "oat": on_hand 1: outline: -1 is too short. It must be 0 or more.',
    ),
    "a corner with one side": (
        'way = "one-way"',
        "on_hand = [{ outline = [[0, 0], [9], [9, 0]] }]",
        'fabric "oat": on_hand 1: outline: a list is no pair. '
        "Write two values in brackets, across first, then along: [18, 21].",
    ),
    "an outline and a length": (
        'way = "one-way"',
        "on_hand = [{ outline = [[0, 0], [9, 9], [9, 0]], length = 9 }]",
        'fabric "oat": on_hand 1: length: the outline says already what can be used. Leave it out.',
    ),
    "a flaw beside the rectangle": (
        'way = "one-way"',
        "on_hand = [{ length = 9, width = 9, flaws = [{ x = 9, y = 1, across = 1, along = 1 }] }]",
        'fabric "oat": on_hand 1: flaws 1: x: it begins 9 in across and 1 in along, and none of it lies on the cloth. '
        "Leave it out, or measure again.",
    ),
    "a flaw beside the bolt": (
        'way = "one-way"',
        "on_hand = [{ length = 9, flaws = [{ x = 70, y = 1, across = 1, along = 1 }] }]",
        'fabric "oat": on_hand 1: flaws 1: x: it begins 70 in across and 1 in along, and none of it lies on the '
        "cloth. Leave it out, or measure again.",
    ),
    "a flaw beside the outline": (
        'way = "one-way"',
        "on_hand = [{ outline = [[0, 0], [9, 0], [0, 9]], flaws = [{ outline = [[8, 8], [9, 8], [9, 9]] }] }]",
        'fabric "oat": on_hand 1: flaws 1: outline: it begins 8 in across and 8 in along, and none of it lies on the '
        "cloth. Leave it out, or measure again.",
    ),
    "a flaw told twice": (
        'way = "one-way"',
        "on_hand = [{ length = 9, flaws = [{ x = 1, outline = [[0, 0], [9, 0], [0, 9]] }] }]",
        'fabric "oat": on_hand 1: flaws 1: x: the outline says already where the flaw is. Leave it out.',
    ),
    "a flaw without a size": (
        'way = "one-way"',
        "on_hand = [{ length = 9, flaws = [{ x = 1, y = 1, across = 1 }] }]",
        'fabric "oat": on_hand 1: flaws 1: "along" is missing. Write along = "2 1/2 in".',
    ),
    "many flaws": (
        'way = "one-way"',
        f"on_hand = [{{ length = 9, flaws = [{', '.join(['{}'] * 51)}] }}]",
        'fabric "oat": on_hand 1: flaws: 51 flaws are too many. At most 50 on one cloth.',
    ),
    "many flawed cloths": (
        'way = "one-way"',
        "on_hand = [{ length = 9, count = 21, flaws = [{ x = 1, y = 1, across = 1, along = 1 }] }]",
        'fabric "oat": on_hand 1: count: these are too many cloths with an outline or flaws. At most 20 alike.',
    ),
    "a bolt shorter than a shop step": (
        'way = "one-way"',
        'bolt = "3 in"',
        'fabric "oat": bolt: 3 in is less than the shop sells at a time, 4 1/2 in. '
        "Write how long a whole bolt is, such as 15 yd.",
    ),
    "a repeat of one number": (
        'way = "one-way"',
        "repeat = 12",
        'fabric "oat": repeat: 12 is no pair. Write two values in brackets, across first, then along: [3, 5].',
    ),
    "a repeat of nothing": (
        'way = "one-way"',
        "repeat = [0, 0]",
        'fabric "oat": repeat: a print that repeats neither way has none. Leave it out.',
    ),
    "a repeat finer than the ruler": (
        'way = "one-way"',
        'repeat = [12, "1/16 in"]',
        'fabric "oat": repeat: 1/16 in is finer than the ruler\'s marks. Leave it out.',
    ),
    "a phase without a repeat": (
        "cut = [8.5, 11]",
        "cut = [8.5, 11]\nphase = [3, 5]",
        'piece "pocket": phase: "oat" has no repeat. Add repeat = [12, 25] to fabric "oat", or leave phase out.',
    ),
}


def test_the_sound_file_is_sound() -> None:
    """Tests that each sentence below comes from its own change and not from the file that is changed."""
    assert parse_project(SOUND, "quilt.toml").name == "Kite"


@pytest.mark.parametrize(("old", "new", "sentence"), BROKEN.values(), ids=BROKEN.keys())
def test_a_broken_file_gets_its_sentence(old: str, new: str, sentence: str) -> None:
    """Tests that a wrong project file is answered with place, what was found and what to write."""
    assert SOUND.count(old) >= 1

    with pytest.raises(InputError) as caught:
        parse_project(SOUND.replace(old, new, 1), "quilt.toml")

    assert str(caught.value) == f"quilt.toml: {sentence}"


ALONE = {
    "nothing at all": ("", 'there is no [project]. Add it with a name: name = "My quilt".'),
    "nothing to cut": (
        '[project]\nname = "Kite"',
        "there is nothing to cut. Add a [quilt] with a [[block]] and its [[block.piece]], or a [[piece]].",
    ),
    "a quilt without blocks": (
        '[project]\nname = "Kite"\n[quilt]\n[[piece]]\nname = "a"\nfabric = "b"\ncut = [1, 1]\n[fabric.b]\nwidth = 9',
        "quilt: it has no blocks. Add a [[block]].",
    ),
    "a binding without a quilt": (
        '[project]\nname = "Kite"\n[binding]\nfabric = "b"\n'
        '[[piece]]\nname = "a"\nfabric = "b"\ncut = [1, 1]\n[fabric.b]\nwidth = 9',
        "binding: there is no [quilt] that it could belong to. Add one.",
    ),
    "no fabrics": (
        '[project]\nname = "Kite"\n[[piece]]\nname = "a"\nfabric = "b c"\ncut = [1, 1]',
        'piece "a": fabric: there is no fabric "b c". Add it as [fabric."b c"].',
    ),
    "centimetres": (
        '[project]\nname = "Kite"\nunit = "cm"\n[[piece]]\nname = "a"\nfabric = "b"\ncut = [true, 1]\n'
        "[fabric.b]\nwidth = 9",
        'piece "a": cut: true cannot be used here. '
        'Write a length such as "2 1/2 in", or a plain number of centimetres.',
    ),
}


@pytest.mark.parametrize(("text", "sentence"), ALONE.values(), ids=ALONE.keys())
def test_a_file_with_something_left_out_gets_its_sentence(text: str, sentence: str) -> None:
    """Tests that a project that lacks a whole table says which."""
    with pytest.raises(InputError) as caught:
        parse_project(text, "quilt.toml")

    assert str(caught.value) == f"quilt.toml: {sentence}"


@pytest.mark.parametrize(
    ("old", "new", "place", "most"),
    [
        ("across = 2\n", "across = 0\n", "quilt: across", 1_000_000),
        ("[project]\n", "[project]\ncopies = 0\n", "project: copies", 1_000_000),
        ('name = "tail"\n', 'name = "tail"\nhoopings = 0\n', 'block "tail": hoopings', 100),
        ('name = "ground"\n', 'name = "ground"\ncount = 0\n', 'block "tail": piece "ground": count', 1_000_000),
        ('name = "pocket"\n', 'name = "pocket"\ncount = 0\n', 'piece "pocket": count', 1_000_000),
        ("[stabiliser]\n", "[stabiliser]\nlayers = 0\n", "stabiliser: layers", 100),
        ("[fabric.ink]\n", "[fabric.ink]\nsquare_up_ends = 0\n", 'fabric "ink": square_up_ends', 2),
    ],
)
def test_a_count_of_nothing_is_refused(old: str, new: str, place: str, most: int) -> None:
    """Tests that no count may be 0, wherever it stands."""
    assert SOUND.count(old) == 1

    with pytest.raises(InputError) as caught:
        parse_project(SOUND.replace(old, new), "quilt.toml")

    assert str(caught.value) == f"quilt.toml: {place}: 0 cannot be used here. Write a whole number from 1 to {most}."


def test_no_join_and_no_extra_may_be_said() -> None:
    """Tests that 0 is a number of joins and a length of extra like any other."""
    text = SOUND.replace('name = "inner"\n', 'name = "inner"\njoins = 0\nextra = 0\nshortest = 0\n')

    inner, outer = parse_project(text, "quilt.toml").borders

    assert (inner.joins, [int(length) for length in (inner.extra, inner.shortest)]) == (0, [0, 0])
    assert (outer.joins, [int(length) for length in (outer.extra, outer.shortest)]) == (None, [6, 12])
