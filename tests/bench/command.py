"""The command line of the benchmarks; see run.py."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import islice
from pathlib import Path

import click

from bench import literature, records, sets
from bench.chart import draw_gaps
from bench.contestants import CONTESTANTS, PEERS
from bench.ledger import section_of
from bench.measure import Run, interpreter_of, keep, kept, run, takes_part
from bench.page import page
from bench.sets import FAMILIES, Instance
from bench.tables import Results

DOCS = Path(__file__).parents[2] / "docs"
_BY_FAMILY: dict[str, Callable[[str], Iterable[Instance]]] = {
    "quilts": sets.quilts,
    "kits": sets.kits,
    "puzzles": sets.puzzles,
    "like-beasley": literature.beasley_like,
    "like-berkey-wang": literature.berkey_wang_like,
}
_PUBLISHED: dict[str, Callable[[], Iterable[Instance]]] = {
    "published": literature.published,
    "packaged": literature.packaged,
}


def instances(chosen: Iterable[str], families: Iterable[str], limit: int | None) -> Iterator[Instance]:
    """The instances of the chosen sets: the first few of each family, or all."""
    families = tuple(families)
    for name in chosen:
        if name in _BY_FAMILY:
            for family in families:
                yield from islice(_BY_FAMILY[name](family), limit)
        else:
            yield from islice(_PUBLISHED[name](), limit)


@click.command()
@click.option("--set", "chosen", type=click.Choice([*_BY_FAMILY, *_PUBLISHED]), multiple=True, help="Only this set.")
@click.option("--held-out/--tuning", "held_out", default=None, help="Only this family of the sets that have two.")
@click.option("--limit", type=click.IntRange(1), help="Only the first so many of each set and family.")
@click.option("--with", "who", type=click.Choice([*CONTESTANTS]), multiple=True, help="Only this contestant.")
@click.option("--stages", type=click.Choice(["any", "3"]), default="any", show_default=True, help="Of straight cuts.")
@click.option("--python", "pythons", multiple=True, metavar="PEER=PATH", help="The Python that a peer runs in.")
@click.option("--runs", "file", type=click.Path(path_type=Path), help="Keep runs here, and repeat none that it has.")
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the page and its chart instead of docs.")
@click.option("--note", default="", help="What else there is to know of the runs, for the page.")
@click.option("--update-records", is_flag=True, help="Put what is better or new on record.")
def main(
    chosen: tuple[str, ...], held_out: bool | None, limit: int | None, who: tuple[str, ...], stages: str,
    pythons: tuple[str, ...], file: Path | None, out: Path | None, note: str, update_records: bool,
) -> None:  # fmt: skip
    """Measure the engine and its peers on every set, and write docs/benchmarks.md.

    A part of the sets is printed instead, unless --out says where to write. What is worse than the records fails.

    Example: python tests/bench/run.py --set quilts --limit 5 --held-out --with careful
    """
    families = FAMILIES if held_out is None else (FAMILIES[held_out],)
    every = [_in_stages(one, stages) for one in instances(chosen or (*_BY_FAMILY, *_PUBLISHED), families, limit)]
    runs = _run_all(every, who or tuple(CONTESTANTS), dict(pair.split("=", 1) for pair in pythons), file)
    results = Results(every, runs)
    partial = bool(chosen or who or limit or held_out is not None or stages != "any")
    _show(page(results, _command(), note), results, out or (None if partial else DOCS))
    sys.exit(_settle(every, list(runs.values()), update_records))


def _in_stages(instance: Instance, stages: str) -> Instance:
    if stages == "any":
        return instance
    problem = replace(instance.problem, stages=int(stages))
    return replace(instance, name=f"{instance.name}, {stages} stages", problem=problem)


def _run_all(
    every: list[Instance], who: Iterable[str], pythons: dict[str, str], file: Path | None
) -> dict[tuple[str, str], Run]:
    """Every contestant that is here on every instance, one after the other."""
    known = kept(file) if file else {}
    present = [name for name in who if takes_part(name, interpreter_of(name, pythons))]
    runs = {}
    for instance in every:
        for contestant in present:
            if contestant in PEERS and not instance.problem.guillotine:
                continue  # they cut straight
            key = instance.name, contestant
            runs[key] = known.get(key) or run(instance, contestant, interpreter_of(contestant, pythons))
            if file and key not in known:
                keep(file, runs[key])
            click.echo(_line(runs[key]), err=True)
    return runs


def _line(run: Run) -> str:
    took = "unfinished" if run.seconds is None else f"{run.seconds:.2f} s"
    return "  ".join([f"{run.instance:24}", f"{run.contestant:14}", f"{run.length or '–':>8}", took, *run.faults[:1]])


def _command() -> str:
    """The command as typed, without the paths of this machine."""
    kept_out = ("--python", "--runs", "--out", "--note")
    words = [word for at, word in enumerate(sys.argv[1:]) if word not in kept_out and sys.argv[at] not in kept_out]
    return " ".join(["python tests/bench/run.py", *words])


def _show(text: str, results: Results, folder: Path | None) -> None:
    if folder is None:
        click.echo(text)
        return
    (folder / "images").mkdir(parents=True, exist_ok=True)
    path = folder / "benchmarks.md"
    ledger = section_of(path.read_text(encoding="utf-8")) if path.exists() else ""
    path.write_text(f"{text}\n{ledger}" if ledger else text, encoding="utf-8")
    draw_gaps(results, folder / "images" / "gap.png")


def _settle(every: list[Instance], runs: list[Run], update: bool) -> int:
    """Say what is better or worse than the records and what the judge refused; 1 if anything is bad."""
    problems = {one.name: one.problem for one in every}
    known = records.load()
    comparison = records.compare(known, problems, runs)
    refused = [f"{run.instance}, {run.contestant}: {fault}" for run in runs for fault in run.faults]
    for title, sentences in (("Worse", comparison.worse), ("Better", comparison.better), ("Refused", refused)):
        for sentence in sentences:
            click.echo(f"{title}: {sentence}", err=True)
    if update:
        records.save(records.updated(known, problems, runs))
    elif comparison.better or comparison.new:
        count = len(comparison.better) + len(comparison.new)
        click.echo(f"{count} lengths are better than on record, or new: run again with --update-records.", err=True)
    return 1 if comparison.worse or refused else 0
