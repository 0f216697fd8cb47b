"""Taking a plan's cloth: once only, only what is there, in parts, and never twice by two programs."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from ellwand.errors import InputError
from ellwand.ledger import Kind, Ledger, taking_of
from ellwand.ledger.problems import AlreadyUsedError, ClothGoneError, NotInLedgerError
from solver.ledger.owned import BOLT, INK, Wish, environment, opened, planned, stocked


def test_a_plan_is_taken_once(tmp_path: Path) -> None:
    """The second time a sentence; after an undo it can be taken again."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        _, document = planned(ledger, Wish(count=20))
        taking = taking_of(document)
        first = ledger.use(taking)
        after = ledger.state_text()

        with pytest.raises(AlreadyUsedError) as caught:
            ledger.use(taking)

        told = (
            'plan of "patches": the cloth of "ink" was taken for this plan before. '
            "Undo that first; a second quilt is a project of another name."
        )
        assert str(caught.value) == told
        assert ledger.state_text() == after
        ledger.undo()
        second = ledger.use(taking)
        assert (second.gone, second.less) == (first.gone, first.less)
        assert not {new.id for new in first.new} & {new.id for new in second.new}


def move_to_navy(ledger: Ledger) -> None:
    """Correct the fabric of the bolt."""
    ledger.add_fabric(replace(INK, name="navy"))
    ledger.edit_cloth("A1", replace(BOLT, fabric="navy"))


STAIN = tuple((Fraction(x), Fraction(y)) for x, y in ((1, 1), (2, 1), (2, 2)))
CHANGES: list[tuple[Callable[[Ledger], object], str]] = [
    (lambda ledger: ledger.remove_cloth("A1"), "cloth A1: it is not in the ledger any more; the plan took it as"),
    (
        lambda ledger: ledger.edit_cloth("A1", replace(BOLT, along=Fraction(20))),
        "cloth A1: it is ≈ 42 1/8 in × ≈ 19 3/8 in as it is cut, and the plan took ≈ 42 1/8 in × ≈ 29 1/8 in.",
    ),
    (
        lambda ledger: ledger.edit_cloth("A1", replace(BOLT, washed=True)),
        "cloth A1: it is 43 in × 30 in as it is cut, and the plan took ≈ 42 1/8 in × ≈ 29 1/8 in.",
    ),
    (
        lambda ledger: ledger.edit_cloth("A1", replace(BOLT, kind=Kind.RECTANGLE)),
        "cloth A1: it is now kept as a rectangle, and the plan took it as a length.",
    ),
    (
        lambda ledger: ledger.edit_cloth("A1", replace(BOLT, flaws=(STAIN,))),
        "cloth A1: its outline or its flaws have changed since the plan was made.",
    ),
    (move_to_navy, 'cloth A1: it is cloth of "navy", and the plan took it for "ink". Make the plan again.'),
]


@pytest.mark.parametrize(("change", "told"), CHANGES)
def test_a_cloth_that_has_changed_is_not_taken(tmp_path: Path, change: Callable[[Ledger], object], told: str) -> None:
    """Gone, shorter, washed, otherwise kept, flawed: which cloth, what is there, what was taken; nothing changes."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        _, document = planned(ledger, Wish(count=20))
        assert "A1" in {cloth["ledger"] for cloth in document["fabrics"][0]["cloths"]}
        change(ledger)
        before = ledger.state_text(), len(ledger.history())

        with pytest.raises(ClothGoneError) as caught:
            ledger.use(taking_of(document))

        assert told in str(caught.value)
        assert (ledger.state_text(), len(ledger.history())) == before


def test_left_of_bought_cloth_needs_its_fabric(tmp_path: Path) -> None:
    """A plan that buys leaves offcuts; where the ledger has no such fabric, it says what to do."""
    with opened(tmp_path / "ledger.sqlite") as ledger:
        _, document = planned(ledger, Wish(across=9, along=6, count=3))
        taking = taking_of(document)

        with pytest.raises(NotInLedgerError, match='the ledger has no fabric "ink" for what is left of "ink"'):
            ledger.use(taking)

        assert ledger.history() == ()
        ledger.add_fabric(INK)
        used = ledger.use(taking)
        assert used.new
        assert all(new.washed for new in used.new)


def test_a_project_may_call_a_fabric_otherwise(tmp_path: Path) -> None:
    """Cloth is of the fabric that the plan names in the ledger, and so is what is left of what it buys."""
    with opened(tmp_path / "ledger.sqlite") as ledger:
        ledger.take_in([INK, replace(INK, name="navy")], [replace(BOLT, along=Fraction(9), fabric="navy")])
        _, document = planned(ledger, Wish(across=9, along=6, count=6))
        (fabric,) = document["fabrics"]
        assert {cloth["source"] for cloth in fabric["cloths"]} == {"on hand", "buy"}

        with pytest.raises(ClothGoneError, match='it is cloth of "navy", and the plan took it for "ink"'):
            ledger.use(taking_of(document))
        fabric["ledger"] = "navy"
        used = ledger.use(taking_of(document))

        assert any("bought" in new.note for new in used.new)
        assert {new.fabric for new in used.new} == {"navy"}


def test_cloth_that_the_ledger_does_not_know_is_left_alone(tmp_path: Path) -> None:
    """A plan of cloth listed in the project alone takes nothing, and says so."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        _, document = planned(ledger, Wish(count=4))
        for cloth in document["fabrics"][0]["cloths"]:
            cloth["ledger"] = None
        taking = taking_of(document)

        assert taking.fabrics[0].taken == ()
        with pytest.raises(ClothGoneError, match="it cuts no cloth of the ledger"):
            ledger.use(taking)


def twofold(ledger: Ledger) -> dict[str, Any]:
    """One document of two fabrics, ink and navy, each of its own cloth in the ledger."""
    _, document = planned(ledger, Wish(count=4))
    (ink,) = document["fabrics"]
    text = json.dumps([ink, document["pieces"]], default=float).replace('"ink', '"navy').replace('"patch', '"flag')
    navy, pieces = json.loads(text, parse_float=Fraction)
    ledger.take_in([replace(INK, name="navy")], [])
    others = [ledger.add_cloth(replace(cloth, fabric="navy")) for cloth in ledger.cloths()]
    ids = {cloth.id: other.id for cloth, other in zip(ledger.cloths(), others, strict=False)}
    for cloth in navy["cloths"]:
        cloth["ledger"] = ids[cloth["ledger"]]
    return {**document, "fabrics": [ink, navy], "pieces": [*document["pieces"], *pieces]}


def test_a_plan_may_be_taken_in_parts(tmp_path: Path) -> None:
    """One fabric now, the other later; each once."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        document = twofold(ledger)
        untouched = ledger.cloths(find=None)
        ledger.use(taking_of(document, ("navy",)))
        assert [cloth for cloth in ledger.cloths() if cloth.fabric == "ink"] == [
            cloth for cloth in untouched if cloth.fabric == "ink"
        ]

        with pytest.raises(AlreadyUsedError, match='the cloth of "navy" was taken'):
            ledger.use(taking_of(document))

        ledger.use(taking_of(document, ("ink",)))
        assert [entry.summary for entry in ledger.history(2)] == ['ink of "patches"', 'navy of "patches"']
        assert ledger.check() == ()


def test_a_plan_that_is_none_is_refused(tmp_path: Path) -> None:
    """Faults that the judge finds, and fabrics that the plan lacks."""
    with stocked(tmp_path / "ledger.sqlite") as ledger:
        _, document = planned(ledger, Wish(count=4))

    with pytest.raises(InputError, match=r'plan: it has no fabric "navy"\. Its fabrics are "ink"\.'):
        taking_of(document, ("navy",))
    with pytest.raises(InputError, match="its cloth cannot be taken: The plan lacks the key"):
        taking_of({"format": 1, "unit": "in"})
    document["fabrics"][0]["cloths"][0]["used"] += 1
    with pytest.raises(InputError, match="its cloth cannot be taken"):
        taking_of(document)


def test_two_lengths_under_one_id_are_cut_apart(tmp_path: Path) -> None:
    """Of three lengths alike one is cut: two stay under the id, and the rest of the third gets an id of its own."""
    with opened(tmp_path / "ledger.sqlite") as ledger:
        ledger.take_in([INK], [replace(BOLT, count=3)])
        plan, document = planned(ledger, Wish(count=6))

        used = ledger.use(taking_of(document))

        (layout,) = plan.fabrics[0].layouts
        rests = [new for new in used.new if new.kind is Kind.LENGTH]
        assert ledger.cloth("A1").count == 2
        assert used.less == ("A1",)
        assert [new.along for new in rests] == [30 - layout.used / Fraction(97, 100)]


# two programs at once

RACE = """
import sys, json
from fractions import Fraction
from pathlib import Path
from ellwand.errors import EllwandError
from ellwand.ledger import taking_of
from solver.ledger.owned import opened
taking = taking_of(json.loads(Path(sys.argv[2]).read_text(), parse_float=Fraction))
ledger = opened(Path(sys.argv[1]))
print("ready", flush=True)
sys.stdin.readline()
try:
    ledger.use(taking)
    print("taken")
except EllwandError as error:
    print(type(error).__name__)
"""


def race(ledger_file: Path, plans: list[Path]) -> list[str]:
    """What programs are told that take plans at the same moment."""
    runs = [
        subprocess.Popen(
            [sys.executable, "-c", RACE, str(ledger_file), str(plan)],
            env=environment(), stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        )
        for plan in plans
    ]  # fmt: skip
    for run in runs:
        assert run.stdout is not None
        assert run.stdout.readline() == "ready\n"
    for run in runs:
        assert run.stdin is not None
        run.stdin.write("\n")
        run.stdin.flush()
    return [run.communicate()[0].strip() for run in runs]


@pytest.mark.parametrize(("wishes", "told"), [((20, 20), "AlreadyUsedError"), ((20, 21), "ClothGoneError")])
def test_two_programs_never_cut_one_cloth_twice(tmp_path: Path, wishes: tuple[int, int], told: str) -> None:
    """Of the same plan twice, and of two plans of the same cloth, one is taken and the other told."""
    path = tmp_path / "ledger.sqlite"
    plans = []
    with stocked(path) as ledger:
        for number, count in enumerate(wishes):
            _, document = planned(ledger, Wish(count=count))
            plans.append(tmp_path / f"{number}.json")
            plans[-1].write_text(json.dumps(document, default=float), encoding="utf-8")

    answers = race(path, plans)

    assert Counter(answers) == {"taken": 1, told: 1}
    with opened(path) as ledger:
        assert ledger.check() == ()
        assert [entry.act for entry in ledger.history()] == ["use", "import"]
