"""How far the variants are worked out, with a way to stop; and a way to begin when there are many of them."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QWidget

from app.pages.page import quiet

FEW = 6
"""Up to so many variants are worked out as soon as the page is opened; more only on demand."""
MANY = "{} variants take a while; they are worked out when you ask."
STOPPED = "Stopped. The figures shown are those before."


class Waiting(QWidget):
    """One row, hidden when there is nothing to wait for.

    Signals:
        asked(yes): work the variants out, or give it up.
    """

    asked = Signal(bool)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._answer: bool | None = None
        self._count = 0
        self.bar = QProgressBar(self)
        self.bar.setAccessibleName("Variants worked out")
        self.stop = QPushButton("Stop", self)
        self.stop.clicked.connect(lambda: self._ask(False))
        self.start = QPushButton("Compare now", self)
        self.start.clicked.connect(lambda: self._ask(True))
        self.words = quiet()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.words, 1)
        row.addWidget(self.bar, 1)
        row.addWidget(self.stop)
        row.addWidget(self.start)
        self.show_state()

    def wants(self) -> bool:
        """Whether variants are to be worked out while the page is in view."""
        return self._count <= FEW if self._answer is None else self._answer

    def set_count(self, count: int) -> None:
        """So many variants there are."""
        self._count = count
        self.show_state()

    def show_progress(self, done: int, altogether: int) -> None:
        """So many of the machines have been worked out."""
        self.bar.setMaximum(altogether)
        self.bar.setValue(done)
        self.bar.setFormat(f"{done} of {altogether} worked out")
        self.show_state()

    def show_state(self) -> None:
        """Show what applies now."""
        running = self.wants() and 0 < self.bar.value() < self.bar.maximum() and self._count > 0
        asks = not self.wants() and self._count > 0
        for widget in (self.bar, self.stop):
            widget.setVisible(running)
        for widget in (self.words, self.start):
            widget.setVisible(asks)
        self.words.setText(STOPPED if self._answer is False else MANY.format(self._count))
        self.setVisible(running or asks)

    def _ask(self, yes: bool) -> None:
        self._answer = yes
        self.show_state()
        self.asked.emit(yes)
