"""The dynamic programme over the width, against trying everything."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from ellwand.packing.bands import Budget, band_heights, price_bands
from ellwand.packing.patterns import Run, Shape, counts_of


def shapes_drawn(random: Random) -> list[Shape]:
    """Three kinds of item, each lying one way, of different widths."""
    return [
        Shape(item=item, turned=False, w=w, h=random.randint(1, 7))
        for item, w in enumerate(random.sample(range(2, 8), 3))
    ]


def best_by_trial(shapes: list[Shape], height: int, width: int, demand: list[int], price: list[float]) -> float:
    """The most value of full-height stacks side by side; a last stack of a kind may be lower."""
    best = 0.0
    for copies in product(*(range(want + 1) for want in demand)):
        used = 0
        for shape, count in zip(shapes, copies, strict=True):
            high = height // shape.h
            used += shape.w * (-(-count // high) if high else 10**6 * count)
        if used <= width:
            best = max(best, sum(count * value for count, value in zip(copies, price, strict=True)))
    return best


@pytest.mark.parametrize("seed", range(20))
def test_band_values_agree_with_trying_everything(seed: int) -> None:
    """Every height and every width has the value that no band beats, and a band of that value."""
    random = Random(seed)
    shapes, demand = shapes_drawn(random), [random.randint(1, 5) for _ in range(3)]
    price = [float(random.randint(1, 9)) for _ in range(3)]
    heights = sorted(random.sample(range(3, 12), 3))

    table = price_bands(shapes, heights, 20, demand, price, Budget(left=1e9))

    for row, height in enumerate(heights):
        for width in range(21):
            assert table.value[row, width] == best_by_trial(shapes, height, width, demand, price)
            band = table.band(row, width)
            counts = counts_of([Run(band=band, count=1)], 3)
            assert sum(count * value for count, value in zip(counts, price, strict=True)) == table.value[row, width]
            assert sum(stack.w for stack in band.stacks) <= width
            assert band.h <= height


def test_shapes_of_one_width_share_a_stack() -> None:
    """7 = 4 + 3: neither kind alone fills the height."""
    shapes = [Shape(item=0, turned=False, w=5, h=4), Shape(item=1, turned=False, w=5, h=3)]

    band = price_bands(shapes, [7], 5, [9, 9], [4.0, 3.0], Budget(left=1e9)).band(0, 5)

    assert [stack.h for stack in band.stacks] == [7]


def test_heights_are_singles_first_and_never_too_many() -> None:
    """Sums are added as far as there is room, and many different heights are thinned out from the tallest."""
    two = [Shape(item=0, turned=False, w=1, h=4), Shape(item=1, turned=False, w=1, h=7)]
    many = [Shape(item=item, turned=False, w=1, h=item + 1) for item in range(50)]

    assert band_heights(two, [1, 1], 4) == [4, 7, 8, 11]
    assert band_heights(two, [1, 0], 2) == [4, 8]
    assert max(band_heights(many, [1] * 50, 10)) == 50
    assert len(band_heights(many, [1] * 50, 10)) <= 10


def test_pricing_spends_the_budget() -> None:
    """Work is counted, so that the same effort is the same work on every machine."""
    budget = Budget(left=0.5)

    price_bands([Shape(item=0, turned=False, w=1, h=1)], [1], 5, [1], [1.0], budget)

    assert budget.over
