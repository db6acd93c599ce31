"""The shared list: totals, formulas that give the bill's own figures, and text that nobody can make run."""

from __future__ import annotations

import csv
import html.parser
import io
import re
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.machine.ordering import Budget, OwnPart, Purchase, StockRow
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project
from core.machine.saw import OwnPiece, StockBar
from core.plan import begin_plan, count_bars
from core.report.bill_json import bill_json
from core.report.bill_tables import bill_table, groups_table, money_table, spendings_table, work_table
from core.report.csv_text import csv_text
from core.report.links import good_link, may_be_opened
from core.report.share import html_text, markdown_text, share_content, workbook_bytes
from core.report.share.workbook import AT, HEADERS
from core.sections import stock_book
from tests.report.spreadsheet import Sheets

NASTY = '=HYPERLINK("http://x")|<script>alert(1)</script>'
PROJECT = Project(
    name="Share me",
    prices=Prices(
        rows=(
            PriceRow(family="rectangular hollow", price=2.95, per="kilogram"),
            PriceRow(part="Socket head cap screw ISO 4762 M5 x 16, 8.8", price=6.45, per="pack"),
            PriceRow(part="X carriage", price=31.5, per="piece"),
        ),
        tax=0.19,
        fitting_rate=24.0,
    ),
    own_parts=(OwnPart(key="own_1", name=NASTY, spec="+1", quantity=3),),
    stock=(
        StockRow(
            part="x_carriage",
            on_hand=1,
            ordered=2,
            arrived=1,
            paid=33.33,
            date="2026-02-03",
            link="https://x.test/a",
        ),
        StockRow(part="own_1", price=0.335, ordered=1, note=NASTY, link="javascript:alert(1)"),
        StockRow(part="fastener_socket_head_cap_screw_iso_4762_m5_x_16_8p8", on_hand=60, spare=7),
    ),
    purchases=(
        Purchase(date="2026-02-04", what=NASTY, kind="shipping", amount=12.3),
        Purchase(what="Refund", amount=-4.0),
    ),
    budget=Budget(amount=4000.0, shipping=50.0),
)


BARRED = msgspec.structs.replace(
    PROJECT,
    own_pieces=(OwnPiece(name="Shelf", section="30 x 30 x 2", length=0.4, quantity=3),),
    stock_bars=(StockBar(length=6.0, price=80.0),),
)


@pytest.fixture(scope="module")
def bill() -> Any:
    return begin_plan(PROJECT, stock_book()).bill


@pytest.fixture(scope="module")
def counted() -> Any:
    plan = count_bars(begin_plan(BARRED, stock_book()))
    assert plan is not None
    return plan.bill


def test_the_formulas_of_the_workbook_give_the_bill(bill: Any) -> None:
    sheets = Sheets(workbook_bytes(PROJECT, bill))
    column = dict(zip(HEADERS, "ABCDEFGHIJKLMNOPQRSTUVW", strict=True))
    for row, line in enumerate(bill.lines, start=2):
        assert sheets.value("Parts", f"{column['To order']}{row}") == line.to_order
        for name, amount in (("Cost new", line.planned), ("Spent", line.spent), ("To come", line.to_come)):
            shown = sheets.value("Parts", f"{column[name]}{row}")
            assert shown == ("" if amount is None else pytest.approx(float(amount), abs=1e-9)), (
                line.key,
                name,
            )
    money = {sheets.value("Money", f"A{row}"): sheets.value("Money", f"B{row}") for row in range(2, 15)}
    assert money["Spent"] == pytest.approx(float(bill.spent))
    assert money["Parts still to order"] == pytest.approx(float(bill.to_come.goods))
    assert money["Tax on them"] == pytest.approx(float(bill.to_come.tax))
    assert money["Work still to pay"] == pytest.approx(float(bill.to_come.work))
    assert money["Shipping still to come"] == pytest.approx(float(bill.to_come.shipping)) == 37.7
    assert money["Left of it"] == pytest.approx(float(bill.left))
    assert money["Lines without price"] == len(bill.cost.unpriced)


def test_the_workbook_keeps_its_header_in_view_and_text_as_text(bill: Any) -> None:
    sheets = Sheets(workbook_bytes(PROJECT, bill))
    for sheet in sheets.book.worksheets:
        assert sheet.freeze_panes is not None
    ours = [cell for sheet in sheets.book.worksheets for row in sheet.iter_rows() for cell in row]
    for cell in ours:
        assert not (cell.data_type == "f" and "HYPERLINK" in str(cell.value))
        assert cell.hyperlink is None or cell.hyperlink.target.startswith("https://")
    assert any(cell.value == NASTY and cell.data_type == "s" for cell in ours)


class Reader(html.parser.HTMLParser):
    """Tags, links and cells of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.cells: list[str] = []
        self.inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.links += [value or "" for name, value in attrs if name == "href"]
        if tag == "td":
            self.cells.append("")
            self.inside = True

    def handle_endtag(self, tag: str) -> None:
        self.inside = self.inside and tag != "td"

    def handle_data(self, data: str) -> None:
        if self.inside:
            self.cells[-1] += data


def test_the_page_has_one_script_of_its_own_and_no_other_links(bill: Any) -> None:
    page = Reader()
    page.feed(html_text(share_content(PROJECT, bill)))
    assert page.tags.count("script") == 1
    assert page.links == ["https://x.test/a"]
    assert {"thead", "tfoot"} <= set(page.tags)
    assert f"'{NASTY}" in page.cells, "as text, and harmless when pasted into a spreadsheet"
    bare = Reader()
    bare.feed(html_text(share_content(PROJECT, bill), script=False))
    assert not {"script", "button"} & set(bare.tags)


def test_markdown_rows_have_as_many_cells_as_their_header(bill: Any) -> None:
    text = markdown_text(share_content(PROJECT, bill))
    assert "<script" not in text.replace("\\<", "")
    wide: list[int] = []
    for line in text.splitlines():
        if line.startswith("|"):
            wide.append(line.replace("\\|", "").count("|"))
        else:
            assert len(set(wide)) <= 1
            wide = []


def test_totals_are_the_sums_of_what_is_priced(bill: Any) -> None:
    part = share_content(PROJECT, bill).parts[0]
    assert part.totals is not None
    for k, column in enumerate(part.table.columns):
        if column.header in ("Cost new", "Spent", "To come"):
            summed = sum(row[k] for row in part.table.rows if isinstance(row[k], float))
            assert part.totals[k] == pytest.approx(summed)


def test_every_table_fits_its_columns_and_says_no_price(bill: Any) -> None:
    for table in (
        bill_table(bill, PROJECT.units), groups_table(bill), work_table(bill), spendings_table(bill), money_table(bill),
    ):  # fmt: skip
        assert table.rows
        assert all(len(row) == len(table.columns) for row in table.rows)
        assert len(list(csv.reader(io.StringIO(csv_text(table), newline="")))) == 1 + len(table.rows)
    text = csv_text(bill_table(bill, PROJECT.units))
    assert "no price" in text
    assert "0.335" in text
    said = bill_json(bill)
    assert said is not None
    assert any(line["cost_new"] is None for line in said["lines"])
    assert said["spent"] == str(bill.spent)


def test_without_any_price_no_zero_is_shown() -> None:
    bill = begin_plan(Project(), stock_book()).bill
    assert bill is not None
    text = markdown_text(share_content(Project(), bill))
    assert "no price" in text
    rows = {row[0]: row for row in groups_table(bill).rows}
    assert rows["All"][2] == "no price"


@pytest.mark.parametrize(
    ("text", "opens"),
    [
        ("https://a.test/b", True),
        ("mailto:shop@a.test", True),
        ("mailto:nobody", False),
        ("file:///etc/passwd", False),
        ("javascript:alert(1)", False),
        ("https://a.test/b c", False),
        ("https://a.test\\@b.test", False),
        ("https://a.test/\u202egnp.exe", False),
        ("\\\\server\\share", False),
        ("C:/x.bat", False),
    ],
)
def test_the_window_opens_web_and_mail_addresses_alone(text: str, opens: bool) -> None:
    assert may_be_opened(text) == opens


def test_totals_reach_over_every_row_and_no_further(counted: Any) -> None:
    sheets = Sheets(workbook_bytes(BARRED, counted))
    parts = sheets.book["Parts"]
    last = len(counted.lines) + 1
    assert parts[f"A{last + 1}"].value == "All"
    sums = [cell.value for cell in parts[last + 1] if cell.data_type == "f"]
    letters = [AT[name] for name in ("Cost new", "Spent", "To come")]
    assert sums == [f"=SUM({letter}2:{letter}{last})" for letter in letters]
    spans = " ".join(str(cell.value) for row in sheets.book["Money"].iter_rows() for cell in row)
    for name, rows in (
        ("Parts", last),
        ("Work", len(counted.work) + 1),
        ("Purchases", 1 + len(BARRED.purchases)),
    ):
        for start, first, end, final in re.findall(rf"{name}!([A-Z])(\d+):([A-Z])(\d+)", spans):
            assert (start, first, final) == (end, "2", str(rows)), name


def test_the_formulas_count_bars_once(counted: Any) -> None:
    sheets = Sheets(workbook_bytes(BARRED, counted))
    cut = [line for line in counted.lines if line.cut]
    assert cut
    assert any(line.part.group == "Bars" for line in counted.lines)
    for row, line in enumerate(counted.lines, start=2):
        assert sheets.value("Parts", f"{AT['To order']}{row}") == line.to_order
        shown = sheets.value("Parts", f"{AT['Cost new']}{row}")
        assert shown == ("" if line.planned is None else pytest.approx(float(line.planned)))
    text = csv_text(bill_table(counted, BARRED.units))
    assert "Cut from bars" in text
    said = bill_json(counted)
    assert said is not None
    assert said["bars_counted"]
    assert sum(line["cut_from_bars"] for line in said["lines"]) == counted.cuts.pieces


def test_a_cell_without_price_sorts_last_and_a_link_by_its_text(bill: Any) -> None:
    page = html_text(share_content(PROJECT, bill))
    assert 'data-v="">no price<' in page
    assert 'data-v="no price"' not in page
    assert 'data-v="https://x.test/a"><a href' in page


@given(st.text(max_size=40))
def test_only_web_addresses_are_links(text: str) -> None:
    assert not good_link(text) or text.strip().lower().startswith(("http://", "https://"))
    assert good_link("https://a.test/b?c=d")
    for bad in (
        "data:text/html,x",
        "javascript://a.test/%0aalert(1)",
        "ftp://a.test/b",
        "https://",
        "//a.test",
    ):
        assert not good_link(bad)


def test_the_formulas_order_nothing_again_whatever_the_records_say() -> None:
    records = (
        StockRow(part="x_carriage", arrived=4),
        StockRow(part="y_carriage", fitted=3),
        StockRow(part="side_beam", fitted=2),
        StockRow(part="gone_plate", ordered=2, arrived=2, paid=12.5, spare=3),
    )
    project = msgspec.structs.replace(BARRED, stock=records)
    plan = count_bars(begin_plan(project, stock_book()))
    assert plan is not None
    assert plan.bill is not None
    sheets = Sheets(workbook_bytes(project, plan.bill))
    column = dict(zip(HEADERS, "ABCDEFGHIJKLMNOPQRSTUVW", strict=True))
    for row, line in enumerate(plan.bill.lines, start=2):
        assert sheets.value("Parts", f"{column['To order']}{row}") == line.to_order, line.key
        assert sheets.value("Parts", f"{column['Spent']}{row}") == pytest.approx(float(line.spent or 0)), (
            line.key
        )
    assert [plan.bill.line(key).to_order for key in ("x_carriage", "y_carriage", "gone_plate")] == [0, 1, 0]
