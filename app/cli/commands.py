"""What each command does; each takes the parsed arguments and gives the exit code."""

from __future__ import annotations

import json
import os
import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from app import paths
from app.cli.output import write_plan
from app.cli.solving import study, with_sections
from core.report import (
    comparison_lines,
    fasteners_table,
    parts_table,
    plan_json,
    table_lines,
    verdict_lines,
)
from core.storage import load_project

if TYPE_CHECKING:
    from core.plan import Plan
    from core.study import Study


def window_on_demo(arguments: Namespace) -> int:
    """Open the window on the first demo; without a display do the same job in the terminal."""
    demo = paths.demo_projects()[0]
    if has_display():
        return _run_window(demo)
    print("There is no display, so no window can open. The first demo is solved here instead.\n")
    made = study(load_project(demo), bars=True)
    written = write_plan(made, Path("out"))  # before printing, whose reader may leave early
    _print_study(made)
    print(f"\nWritten to out: {', '.join(file.name for file in written)}")
    return 0


def open_window(arguments: Namespace) -> int:
    """Open the window on a project."""
    load_project(arguments.project)  # a bad file is refused here, before a window opens
    if has_display():
        return _run_window(arguments.project)
    print("There is no display, so no window can open. The project is solved here instead.\n")
    made = study(load_project(arguments.project))
    _print_study(made)
    return code_of(made)


def plan(arguments: Namespace) -> int:
    """Solve a project, print what was asked for and write files when a folder is given."""
    made = study(load_project(arguments.project), bars=arguments.json or arguments.out is not None)
    written = write_plan(made, arguments.out) if arguments.out is not None else []
    if arguments.json:
        print(json.dumps(plan_json(made.plan, made), indent=2, allow_nan=False))
    else:
        _print_study(made)
        if written:
            print(f"\nWritten to {arguments.out}: {', '.join(file.name for file in written)}")
    return code_of(made)


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
    from core.plan import Place
    from core.report.frame_json import frame_json
    from core.units import parse

    project = load_project(arguments.project)
    units = project.units
    place = Place(x=parse(arguments.x, "length", units), y=parse(arguments.y, "length", units))
    exported = with_sections(lambda book: frame_json(project, book, place))
    print(json.dumps(exported, indent=2, allow_nan=False))
    return 0


def code_of(made: Plan | Study) -> int:
    """0, or 1 when a finding breaks a limit."""
    return 1 if any(finding.severity == "limit" for finding in made.findings) else 0


def has_display() -> bool:
    """Whether a window can be shown: always on Windows and macOS, elsewhere when a display is named."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))


def _run_window(project: Path) -> int:
    from app.main import run  # Qt is loaded only for the window

    return int(run(str(project)))


def _print_study(made: Study) -> None:
    plan_made = made.plan
    print("\n".join(verdict_lines(plan_made, made)))
    print()
    print("\n".join(table_lines(fasteners_table(plan_made))))
    if made.comparison is not None and plan_made.project.variants:
        print()
        print("\n".join(comparison_lines(made.comparison, plan_made.project.units)))
    print()
    print("\n".join(table_lines(parts_table(plan_made))))
