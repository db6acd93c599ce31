"""The cut list command: bars to buy, how each is cut, what is kept, as text, CSV or JSON."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from dataclasses import replace
from typing import TYPE_CHECKING

from app.cli.solving import with_sections
from core.report import Table, csv_text, table_lines
from core.storage import load_project, write_whole

if TYPE_CHECKING:
    from core.cuts import CutAnswer
    from core.machine.project import Project

SHORT = {
    "Cut list by section": frozenset({"Bought", "In pieces", "Price"}),
    "Bars": frozenset({"Material", "In pieces", "Cuts and trim"}),
}
"""Columns that a terminal leaves out."""
CAUTION = (
    "Saws cut hands, throw pieces and chips, and are loud. Clamp the bar and the piece that comes off, keep hands out of the "
    "blade's line, no gloves or loose sleeves near it, eyes and ears guarded; follow the saw's own instructions."
)
WEIGHT = {"limit": "Cannot be cut", "warning": "Look at", "note": "Note"}


def cutlist(arguments: Namespace) -> int:
    """Print the cut list, or write it. 1 when a piece cannot be cut from the bars that were entered."""
    from core.report.cut_tables import order_table
    from core.report.cuts_json import cuts_json

    project = load_project(arguments.project)
    answer = _answer(project, arguments.seconds)
    if arguments.json:
        print(json.dumps(cuts_json(answer, project), indent=2, allow_nan=False))
    elif arguments.csv == "-":
        sys.stdout.write(csv_text(order_table(answer, project.units)))
    elif arguments.csv is None:
        _print(answer, project)
    if arguments.csv not in (None, "-"):
        write_whole(arguments.csv, csv_text(order_table(answer, project.units)).encode("utf-8"))
        print(f"Written: {arguments.csv}", file=sys.stderr if arguments.json else sys.stdout)
    return 1 if any(finding.severity == "limit" for finding in answer.findings) else 0


def _answer(project: Project, seconds: float | None) -> CutAnswer:
    from core.cuts import SECONDS, find_cuts
    from core.plan import begin_plan

    plan = with_sections(lambda book: begin_plan(project, book))
    answer = find_cuts(project, plan.layout, plan.parts, SECONDS if seconds is None else seconds)
    assert answer is not None  # only a list that may be overtaken can stop
    return answer


def _print(answer: CutAnswer, project: Project) -> None:
    from core.report.cut_tables import bars_table, buy_table, sections_table

    if not answer.groups:
        print("No piece of this project is cut from a bar.")
        return
    for table in (
        sections_table(answer, project.units),
        buy_table(answer, project.units),
        bars_table(answer, project.units),
    ):
        if table.rows:
            print("\n".join(table_lines(_short(table))))
            print()
    for finding in answer.findings:
        print(f"{WEIGHT[finding.severity]}: {finding.message}")
    print(CAUTION)


def _short(table: Table) -> Table:
    left_out = SHORT.get(table.title, frozenset())
    kept = [k for k, column in enumerate(table.columns) if column.header not in left_out]
    rows = tuple(tuple(row[k] for k in kept) for row in table.rows)
    return replace(table, columns=tuple(table.columns[k] for k in kept), rows=rows)
