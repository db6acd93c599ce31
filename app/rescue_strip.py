"""The strip under the verdict that offers work which an earlier window could not save; it stops nothing."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from app.rescue import Found, Rescue


class RescueStrip(QFrame):
    """Offers one piece of work after the other until all are decided on or put off.

    Signals:
        wanted(found): the user wants to go on with this work.
    """

    wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("rescue")
        self._rescue: Rescue | None = None
        self._waiting: list[Found] = []
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 4, 14, 4)
        row.addWidget(self._words, 1)
        self.take = QPushButton("Go on with it", self)
        self.drop = QPushButton("Throw it away", self)
        self.later = QPushButton("Ask later", self)
        for button, deed in ((self.take, self._take), (self.drop, self._drop), (self.later, self._later)):
            button.clicked.connect(deed)
            row.addWidget(button)
        self.hide()

    def offer(self, rescue: Rescue) -> None:
        """Offer whatever there is."""
        self._rescue, self._waiting = rescue, rescue.found()
        self._show()

    def text(self) -> str:
        return self._words.text()

    def _show(self) -> None:
        self.setVisible(bool(self._waiting))
        if self._waiting:
            work = self._waiting[0].work
            name = work.project.name if work.file is None else work.file.name
            when = work.when.astimezone().strftime("%Y-%m-%d %H:%M")
            self._words.setText(
                f"Unsaved work on “{name}” of {when} was kept when the window ended without saving."
            )

    def _take(self) -> None:
        self.wanted.emit(self._waiting[0])

    def taken(self) -> None:
        """The work of the first offer is open now."""
        self._waiting = self._waiting[1:]
        self._show()

    def _drop(self) -> None:
        if self._rescue is not None:
            self._rescue.throw_away(self._waiting[0])
        self.taken()

    def _later(self) -> None:
        self._waiting = []
        self._show()
