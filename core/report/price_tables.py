"""The project's price list as a table that can be read in again."""

from __future__ import annotations

from core.machine.project import Project
from core.report.tables import Column, Table, money_column, text_column


def prices_table(project: Project) -> Table:
    """One row for each price, as entered."""
    prices = project.prices
    columns: tuple[Column, ...] = (
        text_column("Part"),
        text_column("Kind of section"),
        text_column("Section"),
        text_column("Material"),
        money_column("Price", ""),
        text_column("Per"),
        text_column("Currency"),
        text_column("Name"),
    )
    rows = tuple(
        (r.part, r.family, r.section, r.material, r.price, r.per, prices.currency, r.name)
        for r in prices.rows
    )
    return Table("Price list", columns, rows)


def short_prices_table(project: Project) -> Table:
    """One row for each price in few columns, for a narrow place: what it is for in one cell."""
    prices = project.prices
    columns: tuple[Column, ...] = (
        text_column("For"),
        money_column("Price", prices.currency),
        text_column("Per"),
        text_column("Name"),
    )
    rows = []
    for row in prices.rows:
        family = "" if row.family == "any" else row.family
        words = ", ".join(text for text in (row.part, family, row.section, row.material) if text)
        rows.append((words[:1].upper() + words[1:], row.price, row.per, row.name))
    return Table("Price list", columns, tuple(rows))
