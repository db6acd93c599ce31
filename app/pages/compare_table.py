"""The table of variants: a column for each machine, every row of which tells on hover how it is found."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QToolTip, QWidget

from app.pages.tables import ReportTable
from core.comparison import ComparisonAnswer
from core.report import Table


class SideBySide(ReportTable):
    """As tall as its rows; a click on a column picks that machine."""

    def __init__(self, name: str, parent: QWidget) -> None:
        super().__init__(name, parent)
        self._notes: list[str] = []
        self.setSortingEnabled(False)
        self.setSelectionMode(ReportTable.SelectionMode.SingleSelection)
        self.setSelectionBehavior(ReportTable.SelectionBehavior.SelectColumns)
        self.keep_height(4000)
        self.horizontalScrollBar().rangeChanged.connect(lambda _low, _high: self.keep_height(4000))

    def show_machines(self, table: Table, answer: ComparisonAnswer) -> None:
        """Show the rows; what each means comes from the answer."""
        known = {figure.label: figure.note for figure in answer.figures}
        known |= {fact.label: fact.note for fact in answer.facts}
        self.show_table(table)
        self._notes = [
            known.get(str(row[0]).rpartition(", ")[0]) or known.get(str(row[0]), "") for row in table.rows
        ]

    def notes(self) -> list[str]:
        """What each row says on hover."""
        return self._notes

    def wanted_height(self) -> int:
        bar = self.horizontalScrollBar()
        return super().wanted_height() + (bar.sizeHint().height() if bar.maximum() > 0 else 0)

    def viewportEvent(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            row = self.indexAt(event.pos()).row()
            note = self._notes[row] if 0 <= row < len(self._notes) else ""
            QToolTip.showText(event.globalPos() + QPoint(8, 8), note, self)
            return True
        return super().viewportEvent(event)
