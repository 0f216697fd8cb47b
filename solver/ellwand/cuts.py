"""From a rotary layout to the straight cuts that make it.

The pieces' places alone decide. With three stages a cloth is cut across into *bands*, a band along into *columns*,
and a column across into the pieces of a *stack*, all of one width. One column of a band may be a *zone* instead:
what lies beside lengthwise pieces is cut as a cloth of its own, and its stages count from 1 again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from ellwand.model import Cut, Direction, Offcut, Placed, Region

__all__ = ["NotGuillotineError", "cut_tree", "cuts_of", "offcuts_of"]

Group = Sequence[Placed]
Inner = Callable[[Region, Group], Region]


class NotGuillotineError(Exception):
    """No edge-to-edge cuts in the allowed stages free the pieces."""


def cut_tree(across: Fraction, along: Fraction, placed: Group, *, stages: int | None, whole: bool) -> Region:
    """The tree of cuts of one cloth.

    Parameters
    ----------
    across, along
        The region to cut, from (0, 0), inches.
    placed
        Its pieces.
    stages
        3, or None for any number.
    whole
        Whether the first cuts may also run along (a rectangle on the mat, not a bolt). Of a bolt or a length, what
        lies beyond the last piece is cut off at once and stays as it is: the tree's `rest`.

    Raises
    ------
    NotGuillotineError
        There is no such tree.
    """
    region = Region(x=Fraction(0), y=Fraction(0), across=across, along=along)
    found = []
    for swap in (False, True) if whole else (False,):
        try:
            found.append(_swapped(_tree(_swapped(region, swap), _all_swapped(placed, swap), stages), swap))
        except NotGuillotineError:
            continue
    if not found:
        raise NotGuillotineError
    tree = max(found, key=_largest_leftover)  # the first of equals: strips across
    return tree if whole else _with_rest(tree, max(item.y + item.along for item in placed))


def cuts_of(tree: Region) -> tuple[Cut, ...]:
    """Every cut of `tree` in the order it is made: a region's own cuts, then its parts one by one."""
    return tuple(replace(cut, step=step) for step, cut in enumerate(_lines(tree), 1))


def offcuts_of(tree: Region, keep: Fraction) -> tuple[Offcut, ...]:
    """Leftover rectangles of `tree` with both sides at least `keep`, the largest first."""
    found = [
        Offcut(x=leaf.x, y=leaf.y, across=leaf.across, along=leaf.along)
        for leaf in _leaves(tree)
        if leaf.piece is None and not leaf.rest and min(leaf.across, leaf.along) >= keep
    ]
    return tuple(sorted(found, key=lambda offcut: -offcut.across * offcut.along))


def _with_rest(tree: Region, edge: Fraction) -> Region:
    """`tree`, the part that begins at `edge` marked as what stays as it is."""
    return replace(tree, parts=tuple(replace(part, rest=part.y >= edge) for part in tree.parts))


def _tree(region: Region, placed: Group, stages: int | None) -> Region:
    if stages is None:
        return _nested(region, placed, Direction.ACROSS, 1)
    return _bands(region, placed, zones=True)


def _bands(region: Region, placed: Group, *, zones: bool) -> Region:
    """`region` cut across into bands (stage 1)."""
    groups = _groups(placed, Direction.ACROSS)
    return _split(region, groups, Direction.ACROSS, 1, lambda band, group: _columns(band, group, zones=zones))


def _columns(band: Region, placed: Group, *, zones: bool) -> Region:
    """`band` cut along into stacks and at most one zone (stage 2)."""
    groups = _with_one_zone(_groups(placed, Direction.ALONG))
    return _split(band, groups, Direction.ALONG, 2, lambda column, group: _column(column, group, zones=zones))


def _column(column: Region, placed: Group, *, zones: bool) -> Region:
    """`column` cut across into its pieces (stage 3), or as a cloth of its own."""
    if _is_stack(placed):
        return _split(column, _groups(placed, Direction.ACROSS), Direction.ACROSS, 3, _leaf)
    if not zones:
        raise NotGuillotineError
    return _bands(column, placed, zones=False)


def _leaf(region: Region, placed: Group) -> Region:
    (item,) = placed
    if (item.across, item.along) != (region.across, region.along):
        raise NotGuillotineError
    return replace(region, piece=item)


def _nested(region: Region, placed: Group, direction: Direction, depth: int) -> Region:
    """`region` cut both ways in turn, to any depth."""
    if len(placed) == 1 and (placed[0].across, placed[0].along) == (region.across, region.along):
        return _leaf(region, placed)
    groups = _groups(placed, direction)
    if len(list(_fill(region, groups, direction))) > 1:
        inner = partial(_nested, direction=_other(direction), depth=depth + 1)
        return _split(region, groups, direction, depth, inner)
    if len(list(_fill(region, _groups(placed, _other(direction)), _other(direction)))) > 1:
        return _nested(region, placed, _other(direction), depth + 1)
    raise NotGuillotineError


def _split(region: Region, groups: Sequence[Group], direction: Direction, depth: int, inner: Inner) -> Region:
    """`region` with a part for every group and every gap; just `inner` where there is nothing to part."""
    spans = list(_fill(region, groups, direction))
    if len(spans) == 1:
        return inner(region, spans[0][2])
    parts = []
    for low, high, group in spans:
        part = _slice(region, low, high, direction, depth)
        parts.append(inner(part, group) if group else part)
    return replace(region, direction=direction, parts=tuple(parts))


def _groups(placed: Group, direction: Direction) -> list[list[Placed]]:
    """Pieces that no line in `direction` parts, in order."""
    groups: list[list[Placed]] = []
    reach = Fraction(-1)
    for item in sorted(placed, key=lambda item: _span(item, direction)):
        start, end = _span(item, direction)
        if start >= reach:
            groups.append([])
        groups[-1].append(item)
        reach = max(reach, end)
    return groups


def _with_one_zone(columns: list[list[Placed]]) -> list[list[Placed]]:
    """`columns` with everything from the first to the last that is no stack put into one."""
    odd = [number for number, column in enumerate(columns) if not _is_stack(column)]
    if not odd:
        return columns
    first, last = odd[0], odd[-1]
    zone = [item for column in columns[first : last + 1] for item in column]
    return [*columns[:first], zone, *columns[last + 1 :]]


def _is_stack(column: Group) -> bool:
    return len({(item.x, item.across) for item in column}) == 1


def _fill(region: Region, groups: Sequence[Group], direction: Direction) -> Iterator[tuple[Fraction, Fraction, Group]]:
    """Low and high end of every group and every gap in `region`, in order, with the group (empty for a gap)."""
    low, stop = _span(region, direction)
    for group in groups:
        start = min(_span(item, direction)[0] for item in group)
        end = max(_span(item, direction)[1] for item in group)
        if low < start:
            yield low, start, ()
        yield start, end, group
        low = end
    if low < stop:
        yield low, stop, ()


def _span(thing: Placed | Region, direction: Direction) -> tuple[Fraction, Fraction]:
    """Where `thing` starts and ends for lines in `direction`."""
    if direction is Direction.ACROSS:
        return thing.y, thing.y + thing.along
    return thing.x, thing.x + thing.across


def _slice(region: Region, low: Fraction, high: Fraction, direction: Direction, depth: int) -> Region:
    if direction is Direction.ACROSS:
        return Region(x=region.x, y=low, across=region.across, along=high - low, depth=depth)
    return Region(x=low, y=region.y, across=high - low, along=region.along, depth=depth)


def _lines(region: Region) -> Iterator[Cut]:
    """The cuts between a region's parts, what stays as it is cut off first; then its parts' own."""
    for part in sorted(region.parts[1:], key=lambda part: not part.rest):
        yield _line(region, part)
    for part in region.parts:
        yield from _lines(part)


def _line(region: Region, part: Region) -> Cut:
    """The cut along the lower edge of `part`."""
    if region.direction is Direction.ACROSS:
        direction, at, start, end = Direction.ACROSS, part.y, region.x, region.x + region.across
    else:
        direction, at, start, end = Direction.ALONG, part.x, region.y, region.y + region.along
    return Cut(step=0, direction=direction, at=at, start=start, end=end, depth=part.depth)


def _leaves(region: Region) -> Iterator[Region]:
    if not region.parts:
        yield region
    for part in region.parts:
        yield from _leaves(part)


def _largest_leftover(tree: Region) -> Fraction:
    return max((leaf.across * leaf.along for leaf in _leaves(tree) if leaf.piece is None), default=Fraction(0))


def _other(direction: Direction) -> Direction:
    return Direction.ALONG if direction is Direction.ACROSS else Direction.ACROSS


def _all_swapped(placed: Group, swap: bool) -> Group:
    """Pieces with x and y exchanged, if `swap`."""
    if not swap:
        return placed
    return [replace(item, x=item.y, y=item.x, across=item.along, along=item.across) for item in placed]


def _swapped(region: Region, swap: bool) -> Region:
    """A tree with x and y exchanged, if `swap`."""
    if not swap:
        return region
    return replace(
        region,
        x=region.y,
        y=region.x,
        across=region.along,
        along=region.across,
        piece=_all_swapped([region.piece], swap)[0] if region.piece else None,
        direction=_other(region.direction) if region.direction else None,
        parts=tuple(_swapped(part, swap) for part in region.parts),
    )
