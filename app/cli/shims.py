"""The shims command: measured heights from a file or the project, the shim for each hole out."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path

from app.cli.solving import with_sections
from core.errors import BadEntry
from core.fasteners import rails as find_rails
from core.form import find_form, read_heights
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.report import csv_text, table_lines
from core.report.study.form import shim_table
from core.storage import BadFile, load_project, write_whole

LARGEST = 200_000


def shims(arguments: Namespace) -> int:
    """Print the shims of every measured rail, or write them as CSV. 2 when there is nothing measured to work with."""
    project = load_project(arguments.project)
    if arguments.readings is not None:
        heights = _read(arguments.readings, project)
        project = _with(project, f"straightness.{arguments.axis}_heights", heights)
    found = with_sections(lambda book: _form(project, layout(project.machine, book)))
    for finding in found.findings:
        if finding.code.startswith("shim-"):
            print(finding.message, file=sys.stderr)
    if not found.surveys:
        print("No rail has heights at two places or more.", file=sys.stderr)
        return 2
    table = shim_table(found, project.units)
    if arguments.csv == "-":
        sys.stdout.write(csv_text(table))
    elif arguments.csv is not None:
        write_whole(arguments.csv, csv_text(table).encode("utf-8"))
        print(f"Written: {arguments.csv}")
    else:
        print("\n".join(table_lines(table)))
    return 0


def _form(project: Project, lay: object) -> object:
    return find_form(project, lay, find_rails(project, lay)[0])  # type: ignore[arg-type]


def _with(project: Project, path: str, value: object) -> Project:
    return replace_at(project, path, value)  # type: ignore[return-value]


def _read(file: Path, project: Project) -> object:
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST + 1)
        if len(data) > LARGEST:
            raise BadFile(str(file), f"The file is too long for readings; up to {LARGEST} bytes are read.")
        return read_heights(data.decode("utf-8-sig"), project.units)
    except (OSError, UnicodeDecodeError) as error:
        raise BadFile(str(file), f"The file cannot be read as text: {error}.") from error
    except BadEntry as error:
        raise BadFile(str(file), f"{error.value} {error.problem}. Accepted: {error.accepted}.") from error
