"""The bill and the money in the window: recording is undoable, imports show first what they would do, tables fit."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QDesktopServices
from pytestqt.qtbot import QtBot

from app import export
from app.answers import Answer, Wish, with_plan, work_out
from app.look.theme import Theme
from app.pages.money_page import MoneyPage
from app.pages.parts_page import PartsPage
from app.widgets.dates import day_at
from app.widgets.plot_engine import PlotEngine
from core.commands import AddRow, History, SetEntries, SetEntry
from core.commands.stock import SetStock, new_own_part
from core.machine.ordering import Budget, Purchase, StockRow
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project, replace_at
from core.plan import count_bars
from core.report import csv_text
from core.report.bill_tables import spendings_table
from core.sections import stock_book

PROJECT = Project(
    prices=Prices(rows=(PriceRow(part="X carriage", price=31.5, per="piece"),)),
    stock=(StockRow(part="x_carriage", ordered=4, arrived=2, date="2026-02-03"),),
    purchases=(Purchase(date="2026-02-05", what="Carrier", kind="shipping", amount=20.0),),
    budget=Budget(amount=500.0),
)


def answer_for(project: Project) -> Answer:
    return work_out(project, stock_book(), Wish())


@pytest.fixture
def page(qtbot: QtBot) -> PartsPage:
    made = PartsPage(Theme("light"))
    qtbot.addWidget(made)
    made.resize(1250, 640)
    made.show()
    made.show_project(PROJECT, PROJECT.units)
    made.show_answer(answer_for(PROJECT))
    return made


def type_into(qtbot: QtBot, entry: object, text: str) -> None:
    line = entry.focusProxy()  # type: ignore[attr-defined]
    line.selectAll()
    qtbot.keyClicks(line, text)


def test_the_picked_line_shows_its_record_and_tells_of_edits(page: PartsPage, qtbot: QtBot) -> None:
    page.pick("x_carriage")
    entries = page.form.stock.entries
    assert entries["ordered"].value() == 4
    assert entries["price"].value() is None
    told: list[tuple[str, str, object]] = []
    page.recorded.connect(lambda key, field, value, _words: told.append((key, field, value)))
    type_into(qtbot, entries["arrived"], "3")
    assert told[-1] == ("x_carriage", "arrived", 3)
    history = History(PROJECT).do(SetStock(*told[-1]))
    assert history.project.stock[0].arrived == 3
    assert history.undo().project == PROJECT


def test_an_empty_price_is_none_and_never_zero(page: PartsPage, qtbot: QtBot) -> None:
    page.pick("x_carriage")
    told: list[object] = []
    page.recorded.connect(lambda _key, _field, value, _words: told.append(value))
    entry = page.form.stock.entries["price"]
    type_into(qtbot, entry, "0.043")
    assert told[-1] == 0.043
    entry.focusProxy().selectAll()
    qtbot.keyClick(entry.focusProxy(), Qt.Key.Key_Delete)
    assert told[-1] is None


def test_a_day_half_typed_is_marked_and_tells_nothing(page: PartsPage, qtbot: QtBot) -> None:
    page.pick("x_carriage")
    told: list[object] = []
    page.recorded.connect(lambda _key, _field, value, _words: told.append(value))
    entry = page.form.stock.entries["date"]
    type_into(qtbot, entry, "2026-03-1")
    assert entry.problem()
    assert told == []
    qtbot.keyClicks(entry.focusProxy(), "4")
    assert entry.problem() is None
    assert told == ["2026-03-14"]


def test_the_pick_outlives_a_new_answer_and_another_view(page: PartsPage) -> None:
    page.pick("x_carriage")
    changed = SetStock("x_carriage", "ordered", 6).apply(PROJECT)
    page.show_answer(answer_for(changed))
    assert page.form.key() == "x_carriage"
    assert page.form.stock.entries["ordered"].value() == 6
    page.view.setCurrentIndex(page.view.findData("awaited"))
    table = page.table.table()
    assert table is not None
    assert [row[-1] for row in table.rows] == ["x_carriage"]
    assert page.form.key() == "x_carriage"


def test_a_finding_stands_beside_the_count_that_it_is_about(page: PartsPage) -> None:
    page.pick("x_carriage")
    page.show_answer(answer_for(SetStock("x_carriage", "arrived", 5).apply(PROJECT)))
    assert page.form.stock.entries["arrived"].problem()
    page.pick("beam")
    assert page.form.stock.entries["arrived"].problem() is None


def test_a_part_of_ones_own_is_described_where_it_is_picked(page: PartsPage, qtbot: QtBot) -> None:
    part = new_own_part(PROJECT)
    changed = AddRow("own_parts", part).apply(PROJECT)
    page.pick(part.key)
    page.show_project(changed, changed.units)
    page.show_answer(answer_for(changed))
    assert page.form.key() == part.key
    assert page.form.own.isVisibleTo(page)
    told: list[tuple[str, object]] = []
    page.edited.connect(lambda path, value: told.append((path, value)))
    type_into(qtbot, page.form.own.entries["quantity"], "7")
    assert told[-1] == ("own_parts.0.quantity", 7)
    assert SetEntry(*told[-1]).apply(changed).own_parts[0].quantity == 7


def test_an_import_is_shown_first_and_taken_as_one_step(page: PartsPage, tmp_path: Path) -> None:
    file = tmp_path / "prices.csv"
    file.write_text("Part,Price\nX carriage,33\nY carriage,30\nZ carriage,x\n", "utf-8")
    taken: list[tuple[str, object, str]] = []
    page.import_taken.connect(lambda *what: taken.append(what))
    page.read_file(file, "prices")
    panel = page.preview
    assert page.stack.currentWidget() is panel
    assert panel.ticked() == {3}
    panel.changes.click()
    assert panel.ticked() == {2, 3}
    panel.go.click()
    (path, value, words) = taken[0]
    history = History(PROJECT).do(SetEntries(((path, value),), words))
    assert [row.price for row in history.project.prices.rows] == [33.0, 30.0]
    assert history.undo().project == PROJECT
    assert page.stack.currentIndex() == 0
    troubles: list[str] = []
    page.troubled.connect(troubles.append)
    page.read_file(tmp_path / "none.csv", "stock")
    page.read_file(file, "stock")
    assert len(troubles) == 2


def test_a_table_in_view_is_read_again_when_the_project_changes(page: PartsPage, tmp_path: Path) -> None:
    file = tmp_path / "prices.csv"
    file.write_text("Part,Price\nX carriage,33\nY carriage,30\n", "utf-8")
    taken: list[object] = []
    page.import_taken.connect(lambda *what: taken.append(what))
    page.read_file(file, "prices")
    undone = replace_at(PROJECT, "prices.rows", ())  # as an undo in the menu would leave it
    page.show_project(undone, undone.units)
    page.preview.go.click()
    assert not taken
    newer = answer_for(undone)
    page.show_answer(with_plan(newer, count_bars(newer.plan)))
    assert page.preview.ticked() == {2, 3}  # both are new now
    page.preview.go.click()
    assert [row.price for row in taken[0][1]] == [33.0, 30.0]  # type: ignore[index]


def test_nothing_scrolls_sideways_on_a_small_screen(page: PartsPage, qtbot: QtBot) -> None:
    page.pick("x_carriage")
    qtbot.wait(20)
    assert page.minimumSizeHint().width() <= 1250
    assert not page.table.horizontalScrollBar().isVisible()


@pytest.mark.parametrize("kind", list(export.SHARED))
def test_the_list_is_made_in_every_format(kind: str, qtbot: QtBot) -> None:
    data = export.shared_bytes(kind, answer_for(PROJECT))
    assert len(data) > 500
    assert data.startswith({"pdf": b"%PDF", "xlsx": b"PK", "html": b"<!DOCTYPE"}.get(kind, data[:1]))


def test_money_shows_steps_sums_and_rows(qtbot: QtBot) -> None:
    theme = Theme("light")
    engine = PlotEngine()
    page = MoneyPage(theme, engine)
    qtbot.addWidget(page)
    page.resize(1250, 640)
    page.show_project(PROJECT, PROJECT.units)
    page.show()
    page.show_answer(answer_for(PROJECT))
    plot = page.plot.surface.plot()
    assert plot.curves[0].y[-1] == pytest.approx(4 * 31.5 + 20.0)
    assert {level.label for level in plot.limits} == {"expected altogether", "budget"}
    assert plot.dates
    assert [day_at(plot.curves[0].x[k]) for k in (0, 2)] == ["2026-02-03", "2026-02-05"]
    bill = answer_for(PROJECT).plan.bill
    assert bill is not None
    days = [row["Day"] for row in csv.DictReader(io.StringIO(csv_text(spendings_table(bill))))]
    assert days == ["2026-02-03", "2026-02-05"]
    told: list[tuple[str, object]] = []
    page.edited.connect(lambda path, value: told.append((path, value)))
    type_into(qtbot, page.purchases.form.entry("amount"), "25")
    assert told[-1] == ("purchases.0.amount", 25.0)
    added: list[tuple[str, object]] = []
    page.row_added.connect(lambda path, row: added.append((path, row)))
    page.prices.add.click()
    path, row = added[0]
    changed = AddRow(path, row).apply(PROJECT)
    page.show_project(changed, changed.units)
    page.show_answer(answer_for(changed))
    page.prices.form.entry("price").focusProxy().setText("")
    assert page.prices.form.entry("price").value() is None, "a new price has no figure yet"
    assert page.minimumSizeHint().width() <= 1250
    engine.close()


def test_only_an_address_is_opened_and_it_is_told_in_full(
    page: PartsPage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.toString()))
    for link, opens in (
        ("https://shop.test/a?b=1", True),
        ("javascript:alert(1)", False),
        ("file:///x", False),
    ):
        page.show_answer(answer_for(SetStock("x_carriage", "link", link).apply(PROJECT)))
        page.pick("x_carriage")
        assert page.form.open.isEnabled() == opens
        assert (link in page.form.open.toolTip()) == opens
        page.form._open()
    assert opened == ["https://shop.test/a?b=1"]


def test_bars_and_the_pieces_cut_from_them_are_told(page: PartsPage) -> None:
    answer = answer_for(PROJECT)
    assert "not counted yet" in page.words.text()
    plan = count_bars(answer.plan)
    assert plan is not None
    page.show_answer(with_plan(answer, plan))
    assert "not counted yet" not in page.words.text()
    page.pick("side_beam")
    assert "cut from the bars" in page.form.words.text()


def test_a_stock_list_that_names_bars_waits_until_they_are_counted(page: PartsPage, tmp_path: Path) -> None:
    plan = count_bars(answer_for(PROJECT).plan)
    assert plan is not None
    assert plan.bill is not None
    key = next(line.key for line in plan.bill.lines if line.part.group == "Bars")
    file = tmp_path / "stock.csv"
    file.write_text(f"Key,Ordered\n{key},1\n", "utf-8")
    page.read_counted(file, "stock")
    assert page.stack.currentIndex() == 0
    page.show_answer(with_plan(answer_for(PROJECT), plan))
    assert page.stack.currentWidget() is page.preview
    assert page.preview.ticked() == {2}
