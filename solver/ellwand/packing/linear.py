"""The solver of linear programs that bounds and bands share."""

from __future__ import annotations

from typing import Any

__all__ = ["linear_solver"]

_QUIET = "use_preprocessing: false"  # its presolve writes to standard error; column generation gains nothing by it


def linear_solver() -> Any:
    """Start an empty linear program (GLOP through pywraplp, which loads in 50 ms)."""
    from ortools.linear_solver import pywraplp

    solver = pywraplp.Solver.CreateSolver("GLOP")
    solver.SetSolverSpecificParametersAsString(_QUIET)
    return solver
