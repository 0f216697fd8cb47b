"""Spreadsheets: what goes out comes back exactly, their ways are understood, what is wrong is named by its place."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction
from io import StringIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ellwand.errors import InputError
from ellwand.ledger import Kind, OwnedCloth, OwnedFabric, Selvage
from ellwand.ledger.facts import CLOTH_FACTS, FABRIC_FACTS
from ellwand.ledger.spreadsheet import Spreadsheet, read_spreadsheet, write_spreadsheet
from ellwand.lengths import unit_length
from ellwand.project.tables import Polygon, Way
from solver.ledger.owned import BOLT, INK, ODD, QUARTER

NOTHING: Mapping[str, OwnedFabric] = {}


def read(text: str | bytes, unit: str = "in", known: Mapping[str, OwnedFabric] = NOTHING) -> Spreadsheet:
    """A spreadsheet called stash.csv."""
    data = text.encode() if isinstance(text, str) else text
    return read_spreadsheet(data, where="stash.csv", unit=unit, known=known, taken={"K7"})


def only(text: str | bytes, unit: str = "in") -> OwnedCloth:
    """The one cloth of a spreadsheet."""
    (cloth,) = read(text, unit).cloths
    return cloth


# round trip

lengths = st.fractions(Fraction(1, 1000), 40, max_denominator=10**6)
shares = st.fractions(0, Fraction(49, 100), max_denominator=10**5)
letters = st.characters(codec="utf-8", exclude_categories=("C", "Z"))
words = st.text(st.one_of(letters, st.sampled_from("=+-@',;|\"\t \r\n")), max_size=12).map(
    lambda text: " ".join(text.split())
)
names = words.filter(bool)
fabrics = st.builds(
    OwnedFabric,
    name=names,
    fibre=words,
    colours=st.lists(st.sampled_from(("blue", "dark", "ochre")), max_size=2, unique=True).map(tuple),
    width=st.fractions(41, 60, max_denominator=1000),
    selvage=st.fractions(0, Fraction(1, 2), max_denominator=64),
    way=st.sampled_from(Way),
    repeat=st.none() | st.tuples(lengths, lengths),
    shrinks=st.tuples(shares, shares),
    price=st.none() | st.fractions(0, 10_000, max_denominator=1000),
    priced_by=st.sampled_from(("yd", "m")),
    sold_by=lengths,
    picture=words,
)


@st.composite
def cloths(draw: st.DrawFn) -> OwnedCloth:
    """A sensible cloth of a fabric that is drawn elsewhere."""
    kind = draw(st.sampled_from(Kind))
    across, along = draw(st.fractions(2, 40, max_denominator=10**4)), draw(st.fractions(2, 400, max_denominator=97 * 8))
    zero, half = Fraction(0), Fraction(1, 2)
    outline: Polygon = ((zero, zero), (across, zero), (across, along), (across / 3, along), (zero, along / 7))
    flaw: Polygon = ((half, half), (across / 2, half), (across / 2, along / 2), (half, along / 2))
    corner: Polygon = ((across / 2, half), (across, half), (across, along / 3))
    return OwnedCloth(
        fabric="",
        kind=kind,
        across=across,
        along=along,
        outline=outline if kind is Kind.ODD else None,
        flaws=tuple(draw(st.lists(st.sampled_from((flaw, corner)), max_size=2))),
        count=draw(st.integers(1, 10_000)),
        washed=draw(st.booleans()),
        lot=draw(words),
        selvages=draw(st.sampled_from(((), tuple(Selvage), (Selvage.LEFT,), (Selvage.RIGHT,)))),
        trimmed=draw(st.booleans()),
        place=draw(words),
        since=draw(st.none() | st.dates()),
        note=draw(words),
    )


@given(
    owned=st.lists(fabrics, min_size=1, max_size=3, unique_by=lambda fabric: fabric.name),
    pieces=st.lists(st.tuples(st.integers(0, 2), cloths()), max_size=4),
    unit=st.sampled_from(("in", "cm")),
    ids=st.booleans(),
)
@settings(max_examples=200, deadline=None, derandomize=True)
def test_a_sheet_gives_back_what_went_into_it(
    owned: list[OwnedFabric], pieces: list[tuple[int, OwnedCloth]], unit: str, ids: bool
) -> None:
    """All facts of all fabrics and cloths, exact, whatever is in them; read as inches or as centimetres."""
    kept = tuple(
        replace(cloth, fabric=owned[number % len(owned)].name, id=f"A{place}" if ids else "")
        for place, (number, cloth) in enumerate(pieces, 1)
    )
    text = write_spreadsheet(owned, kept, unit)

    for other in ("in", "cm"):
        spreadsheet = read_spreadsheet(text.encode("utf-8-sig"), where="stash.csv", unit=other, known={})
        assert spreadsheet.cloths == kept
        assert sorted(spreadsheet.fabrics, key=lambda fabric: fabric.name) == sorted(
            owned, key=lambda fabric: fabric.name
        )


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "'=", "''-", "＝"])
def test_what_could_be_a_formula_is_made_harmless(start: str) -> None:
    """A cell never begins with a sign that makes a formula, and comes back as it was (OWASP, "CSV injection")."""
    fabric, cloth = replace(INK, fibre=f"{start}1+1"), replace(BOLT, note=f"{start}cmd|' /C calc'!A0", lot=start)

    text = write_spreadsheet([fabric], [cloth], "in")

    cells = [cell for row in csv.reader(StringIO(text)) for cell in row]
    assert [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r", "＝"))] == []
    assert read(text) == Spreadsheet(fabrics=(fabric,), cloths=(cloth,))


def test_the_head_names_every_fact() -> None:
    """The first row has all there is to tell, in the order of the facts."""
    head = write_spreadsheet([INK], [], "in").splitlines()[0]

    assert tuple(head.split(",")) == (*FABRIC_FACTS, *CLOTH_FACTS)


# what spreadsheets write

BOLT_OF_INK = OwnedCloth(
    fabric="ink", kind=Kind.LENGTH, across=Fraction(43), along=Fraction(45), selvages=tuple(Selvage)
)
WRITTEN = {
    "columns in any order": "length,fabric width,fabric\n1 1/4 yd,43 in,ink\n",
    "heads written freely": 'FABRIC,"Fabric_Width",  length  \nink,43 in,1 1/4 yd\n',
    "semicolons and decimal commas": "fabric;fabric width;length\nink;43 in;1,25 yd\n",
    "tabs": "fabric\tfabric width\tlength\nink\t43 in\t1 1/4 yd\n",
    "a line that says the delimiter": "sep=;\nfabric;fabric width;length\nink;43;45\n",
    "a byte order mark and lines of a spreadsheet": "\ufefffabric,fabric width,length\r\nink,43,45\r\n\r\n",
    "a unit in the head": "fabric,fabric width,length (yd)\nink,43,1.25\n",
    "quotes and a cell of two lines": '"fabric","fabric width","length"\n"ink","43 in","1 1/4\nyd"\n',
    "facts of a fabric in another row": "fabric,fabric width,length\nink,,45\nink,43 in,\n",
    "the same told twice in other words": "fabric,fabric width,length\nink,43 in,45\nink,3 ft 7 in,\n",
    "empty columns and rows": "fabric,fabric width,length,,\n,,,,\nink,43,45,,\n,,,,\n",
}


@pytest.mark.parametrize("text", WRITTEN.values(), ids=WRITTEN)
def test_a_spreadsheets_ways_are_understood(text: str) -> None:
    """All of these are one length of ink, 43 in wide and 1 1/4 yd = 45 in long."""
    spreadsheet = read(text)

    assert spreadsheet.cloths == (BOLT_OF_INK,)
    assert [(fabric.name, fabric.width) for fabric in spreadsheet.fabrics] == [("ink", Fraction(43))]


def test_utf_16_is_read_where_it_says_so() -> None:
    """As a spreadsheet writes what it calls Unicode text."""
    assert only("fabric\tfabric width\tlength\nink\t43\t45\n".encode("utf-16")) == BOLT_OF_INK


LENGTHS = [
    ("1,250.5 mm", "1250.5 mm"),
    ("1.250,5 mm", "1250.5 mm"),
    ("1,250 mm", "1250 mm"),
    ("1.250 mm", "1250 mm"),
    ("1 250 mm", "1250 mm"),
    ("1\u00a0250 mm", "1250 mm"),
    ("0,125 m", "125 mm"),
    ("1,5 m", "1500 mm"),
    ("2.125 in", "2 1/8 in"),
    ("2½", "2 1/2 in"),
    ("500/127 in", "10 cm"),
]


@pytest.mark.parametrize(("written", "meant"), LENGTHS)
def test_thousands_and_decimal_commas(written: str, meant: str) -> None:
    """Both marks, one mark where it is clear, and groups of three; a thousandth of a millimetre is nobody's."""
    one, other = (only(f'fabric,fabric width,width,length\nink,43,5,"{text}"\n') for text in (written, meant))

    assert one.along == other.along


def test_the_whole_sheet_tells_which_sign_is_the_decimal_one() -> None:
    """1,250 m is one metre and a quarter where 95,5 stands beside it, and 1250 where 95.5 does."""
    lengths = [
        only(f'fabric;fabric width;width;length\nink;110 cm;"{beside} cm";"1,250 in"\n').along
        for beside in ("95,5", "95.5")
    ]

    assert lengths == [Fraction(5, 4), Fraction(1250)]


def test_what_is_left_out_is_as_usual() -> None:
    """A length has both selvages and is not washed; a rectangle is as measured; an outline makes it odd."""
    rows = "ink,43,,1 yd,\nink,,21,18,\nink,,,,0 x 0; 20 x 0; 0 x 15 in\n"
    length, rectangle, odd = read(f"fabric,fabric width,width,length,outline\n{rows}").cloths

    assert (length.kind, length.selvages, length.washed) == (Kind.LENGTH, tuple(Selvage), False)
    assert (rectangle.kind, rectangle.selvages, rectangle.washed) == (Kind.RECTANGLE, (), True)
    assert (odd.kind, odd.across, odd.along, odd.washed) == (Kind.ODD, Fraction(20), Fraction(15), True)


def test_a_washed_length_is_as_wide_as_washing_leaves_it() -> None:
    """43 in less 2 % are 42.14 in (derived)."""
    cloth = only("fabric,fabric width,shrinks crosswise,length,washed\nink,43,2 %,45,TRUE\n")

    assert cloth.across == Fraction("42.14")


def test_centimetres_have_their_own_usual_losses() -> None:
    """1 cm of selvage, sold by 10 cm, priced by the metre."""
    (fabric,) = read("fabric,fabric width,price\nink,110,20\n", "cm").fabrics

    assert (fabric.selvage, fabric.sold_by) == (unit_length("cm"), 10 * unit_length("cm"))
    assert (fabric.width, fabric.priced_by) == (110 * unit_length("cm"), "m")


def test_a_width_in_centimetres_brings_their_usual_losses() -> None:
    """A fabric whose width stands under a head in centimetres is sold and trimmed as it is in centimetres."""
    (metric,) = read("fabric;fabric width (cm)\nink;110\n").fabrics
    (yards,) = read("fabric;fabric width (yd)\nink;1 1/4\n", unit="cm").fabrics

    assert (metric.selvage, metric.priced_by) == (unit_length("cm"), "m")  # 1 cm: common practice, no source
    assert metric.sold_by == 10 * unit_length("cm")
    assert (yards.selvage, yards.priced_by) == (Fraction(1, 2), "yd")


def test_fabrics_of_the_ledger_need_no_facts() -> None:
    """Their name is enough, and what is told again may be told in other words."""
    spreadsheet = read("fabric,fabric width,length\nink,3 ft 7 in,45\nink,,9\n", known={"ink": INK})

    assert spreadsheet.fabrics == ()
    assert [cloth.along for cloth in spreadsheet.cloths] == [45, 9]


def test_every_fact_of_a_cloth_is_read() -> None:
    """A spreadsheet as somebody writes it, all columns filled in."""
    head = "fabric,kind,width,length,flaws,count,washed,lot,selvages,selvages cut off,place,since,note,id"
    row = 'ink,rectangle,20,15,"3 x 5; 5 x 6 | 0 x 0; 1 x 0; 0 x 1 in",2,no,7,left,yes,drawer,2026-03-01,faded,b2'

    (cloth,) = read(f"{head}\n{row}\n", known={"ink": INK}).cloths

    box = ((3, 5), (5, 5), (5, 6), (3, 6))
    corner = ((0, 0), (1, 0), (0, 1))
    assert cloth == OwnedCloth(
        id="B2",
        fabric="ink",
        kind=Kind.RECTANGLE,
        across=Fraction(20),
        along=Fraction(15),
        flaws=tuple(tuple((Fraction(x), Fraction(y)) for x, y in shape) for shape in (box, corner)),
        count=2,
        washed=False,
        lot="7",
        selvages=(Selvage.LEFT,),
        trimmed=True,
        place="drawer",
        since=date(2026, 3, 1),
        note="faded",
    )


def test_odd_shapes_and_lengths_go_through_as_they_are() -> None:
    """The stock of the other tests."""
    stock = (BOLT, QUARTER, ODD)

    assert read(write_spreadsheet([INK], stock, "cm")).cloths == stock


# what is wrong

COLUMNS = "The first row names the columns: fabric, fabric width, width, length and whatever else there is to say."
HEAD = "fabric,fabric width,width,length\n"
BROKEN: dict[str, tuple[str | bytes, str]] = {
    "nothing": ("", f"line 1: the file is empty. {COLUMNS}"),
    "a head alone": (HEAD, "there is nothing in it but a head. Write one row for each cloth."),
    "an unknown column among semicolons": (
        "stoff;breite (cm)\nrot;18\n",
        f'line 1: there is no column "stoff". {COLUMNS}',
    ),
    "no head": ("ink,43,21,18\n", f'line 1: there is no column "ink". {COLUMNS}'),
    "no fabrics": (
        "width,length\n21,18\n",
        f"line 1: there is no column of fabrics. {COLUMNS}",
    ),
    "an unknown column": ("fabric,lenght\nink,18\n", 'line 1: there is no column "lenght". Did you mean "length"?'),
    "a column twice": (
        "fabric,length,Length\nink,1,2\n",
        'line 1: the column "length" is there twice. Leave one of them out.',
    ),
    "a unit that is none": (
        "fabric,length (ells)\nink,1\n",
        'line 1: length: "ells" is no unit. Write in, yd, cm or m.',
    ),
    "a comma too many": (
        HEAD + "ink,43,21,18,9\n",
        'line 2: "9" stands in column 5, which has no head. Is there a comma too many, or a cell without quotes?',
    ),
    "a column without a head": (
        "fabric,,length\nink,43,18\n",
        'line 2: "43" stands in column 2, which has no head. Is there a comma too many, or a cell without quotes?',
    ),
    "quotes that do not end": (
        HEAD + 'ink,43,21,18\nink,43,"21,18\nink,43,9,8\n',
        "line 3: cannot be read (unexpected end of data). A cell has at most 100 000 signs; "
        "quotes stand round a whole cell, and are doubled within.",
    ),
    "quotes in the midst": (
        HEAD + 'ink,43,"21" in,18\n',
        "line 2: cannot be read (',' expected after '\"'). A cell has at most 100 000 signs; "
        "quotes stand round a whole cell, and are doubled within.",
    ),
    "a text of another time": (
        (HEAD + "ink,43,21,18\n").encode() + "grün,43,21,18\n".encode("latin-1"),
        "line 3: it is no UTF-8 text. Save it as CSV, UTF-8.",
    ),
    "no fabric in a row": (
        HEAD + "ink,43,21,18\n,,21,18\n",
        "line 3: fabric: it is missing. Write the fabric's name in every row.",
    ),
    "a fabric without a width": (
        HEAD + "ink,43,21,18\nimk,,21,18\n",
        'line 3: fabric: the ledger has no fabric "imk", and no row says how wide it is. '
        'Write its width in a column "fabric width". Did you mean "ink"?',
    ),
    "a fabric of two widths": (
        HEAD + "ink,43,21,18\nink,44,21,18\n",
        'line 3: fabric width: "44" is not what line 2 says of "ink": 43. '
        "Leave it out here, or correct the one or the other.",
    ),
    "a fabric that the ledger knows otherwise": (
        HEAD + "sea,44,21,18\n",
        'line 2: fabric width: "44" is not what the ledger says of "sea": 40 in. '
        "Leave it out here, or correct the one or the other.",
    ),
    "a price that the ledger does not know": (
        "fabric,price\nsea,12\n",
        'line 2: price: "12" is not what the ledger says of "sea": nothing. '
        "Leave it out here, or correct the one or the other.",
    ),
    "a fabric that is all selvage": (
        "fabric,fabric width,selvage\nink,1,1/2\n",
        "line 2: its width leaves nothing between the selvages.",
    ),
    "no length": (HEAD + "ink,43,21,\n", "line 2: length: it is missing. Write one, such as 2 1/4 yd."),
    "a length that is none": (
        HEAD + "ink,43,21,2 in 1/2\n",
        'line 2: length: cannot read "2 in 1/2" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    ),
    "a length that can be read two ways": (
        HEAD + 'ink,43,21,"1,250 m"\n',
        'line 2: length: "1,250" can be read two ways. Try 1250 or 1.250.',
    ),
    "a length below nothing": (
        HEAD + "ink,43,21,-18\n",
        'line 2: length: cannot read "-18" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    ),
    "a formula": (
        HEAD + "ink,43,21,=B2+1\n",
        'line 2: length: cannot read "=B2+1" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    ),
    "a cloth of no size": (HEAD + "ink,43,21,0\n", "line 2: its size must be more than 0."),
    "a cloth wider than its fabric": (
        HEAD + "ink,43,48,18\n",
        "line 2: it is 48 in wide, and its fabric only 43 in. At most a tenth more. Correct the one or the other.",
    ),
    "a kind that is none": (
        "fabric,fabric width,length,kind\nink,43,18,bolt\n",
        'line 2: kind: "bolt" cannot be used here. Write length, rectangle or odd.',
    ),
    "an odd shape without an outline": (
        "fabric,fabric width,length,kind\nink,43,18,odd\n",
        "line 2: an odd shape has an outline, and no other cloth has one.",
    ),
    "an outline that is none": (
        "fabric,fabric width,outline\nink,43,round\n",
        'line 2: outline: cannot read "round" as a length. Try 2 1/2 in, 2.5 in or 64 mm.',
    ),
    "an outline of lengths": (
        "fabric,fabric width,outline\nink,43,20; 15\n",
        'line 2: outline: cannot read "20; 15" as corners, across and along. Try 0 x 0; 20 x 0; 20 x 15 in.',
    ),
    "an outline that crosses itself": (
        "fabric,fabric width,outline\nink,43,0 x 0; 9 x 9; 9 x 0; 0 x 9\n",
        "line 2: the edges of the outline cross or touch. Write the corners in their order round the edge.",
    ),
    "an outline and another size": (
        "fabric,fabric width,outline,width\nink,43,0 x 0; 9 x 0; 9 x 9,8\n",
        "line 2: width: the outline reaches 9 in, and this says otherwise. Leave it out, or change the outline.",
    ),
    "two outlines": (
        "fabric,fabric width,outline\nink,43,0 x 0; 9 x 9 | 1 x 1; 2 x 2\n",
        "line 2: outline: there are two shapes. A | parts flaws; an outline is one shape.",
    ),
    "a flaw beside the cloth": (
        "fabric,fabric width,width,length,flaws\nink,43,21,18,30 x 5; 31 x 6\n",
        "line 2: a flaw begins 30 in across and 5 in along, and none of it lies on the cloth. "
        "Leave it out, or measure again.",
    ),
    "a count that is none": (
        "fabric,fabric width,length,count\nink,43,18,2.5\n",
        'line 2: count: "2.5" is no count. Write a whole number from 1 to 10000.',
    ),
    "washed, perhaps": (
        "fabric,fabric width,length,washed\nink,43,18,maybe\n",
        'line 2: washed: "maybe" cannot be used here. Write yes or no.',
    ),
    "a selvage above": (
        "fabric,fabric width,length,selvages\nink,43,18,top\n",
        'line 2: selvages: "top" cannot be used here. Write both, left, right or none.',
    ),
    "a date that is none": (
        "fabric,fabric width,length,since\nink,43,18,3/1/2026\n",
        'line 2: since: "3/1/2026" is no date. Write year, month and day: 2026-03-01.',
    ),
    "a day that is not in the calendar": (
        "fabric,fabric width,length,since\nink,43,18,2026-02-30\n",
        'line 2: since: there is no day "2026-02-30".',
    ),
    "shrinkage without its sign": (
        "fabric,fabric width,shrinks lengthwise\nink,43,3\n",
        'line 2: shrinks lengthwise: cannot read "3" as a percentage. Try 3 % or 2.5 %.',
    ),
    "too much shrinkage": (
        "fabric,fabric width,shrinks lengthwise\nink,43,60 %\n",
        "line 2: it cannot shrink so much. From 0 to under 50 %.",
    ),
    "a price with its currency": (
        "fabric,fabric width,price\nink,43,$12\n",
        'line 2: price: cannot read "$12" as a number. Try 12.50.',
    ),
    "a price of an ell": (
        "fabric,fabric width,price,price per\nink,43,12,ell\n",
        'line 2: price per: "ell" cannot be used here. Write yd or m.',
    ),
    "a way that is none": (
        "fabric,fabric width,way\nink,43,up\n",
        'line 2: way: "up" cannot be used here. Write any, one-way or stripe.',
    ),
    "an id that is none": (
        HEAD.replace("width,length", "width,length,id") + "ink,43,21,18,O1\n",
        'line 2: id: "O1" is no short id. An id is a letter and a number, such as K7. Leave it out for a new one.',
    ),
    "an id that the ledger has": (
        HEAD.replace("width,length", "width,length,id") + "ink,43,21,18,k7\n",
        "line 2: id: K7 is a cloth of the ledger already. "
        "Leave its id out, if it is another cloth: it then gets a new one.",
    ),
    "an id twice": (
        HEAD.replace("width,length", "width,length,id") + "ink,43,21,18,K8\nink,43,21,18,K8\n",
        "line 3: id: K8 is a cloth of line 2 already. "
        "Leave its id out, if it is another cloth: it then gets a new one.",
    ),
    "a note of two lines": (
        'fabric,fabric width,length,note\nink,43,18,"one\ntwo"\n',
        "line 2: its note has signs in it that cannot be seen. Use plain letters, in one line.",
    ),
    "a name that hides something": (
        HEAD + "in\u202ek,43,21,18\n",
        "line 2: its name has signs in it that cannot be seen. Use plain letters.",
    ),
}


@pytest.mark.parametrize(("text", "told"), BROKEN.values(), ids=BROKEN)
def test_what_is_wrong_is_named_by_line_and_column(text: str | bytes, told: str) -> None:
    """One sentence: the file, the line, the column, what was found, what would be right."""
    with pytest.raises(InputError) as caught:
        read(text, known={"sea": OwnedFabric(name="sea", width=Fraction(40))})

    colon = ": "
    assert str(caught.value) == f"stash.csv{colon}{told}"


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    """A cell of two lines, empty rows and a line that says the delimiter count."""
    text = 'sep=;\nfabric;fabric width;length;note\nink;43;"1\n yd";\n\nink;;nothing;\n'

    with pytest.raises(InputError, match=r"^stash\.csv: line 6: length: cannot read"):
        read(text)


def outcome(text: str) -> Spreadsheet | str:
    """What a spreadsheet holds, or what is wrong with it."""
    try:
        return read(text)
    except InputError as error:
        return str(error)


scraps = st.text(st.sampled_from("0123456789.,/½ x×;|-=+%'\"inycdm\u00a0\u0660\u00b2\t\r\n\x00a"), max_size=14)
heads = st.lists(st.sampled_from((*FABRIC_FACTS[1:], *CLOTH_FACTS)), min_size=1, max_size=5, unique=True)


@given(head=heads, rows=st.lists(st.lists(scraps, min_size=5, max_size=5), min_size=1, max_size=3))
@settings(max_examples=300, deadline=None, derandomize=True)
def test_whatever_stands_in_a_cell_is_read_or_named(head: list[str], rows: list[list[str]]) -> None:
    """Any scraps of numbers, units and signs: a spreadsheet, or a sentence with the line in it; nothing else."""
    lines = [["fabric", "fabric width", *head], *(["ink", "43 in", *row[: len(head)]] for row in rows)]
    if "fabric width" in head:
        lines[0][1] = ""
        lines[1:] = [[line[0], "", *line[2:]] for line in lines[1:]]
    text = StringIO(newline="")
    csv.writer(text).writerows(lines)

    came = outcome(text.getvalue())

    if isinstance(came, Spreadsheet):
        assert {fabric.name for fabric in came.fabrics} == {"ink"}
    else:
        assert came.startswith("stash.csv: line ")
        assert came.isprintable()


@given(st.binary(max_size=60))
@settings(max_examples=300, deadline=None, derandomize=True)
def test_no_file_is_more_than_a_sentence(data: bytes) -> None:
    """Bytes that are no spreadsheet are told as such."""
    with pytest.raises(InputError, match=r"^stash\.csv: "):
        read(data)
