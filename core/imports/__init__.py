"""Prices and stock out of other people's tables: columns found by name, every row judged, nothing overwritten unasked."""

from __future__ import annotations

from core.imports.plan import ImportPlan, Row, Status, report_lines, take
from core.imports.prices import plan_prices
from core.imports.sheets import Sheet, read_sheet
from core.imports.stock import plan_stock

__all__ = [
    "ImportPlan",
    "Row",
    "Sheet",
    "Status",
    "plan_prices",
    "plan_stock",
    "read_sheet",
    "report_lines",
    "take",
]
