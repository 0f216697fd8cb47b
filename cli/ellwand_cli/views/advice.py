"""What is done with pieces after cutting: joins told strip by strip, then the rest, equal advice in one line."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Layout, Offcut, Piece, Plan
from ellwand_cli.views.joins import join_words, joined_strips, strip_of, strips_joined
from ellwand_cli.views.lays import lay_of
from ellwand_cli.views.origin import as_told, is_missing
from ellwand_cli.views.typeset import joined

__all__ = ["advice_for", "short_name"]

_LONGEST_NAME = 48


def advice_for(plan: Plan, answer: FabricPlan, layout: Layout) -> Iterator[str]:
    """The notes that end one cloth's cut list, a sentence each."""
    here = {placed.piece for placed in layout.placed}
    pieces = [piece for piece in answer.pieces if piece.id in here]
    for strip in dict.fromkeys(strip_of(piece) for piece in pieces if join_words(piece)):
        yield _joining(plan, answer, layout, strip)
    others: dict[str, dict[str, None]] = {}
    for piece in pieces:
        after = piece.after.removeprefix(join_words(piece)).removeprefix("; ")
        if after:
            others.setdefault(after, {})[short_name(strip_of(piece) if join_words(piece) else piece.id)] = None
    for after, names in others.items():
        yield f"{joined(list(names))}: {after}."
    yield from _keeping(as_told(answer, layout).offcuts, plan.project.notation)


def _joining(plan: Plan, answer: FabricPlan, layout: Layout, strip: str) -> str:
    """A strip's parts, each with the cloths it comes from where they are not all from this one."""
    parts = [piece for piece in answer.pieces if join_words(piece) and strip_of(piece) == strip]
    cloths = {piece.id: _cloths(answer, piece) for piece in parts}
    told = lay_of(answer, layout) is None and any(found != [layout.cloth.id] for found in cloths.values())
    strips = strips_joined(parts, plan.project.copies)
    words = []
    for piece in parts:
        number = piece.count // strips
        times = f"{number} × " if number > 1 else ""
        words.append(f"{times}{short_name(piece.id)}" + (f" ({', '.join(cloths[piece.id])})" if told else ""))
    mark = next(f" ({one.mark})" for one in joined_strips(plan) if one.parts[0] == parts[0])
    name = short_name(strip) + mark
    lead = f"{name}, {strips} such strips: for each join" if strips > 1 else f"{name}: join"
    return f"{lead} {joined(words)} {join_words(parts[0]).removeprefix('join ')}."


def _cloths(answer: FabricPlan, piece: Piece) -> list[str]:
    """The cloths that a piece is cut from."""
    found = [layout.cloth for layout in answer.layouts if any(placed.piece == piece.id for placed in layout.placed)]
    return [f"{cloth.id}, missing" if is_missing(answer, cloth) else cloth.id for cloth in found]


def _keeping(offcuts: tuple[Offcut, ...], notation: Notation) -> Iterator[str]:
    sizes: dict[tuple[Fraction, Fraction], int] = {}
    for offcut in offcuts:
        sizes[offcut.across, offcut.along] = sizes.get((offcut.across, offcut.along), 0) + 1
    words = [f"{count} of {notation.pair(*size)}" for size, count in sizes.items()]
    if words:
        yield f"Offcuts worth keeping: {joined(words)}."


def short_name(piece: str) -> str:
    """A piece's name; a very long one is shortened."""
    return piece if len(piece) <= _LONGEST_NAME else piece[: _LONGEST_NAME - 1] + "…"
