"""An easier project never needs provably more where its constructions change: cases that once did."""

from __future__ import annotations

import pytest

from ellwand.model import FabricPlan
from ellwand.packing.problem import Effort
from ellwand.plan import make_plan
from ellwand.project.read import parse_project

PLAIN = "selvage = 0\nsquare_up = 0\n"
BACKING = """
[quilt]
[[block]]
name = "b"
finished = ["43 1/2", "59 1/2"]
[backing]
fabric = "ink"
overhang = 0
seam = "1/2 in"
"""
PIECE = '[[piece]]\nname = "p"\nfabric = "ink"\ncut = [20, 44]\ngrain = "lengthwise"\n'
BORDER = """
[quilt]
[[block]]
name = "b"
finished = ["15 1/2", "40 1/2"]
[[border]]
name = "edge"
width = "12 1/2 in"
fabric = "ink"
corners = "butted"
join = "straight"
"""
BINDING = """
[quilt]
across = 2
down = 2
[[block]]
name = "b"
finished = [9, 9]
[binding]
fabric = "ink"
"""
PAIRS = {
    "a backing that fits in one piece on a wider bolt, with lengths on hand": (
        BACKING,
        f"width = 42\n{PLAIN}on_hand = [ {{ length = 50, count = 2 }} ]",
        f"width = 45\n{PLAIN}on_hand = [ {{ length = 50, count = 2 }} ]",
    ),
    "the same with nothing on hand and a piece beside it": (
        BACKING + PIECE,
        f"width = 42\n{PLAIN}",
        f"width = 45\n{PLAIN}",
    ),
    "a border whose sides and ends are best cut different ways": (
        BORDER,
        f'width = 40\nway = "one-way"\n{PLAIN}',
        f"width = 40\n{PLAIN}",
    ),
    "a binding from a leftover that is narrower than a wider bolt": (
        BINDING,
        "width = 41\non_hand = [ { width = 40, length = 18 } ]",
        "width = 44\non_hand = [ { width = 40, length = 18 } ]",
    ),
}


def ink(parts: str, fabric: str) -> FabricPlan:
    """The plan of the one fabric."""
    text = f'[project]\nname = "pair"\n{parts}\n[fabric.ink]\n{fabric}\n'
    (answer,) = make_plan(parse_project(text, "pair.toml"), effort=Effort.QUICK).fabrics
    return answer


@pytest.mark.parametrize("pair", PAIRS)
def test_more_freedom_never_needs_provably_more(pair: str) -> None:
    """The easier bound is never above the harder need; nor is the easier need, where it is proven."""
    parts, harder_cloth, easier_cloth = PAIRS[pair]
    harder, easier = ink(parts, harder_cloth), ink(parts, easier_cloth)

    assert easier.bound <= harder.needed
    assert not easier.proven or easier.needed <= harder.needed
