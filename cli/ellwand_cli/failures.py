"""Errors as the command line tells them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ellwand.errors import EllwandError, NoPlanError

__all__ = ["NoFitError", "ShortError", "WrongClaimError", "error_document"]


class ShortError(NoPlanError):
    """A plan was made, but a fabric that may not be bought is not enough; `plan` is its document."""

    def __init__(self, *, where: str, found: str, plan: Mapping[str, Any]) -> None:
        super().__init__(where=where, found=found)
        self.plan = plan


class NoFitError(NoPlanError):
    """Not even the narrowest border fits."""


class WrongClaimError(NoPlanError):
    """A claimed yardage does not do, or was not found to; `answer` is the document of all claims."""

    def __init__(self, *, where: str, found: str, answer: Mapping[str, Any]) -> None:
        super().__init__(where=where, found=found)
        self.answer = answer


def error_document(error: EllwandError) -> dict[str, Any]:
    """What ``--json`` prints instead of an answer; a plan that falls short is told along.

    Where nothing but a hint says what would be right, `wanted` is that hint.
    """
    wanted = error.wanted or error.hint
    facts = {"where": error.where, "found": error.found, "wanted": wanted, "hint": error.hint}
    document: dict[str, Any] = {"format": 1, "error": facts}
    if isinstance(error, WrongClaimError):
        return {**document, "answer": error.answer}
    return {**document, "plan": error.plan} if isinstance(error, ShortError) else document
