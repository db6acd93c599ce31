"""Turns a plan into what leaves the program: plain JSON in SI, tables, CSV and lines for a terminal.

Nothing is computed here; everything stands in the plan.
"""

from __future__ import annotations

from core.report.all_tables import all_tables
from core.report.answer_tables import cases_table, curve_table, findings_table, path_table
from core.report.build_tables import fasteners_table, parts_table
from core.report.comparison_lines import comparison_lines
from core.report.csv_text import csv_text
from core.report.lines import table_lines, verdict_lines
from core.report.plan_json import plan_json
from core.report.tables import Column, Table

__all__ = [
    "Column",
    "Table",
    "all_tables",
    "cases_table",
    "comparison_lines",
    "csv_text",
    "curve_table",
    "fasteners_table",
    "findings_table",
    "parts_table",
    "path_table",
    "plan_json",
    "table_lines",
    "verdict_lines",
]
