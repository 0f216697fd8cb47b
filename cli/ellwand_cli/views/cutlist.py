"""A cloth's cuts in plain words, in the order they are made.

First the structured form: what each strip becomes, equal strips gathered. Then words.
Lengthwise pieces come before any patch, strips before their sub-cuts (common practice).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.model import Direction, FabricPlan, Layout, Plan, Region, Role, Source

__all__ = ["Cutting", "Step", "cut_list", "cutting_of", "pieces_of", "steps_of"]

_UNITS = {"in": "in inches", "cm": "in centimetres"}

_LONGEST_NAME = 48

Step = tuple[str, str]  # its number, or nothing for a note; its words


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """A size of cloth and what it becomes: a `piece`, waste (neither), or `parts`, cut `direction`, with counts.

    Two regions that become the same are equal, wherever they lie.
    """

    across: Fraction
    along: Fraction
    piece: str = ""
    direction: Direction | None = None
    parts: tuple[tuple[Cutting, int], ...] = ()

    @property
    def waste(self) -> bool:
        """Whether nothing is made of it."""
        return not self.piece and not self.parts

    def measure(self, direction: Direction) -> Fraction:
        """Its size where cuts in `direction` divide."""
        return self.along if direction is Direction.ACROSS else self.across

    @property
    def useful(self) -> tuple[tuple[Cutting, int], ...]:
        """Its parts without waste."""
        return tuple((part, count) for part, count in self.parts if not part.waste)


def cutting_of(region: Region) -> Cutting:
    """What `region` becomes, with equal parts counted and the largest first."""
    if region.piece is not None:
        return Cutting(across=region.across, along=region.along, piece=region.piece.piece)
    counts = Counter(cutting_of(part) for part in region.parts)
    ordered = sorted(counts.items(), key=lambda entry: _rank(entry[0]))
    return Cutting(across=region.across, along=region.along, direction=region.direction, parts=tuple(ordered))


def _rank(cutting: Cutting) -> tuple[object, ...]:
    """Order among the parts of one strip: pieces, then what is cut on, then waste; each from large to small."""
    return (
        cutting.waste,
        bool(cutting.parts),
        -cutting.across * cutting.along,
        -cutting.across,
        cutting.piece,
        repr(cutting),
    )


def pieces_of(cutting: Cutting) -> Counter[str]:
    """How many of each piece a cutting makes."""
    if cutting.piece:
        return Counter({cutting.piece: 1})
    total: Counter[str] = Counter()
    for part, count in cutting.parts:
        for piece, number in pieces_of(part).items():
            total[piece] += count * number
    return total


def cut_list(plan: Plan, fabric_plan: FabricPlan, layout: Layout) -> tuple[str, ...]:
    """The steps for one cloth, numbered, then notes.

    For a free layout the pieces are listed with their places instead.
    """
    return tuple(f"{number}. {words}" if number else words for number, words in steps_of(plan, fabric_plan, layout))


def steps_of(plan: Plan, fabric_plan: FabricPlan, layout: Layout) -> tuple[Step, ...]:
    """The same in two parts: number and words; notes have no number."""
    notation = plan.project.notation
    steps = [*_preparing(layout, notation)]
    if layout.tree is None:
        steps += _places(layout, notation)
    else:
        steps += _cutting_steps(_taken(layout.tree), notation)
    numbered = [(str(number), words) for number, words in enumerate(steps, 1)]
    return (*numbered, *(("", note) for note in _notes(fabric_plan, layout, notation)))


def _preparing(layout: Layout, notation: Notation) -> Iterator[str]:
    """Squaring up and selvages, and for cloth on hand how much of it is cut off."""
    cloth = layout.cloth
    if cloth.squaring:
        yield f"Square up the cloth: {notation.show(cloth.squaring)} of its length is reckoned for that."
    if cloth.width > cloth.across:
        lost, usable = notation.near(cloth.width - cloth.across), notation.show(cloth.across)
        yield f"Keep clear of the selvages and trim them off: {lost} altogether, {usable} of width to use."
    if cloth.source is Source.ON_HAND and not cloth.whole and cloth.length > layout.used:
        yield (
            f"Cut {notation.show(layout.used)} off the cloth; "
            f"{notation.near(cloth.length - layout.used)} of it stays as it is."
        )


def _taken(tree: Region) -> Region:
    """`tree` without what stays as it is of a length on hand: that was cut off in the preparing steps."""
    parts = tuple(part for part in tree.parts if not part.rest)
    return parts[0] if len(parts) == 1 else replace(tree, parts=parts)


def _cutting_steps(tree: Region, notation: Notation) -> Iterator[str]:
    """Steps for a whole cloth: strips with lengthwise pieces first, then the others from the squared end on."""
    root = cutting_of(tree)
    if root.piece:
        yield f"The cloth is one piece: {_name(root.piece)}, {notation.pair(root.across, root.along)}."
        return
    if root.direction is Direction.ALONG:
        yield from _strip(root, 1, notation, whole=True)
        return
    strips = Counter(cutting_of(part) for part in tree.parts if not part.rest)
    for strip, count in sorted(strips.items(), key=lambda entry: not _has_zone(entry[0])):
        if not strip.waste:
            yield from _strip(strip, count, notation)
    left = [notation.show(strip.along) for strip, count in strips.items() for _ in range(count) if strip.waste]
    if left:
        yield f"Left across the whole width: {_joined(left)}."


def _has_zone(strip: Cutting) -> bool:
    return any(_is_zone(part) for part, _ in strip.parts)


def _is_zone(part: Cutting) -> bool:
    """Whether a part of a strip is cut into strips that are cut again, not only into pieces."""
    return any(inner.parts for inner, _ in part.parts)


def _trimmed(part: Cutting) -> Cutting | None:
    """The one piece that a part of a strip is trimmed to, if it is."""
    if len(part.useful) == 1 and part.useful[0][1] == 1 and part.useful[0][0].piece:
        return part.useful[0][0]
    return None


def _strip(strip: Cutting, count: int, notation: Notation, *, whole: bool = False) -> Iterator[str]:
    """Steps for `count` equal strips: the strip with its sub-cuts and trims, then each zone as its own step.

    With `whole` the strip is the cloth itself.
    """
    size = f"{notation.show(strip.along)} × {notation.show(strip.across)}"
    opening = f"Take one length, {size}" if whole else f"Cut {_counted(count, 'strip')} {size}"
    if strip.piece:
        yield f"{opening}: {'each is one' if count > 1 else 'it is'} {_name(strip.piece)}."
        return
    yield f"{opening}. {_division(strip, count, notation, lengthwise=whole)}"
    for part, number in strip.parts:
        if _is_zone(part):
            yield from _zone(part, number * count, notation)


def _zone(zone: Cutting, count: int, notation: Notation) -> Iterator[str]:
    """Steps for what lies beside other pieces and is cut as a cloth of its own."""
    size = notation.pair(zone.across, zone.along)
    place = f"From the {size} beside them" if count == 1 else f"From each of the {count} parts {size}"
    for strip, number in zone.useful:
        first, *others = _strip(strip, number, notation)
        yield f"{place}: {first[0].lower()}{first[1:]}"
        yield from others


def _division(strip: Cutting, count: int, notation: Notation, *, lengthwise: bool) -> str:
    """How a strip is sub-cut, its sum, and what its parts are trimmed to or cut into."""
    each = "it" if count == 1 else "each"
    verb = f"Cut {each} across"
    if strip.direction is Direction.ALONG:
        tall = lengthwise or _has_zone(strip) or strip.along > strip.across
        verb = f"Divide {each} lengthwise" if tall else f"Sub-cut {each}"
    made = _joined([_made(part, number, strip, notation) for part, number in strip.useful])
    trims = [_trim(part, notation) for part, _ in strip.useful if _trimmed(part)]
    stacks = [_stack(part, number, notation) for part, number in strip.useful if _is_stack(part)]
    trim = [f"Trim to size: {_joined(trims)}."] if trims else []
    return " ".join([f"{verb} into {made}: {_sum(strip, notation)}.", *trim, *stacks])


def _is_stack(part: Cutting) -> bool:
    return bool(part.parts) and not _is_zone(part) and not _trimmed(part)


def _made(part: Cutting, count: int, strip: Cutting, notation: Notation) -> str:
    """What a strip is cut into: "4 lantern/background (10 × 10 in)", or a size that is cut on."""
    piece = _trimmed(part) or part
    if piece.piece:
        return f"{count} {_name(piece.piece)} ({notation.pair(piece.across, piece.along)})"
    assert strip.direction is not None
    size = notation.show(part.measure(strip.direction))
    return f"a part of {size} to cut on" if count == 1 else f"{count} parts of {size} to cut on"


def _sum(strip: Cutting, notation: Notation) -> str:
    """Sum of a strip's parts against its length: "4 × 10 = 40 of 41 3/4 in, 1 3/4 left"."""
    direction = strip.direction
    assert direction is not None
    sizes: Counter[Fraction] = Counter()
    for part, count in strip.useful:
        sizes[part.measure(direction)] += count
    total = sum((size * count for size, count in sizes.items()), Fraction(0))
    terms = [f"{count} × {notation.bare(size)}" if count > 1 else notation.bare(size) for size, count in sizes.items()]
    result = f" = {notation.bare(total)}" if sum(sizes.values()) > 1 else ""
    whole = strip.measure(direction)
    left = f", {notation.bare(whole - total)} left" if whole > total else ""
    return f"{' + '.join(terms)}{result} of {notation.show(whole)}{left}"


def _trim(part: Cutting, notation: Notation) -> str:
    piece = _trimmed(part)
    assert piece is not None
    return f"{_name(piece.piece)} from {notation.pair(part.across, part.along)}"


def _stack(part: Cutting, count: int, notation: Notation) -> str:
    """A part of a strip that is cut into several pieces."""
    which = "the" if count == 1 else "each"
    made = _joined([_made(inner, number, part, notation) for inner, number in part.useful])
    return f"Cut {which} {notation.pair(part.across, part.along)} into {made}: {_sum(part, notation)}."


def _places(layout: Layout, notation: Notation) -> Iterator[str]:
    """Pieces of a free layout with the places of their lower left corners."""
    yield (
        "Chalk every piece on the cloth before the first cut. Places are those of its lower left corner: "
        f"across from the left selvage's inner edge; along from the squared end, {_UNITS[notation.unit]}."
    )
    groups: dict[tuple[str, Fraction, Fraction], list[str]] = {}
    for placed in layout.placed:
        key = (placed.piece, placed.across, placed.along)
        groups.setdefault(key, []).append(f"({notation.bare(placed.x)}; {notation.bare(placed.y)})")
    for (piece, across, along), places in groups.items():
        yield f"Cut {len(places)} {_name(piece)} ({notation.pair(across, along)}), at {', '.join(places)}."


def _notes(fabric_plan: FabricPlan, layout: Layout, notation: Notation) -> Iterator[str]:
    """What is done with the pieces after cutting; pieces with the same advice share a line."""
    here = {placed.piece for placed in layout.placed}
    pieces = [piece for piece in fabric_plan.pieces if piece.id in here]
    advice: dict[str, list[str]] = {}
    for piece in pieces:
        if piece.after:
            advice.setdefault(piece.after, []).append(_name(piece.id))
    for after, names in advice.items():
        yield f"{_joined(names)}: {after}."
    if any(piece.role is Role.BORDER and not piece.after for piece in pieces):
        yield "Borders: cut them long now, and to length only when the sewn centre has been measured."
    sizes = Counter(notation.pair(offcut.across, offcut.along) for offcut in layout.offcuts)
    if sizes:
        yield f"Offcuts worth keeping: {_joined([f'{count} of {size}' for size, count in sizes.items()])}."


def _name(piece: str) -> str:
    return piece if len(piece) <= _LONGEST_NAME else piece[: _LONGEST_NAME - 1] + "…"


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _joined(words: list[str]) -> str:
    """Words in a row: "a, b and c"."""
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)
