"""The parts of a plan document that tell of kits cut in lays."""

from __future__ import annotations

from typing import Any

from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Lay, Together
from ellwand.project.tables import Project

__all__ = ["kits_document", "lays_document"]

Document = dict[str, Any]  # JSON: its values are of many kinds


def kits_document(project: Project) -> Document:
    """How the project has its copies cut."""
    kits, notation = project.kits, project.notation
    again = notation.number(kits.square_again)
    return {"layers": kits.layers, "square_again": again, "strips": kits.strips}


def lays_document(answer: FabricPlan, notation: Notation) -> Document:
    """A fabric's lays, and what all its copies laid as one would take."""
    return {
        "lays": [_lay(notation, number, lay) for number, lay in enumerate(answer.lays, 1)],
        "together": None if answer.together is None else _together(notation, answer.together),
    }


def _lay(notation: Notation, number: int, lay: Lay) -> Document:
    cloth = lay.layout.cloth
    return {
        "lay": number,
        "kits": lay.kits,
        "plies": lay.plies,
        "layers": lay.layers,
        "times": lay.times,
        "rest": lay.rest,
        "along": notation.number(cloth.along),
        "squaring": notation.number(cloth.squaring),
        "takes": notation.number(cloth.length),
        "cuts": lay.cuts,
    }


def _together(notation: Notation, together: Together) -> Document:
    return {
        "needed": notation.number(together.needed),
        "bought": notation.number(together.bought),
        "cuts": together.cuts,
    }
