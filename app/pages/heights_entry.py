"""Measured heights of one rail as lines of text: typed, or pasted from a spreadsheet."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from core.errors import BadEntry
from core.form import read_heights, write_heights
from core.machine.form import Reading
from core.units import METRIC, UnitSet

HINT = "#1    0.00\n#2    0.05\n120 mm    0.08"


class _Lines(QPlainTextEdit):
    """Says when the user is done."""

    done = Signal()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.done.emit()


class HeightsEntry(QWidget):
    """Lines of hole or place and height; lines that cannot be read are named and the last good readings stay.

    Signals:
        edited(readings): the text reads as these now. left(): the user is done for now.
    """

    edited = Signal(object)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._units: UnitSet = METRIC
        self._shown: tuple[Reading, ...] = ()
        self.label = QLabel(self)
        self.lines = _Lines(self)
        self.lines.setPlaceholderText(HINT)
        self.lines.setToolTip(
            "One reading a line: hole (#3) or place from the rail's start, then the height. Positive sticks out towards the "
            "rail. Columns from a spreadsheet can be pasted."
        )
        self.lines.setTabChangesFocus(True)
        self.lines.textChanged.connect(self._read)
        self.lines.done.connect(self.left)
        self.label.setBuddy(self.lines)
        self.problem = QLabel(self)
        self.problem.setWordWrap(True)
        self.problem.setTextFormat(Qt.TextFormat.PlainText)
        self.problem.setProperty("tone", "problem")
        self.problem.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.label)
        column.addWidget(self.lines, 1)
        column.addWidget(self.problem)

    def set_title(self, words: str) -> None:
        self.label.setText(words)
        self.lines.setAccessibleName(f"Measured heights, {words}")

    def show_readings(self, readings: tuple[Reading, ...], units: UnitSet) -> None:
        """Show these, unless the text already means them."""
        if readings == self._shown and units == self._units:
            return
        self._shown, self._units = readings, units
        with QSignalBlocker(self.lines):
            self.lines.setPlainText(write_heights(readings, units))
        self._say("")

    def _read(self) -> None:
        try:
            found = read_heights(self.lines.toPlainText(), self._units)
        except BadEntry as error:
            self._say(f"{error.value} {error.problem}. Accepted: {error.accepted}.")
            return
        readings = found.first + found.second
        self._say("")
        if readings != self._shown:
            self._shown = readings
            self.edited.emit(readings)

    def _say(self, sentence: str) -> None:
        self.problem.setText(sentence)
        self.problem.setVisible(bool(sentence))
