"""The judge of plan documents; it knows nothing else of Ellwand."""

from ellwand.verdict.judge import judge_plan

__all__ = ["judge_plan"]
