"""What a plan says of why no layout can need less."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Proof"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """Why no layout can need less: a theorem, and the whole-number weights with which it can be proved again.

    It speaks of the construction chosen. `weights` are pairs (size in marks of the ruler, weight), along bars that
    run `axis` (see :class:`ellwand.packing.problem.Weights`); without an axis the tallest piece alone is the proof.
    `cloths` are (across, along) in marks of every cloth on hand that could be used, `lengths` those of them that are
    cut across first; `odd` are those with an outline or flaws, with the square marks that can be used of each.
    `searched`: the pieces are few, and every layout of the project's style was looked through.
    """

    theorem: str
    axis: str = ""
    weights: tuple[tuple[int, int], ...] = ()
    cloths: tuple[tuple[int, int], ...] = ()
    lengths: tuple[tuple[int, int], ...] = ()
    odd: tuple[tuple[int, int, int], ...] = ()
    searched: bool = False
