"""Tables of the report on screen: the same columns and figures as the CSV files, in the window's table."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import QEvent, QRect, Qt
from PySide6.QtGui import QHelpEvent, QResizeEvent
from PySide6.QtWidgets import QToolTip, QWidget

from app.pages.widths import fit_widths
from app.widgets.table import Column, TableModel, TableView
from core.report import Column as ReportColumn
from core.report import Table, csv_text

LONG_HEADER = 12
ROOM, INSIDE = 24, 19
"""Pixels wished around the text of a cell, left and right together; and what Qt takes of them when it wraps."""
WRAPS_FROM, NARROWEST = 150, 104
"""Columns of words wider than the first may wrap, down to the second."""


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


def _wrapped(text: str) -> str:
    """Rich text, which a tooltip breaks into lines of a readable length."""
    return "<br>".join(escape(line) for line in text.split("\n")).join(("<qt>", "</qt>"))


class ReportTable(TableView):
    """A view on a `core.report.Table`; columns without content are hidden.

    Columns share the width there is; words wrap before anything scrolls sideways.
    """

    def __init__(self, name: str, parent: QWidget | None = None, model: TableModel | None = None) -> None:
        self._table_model = TableModel(()) if model is None else model
        super().__init__(self._table_model, parent)
        self._shown: Table | None = None
        self._stretched = ""
        self._most: dict[str, int] = {}
        self._wraps = False
        self._natural: list[int] = []
        self._least: list[int | None] = []
        self._most_height = 0
        self._about = ""
        self._hover: tuple[str, ...] = ()
        self.setAccessibleName(name)
        self.setSelectionBehavior(TableView.SelectionBehavior.SelectRows)
        self.setWordWrap(True)
        self.setHorizontalScrollMode(TableView.ScrollMode.ScrollPerPixel)

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
        self._shown = table
        if same:
            self._table_model.set_rows(table.rows)
        else:
            columns = [
                Column(
                    two_lines(column.header),
                    _unit_below(column),
                    column.align,
                    write=column.text,
                )
                for column in table.columns
            ]
            self._table_model.set_columns(columns, table.rows)
        for number, column in enumerate(table.columns):
            empty = all(row[number] in (None, "") for row in table.rows)
            self.setColumnHidden(number, column.header in hidden or (empty and bool(table.rows)))
        self._measure(table)
        self._fit()

    def set_about(self, words: str, *hover: str) -> None:
        """What the figures rest on, told when the pointer rests on them; `hover` names columns told row by row."""
        self._about, self._hover = words, hover

    def told_at(self, row: int) -> str:
        """What is told when the pointer rests on a row on screen (-1: beside the rows)."""
        told = []
        if self._shown is not None and row >= 0:
            for number, column in enumerate(self._shown.columns):
                text = str(self.model().index(row, number).data() or "")
                if column.header in self._hover and text:
                    told.append(text if column.header == "Where from" else f"{column.header}: {text}")
        return "\n".join([*told, *([self._about] if self._about else [])])

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() != QEvent.Type.ToolTip or not isinstance(event, QHelpEvent):
            return super().viewportEvent(event)
        told = self.told_at(self.indexAt(event.pos()).row())
        if not told:
            return super().viewportEvent(event)
        QToolTip.showText(event.globalPos(), _wrapped(told), self)
        return True

    def stretch(self, header: str) -> None:
        """Let this column take the room that is left."""
        self._stretched = header

    def wrap_beyond(self, header: str, width: int) -> None:
        """Where room is short, wrap this column's words from so many pixels on, before those of others."""
        self._most[header] = width

    def keep_height(self, most: int = 2000) -> None:
        """From now on exactly as tall as its rows, but no taller than this; beyond it scrolls."""
        self._most_height = most
        self._fit()

    def wanted_height(self) -> int:
        """Height that shows every row."""
        rows = self.verticalHeader().length() if self._table_model.rowCount() else 0
        return self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth() + 2

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()

    def _measure(self, table: Table) -> None:
        """Widths of all texts; Qt's own sum takes a header of two lines for one long line."""
        head, body = self.horizontalHeader().fontMetrics(), self.fontMetrics()
        self._natural, self._least = [], []
        for number, column in enumerate(self._table_model.columns):
            header = str(self._table_model.headerData(number, Qt.Orientation.Horizontal))
            heading = max(head.horizontalAdvance(line) for line in header.split("\n")) + ROOM
            texts = {column.text(row[number]) for row in table.rows}
            widest = max((body.horizontalAdvance(text) for text in texts), default=0) + ROOM
            words = any(isinstance(row[number], str) and " " in row[number] for row in table.rows)
            self._natural.append(max(heading, widest))
            self._least.append(max(heading, NARROWEST) if words and widest > WRAPS_FROM else None)

    def _fit(self) -> None:
        if self._shown is None or len(self._natural) != len(self._shown.columns):
            return  # nothing is shown yet, or its texts are about to be measured
        bare = self.width() - 2 * self.frameWidth()
        if self._most_height and bare > self.viewport().width():
            self._fit_into(bare)  # as tall as its rows it needs no scroll bar, if they fit without one
            if self.wanted_height() <= self._most_height:
                self._keep()
                return
        self._fit_into(self.viewport().width())
        self._keep()

    def _fit_into(self, room: int) -> None:
        """Share this width among the columns, and wrap words where it does not do."""
        assert self._shown is not None
        shown = [k for k in range(len(self._natural)) if not self.isColumnHidden(k)]
        natural = [self._natural[k] for k in shown]
        if sum(natural) > room:
            most = [self._most.get(self._shown.columns[k].header, room) for k in shown]
            natural = [min(wish, cap) for wish, cap in zip(natural, most, strict=True)]
        taker = next(
            (n for n, k in enumerate(shown) if self._shown.columns[k].header == self._stretched), None
        )
        widths = fit_widths(natural, [self._least[k] for k in shown], room, taker)
        for k, width in zip(shown, widths, strict=True):
            self.setColumnWidth(k, width)
        narrowed = [k for k, width in zip(shown, widths, strict=True) if width < self._natural[k]]
        wraps = bool(narrowed)
        if wraps:
            self._fit_rows(narrowed)
        elif self._wraps:
            for row in range(self._table_model.rowCount()):
                self.setRowHeight(row, self.verticalHeader().defaultSectionSize())
        self._wraps = wraps

    def _fit_rows(self, narrowed: list[int]) -> None:
        """Rows whose words wrap in the narrowed columns as tall as these, the others as always."""
        usual, metrics = self.verticalHeader().defaultSectionSize(), self.fontMetrics()
        boxes = [(k, QRect(0, 0, self.columnWidth(k) - INSIDE, 10_000)) for k in narrowed]
        for row in range(self.model().rowCount()):
            texts = [(str(self.model().index(row, k).data()), box) for k, box in boxes]
            flags = int(Qt.TextFlag.TextWordWrap)
            tall = max(metrics.boundingRect(box, flags, text).height() for text, box in texts)
            self.setRowHeight(row, tall + 6 if tall > metrics.lineSpacing() + 1 else usual)

    def _keep(self) -> None:
        if self._most_height:
            self.setFixedHeight(min(self._most_height, self.wanted_height()))
