"""What is loaded when: help and the first answer must not wait for libraries that only later answers and pages need."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
LARGE = (
    "scipy.linalg",
    "scipy.sparse",
    "scipy.optimize",
    "matplotlib",
    "sectionproperties",
    "shapely",
    "openpyxl",
    "ezdxf",
    "core.study",
    "core.rank",
    "core.modes",
    "core.report.study",
)
SOLVE = (
    "from core.plan import begin_plan; from core.sections.book import stock_book; "
    "from core.storage import load_project; "
    "begin_plan(load_project('demo_projects/01_boat_shed_plywood.json'), stock_book())"
)


def loaded(code: str) -> set[str]:
    """Names of all modules after running code in a fresh interpreter."""
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(*sorted(sys.modules))"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return set(done.stdout.splitlines()[-1].split())


@pytest.mark.parametrize(
    "code",
    [
        pytest.param(SOLVE, id="first stage"),
        pytest.param(
            "import importlib\nfrom app.loading import FIRST\nfor name in FIRST:\n    importlib.import_module(name)",
            id="first page",
        ),
    ],
)
def test_the_first_answer_needs_no_large_library(code: str) -> None:
    assert "numpy" in (names := loaded(code))
    assert not names & set(LARGE)


def test_help_needs_no_engine() -> None:
    names = loaded("from app.__main__ import main\nmain(['--help'])")
    assert "app.cli.arguments" in names
    assert not {name for name in names if name.startswith("core.")} - {"core.errors"}
    assert not names & {"numpy", "msgspec", "PySide6"}


def test_the_first_paint_needs_no_engine() -> None:
    names = loaded("import app.main")
    assert "PySide6.QtWidgets" in names
    assert not names & {"numpy", "msgspec", "core.machine", "core.plan"}
