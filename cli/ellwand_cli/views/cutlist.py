"""A cloth's cuts in plain words, in the order they are made: from the squared end upward, strips before sub-cuts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from ellwand.cloths import as_measured
from ellwand.lengths import Notation
from ellwand.model import Direction, FabricPlan, Layout, Plan, Region, Source
from ellwand_cli.views.advice import advice_for, joined, short_name
from ellwand_cli.views.cuttings import Cutting, Names, cutting_of
from ellwand_cli.views.origin import MISSING, cloth_source, is_missing, selvages, to_wash

__all__ = ["Step", "cut_list", "steps_of"]

_UNITS = {"in": "in inches", "cm": "in centimetres"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step: its number (nothing for a note), its words, and its parts a, b, c."""

    number: str = ""
    words: str
    parts: tuple[str, ...] = ()

    @property
    def lettered(self) -> tuple[tuple[str, str], ...]:
        """Its parts with their letters."""
        return tuple((chr(97 + number % 26) * (number // 26 + 1), words) for number, words in enumerate(self.parts))


@dataclass(slots=True)
class _Steps:
    """Steps as they are written down; the next one gets the next number."""

    notation: Notation
    done: list[Step] = field(default_factory=list)
    gathered: bool = False  # whether a step is of several strips

    def add(self, words: str, *parts: str) -> str:
        """Write down a step, and tell its number."""
        self.done.append(Step(number=str(len(self.done) + 1), words=words, parts=parts))
        return self.done[-1].number


def cut_list(plan: Plan, answer: FabricPlan, layout: Layout) -> tuple[str, ...]:
    """One cloth's list as lines of text: where it comes from, the steps with their parts, notes."""
    lines = [MISSING] if is_missing(answer, layout.cloth) else []
    lines.append(cloth_source(plan, answer, layout))
    for step in steps_of(plan, answer, layout):
        lines.append(f"{step.number}. {step.words}" if step.number else step.words)
        lines += [f"   {letter}. {words}" for letter, words in step.lettered]
    return tuple(lines)


def steps_of(plan: Plan, answer: FabricPlan, layout: Layout) -> tuple[Step, ...]:
    """A note on sizes, the steps for one cloth, then notes.

    For a free layout the pieces are listed with their places instead.
    """
    steps = _Steps(plan.project.notation)
    note = "Sizes are across the width × along the selvage."
    for words in _preparing(answer, layout, steps.notation):
        steps.add(words)
    if layout.tree is None:
        _write_places(steps, answer, layout)
    else:
        _write_cloth(steps, cutting_of(_taken(layout.tree)), layout)
    if steps.gathered:
        note += " Equal strips are one step, wherever on the cloth the picture shows them."
    notes = (Step(words=words) for words in advice_for(plan, answer, layout))
    return (Step(words=note), *steps.done, *notes)


def _preparing(answer: FabricPlan, layout: Layout, notation: Notation) -> Iterator[str]:
    """Washing, squaring up, how much is cut off cloth on hand, selvages."""
    cloth = layout.cloth
    if to_wash(answer, cloth):
        yield _washing(answer, layout, notation)
    if cloth.squaring:
        yield f"Square up the cloth: {notation.show(cloth.squaring)} of its length is reckoned for that."
    if cloth.source is Source.ON_HAND and not cloth.whole and cloth.length > layout.used:
        yield (
            f"Cut {notation.show(layout.used - cloth.squaring)} off the cloth, measured from the squared end; "
            f"{notation.near(cloth.length - layout.used)} of it stays as it is, selvages on."
        )
    edges = selvages(answer, cloth)
    if edges:
        which = ("the selvage and trim it off:", "the selvages and trim them off:")[edges - 1]
        lost = notation.near(cloth.width - cloth.across) + (" altogether" if edges > 1 else "")
        yield f"Keep clear of {which} {lost}, {notation.show(cloth.across)} of width to use."


def _washing(answer: FabricPlan, layout: Layout, notation: Notation) -> str:
    cloth = layout.cloth
    verb = "Wash and press" if answer.fabric.woven else "Wash"
    when = "as bought" if cloth.source is Source.BUY else "as measured"
    before, after = (
        f"{notation.near(width)} wide and {notation.near(length)} long"
        for width, length in (as_measured(answer.fabric, cloth), (cloth.width, cloth.length))
    )
    return f"{verb} the cloth first: {before} {when}, {after} after washing."


def _taken(tree: Region) -> Region:
    """`tree` without what stays as it is of a length on hand: that was cut off in the preparing steps."""
    parts = tuple(part for part in tree.parts if not part.rest)
    if len(parts) == len(tree.parts):
        return tree
    return (
        parts[0]
        if len(parts) == 1
        else replace(tree, parts=parts, along=sum((part.along for part in parts), Fraction(0)))
    )


def _write_cloth(steps: _Steps, root: Cutting, layout: Layout) -> None:
    """Steps for a whole cloth, from the squared end on, or from the left edge where it is cut along first."""
    notation, cloth = steps.notation, layout.cloth
    if root.piece is not None and (cloth.whole or cloth.source is Source.ON_HAND):
        made = f"{_listed(root.piece.names)} ({notation.pair(root.piece.across, root.piece.along)})"
        steps.add(f"The whole cloth, {notation.pair(root.across, root.along)}, is for one piece: cut {made}.")
    elif root.names or (root.direction is Direction.ALONG and not cloth.whole):
        taken = cloth.source is Source.ON_HAND
        lead = f"Take this length, {notation.pair(root.across, root.along)}" if taken else ""
        _write_strip(steps, root, _Lead(words=lead))
    elif len(root.useful) == 1 and root.useful[0][1] == 1 and _no_strip(root):
        _write_trimmed(steps, root, layout)
    else:
        assert root.direction is not None
        for strip, count in root.useful:
            _write_strip(steps, strip, _Lead(direction=root.direction), count)
        _write_left(steps, root)


def _no_strip(root: Cutting) -> bool:
    """Whether the one useful part is better told as the cloth, trimmed, than as a strip of it."""
    part = root.useful[0][0]
    broad = part.across > part.along if root.direction is Direction.ALONG else part.along > part.across
    return part.is_zone or (broad and part.piece is None)


def _write_trimmed(steps: _Steps, root: Cutting, layout: Layout) -> None:
    """A cloth of which one strip is all that is used: it is trimmed to that first."""
    assert root.direction is not None
    part, size = root.useful[0][0], steps.notation.show(root.useful[0][0].measure(root.direction))
    whole = steps.notation.show(root.measure(root.direction))
    steps.add(f"Trim the cloth to {size} of its {whole} {_SIDES[root.direction]}.")
    _write_cloth(steps, part, layout)


_SIDES = {Direction.ACROSS: "length", Direction.ALONG: "width"}


def _write_left(steps: _Steps, root: Cutting) -> None:
    assert root.direction is not None
    left = [
        steps.notation.show(part.measure(root.direction))
        for part, count in root.parts
        for _ in range(count)
        if part.waste
    ]
    where = "across the whole width" if root.direction is Direction.ACROSS else "along the whole length"
    if left:
        steps.add(f"Left {where}: {joined(left)}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lead:
    """How a strip's step begins: with `words` of its own, or from so many equal `sources`; which way it is cut off."""

    words: str = ""
    source: str = ""
    sources: int = 1
    direction: Direction = Direction.ACROSS


def _write_strip(steps: _Steps, strip: Cutting, lead: _Lead, count: int = 1) -> None:
    """The step for `count` equal strips (of each source), then steps for what is cut on as a cloth of its own."""
    opening = lead.words or _opening(strip, count, lead.direction, steps.notation)
    if lead.source:
        opening = f"{lead.source}: {opening[0].lower()}{opening[1:]}"
    total = count * lead.sources
    steps.gathered |= count > 1
    if strip.names:
        steps.add(f"{opening}: {_become(strip.names, total)}.")
        return
    division = _division(strip, total, steps.notation)
    details = tuple(_details(strip, total, steps.notation))
    number = steps.add(f"{opening}.", division, *details) if details else steps.add(f"{opening}. {division}")
    for part, each in strip.useful:
        if part.is_zone:
            _write_zone(steps, part, each * total, number)


def _write_zone(steps: _Steps, zone: Cutting, count: int, number: str) -> None:
    """Steps for what is cut as a cloth of its own; `number` is the step that freed it."""
    size = steps.notation.pair(zone.across, zone.along)
    source = f"From the part {size} of step {number}"
    if count > 1:
        source = f"From each of the {count} parts {size} of step {number}"
    assert zone.direction is not None
    lead = _Lead(source=source, sources=count, direction=zone.direction)
    for strip, each in zone.useful:
        _write_strip(steps, strip, lead, each)


def _opening(strip: Cutting, count: int, direction: Direction, notation: Notation) -> str:
    """How strips are cut off: "Cut 2 strips 10 in wide, 42 in long"; what is longer than wide is a length."""
    across, along = notation.show(strip.across), notation.show(strip.along)
    if direction is Direction.ALONG:
        noun = "part" if strip.across > strip.along else "strip"
        return f"Cut {_counted(count, noun)} along the selvage, {across} wide, {along} long"
    if strip.along > strip.across:
        return f"Cut {_counted(count, 'length')} of {along}, {across} across"
    return f"Cut {_counted(count, 'strip')} {along} wide, {across} long"


def _division(strip: Cutting, count: int, notation: Notation) -> str:
    """How each of `count` strips is sub-cut, with its sum."""
    each = "it" if count == 1 else "each"
    verb = f"Sub-cut {each}"
    if strip.direction is Direction.ALONG and strip.along > strip.across:
        verb = f"Divide {each} lengthwise"
    elif strip.direction is Direction.ACROSS and strip.across > strip.along:
        verb = f"Cut {each} across"
    return f"{verb} into {_made(strip, notation)}: {_sum(strip, notation)}."


def _details(strip: Cutting, count: int, notation: Notation) -> Iterator[str]:
    """What the parts of `count` equal strips are called, trimmed to or cut into."""
    for part, each in strip.useful:
        if part.piece is not None:
            yield from _naming(part, part.piece, notation)
        elif not part.is_zone:
            which = "the" if each * count == 1 else "each"
            size = notation.pair(part.across, part.along)
            yield f"Cut {which} {size} into {_made(part, notation)}: {_sum(part, notation)}."
            yield from _details(part, each * count, notation)


def _naming(part: Cutting, piece: Cutting, notation: Notation) -> Iterator[str]:
    """The names of pieces of one size, and what they are trimmed from."""
    size = notation.pair(piece.across, piece.along)
    several = len(piece.names) > 1
    if several:
        yield f"The pieces of {size} are {_listed(piece.names)}."
    if piece is not part:
        what = "these pieces" if several else short_name(piece.names[0][0])
        yield f"Trim {what} from {notation.pair(part.across, part.along)} to {size}."


def _made(strip: Cutting, notation: Notation) -> str:
    """What a strip is cut into: "4 lantern/background (10 × 10 in)", or sizes that are cut on."""
    assert strip.direction is not None
    made = []
    for part, count in strip.useful:
        piece = part.piece
        if piece is None:
            made.append(f"{_counted(count, 'part')} of {notation.show(part.measure(strip.direction))}")
        elif len(piece.names) > 1:
            made.append(f"{_counted(count, 'piece')} of {notation.pair(piece.across, piece.along)}")
        else:
            made.append(f"{count} {short_name(piece.names[0][0])} ({notation.pair(piece.across, piece.along)})")
    return joined(made)


def _sum(strip: Cutting, notation: Notation) -> str:
    """Sum of a strip's parts against its length: "4 × 10 = 40 of 41 3/4 in, 1 3/4 left"."""
    direction = strip.direction
    assert direction is not None
    sizes: dict[Fraction, int] = {}
    for part, count in strip.useful:
        sizes[part.measure(direction)] = sizes.get(part.measure(direction), 0) + count
    total = sum((size * count for size, count in sizes.items()), Fraction(0))
    terms = [f"{count} × {notation.bare(size)}" if count > 1 else notation.bare(size) for size, count in sizes.items()]
    result = f" = {notation.bare(total)}" if sum(sizes.values()) > 1 else ""
    whole = strip.measure(direction)
    left = f", {notation.bare(whole - total)} left" if whole > total else ""
    return f"{' + '.join(terms)}{result} of {notation.show(whole)}{left}"


def _become(names: Names, count: int) -> str:
    """What whole strips are: "it is outer/left/1", "each is one binding/1", "they are a, b and c"."""
    if count == 1:
        return f"it is {_listed(names)}"
    return f"each is one {short_name(names[0][0])}" if len(names) == 1 else f"they are {_listed(names)}"


def _listed(names: Names) -> str:
    return joined([f"{count} × {short_name(name)}" if count > 1 else short_name(name) for name, count in names])


def _write_places(steps: _Steps, answer: FabricPlan, layout: Layout) -> None:
    """Pieces of a free layout with the places of their lower left corners."""
    notation = steps.notation
    edge = "the left selvage's inner edge" if selvages(answer, layout.cloth) else "the left edge"
    end = "the squared end" if layout.cloth.squaring else "the lower end"
    steps.add(
        "Chalk every piece on the cloth before the first cut. Places are those of its lower left corner: "
        f"across from {edge}; along from {end}, {_UNITS[notation.unit]}."
    )
    groups: dict[tuple[str, Fraction, Fraction], list[str]] = {}
    for placed in layout.placed:
        key = (placed.piece, placed.across, placed.along)
        groups.setdefault(key, []).append(f"({notation.bare(placed.x)}; {notation.bare(placed.y)})")
    for (piece, across, along), places in groups.items():
        steps.add(f"Cut {len(places)} {short_name(piece)} ({notation.pair(across, along)}), at {', '.join(places)}.")


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
