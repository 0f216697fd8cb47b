"""The centre as planned and as measured, and what follows from it outward."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from ellwand.lengths import unit_length
from ellwand.model import Quilt
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.quilt.sizes import centre_seam, measure, planned_centre

_Sizes = Callable[..., dict[str, tuple[str, str, int]]]

_QUILT = """
[quilt]
across = {across}
down = {down}
{keys}
[[block]]
name = "star"
finished = [{finished}]
seam = "{seam}"
  [[block.piece]]
  name = "ground"
  fabric = "oat"
"""
_SASHES = '[sashing]\nwidth = {width}\nfabric = "oat"\noutside = {outside}\n'
_RIM = '[[border]]\nname = "rim"\nwidth = {width}\nfabric = "oat"\ncorners = "butted"\n'


def _text(
    across: int = 3, down: int = 4, *, finished: str = "8, 8", seam: str = "1/4 in", keys: str = "", after: str = ""
) -> str:
    return _QUILT.format(across=across, down=down, finished=finished, seam=seam, keys=keys) + after


def _measured(across: str, down: str, *, seam: str = "1/4 in", keys: str = "", after: str = "") -> str:
    return _text(keys=f'{keys}\nmeasured = ["{across}", "{down}"]', seam=seam, after=after)


def _project(text: str, basics: str = "") -> Project:
    fabric = "[fabric.oat]\nwidth = 60\nselvage = 0\n"
    return parse_project(f'[project]\nname = "Trial"\n{basics}\n{text}{fabric}', "trial.toml")


def _planned(project: Project) -> list[str]:
    assert project.setting is not None
    return [str(side) for side in planned_centre(project, project.setting)]


def test_r11_blocks_and_sashes_add_up() -> None:
    """Three 10-in blocks with four 1-in sashes are 34 in."""
    # Source: practitioner's article (R11)
    project = _project(_text(3, 1, finished="10, 10", after=_SASHES.format(width=1, outside="true")))
    assert _planned(project)[0] == "34"
    # derived: without the outer two, 32; one row has none above or below
    inside = _project(_text(3, 1, finished="10, 10", after=_SASHES.format(width=1, outside="false")))
    assert (_planned(project), _planned(inside)) == (["34", "12"], ["32", "10"])


def test_r12_a_border_goes_on_both_sides() -> None:
    """A centre of 70 × 86 with a border of 6 finishes at 82 × 98."""
    # Source: class slides (R12)
    sizes = measure(_project(_text(1, 1, finished="70, 86", after=_RIM.format(width=6))))
    assert sizes is not None
    assert [str(side) for side in sizes.finished] == ["82", "98"]


def test_everything_outward_follows_what_was_measured(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """Borders, backing and batting go by the sewn centre; blocks stay as planned."""
    round_it = _RIM.format(width=2) + '[backing]\nfabric = "oat"\noverhang = 1\n'
    round_it += '[batting]\nfabric = "oat"\noverhang = 1\nunder = "borders"\n'
    quilt = of_pieces(_measured("23 3/4 in", "31 7/8 in", after=round_it), usable="60")
    assert quilt.sizes is not None
    # planned 24 × 32; measured 23 3/4 × 31 7/8; + 2·2; + 2·1/4
    assert [str(side) for side in quilt.sizes.centre + quilt.sizes.raw] == ["95/4", "255/8", "113/4", "291/8"]
    assert cut_sizes(quilt) == {
        "star/ground": ("17/2", "17/2", 12),
        # sides 31 7/8 + 2·1/4; top and bottom 23 3/4 + 2·2 + 2·1/4; wide 2 + 2·1/4
        "rim/left": ("5/2", "259/8", 1),
        "rim/right": ("5/2", "259/8", 1),
        "rim/top": ("5/2", "113/4", 1),
        "rim/bottom": ("5/2", "113/4", 1),
        # raw 28 1/4 × 36 3/8, and 1 in on each side
        "backing/1": ("121/4", "307/8", 1),
        # wide 2 + 1/4 + 1; between the sides as the centre; the sides over all
        "batting/top": ("95/4", "13/4", 1),
        "batting/bottom": ("95/4", "13/4", 1),
        "batting/left": ("13/4", "307/8", 1),
        "batting/right": ("13/4", "307/8", 1),
    }
    assert quilt.warnings == ()


def test_a_quarter_inch_off_is_let_be(of_pieces: Callable[..., Quilt]) -> None:
    """Up to 1/4 in on a side nothing is said; a hair more, and that side alone is told."""
    assert of_pieces(_measured("24 1/4 in", "31 3/4 in"), usable="60").warnings == ()
    quilt = of_pieces(_measured("24 1/4 in", "31 5/8 in"), usable="60")
    assert quilt.warnings == (
        "quilt: the centre is measured 31 5/8 in down, and 32 in as planned: what is sewn round it is cut to "
        "31 5/8 in.",
    )


def test_raw_edges_that_were_measured(of_pieces: Callable[..., Quilt]) -> None:
    """Two seams more than planned may be the raw edges."""
    rim = _RIM.format(width=2)
    quilt = of_pieces(_measured("25 in", "34 in", seam="1/2 in", after=rim), usable="60")
    assert quilt.warnings == (
        "quilt: the centre is measured 25 in across, and 24 in as planned: what is sewn round it is cut to 25 in. "
        "If this is from raw edge to raw edge, take two seams, 1 in, off.",
        "quilt: the centre is measured 34 in down, and 32 in as planned: what is sewn round it is cut to 34 in.",
    )
    # two seams less are no raw edges
    (less, _) = of_pieces(_measured("23 in", "31 in", seam="1/2 in", after=rim), usable="60").warnings
    assert less.endswith("cut to 23 in.")


def test_measured_on_point(of_pieces: Callable[..., Quilt], cut_sizes: _Sizes) -> None:
    """The plan has √2 in it, a measured centre has not; the triangles stay as planned."""
    keys = 'setting = "on point"\ntriangles = "oat"'
    # 24 · √2 = 33.94, 32 · √2 = 45.25
    quilt = of_pieces(_measured("33 3/4 in", "44 7/8 in", keys=keys, after=_RIM.format(width=2)), usable="60")
    assert quilt.sizes is not None
    assert quilt.sizes.centre == (Fraction(135, 4), Fraction(359, 8))
    found = cut_sizes(quilt)
    # 44 7/8 + 2·1/4; the chart's 12 5/8 for blocks of 8 (M6)
    assert (found["rim/left"], found["triangle/side"][0]) == (("5/2", "363/8", 1), "101/8")
    assert quilt.warnings == (
        "quilt: the centre is measured 44 7/8 in down, and ≈ 45 1/4 in as planned: what is sewn round it is cut to "
        "44 7/8 in.",
    )


def test_measured_in_centimetres(of_pieces: Callable[..., Quilt]) -> None:
    """Raw edges of a centimetre project are its seams of 7 mm away, told in centimetres."""
    quilt = of_pieces(
        _text(2, 2, finished="20, 20", seam="7 mm", keys='measured = ["41.4 cm", "40 cm"]'),
        basics='unit = "cm"',
        usable="110",
    )
    assert quilt.sizes is not None
    assert quilt.sizes.centre[0] == unit_length("mm") * 414
    assert quilt.warnings == (
        "quilt: the centre is measured 41.4 cm across, and 40 cm as planned: what is sewn round it is cut to 41.4 cm. "
        "If this is from raw edge to raw edge, take two seams, 1.4 cm, off.",
    )


def test_the_seam_round_the_centre() -> None:
    """It is the first border's, else the binding's, else the project's."""
    binding = '[binding]\nfabric = "oat"\nseam = "3/8 in"\n'
    rim = _RIM.format(width=2) + 'seam = "1/8 in"\n'
    texts = (_text(), _text(after=binding), _text(after=rim + binding))
    assert [str(centre_seam(_project(text))) for text in texts] == ["1/4", "3/8", "1/8"]


@pytest.mark.parametrize(
    ("keys", "after", "told"),
    [
        ("", "", "trim 1/4 in off the sewn centre all round."),
        ("", _SASHES.format(width=1, outside="false"), "trim 1/4 in off the outer sides of the outer blocks; sashes"),
        ("", _SASHES.format(width=1, outside="true"), ""),
        ('setting = "on point"\ntriangles = "oat"', "", ""),
    ],
)
def test_what_reaches_the_line_round_the_blocks(
    of_pieces: Callable[..., Quilt], keys: str, after: str, told: str
) -> None:
    """Blocks trimmed for 1/2 in meet an edge of 1/4 in, unless sashes or triangles, cut for it, lie between."""
    quilt = of_pieces(_text(seam="1/2 in", keys=keys, after=after), usable="60")
    found = [text for text in quilt.warnings if text.startswith("round the blocks")]
    assert len(found) == (1 if told else 0)
    assert all(told in text for text in found)


def test_blocks_with_too_little_for_the_line(of_pieces: Callable[..., Quilt]) -> None:
    """An edge with a wider seam than the blocks' needs more left on them."""
    binding = '[binding]\nfabric = "oat"\nseam = "3/8 in"\nstrip = 3\n'
    (warning,) = of_pieces(_text(after=binding), usable="60").warnings
    assert warning == (
        "round the blocks the seam is 3/8 in, and they are trimmed for 1/4 in: leave 1/8 in more on the outer sides of "
        "the outer blocks, and in their margins."
    )
