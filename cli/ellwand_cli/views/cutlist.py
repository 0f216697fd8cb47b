"""A cloth's cuts in plain words, in the order they are made: the ruler set once for all that is cut to one measure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from ellwand.cloths import as_measured
from ellwand.cutorder import RULERS, CutOrder, Move, Setup, cut_order
from ellwand.cutparts import CutPart, Names
from ellwand.lengths import Notation, round_down
from ellwand.model import Cloth, Direction, FabricPlan, Layout, Plan, Region, Source
from ellwand_cli.views.advice import advice_for, short_name
from ellwand_cli.views.lays import lay_of, spreading
from ellwand_cli.views.origin import MISSING, cloth_source, is_missing, selvages, to_wash
from ellwand_cli.views.typeset import joined
from ellwand_cli.views.words import letters

__all__ = ["Step", "StripMark", "cut_list", "cuts_along", "order_of", "steps_before", "steps_of", "strip_marks"]

_WASHED = "Wash and press all the cloth first; lengths below are of washed cloth."
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
        return tuple((letters(number), words) for number, words in enumerate(self.parts))


@dataclass(slots=True)
class _Steps:
    """Steps as they are written down; the next one gets the next number."""

    notation: Notation
    done: list[Step] = field(default_factory=list)

    def add(self, words: str, *parts: str) -> None:
        """Write down a step."""
        self.done.append(Step(number=str(len(self.done) + 1), words=words, parts=parts))


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
    for words in _preparing(plan, answer, layout):
        steps.add(words)
    order = order_of(plan, answer, layout)
    notes = list(advice_for(plan, answer, layout))
    if order is None:
        _write_places(steps, answer, layout)
    else:
        _write_order(steps, order, layout, layered=lay_of(answer, layout) is not None)
        notes = [*_effort(order), *notes]
        if any(part.direction is not None for part in order.parts[1:]):
            note += " Parts that are cut up further have letters: A, B, C."
    return (Step(words=note), *steps.done, *(Step(words=words) for words in notes))


def order_of(plan: Plan, answer: FabricPlan, layout: Layout) -> CutOrder | None:
    """The order in which a cloth is cut, what is bought beyond need included; None of a free layout."""
    if layout.tree is None:
        return None
    spare = round_down(_spare(answer, layout), plan.project.ruler)
    layered = lay_of(answer, layout) is not None
    return _order(_Same(layout.tree), RULERS[plan.project.unit], spare, layered)


@dataclass(frozen=True, slots=True, eq=False)
class _Same:
    """A tree of cuts that equals itself alone, so that it can be looked up at once however large it is."""

    tree: Region

    def __hash__(self) -> int:
        return id(self.tree)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.tree is other.tree


@lru_cache(maxsize=32)
def _order(same: _Same, ruler: Fraction, spare: Fraction, layered: bool) -> CutOrder:
    """The order of one cloth, which list, key, drawing and page all ask for."""
    return cut_order(same.tree, ruler, spare=spare, layered=layered)


def steps_before(plan: Plan, answer: FabricPlan, layout: Layout) -> int:
    """How many steps of a list come before the first cut to a ruler."""
    return sum(1 for _ in _preparing(plan, answer, layout))


@dataclass(frozen=True, slots=True, kw_only=True)
class StripMark:
    """The step that cuts a strip off the cloth, with its letter if it has one; how often the cloth is folded."""

    tag: str
    folds: int


def strip_marks(plan: Plan, answer: FabricPlan, layout: Layout) -> dict[tuple[Fraction, Fraction], StripMark]:
    """What is told of every strip that is cut off a cloth, by its two ends: along the cloth, or across it."""
    order = order_of(plan, answer, layout)
    if order is None:
        return {}
    before = steps_before(plan, answer, layout)
    named = _part_letters(order)
    along = order.parts[0].direction is Direction.ALONG
    return {
        (_ends_across if along else _ends_along)(region): StripMark(
            tag=f"{before + number}{named.get(move.part, '')}", folds=move.folds or 0
        )
        for number, setup in enumerate(order.setups, 1)
        for move in setup.moves
        if move.source == 0
        for region in order.parts[move.part].regions
    }


def cuts_along(plan: Plan, answer: FabricPlan, layout: Layout) -> bool:
    """Whether the first cuts of a cloth run along it."""
    order = order_of(plan, answer, layout)
    return order is not None and order.parts[0].direction is Direction.ALONG


def _ends_along(region: Region) -> tuple[Fraction, Fraction]:
    return region.y, region.y + region.along


def _ends_across(region: Region) -> tuple[Fraction, Fraction]:
    return region.x, region.x + region.across


def _effort(order: CutOrder) -> Iterator[str]:
    """How often the ruler is set, and how often it would be otherwise."""
    if not order.setups:
        return
    fewest = ", as few as can be," if order.fewest and len(order.setups) > 1 else ""
    yield (
        f"This takes {_counted(len(order.setups), 'setting')} of the ruler{fewest} and {_counted(order.cuts, 'cut')}; "
        f"piece by piece it would be {_counted(order.piecewise_setups, 'setting')} and "
        f"{_counted(order.piecewise_cuts, 'cut')}."
    )


def _preparing(plan: Plan, answer: FabricPlan, layout: Layout) -> Iterator[str]:
    """Washing, squaring up, how much is cut off cloth on hand, selvages, what is less than a mark of the ruler."""
    notation, cloth = plan.project.notation, layout.cloth
    lay = lay_of(answer, layout)
    if to_wash(answer, cloth):
        yield _WASHED if lay else _washing(answer, layout, notation)
    if lay:
        yield from spreading(answer, lay, plan.project)
    elif cloth.squaring:
        ends = "both its ends" if answer.fabric.square_up_ends == 2 and not cloth.whole else "its end"
        yield f"Square up the cloth: {notation.show(cloth.squaring)} of its length is there to trim {ends} straight."
    if cloth.source is Source.ON_HAND and not cloth.whole and cloth.length > layout.used:
        yield (
            f"Cut {notation.show(layout.used - cloth.squaring)} off the cloth, measured from the squared end; "
            f"{notation.near(cloth.length - layout.used)} of it stays as it is, selvages on."
        )
    edges = selvages(answer, cloth)
    if edges:
        which = "both selvages" if edges > 1 else "the selvage"
        lost = notation.near(cloth.width - cloth.across) + (" altogether" if edges > 1 else "")
        yield f"Trim off {which}, {lost}: {notation.show(cloth.across)} of width to use."
    if not cloth.odd:
        yield from _trimming(cloth, _spare(answer, layout), edges, plan)


def _spare(answer: FabricPlan, layout: Layout) -> Fraction:
    """How much longer cloth to buy is than its layout."""
    cloth = layout.cloth
    if cloth.source is not Source.BUY or is_missing(answer, cloth):
        return Fraction(0)
    return max(cloth.length - cloth.squaring - cloth.along, Fraction(0))


def _trimming(cloth: Cloth, spare: Fraction, edges: int, plan: Plan) -> Iterator[str]:
    """What is between two marks of the ruler is trimmed off, where a piece would have it else."""
    notation = plan.project.notation
    if cloth.whole and cloth.along != cloth.length - cloth.squaring:
        yield f"Trim the cloth to {notation.pair(cloth.across, cloth.along)}, whole marks of the ruler."
    elif not edges and cloth.across != cloth.width:
        yield f"Trim the cloth to {notation.show(cloth.across)} of its width, whole marks of the ruler."
    if 0 < spare < plan.project.ruler:
        yield f"Trim the cloth to {notation.show(cloth.along)} of its length, whole marks of the ruler."


def _washing(answer: FabricPlan, layout: Layout, notation: Notation) -> str:
    cloth = layout.cloth
    verb = "Wash and press" if answer.fabric.woven else "Wash"
    when = "as bought" if cloth.source is Source.BUY else "as measured"
    before, after = (
        f"{notation.near(width)} wide and {notation.near(length)} long"
        for width, length in (as_measured(answer.fabric, cloth), (cloth.width, cloth.length))
    )
    return f"{verb} the cloth first: {before} {when}, {after} after washing."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """What the words of a cloth's moves are made from."""

    order: CutOrder
    letters: dict[int, str]
    notation: Notation
    layered: bool

    @property
    def ruler(self) -> Fraction:
        """Length of a usual ruler, inches."""
        return RULERS[self.notation.unit]

    def size(self, part: CutPart) -> str:
        """Its size in words."""
        return self.notation.pair(part.across, part.along)


def _part_letters(order: CutOrder) -> dict[int, str]:
    """A, B, C for the parts that are cut on, in the order they are cut off."""
    cut_on = [
        move.part for setup in order.setups for move in setup.moves if order.parts[move.part].direction is not None
    ]
    return {part: letters(number).upper() for number, part in enumerate(cut_on)}


def _write_order(steps: _Steps, order: CutOrder, layout: Layout, *, layered: bool) -> None:
    """A step for every setting of the ruler."""
    sheet = _Sheet(order=order, letters=_part_letters(order), notation=steps.notation, layered=layered)
    whole = order.parts[0]
    if whole.names:
        lead = "The whole cloth" if layout.cloth.whole else "This length"
        steps.add(f"{lead}, {sheet.size(whole)}, is {_listed(whole.names)}: there is nothing to cut.")
    for setup in order.setups:
        steps.add(_setting(setup, sheet), *(_move(move, sheet) for move in setup.moves))


def _setting(setup: Setup, sheet: _Sheet) -> str:
    measure = sheet.notation.show(setup.measure)
    if setup.measure <= sheet.ruler:
        return f"Set the ruler to {measure}."
    ruler = sheet.notation.show(sheet.ruler)
    if setup.measure > 2 * sheet.ruler:
        return (
            f"Measure out {measure} with a tape along both edges, and mark a line: two rulers of {ruler} are shorter."
        )
    fold = "" if sheet.layered else "fold the cloth evenly, or "
    return f"Measure out {measure}, more than a ruler of {ruler}: {fold}lay two rulers end to end."


def _move(move: Move, sheet: _Sheet) -> str:
    """One move: what is cut off what, how many from each, folded or not, and what it leaves."""
    source, part = sheet.order.parts[move.source], sheet.order.parts[move.part]
    made, also = _made(move, sheet)
    origin = _origin(move, sheet)
    if move.over:
        return f"What is left of {origin} is {made}.{also}"
    each = f", {part.each} from each" if source.count > 1 else ""
    off = "off" if move.source == 0 else "from"
    total = _sum(move, sheet)
    return f"Cut {made} {off} {origin}{each}{_folded(move, sheet)}: {total}.{also}"


def _made(move: Move, sheet: _Sheet) -> tuple[str, str]:
    """What a move makes; and who they are, where pieces of one size have several names."""
    part = sheet.order.parts[move.part]
    size = sheet.size(part)
    if not part.names:
        return f"{_counted(part.count, _noun(move, sheet))} {sheet.letters[move.part]} ({size})", ""
    if len(part.names) > 1:
        return f"{part.count} pieces ({size})", f" They are {_listed(part.names)}."
    return f"{part.count} {short_name(part.names[0][0])} ({size})", ""


def _noun(move: Move, sheet: _Sheet) -> str:
    """Cloth that is longer where it was cut than wide is a strip; else a length of the cloth, or a part."""
    source, part = sheet.order.parts[move.source], sheet.order.parts[move.part]
    assert source.direction is not None
    if part.line(source.direction) >= part.measure(source.direction):
        return "strip"
    return "length" if move.source == 0 and source.direction is Direction.ACROSS else "part"


def _origin(move: Move, sheet: _Sheet) -> str:
    source = sheet.order.parts[move.source]
    if move.source == 0:
        return "the cloth"
    return f"{source.count} {sheet.letters[move.source]}" if source.count > 1 else sheet.letters[move.source]


def _folded(move: Move, sheet: _Sheet) -> str:
    """How the source is folded: in half, to cut two at a stroke, or so that the cut is no longer than the ruler."""
    if move.doubled:
        return ", folded in half, two at a stroke"
    if move.folds is None:
        source = sheet.order.parts[move.source]
        assert source.direction is not None
        return f", along a chalked line of {sheet.notation.show(source.line(source.direction))}"
    return ("", ", folded once", ", folded twice")[move.folds]


def _sum(move: Move, sheet: _Sheet) -> str:
    """A move's sum against what there was of each source: "4 × 10 = 40 of 41 3/4 in, 1 3/4 left"."""
    source, part = sheet.order.parts[move.source], sheet.order.parts[move.part]
    assert source.direction is not None
    bare, measure = sheet.notation.bare, part.measure(source.direction)
    total = f"{part.each} × {bare(measure)} = {bare(part.each * measure)}" if part.each > 1 else bare(measure)
    left = f", {bare(move.after)} left" if move.after else ""
    stays = ", which stays as it is" if move.after and _is_last(move, sheet) and move.source == 0 else ""
    return f"{total} of {sheet.notation.show(move.before)}{left}{stays}"


def _is_last(move: Move, sheet: _Sheet) -> bool:
    """Whether nothing more is cut from its sources."""
    ours = [other for setup in sheet.order.setups for other in setup.moves if other.source == move.source]
    return ours[-1] == move


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
