"""A ledger outlives the program that changes it, whenever that is ended."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from pathlib import Path

from solver.ledger.owned import environment


def test_two_hundred_kills_leave_the_state_before_or_after(tmp_path: Path) -> None:
    """Ended by SIGKILL in a use, an undo, an import: the ledger opens, is sound, and is as before or after."""
    run = subprocess.run(
        [sys.executable, str(Path(__file__).with_name("killing.py")), str(tmp_path)],
        env=environment(),
        capture_output=True,
        text=True,
        check=False,
    )

    assert run.returncode == 0, run.stderr
    kills = [json.loads(line) for line in run.stdout.splitlines()]
    held = Counter((kill["act"], kill["holds"]) for kill in kills)
    assert sum(kill["killed"] and kill["way"] != "clock" for kill in kills) >= 200  # the clock may come too late
    assert [kill for kill in kills if kill["faults"]] == []
    assert {holds for _, holds in held} == {"before", "after"}
    assert all(kill["killed"] and kill["holds"] == "after" for kill in kills if kill["way"] == "done")
    assert all(held[act, "before"] and held[act, "after"] for act in ("use", "undo", "import"))
    assert all(kill["killed"] and kill["holds"] == "before" for kill in kills if kill["way"] == "step")
    assert any(kill["journal"] for kill in kills)
