"""A project that supposes other cloth on hand than its file lists."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from ellwand.errors import InputError
from ellwand.lengths import is_decimal, round_down, unit_length
from ellwand.project.table import Table
from ellwand.project.tables import Fabric, OnHand, Project
from ellwand.project.wording import listed, meant, plain

__all__ = ["named_length", "suppose"]

_MILLION = 10**6


def suppose(project: Project, wishes: Iterable[str], where: str) -> Project:
    """`project` with lengths of the full width on hand, in place of what its file lists of those fabrics.

    They are as measured, with both selvages, still to be squared up, and to be washed where the fabric is.

    Parameters
    ----------
    wishes
        ``"ink = 1 1/2 yd"``; two of one fabric are two lengths, and a length of 0 is no cloth.
    where
        What a message calls their place.

    Raises
    ------
    InputError
        No length is given, or there is no such fabric, or it is a mix.
    """
    lengths: dict[str, list[Fraction]] = {}
    for wish in wishes:
        name, length = named_length(project, wish, where, zero=True)
        if name not in project.fabrics:
            hint = meant(name, project.fabrics)
            raise InputError(where=where, found=f'there is no fabric "{plain(name)}"', hint=hint)
        if project.fabrics[name].any_of:
            hint = f"Suppose cloth of {listed(project.fabrics[name].any_of)}"
            raise InputError(where=where, found=f'"{plain(name)}" is a mix, and has no cloth of its own', hint=hint)
        lengths.setdefault(name, []).append(length)
    fabrics = {
        name: _with_lengths(fabric, lengths[name], project.unit) if name in lengths else fabric
        for name, fabric in project.fabrics.items()
    }
    return replace(project, fabrics=fabrics)


def named_length(project: Project, text: str, where: str, *, zero: bool = False) -> tuple[str, Fraction]:
    """A name and a length, inches, from ``ink = 1 1/2 yd``; a length of 0 only where that makes sense (`zero`).

    Raises
    ------
    InputError
        It is no such thing.
    """
    name, sign, length = (part.strip() for part in text.rpartition("="))
    if not sign or not name:
        wanted = f'Write a fabric and a length: "{next(iter(project.fabrics))} = 1 1/2 yd"'
        raise InputError(where=where, found=f'"{plain(text)}" is no fabric with a length', wanted=wanted)
    return name, Table(where=where, values={name: length}, unit=project.unit).length(name, zero=zero)


def _with_lengths(fabric: Fabric, lengths: Iterable[Fraction], unit: str) -> Fabric:
    squaring = fabric.square_up * fabric.square_up_ends
    cloths = tuple(
        OnHand(length=_ending(length, unit), selvages=2, washed=False, square_up=squaring)
        for length in lengths
        if length
    )
    return replace(fabric, on_hand=cloths, supposed=True)


def _ending(length: Fraction, unit: str) -> Fraction:
    """`length` as a decimal number of the unit, down to a millionth, as measures in a file are taken."""
    step = unit_length(unit)
    return length if is_decimal(length / step) else round_down(length, step / _MILLION)
