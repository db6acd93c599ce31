"""The bill of parts and its money as tables: parts with stock, cost by group, work, what was spent and what is to come."""

from __future__ import annotations

from collections.abc import Callable

from core.bill import BillAnswer, BillLine
from core.machine.project import Project
from core.prices import total
from core.report.tables import Cell, Column, Table, amount, figure_column, money_column, number, text_column
from core.units import UnitSet

NO_GROUP = "All"
WAITS = "counting"
"""What is to order of metal whose bars are not counted yet."""


VIEWS: dict[str, tuple[str, Callable[[BillLine], bool]]] = {
    "all": ("Everything", lambda line: True),
    "order": ("To order", lambda line: line.to_order > 0 or line.waits),
    "awaited": ("On the way", lambda line: line.awaited > 0),
    "short": ("Short of", lambda line: line.short > 0),
    "fit": ("There, to be fitted", lambda line: line.fitted < min(line.here, line.needed)),
    "unpriced": ("Without price", lambda line: line.planned is None),
}
"""Parts of the bill to look at, by key: words, and which lines."""


def bill_table(bill: BillAnswer, units: UnitSet, view: str = "all") -> Table:
    """Every part that can be ordered, with all that is known of it; `view` is a key of `VIEWS`."""
    columns = (
        text_column("Group"),
        text_column("Part"),
        text_column("Specification"),
        figure_column("Length of one", "length", units),
        Column("Needed"),
        Column("Spare"),
        Column("Cut from bars"),
        Column("In a pack"),
        Column("Packs"),
        Column("On hand"),
        Column("Ordered"),
        Column("Arrived"),
        Column("Fitted"),
        Column("To order"),
        Column("Packs to order"),
        money_column("Price of one", bill.currency),
        money_column("Paid for one", bill.currency),
        money_column("Cost new", bill.currency),
        money_column("Spent", bill.currency),
        money_column("To come", bill.currency),
        text_column("Paid on"),
        text_column("Goes to"),
        text_column("Source and note"),
        text_column("Link"),
        text_column("Key"),
    )
    return Table(
        "Bill of parts", columns, tuple(_line(line, units) for line in bill.lines if VIEWS[view][1](line))
    )


def _line(line: BillLine, units: UnitSet) -> tuple[Cell, ...]:
    part, row = line.part, line.record
    packed = line.pack_size > 1
    return (
        part.group,
        part.what,
        part.spec,
        number(part.length, "length", units),
        line.needed,
        line.spare,
        line.cut or None,
        line.pack_size if packed else None,
        line.packs if packed else None,
        line.on_hand,
        row.ordered,
        row.arrived,
        line.fitted,
        WAITS if line.waits else line.to_order,
        line.packs_to_order if packed else None,
        _each(line),
        None if row.paid is None else row.paid,
        amount(line.planned),
        amount(line.spent),
        WAITS if line.waits else amount(line.to_come),
        row.date,
        part.where,
        row.note,
        row.link,
        part.key,
    )


def _each(line: BillLine) -> Cell:
    """The price of one; nothing for pieces that are bought as bars alone."""
    return None if line.cut and not line.bought else amount(None if line.price is None else line.price.each)


def bill_totals(bill: BillAnswer) -> dict[str, Cell]:
    """Sums under the bill by header, of what has a price."""
    lines = bill.lines
    known = bill.cost.any_price
    return {
        "Cost new": amount(bill.cost.goods if known else None),
        "Spent": amount(total(line.spent for line in lines)),
        "To come": amount(bill.to_come.goods if known else None),
    }


def groups_table(bill: BillAnswer) -> Table:
    """Cost by group; of what is known, with the number of lines that have no price."""
    columns = (
        text_column("Group"),
        Column("Lines"),
        money_column("Cost new", bill.currency),
        money_column("Spent", bill.currency),
        money_column("To come", bill.currency),
        Column("No price"),
    )
    rows: list[tuple[Cell, ...]] = []
    for group in bill.groups:
        none = group.unpriced > 0 and not group.planned  # a sum of nothing would look like no cost
        rows.append(
            (
                group.group,
                group.lines,
                amount(None if none else group.planned),
                amount(group.spent),
                amount(None if none and not group.to_come else group.to_come),
                group.unpriced or None,
            )
        )
    tax = (bill.cost.tax, bill.to_come.tax)
    if any(tax):
        rows.append(("Tax on top", None, amount(tax[0]), None, amount(tax[1]), None))
    any_price = bill.cost.any_price
    rows.append(
        (
            NO_GROUP,
            sum(group.lines for group in bill.groups),
            amount(bill.cost.known if any_price else None),
            amount(bill.spent),
            amount(bill.to_come.total if any_price else None),
            sum(group.unpriced for group in bill.groups) or None,
        )
    )
    return Table("Cost by group", columns, tuple(rows))


def work_table(bill: BillAnswer) -> Table:
    """Hours of work at the user's rates."""
    columns = (
        text_column("Work"),
        Column("Hours"),
        money_column("Rate", bill.currency),
        money_column("Cost", bill.currency),
        text_column("From"),
    )
    rows = tuple((w.what, w.hours, amount(w.rate), amount(w.cost), w.rule) for w in bill.work)
    return Table("Work", columns, rows)


def spendings_table(bill: BillAnswer) -> Table:
    """All that was spent, by day, with the running cost; sums without a day stand last and in no running cost."""
    columns = (
        text_column("Day"),
        text_column("What"),
        text_column("Kind"),
        money_column("Amount", bill.currency),
        money_column("Running cost", bill.currency),
        text_column("Note"),
    )
    rows: list[tuple[Cell, ...]] = []
    running = total(())
    for one in bill.spendings:
        running += one.amount
        rows.append(
            (
                one.day.isoformat() if one.day else "",
                one.what,
                one.kind,
                float(one.amount),
                float(running) if one.day else None,
                "by the price list" if one.estimated else "",
            )
        )
    return Table("Spent so far", columns, tuple(rows))


def money_table(bill: BillAnswer) -> Table:
    """Spent, still to come and the budget in one column."""
    known, come = bill.cost.any_price, bill.to_come
    rows: list[tuple[Cell, ...]] = [
        ("Spent", amount(bill.spent)),
        ("Parts still to order", amount(come.goods if known else None)),
    ]
    rows += [("Tax on them", amount(come.tax))] if come.tax else []
    rows += [("Work still to pay", amount(come.work))] if bill.work else []
    rows += [("Shipping still to come", amount(come.shipping))] if come.shipping else []
    rows.append(("Expected altogether", amount(bill.expected if known or bill.spent else None)))
    if bill.budget is not None:
        rows += [("Budget", amount(bill.budget)), ("Left of it", amount(bill.left))]
    return Table("Money", (text_column("What"), money_column("Amount", bill.currency)), tuple(rows))


def purchases_table(project: Project) -> Table:
    """The purchases that belong to no part, in the order entered."""
    columns = (
        text_column("Day"),
        text_column("What"),
        text_column("Kind"),
        money_column("Amount", project.prices.currency),
        text_column("Note"),
    )
    rows = tuple((p.date, p.what, p.kind, p.amount, p.note) for p in project.purchases)
    return Table("Other purchases", columns, rows)
