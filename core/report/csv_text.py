"""A table as CSV (RFC 4180): one header row with units, no text that a spreadsheet takes for a formula."""

from __future__ import annotations

import csv
import io
import math

from core.prices.money import exact
from core.report.tables import Cell, Column, Table

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def csv_text(table: Table) -> str:
    """The table's CSV text, lines ended by CR LF; numbers with a decimal point and up to nine
    digits, money to the last."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([safe(_header(column)) for column in table.columns])
    for row in table.rows:
        writer.writerow([_cell(cell, column) for cell, column in zip(row, table.columns, strict=True)])
    return stream.getvalue()


def _header(column: Column) -> str:
    return f"{column.header} ({column.unit})" if column.unit else column.header


def _cell(cell: Cell, column: Column) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return f"{exact(cell):f}" if column.money and math.isfinite(cell) else f"{cell:.9g}"
    return str(cell) if isinstance(cell, int) else safe(cell)


def safe(text: str) -> str:
    """The text, behind an apostrophe when a spreadsheet would run it as a formula."""
    risky = text.startswith(FORMULA_STARTS) or text.lstrip().startswith(FORMULA_STARTS)
    return f"'{text}" if risky else text
