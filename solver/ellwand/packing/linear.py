"""The solver of linear programs that bounds and bands share."""

from __future__ import annotations

from typing import Any

__all__ = ["linear_solver"]


def linear_solver() -> Any:
    """Start an empty linear program (GLOP through pywraplp, which loads in 50 ms)."""
    from ortools.linear_solver import pywraplp

    return pywraplp.Solver.CreateSolver("GLOP")
