"""Measures the engine and its peers and writes docs/benchmarks.md: `python tests/bench/run.py`; see --help."""

from __future__ import annotations

import sys
from pathlib import Path

if __name__ == "__main__":
    sys.path[0] = str(Path(__file__).parents[1])  # so that this folder is the package `bench`, as it is for the tests
    from bench.command import main

    main()
