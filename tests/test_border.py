"""The engine imports, whole, where neither Qt nor plotting nor the front end exists."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

IMPORT_ALL = """
import importlib, pkgutil, sys
BLOCKED = {"PySide6", "shiboken6", "matplotlib", "app"}
class Border:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in BLOCKED:
            raise ImportError("the engine must not import " + name)
        return None
sys.meta_path.insert(0, Border())
if len(sys.argv) > 1:
    importlib.import_module(sys.argv[1])
import core
def fail(name):
    raise
names = [found.name for found in pkgutil.walk_packages(core.__path__, "core.", onerror=fail)]
for name in names:
    importlib.import_module(name)
print(len(names))
"""


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-W", "error", "-c", IMPORT_ALL, *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def test_all_of_core_imports_without_qt_plotting_and_app() -> None:
    done = run()
    assert done.returncode == 0, done.stderr
    # As many modules as there are files, or the walk has missed a room that lacks its __init__.py.
    files = [file for file in (ROOT / "core").rglob("*.py") if file != ROOT / "core" / "__init__.py"]
    assert int(done.stdout) == len(files)


def test_the_border_does_stop_an_import() -> None:
    assert run("matplotlib").returncode != 0
    assert run("app").returncode != 0
