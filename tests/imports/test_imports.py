"""Imports: what was exported reads back as it was, bad rows are told with their reason, nothing is overwritten unasked."""

from __future__ import annotations

import io
from typing import get_args

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.bill import find_bill
from core.commands import History, SetEntries
from core.imports import ImportPlan, plan_prices, plan_stock, read_sheet, report_lines, take
from core.imports.sheets import BadTable
from core.machine.ordering import StockRow
from core.machine.prices import Basis, PriceRow, Prices
from core.machine.project import Project, replace_at
from core.machine.saw import StockBar
from core.machine.stuff import Family
from core.plan import begin_plan, count_bars
from core.report.bill_tables import bill_table
from core.report.csv_text import csv_text
from core.report.price_tables import prices_table
from core.report.share import workbook_bytes
from core.sections import stock_book

PLAN = begin_plan(Project(), stock_book())
PARTS = PLAN.parts
KEYS = [part.key for part in PARTS if part.counted]


def prices_from(text: str, project: Project = PLAN.project) -> ImportPlan:
    return plan_prices(read_sheet(text.encode(), "list.csv"), project, PARTS)


def stock_from(text: str, project: Project = PLAN.project) -> ImportPlan:
    return plan_stock(read_sheet(text.encode(), "list.csv"), project, PARTS)


def statuses(plan: ImportPlan) -> list[str]:
    return [row.status for row in plan.rows]


def test_a_plain_price_list_is_read_by_the_names_of_its_columns() -> None:
    plan = prices_from(
        "Item;Unit price;Unit;Shop\n"
        "X carriage;31,50 €;each;Hill street\n"
        "Profiled rail size 20 (ISO 12090-1);42,00;per m;\n"
    )
    assert statuses(plan) == ["new", "new"]
    path, rows = take(plan, plan.plain())
    assert path == "prices.rows"
    assert [(row.part, row.price, row.per, row.name) for row in rows] == [
        ("X carriage", 31.5, "piece", "Hill street"),
        ("Profiled rail size 20 (ISO 12090-1)", 42.0, "metre", ""),
    ]


def test_the_name_of_the_column_may_say_what_the_price_is_for() -> None:
    plan = prices_from("Section,Material,Price per kg\n120 x 80 x 5,S235,2.10\n")
    assert [(row.value.section, row.value.per) for row in plan.rows] == [("120 x 80 x 5", "kilogram")]
    assert plan.rows[0].status == "new"


@pytest.mark.parametrize(
    ("line", "status"),
    [
        ("X carriage,many,piece,EUR", "bad"),
        ("X carriage,-3,piece,EUR", "bad"),
        ("X carriage,,piece,EUR", "bad"),
        ("X carriage,3,bucket,EUR", "bad"),
        ("X carriage,3,piece,USD", "bad"),
        ('X carriage,"1,200",piece,EUR', "bad"),
        (",3,piece,EUR", "bad"),
        ("Flux capacitor,3,piece,EUR", "unknown"),
        ("X carriage,3,piece,EUR", "new"),
    ],
)
def test_every_row_is_judged_by_itself(line: str, status: str) -> None:
    plan = prices_from(f"Part,Price,Per,Currency\nY carriage,1.5,piece,EUR\n{line}\n")
    assert statuses(plan) == ["new", status]
    assert plan.rows[1].number == 3
    if status == "bad":
        assert plan.rows[1].reason
        assert not plan.rows[1].takeable


def test_changes_and_unknown_rows_wait_for_a_word() -> None:
    project = replace_at(
        PLAN.project, "prices", Prices(rows=(PriceRow(part="X carriage", price=30.0, per="piece"),))
    )
    text = "Part,Price\nx  carriage,31\nY carriage,29\nSomething,4\nY carriage,28\n"
    plan = prices_from(text, project)  # type: ignore[arg-type]
    assert statuses(plan) == ["change", "new", "unknown", "duplicate"]
    assert plan.plain() == {3}
    _, rows = take(plan, plan.plain())
    assert [row.price for row in rows] == [30.0, 29.0]
    _, rows = take(plan, plan.plain() | plan.changes() | {4, 5})
    assert [row.price for row in rows] == [31.0, 29.0, 4.0], "the second of two equal rows is never taken"
    said = "\n".join(report_lines(plan, plan.plain()))
    for number in ("Row 2", "Row 4", "Row 5"):
        assert number in said


def test_one_undo_takes_an_import_back() -> None:
    plan = prices_from("Part,Price\nX carriage,31\nY carriage,29\n")
    history = History(PLAN.project)
    after = history.do(SetEntries((take(plan, plan.plain()),), "Import prices"))
    assert len(after.project.prices.rows) == 2
    assert after.undo().project == history.project


def test_stock_is_found_by_key_or_by_name_and_blank_cells_leave_things_be() -> None:
    project = replace_at(PLAN.project, "stock", (StockRow(part="x_carriage", ordered=4, note="Ann's shop"),))
    plan = stock_from(
        "Key,Part,Arrived,Paid for one,Paid on\n"
        "x_carriage,,4,30.5,14.3.2026\n"
        ",Gantry beam,1,,\n"
        ",Carriage size 20 (ISO 12090-1),2,,\n"
        "gone,,2,,\n"
        "leg,,two,,\n",
        project,  # type: ignore[arg-type]
    )
    assert statuses(plan) == ["new", "new", "unknown", "unknown", "bad"]
    assert not plan.rows[2].takeable
    _, rows = take(plan, plan.plain())
    by_part = {row.part: row for row in rows}
    assert by_part["x_carriage"] == StockRow(
        part="x_carriage", ordered=4, arrived=4, paid=30.5, date="2026-03-14", note="Ann's shop"
    )
    assert by_part["beam"].arrived == 1


def test_a_record_that_would_be_overwritten_is_a_change() -> None:
    project = replace_at(PLAN.project, "stock", (StockRow(part="x_carriage", ordered=4),))
    plan = stock_from("Key,Ordered\nx_carriage,6\n", project)  # type: ignore[arg-type]
    assert statuses(plan) == ["change"]
    assert "4" in plan.rows[0].before
    assert take(plan, plan.plain())[1] == project.stock  # type: ignore[attr-defined]


def test_a_part_that_stands_twice_is_taken_once() -> None:
    plan = stock_from("Key,Part,Ordered\nx_carriage,,4\n,X carriage,6\nAll,,\n")
    assert statuses(plan) == ["new", "duplicate", "unknown"]
    _, rows = take(plan, {row.number for row in plan.rows})
    assert rows == (StockRow(part="x_carriage", ordered=4),)


@pytest.mark.parametrize("note", ["=1+1", "-5", "@x", "\t=a", "'quoted'"])
def test_text_that_was_made_harmless_comes_back_as_it_was(note: str) -> None:
    reads_back(StockRow(part="x_carriage", note=note.strip()), workbook=False)
    reads_back(StockRow(part="x_carriage", note=note.strip()), workbook=True)


records = st.builds(
    StockRow,
    part=st.just("x_carriage"),
    on_hand=st.integers(0, 10**6),
    ordered=st.integers(0, 10**6),
    arrived=st.integers(0, 10**6),
    fitted=st.integers(0, 10**6),
    paid=st.none() | st.decimals(0, 10**6, places=3).map(float),
    date=st.just("") | st.dates().map(lambda day: day.isoformat()),
    note=st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=30).filter(
        lambda text: not text.startswith("'")
    ),
)


@given(records)
def test_stock_that_was_exported_as_csv_reads_back_the_same(record: StockRow) -> None:
    reads_back(record, workbook=False)


@settings(max_examples=10, deadline=None)
@given(records)
def test_stock_that_was_exported_as_workbook_reads_back_the_same(record: StockRow) -> None:
    reads_back(record, workbook=True)


def reads_back(record: StockRow, workbook: bool) -> None:
    project = replace_at(PLAN.project, "stock", () if record.empty else (record,))
    bill = find_bill(project, PLAN.layout, PLAN.rails, PARTS)  # type: ignore[arg-type]
    if workbook:
        data = workbook_bytes(project, bill)  # type: ignore[arg-type]
    else:
        data = csv_text(bill_table(bill, PLAN.project.units)).encode()
    plan = plan_stock(read_sheet(data, "bill"), PLAN.project, PARTS)
    assert set(statuses(plan)) <= {"new", "same"}
    _, rows = take(plan, plan.plain())
    assert rows == (() if record.empty else (record,))


words = st.text(st.characters(codec="utf-8", categories=("L", "Nd")), min_size=1, max_size=12)
price_rows = st.builds(
    PriceRow,
    part=words,
    family=st.sampled_from(get_args(Family)),
    material=st.just("") | words,
    price=st.decimals(0, 10**6, places=4).map(float),
    per=st.sampled_from(get_args(Basis)),
    name=st.just("") | words,
)


@given(st.lists(price_rows, max_size=6, unique_by=lambda row: row.part.casefold()), st.booleans())
def test_prices_that_were_exported_read_back_the_same(rows: list[PriceRow], twice: bool) -> None:
    project = replace_at(PLAN.project, "prices", Prices(rows=tuple(rows)))
    text = csv_text(prices_table(project))  # type: ignore[arg-type]
    if not rows:
        with pytest.raises(BadTable):
            prices_from(text)
        return
    again = prices_from(text, project if twice else PLAN.project)  # type: ignore[arg-type]
    if twice:
        assert set(statuses(again)) == {"same"}
    _, taken = take(again, {row.number for row in again.rows})
    assert taken == tuple(rows)


@pytest.mark.parametrize(
    "data",
    [b"", b"Part,Price\n", b"A,B\n1,2\n", b"\x00\x01\x02\x03" * 20, b"PK\x03\x04 no zip", b"x" * 5_000_001],
)
def test_what_is_no_table_is_refused_in_words(data: bytes) -> None:
    with pytest.raises(BadTable) as caught:
        plan_prices(read_sheet(data, "list.csv"), PLAN.project, PARTS)
    assert str(caught.value).endswith(".")


def test_a_workbook_with_other_sheets_and_figures_is_read() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Part", "Price"])
    sheet.append(["X carriage", 31.5])
    sheet.append([None, None])
    sheet.append(["Y carriage", "=1+1"])
    stream = io.BytesIO()
    book.save(stream)
    plan = plan_prices(read_sheet(stream.getvalue(), "list.xlsx"), PLAN.project, PARTS)
    assert statuses(plan) == ["new", "bad"], "a formula without its last result has no price"
    assert plan.rows[1].number == 4


@given(st.binary(max_size=300))
def test_no_file_makes_it_stumble(data: bytes) -> None:
    for plan in (plan_prices, plan_stock):
        try:
            made = plan(read_sheet(b"Part,Price,Ordered\n" + data, "list.csv"), PLAN.project, PARTS)
        except BadTable:
            continue
        take(made, {row.number for row in made.rows})
        report_lines(made, made.plain())


def workbook() -> bytes:
    book = openpyxl.Workbook()
    assert book.active is not None
    book.active.append(["Part", "Price", "Ordered"])
    book.active.append(["X carriage", 31.5, 4])
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.binary(min_size=1, max_size=40))
def test_a_damaged_workbook_is_refused_or_read(at: int, other: bytes) -> None:
    whole = workbook()
    at %= len(whole)
    data = whole[:at] + other + whole[at + len(other) :]
    try:
        plan_stock(read_sheet(data, "list.xlsx"), PLAN.project, PARTS)
    except BadTable:
        return


@pytest.mark.parametrize(
    "text",
    [
        "Part,Price\nX carriage,$31.50\n",
        "Part,Price\nX carriage,31.50 USD\n",
        "Part,Price\nX carriage,CHF 31.50\n",
        "Part,Price (USD)\nX carriage,31.50\n",
        "Part,Price of one ($)\nX carriage,31.50\n",
        "Part,Price per piece (GBP)\nX carriage,31.50\n",
        "Part,Price,Currency\nX carriage,31.50,USD\n",
    ],
)
def test_another_currency_is_refused_wherever_it_is_told(text: str) -> None:
    plan = prices_from(text)
    assert statuses(plan) == ["bad"]
    assert "EUR" in plan.rows[0].reason


@pytest.mark.parametrize(
    ("money", "text"),
    [
        ("EUR", "Part;Price (€)\nX carriage;31,50 €\n"),
        ("EUR", "Part,Price of one (EUR),Currency\nX carriage,EUR 31.50,€\n"),
        ("USD", "Part,Price,Currency\nX carriage,$31.50,$\n"),
        ("CHF", "Part,Price\nX carriage,CHF 31.50\n"),
        ("SEK", "Part;Price\nX carriage;31,50 kr\n"),
        ("£", "Part,Price (GBP)\nX carriage,£31.50\n"),
    ],
)
def test_the_projects_own_money_may_be_written_by_sign_or_by_code(money: str, text: str) -> None:
    plan = prices_from(text, replace_at(PLAN.project, "prices.currency", money))
    assert [row.value.price for row in plan.rows] == [31.5]


def test_prices_paid_in_another_currency_are_refused() -> None:
    plan = stock_from("Part,Ordered,Paid for one (USD)\nX carriage,4,31.5\nY carriage,4,\n")
    assert statuses(plan) == ["bad", "new"]


def test_a_saved_list_read_again_counts_no_bar_on_hand_twice() -> None:
    bar = StockBar(length=6.0, on_hand=2, section="80 x 80 x 4", material="S235")
    plan = count_bars(begin_plan(Project(stock_bars=(bar,)), stock_book()))
    assert plan is not None
    assert plan.bill is not None
    lines = plan.bill.lines
    there = [line for line in lines if line.beside]
    assert there
    sheet = read_sheet(csv_text(bill_table(plan.bill, plan.project.units)).encode(), "list.csv")
    again = plan_stock(
        sheet, plan.project, [line.part for line in lines], {line.key: line.beside for line in lines}
    )
    assert set(statuses(again)) == {"same"}
    fewer = plan_stock(
        read_sheet(f"Key,On hand\n{there[0].key},{there[0].beside - 1}\n".encode(), "list.csv"),
        plan.project,
        [line.part for line in lines],
        {line.key: line.beside for line in lines},
    )
    assert statuses(fewer) == ["bad"]


def test_a_row_that_cannot_be_read_is_no_reason_to_refuse_the_next_of_its_part() -> None:
    plan = stock_from("Part,On hand\nX carriage,-1\nX carriage,4\nX carriage,5\n")
    assert statuses(plan) == ["bad", "new", "duplicate"]
