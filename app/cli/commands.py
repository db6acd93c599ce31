"""The commands; each takes the parsed arguments, loads what it needs only now, and gives the exit code."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from pathlib import Path

from app import paths


def window_on_demo(arguments: Namespace) -> int:
    """Open the window on the first demo; without a display do the same job in the terminal."""
    demo = paths.demo_projects()[0]
    if has_display():
        return _run_window(demo)
    from app.cli.planning import demo_in_terminal

    print("There is no display, so no window can open. The first demo is solved here instead.\n")
    return demo_in_terminal(demo)


def open_window(arguments: Namespace) -> int:
    """Open the window on a project."""
    from core.storage import load_project

    project = load_project(arguments.project)  # a bad file is refused here, before a window opens
    if has_display():
        return _run_window(arguments.project)
    from app.cli.planning import in_terminal

    print("There is no display, so no window can open. The project is solved here instead.\n")
    return in_terminal(project)


def plan(arguments: Namespace) -> int:
    """Solve a project, print what was asked for and write files when a folder is given."""
    from app.cli.planning import plan as run

    return run(arguments)


def parts(arguments: Namespace) -> int:
    """Print the bill, or write it in the formats asked for."""
    from app.cli.bill import parts_command as run

    return run(arguments)


def import_table(arguments: Namespace) -> int:
    """Take prices or stock out of a table into the project file."""
    from app.cli.bill import import_command as run

    return run(arguments)


def drill(arguments: Namespace) -> int:
    """Print where every hole and joint of the rails is, or write it."""
    from app.cli.drill import drill_command as run

    return run(arguments)


def joints(arguments: Namespace) -> int:
    """Print every joint, or write it."""
    from app.cli.building import joints_command as run

    return run(arguments)


def interim(arguments: Namespace) -> int:
    """Print what may be done with what has arrived, or write it."""
    from app.cli.building import interim_command as run

    return run(arguments)


def cutlist(arguments: Namespace) -> int:
    """Print the cut list, or write it."""
    from app.cli.cutlist import cutlist as run

    return run(arguments)


def shims(arguments: Namespace) -> int:
    """Print the shim for each hole of the measured rails, or write them as CSV."""
    from app.cli.shims import shims as run

    return run(arguments)


def compare(arguments: Namespace) -> int:
    """Set the variants side by side."""
    from app.cli.compare import compare as run

    return run(arguments)


def rank(arguments: Namespace) -> int:
    """Try every section of the catalogue as the gantry beam."""
    from app.cli.rank import rank as run

    return run(arguments)


def section(arguments: Namespace) -> int:
    """Print the properties of an outline out of a drawing."""
    from app.cli.section import section as run

    return run(arguments)


def frame(arguments: Namespace) -> int:
    """Print the frame behind the plan as JSON."""
    from app.cli.planning import frame as run

    return run(arguments)


def has_display() -> bool:
    """Whether a window can be shown: always on Windows and macOS, elsewhere when a display is named."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))


def _run_window(project: Path) -> int:
    from app.main import run  # Qt is loaded only for the window

    return int(run(str(project)))
