"""What must hold between the tables of a project, each broken rule told with its place."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ellwand.errors import InputError
from ellwand.lengths import round_down, round_up, unit_length
from ellwand.project.amounts import pieces_in_all
from ellwand.project.mixes import check_mixes
from ellwand.project.table import MOST
from ellwand.project.tables import Block, BlockPiece, Project, Stabiliser

__all__ = ["check"]

_WHOLE = (Fraction(1), Fraction(1))
_SLACK = unit_length("mm") / 2  # a field is called by its whole millimetres


def check(project: Project) -> None:
    """Refuse a project whose tables do not go together.

    Raises
    ------
    InputError
        With the place of the first thing that is wrong.
    """
    _check_something_to_cut(project)
    _check_quilt(project)
    _check_names(project)
    _check_setting(project)
    for block in project.blocks:
        _check_block(project, block)
    _check_stabiliser(project)
    _check_how_many(project)
    check_mixes(project)


def _single_parts(project: Project) -> list[str]:
    """Titles of the tables that stand once and only in a quilt."""
    parts = {
        "sashing": project.sashing,
        "binding": project.binding,
        "backing": project.backing,
        "batting": project.batting,
        "sleeve": project.sleeve,
        "stabiliser": project.stabiliser,
    }
    return [title for title, part in parts.items() if part is not None]


def _taken_names(project: Project) -> list[str]:
    """How the pieces of parts without a name are called."""
    names = [title for title in _single_parts(project) if title != "sashing"]
    if project.sashing:
        names += ["sash", "cornerstone"] if project.sashing.cornerstones else ["sash"]
    names += ["triangle"] if project.setting and project.setting.on_point else []
    return [*names, "kept back"]  # whether something is or not: plans and the ledger tell it by that name


def _parts(project: Project) -> list[str]:
    return [f'border "{border.name}"' for border in project.borders] + _single_parts(project)


def _check_something_to_cut(project: Project) -> None:
    if (
        project.pieces
        or any(block.pieces or block.patches for block in project.blocks)
        or (project.blocks and (_parts(project) or (project.setting and project.setting.triangles)))
    ):
        return
    found, hint = "there is nothing to cut", "Add a [quilt] with a [[block]] and its [[block.piece]], or a [[piece]]"
    raise InputError(where=project.source, found=found, hint=hint)


def _check_quilt(project: Project) -> None:
    if project.setting and not project.blocks:
        raise _wrong(project, "quilt", "it has no blocks", hint="Add a [[block]]")
    if project.setting:
        return
    if project.blocks:
        title = f'block "{project.blocks[0].name}"'
        raise _wrong(project, title, "there is no [quilt] to set it in", hint="Add [quilt] with across and down")
    if _parts(project):
        raise _wrong(project, _parts(project)[0], "there is no [quilt] that it could belong to", hint="Add one")


def _check_names(project: Project) -> None:
    """Names make the pieces' ids, ``block/piece``, so each stands for one thing."""
    named = [("block", block.name) for block in project.blocks]
    named += [("border", border.name) for border in project.borders]
    named += [("piece", piece.name) for piece in project.pieces]
    _check_each_once(project, [(name, name) for name in _taken_names(project)] + named)
    for block in project.blocks:
        names = [piece.name for piece in block.pieces] + [patch.name for patch in block.patches]
        inner = [(f'block "{block.name}": piece', name) for name in names]
        _check_each_once(project, inner)


def _check_each_once(project: Project, named: Iterable[tuple[str, str]]) -> None:
    seen = set()
    for kind, name in named:
        if "/" in name:
            raise _wrong(project, f'{kind} "{name}"', "a name cannot have a / in it", hint="Write it otherwise")
        if name in seen:
            raise _wrong(project, f'{kind} "{name}"', "something else has this name", hint="Give it another")
        seen.add(name)


def _check_setting(project: Project) -> None:
    setting = project.setting
    if setting is None:
        return
    first = project.blocks[0]
    for block in project.blocks[1:]:
        _check_alike(project, first, block)
    if setting.on_point:
        _check_on_point(project, first)
    counted = sum(block.count for block in project.blocks)
    if counted != setting.blocks:
        title = f"{setting.across} × {setting.down}{' on point' if setting.on_point else ''}"
        found = f"the setting of {title} takes {setting.blocks} blocks, and the counts make {counted}"
        raise _wrong(project, "quilt", found, hint="Change count in [[block]], or across and down")


def _check_alike(project: Project, first: Block, block: Block) -> None:
    """The blocks of a quilt share their lines: one seam, one finished size."""
    show = project.notation
    title = f'block "{block.name}"'
    if block.seam != first.seam:
        found = f'two block seams, {show.show(block.seam)} here and {show.show(first.seam)} in block "{first.name}"'
        raise _wrong(project, f"{title}: seam", found, "A quilt has one")
    if block.finished != first.finished:
        found = f'{show.pair(*block.finished)} is not the size of block "{first.name}", {show.pair(*first.finished)}'
        raise _wrong(project, f"{title}: finished", found, "All blocks of a quilt have one size")


def _check_on_point(project: Project, first: Block) -> None:
    """Triangles at 45 degrees fill an edge of squares alone."""
    if first.finished[0] != first.finished[1]:
        found = f"{project.notation.pair(*first.finished)} is no square"
        raise _wrong(project, f'block "{first.name}": finished', found, "Blocks on point are square")
    if project.sashing:
        hint = 'Leave it out, or write setting = "straight" in [quilt]'
        raise _wrong(project, "sashing", "it is worked out for straight settings only", hint=hint)


def _check_block(project: Project, block: Block) -> None:
    title = f'block "{block.name}"'
    show = project.notation
    stitched = block.stitched
    if min(stitched) <= 0:
        found = f"{show.show(block.trim)} outside the stitched edge leaves nothing to stitch"
        raise _wrong(project, f"{title}: trim", found)
    if block.hoop and not _fits(stitched, block.hoop):
        found = f"the stitched block, {show.pair(*stitched)}, is larger than this field, {show.pair(*block.hoop)}"
        hint = f"Choose a larger hoop, or a block of at most {show.pair(*_largest(project, block))} finished"
        raise _wrong(project, f"{title}: hoop", found, hint=hint)
    _check_reach(project, block)
    for patch in block.patches:
        if any(side > whole for side, whole in zip(patch.finished, block.finished, strict=True)):
            found = f"{show.pair(*patch.finished)} is larger than its block, {show.pair(*block.finished)}"
            raise _wrong(project, f'{title}: piece "{patch.name}": finished', found)


def _fits(stitched: tuple[Fraction, Fraction], field: tuple[Fraction, Fraction]) -> bool:
    """Whether a block fits a stitch field either way round."""
    shorter, longer = sorted(stitched)
    return shorter <= min(field) + _SLACK and longer <= max(field) + _SLACK


def _largest(project: Project, block: Block) -> tuple[Fraction, Fraction]:
    """The largest finished size whose stitched size fits the block's field, as wide and high as the block is."""
    assert block.hoop is not None
    beyond = _SLACK - 2 * block.seam + 2 * block.trim
    shorter, longer = sorted(round_down(side + beyond, project.ruler) for side in block.hoop)
    across, down = block.finished
    if across == down:
        return shorter, shorter
    return (shorter, longer) if across < down else (longer, shorter)


def _check_reach(project: Project, block: Block) -> None:
    """The cloth that carries a block must reach the edge at which it is trimmed; batting may stop short of the seam."""
    woven = [piece for piece in block.pieces if project.fabrics[piece.fabric].woven]
    covering = [piece for piece in woven if piece.covers == _WHOLE]
    if not covering or any(_least_margin(piece) >= block.trim for piece in covering):
        return
    trimmed = [side + 2 * block.seam for side in block.finished]
    if any(piece.cut and min(piece.cut) >= min(trimmed) and max(piece.cut) >= max(trimmed) for piece in woven):
        return
    largest = max(covering, key=_least_margin)
    show = project.notation.show
    found = f"{show(_least_margin(largest))} does not reach the seam: the block is trimmed {show(block.trim)} outside"
    where = f'block "{block.name}": piece "{largest.name}": margin'
    raise _wrong(project, where, f"{found} its stitched edge", f"Give it {show(block.trim)} or more")


def _least_margin(piece: BlockPiece) -> Fraction:
    margins = piece.margins
    return min(margins.top, margins.right, margins.bottom, margins.left)


def _check_stabiliser(project: Project) -> None:
    if project.stabiliser is None:
        return
    frames = [block.frame for block in project.blocks if block.frame]
    if not frames:
        hint = "Add frame, the outside of the hoop, to a [[block]]"
        raise _wrong(project, "stabiliser", "no block says which frame it has to cover", hint=hint)
    for frame in frames:
        _check_sheet(project, project.stabiliser, frame)


def _check_sheet(project: Project, stabiliser: Stabiliser, frame: tuple[Fraction, Fraction]) -> None:
    """A sheet fits its roll one way or the other, or is joined from widths that lie on each other."""
    across, down = (round_up(side + 2 * stabiliser.margin, project.ruler) for side in frame)
    usable = round_down(project.fabrics[stabiliser.fabric].between_selvages, project.ruler)
    show = project.notation
    if min(across, down) <= usable:
        return
    if stabiliser.overlap is None:
        found = f"a sheet of {show.pair(across, down)} is wider than the roll can be used, {show.show(usable)}"
        hint = "Use a wider roll, a smaller margin or a smaller frame, or give an overlap, and sheets are joined"
        raise _wrong(project, "stabiliser", found, hint=hint)
    if stabiliser.overlap >= usable:
        found = f"{show.show(stabiliser.overlap)} leaves nothing of a roll that can be used for {show.show(usable)}"
        raise _wrong(project, "stabiliser: overlap", found, "Write a smaller overlap")


def _check_how_many(project: Project) -> None:
    pieces = pieces_in_all(project)
    if pieces > MOST:
        found = f"these are {pieces} pieces in all"
        raise InputError(where=project.source, found=found, wanted=f"At most {MOST} can be worked out")


def _wrong(project: Project, where: str, found: str, wanted: str = "", hint: str = "") -> InputError:
    return InputError(where=f"{project.source}: {where}", found=found, wanted=wanted, hint=hint)
