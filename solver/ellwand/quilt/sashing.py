"""Sashing: strips between the blocks, and round them; cornerstones where they meet.

The centre is a grid of columns and rows, of blocks and of sashes by turns. The lines of its edge have the seam of the
line round the centre, all others the blocks'; each piece takes the seams of the lines that it lies between::

    +-------+---+-------+---+-------+      upright: | between the blocks of a row
    | block | | | block | | | block |      level:   – between two rows, each as wide as a block,
    +-------+---+-------+---+-------+                 or one through the whole centre
    |   –   | + |   –   | + |   –   |      + cornerstones
    +-------+---+-------+---+-------+
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ellwand.lengths import round_up
from ellwand.model import Pair, Part, Piece, Role
from ellwand.project.fabrics import hangs
from ellwand.project.tables import Fabric, Join, Project, Sashing, Setting
from ellwand.quilt.pieces import cut_size, lie, part_of, require_fit, strip_width, sum_text, sums_text
from ellwand.quilt.sizes import centre_seam, planned_centre
from ellwand.quilt.strips import Strip, join_loss
from ellwand.quilt.ways import StripSet, part_of_strips

__all__ = ["SashPlace", "sash_places", "sashing_parts"]

_MEETING = "where sashes meet"


class _Kind(Enum):
    """What a cell of the grid is, but for blocks."""

    UPRIGHT = "upright"
    LEVEL = "level"
    CORNERSTONE = "cornerstone"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Band:
    """A column or row of the grid: `of` blocks, sashes or the whole; `outer` of its two lines are the centre's edge."""

    of: str
    finished: Fraction
    outer: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cell:
    """A place of the grid that is not a block's."""

    column: _Band
    row: _Band

    @property
    def kind(self) -> _Kind:
        """What it is, from what crosses there."""
        if self.column.of == self.row.of:
            return _Kind.CORNERSTONE
        return _Kind.UPRIGHT if self.column.of == "sash" else _Kind.LEVEL

    @property
    def finished(self) -> Pair:
        """Finished size."""
        return self.column.finished, self.row.finished

    @property
    def is_plain(self) -> bool:
        """Whether it lies as most of its kind do, or as all: not apart from others at the edge."""
        return 1 not in (self.column.outer, self.row.outer)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """The centre of a project with sashing, as a grid.

    Parameters
    ----------
    seam, edge
        Of the lines at the blocks, and of those at the edge.
    """

    project: Project
    setting: Setting
    sashing: Sashing
    seam: Fraction
    edge: Fraction

    @property
    def runs_through(self) -> bool:
        """Whether level sashes run through the whole centre."""
        return self.sashing.cornerstones is None

    def exact(self, band: _Band) -> Fraction:
        """Cut size of what lies in `band`, before rounding."""
        return band.finished + (2 - band.outer) * self.seam + band.outer * self.edge

    def terms(self, band: _Band) -> str:
        """The sum behind :meth:`exact`."""
        bare = self.project.notation.bare
        seams = [self.seam] * (2 - band.outer) + [self.edge] * band.outer
        told = f"2 × {bare(seams[0])}" if seams[0] == seams[1] else f"{bare(seams[0])} + {bare(seams[1])}"
        return f"{bare(band.finished)} {band.of} + {told} seams"

    def fabric(self, kind: _Kind) -> Fabric:
        """What pieces of a kind are cut from."""
        corner = self.sashing.cornerstones if kind is _Kind.CORNERSTONE else None
        return self.project.fabrics[corner or self.sashing.fabric]


_Cells = Counter[_Cell]


@dataclass(frozen=True, slots=True, kw_only=True)
class SashPlace:
    """Where a sash or a cornerstone lies in the centre as planned: its piece, upper left corner, finished size."""

    piece: str
    x: Fraction
    y: Fraction
    size: Pair


def sash_places(project: Project) -> tuple[SashPlace, ...]:
    """Every sash and cornerstone of one quilt where it lies, row by row; none without sashing."""
    grid = _grid(project)
    if grid is None:
        return ()
    groups = _groups(grid)
    names = {cell: name for name, cells in zip(_names(groups), groups, strict=True) for cell in cells}
    places = []
    for y, row in _placed(_bands(grid, 1)):
        through = [_whole(grid)] if grid.runs_through and row.of == "sash" else _bands(grid, 0)
        for x, column in _placed(through):
            cell = _Cell(column=column, row=row)
            if "sash" in (column.of, row.of):
                places.append(SashPlace(piece=names[cell], x=x, y=y, size=cell.finished))
    return tuple(places)


def _placed(bands: list[_Band]) -> Iterator[tuple[Fraction, _Band]]:
    """Bands with where they begin."""
    start = Fraction(0)
    for band in bands:
        yield start, band
        start += band.finished


def sashing_parts(project: Project) -> tuple[Part, ...]:
    """A part for every size of sashes and of cornerstones, where there is sashing.

    Raises
    ------
    NoPlanError
        A sash or a cornerstone does not go on its cloth.
    """
    grid = _grid(project)
    if grid is None:
        return ()
    groups = _groups(grid)
    return tuple(_part(grid, name, cells) for name, cells in zip(_names(groups), groups, strict=True))


def _grid(project: Project) -> _Grid | None:
    """The centre as a grid, where there is sashing."""
    if project.sashing is None or project.setting is None:
        return None
    return _Grid(
        project=project,
        setting=project.setting,
        sashing=project.sashing,
        seam=project.blocks[0].seam,
        edge=centre_seam(project),
    )


def _bands(grid: _Grid, axis: int) -> list[_Band]:
    """The columns (axis 0) or rows (axis 1) of the grid, in order."""
    blocks = (grid.setting.across, grid.setting.down)[axis]
    block = grid.project.blocks[0].finished[axis]
    first, after_last = (0, 2 * blocks + 1) if grid.sashing.outside else (1, 2 * blocks)
    return [
        _Band(
            of="block" if number % 2 else "sash",
            finished=block if number % 2 else grid.sashing.width,
            outer=(number == first) + (number + 1 == after_last),
        )
        for number in range(first, after_last)
    ]


def _whole(grid: _Grid) -> _Band:
    """What a sash that runs through takes: the whole width of the centre."""
    return _Band(of="centre", finished=planned_centre(grid.project, grid.setting)[0], outer=2)


def _cells(grid: _Grid) -> _Cells:
    """What lies in the grid but blocks; level sashes that run through take all that crosses them."""
    columns, rows = Counter(_bands(grid, 0)), Counter(_bands(grid, 1))
    if grid.runs_through:
        whole = _whole(grid)
        through = {_Cell(column=whole, row=row): number for row, number in rows.items() if row.of == "sash"}
        rows = Counter({row: number for row, number in rows.items() if row.of == "block"})
    else:
        through = {}
    crossed = {_Cell(column=c, row=r): columns[c] * rows[r] for c in columns for r in rows if "sash" in (c.of, r.of)}
    return Counter({**crossed, **through})


def _groups(grid: _Grid) -> list[_Cells]:
    """Cells of one cut size together: upright ones, level ones, cornerstones, and of each the plain ones first."""
    groups: dict[object, _Cells] = {}
    cells = _cells(grid)
    for cell in sorted(cells, key=_order):
        groups.setdefault(_shape(grid, cell), Counter())[cell] += cells[cell]
    return list(groups.values())


def _order(cell: _Cell) -> tuple[int, bool]:
    return list(_Kind).index(cell.kind), not cell.is_plain


def _shape(grid: _Grid, cell: _Cell) -> object:
    """What pieces that are cut alike share; of cloth of any way, upright sashes and level ones may do."""
    size = _cut(grid, cell)
    if grid.runs_through:
        return cell.kind, size
    return cell.kind is _Kind.CORNERSTONE, size if hangs(grid.fabric(cell.kind)) else tuple(sorted(size))


def _cut(grid: _Grid, cell: _Cell) -> Pair:
    return cut_size((grid.exact(cell.column), grid.exact(cell.row)), grid.project.ruler)


def _names(groups: list[_Cells]) -> list[str]:
    """Names of the pieces: "sash" where one word does, else what tells them apart."""
    sashes = sum(_first(cells).kind is not _Kind.CORNERSTONE for cells in groups)
    names: list[str] = []
    for cells in groups:
        names.append(next(name for name in _possible_names(cells, alone=sashes == 1) if name not in names))
    return names


def _possible_names(cells: _Cells, *, alone: bool) -> Iterator[str]:
    """Names in the order in which they are given away: what is plain has come first."""
    kind, *others = {cell.kind for cell in cells}
    if kind is _Kind.CORNERSTONE:
        yield from ("cornerstone", _edge_name(cells))
        return
    base = "sash" if others or alone else f"sash/{kind.value}"
    yield from (base, f"{base}/edge")


def _edge_name(corners: _Cells) -> str:
    """Name of cornerstones at the edge, in the corners, or at the left and right alone."""
    if not all(cell.column.outer for cell in corners):
        return "cornerstone/edge"
    return "cornerstone/corner" if all(cell.row.outer for cell in corners) else "cornerstone/side"


def _first(cells: _Cells) -> _Cell:
    return next(iter(cells))


def _part(grid: _Grid, name: str, cells: _Cells) -> Part:
    cell = _first(cells)
    if grid.runs_through and cell.kind is _Kind.LEVEL:
        return part_of_strips(_through(grid, name, cells))
    return part_of(require_fit(grid.project, _piece(grid, name, cells)))


def _piece(grid: _Grid, name: str, cells: _Cells) -> Piece:
    cell = _first(cells)
    fabric = grid.fabric(cell.kind)
    cut = _cut(grid, cell)
    lies = lie(fabric, cut, None)
    return Piece(
        id=name,
        fabric=fabric.id,
        role=Role.SASHING,
        across=lies.across,
        along=lies.along,
        count=cells.total() * grid.project.copies,
        turnable=lies.turnable,
        finished=cell.finished,
        why=sums_text(
            grid.project.notation,
            (grid.terms(cell.column), grid.terms(cell.row)),
            (grid.exact(cell.column), grid.exact(cell.row)),
            cut,
        ),
        where=_where(cells),
    )


def _through(grid: _Grid, name: str, cells: _Cells) -> StripSet:
    """Level sashes that run through: joined on the diagonal where they must, no bit shorter than a block is wide."""
    project, cell = grid.project, _first(cells)
    fabric = grid.fabric(cell.kind)
    run, width = _cut(grid, cell)
    strip = Strip(
        id=name,
        fabric=fabric.id,
        role=Role.SASHING,
        upright=False,
        width=width,
        run=run,
        exact=grid.exact(cell.column),
        count=cells.total() * project.copies,
        finished=cell.finished,
        why=f"width {sum_text(project.notation, grid.terms(cell.row), grid.exact(cell.row), width)}; "
        f"length {sum_text(project.notation, grid.terms(cell.column), grid.exact(cell.column), run)}",
        after="",
        where=_where(cells),
        join=Join.DIAGONAL,
        loss=join_loss(Join.DIAGONAL, width, project.seam),
        shortest=min(round_up(project.blocks[0].finished[0], project.ruler), strip_width(project, fabric.id)),
    )
    return StripSet(project=project, name=name, fabric=fabric, strips=(strip,))


def _where(cells: Iterable[_Cell]) -> str:
    """Places of `cells`; one that begins as another does is a part of it, and not told."""
    places = dict.fromkeys(_place(cell) for cell in cells)
    if len(places) > 1 and all(place.startswith(_MEETING) for place in places):
        return _MEETING
    return ", ".join(
        place for place in places if not any(place != other and place.startswith(other) for other in places)
    )


def _place(cell: _Cell) -> str:
    if cell.kind is _Kind.CORNERSTONE:
        at_edges = (cell.column.outer > 0) + (cell.row.outer > 0)
        return _MEETING + ("", " at the edges", " in the corners")[at_edges]
    if cell.kind is _Kind.UPRIGHT:
        if cell.column.outer:
            return "left and right of all blocks"
        return "between the blocks of a row" + (" in the first and last row" if cell.row.outer == 1 else "")
    if cell.row.outer:
        return "above and below all blocks"
    if cell.column.of == "centre":
        return "between two rows"
    return "between the blocks of a column" + (" at the left and right" if cell.column.outer == 1 else "")
