"""What is done with pieces after cutting: joins told strip by strip, then the rest, equal advice in one line."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import gcd

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Layout, Offcut, Piece, Plan, Role
from ellwand.quilt.strips import JOIN_WORDS
from ellwand_cli.views.lays import lay_of
from ellwand_cli.views.origin import as_told, is_missing
from ellwand_cli.views.typeset import joined

__all__ = ["advice_for", "short_name"]

_LONGEST_NAME = 48
_JOINS = tuple(JOIN_WORDS.values())


def advice_for(plan: Plan, answer: FabricPlan, layout: Layout) -> Iterator[str]:
    """The notes that end one cloth's cut list, a sentence each."""
    here = {placed.piece for placed in layout.placed}
    pieces = [piece for piece in answer.pieces if piece.id in here]
    for strip in dict.fromkeys(_strip(piece) for piece in pieces if _join(piece)):
        yield _joining(plan, answer, layout, strip)
    others: dict[str, dict[str, None]] = {}
    for piece in pieces:
        after = piece.after.removeprefix(_join(piece)).removeprefix("; ")
        if after:
            others.setdefault(after, {})[short_name(_strip(piece) if _join(piece) else piece.id)] = None
    for after, names in others.items():
        yield f"{joined(list(names))}: {after}."
    yield from _keeping(as_told(answer, layout).offcuts, plan.project.notation)


def _join(piece: Piece) -> str:
    """How a part of a strip is joined to the others, or nothing."""
    return next((words for words in _JOINS if piece.after.startswith(words)), "")


def _strip(piece: Piece) -> str:
    """The strip that a part belongs to: ``outer/left`` of ``outer/left/1``."""
    return piece.id.rpartition("/")[0]


def _joining(plan: Plan, answer: FabricPlan, layout: Layout, strip: str) -> str:
    """A strip's parts, each with the cloths it comes from where they are not all from this one."""
    parts = [piece for piece in answer.pieces if _join(piece) and _strip(piece) == strip]
    cloths = {piece.id: _cloths(answer, piece) for piece in parts}
    told = lay_of(answer, layout) is None and any(found != [layout.cloth.id] for found in cloths.values())
    strips = _strips(parts, plan.project.copies)
    words = []
    for piece in parts:
        number = piece.count // strips
        times = f"{number} × " if number > 1 else ""
        words.append(f"{times}{short_name(piece.id)}" + (f" ({', '.join(cloths[piece.id])})" if told else ""))
    lead = f"{short_name(strip)}, {strips} such strips: for each join" if strips > 1 else f"{short_name(strip)}: join"
    return f"{lead} {joined(words)} {_join(parts[0]).removeprefix('join ')}."


def _strips(parts: list[Piece], copies: int) -> int:
    """How many equal strips are joined from `parts`: one a copy, or more where all parts come so often.

    A binding is one strip a copy, or only that of the copy that its parts name.
    """
    if parts[0].role is Role.BINDING:
        return copies if _strip(parts[0]) == "binding" else 1
    counts = [piece.count for piece in parts]
    return gcd(*counts) if len(counts) > 1 else gcd(counts[0], copies)


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
