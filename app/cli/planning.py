"""The plan in the terminal: solved, printed, written to a folder; and the frame behind it."""

from __future__ import annotations

import json
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

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
    from core.machine.project import Project
    from core.plan import Plan
    from core.study import Study


def demo_in_terminal(demo: Path) -> int:
    """Solve a demo, print it and write everything into the folder out; always 0."""
    made = study(load_project(demo), bars=True)
    written = write_plan(made, Path("out"))  # before printing, whose reader may leave early
    _print_study(made)
    print(f"\nWritten to out: {', '.join(file.name for file in written)}")
    return 0


def in_terminal(project: Project) -> int:
    """Solve a project and print it."""
    made = study(project)
    _print_study(made)
    return code_of(made)


def plan(arguments: Namespace) -> int:
    """Solve a project, print what was asked for and write files when a folder is given."""
    made = study(load_project(arguments.project), bars=True)
    written = write_plan(made, arguments.out) if arguments.out is not None else []
    if arguments.json:
        print(json.dumps(plan_json(made.plan, made), indent=2, allow_nan=False))
    else:
        _print_study(made)
        if written:
            print(f"\nWritten to {arguments.out}: {', '.join(file.name for file in written)}")
    return code_of(made)


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
