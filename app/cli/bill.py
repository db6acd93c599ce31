"""The commands about buying: the bill of parts in every format, and the import of prices and stock."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.solving import with_bars, with_sections
from core.report import csv_text, table_lines
from core.report.bill_tables import bill_table, groups_table, money_table
from core.report.bill_words import bars_words, parts_headline
from core.storage import BadFile, load_project, save_project, write_whole

if TYPE_CHECKING:
    from core.bill import BillAnswer
    from core.machine.project import Project
    from core.plan import Plan

SHORT = frozenset(
    {"Group", "Length of one", "Packs", "Paid on", "Source and note", "Link", "Key", "Paid for one"}
)
"""Columns that a terminal leaves out."""


def parts_command(arguments: Namespace) -> int:
    """Print the bill, or write it in the formats asked for. The exit code follows the machine's findings."""
    made = _plan(load_project(arguments.project))
    bill = _bill(made)
    if arguments.csv == "-":
        sys.stdout.write(csv_text(bill_table(bill, made.project.units)))
    written = _written(arguments, made, bill)
    if not written and arguments.csv is None:
        _print(made, bill)
    return 1 if any(finding.severity == "limit" for finding in made.findings) else 0


def _plan(project: Project) -> Plan:
    from core.plan import begin_plan

    return with_bars(with_sections(lambda book: begin_plan(project, book)))


def _bill(made: Plan) -> BillAnswer:
    assert made.bill is not None  # only a plan made by hand has none
    return made.bill


def _written(arguments: Namespace, made: Plan, bill: BillAnswer) -> list[str]:
    """Write every file asked for; their names."""
    from core.report.share import html_text, markdown_text, share_content, workbook_bytes

    project = made.project
    files: dict[str, bytes] = {}
    if arguments.csv not in (None, "-"):
        files[arguments.csv] = csv_text(bill_table(bill, project.units)).encode("utf-8")
    content = share_content(project, bill)
    if arguments.markdown is not None:
        files[arguments.markdown] = markdown_text(content).encode("utf-8")
    if arguments.html is not None:
        files[arguments.html] = html_text(content).encode("utf-8")
    if arguments.xlsx is not None:
        files[arguments.xlsx] = workbook_bytes(project, bill)
    if arguments.pdf is not None:
        from app.share_pdf import pdf_bytes  # Qt is loaded only for this

        files[arguments.pdf] = pdf_bytes(content)
    for name, data in files.items():
        write_whole(name, data)
        print(f"Written: {name}", file=sys.stderr if arguments.csv == "-" else sys.stdout)
    return list(files)


def _print(made: Plan, bill: BillAnswer) -> None:
    from dataclasses import replace

    table = bill_table(bill, made.project.units)
    kept = [k for k, column in enumerate(table.columns) if column.header not in SHORT]
    rows = tuple(tuple(row[k] for k in kept) for row in table.rows)
    short = replace(table, columns=tuple(table.columns[k] for k in kept), rows=rows)
    print("\n".join(table_lines(short)))
    for more in (groups_table(bill), money_table(bill)) if bill.cost.any_price or bill.spendings else ():
        print()
        print("\n".join(table_lines(more)))
    print(f"\n{parts_headline(bill).words}")
    print(f"\n{bars_words(bill, made.project.units)}")
    for finding in (*bill.findings, *(bill.cuts.findings if bill.cuts is not None else ())):
        print(f"\n{'Look at' if finding.severity == 'warning' else 'Note'}: {finding.message}")


def import_command(arguments: Namespace) -> int:
    """Report what a table would do, do what overwrites nothing (or all, when told to), save the project."""
    from core.commands import SetEntries
    from core.imports import plan_prices, plan_stock, read_sheet, report_lines, take

    project = load_project(arguments.project)
    sheet = read_sheet(_read(arguments.file), arguments.file.name)
    made = _plan(project)
    lines = _bill(made).lines
    parts, beside = [line.part for line in lines], {line.key: line.beside for line in lines}
    stock = arguments.into == "stock"
    plan = plan_stock(sheet, project, parts, beside) if stock else plan_prices(sheet, project, parts)
    taken = plan.plain() | (plan.changes() if arguments.replace else frozenset())
    if arguments.unknown:
        taken |= {row.number for row in plan.rows if row.status == "unknown" and row.takeable}
    print("\n".join(report_lines(plan, taken)))
    path, value = take(plan, taken)
    changed = SetEntries(((path, value),), f"Import {arguments.into}").apply(project)
    if arguments.dry_run:
        print("Nothing was changed (dry run).")
    elif changed != project:
        save_project(arguments.project, changed)
        print(f"Saved: {arguments.project}")
    left = [row for row in plan.rows if row.status != "same" and row.number not in taken]
    return 1 if left else 0


def _read(file: Path) -> bytes:
    from core.imports.sheets import MOST_BYTES

    try:
        with file.open("rb") as stream:
            return stream.read(MOST_BYTES + 1)
    except OSError as error:
        words = error.strerror or str(error)
        raise BadFile(str(file), f"It could not be read: {words}.") from error
