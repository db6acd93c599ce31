"""The drill command: where every hole and joint of the rails is, as a table, a drawing, or strips at full size."""

from __future__ import annotations

import sys
from argparse import Namespace
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.solving import with_sections
from core.errors import BadEntry
from core.report import Table, csv_text, table_lines
from core.storage import load_project, write_whole

if TYPE_CHECKING:
    from core.fasteners.drilling import RailMarks
    from core.machine.project import Project
    from core.sections import PropertyBook


def drill_command(arguments: Namespace) -> int:
    """Print the list of each rail, or write it. 1 when something about holes, joints or rails breaks a limit."""
    project = load_project(arguments.project)
    rails, codes = with_sections(lambda book: _solved(project, book))
    known = [rail.key for rail in rails]
    if arguments.rail is not None and arguments.rail not in known:
        raise BadEntry("--rail", repr(arguments.rail), "is no rail of this project", ", ".join(known))
    chosen = [rail for rail in rails if arguments.rail in (None, rail.key)]
    tables = [_table(rail, project, arguments.from_end) for rail in chosen]
    if arguments.csv == "-":
        sys.stdout.write(csv_text(_together(tables, arguments.from_end)))
    files = _files(arguments, chosen, tables, project)
    for name, data in files.items():
        write_whole(Path(name), data)
        print(f"Written: {name}", file=sys.stderr if arguments.csv == "-" else sys.stdout)
    if not files and arguments.csv is None:
        _print(chosen, tables)
    return 1 if "limit" in codes else 0


def _solved(project: Project, book: PropertyBook) -> tuple[tuple[RailMarks, ...], list[str]]:
    """Marks of every rail, and the severities of what was found; what is found is told on standard error."""
    from core.fasteners import rails as find_rails
    from core.fasteners.drilling import find_drilling
    from core.machine.layout import layout

    lay = layout(project.machine, book)
    rails, findings = find_rails(project, lay)
    found = find_drilling(project, lay, rails)
    every = [*findings, *found.findings]
    for finding in every:
        print(f"{finding.severity.capitalize()}: {finding.message}", file=sys.stderr)
    return found.rails, [finding.severity for finding in every]


def _table(rail: RailMarks, project: Project, from_end: bool) -> Table:
    from core.report.study.drilling import rail_table

    return rail_table(rail, project.units, from_end=from_end)


def _together(tables: list[Table], from_end: bool) -> Table:
    """All rails in one table, told apart by a first column; ends of different names get one word for all."""
    from core.report.tables import text_column

    rows = tuple(
        (table.title.removeprefix("Drilling list, "), *row) for table in tables for row in table.rows
    )
    columns = list(tables[0].columns)
    if len({table.columns for table in tables}) > 1:
        columns[2] = replace(columns[2], header=f"From the rail's {'end' if from_end else 'start'}")
    return Table("Drilling and marking list", (text_column("Rail"), *columns), rows)


def _files(
    arguments: Namespace, rails: list[RailMarks], tables: list[Table], project: Project
) -> dict[str, bytes]:
    files: dict[str, bytes] = {}
    if arguments.csv not in (None, "-"):
        files[arguments.csv] = csv_text(_together(tables, arguments.from_end)).encode("utf-8")
    if arguments.dxf is not None:
        from core.report.drill_dxf import drill_dxf

        files[arguments.dxf] = drill_dxf(rails, project.units)
    if arguments.pdf is not None:
        from app.strip_print import strips_pdf
        from core.drawing.strip import strip_pages

        pages = [page for rail in rails for page in strip_pages(rail, project.units)]
        files[arguments.pdf] = strips_pdf(pages, f"{project.name}, rails at full size")
    return files


def _print(rails: list[RailMarks], tables: list[Table]) -> None:
    for rail, table in zip(rails, tables, strict=True):
        print(f"{rail.label}. {rail.work}")
        print("\n".join(table_lines(table)))
        print()
