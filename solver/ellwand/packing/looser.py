"""The same items with more freedom to cut: what the cuts that were asked for cost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from ellwand.packing.problem import Problem, Result

__all__ = ["loosened", "never_longer"]


def loosened(problem: Problem) -> tuple[Problem, ...]:
    """`problem` by straight cuts in any number of stages, if it has to keep to some; and in any arrangement.

    Every packing of the problem is one of each, and every one of the first is one of the second. Nothing is looser
    than any arrangement, which is also how items lie around blocked parts and in phase.
    """
    if not problem.guillotine or problem.hindered:
        return ()
    deeper = replace(problem, stages=None)
    return (*((deeper,) if problem.stages is not None else ()), replace(deeper, guillotine=False))


def never_longer(tight: Result, looser: Iterable[Result]) -> Iterator[Result]:
    """Results of ever looser problems, each with the packing before it where its own is no shorter."""
    for result in looser:
        if result.packing.length >= tight.packing.length:
            result = replace(result, packing=tight.packing, method=tight.method)
        tight = result
        yield result
