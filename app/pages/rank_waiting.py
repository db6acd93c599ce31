"""How far the ranking is, with a way to stop; whether what is shown is older than the description, with a way to renew it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

OLDER = "These figures are older than the description."
NONE = "No beam has been tried yet."
STOPPED = "Stopped."
STOPPED_OLD = "Stopped. The figures shown are those before."


class RankWaiting(QWidget):
    """One row at the head of the page.

    Signals:
        asked(yes): try every beam, or give it up.
    """

    asked = Signal(bool)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.running = False
        self.words = QLabel(self)
        self.bar = QProgressBar(self)
        self.bar.setAccessibleName("Beams tried")
        self.bar.setMinimumWidth(200)
        self.stop = QPushButton("Stop", self)
        self.stop.clicked.connect(lambda: self.asked.emit(False))
        self.start = QPushButton("Try every beam", self)
        self.start.setToolTip(
            "Solves the machine anew with every beam of the catalogue, of your variants and your own."
        )
        self.start.clicked.connect(lambda: self.asked.emit(True))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for widget in (self.words, self.bar, self.stop, self.start):
            row.addWidget(widget)
        self.show_state(NONE)

    def show_progress(self, done: int, altogether: int) -> None:
        """So many beams have been tried."""
        self.bar.setMaximum(altogether)
        self.bar.setValue(done)
        self.bar.setFormat(f"{done} of {altogether} beams tried")

    def show_running(self) -> None:
        """It has begun."""
        self.bar.setMaximum(1)
        self.bar.setValue(0)
        self.bar.setFormat("The beams are being tried")
        self._show(True, "", "quiet")

    def show_state(self, words: str, tone: str = "quiet", *, fresh: bool = False) -> None:
        """It is over, or never began.

        Args:
            fresh: the figures shown are those of the project as it stands, so there is nothing to renew.
        """
        self._show(False, words, tone)
        self.start.setText("Try every beam" if words in (NONE, STOPPED) else "Try again")
        self.start.setVisible(not fresh)

    def _show(self, running: bool, words: str, tone: str) -> None:
        self.running = running
        for widget in (self.bar, self.stop):
            widget.setVisible(running)
        self.start.setVisible(not running)
        self.words.setText(words)
        self.words.setVisible(bool(words))
        self.words.setProperty("tone", tone)
        self.words.style().polish(self.words)
