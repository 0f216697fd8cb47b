"""The widest border that fits, as text and as a document."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from ellwand.fit import Fit, Stop
from ellwand.record import near_number
from ellwand_cli.views.spare import slack_document, spare
from ellwand_cli.views.tables import WIDTH, wrapped
from ellwand_cli.views.typeset import joined
from ellwand_cli.views.words import counted, to_buy

__all__ = ["fit_document", "fit_text", "nothing_fits"]


def fit_text(fit: Fit, stated: Mapping[str, Fraction]) -> str:
    """The widest width, what stops a wider one, and what is bought besides."""
    return "\n".join(wrapped(line, WIDTH, rest="  ") for line in _lines(fit, stated)) + "\n"


def _lines(fit: Fit, stated: Mapping[str, Fraction]) -> Iterator[str]:
    assert fit.value is not None
    assert fit.plan is not None
    notation = fit.varied.base.notation
    cloth = joined(
        f"{notation.cloth(stated[name])} of {name}" if name in stated else f"the {name} on hand" for name in fit.limits
    )
    yield f"{_widths(fit, fit.value)}: {_how_wide(fit)} {cloth}{spare(fit.slack, notation)}."
    if fit.cut_short:
        yield "Time was up: a wider one may fit as well."
    yield f"One mark more, {notation.show(fit.beyond)}: {_why(fit)}"
    bought = [answer for answer in fit.plan.fabrics if answer.fabric.id not in fit.limits and answer.steps]
    if bought:
        yield f"To buy besides: {', '.join(f'{answer.fabric.id} {to_buy(answer, notation)}' for answer in bought)}."


def _widths(fit: Fit, value: Fraction) -> str:
    notation, borders = fit.varied.base.notation, fit.varied.at(value).borders
    numbers = sorted(int(spot[1]) for spot, _ in fit.varied.spots)
    names = [f"border {borders[number].name}, {notation.show(borders[number].width)}" for number in numbers]
    text = joined(names)
    return text[:1].upper() + text[1:]


def _how_wide(fit: Fit) -> str:
    if fit.proven:
        return "the widest for"
    return "it fits" if fit.cut_short else "the widest found for"


def _why(fit: Fit) -> str:
    """What stops one mark more."""
    if fit.refusal:
        return fit.refusal
    if not fit.stopped:
        return "here the search ends."
    return " ".join(_stopped(fit, stop) for stop in fit.stopped)


def _stopped(fit: Fit, stop: Stop) -> str:
    notation, name = fit.varied.base.notation, stop.answer.fabric.id
    sure = (
        "cannot be done" if stop.proven else "no layout was found that does, though nothing proves that there is none"
    )
    return f"{name} is short of {notation.show(stop.missing)}, and no room is left for {counted(stop.pieces)}; {sure}."


def nothing_fits(fit: Fit) -> str:
    """Why not even the narrowest border fits, or was found to."""
    width = fit.varied.base.notation.show(fit.beyond)
    found = "fits" if fit.proven else "was found to fit before time was up" if fit.cut_short else "was found to fit"
    return f"not even {width} {found}: {_why(fit)}"


def fit_document(fit: Fit) -> dict[str, Any]:
    """The same for machines."""
    notation, plan = fit.varied.base.notation, fit.plan
    borders = () if fit.value is None else fit.varied.at(fit.value).borders
    return {
        "format": 1,
        "width": None if fit.value is None else near_number(notation, fit.value),
        "borders": {border.name: near_number(notation, border.width) for border in borders},
        "limits": list(fit.limits),
        "beyond": near_number(notation, fit.beyond),
        "proven": fit.proven,
        "cut_short": fit.cut_short,
        "refusal": fit.refusal or None,
        "stopped": [
            {
                "fabric": stop.answer.fabric.id,
                "missing": notation.number(stop.missing),
                "pieces": dict(stop.pieces),
                "proven": stop.proven,
            }
            for stop in fit.stopped
        ],
        "slack": slack_document(fit.slack, notation),
        "fabrics": [
            {
                "id": answer.fabric.id,
                "needed": notation.number(answer.needed),
                "bought": near_number(notation, answer.bought),
            }
            for answer in (plan.fabrics if plan else ())
        ],
    }
