"""What does not add up in the bill: more fitted than there, more arrived than ordered, money over the budget."""

from __future__ import annotations

from collections.abc import Iterator

from core.bill.answer import BillAnswer
from core.bill.bars import BAR_KEY
from core.bill.lines import BillLine
from core.findings import Finding
from core.machine.project import Project
from core.prices import show_money
from core.prices.match import target

MOST_NAMES = 4


def judge(project: Project, bill: BillAnswer) -> tuple[Finding, ...]:
    """Findings about stock, prices and budget; none of them breaks a limit of the machine.

    What cannot be said before the bars are counted is left out until then.
    """
    by_bar = any(row.part.startswith(BAR_KEY) for row in project.stock)
    early = bill.cuts is None and by_bar
    return (
        *(finding for line in _wanted(bill) for finding in _counts(project, line, early)),
        *_strays(project, bill, early),
        *_prices(project, bill),
        *_undated(bill),
        *(() if early else _money(bill)),
    )


def _wanted(bill: BillAnswer) -> list[BillLine]:
    """The lines of parts that the machine holds."""
    return [line for line in bill.lines if line.key not in bill.strays]


def _where(project: Project, key: str, field: str) -> str:
    for number, row in enumerate(project.stock):
        if row.part == key:
            return f"stock.{number}.{field}"
    return "stock"


def _counts(project: Project, line: BillLine, early: bool) -> Iterator[Finding]:
    row, what = line.record, line.part.what
    cut_later = early and line.part.section is not None

    def finding(code: str, field: str, text: str, value: int, limit: int) -> Finding:
        where = _where(project, line.key, field)
        return Finding(code, "warning", where, text, float(value), float(limit), "count", what)

    if row.arrived > row.ordered:
        text = f"{what}: {row.arrived} arrived, but only {row.ordered} ordered. Mend one of the two."
        yield finding("more-arrived", "arrived", text, row.arrived, row.ordered)
    there = line.here + line.cut
    if row.fitted > there and not cut_later:
        came = "on hand, arrived or cut from bars" if line.cut else "on hand or arrived"
        text = f"{what}: {row.fitted} fitted, but only {there} {came}. Mend one of them."
        yield finding("more-fitted", "fitted", text, row.fitted, there)
    elif line.fitted > max(row.fitted, there):
        text = (
            f"{what}: all that is cut from {line.fitted} of them is fitted, but {there} are on hand or arrived. Record the "
            "bars, or the pieces as on hand."
        )
        yield finding("more-fitted", "fitted", text, line.fitted, there)
    elif row.fitted > line.needed:
        text = f"{what}: {row.fitted} fitted, but the machine now wants {line.needed}; the description has changed."
        yield finding("fitted-over-need", "fitted", text, row.fitted, line.needed)


def _strays(project: Project, bill: BillAnswer, early: bool) -> Iterator[Finding]:
    known = {line.key for line in _wanted(bill)} | set(bill.uncounted)
    for number, row in enumerate(project.stock):
        if early and row.part.startswith(BAR_KEY):
            continue
        if row.part not in known and not row.empty:
            had = max(row.ordered, row.on_hand)
            text = (
                f"{had} pieces are recorded for {row.name}, which the machine no longer holds; the record is kept in case it "
                "comes back."
            )
            yield Finding("stock-stray", "note", f"stock.{number}", text, place=row.name)


def _prices(project: Project, bill: BillAnswer) -> Iterator[Finding]:
    seen: dict[tuple[str, str, str, str], int] = {}
    for number, row in enumerate(project.prices.rows):
        first = seen.setdefault(target(row), number)
        if first != number:
            text = f"Price {number + 1} is for the same as price {first + 1}, which goes before it."
            yield Finding("price-twice", "note", f"prices.rows.{number}", text)
    cost = bill.cost
    if cost.any_price and cost.unpriced:
        text = f"{len(cost.unpriced)} lines of the bill have no price and are in no sum: {_names(cost.unpriced)}."
        yield Finding("no-price", "note", "prices", text, float(len(cost.unpriced)), None, "count")


def _names(names: tuple[str, ...]) -> str:
    shown = ", ".join(dict.fromkeys(names[:MOST_NAMES]))
    return f"{shown} and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else shown


def _undated(bill: BillAnswer) -> Iterator[Finding]:
    undated = [one for one in bill.spendings if one.day is None]
    if undated:
        text = (
            f"{len(undated)} sums were spent on no day entered; they count, but stand in no plot over time."
        )
        yield Finding("spent-undated", "note", "purchases", text, float(len(undated)), None, "count")


def _money(bill: BillAnswer) -> Iterator[Finding]:
    if bill.budget is None or bill.expected <= bill.budget:
        return
    over = show_money(bill.expected - bill.budget, bill.currency)
    if bill.spent > bill.budget:
        spent, budget = (show_money(amount, bill.currency) for amount in (bill.spent, bill.budget))
        text = f"{spent} is spent, more than the budget of {budget}."
        yield Finding(
            "over-budget", "warning", "budget.amount", text, float(bill.spent), float(bill.budget), "money"
        )
    else:
        net = bill.cuts is None and any(
            line.to_order and line.part.section is not None for line in bill.lines
        )
        least = "at least " if net or bill.to_come.unpriced else ""
        bars = "; whole bars, which are not counted yet, may cost more" if net else ""
        text = f"Spent and still to come are {least}{over} over the budget{bars}."
        yield Finding(
            "over-budget", "warning", "budget.amount", text, float(bill.expected), float(bill.budget), "money"
        )
