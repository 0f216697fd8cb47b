"""The example session on the ledger's page: its commands run, print what the page shows, and draw its pictures."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from matplotlib.image import imread

from docs.ledger_session import DOCS, PAGE, PICTURES, session

LEFT_OUT = "…\n"
AGAIN = "if the drawing was changed on purpose: python tests/docs/ledger_session.py"
NEAR = 0.002  # of full contrast, on the average: letters may be drawn a hair otherwise by another version


def test_the_session_is_as_the_page_tells_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every command does its job and prints what is shown, in its order; its drawings are the page's pictures."""
    monkeypatch.chdir(tmp_path)

    steps = session(tmp_path)

    assert len(steps) >= 12
    for step in steps:
        rest = step.printed
        for number, part in enumerate(filter(None, step.shown.split(LEFT_OUT))):
            before, found, rest = rest.partition(part)
            assert found == part, (step.command, step.printed)
            assert before == "" or number > 0, (step.command, step.printed)
        assert rest == "" or step.shown.endswith(LEFT_OUT) or not step.shown, (step.command, step.printed)
    assert (tmp_path / "before.csv").read_bytes() == (tmp_path / "after.csv").read_bytes()
    for picture, drawn in PICTURES.items():
        kept, made = imread(DOCS / "images" / picture), imread(tmp_path / drawn)
        assert kept.shape == made.shape, (picture, AGAIN)
        assert float(np.abs(kept - made).mean()) < NEAR, (picture, AGAIN)
        assert f"](images/{picture})" in PAGE.read_text(encoding="utf-8")
