"""What a project file says is what the project holds, with defaults where it says nothing."""

from __future__ import annotations

from fractions import Fraction

import pytest

from ellwand.cloths import cloths_on_hand
from ellwand.errors import InputError
from ellwand.lengths import parse_length, unit_length
from ellwand.project.read import parse_project
from ellwand.project.tables import (
    Backing,
    Batting,
    Binding,
    Block,
    BlockPiece,
    Border,
    Corners,
    Cut,
    Fabric,
    Grain,
    Join,
    LoosePiece,
    Margins,
    OnHand,
    Panels,
    Patch,
    PatchShape,
    Project,
    Sashing,
    Setting,
    Sleeve,
    Stabiliser,
    StripGrain,
    Style,
    Way,
)

F = Fraction

FULL = """
[project]
name = "Kite"
unit = "in"
ruler = "1/16 in"
seam = "3/8 in"
layout = "free"
stages = "any"
keep = "4 1/32 in"
copies = 2

[quilt]
across = 2
down = 2
setting = "straight"
measured = ["17 1/4 in", 14.5]

[[block]]
name = "tail"
count = 3
finished = [8, "6 1/2 in"]
seam = "1/2 in"
trim = "1/4 in"
hoop = [9, 9]
frame = [10, 11.5]
hoopings = 2
  [[block.piece]]
  name = "ground"
  fabric = "ink"
  covers = [1, 1]
  margin = "1 in"
  grain = "lengthwise"
  turned = true
  [[block.piece]]
  name = "fold"
  fabric = "oat"
  covers = [0.5, "1/3"]
  margin = { top = "2 in", left = 0 }
  count = 4
  [[block.piece]]
  name = "dot"
  fabric = "oat"
  size = [1, 1]
  [[block.piece]]
  name = "goose"
  fabric = "ink"
  patch = "geese"
  finished = [4, 2]
  seam = "1/8 in"
  count = 3
  yields = 1
  grain = "lengthwise"
  sky = "oat"
  [[block.piece]]
  name = "patch"
  fabric = "oat"
  cut = [2, 3]

[[block]]
name = "bow"
count = 1
finished = [8, 6.5]
seam = "1/2 in"

[sashing]
width = "1 1/4 in"
fabric = "ink"
cornerstones = "oat"
outside = true

[stabiliser]
fabric = "film"
margin = "3/4 in"
layers = 2
overlap = "1 in"

[[piece]]
name = "pocket"
fabric = "oat"
cut = [8.5, 11]
count = 5
grain = "crosswise"

[[border]]
name = "inner"
width = "1 1/2 in"
fabric = "oat"
corners = "butted"
seam = "1/8 in"
cut = "crosswise"
join = "straight"
shortest = "10 in"
joins = 0
extra = "1 in"
[[border]]
name = "middle"
width = 2
fabric = "oat"
[[border]]
name = "outer"
width = 3
fabric = "oat"
sewn_together = true
[[border]]
name = "last"
width = 1
fabric = "oat"
corners = "cornerstones"
cornerstones = "ink"

[binding]
fabric = "oat"
strip = "3 in"
seam = "1/2 in"
grain = "any"
extra = "10 in"
join = "straight"
shortest = "9 in"

[backing]
fabric = "ink"
overhang = "3 in"
seam = "5/8 in"
panels = "lengthwise"

[batting]
fabric = "film"
overhang = "2 in"
under = "none"

[sleeve]
fabric = "ink"
depth = "3 1/2 in"
seam = "3/8 in"
extra = 0

[fabric.ink]
is = "dark blue cotton"
width = "43 in"
selvage = "3/8 in"
way = "one-way"
grain = "woven"
wash = true
shrinks = ["3 %", "2.5 %"]
square_up = "1/4 in"
square_up_ends = 2
sold_by = "1/4 yd"
price = 12.50
on_hand = [{ length = "2 1/4 yd" }, { length = "1 yd", washed = true, selvages = 1, square_up = 1 },
           { width = "21 in", length = "18 in", count = 3 },
           { width = "21 in", length = "18 in", washed = false, selvages = 1, square_up = "1/2 in" }]
buy = false
[fabric.oat]
width = 44
[fabric.film]
width = 40
grain = "none"
way = "stripe"
"""


def _all_round(margin: Fraction) -> Margins:
    return Margins(top=margin, right=margin, bottom=margin, left=margin)


TAIL = Block(
    name="tail",
    count=3,
    finished=(F(8), F("6.5")),
    seam=F(1, 2),
    trim=F(1, 4),
    hoop=(F(9), F(9)),
    frame=(F(10), F("11.5")),
    hoopings=2,
    pieces=(
        BlockPiece(
            name="ground",
            fabric="ink",
            covers=(F(1), F(1)),
            margins=_all_round(F(1)),
            grain=Grain.LENGTHWISE,
            turned=True,
        ),
        BlockPiece(
            name="fold",
            fabric="oat",
            covers=(F(1, 2), F(1, 3)),
            margins=Margins(top=F(2), right=F(1, 4), bottom=F(1, 4), left=F(0)),
            count=4,
        ),
        BlockPiece(name="dot", fabric="oat", size=(F(1), F(1)), margins=_all_round(F(1, 4))),
        BlockPiece(name="patch", fabric="oat", cut=(F(2), F(3)), margins=_all_round(F(0))),
    ),
    patches=(
        Patch(
            name="goose",
            fabric="ink",
            shape=PatchShape.GEESE,
            finished=(F(4), F(2)),
            seam=F(1, 8),
            count=3,
            yields=1,
            grain=Grain.LENGTHWISE,
            sky="oat",
        ),
    ),
)
BORDERS = (
    Border(
        name="inner",
        width=F(3, 2),
        fabric="oat",
        corners=Corners.BUTTED,
        seam=F(1, 8),
        cut=Cut.CROSSWISE,
        join=Join.STRAIGHT,
        shortest=F(10),
        joins=0,
        extra=F(1),
    ),
    Border(
        name="middle",
        width=F(2),
        fabric="oat",
        corners=Corners.MITRED,
        seam=F(3, 8),
        cut=Cut.BEST,
        join=Join.DIAGONAL,
        shortest=F(12),
        joins=None,
        extra=F(6),
    ),
    Border(
        name="outer",
        width=F(3),
        fabric="oat",
        corners=Corners.MITRED,
        seam=F(3, 8),
        cut=Cut.BEST,
        join=Join.DIAGONAL,
        shortest=F(12),
        joins=None,
        extra=F(6),
        sewn_together=True,
    ),
    Border(
        name="last",
        width=F(1),
        fabric="oat",
        corners=Corners.CORNERSTONES,
        seam=F(3, 8),
        cut=Cut.BEST,
        join=Join.DIAGONAL,
        shortest=F(12),
        joins=None,
        extra=F(0),
        cornerstones="ink",
    ),
)
INK = Fabric(
    id="ink",
    note="dark blue cotton",
    width=F(43),
    selvage=F(3, 8),
    way=Way.ONE_WAY,
    wash=True,
    shrinks=(F("0.03"), F("0.025")),
    square_up=F(1, 4),
    square_up_ends=2,
    sold_by=F(9),
    price=F(25, 2),
    on_hand=(
        OnHand(length=F(81), selvages=2, washed=False, square_up=F(1, 2)),
        OnHand(length=F(36), selvages=1, washed=True, square_up=F(1)),
        OnHand(length=F(18), width=F(21), count=3, selvages=0, washed=True, square_up=F(0)),
        OnHand(length=F(18), width=F(21), selvages=1, washed=False, square_up=F(1, 2)),
    ),
    buy=False,
)
OAT = Fabric(id="oat", width=F(44), selvage=F(1, 2), square_up=F(1, 2), sold_by=F(9, 2))
FILM = Fabric(id="film", width=F(40), selvage=F(1, 2), way=Way.STRIPE, woven=False, square_up=F(1, 2), sold_by=F(9, 2))
KITE = Project(
    source="kite.toml",
    name="Kite",
    unit="in",
    ruler=F(1, 16),
    seam=F(3, 8),
    style=Style.FREE,
    stages=None,
    keep=F(65, 16),
    copies=2,
    setting=Setting(across=2, down=2, measured=(F("17.25"), F("14.5"))),
    blocks=(TAIL, Block(name="bow", count=1, finished=(F(8), F("6.5")), seam=F(1, 2), trim=F(1, 2))),
    sashing=Sashing(width=F(5, 4), fabric="ink", cornerstones="oat", outside=True),
    stabiliser=Stabiliser(fabric="film", margin=F(3, 4), layers=2, overlap=F(1)),
    pieces=(LoosePiece(name="pocket", fabric="oat", cut=(F("8.5"), F(11)), count=5, grain=Grain.CROSSWISE),),
    borders=BORDERS,
    binding=Binding(
        fabric="oat",
        strip=F(3),
        seam=F(1, 2),
        extra=F(10),
        join=Join.STRAIGHT,
        shortest=F(9),
        grain=StripGrain.ANY,
    ),
    backing=Backing(fabric="ink", overhang=F(3), seam=F(5, 8), panels=Panels.LENGTHWISE),
    batting=Batting(fabric="film", overhang=F(2), under="none"),
    sleeve=Sleeve(fabric="ink", depth=F("3.5"), seam=F(3, 8), extra=F(0)),
    fabrics={"ink": INK, "oat": OAT, "film": FILM},
)

SHORT = """
[project]
name = "Kite"
unit = "UNIT"
[quilt]
across = 2
down = 3
[[block]]
name = "tail"
finished = [20, 20]
frame = [24, 24]
[[block.piece]]
name = "ground"
fabric = "oat"
[[block.piece]]
name = "bit"
fabric = "oat"
patch = "half-square"
finished = [5, 5]
[[border]]
name = "mitred"
width = 2
fabric = "oat"
[[border]]
name = "butted"
width = 2
fabric = "oat"
corners = "butted"
[[border]]
name = "cornered"
width = 2
fabric = "oat"
corners = "cornerstones"
[stabiliser]
fabric = "oat"
[[piece]]
name = "pocket"
fabric = "oat"
cut = [8, 11]
[binding]
fabric = "oat"
[backing]
fabric = "oat"
[batting]
fabric = "wool"
[sleeve]
fabric = "oat"
[fabric.oat]
width = 110
on_hand = [{ length = 50 }]
[fabric.wool]
width = 150
"""


def _short(unit: str, old: str = "", new: str = "") -> Project:
    """The short project in `unit`, with `new` in place of `old`."""
    assert old in SHORT
    return parse_project(SHORT.replace("UNIT", unit).replace(old, new, 1), "kite.toml")


def _lengths(project: Project) -> dict[str, Fraction]:
    """Every default length of `project`, by what it is."""
    assert project.stabiliser is not None
    assert project.binding is not None
    assert project.backing is not None
    assert project.batting is not None
    assert project.sleeve is not None
    oat = project.fabrics["oat"]
    return {
        "ruler": project.ruler,
        "seam": project.seam,
        "keep": project.keep,
        "block seam": project.blocks[0].seam,
        "trim": project.blocks[0].trim,
        "margin": project.blocks[0].pieces[0].margins.left,
        "stabiliser": project.stabiliser.margin,
        "mitred extra": project.borders[0].extra,
        "butted extra": project.borders[1].extra,
        "cornered extra": project.borders[2].extra,
        "border seam": project.borders[0].seam,
        "border shortest": project.borders[0].shortest,
        "strip": project.binding.strip,
        "binding seam": project.binding.seam,
        "binding extra": project.binding.extra,
        "binding shortest": project.binding.shortest,
        "backing overhang": project.backing.overhang,
        "backing seam": project.backing.seam,
        "batting overhang": project.batting.overhang,
        "patch seam": project.blocks[0].patches[0].seam,
        "sleeve depth": project.sleeve.depth,
        "sleeve seam": project.sleeve.seam,
        "sleeve extra": project.sleeve.extra,
        "selvage": oat.selvage,
        "square up": oat.square_up,
        "sold by": oat.sold_by,
        "on hand": oat.on_hand[0].square_up,
    }


def test_every_key_is_read() -> None:
    """Tests that a file that uses every key comes out as it was written."""
    assert parse_project(FULL, "kite.toml") == KITE


def test_defaults_of_an_inch_project() -> None:
    """Tests the lengths that hold where an inch project says nothing."""
    wanted = {
        "ruler": "1/8", "seam": "1/4", "keep": "4", "block seam": "1/4", "trim": "1/4", "margin": "1/4",
        "stabiliser": "1", "mitred extra": "6", "butted extra": "0", "border seam": "1/4", "border shortest": "12",
        "strip": "5/2", "binding seam": "1/4", "binding extra": "14", "binding shortest": "12",
        "backing overhang": "4", "backing seam": "1/4", "batting overhang": "4", "selvage": "1/2", "square up": "1/2",
        "sold by": "9/2", "on hand": "1/2", "cornered extra": "0", "patch seam": "1/4",
        "sleeve depth": "4", "sleeve seam": "1/4", "sleeve extra": "2",
    }  # fmt: skip

    assert _lengths(_short("in")) == {what: Fraction(length) for what, length in wanted.items()}


def test_defaults_of_a_centimetre_project() -> None:
    """Tests that metric projects have round metric defaults."""
    millimetres: dict[str, int | Fraction] = {
        "ruler": 1, "seam": 7, "keep": 100, "block seam": 7, "trim": 7, "margin": 7, "stabiliser": 25,
        "mitred extra": 150, "butted extra": 0, "border seam": 7, "border shortest": 300, "strip": 65,
        "binding seam": 7, "binding extra": 350, "binding shortest": 300, "backing overhang": 100,
        "backing seam": 7, "batting overhang": 100, "selvage": 10, "square up": 10, "sold by": 100, "on hand": 10,
        "cornered extra": 0, "patch seam": 7, "sleeve depth": 100,
        "sleeve seam": F("6.35"), "sleeve extra": F("50.8"),  # 1/4 in and 2 in, as a sleeve's are told everywhere
    }  # fmt: skip

    assert _lengths(_short("cm")) == {what: length * unit_length("mm") for what, length in millimetres.items()}


def test_defaults_that_are_no_lengths() -> None:
    """Tests choices, counts and flags that hold where a project says nothing."""
    project = _short("in")
    oat = project.fabrics["oat"]

    assert (project.style, project.stages, project.copies) == (Style.ROTARY, 3, 1)
    assert (project.borders[0].corners, project.borders[0].cut) == (Corners.MITRED, Cut.BEST)
    assert project.borders[2].cornerstones is None
    assert project.setting == Setting(across=2, down=3)
    assert (project.sashing, project.stabiliser and project.stabiliser.overlap) == (None, None)
    assert project.binding is not None
    assert project.binding.grain is StripGrain.CROSSWISE
    assert project.blocks[0].pieces[0].covers == (F(1), F(1))
    assert (oat.woven, oat.wash, oat.buy, oat.way, oat.price) == (True, False, True, Way.ANY, None)
    assert project.backing is not None
    assert project.backing.panels is Panels.BEST


def test_a_single_block_fills_the_setting() -> None:
    """Tests that one kind of block without a count is there as often as the quilt has room."""
    assert _short("in").blocks[0].count == 6


def test_blocks_on_point_fill_the_places_between_too() -> None:
    """Tests that 2 × 3 blocks on point have 1 × 2 more between them, which a single kind fills."""
    project = _short("in", "down = 3", 'down = 3\nsetting = "on point"\ntriangles = "wool"')

    assert project.setting == Setting(across=2, down=3, on_point=True, triangles="wool")
    assert (project.setting.blocks, project.blocks[0].count) == (8, 8)


def test_the_least_of_sashing() -> None:
    """Tests that sashing has no cornerstones and none outside where it says nothing."""
    project = _short("in", "[stabiliser]", '[sashing]\nwidth = 2\nfabric = "oat"\n[stabiliser]')

    assert project.sashing == Sashing(width=F(2), fabric="oat")


@pytest.mark.parametrize(
    ("shape", "finished", "yields"),
    [
        ("square", "[5, 5]", (1,)),
        ("rectangle", "[5, 4]", (1,)),
        ("half-square", "[5, 5]", (2, 8)),
        ("quarter-square", "[5, 5]", (4,)),
        ("geese", "[5, 2.5]", (4, 1)),
    ],
)
def test_patches_of_every_shape(shape: str, finished: str, yields: tuple[int, ...]) -> None:
    """Tests that each shape is read, with what a cut square may give of it; the first of these is the default."""
    plain = f'patch = "{shape}"\nfinished = {finished}\n' + ('sky = "wool"\n' if shape == "geese" else "")
    old = 'patch = "half-square"\nfinished = [5, 5]\n'
    lines = [plain, *(f"{plain}yields = {number}\n" for number in yields)]
    patches = [_short("in", old, line).blocks[0].patches[0] for line in lines]

    assert [patch.yields for patch in patches] == [yields[0], *yields]
    assert {patch.shape for patch in patches} == {PatchShape(shape)}
    assert {(patch.sky, patch.count, patch.grain) for patch in patches} == {
        ("wool" if shape == "geese" else None, 1, None)
    }


@pytest.mark.parametrize("grain", ["crosswise", "lengthwise", "bias", "any"])
def test_bindings_of_every_grain(grain: str) -> None:
    """Tests that each grain of a binding is read."""
    binding = _short("in", "[binding]", f'[binding]\ngrain = "{grain}"').binding

    assert binding is not None
    assert binding.grain is StripGrain(grain)


def test_the_first_border_is_sewn_on_with_the_blocks_seam() -> None:
    """Tests that the blocks' seam holds for the first border's inner line and the project's further out."""
    project = _short("in", "finished = [20, 20]", 'finished = [20, 20]\nseam = "1/2 in"')

    assert [border.seam for border in project.borders] == [F(1, 2), F(1, 4), F(1, 4)]


def test_blocks_with_their_own_batting_need_it_under_the_borders_alone() -> None:
    """Tests the default of what batting lies under, with and without batting in the blocks."""
    project = _short("in")
    carrying = _short("in", "[[border]]", '[[block.piece]]\nname = "soft"\nfabric = "wool"\n[[border]]')

    assert project.batting is not None
    assert carrying.batting is not None
    assert (project.batting.under, carrying.batting.under) == ("all", "borders")


def test_unwashed_cloth_counts_as_ready_where_nothing_is_washed() -> None:
    """Tests that a fabric that is not washed before cutting never shrinks on hand either, and is not called washed."""
    oat = _short("in", "width = 110", 'width = 110\nshrinks = ["9 %", "9 %"]').fabrics["oat"]
    (cloth,) = cloths_on_hand(oat, F(1, 8))

    assert oat.on_hand[0].washed is False
    assert (cloth.length, cloth.width) == (oat.on_hand[0].length, oat.width)


def test_foreign_measures_of_cloth_end_as_decimals() -> None:
    """Tests that centimetres in an inch project go down at a millionth for what can be used, up for what is lost."""
    text = """
    [project]
    name = "Bag"
    [[piece]]
    name = "pocket"
    fabric = "oat"
    cut = ["20 cm", 11]
    [fabric.oat]
    width = "110 cm"
    selvage = "1 cm"
    square_up = "1 cm"
    sold_by = "10 cm"
    on_hand = [{ length = "2 m" }, { width = "50 cm", length = "55 cm", square_up = "1 mm" }]
    """
    project = parse_project(text, "bag.toml")
    oat = project.fabrics["oat"]

    # 110 cm are 43.3070866 in, 1 cm 0.39370079, 2 m 78.7401575, 50 cm 19.6850394, 1 mm 0.039370079 (derived, U1)
    assert (oat.width, oat.selvage, oat.square_up) == (F("43.307086"), F("0.393701"), F("0.393701"))
    assert [(cloth.width, cloth.length, cloth.square_up) for cloth in oat.on_hand] == [
        (None, F("78.740157"), F("0.393701")),
        (F("19.685039"), F("21.653543"), F("0.039371")),
    ]
    assert (oat.sold_by, project.pieces[0].cut[0]) == (unit_length("cm") * 10, unit_length("cm") * 20)


def test_inches_in_a_centimetre_project_stay_as_measured() -> None:
    """Tests that a measure that is a decimal number of the project's unit is not touched."""
    project = _short("cm", "width = 150", 'width = 150\nselvage = "1/8 in"')

    assert project.fabrics["wool"].selvage == F(1, 8)


def test_bare_numbers_are_in_the_projects_unit() -> None:
    """Tests that 20 is 20 cm in a centimetre project, as a number and as text."""
    project = _short("cm", 'name = "Kite"', 'name = "Kite"\nseam = "0.5"')

    assert project.blocks[0].finished[0] == parse_length("20 cm", unit="in")
    assert project.seam == parse_length("5 mm", unit="in")


@pytest.mark.parametrize(("field", "fits"), [("199.5", True), ("199.4", False)])
def test_a_field_may_be_short_by_half_a_millimetre(field: str, fits: bool) -> None:
    """Tests that a stitched block of 20 × 18 cm may exceed its stitch field by 0.5 mm, either way round."""
    old, new = "finished = [20, 20]", f'finished = [20, 18]\nhoop = ["180 mm", "{field} mm"]'

    if fits:
        assert _short("cm", old, new).blocks[0].finished == (20 * unit_length("cm"), 18 * unit_length("cm"))
    else:
        with pytest.raises(InputError, match="larger than this field"):
            _short("cm", old, new)


def test_a_smaller_layer_may_stop_short_where_another_reaches() -> None:
    """Tests that a margin inside the seam is an error for the cloth that carries the block alone."""
    layers = """
[[block.piece]]
name = "inlay"
fabric = "oat"
margin = 0
[[block.piece]]
name = "soft"
fabric = "film"
margin = 0
"""
    text = FULL.replace('  [[block.piece]]\n  name = "fold"', f'{layers}  [[block.piece]]\n  name = "fold"')

    assert [piece.name for piece in parse_project(text, "kite.toml").blocks[0].pieces[:3]] == [
        "ground",
        "inlay",
        "soft",
    ]
