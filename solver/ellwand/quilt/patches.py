"""Pieced patches of the blocks: squares and rectangles, and triangles cut from squares on the diagonal.

A triangle's corners are cut long by its seams: with a seam on every side, a square cut once is the finished leg
+ (2 + √2) seams, a square cut twice the finished long side + (2 + 2√2) seams. Printed charts round these to 7/8 and
1 1/4 in for seams of 1/4 in.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from ellwand.lengths import ROOT_2, Notation
from ellwand.model import Pair, Part, Piece, Role
from ellwand.project.fabrics import hangs
from ellwand.project.tables import Block, Fabric, Patch, PatchShape, Project, Way
from ellwand.quilt.pieces import cloth_word, cut_size, in_blocks, lie, part_of, require_fit, sums_text

__all__ = ["patch_parts", "patch_warnings"]

_NOUNS = {  # what one patch of a shape is called, and several
    PatchShape.HALF_SQUARE: ("triangle", "triangles"),
    PatchShape.QUARTER_SQUARE: ("triangle", "triangles"),
    PatchShape.GEESE: ("goose", "geese"),
}
_ALMOST = Fraction(5, 1000)  # of a block: sizes in centimetres rarely add up to the last bit
_NOT_ALIKE = "the print does not lie the same way on all"
_FOUR_GEESE = (
    "four geese from a square; sew a small square to two opposite corners on both sides of the diagonal and cut apart "
    "on it, then one to the free corner of each half in the same way"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shape:
    """A shape that is cut for a patch: exact size, the sums that gave it across and down, and what is done with it."""

    size: Pair
    terms: tuple[str, str]
    after: str = ""


def patch_parts(project: Project) -> tuple[Part, ...]:
    """A part for every patch of every block; geese have another for their sky.

    Raises
    ------
    NoPlanError
        A patch is wider than its cloth.
    """
    return tuple(
        part_of(require_fit(project, piece))
        for block in project.blocks
        for patch in block.patches
        for piece in _pieces(project, block, patch)
    )


def _pieces(project: Project, block: Block, patch: Patch) -> tuple[Piece, ...]:
    """The shapes that a patch is cut as: one, or two for geese; whole squares for each copy, as kits need them."""
    squares = patch.share[0] if patch.share else ceil(patch.count * block.count / patch.yields)
    count = project.copies * squares
    large = _piece(project, block, patch, _shape(project.notation, patch), count)
    if patch.sky is None:
        return (large,)
    return large, _sky(project, block, patch, patch.sky, count)


def _sky(project: Project, block: Block, patch: Patch, fabric: str, large: int) -> Piece:
    """The small squares: four for each `large` square of four geese, two for a single goose."""
    height = patch.finished[1]
    sky = replace(patch, name=f"{patch.name}/sky", fabric=fabric, finished=(height, height), grain=None)
    each = 4 if patch.yields > 1 else 2
    small = _piece(project, block, sky, _sky_shape(project.notation, sky), large * each)
    return replace(small, where=in_blocks(block, f"beside {_counted(patch)}"), spare=_spare(patch) * each)


def _piece(project: Project, block: Block, patch: Patch, shape: _Shape, count: int) -> Piece:
    cut = cut_size(shape.size, project.ruler)
    lies = lie(project.fabrics[patch.fabric], cut, patch.grain)
    return Piece(
        id=f"{block.name}/{patch.name}",
        fabric=patch.fabric,
        role=Role.BLOCK,
        across=lies.across,
        along=lies.along,
        count=count,
        turnable=lies.turnable,
        finished=patch.finished,
        why=sums_text(project.notation, shape.terms, shape.size, cut),
        after=shape.after,
        where=in_blocks(block, _counted(patch), patch.share),
        spare=_spare(patch),
    )


def _spare(patch: Patch) -> int:
    """Squares for the spare patches that are wished for."""
    return ceil(patch.spare / patch.yields)


def _counted(patch: Patch) -> str:
    """How many are in a block: "2 geese", or a bare number of squares and rectangles."""
    one, several = _NOUNS.get(patch.shape, ("", ""))
    return f"{patch.count} {one if patch.count == 1 else several}".rstrip()


def _shape(notation: Notation, patch: Patch) -> _Shape:
    """What is cut for `patch`, of geese for the goose."""
    if patch.shape is PatchShape.HALF_SQUARE:
        return _halves(notation, patch)
    if patch.shape is PatchShape.QUARTER_SQUARE:
        return _quarters(notation, patch, "cut twice on the diagonal, 4 triangles from a square")
    if patch.shape is PatchShape.GEESE and patch.yields > 1:
        return _quarters(notation, patch, _FOUR_GEESE)
    flip = "a small square sewn to each end on its diagonal, trimmed and flipped"
    return _straight(notation, patch, flip if patch.shape is PatchShape.GEESE else "")


def _sky_shape(notation: Notation, sky: Patch) -> _Shape:
    if sky.yields == 1:
        return _straight(notation, sky, "sewn on the diagonal to an end of the goose")
    return replace(
        _halves(notation, replace(sky, yields=2)), after=f"four go with each square of {sky.name.removesuffix('/sky')}"
    )


def _straight(notation: Notation, patch: Patch, after: str) -> _Shape:
    """A square or rectangle: finished + 2 seams."""
    across, down = patch.finished
    seams = f"2 × {notation.bare(patch.seam)} seams"
    return _Shape(
        size=(across + 2 * patch.seam, down + 2 * patch.seam),
        terms=(f"{notation.bare(across)} finished + {seams}", f"{notation.bare(down)} finished + {seams}"),
        after=after,
    )


def _halves(notation: Notation, patch: Patch) -> _Shape:
    """A square cut once: finished leg + 2 seams of the legs + √2 of the long side's seam (geometry).

    Eight triangles come from a square that is cut in four such squares first.
    """
    side = patch.finished[0] + 2 * patch.seam + ROOT_2 * patch.seam
    seam = notation.bare(patch.seam)
    terms = f"{notation.bare(patch.finished[0])} leg + 2 × {seam} + √2 × {seam} seams"
    if patch.yields == 2:
        return _square(side, terms, "cut once on the diagonal, 2 triangles from a square")
    after = "cut in four squares and each of these once on the diagonal, 8 triangles from a square"
    return _square(2 * side, f"2 × ({terms})", after)


def _quarters(notation: Notation, patch: Patch, after: str) -> _Shape:
    """A square cut twice: finished long side + 2 seams of the long sides + 2√2 of the legs' seams (geometry)."""
    side = patch.finished[0] + 2 * patch.seam + 2 * ROOT_2 * patch.seam
    seam = notation.bare(patch.seam)
    return _square(side, f"{notation.bare(patch.finished[0])} long side + 2 × {seam} + 2√2 × {seam} seams", after)


def _square(side: Fraction, terms: str, after: str) -> _Shape:
    return _Shape(size=(side, side), terms=(terms, terms), after=after)


def patch_warnings(project: Project) -> tuple[str, ...]:
    """Patches that do not make up their block, have another seam than it, or triangles of cloth that hangs one way."""
    return tuple(
        text
        for block in project.blocks
        for text in (
            *_fill_warnings(block),
            *_seam_warnings(project.notation, block),
            *_way_warnings(project, block),
        )
    )


def _fill_warnings(block: Block) -> tuple[str, ...]:
    """A block of patches alone whose areas do not add up to its own: a wrong count or size."""
    if not block.patches or block.pieces:
        return ()
    shares = (Fraction(*patch.share) if patch.share else 1 for patch in block.patches)
    filled = sum(share * patch.count * _area(patch) for share, patch in zip(shares, block.patches, strict=True))
    share = filled / (block.finished[0] * block.finished[1])
    if abs(share - 1) <= _ALMOST:
        return ()
    return (f"block {block.name}: its patches fill {float(100 * share):.1f} % of it: look at their counts and sizes.",)


def _area(patch: Patch) -> Fraction:
    """Finished area of one patch; of geese, with their sky."""
    across, down = patch.finished
    triangles = {PatchShape.HALF_SQUARE: 2, PatchShape.QUARTER_SQUARE: 4}
    return across * down / triangles.get(patch.shape, 1)


def _seam_warnings(notation: Notation, block: Block) -> tuple[str, ...]:
    """A sentence for each seam of patches that is not the block's."""
    others = dict.fromkeys(patch.seam for patch in block.patches if patch.seam != block.seam)
    return tuple(_other_seam(notation, block, seam) for seam in others)


def _other_seam(notation: Notation, block: Block, seam: Fraction) -> str:
    names = [patch.name for patch in block.patches if patch.seam == seam]
    have = f"patch {names[0]} has" if len(names) == 1 else f"patches {', '.join(names)} have"
    joined = notation.show(block.seam)
    return (
        f"block {block.name}: {have} a seam of {notation.show(seam)} on all sides, and blocks are joined with "
        f"{joined}: what lies at the block's edge needs {joined} there."
    )


def _way_warnings(project: Project, block: Block) -> tuple[str, ...]:
    """A sentence for each fabric of a patch whose triangles cannot all hang as the cloth does."""
    return tuple(
        f"block {block.name}: {what} is of {cloth_word(project.fabrics[fabric])}, {fabric}: {trouble}."
        for patch in block.patches
        for what, fabric, trouble in _troubles(patch)
        if hangs(project.fabrics[fabric]) and not _lies_alike(patch, project.fabrics[fabric])
    )


def _lies_alike(patch: Patch, fabric: Fabric) -> bool:
    """Whether a square's triangles have the cloth's way alike: both halves of a striped one may be turned round."""
    return patch.shape is PatchShape.HALF_SQUARE and fabric.way is Way.STRIPE


def _troubles(patch: Patch) -> Iterator[tuple[str, str, str]]:
    """Name, fabric and trouble of everything of `patch` that is cut on the diagonal."""
    name = f"patch {patch.name}"
    if patch.shape in (PatchShape.HALF_SQUARE, PatchShape.QUARTER_SQUARE):
        yield name, patch.fabric, f"{_NOT_ALIKE} triangles of a square: sort them before sewing, or cut more"
    if patch.sky is None:
        return
    if patch.yields > 1:
        yield name, patch.fabric, f"{_NOT_ALIKE} four geese of a square: with yields = 1 it does"
        yield f"the sky of {name}", patch.sky, f"{_NOT_ALIKE} its triangles"
    else:
        yield f"the sky of {name}", patch.sky, "flipped on the diagonal its print lies sideways: turn the squares first"
