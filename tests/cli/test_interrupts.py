"""Ctrl-C while a search runs, sent to the real program: once for the best so far, twice for the end."""

from __future__ import annotations

import json
import os
import pty
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import sleep

import pytest

from ellwand_cli.interrupts import first_interrupt

ROOT = Path(__file__).parents[2]
DONE, INTERRUPTED = 0, 130
APART = 0.2  # seconds between two presses

# Forty pieces of two fabrics, all different: no search at full effort ends within seconds. Invented.
LONG = '[project]\nname = "long"\n' + "".join(
    f'[[piece]]\nname = "{fabric}{number}"\nfabric = "{fabric}"\ncut = [{4 + number * 7 % 17}, "{20 + number} 1/4"]\n'
    for fabric in ("ink", "oat")
    for number in range(20)
)
CLOTH = "[fabric.ink]\nwidth = 43\n[fabric.oat]\nwidth = 43\n"

# The command line, with a planner that says when it starts and when it is asked to stop, and never does.
STUBBORN = """
import sys
from time import sleep
import ellwand.plan

def make_plan(project, *, stop, **_):
    print("started", file=sys.stderr, flush=True)
    while not stop():
        sleep(0.01)
    print("asked", file=sys.stderr, flush=True)
    while True:
        sleep(0.01)

ellwand.plan.make_plan = make_plan
from ellwand_cli.app import app
app(["plan", "long.toml"], prog_name="ellwand")
"""


@contextmanager
def started(folder: Path, *words: str, stderr: int = subprocess.PIPE) -> Iterator[subprocess.Popen[str]]:
    """Python with `words` in a folder that holds long.toml, in a group of processes of its own."""
    (folder / "long.toml").write_text(LONG + CLOTH, encoding="utf-8")
    process = subprocess.Popen(
        [sys.executable, *words],
        cwd=folder,
        env={"PYTHONPATH": f"{ROOT / 'solver'}:{ROOT / 'cli'}", "PYTHONIOENCODING": "utf-8", "COLUMNS": "200"},
        stdout=subprocess.PIPE,
        stderr=stderr,
        encoding="utf-8",
        start_new_session=True,
    )
    with process:
        try:
            yield process
        finally:
            process.kill()


def press(process: subprocess.Popen[str]) -> None:
    """Ctrl-C, which a terminal sends to the program and all processes it started."""
    os.killpg(process.pid, signal.SIGINT)


def screen_of(reader: int, until: str = "") -> str:
    """What appears on a screen, up to and with `until`, or to the end."""
    text = ""
    while not until or until not in text:
        try:
            read = os.read(reader, 4096)
        except OSError:  # the end of a terminal that nobody has open any more
            read = b""
        if not read:
            break
        text += read.decode()
    return text


@pytest.mark.parametrize("workers", ["1", "2"])
def test_the_first_takes_the_best_so_far(tmp_path: Path, workers: str) -> None:
    """Pressed once both fabrics are on the screen: a whole sound plan, a sentence, exit code 0."""
    reader, writer = pty.openpty()
    words = ("-m", "ellwand_cli", "plan", "long.toml", "--effort", "proof", "--workers", workers, "--json")

    with started(tmp_path, *words, stderr=writer) as process:
        os.close(writer)
        before = screen_of(reader, until="oat: ")
        press(process)
        document = process.stdout.read() if process.stdout else ""
        after = screen_of(reader)
        code = process.wait()
    os.close(reader)

    assert code == DONE
    assert "ink: " in before
    assert after.endswith(
        "\x1b[JStopped early: the best so far is shown; a longer look might need less of ink, oat.\r\n"
    )
    plan = json.loads(document)
    assert plan["solve"]["cut_short"] == ["ink", "oat"]
    (tmp_path / "plan.json").write_text(document, encoding="utf-8")
    with started(tmp_path, "-m", "ellwand_cli", "check", "plan.json") as judge:
        assert judge.wait() == DONE


def test_the_second_ends_it(tmp_path: Path) -> None:
    """Pressed again before there is a plan: no answer, one word, exit code 130."""
    with started(tmp_path, "-c", STUBBORN) as process:
        assert process.stderr is not None
        assert process.stderr.readline() == "started\n"
        press(process)
        assert process.stderr.readline() == "asked\n"
        sleep(APART)
        press(process)
        answer, told = process.communicate()

    assert (process.returncode, answer, told) == (INTERRUPTED, "", "Stopped.\n")


def presses(monkeypatch: pytest.MonkeyPatch, *times: float) -> list[bool]:
    """Ctrl-C at each of `times`: whether a stop was asked for after each."""
    clock = iter(times)
    monkeypatch.setattr("ellwand_cli.interrupts.monotonic", lambda: next(clock))
    with first_interrupt() as stop:
        asked = [stop()]
        for _ in times:
            signal.raise_signal(signal.SIGINT)
            asked.append(stop())
    return asked


def test_a_press_that_is_handed_on_counts_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A program that starts this one gets the press as well, and may hand it on at once."""
    assert presses(monkeypatch, 5.0, 5.01) == [False, True, True]


def test_a_second_press_is_an_interrupt(monkeypatch: pytest.MonkeyPatch) -> None:
    """It ends whatever runs; afterwards Ctrl-C is what it was before."""
    before = signal.getsignal(signal.SIGINT)

    with pytest.raises(KeyboardInterrupt):
        presses(monkeypatch, 5.0, 5.1)

    assert signal.getsignal(signal.SIGINT) is before


def test_no_solver_keeps_ctrl_c_to_itself(tmp_path: Path) -> None:
    """After a search with the whole-number solver, and one of any layouts, Ctrl-C is still ours."""
    code = """
import signal
from ellwand.packing.problem import Effort, Item, Problem, Stock
from ellwand.packing.solve import solve
signal.signal(signal.SIGINT, lambda *_: print("heard"))
items = tuple(Item(w=w, h=h, demand=1, turnable=True) for w, h in ((7, 9), (12, 5), (17, 8), (13, 9), (8, 6), (19, 4)))
for guillotine in (True, False):
    stages = 3 if guillotine else None
    problem = Problem(items=items, stocks=(Stock(w=23, h=None),), guillotine=guillotine, stages=stages)
    solve(problem, effort=Effort.CAREFUL)
    signal.raise_signal(signal.SIGINT)
"""
    with started(tmp_path, "-c", code) as process:
        answer, told = process.communicate()

    assert (process.returncode, answer, told) == (0, "heard\nheard\n", "")
