"""The tables of docs/benchmarks.md: gaps, what is bought, what it takes, and where a peer is ahead."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import mean

from bench.contestants import CONTESTANTS, EFFORTS, MARKS, PEERS
from bench.measure import Run
from bench.sets import Instance
from ellwand.packing.bound import lower_bound

_NOT_RUN = "not run"
*_, _LAST = EFFORTS


@dataclass(frozen=True, slots=True)
class Results:
    """Instances, and every run on them by instance and contestant."""

    instances: Sequence[Instance]
    runs: Mapping[tuple[str, str], Run]

    def run(self, instance: Instance, contestant: str) -> Run | None:
        """The run of a contestant on an instance, if there was one."""
        return self.runs.get((instance.name, contestant))

    def bound(self, instance: Instance) -> int:
        """The best bound known: proved by any effort, or from elsewhere; where no effort was run, worked out now."""
        proved = [run.bound for effort in EFFORTS if (run := self.run(instance, effort))]
        return max(instance.least, *(proved or [lower_bound(instance.problem).length]))

    def gap(self, instance: Instance, length: int) -> float:
        """How much longer than the best bound, in percent of it."""
        bound = self.bound(instance)
        return 100 * (length - bound) / bound

    def buys_least(self, instance: Instance, length: int) -> bool:
        """Whether a shop cuts no more for this length than for the best bound."""
        return -(-length // instance.step) == -(-self.bound(instance) // instance.step)

    def rows(self) -> Iterator[tuple[str, Results]]:
        """A title and its instances, for each set and family that has any."""
        for group, family in dict.fromkeys((one.group, one.family) for one in self.instances):
            chosen = [one for one in self.instances if (one.group, one.family) == (group, family)]
            yield f"{group}, {family} ({len(chosen)})", Results(chosen, self.runs)

    def having(self, contestant: str) -> list[tuple[Instance, Run]]:
        """The instances that a contestant was run on."""
        return [(one, run) for one in self.instances if (run := self.run(one, contestant))]


_AT = [*zip(EFFORTS, MARKS, strict=True), *((peer, mark) for peer in PEERS for mark in MARKS)]
_HEAD = ["set", *(f"{CONTESTANTS[who].title} at {mark:g} s" for who, mark in _AT)]


def gaps(results: Results) -> str:
    """Mean and largest gap at each mark: the engine at the effort meant for it, and the peers."""
    rows = ([title, *(_gaps_at(part, who, mark) for who, mark in _AT)] for title, part in results.rows())
    return table(_HEAD, rows)


def bought(results: Results) -> str:
    """How many plans buy no more than the bound asks for, at the same marks, of the sets that are bought in steps."""
    stepped = Results([one for one in results.instances if one.step], results.runs)
    rows = [[title, *(_bought_at(part, who, mark) for who, mark in _AT)] for title, part in stepped.rows()]
    return table(_HEAD, rows) if rows else "None of these sets is bought in steps.\n"


def _bought_at(results: Results, contestant: str, mark: float) -> str:
    runs = results.having(contestant)
    if not runs:
        return _NOT_RUN
    lengths = [(one, run.by(mark)) for one, run in runs]
    return _share([length is not None and results.buys_least(one, length) for one, length in lengths])


def _gaps_at(results: Results, contestant: str, mark: float) -> str:
    """Mean and largest gap by then; who was late counts with the first length it told."""
    runs = results.having(contestant)
    if not runs:
        return _NOT_RUN
    lengths = [(one, run.first if run.by(mark) is None else run.by(mark)) for one, run in runs]
    gaps = [results.gap(one, length) for one, length in lengths if length is not None]
    late = sum(run.by(mark) is None and run.first is not None for _, run in runs)
    notes = [f"{count} {what}" for count, what in ((late, "late"), (len(runs) - len(gaps), "without")) if count]
    figures = f"{mean(gaps):.2f} ({max(gaps):.1f})" if gaps else "–"
    return "; ".join([figures, *notes])


def ends(results: Results) -> str:
    """What each contestant reaches at every mark and in the end, and what that takes."""
    marks = (f"at {mark:g} s" for mark in MARKS)
    head = ["set", "", *marks, "at the end", "meets the bound", "seconds, mean (most)", "MB, most"]
    rows = [
        [title, CONTESTANTS[who].title, *_end(part, who)]
        for title, part in results.rows()
        for who in CONTESTANTS
        if part.having(who)
    ]
    return table(head, rows)


def _end(results: Results, contestant: str) -> list[str]:
    runs = results.having(contestant)
    gaps = [results.gap(one, run.length) for one, run in runs if run.length is not None]
    seconds = [run.seconds for _, run in runs if run.seconds is not None]
    megabytes = [run.megabytes for _, run in runs if run.megabytes is not None]
    return [
        *(_gaps_at(results, contestant, mark) for mark in MARKS),
        f"{mean(gaps):.2f} ({max(gaps):.1f})" if gaps else "–",
        _share([gap == 0 for gap in gaps]),
        f"{mean(seconds):.2f} ({max(seconds):.1f})" if seconds else "–",
        f"{max(megabytes):.0f}" if megabytes else "–",
    ]


def _share(true: Sequence[bool]) -> str:
    return f"{100 * sum(true) / len(true):.0f} %" if true else "–"


def behind(results: Results) -> str:
    """Every instance on which a peer is ahead of the engine at the last mark."""
    head = ["instance", "pieces", "best bound", "ellwand", "peer", ""]
    rows = []
    for one in results.instances:
        ours = results.run(one, _LAST)
        reached = ours.by(MARKS[-1]) if ours else None
        for peer in PEERS:
            run = results.run(one, peer)
            length = run.by(MARKS[-1]) if run else None
            if length is not None and (reached is None or length < reached):
                shown = "–" if reached is None else str(reached)
                row = [one.name, str(one.pieces), str(results.bound(one)), shown, str(length), CONTESTANTS[peer].title]
                rows.append(row)
    return table(head, rows) if rows else "None.\n"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A Markdown table."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join("| " + " | ".join(line) + " |\n" for line in lines)
