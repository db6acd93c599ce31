"""The one table: headers, alignment, sorting by value, and copying."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QTableView
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from app.widgets.table import SORT_ROLE, Column, SortedModel, TableModel, TableView, safe_text

COLUMNS = [
    Column("Part"),
    Column("Length", "mm", "right", digits=1),
    Column("Count", align="right"),
    Column("Fits"),
]
ROWS = [["rail", 1500.0, 2, True], ["Beam", 90.25, 10, False], ["=SUM(A1)", None, 9, None]]


@pytest.fixture
def model(qtmodeltester: ModelTester) -> TableModel:
    made = TableModel(COLUMNS)
    made.set_rows(ROWS)
    qtmodeltester.check(made)
    return made


def shown(view: TableView, column: int) -> list[str]:
    model = view.model()
    return [model.index(row, column).data() for row in range(model.rowCount())]


def test_headers_carry_units_and_figures_stand_right(model: TableModel) -> None:
    assert model.headerData(1, Qt.Orientation.Horizontal) == "Length, mm"
    right = model.index(0, 1).data(Qt.ItemDataRole.TextAlignmentRole)
    assert right & Qt.AlignmentFlag.AlignRight.value
    assert [model.index(row, 1).data() for row in range(3)] == ["1500.0", "90.2", ""]
    assert [model.index(row, 3).data() for row in range(3)] == ["yes", "no", ""]
    assert model.index(0, 1).data(SORT_ROLE) == 1500.0


def test_it_sorts_by_value_with_empty_cells_last_both_ways(qtbot: QtBot, model: TableModel) -> None:
    view = TableView(model)
    qtbot.addWidget(view)
    assert shown(view, 0) == ["rail", "Beam", "=SUM(A1)"]
    view.sortByColumn(1, Qt.SortOrder.AscendingOrder)
    assert shown(view, 1) == ["90.2", "1500.0", ""]
    view.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    assert shown(view, 1) == ["1500.0", "90.2", ""]
    view.sortByColumn(2, Qt.SortOrder.AscendingOrder)
    assert shown(view, 2) == ["2", "9", "10"]


def test_copying_takes_the_selection_or_everything_and_no_formula(qtbot: QtBot, model: TableModel) -> None:
    view = TableView(model)
    qtbot.addWidget(view)
    lines = view.as_tsv().splitlines()
    assert lines[0].split("\t") == ["Part", "Length, mm", "Count", "Fits"]
    assert lines[3].split("\t")[0] == "'=SUM(A1)"
    pick = QItemSelectionModel.SelectionFlag.Select
    view.selectionModel().select(view.model().index(1, 0), pick)
    view.selectionModel().select(view.model().index(1, 1), pick)
    view.copy()
    assert QGuiApplication.clipboard().text() == "Part\tLength, mm\nBeam\t90.2\n"


def test_values_change_in_place_and_rows_must_fit(qtbot: QtBot, model: TableModel) -> None:
    view: QTableView = TableView(model)
    qtbot.addWidget(view)
    view.selectRow(1)
    model.set_rows([["rail", 1.0, 2, True], ["Beam", 2.0, 10, False], ["leg", 3.0, 9, None]])
    assert [index.row() for index in view.selectionModel().selectedRows()] == [1]
    model.set_rows(ROWS[:1])
    assert model.rowCount() == 1
    with pytest.raises(ValueError):
        model.set_rows([["too short"]])
    model.set_columns([Column("Part")], [["leg"]])
    assert model.columnCount() == 1


@pytest.mark.parametrize(
    ("text", "safe"),
    [("-12.5", "-12.5"), ("-a", "'-a"), ("@x", "'@x"), ("+1+1", "'+1+1"), ("a\tb\nc", "a b c"), ("", "")],
)
def test_safe_text(text: str, safe: str) -> None:
    assert safe_text(text) == safe


def test_a_model_that_sorts_itself_orders_by_value_and_keeps_the_selection(
    qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    model = SortedModel((Column("Name"), Column("Figure")))
    qtmodeltester.check(model)
    view = TableView(model)
    qtbot.addWidget(view)
    model.set_rows([("b", 2.0), ("a", None), ("C", 10.0), ("d", 1.0)])
    assert model.order == (0, 1, 2, 3)
    view.selectRow(2)
    view.sortByColumn(1, Qt.SortOrder.AscendingOrder)
    assert model.order == (3, 0, 2, 1)
    assert [model.index(row, 0).data() for row in range(4)] == ["d", "b", "C", "a"]
    assert view.currentIndex().data() in ("C", "10")
    view.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    assert model.order == (2, 0, 3, 1)  # what is empty stays last
    view.sortByColumn(0, Qt.SortOrder.AscendingOrder)
    assert model.order == (1, 0, 2, 3)
    model.set_rows([("z", 1.0), ("y", 2.0)])
    assert model.order == (1, 0)  # other rows follow the same header
    view.clearSelection()
    assert view.as_tsv().splitlines()[1].startswith("y")
    model.sort(1, Qt.SortOrder.AscendingOrder)
    model.set_columns((Column("Name"),), [("q",), ("p",)])
    assert model.order == (0, 1)
