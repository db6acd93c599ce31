"""The table of ranked beams: as many columns as there is room for, rows found again by their candidate."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QItemSelectionModel, QModelIndex, QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QWidget

from app.pages.tables import ROOM, ReportTable
from app.widgets.table import SortedModel
from core.report import Table
from core.report.rank_screen import MIND, Screen, picked_rows

Flags = npt.NDArray[np.bool_]
HIDDEN = frozenset({"Kind", "Material", "Section", MIND})
"""Columns told on hover, or in full beside the table."""
SPARE = ("Beam alone", "Low", "High", "First mode", "Path error")
"""Columns shown only where there is room, the first to go at the left."""
WISHED, LEAST, ARROW, CLOSE = 164, 140, 3, 18
"""Pixels wished for names and at least for them, beside a header for the sign of sorting, and around a cell's text."""
ABOUT = (
    "Stands: holds, or breaks, a limit with likely figures; best: holds every limit, and no other shown that does beats it; "
    "with a !: it comes with a warning. Nine of ten machines within the given limits lie between Low and High. A header sorts."
)


class RankTable(ReportTable):
    """One row a beam.

    Signals:
        picked(number): the user picked this candidate.
    """

    picked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        self._sorted = SortedModel(())
        super().__init__("Beams", parent, self._sorted)
        self._rows: tuple[int, ...] = ()
        self._screen: Screen | None = None
        self._measured = False
        self.stretch("Beam")
        self.set_about(ABOUT, "Section", "Kind", "Material", MIND)
        self.setSelectionMode(ReportTable.SelectionMode.SingleSelection)
        self.setWordWrap(False)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        self.selectionModel().currentRowChanged.connect(lambda now, _before: self._tell(now))

    def take(self, screen: Screen) -> None:
        """What is known of all candidates, one row each."""
        if screen is not self._screen:
            self._screen, self._measured = screen, False

    def show_beams(self, rows: Sequence[int], best: Flags) -> None:
        """Show these candidates, marked where they are best; nothing is picked afterwards."""
        if self._screen is None:
            return
        with QSignalBlocker(self.selectionModel()):
            first = self.table() is None
            self.selectionModel().clear()
            self._rows = tuple(rows)
            self.show_table(picked_rows(self._screen.table, rows, best), HIDDEN)
            if first:
                self.sortByColumn(self._column("Mass that moves"), Qt.SortOrder.AscendingOrder)

    def _measure(self, table: Table) -> None:
        """Once for all candidates: widths then stay while filters change, and a thousand rows are quick."""
        if self._screen is None or self._measured:
            return
        self._measured = True
        head, body = self.horizontalHeader().fontMetrics(), self.fontMetrics()
        self._natural, self._least = [], [None] * len(table.columns)
        for number, texts in enumerate(self._screen.longest):
            header = str(self._sorted.headerData(number, Qt.Orientation.Horizontal))
            heading = ROOM + max(head.horizontalAdvance(line) for line in header.split("\n"))
            self._natural.append(max(heading, *(body.horizontalAdvance(text) + CLOSE for text in texts)))

    def order(self) -> list[int]:
        """The candidates in the order on screen."""
        return [self._rows[given] for given in self._sorted.order]

    def pick(self, number: int) -> None:
        """Mark a candidate's row and bring it into view; nothing is told."""
        selection, model = self.selectionModel(), self.model()
        with QSignalBlocker(selection):
            order = self.order()
            if number not in order:
                selection.clear()
            else:
                index = model.index(order.index(number), 0)
                flags = QItemSelectionModel.SelectionFlag
                selection.setCurrentIndex(index, flags.ClearAndSelect | flags.Rows)
                self.executeDelayedItemsLayout()  # after other rows the bar's range is not known yet
                self.updateGeometries()
                if not self.viewport().rect().contains(self.visualRect(index)):
                    self.scrollTo(index, ReportTable.ScrollHint.PositionAtCenter)
        self.viewport().update()

    def _tell(self, index: QModelIndex) -> None:
        if index.isValid():
            self.picked.emit(self._rows[self._sorted.order[index.row()]])

    def _column(self, header: str) -> int:
        table = self.table()
        return -1 if table is None else [column.header for column in table.columns].index(header)

    def _fit(self) -> None:
        """Names take what the figures leave; columns go rather than that the names are squeezed. What goes is told beside."""
        if self.table() is None:
            return
        spare = [self._column(header) for header in SPARE]
        for column in spare:
            self.setColumnHidden(column, False)
        shown = [k for k in range(1, len(self._natural)) if not self.isColumnHidden(k)]
        room, wants = self.viewport().width(), sum(self._natural[k] + ARROW for k in shown)
        for column in spare:
            if wants + WISHED <= room:
                break
            self.setColumnHidden(column, True)
            wants -= self._natural[column] + ARROW
        for column in shown:
            self.setColumnWidth(column, self._natural[column] + ARROW)
        self.setColumnWidth(0, max(LEAST, room - wants))
