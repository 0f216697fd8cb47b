"""The shape of the code: imports go one way, and the command line starts light."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCES = sorted([*(ROOT / "solver").rglob("*.py"), *(ROOT / "cli").rglob("*.py")])
HEAVY = ("ortools", "matplotlib", "shapely", "pint", "numpy", "pandas", "rich", "simplejson", "ezdxf", "jinja2")

# A module may import from its own rank only inside its package, else from lower ranks alone.
RANKS = {
    "ellwand": 0,
    "ellwand.errors": 0,
    "ellwand.lengths": 0,
    "ellwand.packing": 1,
    "ellwand.project": 1,
    "ellwand.pieces": 2,
    "ellwand.reckoning": 1,
    "ellwand.model": 3,
    "ellwand.cloths": 4,
    "ellwand.costs": 4,
    "ellwand.cutparts": 4,
    "ellwand.cuts": 4,
    "ellwand.offcuts": 4,
    "ellwand.outlines": 4,
    "ellwand.slack": 4,
    "ellwand.areas": 5,
    "ellwand.cutorder": 5,
    "ellwand.quilt": 5,
    "ellwand.assign": 5,
    "ellwand.shortage": 5,
    "ellwand.verdict": 5,
    "ellwand.bolts": 6,
    "ellwand.gaps": 6,
    "ellwand.remains": 6,
    "ellwand.ledger": 6,
    "ellwand.choices": 7,
    "ellwand.lays": 7,
    "ellwand.cutting": 8,
    "ellwand.leastrun": 8,
    "ellwand.wishes": 9,
    "ellwand.flexible": 9,
    "ellwand.hunt": 10,
    "ellwand.search": 11,
    "ellwand.kits": 12,
    "ellwand.kitsrecord": 12,
    "ellwand.mixing": 12,
    "ellwand.plan": 13,
    "ellwand.curve": 13,
    "ellwand.compare": 14,
    "ellwand.claim": 14,
    "ellwand.fit": 14,
    "ellwand.materials": 14,
    "ellwand.record": 14,
    "ellwand_cli": 15,
}
TRADE_WORDS = ("fabric", "cloth", "quilt", "selvage", "bolt", "border", "binding", "yard", "seam")


def module_name(path: Path) -> str:
    """Import path of a source file."""
    parts = path.relative_to(ROOT).with_suffix("").parts[1:]
    return ".".join(part for part in parts if part != "__init__")


def home(name: str) -> str:
    """The longest entry of RANKS that holds module `name`."""
    return max((entry for entry in RANKS if name == entry or name.startswith(entry + ".")), key=len)


def test_every_module_has_a_room() -> None:
    """No module but the package's own front page is left without a rank."""
    homeless = [name for name in map(module_name, SOURCES) if home(name) == "ellwand" and name != "ellwand"]

    assert homeless == []


def imported(path: Path) -> set[str]:
    """Names of our own modules that a file imports anywhere."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names.add(node.module)
        elif isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
    return {name for name in names if name.split(".")[0] in ("ellwand", "ellwand_cli")}


@pytest.mark.parametrize("path", SOURCES, ids=module_name)
def test_imports_go_one_way(path: Path) -> None:
    """A module imports only from its own room or from rooms below it."""
    own = home(module_name(path))

    wrong = [name for name in imported(path) if home(name) != own and RANKS[home(name)] >= RANKS[own]]

    assert wrong == []


IMPORTER = """
import importlib, sys
for name in sys.argv[1:]:
    for ours in [one for one in sys.modules if one.split(".")[0] in ("ellwand", "ellwand_cli")]:
        del sys.modules[ours]
    try:
        importlib.import_module(name)
    except Exception as error:
        print(f"{name}: {error!r}")
"""


def test_every_module_imports_alone_without_warnings() -> None:
    """Each module can be the first of ours that is imported, and none warns."""
    names = [name for name in map(module_name, SOURCES) if not name.endswith("__main__")]
    run = subprocess.run(
        [sys.executable, "-W", "error", "-c", IMPORTER, *names],
        env={"PYTHONPATH": f"{ROOT / 'solver'}:{ROOT / 'cli'}"},
        capture_output=True,
        text=True,
        check=False,
    )

    assert (run.stdout, run.stderr, run.returncode) == ("", "", 0)


def test_help_loads_nothing_heavy() -> None:
    """`ellwand --help` starts without solver, drawing or array packages, in under 0.3 s of CPU."""
    code = (
        "import resource, sys\n"
        "from ellwand_cli.app import app\n"
        "app(['--help'], prog_name='ellwand', standalone_mode=False)\n"
        f"heavy = [name for name in {HEAVY!r} if name in sys.modules]\n"
        "usage = resource.getrusage(resource.RUSAGE_SELF)\n"
        "print(heavy, usage.ru_utime + usage.ru_stime < 0.3)\n"
    )

    run = subprocess.run(
        [sys.executable, "-c", code],
        env={"PYTHONPATH": f"{ROOT / 'solver'}:{ROOT / 'cli'}"},
        capture_output=True,
        text=True,
        check=True,
    )

    assert run.stdout.splitlines()[-1] == "[] True"


@pytest.mark.parametrize("path", SOURCES, ids=module_name)
def test_modules_are_short(path: Path) -> None:
    """A module has at most 400 lines, a function at most 40 lines of code."""
    text = path.read_text(encoding="utf-8")
    long = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            documented = ast.get_docstring(node) is not None and len(node.body) > 1
            first = node.body[1 if documented else 0]
            lines = (node.end_lineno or 0) - first.lineno + 1
            if lines > 40:
                long.append((node.name, lines))

    assert len(text.splitlines()) <= 400
    assert long == []


@pytest.mark.parametrize("path", sorted((ROOT / "solver/ellwand/packing").glob("*.py")), ids=lambda path: path.stem)
def test_packing_knows_nothing_of_the_trade(path: Path) -> None:
    """Inside packing/ there are rectangles and integers only."""
    text = path.read_text(encoding="utf-8").lower()

    assert [word for word in TRADE_WORDS if word in text] == []


def test_only_lengths_knows_pint() -> None:
    """Pint is imported in one module."""
    users = [module_name(path) for path in SOURCES if "import pint" in path.read_text(encoding="utf-8")]

    assert users == ["ellwand.lengths"]


def test_judge_shares_no_code_with_the_solver() -> None:
    """The judge of packings knows the problem alone; the judge of plans knows nothing of ours."""
    own = {f"ellwand.packing.{name}": ROOT / f"solver/ellwand/packing/{name}.py" for name in ("judge", "refute")}
    packing = {name for path in own.values() for name in imported(path)} - own.keys()
    plans = {name for path in (ROOT / "solver/ellwand/verdict").glob("*.py") for name in imported(path)}

    assert packing == {"ellwand.packing.problem"}
    assert {name for name in plans if not name.startswith("ellwand.verdict")} == set()
