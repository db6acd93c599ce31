"""The shared list as a spreadsheet whose sums are formulas: change a count, a price or a stock figure and all follows.

openpyxl is loaded only here and in `core.imports`, when it is asked for. Text is stored as text, so that none is a formula.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from datetime import date as Date
from typing import TYPE_CHECKING, Any

from core.bill import BillAnswer, BillLine
from core.machine.project import Project
from core.report.csv_text import FORMULA_STARTS
from core.report.links import good_link
from core.units import UnitSet, from_si, unit_label

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

MONEY = "#,##0.00"
PRICE = "#,##0.00###"
FIRST = 2
"""Row under the frozen header."""


class Formula(str):
    """A formula of this file's own, without its equals sign; no text of the user's is ever one."""


COLUMNS = (
    ("Group", 11),
    ("Part", 24),
    ("Specification", 34),
    ("Length of one", 10),
    ("Needed", 8),
    ("Spare", 7),
    ("Cut from bars", 9),
    ("In a pack", 8),
    ("On hand", 8),
    ("Ordered", 8),
    ("Arrived", 8),
    ("Fitted", 8),
    ("To order", 8),
    ("Price of one", 11),
    ("Paid for one", 11),
    ("Cost new", 12),
    ("Spent", 12),
    ("To come", 12),
    ("Paid on", 11),
    ("Goes to", 22),
    ("Source and note", 30),
    ("Link", 30),
    ("Key", 24),
)
HEADERS = tuple(name for name, _ in COLUMNS)
AT = {name: chr(ord("A") + number) for number, name in enumerate(HEADERS)}
"""The letter of each column."""
SUMS = tuple(AT[name] for name in ("Cost new", "Spent", "To come"))
PRICES = tuple(AT[name] for name in ("Price of one", "Paid for one"))


def workbook_bytes(project: Project, bill: BillAnswer) -> bytes:
    """The file's content: sheets Parts, Money, Work and Purchases."""
    from openpyxl import Workbook

    book = Workbook()
    parts = book.active
    parts.title = "Parts"
    last = _parts(parts, project.units, bill)
    work = book.create_sheet("Work")
    last_work = _work(work, bill)
    bought = book.create_sheet("Purchases")
    last_bought = _purchases(bought, project)
    _money(book.create_sheet("Money", 1), project, bill, last, last_work, last_bought)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _parts(sheet: Worksheet, units: UnitSet, bill: BillAnswer) -> int:
    """Rows of the bill; gives the number of the last one."""
    length = unit_label("length", units)
    heads = [f"{name}, {length}" if name == "Length of one" else name for name in HEADERS]
    money = {"Price of one", "Paid for one", "Cost new", "Spent", "To come"}
    _head(
        sheet,
        [f"{name}, {bill.currency}" if name in money else name for name in heads],
        [w for _, w in COLUMNS],
    )
    row = FIRST - 1
    for row, line in enumerate(bill.lines, start=FIRST):
        _fill(sheet, row, _cells(line, row, units))
        for column in PRICES:
            sheet[f"{column}{row}"].number_format = PRICE
        for column in SUMS:
            sheet[f"{column}{row}"].number_format = MONEY
        if good_link(line.record.link):
            sheet[f"{AT['Link']}{row}"].hyperlink = line.record.link.strip()
    total = row + 1
    sums = [Formula(f"SUM({column}{FIRST}:{column}{max(row, FIRST)})") for column in SUMS]
    before = HEADERS.index("Cost new") - 1
    _fill(sheet, total, ["All", *[None] * before, *sums], bold=True)
    for column in SUMS:
        sheet[f"{column}{total}"].number_format = MONEY
    sheet.freeze_panes = f"C{FIRST}"
    sheet.auto_filter.ref = f"A1:{AT[HEADERS[-1]]}{max(row, FIRST)}"
    return row


def _cells(line: BillLine, row: int, units: UnitSet) -> list[Any]:
    part, record = line.part, line.record
    length = None if part.length is None else round(float(from_si(part.length, "length", units)), 4)
    at = {name: f"{letter}{row}" for name, letter in AT.items()}
    pack, ordered, price, paid = (
        at[name] for name in ("In a pack", "Ordered", "Price of one", "Paid for one")
    )
    alone = f"MAX(0,{at['Needed']}+{at['Spare']}-N({at['Cut from bars']}))"
    there = f"N({at['Cut from bars']})+{at['On hand']}+MAX({ordered},{at['Arrived']})"
    still = f"MAX(0,{at['Needed']}+{at['Spare']}-MAX({there},{at['Fitted']}))"

    def packed(count: str) -> str:
        return f"IF(N({pack})>1,ROUNDUP(({count})/{pack},0)*{pack},{count})"

    def priced(count: str) -> str:
        return f'IF({price}="","",ROUND({price}*({count}),2))'

    spent = (
        f'IF({ordered}=0,0,IF({paid}<>"",ROUND({ordered}*{paid},2),{priced(f"{ordered}*(1+Money!$B$2)")}))'
    )
    return [
        part.group,
        part.what,
        part.spec,
        length,
        line.needed,
        line.spare,
        line.cut or None,
        line.pack_size if line.pack_size > 1 else None,
        line.on_hand,
        record.ordered,
        record.arrived,
        line.fitted,
        Formula(packed(still)),
        None if line.price is None else float(line.price.each),
        record.paid,
        Formula(f"IF({alone}=0,0,{priced(packed(alone))})"),
        Formula(spent),
        Formula(f"IF({at['To order']}=0,0,{priced(at['To order'])})"),
        _day(record.date),
        part.where or None,
        record.note or None,
        record.link or None,
        part.key,
    ]


def _work(sheet: Worksheet, bill: BillAnswer) -> int:
    _head(
        sheet,
        ["Work", "Hours", f"Rate, {bill.currency}", f"Cost, {bill.currency}", "From"],
        [28, 9, 12, 12, 44],
    )
    row = FIRST - 1
    for row, line in enumerate(bill.work, start=FIRST):
        cost = Formula(f'IF(C{row}="","",ROUND(B{row}*C{row},2))')
        rate = None if line.rate is None else float(line.rate)
        _fill(sheet, row, [line.what, round(line.hours, 6), rate, cost, line.rule])
        sheet[f"B{row}"].number_format = "0.00"
        for column in "CD":
            sheet[f"{column}{row}"].number_format = MONEY
    sheet.freeze_panes = f"A{FIRST}"
    return row


def _purchases(sheet: Worksheet, project: Project) -> int:
    currency = project.prices.currency
    _head(sheet, ["Day", "What", "Kind", f"Amount, {currency}", "Note"], [11, 34, 14, 12, 44])
    row = FIRST - 1
    ordered = sorted(project.purchases, key=lambda purchase: purchase.date or "9999")
    for row, one in enumerate(ordered, start=FIRST):
        _fill(sheet, row, [_day(one.date), one.what, one.kind, one.amount, one.note or None])
        sheet[f"D{row}"].number_format = MONEY
    sheet.freeze_panes = f"A{FIRST}"
    return row


def _money(
    sheet: Worksheet, project: Project, bill: BillAnswer, last: int, last_work: int, last_bought: int
) -> None:
    """The sums; each a formula over the other sheets."""

    def span(name: str, column: str, end: int) -> str:
        return f"{name}!{column}{FIRST}:{column}{max(end, FIRST)}"

    def paid(kind: str) -> str:
        return f'SUMIF({span("Purchases", "C", last_bought)},"{kind}",{span("Purchases", "D", last_bought)})'

    budget = project.budget
    rows: list[tuple[str, Any, str]] = [
        ("Tax on top of prices", project.prices.tax, "0.0%"),
        ("Spent on parts", Formula(f"SUM({span('Parts', AT['Spent'], last)})"), MONEY),
        ("Spent on other purchases", Formula(f"SUM({span('Purchases', 'D', last_bought)})"), MONEY),
        ("Spent", Formula("B3+B4"), MONEY),
        ("Parts still to order", Formula(f"SUM({span('Parts', AT['To come'], last)})"), MONEY),
        ("Tax on them", Formula("ROUND(B6*B2,2)"), MONEY),
        ("Work still to pay", Formula(f"MAX(0,SUM({span('Work', 'D', last_work)})-{paid('work')})"), MONEY),
        ("Shipping expected", budget.shipping, MONEY),
        ("Shipping still to come", Formula(f"MAX(0,N(B9)-{paid('shipping')})"), MONEY),
        ("Expected altogether", Formula("B5+B6+B7+B8+B10"), MONEY),
        ("Budget", budget.amount, MONEY),
        ("Left of it", Formula('IF(B12="","",B12-B11)'), MONEY),
        ("Lines without price", Formula(f'COUNTIF({span("Parts", AT["Cost new"], last)},"")'), "0"),
    ]
    _head(sheet, ["What", f"Amount, {bill.currency}"], [30, 16])
    for row, (what, value, form) in enumerate(rows, start=FIRST):
        _fill(sheet, row, [what, value])
        sheet[f"B{row}"].number_format = form
    sheet.freeze_panes = f"A{FIRST}"


def _head(sheet: Worksheet, heads: Sequence[str], widths: Iterable[float]) -> None:
    from openpyxl.styles import Alignment, PatternFill
    from openpyxl.utils import get_column_letter

    _fill(sheet, 1, heads, bold=True)
    for number, width in enumerate(widths, start=1):
        sheet.column_dimensions[get_column_letter(number)].width = width
        cell = sheet.cell(1, number)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        cell.fill = PatternFill("solid", start_color="FFE6E9EE")


def _fill(sheet: Worksheet, row: int, cells: Sequence[Any], bold: bool = False) -> None:
    """Write cells; only a `Formula` becomes one."""
    for number, value in enumerate(cells, start=1):
        cell = sheet.cell(row, number)
        if isinstance(value, Formula):
            cell.value = f"={value}"
        elif isinstance(value, str):
            _write_text(cell, value)
        else:
            cell.value = value
        if isinstance(value, Date):
            cell.number_format = "yyyy-mm-dd"
        if bold:
            cell.font = _bold()


def _write_text(cell: Any, text: str) -> None:
    """Text as text, however it begins, without characters that the format cannot hold."""
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    cell.value = ILLEGAL_CHARACTERS_RE.sub("", text)
    if text.lstrip().startswith(FORMULA_STARTS):
        cell.data_type = "s"
        cell.quotePrefix = True


def _day(text: str) -> Date | None:
    return Date.fromisoformat(text) if text else None


def _bold() -> Any:
    from openpyxl.styles import Font

    return Font(bold=True)
