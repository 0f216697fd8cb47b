"""One value of a project file that varies: where it stands, what hangs on it, and what cannot vary."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.errors import InputError
from ellwand.project.table import Table
from ellwand.project.vary import Varied, border_key, parse_varied, spelt_key, together

TEXT = """
[project]
name = "gate"
unit = "{unit}"
[quilt]
across = 2
down = 2
[[block]]
name = "latch"
count = 2
finished = [8, 8]
[[block]]
name = "hinge"
count = 2
finished = [8, 8]
[[block.piece]]
name = "ground"
fabric = "ink"
margin = 1
[sashing]
width = 2
fabric = "ink"
[[border]]
name = "inner"
width = 1
fabric = "ink"
[[border]]
name = "outer"
width = 4
fabric = "ink"
[fabric.ink]
width = 43
[fabric."dark ink"]
width = 43
"""


def varied(key: str, unit: str = "in") -> Varied:
    """The gate, of which one value varies."""
    return parse_varied(TEXT.replace("{unit}", unit), "gate.toml", spelt_key(key))


def test_a_length_is_changed_and_nothing_else() -> None:
    """Sashing 3 in wide is the file with 3 in written there."""
    there = varied("sashing.width").at(Fraction(3))

    assert there.sashing is not None
    assert there.sashing.width == 3
    assert (
        there
        == parse_varied(
            TEXT.replace("{unit}", "in").replace("width = 2", "width = 3"), "gate.toml", border_key("outer")
        ).base
    )


def test_lengths_are_inches_in_centimetre_projects_too() -> None:
    """An inch is written as 2.54 cm, exactly."""
    there = varied("border.outer.width", "cm").at(Fraction(1))

    assert there.borders[1].width == 1
    assert there.borders[0].width == Fraction(100, 254)


def test_a_key_that_the_file_leaves_out_may_vary() -> None:
    """Its default gives way."""
    assert varied("project.seam").at(Fraction(1, 2)).seam == Fraction(1, 2)


def test_names_with_spaces_stand_in_quotes() -> None:
    """As in the file."""
    assert varied('fabric."dark ink".width').at(Fraction(41)).fabrics["dark ink"].width == 41


def test_parts_of_a_block_are_named() -> None:
    """Lists of tables are entered by name, one in the other."""
    there = varied("block.hinge.piece.ground.margin").at(Fraction(2))

    assert there.blocks[1].pieces[0].margins.top == 2


def test_blocks_fill_the_setting_as_it_grows() -> None:
    """Counts keep their ratio where it goes up evenly; the reader complains where it does not."""
    rows = varied("quilt.down")

    assert [block.count for block in rows.at(Fraction(3)).blocks] == [3, 3]
    assert rows.show(Fraction(3)) == "3"
    assert rows.mark == 1
    odd = parse_varied(
        TEXT.replace("{unit}", "in").replace("across = 2", "across = 1").replace("count = 2", "count = 1"),
        "gate.toml",
        spelt_key("quilt.down"),
    )
    with pytest.raises(InputError, match="the setting of 1 × 3 takes 3 blocks, and the counts make 2"):
        odd.at(Fraction(3))


def test_borders_keep_their_ratio() -> None:
    """1 to 4, down to the ruler; none vanishes."""
    both = together(varied("border.outer.width"))

    assert both.title == "borders inner and outer"
    assert [[border.width for border in both.at(Fraction(width)).borders] for width in ("8", "3.125", "0.125")] == [
        [2, 8],
        [Fraction(3, 4), Fraction(25, 8)],
        [Fraction(1, 8), Fraction(1, 8)],
    ]


def test_the_border_is_known() -> None:
    """Only a border's width is one's."""
    assert varied("border.outer.width").border == "outer"
    assert varied("border.outer.extra").border is None
    assert varied("sashing.width").border is None


@pytest.mark.parametrize(
    ("key", "sentence"),
    [
        ("sashing", '--vary: "sashing" names no value. Write it as in the file, such as sashing.width, quilt.down or '),
        ("a b.width", '--vary: "a b.width" names no value. '),
        ("sleeve.depth", 'gate.toml: has no "sleeve" that could vary. '),
        ("fabric.oat.width", 'gate.toml: has no fabric "oat". It has: "ink", "dark ink".'),
        ("border.hem.width", 'gate.toml: has no border "hem". It has: "inner", "outer".'),
        ("border.width", 'gate.toml: border: there are several. Name one: "inner", "outer".'),
        ("block.latch.finished", "gate.toml: block.latch.finished: is no single length or number, and cannot vary. "),
    ],
)
def test_what_cannot_vary(key: str, sentence: str) -> None:
    """Each gets its sentence."""
    with pytest.raises(InputError) as caught:
        varied(key)

    assert str(caught.value).startswith(sentence)


def test_a_value_that_makes_no_sense_is_refused_as_in_the_file() -> None:
    """The reader's own words, with table and key."""
    with pytest.raises(InputError, match=r'^gate\.toml: sashing: there is no "wdith" here\. '):
        varied("sashing.wdith").at(Fraction(3))
    with pytest.raises(InputError, match=r"^gate\.toml: fabric \"ink\": width: 0\.5 in leaves nothing|leaves nothing"):
        varied("fabric.ink.width").at(Fraction(1, 2))


@pytest.mark.parametrize("text", ["0", "many", "1/0", "1e9", "-2"])
def test_plain_numbers_alone_are_read_for_counts(text: str) -> None:
    """Anything else gets a sentence."""
    table = Table(where="compare", values={"--from": text}, unit="in")
    with pytest.raises(InputError, match=r"cannot be used here\. Write a plain number such as 4"):
        varied("quilt.down").read(table, "--from")


def test_a_price_may_be_a_broken_number() -> None:
    """12.50 and 12,50 are read alike."""
    table = Table(where="compare", values={"--from": "12,50"}, unit="in")

    assert varied("fabric.ink.price").read(table, "--from") == Fraction(25, 2)


def test_sizes_stay_as_they_are_and_do_not_vary() -> None:
    """The design as it stands varies; a size that would forbid a value forbids nothing, and has no value of its own."""
    text = TEXT.replace("{unit}", "in") + '[[size]]\nname = "small"\nborder = [ { name = "outer", width = 3 } ]\n'
    there = parse_varied(text, "gate.toml", border_key("outer"))

    assert [size.size for size in there.base.sizes] == ["small"]
    assert there.at(Fraction(5)).borders[1].width == 5
    assert there.at(Fraction(5)).sizes == ()
    with pytest.raises(InputError, match="sizes do not vary: only the design as it stands does"):
        parse_varied(text, "gate.toml", spelt_key("size.small.border"))
