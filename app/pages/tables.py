"""Tables of the report on screen: the same columns and figures as the CSV files, in the window's table."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHeaderView, QWidget

from app.widgets.table import Column, TableModel, TableView
from core.report import Column as ReportColumn
from core.report import Table, csv_text

WIDEST = 520
LONG_HEADER = 12
HEADER_ROOM = 24


def _figure(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.4g}" if abs(value) < 1000.0 else f"{value:.0f}"
    return str(value)


def two_lines(words: str) -> str:
    """A long header on two lines, broken at the space nearest its middle."""
    spaces = [place for place, letter in enumerate(words) if letter == " "]
    if len(words) <= LONG_HEADER or not spaces:
        return words
    middle = min(spaces, key=lambda place: abs(place - len(words) / 2))
    return f"{words[:middle]}\n{words[middle + 1 :]}"


def _unit_below(column: ReportColumn) -> str:
    """The unit, on a line of its own under a short header."""
    short = two_lines(column.header) == column.header
    return f"\n{column.unit}" if column.unit and short else column.unit


class ReportTable(TableView):
    """A view on a `core.report.Table`; columns without content are hidden."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        self._table_model = TableModel(())
        super().__init__(self._table_model, parent)
        self._shown: Table | None = None
        self._stretched = ""
        self.setAccessibleName(name)
        self.setSelectionBehavior(TableView.SelectionBehavior.SelectRows)

    def table(self) -> Table | None:
        return self._shown

    def csv(self) -> str:
        """The table as CSV text; empty before there is one."""
        return csv_text(self._shown) if self._shown is not None else ""

    def show_table(self, table: Table, hidden: frozenset[str] = frozenset()) -> None:
        """Show a table; `hidden` names headers to leave out on screen."""
        if table == self._shown:
            return
        same = self._shown is not None and self._shown.columns == table.columns
        grown = self._shown is None or len(self._shown.rows) != len(table.rows)
        self._shown = table
        if same:
            self._table_model.set_rows(table.rows)
        else:
            columns = [
                Column(two_lines(column.header), _unit_below(column), column.align, write=_figure)
                for column in table.columns
            ]
            self._table_model.set_columns(columns, table.rows)
        for number, column in enumerate(table.columns):
            empty = all(row[number] in (None, "") for row in table.rows)
            self.setColumnHidden(number, column.header in hidden or (empty and bool(table.rows)))
        if grown or not same:
            self._fit(table)

    def stretch(self, header: str) -> None:
        """Let this column take the room that is left, its text wrapping."""
        self._stretched = header
        self.setWordWrap(True)

    def _fit(self, table: Table) -> None:
        """Every column as wide as its text; Qt's own sum takes a header of two lines for one long line."""
        metrics = self.horizontalHeader().fontMetrics()
        for number, column in enumerate(table.columns):
            if column.header == self._stretched:
                mode = QHeaderView.ResizeMode.Stretch
                self.horizontalHeader().setSectionResizeMode(number, mode)
                continue
            header = str(self._table_model.headerData(number, Qt.Orientation.Horizontal))
            heading = max(metrics.horizontalAdvance(line) for line in header.split("\n")) + HEADER_ROOM
            self.setColumnWidth(number, min(max(heading, self.sizeHintForColumn(number) + 8), WIDEST))
        if self._stretched:
            self.resizeRowsToContents()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._stretched:
            self.resizeRowsToContents()

    def wanted_height(self) -> int:
        """Height that shows every row."""
        rows = self._table_model.rowCount()
        header = self.horizontalHeader().sizeHint().height()
        return header + rows * self.verticalHeader().defaultSectionSize() + 22
