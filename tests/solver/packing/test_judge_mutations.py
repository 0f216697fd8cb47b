"""The judge on good packings, made bad one way at a time: nothing gets through."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import accumulate
from random import Random

import pytest

from ellwand.packing.bound import lower_bound
from ellwand.packing.few import pack_few
from ellwand.packing.judge import judge
from ellwand.packing.problem import Bound, Item, Packing, Place, Problem, Scope, Stock, Weights

NO_BOUND = Bound(length=0, theorem="")
Box = tuple[int, int, int, int]  # x, y, w, h


def split(draw: Random, total: int, parts: int) -> list[int]:
    """Whole numbers above 0 that add up to `total`."""
    ends = sorted(draw.sample(range(1, total), min(parts, total) - 1))
    return [end - start for start, end in zip([0, *ends], [*ends, total], strict=True)]


def strips(draw: Random, box: Box) -> Iterator[Box]:
    """A rectangle cut without waste into strips, columns and pieces."""
    x, y, w, h = box
    for low, height in zip(*starts(split(draw, h, draw.randint(2, 3))), strict=True):
        for left, width in zip(*starts(split(draw, w, draw.randint(1, 3))), strict=True):
            for at, piece in zip(*starts(split(draw, height, draw.randint(1, 2))), strict=True):
                yield x + left, y + low + at, width, piece


def starts(sizes: list[int]) -> tuple[list[int], list[int]]:
    """Where each of sizes laid end to end begins, and the sizes."""
    return list(accumulate(sizes[:-1], initial=0)), sizes


def cut_deep(draw: Random, box: Box, depth: int) -> Iterator[Box]:
    """A rectangle cut without waste, along or across, at most `depth` times over."""
    x, y, w, h = box
    if depth == 0 or min(w, h) == 1:
        yield box
    elif draw.random() < 0.5:
        at = draw.randint(1, w - 1)
        yield from cut_deep(draw, (x, y, at, h), depth - draw.randint(1, min(depth, 2)))
        yield from cut_deep(draw, (x + at, y, w - at, h), depth - 1)
    else:
        at = draw.randint(1, h - 1)
        yield from cut_deep(draw, (x, y, w, at), depth - 1)
        yield from cut_deep(draw, (x, y + at, w, h - at), depth - draw.randint(1, min(depth, 2)))


def tight(boxes: list[Box], scope: Scope, turnable: bool) -> tuple[Problem, Packing]:
    """A problem whose packing, these boxes, wastes nothing, in an open stock beside a sheet that holds no item."""
    width, length = max(x + w for x, _, w, _ in boxes), max(y + h for _, y, _, h in boxes)
    shapes = [(min(w, h), max(w, h)) if turnable else (w, h) for *_, w, h in boxes]
    kinds = list(dict.fromkeys(shapes))
    problem = Problem(
        items=tuple(Item(w=w, h=h, demand=shapes.count((w, h)), turnable=turnable) for w, h in kinds),
        stocks=(Stock(w=width * 3, h=0), Stock(w=width, h=None)),
        guillotine=scope is not Scope.FREE,
        stages=3 if scope is Scope.THREE_STAGES else None,
    )
    places = (
        Place(item=kinds.index(shape), stock=1, x=x, y=y, turned=(w, h) != shape)
        for (x, y, w, h), shape in zip(boxes, shapes, strict=True)
    )
    return problem, Packing(places=tuple(places), length=length)


def size_of(problem: Problem, place: Place) -> tuple[int, int]:
    """Width and height as it lies."""
    item = problem.items[place.item]
    return (item.h, item.w) if place.turned else (item.w, item.h)


def mutants(draw: Random, problem: Problem, packing: Packing) -> Iterator[tuple[str, Packing]]:
    """Packings that differ from a tight one in one thing, each with what was done; all of them are wrong."""
    places = packing.places
    for number, place in enumerate(places):
        before, after = places[:number], places[number + 1 :]
        changed = {
            "moved aside": replace(place, x=place.x + draw.choice((-3, -2, -1, 1, 2, 3))),
            "moved up or down": replace(place, y=place.y + draw.choice((-3, -2, -1, 1, 2, 3))),
            "moved far above": replace(place, x=0, y=packing.length),
            "put on the sheet": replace(place, stock=0),
            "put on no stock": replace(place, stock=draw.choice((-1, 2))),
            "taken for an item that is none": replace(place, item=draw.choice((-1, len(problem.items)))),
        }
        if len(problem.items) > 1:
            changed["taken for another item"] = replace(place, item=(place.item + 1) % len(problem.items))
        if len(set(size_of(problem, place))) > 1:
            changed["turned"] = replace(place, turned=not place.turned)
        for name, other in changed.items():
            yield name, replace(packing, places=(*before, other, *after))
        yield "left out", replace(packing, places=before + after)
        yield "laid twice", replace(packing, places=(*places, place))
        yield "laid again above", replace(packing, places=(*places, replace(place, y=packing.length)))
    yield "said to be shorter", replace(packing, length=packing.length - 1)
    yield "said to be longer", replace(packing, length=packing.length + 1)
    yield from swaps(problem, packing)


def swaps(problem: Problem, packing: Packing) -> Iterator[tuple[str, Packing]]:
    """Every two items of different size in each other's place: without waste, the larger has no room."""
    places = packing.places
    for n, one in enumerate(places):
        for m, other in enumerate(places[:n]):
            if size_of(problem, one) != size_of(problem, other):
                swapped = list(places)
                swapped[n], swapped[m] = replace(one, x=other.x, y=other.y), replace(other, x=one.x, y=one.y)
                yield "swapped", replace(packing, places=tuple(swapped))


@pytest.mark.parametrize("scope", Scope)
@pytest.mark.parametrize("turnable", [False, True])
def test_every_mutant_is_caught(scope: Scope, turnable: bool) -> None:
    """Tests that tight packings pass, and that each of thousands with one thing changed is told as faulty."""
    seen: dict[str, int] = {}
    for seed in range(12):
        draw = Random(seed)
        box = (0, 0, draw.randint(7, 12), draw.randint(8, 14))
        boxes = list(strips(draw, box) if scope is Scope.THREE_STAGES else cut_deep(draw, box, 4))
        problem, packing = tight(boxes, scope, turnable)
        area = Weights(axis="across", value=tuple((n, n) for n in range(1, 13)))
        assert judge(problem, packing, Bound(length=packing.length, theorem="area", weights=area)) == ()
        for name, mutant in mutants(draw, problem, packing):
            assert judge(problem, mutant, NO_BOUND) != (), (seed, name)
            seen[name] = seen.get(name, 0) + 1

    assert min(seen.values()) >= 12
    assert len(seen) == 14
    assert sum(seen.values()) > 1000


# A judge of stages that tries each line as a cut or not, where the packing judge cuts at every line.


def lines(boxes: list[Box], axis: int) -> Iterator[tuple[list[Box], list[Box]]]:
    """The boxes below and above each line square to `axis` that meets none."""
    for at in {box[axis] for box in boxes}:
        low = [box for box in boxes if box[axis] + box[axis + 2] <= at]
        high = [box for box in boxes if box[axis] >= at]
        if low and len(low) + len(high) == len(boxes):
            yield low, high


def is_strips(boxes: list[Box], zone: bool) -> bool:
    """Whether the boxes are strips on each other."""
    return is_strip(boxes, zone) or any(is_strips(low, zone) and is_strips(high, zone) for low, high in lines(boxes, 1))


def is_strip(boxes: list[Box], zone: bool) -> bool:
    """Whether the boxes are columns, one of them a zone if `zone`."""
    if len({(x, w) for x, _, w, _ in boxes}) == 1 or (zone and is_strips(boxes, False)):
        return True
    return any(
        (is_strip(left, zone) and is_strip(right, False)) or (is_strip(left, False) and is_strip(right, zone))
        for left, right in lines(boxes, 0)
    )


def is_guillotine(boxes: list[Box]) -> bool:
    """Whether cuts from edge to edge free the boxes, each line tried first."""
    return len(boxes) == 1 or any(
        is_guillotine(low) and is_guillotine(high) for axis in (0, 1) for low, high in lines(boxes, axis)
    )


def test_stages_by_every_choice_of_lines() -> None:
    """Tests 600 random dissections, some pieces missing: the judge allows three stages where some choice does."""
    allowed = refused = 0
    for seed in range(600):
        draw = Random(seed)
        boxes = list(cut_deep(draw, (0, 0, draw.randint(12, 20), draw.randint(12, 20)), 5))
        kept = draw.sample(boxes, min(len(boxes), draw.randint(7, 12)))
        problem, packing = tight(kept, Scope.THREE_STAGES, False)
        faults = judge(problem, packing, NO_BOUND)

        assert (faults == ()) == is_strips(kept, True), kept
        assert judge(replace(problem, stages=None), packing, NO_BOUND) == ()
        allowed, refused = allowed + (faults == ()), refused + (faults != ())

    assert min(allowed, refused) > 50


def test_edge_to_edge_by_every_choice_of_lines() -> None:
    """Tests 600 random layouts of disjoint boxes: the judge allows straight cuts where some order of them does."""
    allowed = refused = 0
    for seed in range(600):
        draw = Random(seed)
        boxes: list[Box] = []
        for _ in range(200):
            x, y, w, h = draw.randint(0, 7), draw.randint(0, 7), draw.randint(1, 4), draw.randint(1, 4)
            if all(x >= a + c or a >= x + w or y >= b + d or b >= y + h for a, b, c, d in boxes) and len(boxes) < 9:
                boxes.append((x, y, w, h))
        problem, packing = tight(boxes, Scope.GUILLOTINE, False)
        faults = judge(problem, packing, NO_BOUND)

        assert (faults == ()) == is_guillotine(boxes), boxes
        allowed, refused = allowed + (faults == ()), refused + (faults != ())

    assert min(allowed, refused) > 30


def pile(problem: Problem) -> Packing:
    """All items on top of each other, each as it is given."""
    wanted = [number for number, item in enumerate(problem.items) for _ in range(item.demand)]
    heights = accumulate((problem.items[number].h for number in wanted), initial=0)
    last = len(problem.stocks) - 1
    places = tuple(Place(item=n, stock=last, x=0, y=y, turned=False) for n, y in zip(wanted, heights, strict=False))
    return Packing(places=places, length=sum(problem.items[number].h for number in wanted))


def test_no_weights_prove_what_is_false() -> None:
    """Tests that a bound above the least length is refused whatever weights come with it, honest or made up."""
    refused = 0
    for seed in range(200):
        draw = Random(seed)
        width = draw.randint(3, 8)
        items = tuple(
            Item(w=w, h=h, demand=draw.randint(1, 2), turnable=draw.random() < 0.5)
            for w, h in {(draw.randint(1, width), draw.randint(1, 6)) for _ in range(2)}
        )
        sheets = tuple(Stock(w=draw.randint(1, 5), h=draw.randint(1, 5)) for _ in range(draw.choice((0, 1, 2))))
        stocks = (*sheets, Stock(w=width, h=None))
        problem = Problem(items=items, stocks=stocks, guillotine=False, stages=None)
        least, piled = pack_few(problem)[0].length, pile(problem)
        honest = lower_bound(problem).weights
        for _ in range(20):
            sizes = {side for item in items for side in (item.w, item.h)}
            weights = {size: draw.choice((0, 1, size, draw.randint(0, 60))) for size in sizes}
            if honest is not None and draw.random() < 0.5:
                weights = dict(honest.value) | {draw.choice(sorted(sizes)): draw.randint(0, 60)}
            claim = Weights(axis=draw.choice(("across", "along")), value=tuple(weights.items()))
            faults = judge(problem, piled, Bound(length=least + 1, theorem="", weights=claim))
            assert any("Nothing proves" in fault for fault in faults), (seed, claim)
            refused += 1

    assert refused == 4000
