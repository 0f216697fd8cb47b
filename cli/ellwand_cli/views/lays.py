"""Sentences on lays and bolts: what is cut in layers, off which bolts, and what that costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from ellwand.bolts import bolt_room
from ellwand.cloths import as_measured
from ellwand.lengths import Notation
from ellwand.model import FabricPlan, Lay, Layout, Source
from ellwand.project.tables import Project
from ellwand_cli.views.typeset import joined

__all__ = [
    "bolt_lines", "is_ply", "lay_lines", "lay_of", "lay_source", "lay_words", "spreading", "together_line",
]  # fmt: skip


def lay_of(answer: FabricPlan, layout: Layout) -> Lay | None:
    """The lay whose ply `layout` shows, if it is one's."""
    return next((lay for lay in answer.lays if lay.layout.cloth.id == layout.cloth.id), None)


def is_ply(layout: Layout) -> bool:
    """Whether a layout is told with its lay."""
    return layout.lay is not None


def lay_words(lay: Lay) -> str:
    """How often it is cut: "4 layers, 7 times, then 2 layers"."""
    words = [f"{_counted(lay.layers, 'layer')}, {_times(lay.times)}"] if lay.times else []
    words += [_counted(lay.rest, "layer")] if lay.rest else []
    return ", then ".join(words)


def lay_source(answer: FabricPlan, lay: Lay, notation: Notation) -> str:
    """A lay in a line: "2 kits in a ply of 131 in · 14 plies: 4 layers, 3 times, then 2 layers"."""
    ply = f"{_counted(lay.kits, 'kit')} in a ply of {notation.near(lay.layout.cloth.length)}, squaring included"
    return f"{ply}  ·  {_counted(lay.plies, 'ply')}: {lay_words(lay)}"


def lay_lines(answer: FabricPlan, notation: Notation) -> Iterator[str]:
    """Every lay in a line, numbered."""
    for number, lay in enumerate(answer.lays, 1):
        yield f"lay {number}: {lay_source(answer, lay, notation).replace('  ·  ', '; ')}"
    squaring = sum((lay.plies * lay.layout.cloth.squaring for lay in answer.lays), Fraction(0))
    if squaring:
        yield f"squaring every ply up takes {notation.near(squaring)} besides what is needed"


def together_line(answer: FabricPlan, notation: Notation) -> str:
    """What layers cost in cloth, and what they save in cuts; nothing where nothing is cut in layers."""
    together = answer.together
    if together is None:
        return ""
    cuts = sum(lay.cuts for lay in answer.lays)
    what = "cuts" if any(lay.layout.cuts for lay in answer.lays) else "pieces to cut out"
    bolt = answer.fabric.bolt
    where = " on a longer bolt" if bolt is not None and together.bought > bolt else ""
    fewer = f"{cuts} {what} through layers, where all kits laid as one{where} take {together.cuts}"
    more = answer.bought - together.bought
    if more > 0:
        return f"{fewer}, and {notation.cloth(more)} less to buy, {notation.cloth(together.bought)}"
    if more < 0:
        return f"{fewer}, and {notation.cloth(-more)} more to buy, as far as was found"
    return f"{fewer}, and no less to buy"


def bolt_lines(answer: FabricPlan, notation: Notation) -> Iterator[str]:
    """How many bolts there are, what is cut off each, and what stays on it; nothing where bolts have no end."""
    fabric = answer.fabric
    if fabric.bolt is None or not answer.needed:
        return
    bolts: dict[int, list[Layout]] = {}
    for layout in answer.layouts:
        if layout.cloth.bolt is not None:
            bolts.setdefault(layout.cloth.bolt, []).append(layout)
    alike: dict[tuple[tuple[tuple[int | None, int], ...], Fraction], list[int]] = {}
    for number, layouts in bolts.items():
        plies = tuple(sorted(Counter(layout.lay for layout in layouts).items(), key=str))
        sold = sum((as_measured(fabric, layout.cloth)[1] for layout in layouts), Fraction(0))
        alike.setdefault((plies, sold), []).append(number)
    fewest = ", and no fewer will do" if _fewest(answer, len(bolts)) else ""
    yield f"{_counted(len(bolts), 'bolt')} of {notation.cloth(fabric.bolt)}{fewest}"
    for (plies, sold), numbers in alike.items():
        which = f"bolt {numbers[0]}" if len(numbers) == 1 else f"bolts {_run(numbers)}, each"
        words = [f"{_counted(count, 'ply')} of lay {lay}" for lay, count in plies if lay is not None]
        what = f", {joined(words)}" if words else ""
        yield f"{which}: {notation.cloth(sold)} cut off{what}; {notation.near(fabric.bolt - sold)} stays on it"


def _fewest(answer: FabricPlan, bolts: int) -> bool:
    """Whether the length that is bought takes so many bolts, however it is shared out."""
    room = bolt_room(answer.fabric, Fraction(1, 10**6))
    squaring = answer.fabric.square_up * answer.fabric.square_up_ends
    return room is not None and answer.bound > (bolts - 1) * (room - squaring)


def spreading(answer: FabricPlan, lay: Lay, project: Project) -> Iterator[str]:
    """The steps before the first cut through a lay."""
    notation = project.notation
    number = answer.lays.index(lay) + 1
    takes = notation.near(lay.layout.cloth.length)
    plies = _counted(lay.plies, "ply")
    yield f"Cut {plies} of {takes} off the cloth, the whole width of it{_sources(answer, number)}."
    if lay.layers > 1:
        alike = "Lay the plies on each other, or fold the cloth so, one end and one selvage even"
        yield f"{alike}: {lay_words(lay)}. Cut through all layers at once; every step tells of one layer."
    else:
        yield "Cut the ply by itself."
    again = f", {notation.near(lay.again)} of it for squaring again later" if lay.again else ""
    squaring = lay.layout.cloth.squaring
    if squaring:
        yield f"Square up the end of the layers: {notation.near(squaring)} is reckoned for that{again}."
    if lay.again:
        yield f"After every {project.kits.strips} strips across the cloth, square the end again before the next."


def _sources(answer: FabricPlan, number: int) -> str:
    """Off which cloths the plies of a lay are cut, where that is more than one length to buy."""
    here = [
        f"{layout.plies} off {layout.cloth.id}, which is on hand"
        for layout in answer.layouts
        if layout.lay == number and layout.cloth.source is Source.ON_HAND
    ]
    bolts = Counter(layout.cloth.bolt for layout in answer.layouts if layout.lay == number and layout.cloth.bolt)
    counts: dict[int, list[int]] = {}
    for bolt, count in bolts.items():
        counts.setdefault(count, []).append(bolt)
    words = here + [
        f"{count} off {'bolt' if len(some) == 1 else 'each of bolts'} {_run(some)}" for count, some in counts.items()
    ]
    bought = sum(layout.lay == number and layout.cloth.source is Source.BUY for layout in answer.layouts)
    words += [f"{bought} off what is bought"] if here and bought and not bolts else []
    return f": {joined(words)}" if words else ""


def _run(numbers: Sequence[int]) -> str:
    """Numbers in a row: "1 to 5, 7"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    words = [map(str, run) if len(run) < 3 else [f"{run[0]} to {run[-1]}"] for run in runs]
    return joined([word for some in words for word in some])


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun.removesuffix('y')}{'ies' if noun[-1] == 'y' else 's'}"
