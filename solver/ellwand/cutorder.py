"""The order of cuts with the fewest settings of the ruler.

A ruler is *set up* to a measure; then everything that is cut to it follows, strips and sub-cuts of several strips
alike, whatever part of the cloth they come from. A part can be cut on only when it has been cut off itself, so the
order is that of batches under precedence. Two rules find it:

- Where all that is still to be cut to a measure can be cut now, now is the time: the measure has to be set at least
  once more, and nothing is served by waiting, unless a part might be the last of a source that is used up: that one
  needs no cut.
- Else every measure at hand is tried, and of the states that so many settings lead to the most promising are
  followed (beam search). As many settings as there are measures of parts that need a cut, whatever the order, is
  the least there can be.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from ellwand.cutparts import CutPart, cut_parts, on_the_mat
from ellwand.model import Direction, Region

__all__ = ["RULERS", "CutOrder", "Move", "Setup", "cut_order", "together"]

RULERS = {"in": Fraction(24), "cm": Fraction(60 * 50, 127)}  # length of a usual ruler by unit, inches
_MOST_FOLDS = 2  # four layers, as many as a 45 mm blade cuts as a rule
_BEAM = 12  # states that are followed side by side


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Equal parts cut off equal sources.

    Parameters
    ----------
    source, part
        Numbers among the order's parts.
    before
        What there is of each source where this divides it, inches.
    over
        The parts are what is left of their sources: no cut is needed.
    folds
        How often the source is folded so that the cut is no longer than the ruler; None where that would take more
        than four layers.
    doubled
        Cut from the source folded in half the other way, two at a stroke.
    """

    source: int
    part: int
    before: Fraction
    after: Fraction
    over: bool
    folds: int | None
    doubled: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """The ruler set to `measure`, inches, and what is cut with it."""

    measure: Fraction
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOrder:
    """How one cloth is cut.

    Parameters
    ----------
    parts
        The cloth, and everything it is cut into but waste.
    setups
        In order.
    least
        No order can do with fewer settings.
    piecewise_setups, piecewise_cuts
        How often the ruler is set, and how many cuts there are, where every strip is cut up before the next is cut
        off and nothing is folded.
    """

    parts: tuple[CutPart, ...]
    setups: tuple[Setup, ...]
    least: int
    piecewise_setups: int
    piecewise_cuts: int

    @property
    def cuts(self) -> int:
        """How many cuts there are."""
        return sum(self.cuts_of(move) for setup in self.setups for move in setup.moves)

    @property
    def fewest(self) -> bool:
        """Whether no order can do with fewer settings."""
        return len(self.setups) == self.least

    def cuts_of(self, move: Move) -> int:
        """How many cuts a move takes, of all its sources."""
        if move.over:
            return 0
        each = self.parts[move.part].each
        strokes = each // 2 if move.doubled else each - (move.after == 0)
        return strokes * self.parts[move.source].count


def cut_order(tree: Region, ruler: Fraction, *, spare: Fraction = Fraction(0), layered: bool = False) -> CutOrder:
    """The order in which to cut one cloth.

    Parameters
    ----------
    tree
        Of its cuts; what stays as it is of a length on hand is thought cut off already.
    ruler
        Length of the ruler, inches.
    spare
        What there is of the cloth beyond its layout, inches.
    layered
        The cloth lies in layers already, so that nothing is folded.
    """
    root = on_the_mat(tree, spare)
    parts = cut_parts(root)
    tasks = _tasks(parts, ruler)
    batches = _batches(tasks)
    lines = list(_piecewise(root))
    return CutOrder(
        parts=parts,
        setups=tuple(_setups(parts, tasks, batches, None if layered else ruler)),
        least=len({task.measure for task in tasks if not task.remains}),
        piecewise_setups=sum(a != b for a, b in zip([None, *lines], lines, strict=False)),
        piecewise_cuts=len(lines),
    )


def together(orders: Sequence[CutOrder]) -> tuple[tuple[Fraction, tuple[tuple[int, int], ...]], ...]:
    """Several cloths cut side by side: each measure with the (order, set-up) numbers that are done at it."""
    tasks: list[_Task] = []
    for number, order in enumerate(orders):
        for place, setup in enumerate(order.setups):
            tasks.append(
                _Task(
                    number=len(tasks),
                    measure=setup.measure,
                    needs=len(tasks) - 1 if place else None,
                    group=number,
                    rank=(place, number),
                    part=place,
                )
            )
    return tuple(
        (measure, tuple((tasks[number].group, tasks[number].part) for number, _ in done))
        for measure, done in _batches(tasks)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Task:
    """Something that is cut to one measure, once the task it `needs` is done.

    Tasks of one `group` share sources; the last of them may `remain`: then it is done with the others. Of several that
    can be done the one of least `rank` is. `part` is for the caller.
    """

    number: int
    measure: Fraction
    needs: int | None
    group: int
    rank: tuple[object, ...]
    part: int
    remains: bool = False


_Batch = tuple[Fraction, tuple[tuple[int, bool], ...]]  # a measure, and the tasks with whether they remained


def _tasks(parts: Sequence[CutPart], ruler: Fraction) -> list[_Task]:
    """A task for every part but the cloth: it is cut off its source.

    Long pieces along the selvage come first, as they cannot be cut again; then strips, then what is cut from them.
    """
    found = []
    for number, part in enumerate(parts[1:]):
        source = parts[part.parent]
        assert source.direction is not None
        along, line = source.direction is Direction.ALONG, source.line(source.direction)
        measure = part.measure(source.direction)
        found.append(
            _Task(
                number=number,
                measure=measure,
                needs=part.parent - 1 if part.parent else None,
                group=part.parent,
                rank=(not (along and part.names and line > ruler), source.level, not along, -line, -measure),
                part=number + 1,
                remains=source.filled and part.each == 1,
            )
        )
    return found


@dataclass(frozen=True, slots=True)
class _State:
    """What is still to be done, and how one got there."""

    waiting: frozenset[int]
    done: tuple[_Batch, ...] = field(compare=False)


def _batches(tasks: Sequence[_Task]) -> tuple[_Batch, ...]:
    """All tasks in as few batches of one measure as are found."""
    level = [_State(frozenset(range(len(tasks))), ())]
    while level[0].waiting:
        ahead: dict[frozenset[int], _State] = {}
        for state in level:
            for follower in _followers(tasks, state):
                ahead.setdefault(follower.waiting, follower)
        level = sorted(ahead.values(), key=lambda state: _promise(tasks, state))[:_BEAM]
    return level[0].done


def _promise(tasks: Sequence[_Task], state: _State) -> int:
    """How many measures are still to be set: the fewer the better, and of equals the order of ranks is kept."""
    return len({tasks[number].measure for number in state.waiting})


def _followers(tasks: Sequence[_Task], state: _State) -> list[_State]:
    """States one setting on: one alone where a measure can be done with for good."""
    ready = sorted(
        (tasks[number] for number in state.waiting if tasks[number].needs not in state.waiting),
        key=lambda task: (task.rank, task.number),
    )
    found = []
    for measure in dict.fromkeys(task.measure for task in ready):
        follower = _after(tasks, state, measure)
        if not any(tasks[number].measure == measure for number in follower.waiting) and not any(
            tasks[number].remains for number in state.waiting if tasks[number].measure == measure
        ):
            return [follower]
        found.append(follower)
    return found


def _after(tasks: Sequence[_Task], state: _State, measure: Fraction) -> _State:
    """`state` when everything has been cut that can be cut to `measure`."""
    waiting = set(state.waiting)
    at_hand = sorted((number for number in waiting if tasks[number].measure == measure), key=lambda n: tasks[n].rank)
    left: dict[int, list[int]] = {}
    for number in sorted(waiting):
        left.setdefault(tasks[number].group, []).append(number)
    done: list[tuple[int, bool]] = []
    moved = True
    while moved:
        moved = False
        for number in at_hand:
            task = tasks[number]
            if number not in waiting or task.needs in waiting:
                continue
            moved = True
            siblings = left[task.group]
            over = task.remains and siblings == [number]
            _finish(number, over, waiting, siblings, done)
            if len(siblings) == 1 and tasks[siblings[0]].remains:
                _finish(siblings[0], True, waiting, siblings, done)
    return _State(frozenset(waiting), (*state.done, (measure, tuple(done))))


def _finish(number: int, over: bool, waiting: set[int], siblings: list[int], done: list[tuple[int, bool]]) -> None:
    waiting.remove(number)
    siblings.remove(number)
    done.append((number, over))


def _setups(
    parts: Sequence[CutPart], tasks: Sequence[_Task], batches: Sequence[_Batch], ruler: Fraction | None
) -> Iterator[Setup]:
    left = [part.measure(part.direction) if part.direction else Fraction(0) for part in parts]
    for measure, done in batches:
        moves = []
        for number, over in done:
            part = parts[tasks[number].part]
            before = left[part.parent]
            left[part.parent] -= part.each * measure if not over else before
            moves.append(_Stroke(parts, tasks[number].part, ruler).move(before, left[part.parent], over))
        yield Setup(measure=measure, moves=tuple(moves))


@dataclass(frozen=True, slots=True)
class _Stroke:
    """How a part is cut off its sources."""

    parts: Sequence[CutPart]
    number: int
    ruler: Fraction | None

    def move(self, before: Fraction, after: Fraction, over: bool) -> Move:
        return Move(
            source=self.parts[self.number].parent,
            part=self.number,
            before=before,
            after=after,
            over=over,
            folds=self._folds(),
            doubled=self._is_doubled(before, after),
        )

    def _line(self) -> Fraction:
        source = self.parts[self.parts[self.number].parent]
        assert source.direction is not None
        return source.line(source.direction)

    def _folds(self) -> int | None:
        if self.ruler is None:
            return 0
        return next((folds for folds in range(_MOST_FOLDS + 1) if self._line() <= self.ruler * 2**folds), None)

    def _is_doubled(self, before: Fraction, after: Fraction) -> bool:
        """Whether a strip as wide as the cloth, still whole, is folded, their number even, and a cut saved."""
        part = self.parts[self.number]
        source = self.parts[part.parent]
        full = part.parent != 0 and source.direction is Direction.ALONG and before == self.parts[0].across
        saves = part.each % 2 == 0 and part.each // 2 < part.each - (after == 0)
        return self.ruler is not None and full and saves and self._folds() == 0


def _piecewise(region: Region) -> Iterator[Fraction]:
    """The measures of all cuts where every strip is cut up before the next is cut off."""
    useful = [part for part in region.parts if part.piece is not None or part.parts]
    filled = len(useful) == len(region.parts)
    for number, part in enumerate(useful, 1):
        if not (filled and number == len(useful)):
            yield part.along if region.direction is Direction.ACROSS else part.across
        yield from _piecewise(part)
