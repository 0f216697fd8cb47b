"""The quilt's sizes on the way, from the blocks to the bound edge, as text."""

from __future__ import annotations

from collections.abc import Iterator

from ellwand.lengths import Notation
from ellwand.model import Quilt, Sizes
from ellwand.project.tables import Block, Project, Setting
from ellwand.quilt.sizes import planned_centre
from ellwand_cli.views.tables import wrapped

__all__ = ["sizes_on_the_way"]

_WIDTH = 100  # signs a line, for paper
_REMARK = 34  # least signs for what a size is, with the gaps before it
_HEADS = ("sizes on the way", "across × down", "")
Row = tuple[str, str, str]


def sizes_on_the_way(project: Project, quilt: Quilt) -> str:
    """A table of every block's sizes and the quilt's, with what each is; nothing where there is no quilt."""
    if quilt.sizes is None or project.setting is None:
        return ""
    rows = [row for block in project.blocks for row in _block(project.notation, block)]
    rows += [*_centre(project, project.setting, quilt.sizes), *_edges(project, quilt.sizes)]
    name, size = (max(len(row[column]) for row in (_HEADS, *rows)) for column in (0, 1))
    return "\n".join(_line(row, min(name, _WIDTH - size - _REMARK), size) for row in (_HEADS, *rows))


def _line(row: Row, name: int, size: int) -> str:
    """One row; a title too long for its column stands on a line of its own."""
    title, pair, remark = row
    above, title = (f"{title}\n", "") if len(title) > name else ("", title)
    return above + wrapped(remark, _WIDTH, first=f"{title:<{name}}  {pair:<{size}}  ", rest=" " * (name + size + 4))


def _block(notation: Notation, block: Block) -> Iterator[Row]:
    title = f"block {block.name}"
    if block.hooped:
        yield f"{title}, stitched", notation.pair(*block.stitched), "its stitched edge in the hoop"
    name, remark = ("trimmed", "after stitching") if block.hooped else ("unfinished", "as sewn")
    seam = f", with a seam of {notation.show(block.seam)} on every side"
    yield f"{title}, {name}", notation.pair(*block.trimmed), remark + seam
    yield f"{title}, finished", notation.pair(*block.finished), f"seam line to seam line; {block.count} of them"


def _centre(project: Project, setting: Setting, sizes: Sizes) -> Iterator[Row]:
    pair = project.notation.pair
    planned = _setting_words(project, setting)
    if setting.measured is None:
        yield "centre", pair(*sizes.centre), planned
        return
    yield "centre, as planned", pair(*planned_centre(project, setting)), planned
    yield "centre, as measured", pair(*sizes.centre), "all that follows is worked out from this"


def _setting_words(project: Project, setting: Setting) -> str:
    """How the centre is put together: "3 × 4 blocks with sashing between and round them"."""
    words = f"{setting.across} × {setting.down} blocks"
    if setting.on_point:
        between = setting.blocks - setting.across * setting.down
        words += f" on point and {between} between them" if between else " on point"
    if project.sashing is not None:
        words += " with sashing between and round them" if project.sashing.outside else " with sashing between them"
    return words


def _edges(project: Project, sizes: Sizes) -> Iterator[Row]:
    notation = project.notation
    bound = project.binding is not None
    borders = "with its borders, " if project.borders else ""
    seam = notation.show((sizes.raw[0] - sizes.finished[0]) / 2)
    edge = "binding's" if bound else "edge's"
    yield "quilt, finished", notation.pair(*sizes.finished), f"{borders}inside the {edge} seam"
    yield "quilt, raw edge", notation.pair(*sizes.raw), f"the sewn top, with a seam of {seam} on every side"
    if bound:
        yield "quilt, bound", notation.pair(*sizes.bound), "all layers trimmed level, and bound"
