"""What a shared list holds, whatever its format: words in front, tables with their totals, words behind."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.bill import BillAnswer
from core.machine.project import Project
from core.report.bill_tables import (
    bill_table,
    bill_totals,
    groups_table,
    money_table,
    spendings_table,
    work_table,
)
from core.report.bill_words import bars_words
from core.report.tables import Cell, Table

SHARED = (
    "Group",
    "Part",
    "Specification",
    "Length of one",
    "Needed",
    "Spare",
    "Cut from bars",
    "In a pack",
    "On hand",
    "Ordered",
    "Arrived",
    "Fitted",
    "To order",
    "Price of one",
    "Cost new",
    "Spent",
    "To come",
    "Goes to",
    "Source and note",
    "Link",
)
CAUTION = "Planning figures, not an offer. Check sizes and prices with the shop before you order; heavy pieces are lifted by two."


@dataclass(frozen=True, slots=True)
class Part:
    """A table with the cells of its last row, the totals; None when it has none."""

    table: Table
    totals: tuple[Cell, ...] | None = None


@dataclass(frozen=True, slots=True)
class Sharing:
    """Title, sentences in front, parts, and a sentence at the end."""

    title: str
    words: tuple[str, ...]
    parts: tuple[Part, ...]
    end: str


def share_content(project: Project, bill: BillAnswer) -> Sharing:
    """The list as a reader wants it; empty columns are left out."""
    whole = _columns(bill_table(bill, project.units), SHARED)
    sums = bill_totals(bill)
    totals = tuple("All" if k == 0 else sums.get(c.header) for k, c in enumerate(whole.columns))
    parts = [Part(whole, totals), Part(money_table(bill)), Part(groups_table(bill))]
    if bill.work:
        parts.append(Part(work_table(bill)))
    if bill.spendings:
        parts.append(Part(spendings_table(bill)))
    words = [project.note] if project.note else []
    if bill.cost.any_price and bill.cost.unpriced:
        words.append(f"{len(bill.cost.unpriced)} lines have no price and are in no sum.")
    words.append(bars_words(bill, project.units))
    return Sharing(f"{project.name}: bill of parts", tuple(words), tuple(parts), CAUTION)


def _columns(table: Table, headers: tuple[str, ...]) -> Table:
    """These columns, but none that is empty or zero in every row."""
    kept = [
        k
        for k, column in enumerate(table.columns)
        if column.header in headers and any(row[k] not in (None, "", 0) for row in table.rows)
    ]
    rows = tuple(tuple(row[k] for k in kept) for row in table.rows)
    return replace(table, columns=tuple(table.columns[k] for k in kept), rows=rows)
