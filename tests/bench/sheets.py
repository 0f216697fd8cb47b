"""How long the cutting sheets take once a plan is there: `PYTHONPATH=solver:cli python tests/bench/sheets.py`."""

from __future__ import annotations

from time import perf_counter, process_time

from ellwand.model import Plan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project
from ellwand_cli.views.sheets import cutting_sheets

# A quilt, and so many kits of a smaller one; invented.
QUILT = """
[project]
name = "two hundred"
[quilt]
across = 4
down = 5
[[block]]
name = "star"
count = 20
finished = [8, 8]
{pieces}
[[border]]
name = "inner"
width = 2
fabric = "slate"
[[border]]
name = "outer"
width = 5
fabric = "ink"
corners = "mitred"
[binding]
fabric = "brass"
[backing]
fabric = "oat"
[fabric.ink]
width = 43
[fabric.brass]
width = 43
[fabric.slate]
width = 43
[fabric.oat]
width = 44
"""
LAYERS = (("ground", "ink", 9, 9, 1), ("glow", "brass", 5, 4, 1), ("ray", "slate", 4, 2, 4), ("moon", "oat", 3, 3, 3))
KITS = 164


def layers() -> str:
    """The block's pieces as tables."""
    return "\n".join(
        f'[[block.piece]]\nname = "{name}"\nfabric = "{fabric}"\ncut = [{across}, {along}]\ncount = {count}'
        for name, fabric, across, along, count in LAYERS
    )


def quilt(copies: int) -> Plan:
    """A plan of so many quilts."""
    text = QUILT.format(pieces=layers()).replace('"two hundred"', f'"two hundred"\ncopies = {copies}')
    return make_plan(parse_project(text, "bench.toml"), effort=Effort.QUICK)


def pieces_of(plan: Plan) -> int:
    """How many pieces its layouts have."""
    return sum(len(layout.placed) for answer in plan.fabrics for layout in answer.layouts)


def measured(plan: Plan) -> str:
    """Pieces, and the seconds that sheets of them take: of the processor, and by the clock."""
    clock, processor = perf_counter(), process_time()
    cutting_sheets(plan)
    return (
        f"{pieces_of(plan)} pieces: {process_time() - processor:.1f} s of the processor, "
        f"{perf_counter() - clock:.1f} s by the clock"
    )


def main() -> None:
    """Measure each plan twice: the first time loads fonts and matplotlib."""
    for copies in (1, KITS):
        plan = quilt(copies)
        print("first time", measured(plan), sep=", ")
        print("again", measured(plan), sep=", ")


if __name__ == "__main__":
    main()
