"""What the tests of trade facts share: small projects, and what the program makes of them.

Nothing is lost to selvages or squaring unless a test says so, and each sets the allowances that its source used.
"""

from __future__ import annotations

from collections.abc import Iterable

from ellwand.model import FabricPlan, Piece, Quilt
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand.project.tables import Project
from ellwand.quilt.work import work_out

__all__ = ["Loose", "centre", "number", "plan", "plan_of", "read", "worked"]

Loose = tuple[str, str, int, str]  # across, down, count, grain


def read(tables: str, *, head: str = "", cloth: str = "width = 42") -> Project:
    """The project of `tables`, all of whose cloth is called ``f``."""
    lost = "".join(f"{key} = 0\n" for key in ("selvage", "square_up") if f"{key} =" not in cloth)
    start = f'[project]\nname = "Invented for a fact"\n{head}\n'
    return parse_project(f"{start}{tables}\n[fabric.f]\n{lost}{cloth}\n", "facts.toml")


def centre(finished: str, tables: str, *, head: str = "", cloth: str = "width = 42") -> Project:
    """A quilt whose centre is one block of the `finished` size, with `tables` round it."""
    return read(f'[quilt]\n[[block]]\nname = "top"\nfinished = {finished}\n{tables}', head=head, cloth=cloth)


def worked(project: Project) -> tuple[Quilt, dict[str, Piece]]:
    """The quilt with its pieces as they stand before it is settled how open ones are cut."""
    quilt = work_out(project)
    return quilt, {piece.id: piece for part in quilt.parts for piece in part.pieces}


def number(pieces: Iterable[Piece]) -> int:
    """How many pieces are cut in all."""
    return sum(piece.count for piece in pieces)


def plan(project: Project, effort: Effort = Effort.QUICK) -> FabricPlan:
    """The answer for the project's only cloth."""
    (answer,) = make_plan(project, effort=effort).fabrics
    return answer


def plan_of(pieces: list[Loose], cloth: str, head: str = "", effort: Effort = Effort.QUICK) -> FabricPlan:
    """The answer for loose pieces."""
    tables = ""
    for at, (across, down, count, grain) in enumerate(pieces):
        tables += f'[[piece]]\nname = "p{at}"\nfabric = "f"\ncut = ["{across}", "{down}"]\n'
        tables += f'count = {count}\ngrain = "{grain}"\n'
    return plan(read(tables, head=head, cloth=cloth), effort)
